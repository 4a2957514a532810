//! The lay: how the rows of floats climb round the cord.
//!
//! What comes to rest in a place of the disc, round after round, lies in one row
//! up the cord, and that is the row that a colour makes visible. After a round the
//! places come back to themselves, turned by the disc and by the spin of the cord;
//! how far, against the rise, is the lean of the rows. The floats themselves may
//! hardly lean (tried on 12 strands of the round spiral).
//!
//! The solved cell may hand its strands on otherwise than a round of the list
//! does; the two differ by whole ranks, which are taken up.
//!
//! A flat cord has a front and a back, and rows go from edge to edge: no lay,
//! however far its strands have come when a round ends. That is asked before.

use std::f64::consts::{PI, TAU};

use super::figures::Hand;
use super::recipe::Recipe;
use super::solved::Solved;

/// Leaning less than this, radians, is no lay. Tried: balanced cords come to
/// 0.00 to 0.03, spirals of 6 to 16 strands to 0.4 and more.
const LEAST_LEAN: f64 = 0.08;
/// Hand and pitch of a cord whose rows do not climb round it.
pub(super) const NO_LAY: (Hand, f64) = (Hand::None, f64::INFINITY);
/// Most cells, or rounds, until both come out even.
const MOST_CELLS: usize = 64;

/// Hand of the lay and its pitch, strand diameters; infinite without lay.
/// `radius` is that of the cord.
pub(super) fn lay(recipe: &Recipe, solved: &Solved, radius: f64) -> (Hand, f64) {
    let shape = solved.shown();
    let Some(climb) = climb(recipe, solved) else {
        return NO_LAY;
    };
    let rise = shape.lift / solved.rounds;
    if f64::atan2(climb.abs() * radius, rise) < LEAST_LEAN {
        return NO_LAY;
    }
    // Anticlockwise going up is a right-handed screw: it leans like a Z.
    let hand = if climb > 0.0 { Hand::Z } else { Hand::S };
    (hand, TAU / climb.abs() * rise)
}

/// Turn of the places in a round, anticlockwise, the smallest that fits; none if
/// cells and rounds do not come out even.
fn climb(recipe: &Recipe, solved: &Solved) -> Option<f64> {
    let (cells, rounds) = whole_rounds(solved.rounds)?;
    let strands = recipe.bodies.len();
    let handed_on = power(&solved.tubes.continues[..strands], cells);
    let becomes = power(recipe.braid.becomes(), rounds);
    let mut rank = vec![0; strands];
    for (place, &strand) in recipe.braid.order_after(0).iter().enumerate() {
        rank[strand] = place;
    }
    let ahead = |i: usize| (rank[becomes[i]] + strands - rank[handed_on[i]]) % strands;
    let ranks = ahead(0);
    if (0..strands).any(|i| ahead(i) != ranks) {
        return None;
    }
    let turn = solved.shown().turn * cells as f64 + TAU * ranks as f64 / strands as f64;
    Some((turn + PI).rem_euclid(TAU) - PI).map(|turn| turn / rounds as f64)
}

/// Fewest cells that are whole rounds, and how many.
fn whole_rounds(rounds_a_cell: f64) -> Option<(usize, usize)> {
    (1..=MOST_CELLS).find_map(|cells| {
        let rounds = rounds_a_cell * cells as f64;
        let is_whole = (rounds - rounds.round()).abs() < 1e-6 && rounds > 0.5;
        is_whole.then_some((cells, rounds.round() as usize))
    })
}

/// A permutation so many times.
fn power(once: &[usize], times: usize) -> Vec<usize> {
    let mut all: Vec<usize> = (0..once.len()).collect();
    for _ in 0..times {
        for strand in &mut all {
            *strand = once[*strand];
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_and_rounds_come_out_even() {
        assert_eq!(whole_rounds(0.5), Some((2, 1)));
        assert_eq!(whole_rounds(1.0 / 6.0), Some((6, 1)));
        assert_eq!(whole_rounds(4.0), Some((1, 4)));
        assert_eq!(whole_rounds(1.0 / 999.0), None);
    }

    #[test]
    fn a_permutation_is_made_several_times() {
        assert_eq!(power(&[1, 2, 3, 0], 3), [3, 0, 1, 2]);
        assert_eq!(power(&[1, 2, 3, 0], 4), [0, 1, 2, 3]);
    }
}
