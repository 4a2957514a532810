//! What a round asks of the hands, picture by picture.
//!
//! Steps that are others turned round the disc are told by the pictures of those and
//! their numbers, so that a long list stays short. Exact: only whole numbers.

use crate::structure::{Move, MoveList, Place, Step};

/// A step of a round as it is pictured.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Frame {
    /// Counted from 1.
    pub(crate) number: usize,
    pub(crate) step: Step,
    /// Where every strand is before it.
    pub(crate) places: Vec<Place>,
}

/// The steps of a round: those that are pictured, and how the others follow.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Round {
    pub(crate) frames: Vec<Frame>,
    /// All steps after the pictured ones; none unless each is a pictured one turned.
    pub(crate) others: Vec<Frame>,
    /// How many slots clockwise each further group is worked from where the pictured one
    /// is, at most half round.
    pub(crate) turns: Vec<i32>,
}

/// The steps of a list, all pictured where they are no more than `most`.
pub(crate) fn round(list: &MoveList, most: usize) -> Round {
    let frames = frames(list);
    let steps: Vec<&Step> = frames.iter().map(|frame| &frame.step).collect();
    let count = steps.len();
    // Two hands take turns: one step alone is no group.
    let least = if count > most { 2 } else { count };
    let groups = (least..count).filter(|group| count.is_multiple_of(*group));
    let mut turned = groups.filter_map(|group| Some((group, turns(list, &steps, group)?)));
    let (group, turns) = turned.next().unwrap_or((count, Vec::new()));
    let mut frames = frames;
    let others = frames.split_off(group.min(count));
    Round {
        frames,
        others,
        turns,
    }
}

impl Round {
    /// The turn from group to group, where all go on by as much.
    pub(crate) fn even_turn(&self) -> Option<i32> {
        let first = *self.turns.first()?;
        let one_by_one = self.turns.windows(2).map(|pair| pair[1] - pair[0]);
        one_by_one
            .into_iter()
            .all(|by| by == first)
            .then_some(first)
    }
}

fn frames(list: &MoveList) -> Vec<Frame> {
    let mut places = list.start.clone();
    let steps = list.steps.iter().enumerate();
    steps
        .map(|(index, step)| {
            let frame = Frame {
                number: index + 1,
                step: step.clone(),
                places: places.clone(),
            };
            for one in &step.moves {
                carry(&mut places, *one);
            }
            frame
        })
        .collect()
}

fn carry(places: &mut [Place], one: Move) {
    if let Some(place) = places.iter_mut().find(|place| **place == one.from) {
        *place = one.to;
    }
}

/// How far each group of so many steps is the first one turned; none where one is not.
fn turns(list: &MoveList, steps: &[&Step], group: usize) -> Option<Vec<i32>> {
    let (first, others) = steps.split_at(group);
    let groups = others.chunks(group);
    groups
        .map(|other| turn_between(list, first, other))
        .collect()
}

fn turn_between(list: &MoveList, first: &[&Step], other: &[&Step]) -> Option<i32> {
    let from = |steps: &[&Step]| match steps.first()?.moves.first()?.from {
        Place::Rim(half) => Some(i32::from(half)),
        Place::Hand => None,
    };
    let around = i32::from(list.slots);
    let half = (from(other)? - from(first)?).rem_euclid(2 * around);
    let mut pairs = first.iter().zip(other);
    let all = pairs.all(|(one, other)| turned(one, half, list.slots) == other.moves);
    let turn = half / 2;
    (all && half % 2 == 0 && turn != 0).then_some(match 2 * turn > around {
        true => turn - around,
        false => turn,
    })
}

fn turned(step: &Step, half_slots: i32, slots: u16) -> Vec<Move> {
    let turned = |one: &Move| Move {
        from: one.from.turned(half_slots, slots),
        to: one.to.turned(half_slots, slots),
    };
    step.moves.iter().map(turned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    fn list(text: &str) -> MoveList {
        text.parse().expect("a list")
    }

    #[test]
    fn a_pair_that_comes_again_a_quarter_on_is_pictured_once() {
        let list = list("slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\n25 > 7\n9 > 23");
        let round = round(&list, 2);
        assert_eq!((round.frames.len(), round.others.len()), (2, 2));
        assert_eq!(
            (round.turns.as_slice(), round.even_turn()),
            (&[8][..], Some(8))
        );
        assert_eq!(round.others[0].step, list.steps[2]);
        let all = super::round(&list, 4);
        assert_eq!((all.frames.len(), all.others.len()), (4, 0));
    }

    #[test]
    fn groups_may_lie_unevenly_round_the_disc() {
        let list =
            list("slots 32\nstart 1 4 9 12 19 22\n1 > 2\n4 > 5\n9 > 10\n12 > 13\n19 > 20\n22 > 23");
        let round = round(&list, 2);
        assert_eq!((round.frames.len(), round.others.len()), (2, 4));
        assert_eq!(
            (round.turns.as_slice(), round.even_turn()),
            (&[8, -14][..], None)
        );
    }

    #[test]
    fn steps_that_are_no_others_turned_are_all_pictured() {
        let list = list("slots 8\nstart 1 3 5\n1 > 2\n3 > 4\n5 > 7\n4 > 5\n7 > 8");
        let round = round(&list, 2);
        assert_eq!((round.frames.len(), round.others.len()), (5, 0));
        let before: Vec<Place> = [2, 4, 5].map(Place::slot).into();
        assert_eq!(round.frames[2].places, before);
    }

    #[test]
    fn every_round_of_the_shelf_is_told_whole() {
        for structure in shelf() {
            let round = round(&structure.moves, 8);
            let told = round.frames.iter().chain(&round.others);
            let steps: Vec<&Step> = told.map(|frame| &frame.step).collect();
            let all: Vec<&Step> = structure.moves.steps.iter().collect();
            assert_eq!(steps, all, "{}", structure.name);
        }
    }
}
