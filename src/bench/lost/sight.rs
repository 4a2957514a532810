//! How well a disc fits what is seen of it, and a kind of mistake what the cord looks like.

use super::disc::{Disc, NOBODY, Rim};
use super::guess;
use super::slip::Kind;
use crate::bench::{Seen, Sign, Spot};

/// More spots than these seen otherwise: it is not this disc.
const MOST_WRONG: usize = 4;

/// What is seen, by spots.
#[derive(Debug, Clone)]
pub(super) struct Sight<'a> {
    rim: Rim,
    spots: Vec<(u16, Spot)>,
    seen: &'a Seen,
    looks: &'a [usize],
}

impl<'a> Sight<'a> {
    /// What is seen in places that a disc does not have is left out.
    pub(super) fn new(rim: Rim, seen: &'a Seen, looks: &'a [usize]) -> Self {
        let spots = seen.spots.iter();
        let on_rim = spots.filter_map(|(&place, &spot)| Some((rim.spot(place)?, spot)));
        Self {
            rim,
            spots: on_rim.collect(),
            seen,
            looks,
        }
    }

    fn fits(&self, spot: Spot, who: u8) -> bool {
        match spot {
            Spot::Empty => who == NOBODY,
            Spot::Strand => who != NOBODY,
            Spot::Look(look) => who != NOBODY && self.looks.get(usize::from(who)) == Some(&look),
        }
    }

    /// How likely a disc is seen so: 1 if all fits, 0 if it is out of the question.
    pub(super) fn likely(&self, disc: &Disc) -> f64 {
        let mut wrong = [(0, Spot::Empty); MOST_WRONG];
        let mut count = 0;
        for &(at, spot) in &self.spots {
            if !self.fits(spot, disc.who(at)) {
                if count == MOST_WRONG {
                    return 0.0;
                }
                wrong[count] = (at, spot);
                count += 1;
            }
        }
        if count == 0 {
            return 1.0;
        }
        self.misread(disc, &wrong[..count])
    }

    /// Spots seen otherwise than a disc has them.
    pub(super) fn wrong(&self, disc: &Disc) -> usize {
        let wrong = self.spots.iter();
        wrong
            .filter(|&&(at, spot)| !self.fits(spot, disc.who(at)))
            .count()
    }

    fn misread(&self, disc: &Disc, wrong: &[(u16, Spot)]) -> f64 {
        let mut likely = 1.0;
        let mut is_told = [false; MOST_WRONG];
        for (index, &(at, spot)) in wrong.iter().enumerate() {
            if is_told[index] {
                continue;
            }
            let beside =
                wrong
                    .iter()
                    .enumerate()
                    .skip(index + 1)
                    .find(|&(other, &(there, seen))| {
                        !is_told[other] && self.is_moved(disc, (at, spot), (there, seen))
                    });
            if let Some((other, _)) = beside {
                is_told[other] = true;
                likely *= guess::BESIDE;
                continue;
            }
            likely *= match (spot, disc.who(at)) {
                (Spot::Empty, _) | (_, NOBODY) => guess::OVERLOOKED,
                _ => guess::LOOK,
            };
        }
        likely
    }

    /// Whether two spots seen wrong are one strand told in the slot beside its own.
    fn is_moved(&self, disc: &Disc, one: (u16, Spot), other: (u16, Spot)) -> bool {
        let beside = |by| self.rim.turned(one.0, by) == other.0;
        if !beside(2) && !beside(-2) {
            return false;
        }
        match (one.1, other.1) {
            (Spot::Empty, seen) => seen != Spot::Empty && self.fits(seen, disc.who(one.0)),
            (seen, Spot::Empty) => self.fits(seen, disc.who(other.0)),
            _ => false,
        }
    }

    /// How likely the cord looks as it is told with mistakes of these kinds; all kinds
    /// alike where nothing is told of it.
    pub(super) fn signs(&self, kinds: &[Kind]) -> f64 {
        if self.seen.signs.is_empty() {
            return 1.0;
        }
        let all = [Sign::Fat, Sign::Knee, Sign::Cross, Sign::LongFloat];
        let told = |sign: Sign| {
            let unlikely = kinds.iter().map(|&kind| 1.0 - guess::sign(kind, sign));
            let likely = 1.0 - unlikely.product::<f64>();
            if self.seen.signs.contains(&sign) {
                likely
            } else {
                1.0 - guess::UNTOLD * likely
            }
        };
        all.into_iter().map(told).product()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Place;

    fn seen(spots: &[(u16, Spot)]) -> Seen {
        Seen {
            spots: spots
                .iter()
                .map(|&(slot, spot)| (Place::slot(slot), spot))
                .collect(),
            ..Seen::default()
        }
    }

    /// Strands 0 and 1 in slots 1 and 4 of eight.
    fn likely(spots: &[(u16, Spot)]) -> f64 {
        let rim = Rim::new(8);
        let seen = seen(spots);
        Sight::new(rim, &seen, &[5, 6]).likely(&Disc::new(rim, &[0, 6]))
    }

    #[test]
    fn what_fits_is_certain_and_what_is_misread_unlikely() {
        assert_eq!(
            likely(&[(1, Spot::Look(5)), (2, Spot::Empty), (4, Spot::Strand)]),
            1.0
        );
        assert_eq!(likely(&[(1, Spot::Look(6))]), guess::LOOK);
        assert_eq!(
            likely(&[(1, Spot::Empty), (2, Spot::Look(5))]),
            guess::BESIDE
        );
        assert_eq!(likely(&[(7, Spot::Strand)]), guess::OVERLOOKED);
        assert_eq!(likely(&[(40, Spot::Strand)]), 1.0, "no such slot");
        let five = [2, 3, 5, 6, 7].map(|slot| (slot, Spot::Strand));
        assert_eq!(likely(&five), 0.0);
    }

    #[test]
    fn a_fat_cord_speaks_for_moves_made_twice() {
        let rim = Rim::new(8);
        let mut seen = seen(&[]);
        seen.signs.insert(Sign::Fat);
        let sight = Sight::new(rim, &seen, &[]);
        let twice = sight.signs(&[Kind::Doubled]);
        assert!(twice > 3.0 * sight.signs(&[Kind::Skipped]));
        assert!(sight.signs(&[Kind::Skipped, Kind::Doubled]) > 2.0 * sight.signs(&[Kind::Slot]));
    }
}
