//! Strands that lie on others from one side all along.
//!
//! Looked at from the side, strand over strand makes a graph. Where some strands
//! are nowhere passed in front by the rest, they lie on the rest as a layer, and
//! can be taken off.

use super::curves::Places;
use super::permutation::{places, repeat};
use super::word::seen_from;

/// Places whose strands lie wholly in front of all others, seen from some place
/// of the rim; the fewest there are, seen from the first such place.
pub(super) fn in_front(word: &[i32], strands: usize) -> Option<Places> {
    (0..strands).find_map(|cut| {
        let front = fewest_in_front(&seen_from(word, strands, cut), strands)?;
        let before = |place: usize| (place + strands - cut) % strands;
        let members = (0..strands).filter(|place| front & 1 << place != 0);
        Some(members.fold(0, |set, place| set | 1 << before(place)))
    })
}

/// The same seen from the cut of the word.
fn fewest_in_front(word: &[i32], strands: usize) -> Option<Places> {
    let ahead = ahead(word, strands);
    let fewest = ahead.iter().min_by_key(|set| set.count_ones())?;
    let is_part = (fewest.count_ones() as usize) < strands;
    is_part.then_some(*fewest)
}

/// For each strand itself and all that pass in front of it in any round, or in
/// front of one that does, and so on.
fn ahead(word: &[i32], strands: usize) -> Vec<Places> {
    let mut ahead = passed_in_front(word, strands);
    for place in 0..strands {
        ahead[place] |= 1 << place;
    }
    for by in 0..strands {
        let through = ahead[by];
        for set in &mut ahead {
            if *set & 1 << by != 0 {
                *set |= through;
            }
        }
    }
    ahead
}

/// For each strand those that pass in front of it in any round.
fn passed_in_front(word: &[i32], strands: usize) -> Vec<Places> {
    let becomes = places(word, strands);
    let mut here: Vec<usize> = (0..strands).collect();
    let mut front = vec![0; strands];
    for letter in word {
        let place = letter.unsigned_abs() as usize;
        let (left, right) = (here[place - 1], here[place]);
        let (mut over, mut under) = if *letter > 0 {
            (left, right)
        } else {
            (right, left)
        };
        for _ in 0..repeat(&becomes) {
            front[under] |= 1 << over;
            (over, under) = (becomes[over], becomes[under]);
        }
        here.swap(place - 1, place);
    }
    front
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plait_worked_in_front_of_a_plait_is_seen_from_every_cut() {
        // Places 0, 2, 4 in front; each of them steps over the ones behind.
        let front_step = [1, 2, -1];
        let word = [&front_step[..], &[-4, -3, 4]].concat();
        let found = in_front(&word, 5);
        assert!(found.is_some(), "{found:?}");
    }

    #[test]
    fn a_plait_has_no_layers() {
        assert_eq!(in_front(&[1, -2], 3), None);
        assert_eq!(in_front(&[1, 3, -2], 4), None);
    }

    #[test]
    fn a_strand_that_crosses_nothing_lies_in_front() {
        assert_eq!(in_front(&[1, -2], 4), Some(0b1000));
    }
}
