//! The disc as an array: who lies where. Made to be copied and changed many thousand
//! times while mistakes are tried.
//!
//! Spots are numbered from 0: the half slots clockwise from slot 1, and last the hand.

use super::guess;
use crate::structure::Place;

/// Nobody lies there.
pub(super) const NOBODY: u8 = u8::MAX;

/// Where a strand is taken up and where it is laid down, as spots.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Carry {
    pub(super) from: u16,
    pub(super) to: u16,
}

/// The spots of a disc of so many slots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rim {
    /// Half slots all round.
    pub(super) halves: u16,
}

impl Rim {
    pub(super) fn new(slots: u16) -> Self {
        Self { halves: 2 * slots }
    }

    /// The spot of a place of this disc; none of others.
    pub(super) fn spot(self, place: Place) -> Option<u16> {
        match place {
            Place::Rim(half) if place.is_on(self.halves / 2) => Some(half - 2),
            Place::Rim(_) => None,
            Place::Hand => Some(self.halves),
        }
    }

    pub(super) fn place(self, spot: u16) -> Place {
        if self.is_hand(spot) {
            Place::Hand
        } else {
            Place::Rim(spot + 2)
        }
    }

    pub(super) fn is_hand(self, spot: u16) -> bool {
        spot == self.halves
    }

    /// So many half slots further clockwise; the hand stays the hand.
    pub(super) fn turned(self, spot: u16, by: i32) -> u16 {
        if self.is_hand(spot) {
            return spot;
        }
        (i32::from(spot) + by).rem_euclid(i32::from(self.halves)) as u16
    }

    /// In the mirror that carries the half slot 0 onto `axis`.
    pub(super) fn mirrored(self, spot: u16, axis: i32) -> u16 {
        if self.is_hand(spot) {
            return spot;
        }
        (axis - i32::from(spot)).rem_euclid(i32::from(self.halves)) as u16
    }

    /// Half slots between two spots of the rim, the shorter way.
    pub(super) fn apart(self, one: u16, other: u16) -> u16 {
        let far = one.abs_diff(other);
        far.min(self.halves.saturating_sub(far))
    }

    /// Half slots of a quarter of the disc, so many times, to whole slots.
    pub(super) fn quarters(self, quarters: u8) -> i32 {
        let slots = i32::from(self.halves) / 2;
        2 * ((slots * i32::from(quarters) + 2) / 4)
    }
}

/// Who lies where.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Disc {
    who: Vec<u8>,
}

impl Disc {
    /// Strand `i` in spot `spots[i]`.
    pub(super) fn new(rim: Rim, spots: &[u16]) -> Self {
        let mut who = vec![NOBODY; usize::from(rim.halves) + 1];
        for (strand, &spot) in (0..).zip(spots) {
            who[usize::from(spot)] = strand;
        }
        Self { who }
    }

    /// Who lies in a spot, or [`NOBODY`].
    pub(super) fn who(&self, spot: u16) -> u8 {
        self.who[usize::from(spot)]
    }

    pub(super) fn is_full(&self, spot: u16) -> bool {
        self.who(spot) != NOBODY
    }

    /// Whether something lies where it is taken up, and nothing where it goes.
    pub(super) fn can(&self, one: Carry) -> bool {
        self.is_full(one.from) && !self.is_full(one.to)
    }

    /// Carries what [`Self::can`] be carried; the strand.
    pub(super) fn carry(&mut self, one: Carry) -> u8 {
        let strand = std::mem::replace(&mut self.who[usize::from(one.from)], NOBODY);
        self.who[usize::from(one.to)] = strand;
        strand
    }

    /// Strands of the rim between the mark and a spot. The half slot between the last
    /// slot and the first lies at the mark.
    pub(super) fn below(&self, rim: Rim, spot: u16) -> i32 {
        let mark = rim.halves - 1;
        if spot == mark {
            return 0;
        }
        let before = self.who[..usize::from(spot)].iter();
        let full = before.filter(|&&who| who != NOBODY).count();
        full as i32 + i32::from(self.is_full(mark))
    }

    /// The spot of each of so many strands.
    pub(super) fn spots(&self, strands: usize) -> Vec<u16> {
        let mut spots = vec![0; strands];
        for (spot, &strand) in (0..).zip(&self.who) {
            if strand != NOBODY {
                spots[usize::from(strand)] = spot;
            }
        }
        spots
    }

    /// The spot itself if it fits, or else those within reach that fit and are nearest,
    /// whole slots away: at most two, the one further clockwise first.
    pub(super) fn nearest(&self, rim: Rim, at: u16, fits: impl Fn(u16) -> bool) -> Near {
        let mut near = Near::default();
        if fits(at) {
            near.push(at);
        }
        for slots in 1..=guess::REACH {
            if near.count > 0 || rim.is_hand(at) {
                break;
            }
            for by in [2 * slots, -2 * slots] {
                let spot = rim.turned(at, by);
                if fits(spot) {
                    near.push(spot);
                }
            }
        }
        near
    }

    /// The next full spot of the rim that way.
    pub(super) fn next_full(&self, rim: Rim, spot: u16, way: i32) -> Option<u16> {
        let far = (1..i32::from(rim.halves)).filter(|_| !rim.is_hand(spot));
        far.map(|far| rim.turned(spot, way * far))
            .find(|&spot| self.is_full(spot))
    }
}

/// One spot, or two as near.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Near {
    spots: [u16; 2],
    count: usize,
}

impl Near {
    fn push(&mut self, spot: u16) {
        self.spots[self.count] = spot;
        self.count += 1;
    }

    /// The first or the second of them.
    pub(super) fn get(&self, which: usize) -> Option<&u16> {
        self.spots[..self.count].get(which)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spots_and_places_are_the_same_thing() {
        let rim = Rim::new(32);
        for spot in 0..=64 {
            assert_eq!(rim.spot(rim.place(spot)), Some(spot));
        }
        assert_eq!(rim.place(0), Place::slot(1));
        assert_eq!(rim.spot(Place::slot(33)), None);
        assert_eq!(rim.turned(63, 1), 0);
        assert_eq!(rim.mirrored(0, -2), 62, "slot 1 is slot 32 in the mirror");
        assert_eq!(rim.turned(64, 1), 64, "the hand stays the hand");
    }

    #[test]
    fn a_strand_carried_lies_there_and_nowhere_else() {
        let rim = Rim::new(8);
        let mut disc = Disc::new(rim, &[0, 6]);
        assert!(!disc.can(Carry { from: 0, to: 6 }));
        assert!(!disc.can(Carry { from: 2, to: 4 }));
        assert_eq!(disc.carry(Carry { from: 6, to: 10 }), 1);
        assert_eq!(disc.spots(2), [0, 10]);
        assert_eq!((disc.below(rim, 10), disc.below(rim, 0)), (1, 0));
        assert_eq!(disc.carry(Carry { from: 0, to: 15 }), 0);
        assert_eq!(
            (disc.below(rim, 10), disc.below(rim, 15)),
            (1, 0),
            "at the mark"
        );
    }

    #[test]
    fn the_nearest_is_looked_for_both_ways() {
        let rim = Rim::new(8);
        let disc = Disc::new(rim, &[0, 4, 6]);
        let full = disc.nearest(rim, 2, |spot| disc.is_full(spot));
        assert_eq!((full.get(0), full.get(1)), (Some(&4), Some(&0)));
        let free = disc.nearest(rim, 4, |spot| !disc.is_full(spot));
        assert_eq!((free.get(0), free.get(1)), (Some(&2), None), "4 is taken");
        assert_eq!(disc.next_full(rim, 6, 1), Some(0));
        let held = disc.nearest(rim, rim.halves, |spot| disc.is_full(spot));
        assert_eq!(held.get(0), None);
    }
}
