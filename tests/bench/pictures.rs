//! Times of the pictures of a cord.

use plaitwright::drawing::{self, Bend, Detail, Ground, Stage, View};

use super::clock::{print_head, timed};
use super::cords::eight_fine;

/// The strip under the pointer and at rest.
pub(super) fn strips() {
    print_head("Pictures: eight strands of satin cord, 1600 × 300");
    let (cord, strands, fibres) = eight_fine();
    let threads = drawing::threads(&strands, &fibres);
    for (what, detail, goal) in [
        ("strip at rest", Detail::Fine, 120.0),
        ("strip while moving", Detail::Moving, 16.0),
    ] {
        let mut stage = Stage::new(&cord.form);
        let mut roll = 0.0;
        timed(what, 15, Some(goal), || {
            // Turning, as under the pointer: nothing is seen twice.
            roll += 0.05;
            let view = View {
                width: 1600,
                height: 300,
                pixels_per_mm: 165.0 / cord.figures.thickness_on_disc.value,
                start_mm: 0.0,
                roll,
                centre_x: 0.0,
                centre_y: 144.0,
                bend: Bend::Straight,
            };
            stage.picture(&threads, &view, &Ground::Clear, detail)
        });
    }
}
