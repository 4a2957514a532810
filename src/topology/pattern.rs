//! Short rules for a cord: a lift, repeated all round, then a step on.
//!
//! The strands stand evenly round the rim. A rule carries the strand in one place
//! past some of its neighbours, and the strands in all the places that lie alike
//! round the rim with it; the strands are counted anew, and after some such lifts
//! the rule goes on some places further.

use super::round::Round;
use super::word::{carried, lifted};

/// One strand, and those that lie alike round the rim, carried past neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Carry {
    /// Place of the strand, clockwise from 0.
    pub place: usize,
    /// Strands that it passes, clockwise.
    pub past: usize,
}

/// A rule for a cord.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Pattern {
    /// Number of strands, a multiple of `fold`.
    pub strands: usize,
    /// How many strands are carried alike.
    pub fold: usize,
    /// What is carried, in order; places are counted anew before each.
    pub carries: Vec<Carry>,
    /// Places clockwise by which the rule goes on.
    pub turn: usize,
}

/// All rules with so many lifts, each done so many fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Family {
    /// Number of strands, at least 3 and a multiple of `fold`.
    pub strands: usize,
    /// How many strands are carried alike.
    pub fold: usize,
    /// How many lifts a rule has, not counting those alike.
    pub carries: usize,
}

/// Gaps of the rim are counted in halves of a place.
type HalfPlaces = usize;

impl Family {
    /// The rules: the first lift from place 0, every other from any place, past
    /// one strand at least and not all, and every turn.
    pub fn patterns(self) -> impl Iterator<Item = Pattern> {
        let alike = self.strands / self.fold;
        let pasts = self.strands - 2;
        let of_a_carry = move |index: usize| if index == 0 { pasts } else { alike * pasts };
        let count = (0..self.carries).map(of_a_carry).product::<usize>() * alike;
        (0..count).map(move |mut number| {
            let mut take = |of: usize| {
                let digit = number % of;
                number /= of;
                digit
            };
            let turn = take(alike);
            let carry = |index: usize| Carry {
                past: take(pasts) + 1,
                place: if index == 0 { 0 } else { take(alike) },
            };
            Pattern {
                strands: self.strands,
                fold: self.fold,
                carries: (0..self.carries).map(carry).collect(),
                turn,
            }
        })
    }
}

impl Pattern {
    /// The word of the rule, once; the next time it starts with every strand in
    /// the place of another.
    pub fn round(&self) -> Round {
        let mut pieces = Vec::new();
        for (from, to) in self.hops() {
            let mut piece = Vec::new();
            lifted(&mut piece, from, to);
            pieces.push(piece);
        }
        let mut back = Vec::new();
        carried(&mut back, self.strands, self.turn as i32);
        pieces.push(back);
        Round {
            strands: self.strands,
            pieces,
        }
    }

    /// Ranks before and after every single lift.
    pub(super) fn hops(&self) -> Vec<(usize, usize)> {
        let mut hops = Vec::with_capacity(self.carries.len() * self.fold);
        for &carry in &self.carries {
            // Where the strands of each place are now.
            let mut at: Vec<HalfPlaces> = (0..self.strands).map(|place| 2 * place).collect();
            for place in self.alike(carry.place) {
                let to = (2 * (place + carry.past) + 1) % (2 * self.strands);
                let below = |here: HalfPlaces| {
                    let others = at.iter().enumerate().filter(|&(other, _)| other != place);
                    others.filter(|&(_, &there)| there < here).count()
                };
                hops.push((below(at[place]), below(to)));
                at[place] = to;
            }
        }
        hops
    }

    /// The places that lie alike.
    pub(super) fn alike(&self, place: usize) -> impl Iterator<Item = usize> {
        let (strands, apart) = (self.strands, self.strands / self.fold);
        (0..self.fold).map(move |index| (place + index * apart) % strands)
    }

    /// How often the rule is done until it begins again where it began.
    pub fn repeats(&self) -> usize {
        let alike = self.strands / self.fold;
        (1..=alike)
            .find(|times| (times * self.turn).is_multiple_of(alike))
            .unwrap_or(1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, shelf};
    use crate::topology::{Verdict, compare, places, same_braid, verdict_of_word};

    #[test]
    fn a_family_has_as_many_rules_as_there_are_choices() {
        let count = |strands, fold, carries| {
            let family = Family {
                strands,
                fold,
                carries,
            };
            family
                .patterns()
                .collect::<std::collections::HashSet<_>>()
                .len()
        };
        assert_eq!(count(8, 1, 1), 48);
        assert_eq!(count(8, 2, 1), 24);
        assert_eq!(count(8, 2, 2), 576);
        assert_eq!(count(12, 4, 1), 30);
    }

    #[test]
    fn a_hop_over_two_and_a_step_on_locks_five_strands() {
        let hop = Pattern {
            strands: 5,
            fold: 1,
            carries: vec![Carry { place: 0, past: 2 }],
            turn: 1,
        };
        let round = hop.round();
        assert!(same_braid(&round.word(), &[1, 2, 1, 2, 3, 4], 5));
        assert_eq!(places(&round.word(), 5), [1, 4, 0, 2, 3]);
        assert!(verdict_of_word(&round.word(), 5).locks());
        assert_eq!(hop.repeats(), 5);
    }

    #[test]
    fn hops_over_two_on_the_shelf_are_the_rule() {
        let hops = shelf()
            .iter()
            .filter(|one| one.name.contains("hop over two"));
        let mut count = 0;
        for one in hops {
            let rule = Pattern {
                strands: one.strands(),
                fold: 1,
                carries: vec![Carry { place: 0, past: 2 }],
                turn: 1,
            };
            let braid = Braid::new(&one.moves).expect("on the shelf");
            // A round is the rule once for every strand.
            let word = rule.round().word().repeat(one.strands());
            let round = Round {
                strands: one.strands(),
                pieces: vec![word],
            };
            assert!(compare(&Round::of(&braid), &round).is_alike());
            count += 1;
        }
        assert!(count > 0);
    }

    /// Strands, fold and lifts; rules that lock, that part and that slide apart.
    type Row = (usize, usize, usize, [usize; 3]);

    /// Counted elsewhere by the hyperbolic volume of the closed braid with its
    /// axis.
    const COUNTS: [Row; 19] = [
        (4, 1, 1, [0, 0, 8]),
        (5, 1, 1, [2, 0, 13]),
        (6, 1, 1, [2, 0, 22]),
        (7, 1, 1, [6, 0, 29]),
        (8, 1, 1, [8, 2, 38]),
        (9, 1, 1, [12, 2, 49]),
        (10, 1, 1, [14, 4, 62]),
        (6, 2, 1, [2, 0, 10]),
        (8, 2, 1, [4, 0, 20]),
        (10, 2, 1, [10, 2, 28]),
        (12, 2, 1, [12, 4, 44]),
        (16, 2, 1, [28, 14, 70]),
        (9, 3, 1, [6, 2, 13]),
        (12, 3, 1, [10, 6, 24]),
        (8, 4, 1, [4, 0, 8]),
        (12, 4, 1, [10, 4, 16]),
        (16, 4, 1, [15, 13, 28]),
        (6, 2, 2, [38, 16, 90]),
        (8, 2, 2, [162, 118, 296]),
    ];

    #[test]
    fn as_many_short_rules_lock_part_and_slide_apart_as_were_counted_elsewhere() {
        for (strands, fold, carries, expected) in COUNTS {
            let family = Family {
                strands,
                fold,
                carries,
            };
            let mut counts = [0; 3];
            for pattern in family.patterns() {
                let sort = match verdict_of_word(&pattern.round().word(), strands) {
                    Verdict::Locks { .. } => 0,
                    Verdict::SlidesApart(_) => 2,
                    _ => 1,
                };
                counts[sort] += 1;
            }
            assert_eq!(counts, expected, "{family:?}");
        }
    }
}
