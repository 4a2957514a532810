//! How often two strands go round each other.

use super::permutation::{places, repeat};

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
}
