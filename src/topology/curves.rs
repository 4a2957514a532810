//! Closed curves round the strands, and how a braid word carries them along.
//!
//! Cut the tight cord across: the strands are points of a disc. A closed curve
//! that runs between them is carried along when the strands move, and a braid
//! is known by what it does to curves. All of it is done in whole numbers.
//!
//! The points lie on a line, places 1 to `n` from the left, with one more point
//! beyond each end that never moves, so that turns of the whole count too. A
//! system of curves is told by two numbers for each place: `a`, half of how many
//! more strands of curve pass below the point than above it, and `b`, half of how
//! many more cross the upright line to its right than the one to its left (with
//! the sign of I. Dynnikov). Only two neighbouring pairs change with a letter.
//!
//! # Source
//!
//! Coordinates and update rule: I. Dynnikov, *On a Yang–Baxter map and the
//! Dehornoy ordering*, Russian Math. Surveys 57 (2002) 592. That the system
//! `(0, 1, 0, 1, …, 0, 1)` tells all braids apart: P. Dehornoy, I. Dynnikov,
//! D. Rolfsen and B. Wiest, *Ordering Braids*, AMS Surveys 148 (2008), chapter
//! XII (from memory, both).

use std::ops::{Neg, Sub};

use num_bigint::BigInt;
use num_traits::{One, Zero};

/// A number a coordinate can be kept in.
pub(super) trait Coordinate:
    Clone + PartialOrd + Zero + One + Sub<Output = Self> + Neg<Output = Self>
{
    /// Whether the next letter cannot leave the range of the number.
    fn has_room(&self) -> bool;

    /// Bits of its size, rounded down.
    fn bits(&self) -> u64;
}

impl Coordinate for i64 {
    fn has_room(&self) -> bool {
        // A letter makes no number larger than six times the largest.
        self.unsigned_abs() < 1 << 59
    }

    fn bits(&self) -> u64 {
        u64::from(Self::BITS - self.unsigned_abs().leading_zeros())
    }
}

impl Coordinate for f64 {
    fn has_room(&self) -> bool {
        true
    }

    fn bits(&self) -> u64 {
        self.abs().max(1.0).log2() as u64
    }
}

impl Coordinate for BigInt {
    fn has_room(&self) -> bool {
        true
    }

    fn bits(&self) -> u64 {
        Self::bits(self)
    }
}

/// A set of places, one bit each; a braid has at most 64 and a core.
pub(super) type Places = u128;

/// The set of all places of so many strands.
pub(super) fn all_places(strands: usize) -> Places {
    (1 << strands) - 1
}

/// The two numbers of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair<T> {
    pub(super) a: T,
    pub(super) b: T,
}

/// A system of closed curves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Curves<T>(pub(super) Vec<Pair<T>>);

impl<T: Coordinate> Curves<T> {
    /// The system that tells all braids of so many strands apart.
    pub(super) fn filling(strands: usize) -> Self {
        let pair = Pair {
            a: T::zero(),
            b: T::one(),
        };
        Self(vec![pair; strands])
    }

    /// The curve round a set of places, one bit each, as a thread pulled tight
    /// about them within the rim: it passes in front of the others, but behind
    /// those of a second set.
    pub(super) fn around(within: Places, behind: Places, strands: usize) -> Self {
        let is_in = |set: Places, place: usize| set & 1 << place != 0;
        let first = within.trailing_zeros() as usize;
        let last = within.checked_ilog2().unwrap_or(0) as usize;
        let pair = |place: usize| {
            let passed = place > first && place < last && !is_in(within, place);
            let a = match passed {
                true if is_in(behind, place) => T::one(),
                true => -T::one(),
                false => T::zero(),
            };
            let b = match place {
                _ if first >= last => T::zero(),
                _ if place == first => -T::one(),
                _ if place == last => T::one(),
                _ => T::zero(),
            };
            Pair { a, b }
        };
        Self((0..strands).map(pair).collect())
    }

    /// Carries the curves along a word; `None` if the numbers grow too large.
    #[must_use]
    pub(super) fn carried(mut self, word: &[i32]) -> Option<Self> {
        self.carry(word).then_some(self)
    }

    /// The same in place. Whether the numbers had room; if not, the curves are
    /// of no use any more.
    #[must_use]
    pub(super) fn carry(&mut self, word: &[i32]) -> bool {
        word.iter().all(|&letter| self.step(letter))
    }

    /// One letter.
    fn step(&mut self, letter: i32) -> bool {
        let place = letter.unsigned_abs() as usize;
        let [left, right] = &self.0[place - 1..=place] else {
            unreachable!("two neighbouring places");
        };
        let room = [&left.a, &left.b, &right.a, &right.b];
        if !room.iter().all(|number| number.has_room()) {
            return false;
        }
        let (left, right) = if letter > 0 {
            crossed(left, right)
        } else {
            let (left, right) = crossed(&left.mirrored(), &right.mirrored());
            (left.mirrored(), right.mirrored())
        };
        self.0[place - 1] = left;
        self.0[place] = right;
        true
    }

    /// Half of how often the curves cross the upright lines between places: how
    /// long they are, drawn as tight as can be.
    ///
    /// # Source
    ///
    /// T. Hall and S. Ö. Yurttaş, *On the topological entropy of families of
    /// braids*, Topology Appl. 156 (2009) 1554, for the first line (from memory).
    pub(super) fn length(&self) -> T {
        let mut gained = T::zero();
        let mut first = T::zero();
        for Pair { a, b } in &self.0 {
            let reach = size(a) + positive(b) + gained.clone();
            if reach > first {
                first = reach;
            }
            gained = gained + b.clone();
        }
        let mut here = first.clone();
        let mut sum = first;
        for Pair { b, .. } in &self.0 {
            here = here - b.clone();
            sum = sum + here.clone();
        }
        sum
    }

    /// Sum of the sizes of all numbers: how tangled the curves are.
    pub(super) fn size(&self) -> T {
        let numbers = self.0.iter().flat_map(|pair| [&pair.a, &pair.b]);
        numbers.fold(T::zero(), |sum, number| sum + size(number))
    }
}

impl Curves<i64> {
    /// The same curves in numbers that never run out.
    pub(super) fn large(&self) -> Curves<BigInt> {
        let large = |pair: &Pair<i64>| Pair {
            a: BigInt::from(pair.a),
            b: BigInt::from(pair.b),
        };
        Curves(self.0.iter().map(large).collect())
    }
}

impl<T: Coordinate> Pair<T> {
    /// Seen in a mirror that swaps above and below.
    fn mirrored(&self) -> Self {
        Self {
            a: -self.a.clone(),
            b: self.b.clone(),
        }
    }
}

fn size<T: Coordinate>(number: &T) -> T {
    positive(number) - negative(number)
}

fn positive<T: Coordinate>(number: &T) -> T {
    if *number > T::zero() {
        number.clone()
    } else {
        T::zero()
    }
}

fn negative<T: Coordinate>(number: &T) -> T {
    if *number < T::zero() {
        number.clone()
    } else {
        T::zero()
    }
}

/// The two pairs after a positive letter.
fn crossed<T: Coordinate>(left: &Pair<T>, right: &Pair<T>) -> (Pair<T>, Pair<T>) {
    let c = left.a.clone() - right.a.clone() - positive(&right.b) + negative(&left.b);
    let new_left = Pair {
        a: left.a.clone() - positive(&left.b) - positive(&(positive(&right.b) + c.clone())),
        b: right.b.clone() + negative(&c),
    };
    let new_right = Pair {
        a: right.a.clone() - negative(&right.b) - negative(&(negative(&left.b) - c.clone())),
        b: left.b.clone() - negative(&c),
    };
    (new_left, new_right)
}

/// Whether two words are the same braid of so many strands: exact, whatever the
/// lengths.
///
/// # Panics
///
/// If a letter does not lie between 1 and `strands` - 1 in size.
pub fn same_braid(first: &[i32], second: &[i32], strands: usize) -> bool {
    let start = Curves::<i64>::filling(strands);
    let small = |word| start.clone().carried(word);
    if let (Some(first), Some(second)) = (small(first), small(second)) {
        return first == second;
    }
    let large = |word| start.large().carried(word);
    large(first) == large(second)
}

/// The word of the way back.
pub(super) fn inverse(word: &[i32]) -> Vec<i32> {
    word.iter().rev().map(|letter| -letter).collect()
}

/// A braid of five strands that Burau's matrix takes for no braid at all:
/// S. Bigelow, Geometry & Topology 3 (1999) 397.
#[cfg(test)]
pub(super) fn bigelow() -> Vec<i32> {
    let psi_1 = [-3, 2, 1, 1, 2, 4, 4, 4, 3, 2];
    let psi_2 = [-4, 3, 2, -1, -1, 2, 1, 1, 2, 2, 1, 4, 4, 4, 4, 4];
    let with = |inner: &[i32], by: &[i32]| [&inverse(by), inner, by].concat();
    let first = with(&[4], &psi_1);
    let second = with(&[4, 3, 2, 1, 1, 2, 3, 4], &psi_2);
    [inverse(&first), inverse(&second), first, second].concat()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::full_turns;

    fn random_word(random: &mut fastrand::Rng, strands: i32, length: usize) -> Vec<i32> {
        let letter = |_| random.i32(1..strands) * [1, -1][random.usize(0..2)];
        (0..length).map(letter).collect()
    }

    #[test]
    fn artins_relations_hold_and_letters_that_meet_do_not_commute() {
        assert!(same_braid(&[1, 2, 1], &[2, 1, 2], 3));
        assert!(same_braid(&[1, 3], &[3, 1], 4));
        assert!(!same_braid(&[1, 2], &[2, 1], 3));
        assert!(!same_braid(&[1], &[-1], 2));
        assert!(!same_braid(&[1, 1], &[], 2));
    }

    #[test]
    fn a_full_turn_commutes_with_every_letter_and_is_seen() {
        for strands in 3..9 {
            let turn = full_turns(strands, 1);
            assert!(!same_braid(&turn, &[], strands));
            for letter in 1..strands as i32 {
                let before = [&[letter], &turn[..]].concat();
                let after = [&turn[..], &[letter]].concat();
                assert!(same_braid(&before, &after, strands));
            }
        }
    }

    #[test]
    fn words_changed_by_relations_stay_the_same_braid_past_the_range_of_i64() {
        let mut random = fastrand::Rng::with_seed(7);
        for strands in [3, 5, 9] {
            let word = [1, -2].repeat(200);
            let more = random_word(&mut random, strands, 300);
            let long = [word, more].concat();
            let start = Curves::<i64>::filling(strands as usize);
            assert_eq!(start.carried(&long), None, "the test must leave i64");
            let mut other = long.clone();
            other.splice(40..40, [2, 1, 2, -1, -2, -1]);
            assert!(same_braid(&long, &other, strands as usize));
            other.push(1);
            assert!(!same_braid(&long, &other, strands as usize));
        }
    }

    #[test]
    fn a_braid_that_buraus_matrix_does_not_see_is_seen() {
        assert!(!same_braid(&bigelow(), &[], 5));
    }

    #[test]
    fn a_curve_crosses_the_lines_between_its_ends_twice() {
        for (within, behind, lines) in [(0b00110, 0, 1), (0b11111, 0, 4), (0b10001, 0b100, 4)] {
            let curve = Curves::<i64>::around(within, behind, 5);
            assert_eq!(curve.length(), lines);
        }
        // Carried half round a neighbour it reaches one place further.
        let curve = Curves::<i64>::around(0b00011, 0, 5).carried(&[2]);
        assert_eq!(curve.map(|curve| curve.length()), Some(2));
    }

    #[test]
    fn a_tight_curve_is_one_gathered_by_lifts_within_the_rim() {
        for strands in 3..8_usize {
            for set in (0..1 << strands).filter(|set: &Places| set.count_ones() >= 2) {
                let inside = (0..strands).filter(|place| set & 1 << place != 0);
                let gather =
                    |(goal, place): (usize, usize)| (goal..place).rev().map(|at| -(at as i32 + 1));
                let front: Vec<i32> = inside.enumerate().flat_map(gather).collect();
                let together = Curves::<i64>::around((1 << set.count_ones()) - 1, 0, strands);
                let curve = Curves::<i64>::around(set, 0, strands);
                assert_eq!(curve.carried(&front), Some(together.clone()), "{set:b}");
                let back: Vec<i32> = front.iter().map(|letter| -letter).collect();
                let curve = Curves::<i64>::around(set, !set, strands);
                assert_eq!(curve.carried(&back), Some(together), "{set:b}");
            }
        }
    }

    #[test]
    fn a_curve_is_kept_by_the_letters_that_do_not_cross_it() {
        let pair = Curves::<i64>::around(0b00110, 0, 5);
        for letter in [2, -2, 4, -4] {
            assert_eq!(pair.clone().carried(&[letter]), Some(pair.clone()));
        }
        for letter in [1, -1, 3, -3] {
            assert_ne!(pair.clone().carried(&[letter]), Some(pair.clone()));
        }
    }
}
