//! A round seen where its curves are least tangled.
//!
//! Curves that are carried on and on settle along the directions in which the
//! strands drag them. Lifts in front of all or behind all that shorten such a curve
//! lead to a place of the round, though perhaps to none between two of its lifts,
//! where these directions lie as simply as they can; and so do the curves that
//! they never cross.
//!
//! # Source
//!
//! Shortening curves step by step: I. Dynnikov and B. Wiest, *On the complexity of
//! braids*, J. Eur. Math. Soc. 9 (2007) 801. To look for parting curves half-way
//! is ours.

use num_bigint::BigInt;

use super::curves::{Coordinate, Curves, inverse};
use super::word::reduced;

/// Bits of a curve that shows where it is dragged.
const LONG: u64 = 56;

/// Rounds that it must have been dragged at least.
const ROUNDS: usize = 2;

/// A round begun elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Relaxed {
    /// The word that leads there from the beginning of the round.
    pub(super) way: Vec<i32>,
    /// The word of the round from there.
    pub(super) word: Vec<i32>,
}

/// The round of a word that grows, begun where a long curve has become shorter by
/// half its bits.
pub(super) fn relaxed(word: &[i32], strands: usize) -> Relaxed {
    let start = Curves::<i64>::filling(strands);
    let way = dragged(start.clone(), word)
        .and_then(halved)
        .or_else(|| dragged::<BigInt>(start.large(), word).and_then(halved))
        .expect("large numbers have room");
    let word = [&inverse(&way), word, &way[..]].concat();
    Relaxed {
        word: reduced(&word),
        way,
    }
}

/// Curves carried on until they are long; `None` if the numbers have no room.
fn dragged<T: Coordinate>(mut curves: Curves<T>, word: &[i32]) -> Option<Curves<T>> {
    let mut rounds = 0;
    while curves.size().bits() < LONG || rounds < ROUNDS {
        if !curves.carry(word) {
            return None;
        }
        rounds += 1;
    }
    Some(curves)
}

/// The way that leaves half the bits, or to where no lift shortens any more.
fn halved<T: Coordinate>(mut curves: Curves<T>) -> Option<Vec<i32>> {
    let goal = curves.length().bits() / 2;
    let mut way = Vec::new();
    loop {
        let before = way.len();
        for run in runs(curves.0.len() as i32) {
            if curves.length().bits() <= goal {
                return Some(way);
            }
            let lift = &run[..shortest(&curves, &run)?];
            if !curves.carry(lift) {
                return None;
            }
            way.extend(lift);
        }
        if way.len() == before {
            return Some(way);
        }
    }
}

/// How many letters of a run leave the shortest curve, none if none shortens;
/// nothing if the numbers have no room.
fn shortest<T: Coordinate>(curves: &Curves<T>, run: &[i32]) -> Option<usize> {
    let mut least = curves.length();
    let mut best = 0;
    let much = least.clone() + least.clone();
    let mut now = curves.clone();
    for (at, letter) in run.iter().enumerate() {
        if !now.carry(&[*letter]) {
            return None;
        }
        let length = now.length();
        if length > much {
            break;
        }
        if length < least {
            least = length;
            best = at + 1;
        }
    }
    Some(best)
}

/// From every place the lifts to both ends, in front and behind.
pub(super) fn runs(strands: i32) -> impl Iterator<Item = Vec<i32>> {
    (1..=strands).flat_map(move |place| {
        let right: Vec<i32> = (place..strands).collect();
        let left: Vec<i32> = (1..place).rev().collect();
        [right, left].into_iter().flat_map(|run| {
            let other = run.iter().map(|letter| -letter).collect();
            [run, other]
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::reduction::{kept, kept_somehow};
    use crate::topology::same_braid;

    #[test]
    fn a_relaxed_round_is_the_round_begun_elsewhere() {
        let word = [1, -2, 3, 3, -1, 2, -3, 1];
        let Relaxed {
            way,
            word: from_there,
        } = relaxed(&word, 4);
        let there = [&word, &way[..]].concat();
        let also = [&way, &from_there[..]].concat();
        assert!(same_braid(&there, &also, 4));
    }

    #[test]
    fn curves_wound_up_in_every_place_of_the_list_are_found() {
        // Met among random lists, made, and a band of eight beside a core.
        let band = [3, 5, 7, -8, -7, -6, -5, -4, -3, -2, -1, -1, 2, 1, 1, 2, 3];
        let band = [&band[..], &[4, 5, 6, 7, 8, -4, -6, -8]].concat();
        let words: [(&[i32], usize); 5] = [
            (&band, 9),
            (&[3, 1, -2, -3, -4, -3, 1, 2, 3, 4], 5),
            (&[-3, 1, 2, -3, -2, 3], 4),
            (&[2, 2, 3, 3, 2, 2, 1, -2, 1, 2, -3, -3, -2, -2], 4),
            (&[-2, -4, -1, 5, 5, -3, -2, -5, -4, 1, -3, -4], 6),
        ];
        for (word, strands) in words {
            assert_eq!(kept(word, strands), [], "{word:?}");
            let found = kept_somehow(&relaxed(word, strands).word, strands);
            assert!(found.is_some(), "{word:?}");
        }
    }

    #[test]
    fn rounds_that_leave_i64_at_once_are_relaxed_too() {
        let crooked = [1, -2, 3, -2].repeat(20);
        let inner = [1, -2].repeat(8);
        let word = [&inverse(&crooked), &inner[..], &crooked[..]].concat();
        let found = kept_somehow(&relaxed(&word, 4).word, 4).expect("a plait of three");
        assert_eq!(found.within.count_ones(), 3);
    }
}
