//! Rounds that are the same cord though no start of a list shows it.
//!
//! Begun anywhere at all, not only between two lifts, a round is another word for
//! the same cord. Of all such words those are sought that tangle the curves least,
//! by lifts made at the end of one round and taken back at the beginning; from
//! there all that tangle them little more are looked at. Two cords that meet are
//! the same. Two that do not are probably different: the search is cut short.
//!
//! # Source
//!
//! To compare conjugate braids by finite sets of their least members is F. A.
//! Garside's, *The braid group and other groups*, Quart. J. Math. 20 (1969) 235;
//! the measure, and that the set is cut short, are ours.

use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap};

use super::alexander::burau;
use super::curves::{Curves, inverse};
use super::relaxed::runs;
use super::residue::primes;
use super::word::reduced;

/// Words looked at for each cord.
const MOST_WORDS: usize = 1000;

/// What a word does to the system of curves that tells all braids apart.
type Image = Vec<[i64; 2]>;

/// Whether two words are shown to be the same cord begun elsewhere.
pub(super) fn are_conjugate(one: &[i32], other: &[i32], strands: usize) -> bool {
    mark(one, strands) == mark(other, strands) && meet(one, other, strands)
}

/// Whether the least tangled words of both have one in common.
fn meet(one: &[i32], other: &[i32], strands: usize) -> bool {
    let (one, other) = (Least::of(one, strands), Least::of(other, strands));
    let (Some(mut one), Some(mut other)) = (one, other) else {
        return false;
    };
    while one.images.len() < MOST_WORDS {
        let nothing_left = one.left.is_empty() && other.left.is_empty();
        if one.widen(&other) || other.widen(&one) {
            return true;
        }
        if nothing_left {
            return false;
        }
    }
    false
}

/// The characteristic polynomial of Burau's matrix at one value modulo a prime:
/// the same wherever the round begins.
fn mark(word: &[i32], strands: usize) -> u64 {
    let prime = primes().next().expect("there are primes");
    let mut rows = burau(word, strands, 1_000_003, prime);
    for (at, row) in rows.iter_mut().enumerate() {
        row[at] = prime.difference(row[at], 7_654_321);
    }
    prime.determinant(rows)
}

/// The least tangled words for the same cord, as far as they were looked for.
struct Least {
    strands: usize,
    images: BTreeSet<Image>,
    /// Words whose neighbours have not been looked at.
    left: BinaryHeap<(Reverse<i64>, Vec<i32>)>,
}

impl Least {
    /// The least tangled that lifts lead to; nothing if the word tangles the curves
    /// beyond measure.
    fn of(word: &[i32], strands: usize) -> Option<Self> {
        let (mut image, mut tangle, mut word) = measured(word.to_vec(), strands)?;
        while let Some((other, less, better)) = less_tangled(&word, tangle, strands) {
            (image, tangle, word) = (other, less, better);
        }
        Some(Self {
            strands,
            images: BTreeSet::from([image]),
            left: BinaryHeap::from([(Reverse(tangle), word)]),
        })
    }

    /// Looks at the neighbours of the least tangled word that is left. Whether one
    /// of the words is known to another.
    fn widen(&mut self, other: &Self) -> bool {
        let Some((_, word)) = self.left.pop() else {
            return !self.images.is_disjoint(&other.images);
        };
        for (image, tangle, next) in begun_a_letter_on(&word, self.strands) {
            if other.images.contains(&image) {
                return true;
            }
            if self.images.insert(image) {
                self.left.push((Reverse(tangle), next));
            }
        }
        false
    }
}

/// A word with its image and how tangled that is.
type Measured = (Image, i64, Vec<i32>);

/// The least tangled round begun a letter later, or else a lift in front or behind.
fn less_tangled(word: &[i32], tangle: i64, strands: usize) -> Option<Measured> {
    let least = |rounds: Vec<Measured>| {
        let least = rounds.into_iter().min_by_key(|(_, tangle, _)| *tangle);
        least.filter(|(_, less, _)| *less < tangle)
    };
    least(begun_a_letter_on(word, strands)).or_else(|| {
        let ways = runs(strands as i32).flat_map(|run| {
            let ends = 2..=run.len();
            ends.map(move |end| run[..end].to_vec())
        });
        let rounds = ways.filter_map(|way| measured(begun_after(&way, word), strands));
        least(rounds.collect())
    })
}

/// The round begun after some way.
fn begun_after(way: &[i32], word: &[i32]) -> Vec<i32> {
    reduced(&[&inverse(way), word, way].concat())
}

/// The rounds begun a letter later.
fn begun_a_letter_on(word: &[i32], strands: usize) -> Vec<Measured> {
    let letters = (1..strands as i32).flat_map(|letter| [letter, -letter]);
    let next = |letter: i32| begun_after(&[letter], word);
    letters
        .filter_map(|letter| measured(next(letter), strands))
        .collect()
}

fn measured(word: Vec<i32>, strands: usize) -> Option<Measured> {
    let curves = Curves::<i64>::filling(strands).carried(&word)?;
    let back = Curves::<i64>::filling(strands).carried(&inverse(&word))?;
    let image = curves.0.iter().map(|pair| [pair.a, pair.b]).collect();
    Some((image, curves.length() + back.length(), word))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn random_word(random: &mut fastrand::Rng, strands: i32, length: usize) -> Vec<i32> {
        let letter = |_| random.i32(1..strands) * [1, -1][random.usize(0..2)];
        (0..length).map(letter).collect()
    }

    #[test]
    fn a_round_begun_anywhere_is_known_again() {
        let mut random = fastrand::Rng::with_seed(3);
        let known = (0..40).filter(|_| {
            let strands = random.i32(4..8);
            let word = random_word(&mut random, strands, 14);
            let way = random_word(&mut random, strands, 6);
            let other = begun_after(&way, &word);
            are_conjugate(&word, &other, strands as usize)
        });
        assert!(known.count() >= 39);
    }

    #[test]
    fn other_rounds_with_as_many_crossings_do_not_meet() {
        let pairs: [(&[i32], &[i32]); 3] = [
            (&[1, 2, -3], &[1, -2, 3, -3, 3, -3, 3]),
            (&[1, 1, -2], &[1, 2, -2]),
            (&[1, -2, 3, -2, 1], &[1, -2, 1, -2, 3]),
        ];
        for (one, other) in pairs {
            assert!(!meet(one, other, 4), "{one:?} {other:?}");
        }
    }
}
