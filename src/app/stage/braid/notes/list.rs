//! All notes of the cord, the last first.

use eframe::egui::{Align, Layout, Ui, WidgetInfo};

use super::super::work::Work;
use crate::app::clock;
use crate::app::fonts::{Face, Role};
use crate::app::stage::entry::Grain;
use crate::bench::{Note, Noted};
use crate::document::strand_name;

/// The list with places and times.
pub(super) fn list_ui(ui: &mut Ui, work: &Work<'_>, now: u64) {
    if work.course.notes.is_empty() {
        Role::Note.label(ui, "Nothing is noted on this cord yet.");
        return;
    }
    for noted in work.course.notes.iter().rev() {
        let (kind, words) = words(noted, work);
        let when = clock::moment(noted.at, now);
        let place = format!("after move {}, {when}", noted.done);
        let spoken = format!("{kind}: {words}; {place}");
        let row = ui.horizontal_top(|ui| {
            ui.vertical(|ui| {
                ui.set_width((ui.available_width() - 170.0).max(140.0));
                ui.spacing_mut().item_spacing.y = 1.0;
                Role::Smallest.label(ui, kind);
                let text = Role::Text.text(ui, words);
                ui.label(text.font(Face::Semibold.at(14.5)));
            });
            ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
                Role::Note.label(ui, place);
            });
        });
        let role = eframe::egui::Role::ListItem;
        let response = row
            .response
            .interact(eframe::egui::Sense::focusable_noninteractive());
        response.widget_info(|| WidgetInfo::labeled(role, true, &spoken));
        ui.add_space(6.0);
    }
}

/// What kind of note it is, and what it says.
fn words(noted: &Noted, work: &Work<'_>) -> (&'static str, String) {
    match &noted.note {
        Note::Mark(words) => ("mark", words.clone()),
        Note::Words(words) => ("words", words.clone()),
        Note::Photograph(name) => ("photograph", name.clone()),
        Note::Measured(mm) => {
            let length = Grain::Long.said(*mm, work.units);
            ("length on the disc", format!("measured {length}"))
        }
        Note::Joined(strand) => {
            let letter = strand_name(*strand);
            (
                "new strand",
                format!("a new length was joined to strand {letter}"),
            )
        }
    }
}
