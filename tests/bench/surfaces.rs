//! Times of the unrolled surface.

use plaitwright::surface::{Map, Surface};

use super::clock::{print_head, timed};
use super::cords::fine;

/// Floats and a raster of cords as they are drawn.
pub(super) fn unrolled() {
    print_head("The unrolled surface: satin cord, fine");
    for (strands, goal) in [(8, Some(5.0)), (16, None), (32, None)] {
        let (cord, ..) = fine(strands, "satin cord 2 mm, polyester");
        let what = format!("{strands} strands, all floats");
        timed(&what, 15, goal, || Surface::new(&cord.form));
        let Some(surface) = Surface::new(&cord.form) else {
            continue;
        };
        let what = format!("{strands} strands, a map of 400 × 300");
        timed(&what, 15, goal, || Map::new(&surface, 400, 300));
    }
}
