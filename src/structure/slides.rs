//! From the places of one list to those of another by slides alone.
//!
//! Only the order round the rim counts between two parts of a cord: a strand
//! slid along the rim past no other crosses nothing.

use super::{MoveList, Place};

/// Strands to be slid so that what lies on the start places of `first` lies on
/// those of `second`, with the strand of rank `place` on the first of them. The
/// second list may be worked from any slot, so the turn that spares most is taken.
///
/// `None` if they have not the same strands and slots, or one is in the hand.
pub fn slides(first: &MoveList, second: &MoveList, place: usize) -> Option<usize> {
    let (from, to) = (ranked(first)?, ranked(second)?);
    if from.len() != to.len() || first.slots != second.slots || from.is_empty() {
        return None;
    }
    let round = 2 * i32::from(first.slots);
    // How far each strand lies beyond its goal.
    let beyond: Vec<i32> = (0..to.len())
        .map(|rank| (from[(rank + place) % from.len()] - to[rank]).rem_euclid(round))
        .collect();
    let alike = |turn: &i32| beyond.iter().filter(|&far| far == turn).count();
    // Lists are worked from whole slots.
    let turns = (0..round).step_by(2);
    turns.map(|turn| from.len() - alike(&turn)).min()
}

/// Half slots of the start places, clockwise from the mark.
fn ranked(list: &MoveList) -> Option<Vec<i32>> {
    let half = |place: &Place| match place {
        Place::Rim(half) => Some(i32::from(*half)),
        Place::Hand => None,
    };
    let mut places: Vec<i32> = list.start.iter().map(half).collect::<Option<_>>()?;
    places.sort_unstable();
    Some(places)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(start: &str) -> MoveList {
        format!("slots 16\nstart {start}").parse().expect("a list")
    }

    #[test]
    fn places_that_lie_alike_need_no_slide_wherever_they_are() {
        let (one, other) = (list("1 2 9 10"), list("5 6 13 14"));
        assert_eq!(slides(&one, &other, 0), Some(0));
        assert_eq!(slides(&one, &other, 2), Some(0));
        assert_eq!(slides(&one, &other, 1), Some(2), "pairs are parted");
    }

    #[test]
    fn one_strand_elsewhere_is_one_slide() {
        assert_eq!(slides(&list("1 5 9 13"), &list("1 5 10 13"), 0), Some(1));
    }

    #[test]
    fn other_strands_discs_and_hands_have_none() {
        assert_eq!(slides(&list("1 5"), &list("1 5 9"), 0), None);
        assert_eq!(slides(&list("1 hand"), &list("1 5"), 0), None);
        let wide: MoveList = "slots 32\nstart 1 5".parse().expect("a list");
        assert_eq!(slides(&list("1 5"), &wide, 0), None);
    }
}
