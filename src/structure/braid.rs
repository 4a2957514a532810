//! A list of moves that has been checked.

use std::f64::consts::TAU;

use super::examine::{Sound, examine};
use super::{BraidError, Move, MoveList, Place, Step};

/// A place on the rim, finer than any strand can be laid: quarter slots
/// clockwise, so that a held strand has seats of its own between all places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Seat {
    /// Quarter slots clockwise from the mark between the last slot and slot 1;
    /// slot `k` is `4 k - 2`. From 0 to `of - 1`.
    pub at: u16,
    /// Quarter slots all round, four times the number of slots.
    pub of: u16,
}

impl Seat {
    /// The seat of a place on a disc of at most 256 slots; the hand has none.
    pub(super) fn of(place: Place, slots: u16) -> Option<Self> {
        match place {
            Place::Rim(half) => Some(Self {
                at: (2 * half - 2) % (4 * slots),
                of: 4 * slots,
            }),
            Place::Hand => None,
        }
    }

    /// Angle on the disc, radians clockwise seen from above, from the mark.
    pub fn angle(self) -> f64 {
        TAU * f64::from(self.at) / f64::from(self.of)
    }

    /// How far clockwise it is to another seat, in quarter slots.
    pub fn clockwise_to(self, other: Self) -> u16 {
        (self.of + other.at - self.at) % self.of
    }

    /// The seat `quarters` quarter slots further clockwise.
    #[must_use]
    pub fn turned(self, quarters: i32) -> Self {
        let at = (i32::from(self.at) + quarters).rem_euclid(i32::from(self.of));
        Self {
            at: u16::try_from(at).expect("a remainder of a u16"),
            of: self.of,
        }
    }
}

/// One strand carried over everything that rests, from seat to seat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lift {
    /// The strand, as counted in the start.
    pub strand: usize,
    /// Where it rested, or what stands for the hand.
    pub from: Seat,
    /// Where it comes to rest, or what stands for the hand.
    pub to: Seat,
    /// The step it belongs to, counted from 1.
    pub step: usize,
}

/// A move list that has been checked: no slot is empty or taken when it must
/// not be, the hand's part is clear, and a round ends as it began but for a
/// turn of the disc.
///
/// After a round the same moves go on, all places turned along with the disc.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Braid {
    list: MoveList,
    lifts: Vec<Lift>,
    end: Vec<Place>,
    turn: i32,
    becomes: Vec<usize>,
}

impl Braid {
    /// Checks a list.
    ///
    /// # Errors
    ///
    /// The first of [`MoveList::faults`]: what is met when the list is worked,
    /// then strands left in the hand, unclear holds, crossing moves within a
    /// step, and at last a round that does not come back.
    pub fn new(list: &MoveList) -> Result<Self, BraidError> {
        match examine(list) {
            Ok(Sound {
                lifts,
                end,
                closing,
            }) => Ok(Self {
                list: list.clone(),
                lifts,
                end,
                turn: closing.turn,
                becomes: closing.becomes,
            }),
            Err(faults) => Err(list.error(faults.into_iter().next().expect("at least one"))),
        }
    }

    /// The list that was checked.
    pub fn moves(&self) -> &MoveList {
        &self.list
    }

    /// Number of slots of the disc.
    pub fn slots(&self) -> u16 {
        self.list.slots
    }

    /// Number of strands.
    pub fn strands(&self) -> usize {
        self.list.start.len()
    }

    /// The lifts of one round, in order, one for each move of the list.
    pub fn lifts(&self) -> &[Lift] {
        &self.lifts
    }

    /// Slots that the strands have gone on when a round is done, clockwise
    /// positive: the turn that the list gives, at most once round, or else the
    /// smallest that fits, at most half round.
    pub fn turn(&self) -> i32 {
        self.turn
    }

    /// For each strand, whose start place (turned with the disc) it has come
    /// to when a round is done; it then makes that strand's moves.
    pub fn becomes(&self) -> &[usize] {
        &self.becomes
    }

    /// Where each strand is after so many lifts, counted on through the rounds.
    pub fn places_after(&self, lifts: usize) -> Vec<Place> {
        let round = self.start_of_round(lifts / self.lifts.len());
        let mut at: Vec<Place> = self.list.start.clone();
        for (lift, (_, carried)) in self
            .lifts
            .iter()
            .zip(self.list.moves())
            .take(lifts % self.lifts.len())
        {
            at[lift.strand] = carried.to;
        }
        let turned = |role: usize| at[role].turned(2 * round.turn, self.slots());
        round.roles.into_iter().map(turned).collect()
    }

    /// The seat of each strand after so many lifts, a held strand in the seat
    /// that stands for the hand.
    pub fn seats_after(&self, lifts: usize) -> Vec<Seat> {
        let round = self.start_of_round(lifts / self.lifts.len());
        let mut at = self.start_seats();
        for lift in &self.lifts[..lifts % self.lifts.len()] {
            at[lift.strand] = lift.to;
        }
        let turned = |role: usize| at[role].turned(4 * round.turn);
        round.roles.into_iter().map(turned).collect()
    }

    /// The strands in order of their seats after so many lifts, clockwise from
    /// the mark between the last slot and slot 1.
    pub fn order_after(&self, lifts: usize) -> Vec<usize> {
        order(&self.seats_after(lifts))
    }

    /// The strands that are not lifted however long the braid goes on.
    pub fn never_lifted(&self) -> Vec<usize> {
        let mut lifted = vec![false; self.strands()];
        for lift in &self.lifts {
            let mut strand = lift.strand;
            while !std::mem::replace(&mut lifted[strand], true) {
                strand = self.becomes[strand];
            }
        }
        (0..self.strands())
            .filter(|&strand| !lifted[strand])
            .collect()
    }

    /// The list that takes one round back, move by move.
    ///
    /// It starts where the round ends, so the disc turns the other way.
    pub fn reversed(&self) -> MoveList {
        let back = |step: &Step| Step {
            moves: step
                .moves
                .iter()
                .rev()
                .map(|&Move { from, to }| Move { from: to, to: from })
                .collect(),
        };
        MoveList {
            start: self.end.clone(),
            steps: self.list.steps.iter().rev().map(back).collect(),
            turn: self.list.turn.map(|turn| -turn),
            ..self.list
        }
    }

    fn start_seats(&self) -> Vec<Seat> {
        let seat = |&place| Seat::of(place, self.slots()).expect("strands start on the rim");
        self.list.start.iter().map(seat).collect()
    }

    /// Who plays whose part in a later round, and how far all has turned.
    fn start_of_round(&self, rounds: usize) -> Round {
        let slots = i64::from(self.slots());
        let turns = i64::try_from(rounds).unwrap_or(0) % slots * i64::from(self.turn) % slots;
        Round {
            turn: i32::try_from(turns).expect("less than the number of slots"),
            roles: (0..self.strands())
                .map(|strand| self.role(strand, rounds))
                .collect(),
        }
    }

    fn role(&self, strand: usize, rounds: usize) -> usize {
        let mut cycle = vec![strand];
        let mut next = self.becomes[strand];
        while next != strand {
            cycle.push(next);
            next = self.becomes[next];
        }
        cycle[rounds % cycle.len()]
    }
}

struct Round {
    turn: i32,
    roles: Vec<usize>,
}

/// Strands by seat, clockwise from the mark.
pub(super) fn order(seats: &[Seat]) -> Vec<usize> {
    let mut strands: Vec<usize> = (0..seats.len()).collect();
    strands.sort_by_key(|&strand| seats[strand].at);
    strands
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Fault, shelf};

    fn spiral() -> Braid {
        let of_eight =
            |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let structure = shelf().iter().find(of_eight).expect("on the shelf");
        Braid::new(&structure.moves).expect("a braid")
    }

    fn list(slots: u16, start: &[u16], moves: &[(u16, u16)]) -> MoveList {
        let carried = |&(from, to): &(u16, u16)| Step {
            moves: vec![Move {
                from: Place::slot(from),
                to: Place::slot(to),
            }],
        };
        MoveList {
            slots,
            start: start.iter().map(|&slot| Place::slot(slot)).collect(),
            steps: moves.iter().map(carried).collect(),
            ..MoveList::default()
        }
    }

    #[test]
    fn the_spiral_of_eight_goes_back_one_slot_a_round() {
        let braid = spiral();
        assert_eq!(braid.turn(), -1);
        assert_eq!(braid.becomes(), [1, 4, 3, 6, 5, 0, 7, 2]);
    }

    #[test]
    fn the_moves_can_be_played_for_many_rounds() {
        let braid = spiral();
        for lifts in 0..400 {
            let (before, after) = (braid.places_after(lifts), braid.places_after(lifts + 1));
            let moved = (0..8).filter(|&strand| before[strand] != after[strand]);
            assert_eq!(moved.count(), 1, "lift {lifts}");
        }
        // 32 rounds bring the slots round, 4 the colours.
        assert_eq!(braid.places_after(4 * 32), braid.places_after(0));
    }

    #[test]
    fn strands_are_told_in_order_from_the_mark() {
        assert_eq!(spiral().order_after(0), [1, 2, 3, 4, 5, 6, 7, 0]);
        assert_eq!(spiral().order_after(1), [1, 2, 3, 4, 6, 7, 5, 0]);
    }

    #[test]
    fn a_turn_that_fits_both_ways_follows_the_strands_and_the_mirror() {
        // Three strands a third apart, each carried a sixth on.
        let on = list(12, &[1, 5, 9], &[(1, 3), (5, 7), (9, 11)]);
        let braid = |list: &MoveList| Braid::new(list).expect("a braid");
        assert_eq!(braid(&on).turn(), 2);
        assert_eq!(braid(&on.mirrored()).turn(), -2);
        assert_eq!(braid(&on.mirrored()).becomes(), braid(&on).becomes());
    }

    #[test]
    fn a_strand_that_only_stands_by_is_told() {
        let list = list(12, &[1, 4, 8], &[(1, 6), (4, 1), (6, 4)]);
        let braid = Braid::new(&list).expect("a braid");
        assert_eq!(braid.never_lifted(), [2]);
    }

    #[test]
    fn the_way_back_undoes_a_round() {
        let braid = spiral();
        let back = Braid::new(&braid.reversed()).expect("a braid");
        assert_eq!(back.turn(), 1);
        assert_eq!(back.places_after(4), braid.places_after(0));
    }

    #[test]
    fn crossing_moves_of_one_step_need_an_order() {
        let mut two = list(12, &[1, 4, 8], &[(1, 7), (4, 10)]);
        let moves = two
            .steps
            .iter()
            .flat_map(|step| step.moves.clone())
            .collect();
        two.steps = vec![Step { moves }];
        let fault = Braid::new(&two).expect_err("crossing").fault;
        assert!(
            matches!(fault, Fault::Interleave { step: 1, .. }),
            "{fault:?}"
        );
    }
}
