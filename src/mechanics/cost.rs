//! What looking at a shape costs, counted and not clocked: the same question takes as
//! much on any machine.
//!
//! In looks at one node of a cord, with the images and the partners that it has there.
//! Tried on cords of 3 to 8 strands and on cells that fall together: 0.5 to 1.3 µs each.

/// For each image that is shown.
const AN_IMAGE: f64 = 0.1;
/// For each pair that is listed.
const A_PAIR: f64 = 0.05;
/// How many times as much a pair costs whose sections may flatten.
const FLAT: f64 = 4.0;

/// With so many images shown and so many pairs listed.
pub(super) fn of_a_look(images: usize, pairs: usize, flattens: bool) -> f64 {
    let flat = if flattens { FLAT } else { 1.0 };
    AN_IMAGE * images as f64 + A_PAIR * flat * pairs as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_node_of_a_cord_costs_about_one() {
        // Four levels shown and 13 partners listed, as in a cord of equal strands.
        let node = of_a_look(4 * 100, 13 * 100, false) / 100.0;
        assert!((0.8..1.3).contains(&node), "{node}");
        assert!(of_a_look(400, 1300, true) > of_a_look(400, 1300, false));
    }
}
