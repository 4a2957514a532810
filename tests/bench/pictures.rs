//! Times of the pictures of a cord: as it moves, at rest, and as colours change.

use plaitwright::cord::Cord;
use plaitwright::drawing::{self, Bend, Detail, Ground, Stage, Thread, View};
use plaitwright::material::Colour;

use super::clock::{print_head, timed};
use super::cords::fine;

/// Goals in ms: at rest, moving, other colours.
const GOALS: (f64, f64, f64) = (40.0, 8.0, 15.0);

/// The strip of the window, cord by cord.
pub(super) fn strips() {
    print_head("Pictures: a strip of 1600 × 300, two threads");
    for (strands, what, fibre) in [
        (8, "satin cord", "satin cord 2 mm, polyester"),
        (8, "crochet cotton", "crochet cotton no. 10"),
        (8, "wool", "knitting yarn medium (weight 4), wool"),
        (16, "satin cord", "satin cord 2 mm, polyester"),
    ] {
        let (cord, made, fibres) = fine(strands, fibre);
        let threads = drawing::threads(&made, &fibres);
        print_rows(&format!("{strands} strands of {what}"), &cord, &threads);
    }
}

/// The cord as it fills the strip.
fn view(cord: &Cord, roll: f64) -> View {
    View {
        width: 1600,
        height: 300,
        pixels_per_mm: 165.0 / cord.figures.thickness_on_disc.value,
        start_mm: 0.0,
        roll,
        centre_x: 0.0,
        centre_y: 144.0,
        bend: Bend::Straight,
    }
}

/// The linen on which the window lays a cord.
const LINEN: Ground = Ground::Linen {
    colour: Colour([0xE3, 0xDA, 0xCA]),
    weave: Colour([0xD8, 0xCD, 0xBA]),
    thread: 1.0,
    shadow: 0.42,
};

fn print_rows(what: &str, cord: &Cord, threads: &[Thread]) {
    let mut stage = Stage::new(&cord.form);
    let mut roll = 0.0;
    for (how, detail, goal) in [
        ("at rest", Detail::Fine, GOALS.0),
        ("moving", Detail::Moving, GOALS.1),
    ] {
        timed(&format!("{what}, {how}"), 15, Some(goal), || {
            // Turning, as under the pointer: nothing is seen twice.
            roll += 0.05;
            stage.picture(threads, &view(cord, roll), &LINEN, detail)
        });
    }
    let mut painted = threads.to_vec();
    let mut blue = 0_u8;
    timed(
        &format!("{what}, one colour changed"),
        15,
        Some(GOALS.2),
        || {
            blue = blue.wrapping_add(10);
            painted[1].ends[0].colour = Colour([150, 40, blue]);
            stage.picture(&painted, &view(cord, roll), &LINEN, Detail::Fine)
        },
    );
}
/// Many small cords that differ in their colours alone.
pub(super) fn looks() {
    print_head("Pictures: 500 looks, two threads");
    for (strands, width, height, goal) in [
        (8, 142, 28, Some(1000.0)),
        (16, 142, 28, Some(1000.0)),
        (8, 432, 80, None),
    ] {
        let (cord, made, fibres) = fine(strands, "satin cord 2 mm, polyester");
        let threads = drawing::threads(&made, &fibres);
        let view = View {
            width,
            height,
            pixels_per_mm: 0.72 * height as f64 / cord.figures.thickness_on_disc.value,
            centre_y: 0.47 * height as f64,
            ..view(&cord, 0.0)
        };
        let ground = Ground::Plain {
            colour: Colour([0xe8, 0xe1, 0xd4]),
            shadow: 0.42,
        };
        let what = format!("{strands} strands of satin cord, {width} × {height}");
        timed(&what, 3, goal, || {
            let mut stage = Stage::new(&cord.form);
            let picture = |look| stage.picture(&worn(&threads, look), &view, &ground, Detail::Fine);
            (0..500)
                .map(picture)
                .map(|one| one.rgba.len())
                .sum::<usize>()
        });
    }
}

/// The threads in dark and light, by the digits of a number.
fn worn(threads: &[Thread], look: usize) -> Vec<Thread> {
    let mut threads = threads.to_vec();
    for (strand, thread) in threads.iter_mut().enumerate() {
        let is_dark = (look >> strand) & 1 == 1;
        let colour = if is_dark {
            [0x2b, 0x37, 0x5b]
        } else {
            [0xee, 0xe6, 0xd2]
        };
        thread
            .ends
            .iter_mut()
            .for_each(|end| end.colour = Colour(colour));
    }
    threads
}
