//! To a mark that was set on the way.

use eframe::egui::Ui;

use super::super::work::Work;
use super::so_far_back;
use crate::app::clock;
use crate::app::controls::Pick;
use crate::app::fonts::{Face, Role};
use crate::bench::{Note, Noted};

/// The marks, the last first; the moves that are left then.
pub(super) fn marks_ui(ui: &mut Ui, work: &Work<'_>, now: u64, lands: Option<u64>) -> Option<u64> {
    let marks = work.course.notes.iter().rev();
    let marks = marks.filter_map(|noted| Some((noted, marked(noted, work.course.done)?)));
    let marks: Vec<(&Noted, &str)> = marks.collect();
    if marks.is_empty() {
        Role::Text.label(
            ui,
            "There is no mark to go back to: set one under Notes where you may want to return.",
        );
    }
    let mut chosen = None;
    for (noted, words) in marks {
        let when = clock::moment(noted.at, now);
        let far = so_far_back(work, noted.done);
        let line = format!("after move {}, {when}; {far}", noted.done);
        let name = format!("mark {words}, {line}");
        let row = Pick::row(&name, lands == Some(noted.done), 58.0);
        let response = row.show(ui, |ui| {
            let text = Role::Text.text(ui, words);
            ui.label(text.font(Face::Semibold.at(15.0)));
            Role::Note.label(ui, line.clone());
        });
        if response.clicked() {
            chosen = Some(noted.done);
        }
    }
    chosen
}

/// The words of a mark that lies before the place.
fn marked(noted: &Noted, done: u64) -> Option<&str> {
    match &noted.note {
        Note::Mark(words) if noted.done < done => Some(words),
        _ => None,
    }
}
