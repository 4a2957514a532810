//! Whether a solved cord can be: strands do not share room, and no fibre is
//! packed closer than it goes.
//!
//! Both follow from the solve if all is well, so they are asked of every cord
//! before it is shown. Knows neither why a cord fails nor what to do.

use std::f64::consts::PI;

use super::recipe::Recipe;
use super::solved::{SolveError, Solved};
use crate::mechanics::{outline_area, strand_lengths};

/// What strands may take of the room inside the outline: contacts give a little, and
/// few nodes cut corners. Tried on the shelf: at most 1.03.
const MOST_ROOM: f64 = 1.05;
/// How far the closest packing may be passed: the end stop gives a little, most in thin
/// strands between thick ones. Tried: 1.02 for equal strands, 1.06 for one to three.
const MOST_PACKING: f64 = 1.07;

/// Whether the books balance. A mix that is first shown as if all strands were alike
/// has no books of its own.
///
/// # Errors
///
/// [`SolveError::Overfull`] with what was found and what there is room for.
pub(super) fn balanced(recipe: &Recipe, solved: &Solved) -> Result<(), SolveError> {
    if solved.kin.1 != recipe.makes() {
        return Ok(());
    }
    let room = outline_area(&solved.tubes, solved.shown());
    let taken = section_taken(solved);
    if taken > MOST_ROOM * room {
        return Err(SolveError::Overfull {
            share: taken / room,
        });
    }
    let nodes = solved.tubes.nodes;
    let squeezed = solved.shown().squeeze.chunks(nodes);
    for (body, squeeze) in recipe.bodies.iter().zip(squeezed) {
        let most = squeeze.iter().copied().fold(0.0, f64::max);
        let share = body.packing_free * (2.0 * most).exp() / body.packing_closest;
        if share > MOST_PACKING && !body.is_hard() {
            return Err(SolveError::Overfull { share });
        }
    }
    Ok(())
}

/// Section of all strands together, for each height, squared strand diameters.
fn section_taken(solved: &Solved) -> f64 {
    let (tubes, shape) = (&solved.tubes, solved.shown());
    let lengths = strand_lengths(tubes, shape);
    let section = |node: usize| PI * tubes.radius_in(shape, node).powi(2);
    let each = |(strand, length): (usize, &f64)| {
        let nodes = strand * tubes.nodes..(strand + 1) * tubes.nodes;
        nodes.map(section).sum::<f64>() / tubes.nodes as f64 * length
    };
    lengths.iter().enumerate().map(each).sum::<f64>() / shape.lift
}

#[cfg(test)]
mod tests {
    use super::super::{Progress, Quality, Tension, Twist, solve};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::structure::shelf;

    fn spiral() -> (Recipe, Solved) {
        let satin = on_shelf("satin cord 2 mm, polyester").unwrap().clone();
        let list = shelf()
            .iter()
            .find(|s| s.strands() == 8 && s.name == "Round spiral");
        let strands = vec![Strand::single(&satin.name, Colour([0; 3])); 8];
        let recipe = Recipe::new(
            &list.unwrap().moves,
            &strands,
            &[satin],
            Tension::Slots(0.6),
            70.0,
            Twist::Free,
        )
        .unwrap();
        let cord = solve(&recipe, None, Quality::Fine, &Progress::new()).unwrap();
        (recipe, cord.solved)
    }

    #[test]
    fn a_solved_cord_balances_and_its_strands_fill_most_of_it() {
        let (recipe, solved) = spiral();
        assert_eq!(balanced(&recipe, &solved), Ok(()));
        let share = section_taken(&solved) / outline_area(&solved.tubes, solved.shown());
        assert!((0.8..1.0).contains(&share), "{share}");
    }

    #[test]
    fn strands_that_share_room_do_not_balance() {
        let (recipe, mut solved) = spiral();
        let mut pressed = solved.shown().clone();
        pressed
            .points
            .iter_mut()
            .for_each(|p| (p[0], p[1]) = (0.5 * p[0], 0.5 * p[1]));
        solved.limit = Some(pressed);
        let found = balanced(&recipe, &solved);
        assert!(
            matches!(found, Err(SolveError::Overfull { share }) if share > 1.1),
            "{found:?}"
        );
    }

    #[test]
    fn fibre_packed_closer_than_it_goes_does_not_balance() {
        let (recipe, mut solved) = spiral();
        let mut dense = solved.shown().clone();
        dense.squeeze[3] = 0.3;
        solved.limit = Some(dense);
        assert!(matches!(
            balanced(&recipe, &solved),
            Err(SolveError::Overfull { .. })
        ));
    }
}
