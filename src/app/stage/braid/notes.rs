//! Notes on the way: marks, words, what was measured, photographs, a new strand joined in.
//! Each has the place and the time at which it was made.

mod joining;
mod list;
mod measuring;

use std::path::PathBuf;

use eframe::egui::{Key, TextEdit, Ui, WidgetInfo};

use super::work::{Ask, Work};
use crate::app::ask::typed_path;
use crate::app::controls::{Button, hairline, segments};
use crate::app::fonts::Role;
use crate::bench::{Entry, Note};
use joining::Joining;

/// Longest words of a note. Our choice: what fits three lines.
const MOST_LETTERS: usize = 240;

/// What kind of note is being made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Kind {
    /// A mark to come back to.
    #[default]
    Mark,
    /// Words.
    Words,
    /// A length.
    Measured,
    /// A photograph.
    Photograph,
    /// A new strand.
    Joining,
}

/// Notes that are being made.
#[derive(Debug, Default)]
pub(super) struct Notes {
    kind: Kind,
    mark: String,
    words: String,
    path: String,
    joining: Joining,
}

/// The panel.
pub(super) fn notes_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    now: u64,
    notes: &mut Notes,
    asks: &mut Vec<Ask>,
) {
    Role::Text.label(ui, format!("Here, after move {}:", work.course.done));
    ui.add_space(4.0);
    kinds_ui(ui, &mut notes.kind);
    ui.add_space(8.0);
    let told = match notes.kind {
        Kind::Mark => {
            let line = Line::of("words of the mark", "before the telephone", "Set the mark");
            line.show(ui, &mut notes.mark).map(Note::Mark)
        }
        Kind::Words => {
            let line = Line::of("words to note", "pulled tighter from here", "Note it");
            line.show(ui, &mut notes.words).map(Note::Words)
        }
        Kind::Measured => measuring::measuring_ui(ui, work),
        Kind::Photograph => {
            photograph_ui(ui, &mut notes.path, asks);
            None
        }
        Kind::Joining => joining::joining_ui(ui, work, &mut notes.joining),
    };
    asks.extend(told.map(|note| Ask::Tell(Entry::Noted(note))));
    ui.add_space(8.0);
    hairline(ui);
    list::list_ui(ui, work, now);
}

fn kinds_ui(ui: &mut Ui, kind: &mut Kind) {
    let words = [
        (Kind::Mark, "mark"),
        (Kind::Words, "words"),
        (Kind::Measured, "length"),
        (Kind::Photograph, "photograph"),
        (Kind::Joining, "new strand"),
    ];
    segments(ui, "note", kind, &words);
}

/// A line to be typed, and the button beside it.
struct Line<'a> {
    name: &'a str,
    hint: &'a str,
    button: &'a str,
}

impl<'a> Line<'a> {
    fn of(name: &'a str, hint: &'a str, button: &'a str) -> Self {
        Self { name, hint, button }
    }

    /// Shows it; what was typed once it is entered or the button pressed.
    fn show(self, ui: &mut Ui, text: &mut String) -> Option<String> {
        let mut told = None;
        ui.horizontal(|ui| {
            let edit = TextEdit::singleline(text)
                .hint_text(self.hint)
                .char_limit(MOST_LETTERS)
                .desired_width((ui.available_width() - 150.0).max(120.0));
            let response = ui.add(edit);
            let role = eframe::egui::Role::TextInput;
            response.widget_info(|| WidgetInfo::labeled(role, true, self.name));
            let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            let typed = text.trim();
            let missing = typed.is_empty().then_some("type something first");
            let button = Button::plain(self.button).off_because(missing);
            if (ui.add(button).clicked() || entered) && !typed.is_empty() {
                told = Some(typed.to_owned());
            }
        });
        if told.is_some() {
            text.clear();
        }
        told
    }
}

/// A photograph by its path or by the system's dialog; it is copied beside the place.
fn photograph_ui(ui: &mut Ui, path: &mut String, asks: &mut Vec<Ask>) {
    let line = Line::of("path of a photograph", "/home/me/cord.jpg", "Keep it");
    if let Some(typed) = line.show(ui, path) {
        asks.push(Ask::Photograph(as_path(&typed)));
    }
    if ui
        .add(Button::plain("Choose a photograph\u{2026}"))
        .clicked()
    {
        asks.push(Ask::Choose);
    }
    Role::Note.label(ui, "It is copied and kept with the place.");
}

fn as_path(typed: &str) -> PathBuf {
    typed_path(typed).unwrap_or_else(|| PathBuf::from(typed))
}
