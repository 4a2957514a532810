//! Timings of what the maker waits for; prints the median of several runs.
//!
//! `cargo bench`. Machines differ: compare within one run.
#![expect(clippy::print_stdout, reason = "printing is what a benchmark is for")]

use std::time::Instant;

use plaitwright::cord::{Cord, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::drawing::{self, Detail, Ground, Stage, View};
use plaitwright::material::{self, Colour, Fibre, Strand};
use plaitwright::structure::{self, MoveList};

const FIBRE: &str = "satin cord 2 mm, polyester";

fn round_spiral(strands: usize) -> MoveList {
    structure::shelf()
        .iter()
        .find(|s| s.strands() == strands && s.name.to_lowercase().contains("spiral"))
        .map(|s| s.moves.clone())
        .expect("the shelf has round spirals")
}

fn recipe(strands: usize, fibres: &[Fibre]) -> Recipe {
    let each = Strand::single(FIBRE, Colour([40, 60, 110]));
    let moves = round_spiral(strands);
    let made = vec![each; strands];
    Recipe::new(
        &moves,
        &made,
        fibres,
        Tension::Slots(0.6),
        70.0,
        Twist::Free,
    )
    .expect("a shelf structure of shelf fibre")
}

fn shelf_fibre() -> Fibre {
    material::on_shelf(FIBRE).expect("on the shelf").clone()
}

/// Milliseconds, least and median of `runs`.
fn timed<T>(label: &str, runs: usize, goal_ms: f64, mut work: impl FnMut() -> T) {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begun = Instant::now();
            std::hint::black_box(work());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!(
        "{label:<52} least {:8.2} ms  median {:8.2} ms  goal {goal_ms:.0} ms",
        times[0],
        times[runs / 2]
    );
}

fn solved(recipe: &Recipe, before: Option<&Cord>, quality: Quality) -> Cord {
    solve(recipe, before, quality, &Progress::new()).expect("a sound structure")
}

fn solving() {
    let fibre = [shelf_fibre()];
    let eight = recipe(8, &fibre);
    timed("8 strands, cold", 15, 16.0, || {
        solved(&eight, None, Quality::Coarse)
    });
    timed("8 strands, cold, fine", 15, 16.0, || {
        solved(&eight, None, Quality::Fine)
    });
    for (strands, goal) in [(16, 60.0), (32, 200.0)] {
        let many = recipe(strands, &fibre);
        let label = format!("{strands} strands, coarse");
        timed(&label, 7, goal, || solved(&many, None, Quality::Coarse));
    }
    let before = solved(&eight, None, Quality::Coarse);
    let mut thicker = shelf_fibre();
    for figure in [&mut thicker.diameter.value, &mut thicker.diameter.high] {
        *figure *= 1.05;
    }
    let stepped = recipe(8, &[thicker]);
    timed("8 strands, one step of the thickness", 15, 5.0, || {
        solved(&stepped, Some(&before), Quality::Coarse)
    });
    timed("8 strands, every figure with its spread", 3, 500.0, || {
        solved(&eight, None, Quality::Full)
    });
}

fn drawing() {
    let fibres = [shelf_fibre()];
    let cord = solved(&recipe(8, &fibres), None, Quality::Fine);
    let strands = vec![Strand::single(FIBRE, Colour([40, 60, 110])); 8];
    let threads = drawing::threads(&strands, &fibres);
    for (label, width, height, detail, goal) in [
        ("strip 1600 × 300 at rest", 1600, 300, Detail::Fine, 120.0),
        (
            "strip 1600 × 300 while moving",
            1600,
            300,
            Detail::Moving,
            16.0,
        ),
    ] {
        let mut stage = Stage::new(&cord.form);
        let mut roll = 0.0;
        timed(label, 15, goal, || {
            // Turning, as under the pointer: nothing is seen twice.
            roll += 0.05;
            let view = View {
                width,
                height,
                pixels_per_mm: 0.55 * height as f64 / cord.figures.thickness_on_disc.value,
                start_mm: 0.0,
                roll,
                centre_y: 0.48 * height as f64,
            };
            stage.picture(&threads, &view, &Ground::Clear, detail)
        });
    }
}

fn main() {
    solving();
    drawing();
}
