//! Undo and redo: whole designs, one for every entry.
//!
//! A design is a few thousand bytes, so keeping whole ones is cheaper than
//! being clever. The clock is handed in.

use super::design::Design;
use super::edit::{Edit, EditError};

/// Most entries that can be undone; the oldest go first.
const MOST_ENTRIES: usize = 1000;
/// Edits of one kind within this many seconds are one entry. Tried on a
/// slider moved with the arrow keys.
const PAUSE: f64 = 0.5;

/// A design as it was, and what was done to it then.
#[derive(Debug, Clone)]
struct Entry {
    design: Design,
    label: String,
}

/// A design with all that was done to it.
#[derive(Debug, Clone)]
pub struct History {
    now: Design,
    past: Vec<Entry>,
    future: Vec<Entry>,
    saved: Option<Design>,
    last: Option<(Edit, f64)>,
    held: bool,
}

impl History {
    /// A design that is on disk as it is.
    pub fn of_saved(design: Design) -> Self {
        Self {
            saved: Some(design.clone()),
            ..Self::of_unsaved(design)
        }
    }

    /// A design that is nowhere on disk.
    pub fn of_unsaved(design: Design) -> Self {
        Self {
            now: design,
            past: Vec::new(),
            future: Vec::new(),
            saved: None,
            last: None,
            held: false,
        }
    }

    /// The design as it is.
    pub fn now(&self) -> &Design {
        &self.now
    }

    /// Makes a change at the time `now_s`, seconds of any clock.
    ///
    /// One that goes on with the last one joins its entry when it comes within
    /// half a second or while the pointer is held. One that changes nothing
    /// leaves no entry.
    ///
    /// # Errors
    ///
    /// The design's refusal; nothing is changed then.
    pub fn apply(&mut self, edit: Edit, now_s: f64) -> Result<(), EditError> {
        let next = edit.apply(&self.now)?;
        let joins = self.joins(&edit, now_s);
        let changes = next != self.now;
        let before = std::mem::replace(&mut self.now, next);
        if changes && !joins {
            let label = edit.label();
            self.remember(Entry {
                design: before,
                label,
            });
        }
        if joins {
            self.forget_idle_entry();
        }
        if changes || joins {
            self.last = Some((edit, now_s));
        }
        Ok(())
    }

    fn joins(&self, edit: &Edit, now_s: f64) -> bool {
        let near = |at: f64| self.held || (0.0..=PAUSE).contains(&(now_s - at));
        let last = self.last.as_ref();
        last.is_some_and(|(last, at)| near(*at) && edit.joins(last))
    }

    fn remember(&mut self, entry: Entry) {
        self.future.clear();
        self.past.push(entry);
        if self.past.len() > MOST_ENTRIES {
            self.past.remove(0);
        }
    }

    /// A drag that came back to where it began leaves no entry.
    fn forget_idle_entry(&mut self) {
        if self
            .past
            .last()
            .is_some_and(|entry| entry.design == self.now)
        {
            self.past.pop();
            self.last = None;
        }
    }

    /// The pointer is pressed: what joins is one entry until it is let go.
    pub fn hold(&mut self) {
        self.held = true;
        self.last = None;
    }

    /// The pointer is let go.
    pub fn release(&mut self) {
        self.held = false;
        self.last = None;
    }

    /// What undo would take back.
    pub fn undo_label(&self) -> Option<&str> {
        self.past.last().map(|entry| entry.label.as_str())
    }

    /// What redo would do again.
    pub fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|entry| entry.label.as_str())
    }

    /// Takes back the last entry; false when there is none.
    pub fn undo(&mut self) -> bool {
        Self::step(
            &mut self.now,
            &mut self.past,
            &mut self.future,
            &mut self.last,
        )
    }

    /// Does again what was taken back last; false when there is nothing.
    pub fn redo(&mut self) -> bool {
        Self::step(
            &mut self.now,
            &mut self.future,
            &mut self.past,
            &mut self.last,
        )
    }

    fn step(
        now: &mut Design,
        from: &mut Vec<Entry>,
        to: &mut Vec<Entry>,
        last: &mut Option<(Edit, f64)>,
    ) -> bool {
        let Some(Entry { design, label }) = from.pop() else {
            return false;
        };
        let design = std::mem::replace(now, design);
        to.push(Entry { design, label });
        *last = None;
        true
    }

    /// The design as it is now was written to disk.
    pub fn mark_saved(&mut self) {
        self.saved = Some(self.now.clone());
        self.last = None;
    }

    /// Whether the disk holds the design as it is now, by whatever way it
    /// came to be so.
    pub fn is_saved(&self) -> bool {
        self.saved.as_ref() == Some(&self.now)
    }
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;

    use super::*;
    use crate::document::{any_design, any_edit, sample_design};

    fn weight(grams: f64) -> Edit {
        Edit::Counterweight(grams)
    }

    fn grams(history: &History) -> f64 {
        history.now().braiding.counterweight
    }

    /// A saved design under 100 g.
    fn fresh() -> History {
        let mut design = sample_design();
        design.braiding.counterweight = 100.0;
        History::of_saved(design)
    }

    #[test]
    fn undo_and_redo_walk_over_the_same_designs() {
        let mut history = fresh();
        for (i, g) in [120.0, 140.0, 160.0].into_iter().enumerate() {
            history.apply(weight(g), 10.0 * i as f64).unwrap();
        }
        assert!(history.undo() && history.undo());
        assert_eq!(grams(&history), 120.0);
        assert_eq!(history.redo_label(), Some("counterweight"));
        assert!(history.redo());
        assert_eq!(grams(&history), 140.0);
        history.apply(Edit::Mirror, 50.0).unwrap();
        assert!(!history.redo(), "a new edit ends the redoing");
        assert_eq!(history.undo_label(), Some("mirror"));
    }

    #[test]
    fn a_drag_is_one_entry_and_a_pause_ends_it() {
        let mut history = fresh();
        for i in 0..30 {
            history
                .apply(weight(100.0 + f64::from(i)), 0.1 * f64::from(i))
                .unwrap();
        }
        history.apply(weight(500.0), 9.0).unwrap();
        assert!(history.undo());
        assert_eq!(grams(&history), 129.0);
        assert!(history.undo());
        assert_eq!(grams(&history), 100.0);
        assert!(!history.undo());
    }

    #[test]
    fn a_held_pointer_joins_over_any_pause_and_the_next_drag_is_another() {
        let mut history = fresh();
        history.hold();
        history.apply(weight(110.0), 0.0).unwrap();
        history.apply(weight(120.0), 60.0).unwrap();
        history.release();
        history.hold();
        history.apply(weight(130.0), 60.1).unwrap();
        history.release();
        assert!(history.undo());
        assert_eq!(grams(&history), 120.0);
        assert!(history.undo());
        assert_eq!(grams(&history), 100.0);
    }

    #[test]
    fn a_drag_back_to_where_it_began_leaves_nothing_to_undo() {
        let mut history = fresh();
        history.apply(weight(110.0), 0.0).unwrap();
        history.apply(weight(100.0), 0.2).unwrap();
        assert_eq!(history.undo_label(), None);
        assert!(history.is_saved());
    }

    #[test]
    fn the_saved_mark_follows_the_design_and_not_the_entries() {
        let mut history = fresh();
        assert!(history.is_saved());
        history.apply(weight(110.0), 0.0).unwrap();
        assert!(!history.is_saved());
        history.mark_saved();
        history.apply(weight(120.0), 5.0).unwrap();
        history.undo();
        assert!(history.is_saved());
        history.undo();
        assert!(!history.is_saved());
        assert!(!History::of_unsaved(sample_design()).is_saved());
    }

    #[test]
    fn a_refused_edit_leaves_design_and_entries_alone() {
        let mut history = fresh();
        history.apply(weight(110.0), 0.0).unwrap();
        let error = history.apply(weight(-1.0), 9.0);
        assert!(error.is_err());
        assert_eq!(grams(&history), 110.0);
        assert!(history.undo());
        assert!(!history.undo());
    }

    #[test]
    fn the_oldest_entries_go_first() {
        let mut history = fresh();
        for i in 0..1100 {
            let grams = 200.0 + f64::from(i);
            history.apply(weight(grams), f64::from(i)).unwrap();
        }
        let mut undone = 0;
        while history.undo() {
            undone += 1;
        }
        assert_eq!(undone, 1000);
        assert_eq!(grams(&history), 299.0);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn everything_can_be_undone_and_done_again(
            design in any_design(),
            edits in vec((any_edit(), 0.0..1.0), 1..40),
        ) {
            let mut history = History::of_saved(design.clone());
            let mut now_s = 0.0;
            for (edit, pause) in edits {
                now_s += pause;
                let before = history.now().clone();
                if history.apply(edit, now_s).is_err() {
                    prop_assert_eq!(history.now(), &before);
                }
                prop_assert_eq!(history.now().check(), Ok(()));
            }
            let last = history.now().clone();
            while history.undo() {}
            prop_assert_eq!(history.now(), &design);
            prop_assert!(history.is_saved());
            while history.redo() {}
            prop_assert_eq!(history.now(), &last);
        }
    }
}
