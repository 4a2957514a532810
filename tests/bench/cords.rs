//! Times of the craft's answers: what the maker waits for.

use plaitwright::cord::{Cord, Progress, Quality, Recipe, Tension, Twist, solve, under_pull};
use plaitwright::material::{self, Colour, Fibre, Strand};

use super::clock::{Times, print_head, print_row, timed};
use super::start::round_spiral;

const SATIN: &str = "satin cord 2 mm, polyester";
const PEARL: &str = "pearl cotton no. 5";

fn on_shelf(name: &str) -> Fibre {
    material::on_shelf(name).expect("on the shelf").clone()
}

/// A round spiral on a hand-held disc, the fibres by turns.
fn recipe(strands: usize, fibres: &[Fibre]) -> Recipe {
    let strand = |i: usize| Strand::single(&fibres[i % fibres.len()].name, Colour([40, 60, 110]));
    let made: Vec<Strand> = (0..strands).map(strand).collect();
    let moves = round_spiral(strands);
    let (pull, twist) = (Tension::Slots(0.6), Twist::Free);
    Recipe::new(&moves, &made, fibres, pull, 70.0, twist).expect("a shelf structure of shelf fibre")
}

fn solved(recipe: &Recipe, before: Option<&Cord>, quality: Quality) -> Cord {
    solve(recipe, before, quality, &Progress::new()).expect("a sound structure")
}

/// A cord to draw, of one fibre of the shelf.
pub(super) fn fine(strands: usize, fibre: &str) -> (Cord, Vec<Strand>, Vec<Fibre>) {
    let fibres = vec![on_shelf(fibre)];
    let made = vec![Strand::single(fibre, Colour([40, 60, 110])); strands];
    let cord = solved(&recipe(strands, &fibres), None, Quality::Fine);
    (cord, made, fibres)
}

/// Solves of whole cords.
pub(super) fn solves() {
    print_head("Cords: satin cord on a hand-held disc");
    let fibre = [on_shelf(SATIN)];
    let eight = recipe(8, &fibre);
    for (strands, runs) in [(8, 15), (16, 7), (32, 5)] {
        let many = recipe(strands, &fibre);
        let what = format!("{strands} strands, coarse, cold");
        timed(&what, runs, None, || solved(&many, None, Quality::Coarse));
        let what = format!("{strands} strands, fine, cold");
        let fine = Times::without_a_first(runs / 4, || solved(&many, None, Quality::Fine));
        print_row(&what, &fine, None);
    }
    let before = solved(&eight, None, Quality::Coarse);
    let mut thicker = on_shelf(SATIN);
    for figure in [&mut thicker.diameter.value, &mut thicker.diameter.high] {
        *figure *= 1.05;
    }
    let stepped = recipe(8, &[thicker]);
    timed("8 strands, one step of the thickness", 15, None, || {
        solved(&stepped, Some(&before), Quality::Coarse)
    });
    timed("8 strands, every figure with its spread", 5, None, || {
        solved(&eight, None, Quality::Full)
    });
    let mix = recipe(8, &[on_shelf(SATIN), on_shelf(PEARL)]);
    timed(
        "8 strands of satin and pearl by turns, fine",
        3,
        None,
        || solved(&mix, None, Quality::Fine),
    );
    pulls(&eight);
}

fn pulls(eight: &Recipe) {
    for (quality, goal) in [(Quality::Coarse, Some(20.0)), (Quality::Fine, None)] {
        let cord = solved(eight, None, quality);
        let sweep = || under_pull(eight, &cord, 1000.0, 15, &Progress::new()).expect("not stopped");
        let what = format!("8 strands, {quality:?}: 15 pulls up to 1 kg");
        let what = format!("{what}, {} at rest", sweep().len());
        timed(&what.to_lowercase(), 7, goal, sweep);
    }
}
