//! The question: what is wished for, how much of it, and what may change for it.

use eframe::egui::{Align, Layout, Ui, vec2};

use super::OtherWay;
use crate::app::command::Command;
use crate::app::controls::{chip, link, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::stage::entry::{Grain, LengthEntry};
use crate::document::Edit;
use crate::plan::wish::{Freedom, Wanted};
use crate::quantity::UnitSystem;

/// Smallest and largest thickness or cap there can be, mm. Our guess, wide.
const RANGE: (f64, f64) = (0.1, 100.0);

/// What is wished for, and how much of it.
pub(super) fn question_ui(ui: &mut Ui, desk: &Desk<'_>, other: &mut OtherWay) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 10.0;
        let words = [(Wanted::Thickness, "thickness"), (Wanted::BoundEnd, "cap")];
        segments(ui, "wished for", &mut other.wanted, &words);
        let units = desk.units();
        match other.wanted {
            Wanted::Thickness => {
                let now = desk.known().figures().map(|it| it.thickness_rested.value);
                length_ui(ui, "wanted thickness", &mut other.thickness, now, units);
            }
            Wanted::BoundEnd => {
                let cap = desk.design.piece.cap;
                length_ui(ui, "inside of the wanted cap", &mut other.cap, cap, units);
            }
        }
        if other.wish(&desk.design.piece).is_some() {
            let beside = vec2(ui.available_width(), 34.0);
            ui.allocate_ui_with_layout(beside, Layout::left_to_right(Align::Center), |ui| {
                Role::Note.label(ui, "with these colours");
            });
        }
    });
}

/// A field for a length that need not be there; `now` is where its steps begin.
fn length_ui(ui: &mut Ui, name: &str, mm: &mut Option<f64>, now: Option<f64>, units: UnitSystem) {
    // As fine as it is shown.
    let now = now.map(|now| (now * 10.0).round() / 10.0);
    let entry = LengthEntry {
        name,
        grain: Grain::Cord,
        mm: mm.or(now).unwrap_or(RANGE.0),
        range: RANGE,
        units,
        width: 96.0,
    };
    let hint = now.map_or_else(String::new, |now| Grain::Cord.bare(now, units));
    if let Some(entered) = entry.show_open(ui, mm.is_some(), &hint) {
        *mm = entered;
    }
}

/// What may change: each is a word that is on or off.
pub(super) fn free_ui(ui: &mut Ui, other: &mut OtherWay) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        Role::Note.label(ui, "may change");
        for freedom in Freedom::ALL {
            let is_free = other.free.contains(&freedom);
            if !chip(ui, freedom.words(), is_free).clicked() {
                continue;
            }
            if is_free {
                other.free.remove(&freedom);
            } else {
                other.free.insert(freedom);
            }
        }
    });
}

/// All strands one size of their fibres thicker or thinner, at a click.
pub(super) fn sizes_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let now = desk.design.makings();
    let ways = [(true, "one size thicker"), (false, "one size thinner")];
    let ways = ways.map(|(thicker, words)| (now.next_size(thicker), words));
    if ways.iter().all(|(makings, _)| makings.is_none()) {
        return;
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        Role::Note.label(ui, "or at once");
        for (makings, words) in ways {
            if let Some(makings) = makings
                && link(ui, words).clicked()
            {
                wants.push(Command::Edit(Edit::makings(desk.design, &makings)));
            }
        }
    });
}
