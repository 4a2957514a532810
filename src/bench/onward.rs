//! What one press comes to: the step on, and the step back.
//!
//! A step on lays the next strands, makes the next motion or goes along the way back; a
//! step back is its opposite. Both are entries: nothing is done until they are written.

use super::course::{Course, Entry};
use super::motion::Motions;

/// How the maker steps.
#[derive(Debug, Clone, Copy)]
pub struct Stride<'a> {
    /// The motions of the braid.
    pub motions: &'a Motions,
    /// How many strands are laid together in the set-up, in its order: two where a
    /// length is folded.
    pub laid_together: &'a [usize],
    /// Whether the motions of a pair are stepped together.
    pub pairs: bool,
}

impl Stride<'_> {
    /// Moves done after the next step from a place.
    pub fn after(&self, done: u64) -> u64 {
        let last = if self.pairs {
            self.motions.pair(done).pop()
        } else {
            None
        };
        let last = last.unwrap_or_else(|| self.motions.at(done));
        last.begins + last.moves()
    }

    /// Moves done before the last step to a place; none at the start.
    pub fn before(&self, done: u64) -> Option<u64> {
        let last = self.motions.before(done)?;
        let first = if self.pairs {
            self.motions.pair(last.begins).into_iter().next()
        } else {
            None
        };
        Some(first.map_or(last.begins, |first| first.begins))
    }

    /// Strands that lie after each part of the set-up, 0 first.
    fn laid_after(&self) -> impl Iterator<Item = usize> {
        let mut laid = 0;
        let sums = self.laid_together.iter().map(move |group| {
            laid += group;
            laid
        });
        std::iter::once(0).chain(sums)
    }
}

impl Course {
    /// The entry of a step on; none once the cord is off the disc.
    pub fn on(&self, stride: Stride<'_>) -> Option<Entry> {
        if self.finished {
            return None;
        }
        if let Some((_, made)) = &self.way {
            return Some(Entry::Along(made + 1));
        }
        if self.is_dressed() {
            return Some(Entry::Done(stride.after(self.done)));
        }
        let laid = stride.laid_after().find(|laid| *laid > self.laid);
        Some(Entry::Laid(laid.unwrap_or(self.strands())))
    }

    /// The entry of a step back; none where there is nothing to take back.
    ///
    /// From the beginning of a way back it is left: nothing of it is done yet.
    pub fn back(&self, stride: Stride<'_>) -> Option<Entry> {
        if self.finished {
            return None;
        }
        match &self.way {
            Some((_, 0)) => return Some(Entry::Done(self.done)),
            Some((_, made)) => return Some(Entry::Along(made - 1)),
            None => {}
        }
        if let Some(done) = stride.before(self.done) {
            return Some(Entry::Done(done));
        }
        let before = stride.laid_after().filter(|laid| *laid < self.laid);
        before.last().map(Entry::Laid)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Stamped, Way};
    use crate::structure::{Braid, shelf};

    fn take(course: &mut Course, entry: Option<Entry>) {
        let entry = entry.expect("a step");
        course.take(&Stamped { at: 0, entry }).unwrap();
    }

    fn on(course: &mut Course, stride: Stride<'_>) {
        let entry = course.on(stride);
        take(course, entry);
    }

    fn back(course: &mut Course, stride: Stride<'_>) {
        let entry = course.back(stride);
        take(course, entry);
    }

    #[test]
    fn every_step_on_is_taken_back_by_a_step_back() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let (motions, n) = (Motions::of(&braid), braid.strands());
            let folded = vec![2; n / 2];
            for (laid_together, pairs) in [(&vec![1; n], false), (&folded, true)] {
                let stride = Stride {
                    motions: &motions,
                    laid_together,
                    pairs,
                };
                let mut course = Course::new(n);
                let mut stood = Vec::new();
                for _ in 0..n + 2 * braid.lifts().len() {
                    stood.push((course.laid, course.done));
                    on(&mut course, stride);
                }
                assert!(course.done >= motions.moves_a_round(), "{}", structure.name);
                for (laid, done) in stood.into_iter().rev() {
                    back(&mut course, stride);
                    assert_eq!((course.laid, course.done), (laid, done));
                }
                assert_eq!(course.back(stride), None, "nothing before the first");
            }
        }
    }

    #[test]
    fn a_half_done_pair_is_finished_or_taken_back_whole_by_those_who_step_in_pairs() {
        let eight = shelf()
            .iter()
            .find(|s| s.name == "Round spiral" && s.strands() == 8);
        let braid = Braid::new(&eight.unwrap().moves).unwrap();
        let motions = Motions::of(&braid);
        let stride = Stride {
            motions: &motions,
            laid_together: &[1; 8],
            pairs: true,
        };
        assert_eq!((stride.after(4), stride.after(5)), (6, 6));
        assert_eq!((stride.before(6), stride.before(5)), (Some(4), Some(4)));
    }

    #[test]
    fn a_way_is_gone_step_by_step_and_left_at_its_beginning() {
        let braid = Braid::new(&shelf()[0].moves).unwrap();
        let (motions, n) = (Motions::of(&braid), braid.strands());
        let stride = Stride {
            motions: &motions,
            laid_together: &vec![1; n],
            pairs: false,
        };
        let mut course = Course::new(n);
        take(&mut course, Some(Entry::Done(6)));
        let way = Way::undo(&braid, &course.roles, 6, 0);
        let steps = way.steps.len();
        take(&mut course, Some(Entry::Out(way)));
        on(&mut course, stride);
        back(&mut course, stride);
        back(&mut course, stride);
        assert_eq!((course.done, course.way.is_none()), (6, true));
        let way = Way::undo(&braid, &course.roles, 6, 0);
        take(&mut course, Some(Entry::Out(way)));
        for _ in 0..steps {
            on(&mut course, stride);
        }
        assert_eq!((course.done, course.way), (0, None));
    }
}
