//! The one look at the disc that tells the most, with its answers as buttons.

use eframe::egui::{Ui, vec2};

use super::super::work::Work;
use super::asking::Asking;
use crate::app::act::sentence as capital;
use crate::app::controls::{Button, link};
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;

/// Shows the question, if one is worth asking, and takes its answer in; whether there was
/// one.
pub(super) fn question_ui(ui: &mut Ui, work: &Work<'_>, asking: &mut Asking) -> bool {
    let (names, list) = (&work.looks.names, work.braid.moves());
    let question = asking.diagnosis().and_then(|it| it.question.clone());
    let was_answered = asking.was_answered();
    if question.is_none() && !was_answered {
        return false;
    }
    let mut answered = None;
    let mut takes_back = false;
    well(ui, |ui| {
        if let Some(question) = &question {
            Role::Note.label(ui, "To be surer, look once:");
            let words = Role::Text.text(ui, question.words(list, work.numbering));
            ui.label(words.font(Face::Semibold.at(15.0)));
            ui.add_space(2.0);
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing = vec2(8.0, 6.0);
                for (place, answer) in question.answers.iter().enumerate() {
                    if ui
                        .add(Button::plain(&capital(&answer.words(
                            list,
                            work.numbering,
                            names,
                        ))))
                        .clicked()
                    {
                        answered = Some(place);
                    }
                }
            });
        } else {
            Role::Note.label(ui, "Your answer is taken in.");
        }
        takes_back = was_answered && link(ui, "take my answer back").clicked();
    });
    ui.add_space(8.0);
    if let Some(place) = answered {
        asking.answer(place);
    }
    if takes_back {
        asking.unanswer();
    }
    takes_back || answered.is_some()
}

fn well(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    let theme = Theme::of(ui);
    eframe::egui::Frame::new()
        .fill(theme.well)
        .corner_radius(8.0)
        .inner_margin(12.0)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            content(ui);
        });
}
