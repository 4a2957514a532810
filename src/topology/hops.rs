//! The moves as hops on a ring.
//!
//! For what crosses what only the order round the rim counts, so a lift is a
//! hop of one strand over its neighbours on a ring.

use crate::structure::{Braid, Lift, Seat};

use super::word::ranks;

/// One strand carried over neighbours on the rim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hop {
    /// The strand that is carried, inside and over all others.
    pub strand: usize,
    /// How many strands it passes, clockwise positive: in a fan the way that
    /// stays in it; else the shorter way, of two as short the clockwise one.
    /// Never zero.
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
/// mark; a hop takes the shorter side, or the side of the fan. The inside of the
/// rim makes them the same but for a turn of all strands by one rank.
pub(super) fn hops(braid: &Braid) -> (Vec<Hop>, i32) {
    let mut seats = braid.seats_after(0);
    let others = seats.len() as i32 - 1;
    let is_fan = is_fan(braid);
    let mut hops = Vec::new();
    let mut uniform = 0;
    for lift in braid.lifts() {
        let (from, to) = ranks(&seats, lift.strand, lift.to);
        let gained = to as i32 - from as i32;
        let passed = if is_fan {
            passed_in_fan(&seats, lift)
        } else {
            let clockwise = gained.rem_euclid(others);
            let backwards = 2 * clockwise > others;
            clockwise - if backwards { others } else { 0 }
        };
        seats[lift.strand] = lift.to;
        uniform += (passed - gained) / others;
        if passed != 0 {
            hops.push(Hop {
                strand: lift.strand,
                passed,
            });
        }
    }
    (hops, uniform)
}

/// Whether the strands use a part of the rim only: if each is carried the
/// shorter way along the slots, somewhere nobody ever comes by.
fn is_fan(braid: &Braid) -> bool {
    if braid.turn() != 0 {
        return false;
    }
    let mut is_passed = vec![false; 4 * usize::from(braid.slots())];
    for lift in braid.lifts() {
        let (first, last) = if is_backwards(lift) {
            (lift.to, lift.from)
        } else {
            (lift.from, lift.to)
        };
        let far = first.clockwise_to(last);
        if 2 * far == first.of {
            return false;
        }
        for on in 0..far {
            is_passed[usize::from(first.turned(i32::from(on)).at)] = true;
        }
    }
    is_passed.contains(&false)
}

/// Strands passed on the shorter way along the slots, clockwise positive; all others, it
/// may be, however the mark lies.
fn passed_in_fan(seats: &[Seat], lift: &Lift) -> i32 {
    let backwards = is_backwards(lift);
    let (first, last) = if backwards {
        (lift.to, lift.from)
    } else {
        (lift.from, lift.to)
    };
    let far = first.clockwise_to(last);
    let is_between =
        |&(strand, seat): &(usize, &Seat)| strand != lift.strand && first.clockwise_to(*seat) < far;
    let between = seats.iter().enumerate().filter(is_between).count() as i32;
    if backwards { -between } else { between }
}

/// Whether the way anticlockwise is the shorter one along the slots.
fn is_backwards(lift: &Lift) -> bool {
    2 * lift.from.clockwise_to(lift.to) > lift.from.of
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::MoveList;

    #[test]
    fn in_a_fan_nobody_is_carried_round_the_outside_however_many_are_passed() {
        // The second strand passes three of four; clockwise it would be one.
        let list = "slots 32\nstart 2 4 6 8 10\n10 > 3\n8 > 10\n6 > 8\n4 > 6\n3 > 4";
        let list: MoveList = list.parse().expect("a list");
        let passed = |list: &MoveList| -> Vec<i32> {
            let braid = Braid::new(list).expect("a braid");
            hops(&braid).0.iter().map(|hop| hop.passed).collect()
        };
        assert_eq!(passed(&list), [-3]);
        assert_eq!(passed(&list.mirrored()), [3]);
        let round = "slots 10\nstart 2 4 6 8 10\n10 > 3\n8 > 10\n6 > 8\n4 > 6\n3 > 4";
        let round: MoveList = round.parse().expect("a list");
        assert_eq!(passed(&round), [1]);
    }

    #[test]
    fn a_strand_that_passes_all_others_does_so_wherever_the_mark_lies() {
        let list = "slots 8\nstart 6.5 5.5 3\n6.5 > 3.5\n3 > 4\n3.5 > 6.5\n4 > 3";
        let list: MoveList = list.parse().expect("a list");
        let found = |by| hops(&Braid::new(&list.turned(by)).expect("a braid")).0;
        assert!(
            found(0).iter().any(|hop| hop.passed.abs() == 2),
            "{:?}",
            found(0)
        );
        for by in 1..16 {
            assert_eq!(found(by), found(0), "{by} half slots on");
        }
    }
}
