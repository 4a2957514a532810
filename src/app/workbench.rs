//! The maker's workshop in the window, with its own way back.
//!
//! It belongs to no design, so its changes do not stand in a design's history. Each
//! remembers the design that lay beside it: while that is on the table as it was, the
//! workshop's change is the last one and is the first to be taken back.

use crate::document::{Design, History};
use crate::plan::Workshop;

/// Most changes that can be taken back; the oldest go first.
const MOST_ENTRIES: usize = 200;
/// Changes to the same thing within this many seconds are one. As with designs.
const PAUSE: f64 = 0.5;

/// The workshop as it was, what was done to it then, and beside which design.
#[derive(Debug, Clone)]
struct Entry {
    workshop: Workshop,
    done: String,
    beside: Design,
}

/// The workshop with what was done to it.
#[derive(Debug, Clone, Default)]
pub(super) struct Workbench {
    now: Workshop,
    /// As it lies on disk.
    written: Workshop,
    past: Vec<Entry>,
    future: Vec<Entry>,
    last: Option<(String, f64)>,
}

impl Workbench {
    /// As it was read.
    pub(super) fn of(now: Workshop) -> Self {
        Self {
            written: now.clone(),
            now,
            ..Self::default()
        }
    }

    /// The workshop as it is.
    pub(super) fn now(&self) -> &Workshop {
        &self.now
    }

    /// The workshop once it is another than on disk; it counts as written then.
    pub(super) fn unwritten(&mut self) -> Option<Workshop> {
        if self.written == self.now {
            return None;
        }
        self.written.clone_from(&self.now);
        Some(self.now.clone())
    }

    /// Puts `workshop` in place of what was; `done` says in a few words what that does.
    /// Whether anything is another.
    pub(super) fn change(
        &mut self,
        workshop: Workshop,
        done: &str,
        beside: &Design,
        now_s: f64,
    ) -> bool {
        if workshop == self.now {
            return false;
        }
        let near = |at: f64| (0.0..=PAUSE).contains(&(now_s - at));
        let goes_on = self
            .last
            .as_ref()
            .is_some_and(|(last, at)| last == done && near(*at));
        let before = std::mem::replace(&mut self.now, workshop);
        if !goes_on || due(&self.past, beside).is_none() {
            self.past.push(Entry {
                workshop: before,
                done: done.to_owned(),
                beside: beside.clone(),
            });
        }
        if self.past.len() > MOST_ENTRIES {
            self.past.remove(0);
        }
        self.future.clear();
        self.last = Some((done.to_owned(), now_s));
        true
    }

    /// What Undo would take back: here, or else in the design.
    pub(super) fn undo_label<'a>(&'a self, history: &'a History) -> Option<&'a str> {
        due(&self.past, history.now()).or_else(|| history.undo_label())
    }

    /// What Redo would bring again: here, or else in the design.
    pub(super) fn redo_label<'a>(&'a self, history: &'a History) -> Option<&'a str> {
        due(&self.future, history.now()).or_else(|| history.redo_label())
    }

    /// Takes the last change back; whether there was one.
    pub(super) fn undo(&mut self, beside: &Design) -> bool {
        self.turn(beside, |bench| (&mut bench.past, &mut bench.future))
    }

    /// Brings it again; whether there was one.
    pub(super) fn redo(&mut self, beside: &Design) -> bool {
        self.turn(beside, |bench| (&mut bench.future, &mut bench.past))
    }

    fn turn(
        &mut self,
        beside: &Design,
        piles: impl Fn(&mut Self) -> (&mut Vec<Entry>, &mut Vec<Entry>),
    ) -> bool {
        let (from, _) = piles(self);
        if due(from, beside).is_none() {
            return false;
        }
        let Some(mut entry) = from.pop() else {
            return false;
        };
        std::mem::swap(&mut entry.workshop, &mut self.now);
        piles(self).1.push(entry);
        self.last = None;
        true
    }

    /// The design was changed: what was taken back here does not come again.
    pub(super) fn move_on(&mut self) {
        self.future.clear();
        self.last = None;
    }

    /// Another design is on the table: the ways back are those beside it from now on.
    pub(super) fn turn_to(&mut self) {
        self.past.clear();
        self.move_on();
    }
}

fn due<'a>(entries: &'a [Entry], beside: &Design) -> Option<&'a str> {
    let entry = entries.last().filter(|entry| entry.beside == *beside)?;
    Some(&entry.done)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::fresh;

    fn with_waste(bench: &Workbench, waste: f64) -> Workshop {
        let mut workshop = bench.now().clone();
        workshop.cutting.waste = waste;
        workshop
    }

    #[test]
    fn changes_are_taken_back_in_turn_with_those_of_the_design() {
        let (first, mut second) = (fresh::plain(), fresh::plain());
        second.name.push_str(" again");
        let mut bench = Workbench::of(Workshop::default());
        let begun = bench.now().clone();
        assert!(bench.change(with_waste(&bench, 0.1), "waste", &first, 0.0));
        assert_eq!(due(&bench.past, &second), None, "the design came after");
        assert_eq!(due(&bench.past, &first), Some("waste"));
        assert!(bench.undo(&first));
        assert_eq!(*bench.now(), begun);
        assert!(bench.redo(&first) && bench.now().cutting.waste == 0.1);
        assert!(!bench.redo(&first), "there is no more");
    }

    #[test]
    fn steps_that_go_on_are_one_change_and_nothing_is_none() {
        let design = fresh::plain();
        let mut bench = Workbench::of(Workshop::default());
        let begun = bench.now().clone();
        for step in 1..=4_u8 {
            let at = 0.2 * f64::from(step);
            let waste = 0.1 + 0.01 * f64::from(step);
            bench.change(with_waste(&bench, waste), "waste", &design, at);
        }
        assert!(!bench.change(bench.now().clone(), "waste", &design, 1.0));
        assert!(bench.undo(&design));
        assert_eq!(*bench.now(), begun);
        assert!(!bench.undo(&design));
    }
}
