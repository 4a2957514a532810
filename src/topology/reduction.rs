//! Curves that a braid carries back onto themselves, which part its strands.
//!
//! If some run of rounds brings a curve round two strands or more back onto
//! itself, the strands within never mingle with those without. Sought is among
//! the curves that are pulled tight about a set of strands, as a thread round
//! pegs on a rim.
//!
//! A set is worth a look only if the rounds carry it onto itself or clear of
//! itself, never half: then it takes whole shares of the rings in which places
//! are handed on. And a strand outside must go round all those within alike.
//!
//! Each curve found is exact. That none is found proves less: a curve may be wound
//! up. So the round is looked at again where it is [`relaxed`](super::relaxed),
//! and there curves may pass others behind, too: beside hyperbolic volumes of a
//! thousand random words none escaped.
//!
//! # Source
//!
//! Curves that part a braid: J. S. Birman, A. Lubotzky and J. `McCarthy`, *Abelian
//! and solvable subgroups of the mapping class groups*, Duke Math. J. 50 (1983)
//! 1107. The choice of sets is ours.

use std::collections::BTreeSet;

use super::curves::{Curves, Places, all_places};
use super::linking::linking;
use super::permutation::{cycles, places, repeat};

/// Sets looked at before the search is broken off.
const MOST_SETS: usize = 20_000;

/// Letters that the curves of one search are carried along at most, times the cube
/// of the strands: about 1 ms for 8 strands, 80 ms for 32.
const MOST_LETTERS: usize = 300;

/// How tangled a curve may be after a round that shall still come back; our
/// guess, and far above what was met.
const MOST_TANGLED: i64 = 1 << 14;

/// A curve that comes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Kept {
    /// The places within.
    pub(super) within: Places,
    /// The places behind which it passes.
    pub(super) behind: Places,
    /// After how many rounds.
    pub(super) rounds: usize,
}

/// All tight curves round two places or more that are carried back by a run of
/// rounds, at least one of each family that the rounds carry into each other; of
/// very many sets the first.
pub(super) fn kept(word: &[i32], strands: usize) -> Vec<Kept> {
    let mut patience = Patience::new(word, strands);
    let sets = Sets::new(word, strands).all().into_iter();
    sets.take_while(|one| patience.lasts(one))
        .filter(|&one| comes_back(word, strands, one))
        .collect()
}

/// The same with curves that pass others in front or behind, until one is found.
pub(super) fn kept_somehow(word: &[i32], strands: usize) -> Option<Kept> {
    let mut patience = Patience::new(word, strands);
    let sets = Sets::new(word, strands).all();
    let in_front_or_behind = sets
        .iter()
        .flat_map(|one| [0, between(one.within)].map(|behind| Kept { behind, ..*one }));
    let mixed = sets.iter().flat_map(ways);
    in_front_or_behind
        .chain(mixed)
        .take_while(|one| patience.lasts(one))
        .find(|&one| comes_back(word, strands, one))
}

/// What is left of the letters that one search may take.
struct Patience {
    letters_a_round: usize,
    left: usize,
}

impl Patience {
    fn new(word: &[i32], strands: usize) -> Self {
        Self {
            letters_a_round: word.len(),
            left: MOST_LETTERS * strands.pow(3),
        }
    }

    fn lasts(&mut self, one: &Kept) -> bool {
        let takes = self.letters_a_round * one.rounds;
        self.left = self.left.saturating_sub(takes);
        self.left > 0
    }
}

/// A curve in all ways to pass the places between its own.
pub(super) fn ways(one: &Kept) -> impl Iterator<Item = Kept> {
    subsets(between(one.within)).map(|behind| Kept { behind, ..*one })
}

/// The places between the ends of a set that are not in it.
fn between(set: Places) -> Places {
    let last = set.checked_ilog2().unwrap_or(0);
    let first = set.trailing_zeros();
    (((1 << last) - 1) & !((1 << first) - 1)) & !set
}

/// All parts of a set, from none to all of it.
fn subsets(set: Places) -> impl Iterator<Item = Places> {
    std::iter::successors(Some(0), move |&part: &Places| {
        (part != set).then(|| (part.wrapping_sub(set)) & set)
    })
}

/// Whether the tight curve round a set is carried back.
pub(super) fn comes_back(word: &[i32], strands: usize, one: Kept) -> bool {
    let start = Curves::<i64>::around(one.within, one.behind, strands);
    let mut now = start.clone();
    let untangled = |now: &mut Curves<i64>| now.carry(word) && now.size() < MOST_TANGLED;
    (0..one.rounds).all(|_| untangled(&mut now)) && now == start
}

/// The sets that are worth a look.
struct Sets {
    strands: usize,
    becomes: Vec<usize>,
    rings: Vec<Vec<usize>>,
    repeat: usize,
    linking: Vec<Vec<i32>>,
}

/// A set half chosen.
#[derive(Debug, Clone, Copy)]
struct Choice {
    within: Places,
    without: Places,
}

impl Sets {
    fn new(word: &[i32], strands: usize) -> Self {
        let becomes = places(word, strands);
        Self {
            strands,
            rings: cycles(&becomes),
            repeat: repeat(&becomes),
            becomes,
            linking: linking(word, strands),
        }
    }

    /// Neighbours on the rim, then all sets for every number of rounds after which
    /// one may first come back.
    fn all(&self) -> Vec<Kept> {
        let mut found: Vec<Kept> = self.neighbours().collect();
        let nothing = Choice {
            within: 0,
            without: 0,
        };
        for rounds in (1..=self.repeat).filter(|&rounds| self.repeat.is_multiple_of(rounds)) {
            self.choose(0, rounds, nothing, &mut found);
        }
        let mut met = BTreeSet::new();
        found.retain(|one| met.insert(one.within));
        found
    }

    /// The runs of places next to each other round the rim.
    fn neighbours(&self) -> impl Iterator<Item = Kept> {
        let sizes = 2..self.strands;
        let run = move |size: usize, first: usize| -> Places {
            let places = (first..first + size).map(|place| place % self.strands);
            places.fold(0, |set, place| set | 1 << place)
        };
        let runs = sizes.flat_map(move |size| (0..self.strands).map(move |first| run(size, first)));
        let all = all_places(self.strands);
        runs.filter_map(move |within| {
            let choice = Choice {
                within,
                without: all & !within,
            };
            let rounds = self.rounds_back(within)?;
            self.is_linked_alike(choice).then_some(Kept {
                within,
                behind: 0,
                rounds,
            })
        })
    }

    /// Rounds that carry a set onto itself, if they never do so by half.
    fn rounds_back(&self, set: Places) -> Option<usize> {
        let mut now = set;
        for rounds in 1..=self.repeat {
            let places = (0..self.strands).filter(|place| now & 1 << place != 0);
            now = places.fold(0, |next, place| next | 1 << self.becomes[place]);
            if now == set {
                return Some(rounds);
            }
            if now & set != 0 {
                return None;
            }
        }
        None
    }

    /// Goes on with one more ring, left out or taken with one share.
    fn choose(&self, ring: usize, rounds: usize, so_far: Choice, found: &mut Vec<Kept>) {
        if found.len() >= MOST_SETS || !self.is_linked_alike(so_far) {
            return;
        }
        if ring == self.rings.len() {
            let count = so_far.within.count_ones() as usize;
            if count >= 2 && count < self.strands {
                found.push(Kept {
                    within: so_far.within,
                    behind: 0,
                    rounds,
                });
            }
            return;
        }
        let all = of(self.rings[ring].iter());
        for share in self.shares(ring, rounds, so_far.within == 0) {
            let next = Choice {
                within: so_far.within | share,
                without: so_far.without | (all & !share),
            };
            self.choose(ring + 1, rounds, next, found);
        }
    }

    /// The shares of a ring that a set may take: nothing, or those that as many
    /// rounds bring back. Of the first ring the first share stands for all.
    fn shares(&self, ring: usize, rounds: usize, is_first: bool) -> Vec<Places> {
        let ring = &self.rings[ring];
        let mut shares = vec![0];
        if ring.len().is_multiple_of(rounds) {
            let most = if is_first { 1 } else { rounds };
            shares.extend((0..most).map(|start| of(ring.iter().skip(start).step_by(rounds))));
        }
        shares
    }

    /// Whether every strand outside goes round all strands within alike.
    fn is_linked_alike(&self, choice: Choice) -> bool {
        let Some(first) = (choice.within != 0).then(|| choice.within.trailing_zeros() as usize)
        else {
            return true;
        };
        let is_in = |set: Places, place: usize| set & 1 << place != 0;
        (0..self.strands)
            .filter(|&other| is_in(choice.without, other))
            .all(|other| {
                let row = &self.linking[other];
                let mut within = (0..self.strands).filter(|&place| is_in(choice.within, place));
                within.all(|place| row[place] == row[first])
            })
    }
}

fn of<'a>(places: impl Iterator<Item = &'a usize>) -> Places {
    places.fold(0, |set, &place| set | 1 << place)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(word: &[i32], strands: usize) -> Vec<(Places, usize)> {
        let found = kept(word, strands).into_iter();
        found.map(|one| (one.within, one.rounds)).collect()
    }

    #[test]
    fn a_plait_beside_a_strand_is_parted_from_it() {
        assert_eq!(found(&[1, -2], 4), [(0b0111, 1)]);
        assert_eq!(found(&[2, -3], 4), [(0b1110, 1)]);
    }

    #[test]
    fn two_plaits_that_change_places_come_back_after_two_rounds() {
        let swapped = [3, 2, 1, 4, 3, 2, 5, 4, 3];
        let word = [&[1, -2], &swapped[..], &[1, -2]].concat();
        assert_eq!(found(&word, 6), [(0b00_0111, 2), (0b11_1000, 2)]);
    }

    #[test]
    fn a_plait_alone_keeps_no_curve() {
        let words: [&[i32]; 4] = [&[1, -2], &[1, -2, 3], &[1, 3, -2], &[1, 2, -3, -4]];
        for word in words {
            let strands = word.iter().map(|letter| letter.unsigned_abs()).max();
            let strands = strands.expect("letters") as usize + 1;
            assert_eq!(found(word, strands), []);
        }
    }
}
