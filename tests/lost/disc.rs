//! A disc as hands know it: an array of half slots, and what lies in each.

use plaitwright::structure::{Move, Place};

/// A place: 0 the hand, from 2 on half slots clockwise, slot `k` being `2 k`.
pub(crate) type Spot = usize;

/// The hand above the middle.
pub(crate) const HAND: Spot = 0;

/// A strand taken from one spot to another, over everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Carry {
    pub(crate) from: Spot,
    pub(crate) to: Spot,
}

impl Carry {
    pub(crate) fn of(one: Move) -> Self {
        Self {
            from: spot(one.from),
            to: spot(one.to),
        }
    }

    pub(crate) fn back(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
        }
    }

    /// The same with both ends elsewhere.
    pub(crate) fn moved(self, to: impl Fn(Spot) -> Spot) -> Self {
        Self {
            from: to(self.from),
            to: to(self.to),
        }
    }
}

pub(crate) fn spot(place: Place) -> Spot {
    match place {
        Place::Rim(half) => usize::from(half),
        Place::Hand => HAND,
    }
}

pub(crate) fn place(spot: Spot) -> Place {
    match spot {
        HAND => Place::Hand,
        half => Place::Rim(u16::try_from(half).expect("a disc has few slots")),
    }
}

/// What lies where: nothing, or a strand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Disc {
    lies: Vec<Option<usize>>,
}

impl Disc {
    /// Strand `i` in `at[i]`.
    pub(crate) fn laid(slots: usize, at: impl IntoIterator<Item = Spot>) -> Self {
        let mut lies = vec![None; 2 * slots + 2];
        for (strand, spot) in at.into_iter().enumerate() {
            assert_eq!(lies[spot], None, "two strands in one place");
            lies[spot] = Some(strand);
        }
        Self { lies }
    }

    pub(crate) fn slots(&self) -> usize {
        self.lies.len() / 2 - 1
    }

    pub(crate) fn strands(&self) -> usize {
        self.lies.iter().flatten().count()
    }

    pub(crate) fn strand(&self, spot: Spot) -> Option<usize> {
        self.lies[spot]
    }

    pub(crate) fn is_free(&self, spot: Spot) -> bool {
        self.lies[spot].is_none()
    }

    /// All spots of the rim, clockwise from slot 1.
    pub(crate) fn rim(&self) -> std::ops::Range<Spot> {
        2..self.lies.len()
    }

    /// Where each strand lies.
    pub(crate) fn at(&self) -> Vec<Spot> {
        let mut at = vec![HAND; self.strands()];
        for (spot, strand) in self.lies.iter().enumerate() {
            if let Some(strand) = strand {
                at[*strand] = spot;
            }
        }
        at
    }

    /// Carries a strand; false, and nothing done, if nothing lies there, something
    /// lies where it should go, or it would go nowhere.
    #[must_use]
    pub(crate) fn carry(&mut self, one: Carry) -> bool {
        let possible = !self.is_free(one.from) && self.is_free(one.to);
        if possible {
            self.lies[one.to] = self.lies[one.from].take();
        }
        possible
    }

    /// Whether a carry passes over another strand, rather than into the next gap; one
    /// to or from the hand, over the middle, does.
    pub(crate) fn passes_something(&self, one: Carry) -> bool {
        if one.from == HAND || one.to == HAND {
            return true;
        }
        let all = 2 * self.slots();
        let rim = |spot: Spot, on: usize| (spot - 2 + on) % all + 2;
        let on = (all + one.to - one.from) % all;
        let is_taken = |on: usize| !self.is_free(rim(one.from, on));
        (1..=on).any(is_taken) && (on..all).any(is_taken)
    }

    /// The spot so many half slots clockwise; the hand stays the hand.
    pub(crate) fn turned(&self, spot: Spot, half_slots: i64) -> Spot {
        turned(spot, half_slots, self.slots())
    }

    /// Half slots between two spots of the rim, the shorter way.
    pub(crate) fn apart(&self, a: Spot, b: Spot) -> usize {
        let all = 2 * self.slots();
        let on = (all + a - b) % all;
        on.min(all - on)
    }
}

pub(crate) fn turned(spot: Spot, half_slots: i64, slots: usize) -> Spot {
    if spot == HAND {
        return HAND;
    }
    let on = (spot as i64 - 2 + half_slots).rem_euclid(2 * slots as i64);
    usize::try_from(on).expect("a remainder") + 2
}

/// A spot as a mirror shows it that stands on the line through the mark between the last
/// slot and the first, or square to that line.
pub(crate) fn mirrored(spot: Spot, square: bool, slots: usize) -> Spot {
    if spot == HAND {
        return HAND;
    }
    let quarter = if square { slots as i64 } else { 0 };
    turned(2, quarter - spot as i64, slots)
}

#[test]
fn a_mirror_shows_its_own_side() {
    assert_eq!(mirrored(2 * 17, false, 32), 2 * 16);
    assert_eq!(mirrored(2, false, 32), 64);
    assert_eq!(mirrored(2 * 8, true, 32), 2 * 9);
    assert_eq!(mirrored(2 * 25, true, 32), 2 * 24);
    for spot in 2..66 {
        for across in [false, true] {
            assert_eq!(mirrored(mirrored(spot, across, 32), across, 32), spot);
        }
    }
}
