//! Something tried on: one entry of the history, however much is tried after one
//! another, until it is kept.

use crate::app::command::Command;
use crate::app::desk::Desk;
use crate::document::{Design, Edit};

/// What is being tried, if anything.
#[derive(Debug, Default)]
pub struct Trying {
    now: Option<Try>,
}

#[derive(Debug)]
struct Try {
    before: Design,
    after: Design,
    label: String,
}

impl Trying {
    /// Tries a change on, in place of what is being tried; whoever tries what was there
    /// before takes the try back.
    pub fn try_on(&mut self, edit: Edit, desk: &Desk<'_>, wants: &mut Vec<Command>) {
        let is_on = self.is_on(desk.design, desk.undo);
        let last = self.now.take().filter(|_| is_on);
        let before = last.map_or_else(|| desk.design.clone(), |last| last.before);
        let after = edit.apply(&before);
        if is_on {
            wants.push(Command::Undo);
        }
        match after {
            Ok(after) if after == before => {}
            Ok(after) => {
                let label = edit.label();
                self.now = Some(Try {
                    before,
                    after,
                    label,
                });
                wants.push(Command::Edit(edit));
            }
            // Refused in words by whoever performs it.
            Err(_) => wants.push(Command::Edit(edit)),
        }
    }

    /// Whether the design is what was tried, and undo would take that back.
    pub fn is_on(&self, design: &Design, undo: Option<&str>) -> bool {
        let now = self.now.as_ref();
        now.is_some_and(|it| undo == Some(it.label.as_str()) && it.after == *design)
    }

    /// What is tried stays.
    pub fn keep(&mut self) {
        self.now = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::fresh;
    use crate::document::History;

    #[test]
    fn a_try_is_on_until_it_is_kept_taken_back_or_worked_on() {
        let edit = Edit::Counterweight(123.0);
        let before = fresh::plain();
        let mut history = History::of_saved(before.clone());
        let tried = || Trying {
            now: Some(Try {
                before: before.clone(),
                after: edit.apply(&before).expect("it can be made"),
                label: edit.label(),
            }),
        };
        let is_on = |it: &Trying, history: &History| it.is_on(history.now(), history.undo_label());
        assert!(!is_on(&tried(), &history), "nothing was done yet");
        history.apply(edit.clone(), 0.0).expect("it can be made");
        assert!(is_on(&tried(), &history));
        let mut kept = tried();
        kept.keep();
        assert!(!is_on(&kept, &history));
        history
            .apply(Edit::Note("mine".to_owned()), 1.0)
            .expect("it can be made");
        assert!(!is_on(&tried(), &history), "something came after it");
        history.undo();
        assert!(is_on(&tried(), &history));
        history.undo();
        assert!(!is_on(&tried(), &history), "taken back");
    }
}
