//! The moves as hops on a ring.
//!
//! For what crosses what only the order round the rim counts, so a lift is a
//! hop of one strand over its neighbours on a ring.

use crate::structure::Braid;

use super::word::ranks;

/// One strand carried over neighbours on the rim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hop {
    /// The strand that is carried, inside and over all others.
    pub strand: usize,
    /// How many strands it passes, clockwise positive, the shorter way; of two
    /// ways as short, clockwise. Never zero.
    pub passed: i32,
}

/// A set of strands, one bit each; a braid has at most 64.
pub(super) type Strands = u64;

/// The strands in rim order, clockwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Ring(pub(super) Vec<usize>);

impl Ring {
    /// Carries a strand over its neighbours; gives the set it passes.
    pub(super) fn carry(&mut self, hop: Hop) -> Strands {
        let at = self.index_of(hop.strand);
        self.0.remove(at);
        let others = self.0.len() as i32;
        let to = at as i32 + hop.passed;
        let run = if hop.passed > 0 {
            at as i32..to
        } else {
            to..at as i32
        };
        let over = run.fold(0, |set, place| {
            set | 1 << self.0[place.rem_euclid(others) as usize]
        });
        self.0.insert(to.rem_euclid(others) as usize, hop.strand);
        over
    }

    fn index_of(&self, strand: usize) -> usize {
        self.0
            .iter()
            .position(|&other| other == strand)
            .expect("every strand stays on the ring")
    }
}

/// The hops of a round without mere slides, and the ranks clockwise that all
/// strands gain besides, seen from the mark.
///
/// Seen from the mark a strand is passed on the side that does not hold the
/// mark; a hop takes the shorter side. The inside of the rim makes them the
/// same but for a turn of all strands by one rank.
pub(super) fn hops(braid: &Braid) -> (Vec<Hop>, i32) {
    let mut seats = braid.seats_after(0);
    let others = seats.len() as i32 - 1;
    let mut hops = Vec::new();
    let mut uniform = 0;
    for lift in braid.lifts() {
        let (from, to) = ranks(&seats, lift.strand, lift.to);
        seats[lift.strand] = lift.to;
        let over_mark = to < from;
        let clockwise = to as i32 - from as i32 + if over_mark { others } else { 0 };
        let backwards = 2 * clockwise > others;
        let passed = clockwise - if backwards { others } else { 0 };
        uniform += i32::from(over_mark) - i32::from(backwards);
        if passed != 0 {
            hops.push(Hop {
                strand: lift.strand,
                passed,
            });
        }
    }
    (hops, uniform)
}
