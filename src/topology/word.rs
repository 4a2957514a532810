//! The crossings of one round, in order, as a braid word.
//!
//! The strands are numbered 1 to n in rim order from the mark, seen from the
//! mark towards the middle. A strand lifted from place `i` to a later place `j`
//! passes in front of those between: `s_i … s_(j-1)`; to an earlier one
//! `s_(i-1)⁻¹ … s_j⁻¹`. A positive letter is a right-handed crossing: the front
//! strand rises to the right. A turn of the whole disc that carries one strand
//! over the mark is `s_1 … s_(n-1)` anticlockwise and its mirror image
//! `s_(n-1)⁻¹ … s_1⁻¹` clockwise.
//!
//! # Source
//!
//! Artin's generators (E. Artin, *Theory of braids*, Annals of Mathematics 48,
//! 1947); the rule for lifts is worked out from the convex position of the
//! resting strands, and checked by projecting sampled paths.

use super::hops::Ring;
use super::world_lines::WorldLines;
use crate::structure::{Braid, Seat};

/// The word of one round, as seen by somebody who turns along with the strands:
/// after the lifts the whole is turned back by the turn of the round.
///
/// Letter `k` is the generator `s_k`, `-k` its inverse; neighbours that cancel
/// are taken out. Another cut of the rim gives a conjugate word.
pub fn artin(braid: &Braid) -> Vec<i32> {
    reduced(&lift_by_lift(braid).concat())
}

/// The word of one round in pieces, one for each lift and the last for the turn
/// back; nothing is taken out.
pub(super) fn lift_by_lift(braid: &Braid) -> Vec<Vec<i32>> {
    let mut seats = braid.seats_after(0);
    let mut pieces = Vec::with_capacity(braid.lifts().len() + 1);
    for lift in braid.lifts() {
        let (from, to) = ranks(&seats, lift.strand, lift.to);
        let mut piece = Vec::new();
        lifted(&mut piece, from, to);
        pieces.push(piece);
        seats[lift.strand] = lift.to;
    }
    let mut back = Vec::new();
    turned_back(&mut back, &seats, braid.turn());
    pieces.push(back);
    pieces
}

/// The crossings of a cell as a word, with who stands where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellWord {
    /// The strand in each place at the bottom.
    pub order: Vec<usize>,
    /// The crossings upwards, ended by a turn of the whole that brings every
    /// strand to the place of the one it continues.
    pub letters: Vec<i32>,
}

impl CellWord {
    /// The word of a cell of `lines`: from the order of the hops alone, not from
    /// where the lines are drawn.
    ///
    /// So many times in a row as there are cells in a round, it is the word of
    /// the round but for the choice of the mark and for full turns of the whole.
    pub fn new(lines: &WorldLines) -> Self {
        let order = lines.ring();
        let mut now = Ring(order.clone());
        let mut letters = Vec::new();
        for &hop in &lines.hops {
            let place = |ring: &Ring| ring.0.iter().position(|&other| other == hop.strand);
            let from = place(&now);
            now.carry(hop);
            if let (Some(from), Some(to)) = (from, place(&now)) {
                lifted(&mut letters, from, to);
            }
        }
        let stands_first = |&who: &usize| lines.continues[who] == order[0];
        let gone_on = letter(now.0.iter().position(stands_first).unwrap_or(0));
        let all = letter(order.len());
        let shorter = if 2 * gone_on > all {
            gone_on - all
        } else {
            gone_on
        };
        carried(&mut letters, order.len(), shorter);
        Self {
            order,
            letters: reduced(&letters),
        }
    }

    /// The letters of so many cells in a row.
    pub fn repeated(&self, cells: usize) -> Vec<i32> {
        reduced(&self.letters.repeat(cells))
    }
}

/// The word of a full turn anticlockwise, so many times; clockwise if negative.
pub fn full_turns(strands: usize, times: i32) -> Vec<i32> {
    let mut word = Vec::new();
    carried(&mut word, strands, times * letter(strands));
    word
}

/// Sum of the signs of a word: right-handed crossings less left-handed ones.
pub fn writhe(word: &[i32]) -> i32 {
    word.iter().map(|letter| letter.signum()).sum()
}

/// Ranks of a strand from the mark, before and after it is carried to `to`.
pub(super) fn ranks(seats: &[Seat], strand: usize, to: Seat) -> (usize, usize) {
    let others = || {
        seats
            .iter()
            .enumerate()
            .filter(|&(other, _)| other != strand)
    };
    let below = |at: u16| others().filter(|(_, seat)| seat.at < at).count();
    (below(seats[strand].at), below(to.at))
}

/// How many strands a clockwise turn by `slots` carries over the mark, counted
/// negative when it is anticlockwise.
pub(super) fn carried_over_mark(seats: &[Seat], slots: i32) -> i32 {
    let crosses = |seat: &&Seat| {
        let at = i32::from(seat.at) + 4 * slots;
        at < 0 || at >= i32::from(seat.of)
    };
    let count = seats.iter().filter(crosses).count();
    slots.signum() * i32::try_from(count).expect("a handful of strands")
}

fn letter(rank: usize) -> i32 {
    i32::try_from(rank).expect("a handful of strands")
}

pub(super) fn lifted(word: &mut Vec<i32>, from: usize, to: usize) {
    if to > from {
        word.extend((from..to).map(|rank| letter(rank + 1)));
    } else {
        word.extend((to..from).rev().map(|rank| -letter(rank + 1)));
    }
}

fn turned_back(word: &mut Vec<i32>, seats: &[Seat], turn: i32) {
    carried(word, seats.len(), -carried_over_mark(seats, -turn));
}

/// The whole turned until so many strands were carried over the mark,
/// anticlockwise positive.
pub(super) fn carried(word: &mut Vec<i32>, strands: usize, over_mark: i32) {
    let last = letter(strands) - 1;
    for _ in 0..over_mark.abs() {
        if over_mark < 0 {
            word.extend((1..=last).rev().map(|letter| -letter));
        } else {
            word.extend(1..=last);
        }
    }
}

/// The word as it is seen from so many places further round the rim: who stood in a
/// place stands that many places further on.
pub(super) fn seen_from(word: &[i32], strands: usize, cut: usize) -> Vec<i32> {
    let once: Vec<i32> = (1..letter(strands)).collect();
    let on = once.repeat(cut);
    let back = on.iter().rev().map(|letter| -letter);
    let seen: Vec<i32> = on
        .iter()
        .copied()
        .chain(word.iter().copied())
        .chain(back)
        .collect();
    reduced(&seen)
}

/// The word without neighbours that cancel.
pub(super) fn reduced(word: &[i32]) -> Vec<i32> {
    let mut kept: Vec<i32> = Vec::with_capacity(word.len());
    for &letter in word {
        if kept.last() == Some(&-letter) {
            kept.pop();
        } else {
            kept.push(letter);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;

    use super::*;
    use crate::structure::{Structure, shelf};
    use crate::topology::cycles;

    #[derive(Deserialize)]
    struct Expected {
        name: String,
        strands: usize,
        turn: i32,
        writhe: i32,
        cycles: Vec<Vec<usize>>,
        word: Vec<i32>,
    }

    fn expected() -> Vec<Expected> {
        ron::from_str(include_str!("../../tests/words.ron")).expect("test data")
    }

    fn on_shelf(expected: &Expected) -> &'static Structure {
        let same = |s: &&Structure| s.name == expected.name && s.strands() == expected.strands;
        shelf().iter().find(same).expect(&expected.name)
    }

    #[test]
    fn words_and_cycles_of_the_shelf_are_those_computed_independently() {
        assert!(expected().len() >= 20);
        for expected in expected() {
            let braid = Braid::new(&on_shelf(&expected).moves).expect("a braid");
            let named = format!("{} of {}", expected.name, expected.strands);
            assert_eq!(braid.turn(), expected.turn, "{named}");
            assert_eq!(cycles(braid.becomes()), expected.cycles, "{named}");
            assert_eq!(artin(&braid), expected.word, "{named}");
            assert_eq!(writhe(&artin(&braid)), expected.writhe, "{named}");
        }
    }

    #[test]
    fn a_round_taken_back_leaves_no_crossing() {
        for expected in expected() {
            let list = &on_shelf(&expected).moves;
            let back = Braid::new(list).expect("a braid").reversed();
            let mut both = list.clone();
            both.steps.extend(back.steps);
            let braid = Braid::new(&both).expect("back to the start");
            assert_eq!(braid.turn(), 0);
            assert_eq!(artin(&braid), Vec::<i32>::new(), "{}", expected.name);
        }
    }
}
