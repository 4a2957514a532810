//! How often two strands go round each other.

use super::permutation::{cycles, places, repeat};

/// Signed crossings of every two strands in one run of the word, strands named
/// by the places where they start; right-handed ones positive. A symmetric
/// matrix with a zero diagonal.
pub fn crossings(word: &[i32], strands: usize) -> Vec<Vec<i32>> {
    let mut here: Vec<usize> = (0..strands).collect();
    let mut count = vec![vec![0; strands]; strands];
    for letter in word {
        let place = letter.unsigned_abs() as usize;
        let (one, other) = (here[place - 1], here[place]);
        count[one][other] += letter.signum();
        count[other][one] += letter.signum();
        here.swap(place - 1, place);
    }
    count
}

/// Turns of every two strands round each other in one colour repeat, when each
/// strand has come back to its own place: half their signed crossings, a whole
/// number. Strands are named by the places where they start.
///
/// # Source
///
/// The linking number as half the sum of signed crossings of a diagram; a
/// textbook matter.
pub fn linking(word: &[i32], strands: usize) -> Vec<Vec<i32>> {
    let becomes = places(word, strands);
    let once = crossings(word, strands);
    let mut now: Vec<usize> = (0..strands).collect();
    let mut sum = vec![vec![0; strands]; strands];
    for _ in 0..repeat(&becomes) {
        for one in 0..strands {
            for other in 0..strands {
                sum[one][other] += once[now[one]][now[other]];
            }
        }
        now.iter_mut().for_each(|place| *place = becomes[*place]);
    }
    let half = |row: Vec<i32>| row.into_iter().map(|signed| signed / 2).collect();
    sum.into_iter().map(half).collect()
}

/// How often a strand passes others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Passes {
    /// In front of another.
    pub over: usize,
    /// Behind another.
    pub under: usize,
}

impl Passes {
    /// Whether it passes no strand at all: it lies beside the others.
    pub fn none(self) -> bool {
        self == Self::default()
    }
}

/// How often every strand passes others until it comes back to its own place;
/// strands are named by the places where they start.
///
/// A strand that only passes in front, or only behind, lies on the others.
pub fn passes(word: &[i32], strands: usize) -> Vec<Passes> {
    let mut here: Vec<usize> = (0..strands).collect();
    let mut once = vec![Passes::default(); strands];
    for letter in word {
        let place = letter.unsigned_abs() as usize;
        let (left, right) = (here[place - 1], here[place]);
        let (over, under) = if *letter > 0 {
            (left, right)
        } else {
            (right, left)
        };
        once[over].over += 1;
        once[under].under += 1;
        here.swap(place - 1, place);
    }
    let mut all = vec![Passes::default(); strands];
    for ring in cycles(&places(word, strands)) {
        let sum = |count: fn(&Passes) -> usize| ring.iter().map(|&one| count(&once[one])).sum();
        let of_ring = Passes {
            over: sum(|one| one.over),
            under: sum(|one| one.under),
        };
        ring.iter().for_each(|&one| all[one] = of_ring);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::full_turns;

    #[test]
    fn a_full_turn_links_every_two_strands_once() {
        let found = linking(&full_turns(4, 1), 4);
        for (one, row) in found.iter().enumerate() {
            for (other, &turns) in row.iter().enumerate() {
                assert_eq!(turns, i32::from(one != other));
            }
        }
    }

    #[test]
    fn strands_of_a_plait_go_round_each_other_in_both_ways_alike() {
        assert_eq!(linking(&[1, -2], 3), vec![vec![0; 3]; 3]);
        assert_eq!(linking(&[1, 1, 1, 1], 2), [[0, 2], [2, 0]]);
        assert_eq!(linking(&[1], 2), [[0, 1], [1, 0]]);
    }

    #[test]
    fn strands_of_a_plait_pass_in_front_as_often_as_behind() {
        let found = passes(&[1, -2], 4);
        assert_eq!(found[..3], [Passes { over: 2, under: 2 }; 3]);
        assert!(found[3].none());
    }

    #[test]
    fn strands_that_twist_pass_in_front_as_often_as_behind() {
        // To the last place in front, and back behind: a turn round both.
        let found = passes(&[1, 2, 2, 1], 3);
        assert_eq!(found[0], Passes { over: 2, under: 2 });
        // The first place to the last in front, again and again: a rope.
        let found = passes(&[1, 2], 3);
        assert_eq!(found, [Passes { over: 2, under: 2 }; 3]);
        let found = passes(&[1], 3);
        assert_eq!(found[0], Passes { over: 1, under: 1 });
    }
}
