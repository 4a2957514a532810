//! Some steps of a list taken together: dropped, or moved up and down.
//!
//! Steps are counted from 0. Nothing is asked about the list that comes of it.

use std::collections::BTreeSet;
use std::ops::Range;

use super::{MoveList, Step};

impl MoveList {
    /// The strand that each move of some steps lifts when the list is worked from
    /// its start; none where no strand lies. A move that lifts nothing is left out.
    pub fn lifted(&self, steps: &Range<usize>) -> Vec<Option<usize>> {
        let mut places = self.start.clone();
        let mut lifted = Vec::new();
        for (step, one) in self.moves() {
            let strand = places.iter().position(|&place| place == one.from);
            if let Some(strand) = strand {
                places[strand] = one.to;
            }
            if steps.contains(&(step - 1)) {
                lifted.push(strand);
            }
        }
        lifted
    }

    /// The steps without some of them.
    pub fn steps_without(&self, dropped: &BTreeSet<usize>) -> Vec<Step> {
        let steps = self.steps.iter().enumerate();
        let kept = steps.filter(|(index, _)| !dropped.contains(index));
        kept.map(|(_, step)| step.clone()).collect()
    }

    /// The steps with some of them one place nearer the beginning, and the places
    /// these have then. Those at the beginning already stay.
    pub fn steps_earlier(&self, chosen: &BTreeSet<usize>) -> (Vec<Step>, BTreeSet<usize>) {
        let mut steps = self.steps.clone();
        let mut places = BTreeSet::new();
        for &index in chosen.iter().filter(|&&index| index < self.steps.len()) {
            match index.checked_sub(1) {
                Some(before) if !places.contains(&before) => {
                    steps.swap(before, index);
                    places.insert(before);
                }
                _ => {
                    places.insert(index);
                }
            }
        }
        (steps, places)
    }

    /// The steps with some of them one place nearer the end, as
    /// [`Self::steps_earlier`].
    pub fn steps_later(&self, chosen: &BTreeSet<usize>) -> (Vec<Step>, BTreeSet<usize>) {
        let mut steps = self.steps.clone();
        let mut places = BTreeSet::new();
        let there = chosen.iter().filter(|&&index| index < self.steps.len());
        for &index in there.rev() {
            let after = index + 1;
            if after < steps.len() && !places.contains(&after) {
                steps.swap(index, after);
                places.insert(after);
            } else {
                places.insert(index);
            }
        }
        (steps, places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list() -> MoveList {
        "slots 8\nstart 1 3 5\n1 > 2\n3 > 4\n5 > 6\n2 > 1"
            .parse()
            .expect("a list")
    }

    /// The first slots of the steps.
    fn from(steps: &[Step]) -> Vec<String> {
        let list = list();
        let label = |step: &Step| list.label(step.moves[0].from, Default::default());
        steps.iter().map(label).collect()
    }

    #[test]
    fn the_strands_that_steps_lift_are_told_where_there_are_any() {
        assert_eq!(list().lifted(&(0..4)), [Some(0), Some(1), Some(2), Some(0)]);
        let again = MoveList {
            steps: list().steps.into_iter().rev().collect(),
            ..list()
        };
        assert_eq!(again.lifted(&(0..2)), [None, Some(2)], "slot 2 is empty");
    }

    #[test]
    fn steps_are_dropped_together() {
        assert_eq!(from(&list().steps_without(&[1, 3].into())), ["1", "5"]);
    }

    #[test]
    fn steps_move_together_and_stop_at_the_ends() {
        let (steps, places) = list().steps_earlier(&[1, 2].into());
        assert_eq!(from(&steps), ["3", "5", "1", "2"]);
        assert_eq!(places, [0, 1].into());
        let (steps, places) = list().steps_earlier(&[0, 1, 3].into());
        assert_eq!(from(&steps), ["1", "3", "2", "5"]);
        assert_eq!(places, [0, 1, 2].into());
        let (steps, places) = list().steps_later(&[0, 3].into());
        assert_eq!(from(&steps), ["3", "1", "5", "2"]);
        assert_eq!(places, [1, 3].into());
    }

    #[test]
    fn there_and_back_is_the_list_again() {
        let (steps, places) = list().steps_later(&[0, 1].into());
        let moved = MoveList { steps, ..list() };
        assert_eq!(moved.steps_earlier(&places).0, list().steps);
    }
}
