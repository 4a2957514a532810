//! The cord that carries make, as a word of crossings, written down from a disc.
//!
//! A carried strand passes over all that lie between its two places, counted from the
//! mark between the last slot and the first. What is held in the hand stands over the
//! middle, and others are carried past it on their own side: it is written as if it
//! lay on the rim, and hopped over the middle whenever it would lie on the wrong side.
//!
//! Whether two words are the same braid is told by Dynnikov's coordinates in whole
//! numbers (I. Dynnikov, *On a Yang–Baxter map and the Dehornoy ordering*, Russian
//! Math. Surveys 57 (2002) 592).

use plaitwright::topology::same_braid;

use super::disc::{Carry, Disc, HAND, Spot};

/// Quarter slots clockwise from slot 1; odd ones only for what is held.
type Seat = i64;

struct Rim {
    seats: Vec<Seat>,
    held: Option<usize>,
    all: Seat,
    word: Vec<i32>,
}

impl Rim {
    fn of(disc: &Disc) -> Self {
        let at = disc.at();
        let held = at.iter().position(|&spot| spot == HAND);
        Self {
            // Where a strand in the hand came from does not matter, as long as it is
            // the same for all words that are compared.
            seats: at
                .iter()
                .map(|&s| if s == HAND { 1 } else { seat(s) })
                .collect(),
            held,
            all: 4 * disc.slots() as Seat,
            word: Vec::new(),
        }
    }

    fn rank(&self, strand: usize, seat: Seat) -> i32 {
        let others = self.seats.iter().enumerate();
        let below = others.filter(|&(other, &at)| other != strand && at < seat);
        i32::try_from(below.count()).expect("few strands")
    }

    fn hop(&mut self, strand: usize, to: Seat) {
        let (low, high) = (self.rank(strand, self.seats[strand]), self.rank(strand, to));
        self.word.extend(low + 1..=high);
        self.word
            .extend((high + 1..=low).rev().map(|letter| -letter));
        self.seats[strand] = to;
    }

    /// Brings what is held to the side of the middle on which it is passed; none if it
    /// is carried exactly over the middle.
    fn give_way(&mut self, from: Seat, to: Seat) -> Option<()> {
        let Some(held) = self.held else {
            return Some(());
        };
        let on = (to - from).rem_euclid(self.all);
        if 2 * on == self.all {
            return None;
        }
        let passed_clockwise = 2 * on < self.all;
        let beyond = (self.seats[held] - from).rem_euclid(self.all);
        if (beyond < on) == passed_clockwise {
            let outside = if passed_clockwise { from - 1 } else { from + 1 };
            self.hop(held, outside.rem_euclid(self.all));
        }
        Some(())
    }

    fn carry(&mut self, strand: usize, one: Carry) -> Option<()> {
        match one {
            Carry { from, to: HAND } => {
                self.held = Some(strand);
                self.seats[strand] = seat(from) + 1;
            }
            Carry { from: HAND, to } => {
                self.held = None;
                self.hop(strand, seat(to));
            }
            Carry { from, to } => {
                self.give_way(seat(from), seat(to))?;
                self.hop(strand, seat(to));
            }
        }
        Some(())
    }
}

fn seat(spot: Spot) -> Seat {
    2 * spot as Seat - 4
}

/// The word of carries from a disc on; none if they cannot be made there.
pub(crate) fn word(disc: &Disc, carries: &[Carry]) -> Option<Vec<i32>> {
    let (mut disc, mut rim) = (disc.clone(), Rim::of(disc));
    for &one in carries {
        let strand = disc.strand(one.from)?;
        disc.carry(one).then_some(())?;
        rim.carry(strand, one)?;
    }
    Some(rim.word)
}

/// Whether carries from the same disc on give the same cord and the same disc.
pub(crate) fn is_same(disc: &Disc, these: &[Carry], those: &[Carry]) -> bool {
    let (Some(this), Some(that)) = (word(disc, these), word(disc, those)) else {
        return false;
    };
    end(disc, these) == end(disc, those) && same_braid(&this, &that, disc.strands())
}

fn end(disc: &Disc, carries: &[Carry]) -> Option<Disc> {
    let mut disc = disc.clone();
    let all = carries.iter().all(|&one| disc.carry(one));
    all.then_some(disc)
}
