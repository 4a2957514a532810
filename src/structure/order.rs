//! Moves of one step are made together by two hands: they may not cross.
//!
//! Two lifts whose four ends do not alternate round the rim lead to the same
//! braid in either order (checked as braids on random pairs in the property
//! tests); if the ends alternate, the two orders differ.

use super::check::Carried;
use super::{Fault, Lift, Move, Seat};

/// A move that was made, and the lift that it is on the rim.
pub(super) type Made = (Carried, Lift);

/// The faults of steps with crossing moves, the first of each step.
pub(super) fn crossing_steps(made: &[Made]) -> Vec<Fault> {
    made.chunk_by(|a, b| a.0.step == b.0.step)
        .filter_map(crossing)
        .collect()
}

fn crossing(step: &[Made]) -> Option<Fault> {
    let crosses = |a: &Made, b: &Made| interleave(&a.1, &b.1);
    step.iter().enumerate().find_map(|(later, second)| {
        let first = step[..later].iter().find(|first| crosses(first, second))?;
        Some(Fault::Interleave {
            step: second.0.step,
            first: of(&first.0),
            second: of(&second.0),
            strands: [first.0.strand, second.0.strand],
        })
    })
}

fn of(carried: &Carried) -> Move {
    Move {
        from: carried.from,
        to: carried.to,
    }
}

/// Whether the lines of two lifts cross; a shared end is no crossing.
fn interleave(a: &Lift, b: &Lift) -> bool {
    let chord = a.from.clockwise_to(a.to);
    let side = |seat: Seat| match a.from.clockwise_to(seat) {
        0 => None,
        at if at == chord => None,
        at => Some(at < chord),
    };
    matches!((side(b.from), side(b.to)), (Some(x), Some(y)) if x != y)
}
