//! How the length changes, in figures and in words.

use eframe::egui::{Align, Layout, Ui};

use super::FitView;
use crate::app::controls::{hairline, head};
use crate::app::fonts::{Face, Role};
use crate::app::marks::standing_ui;
use crate::app::theme::Theme;
use crate::cord::Figures;
use crate::quantity::{Estimate, UnitSystem};

/// The three changes of length, and what they come to.
pub(super) fn length_ui(ui: &mut Ui, view: &FitView<'_>) {
    head(ui, "How its length changes", |ui| {
        Role::Note.label(ui, view.age())
    });
    let Some(figures) = view.figures else {
        Role::Text.label(ui, "The changes come with the cord.");
        return;
    };
    change(ui, "off the weight, rested a day", figures.off_weight);
    change(ui, "then worked supple and worn", figures.worked);
    hairline(ui);
    change(ui, "both together", figures.lengthening);
    let theme = Theme::of(ui);
    let words = eframe::egui::RichText::new(sentence(figures, view.units))
        .font(Face::Medium.at(14.0))
        .color(theme.ink);
    ui.label(words);
    standing_ui(ui, figures.standing, &guess(figures));
}

fn change(ui: &mut Ui, words: &str, percent: Estimate) {
    let shown = percent.change();
    ui.horizontal(|ui| {
        Role::Text.label(ui, words);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            // Not the face of figures: its minus is as wide as a dash.
            let value = Role::Value.text(ui, shown.figure);
            ui.label(value.font(Face::Semibold.at(15.0)));
            if !shown.spread.is_empty() {
                Role::Note.label(ui, shown.spread);
            }
        });
    });
}

/// What a metre, or a yard, braided on the disc is when it is worn.
fn sentence(figures: &Figures, units: UnitSystem) -> String {
    let left = 1.0 + figures.lengthening.value / 100.0;
    match units {
        UnitSystem::Millimetres => {
            format!("A metre on the disc is {:.1} cm when worn.", 100.0 * left)
        }
        UnitSystem::Inches => {
            format!("A yard on the disc is {:.1} in when worn.", 36.0 * left)
        }
    }
}

/// The first thing that is no more than guessed; the mark says that it is.
fn guess(figures: &Figures) -> String {
    let first = figures.guesses.first().map_or("", String::as_str);
    first.trim_end_matches(": our guess").to_owned()
}
