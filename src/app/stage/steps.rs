//! A sum written out: one line a step, with its reason, and what it comes to.

use eframe::egui::{Align, Layout, Ui};

use crate::app::controls::hairline;
use crate::app::fonts::{Face, Role};
use crate::plan::Chain;
use crate::quantity::{Estimate, UnitSystem};

use super::entry::Grain;

/// The steps of a chain, one under the other, and the total called `total`.
pub(in crate::app) fn steps_ui(ui: &mut Ui, chain: &Chain, total: &str, units: UnitSystem) {
    for (place, link) in chain.links.iter().enumerate() {
        let shown = signed(link.adds, place == 0, units);
        step_ui(ui, &link.name, &link.reason, &shown, Face::Medium);
    }
    hairline(ui);
    let shown = with_spread(chain.total, units);
    step_ui(ui, total, "", &shown, Face::Bold);
}

/// One line: what, why, how much.
pub(in crate::app) fn step_ui(ui: &mut Ui, name: &str, reason: &str, amount: &str, face: Face) {
    ui.horizontal_top(|ui| {
        let room = ui.available_width();
        ui.allocate_ui_with_layout(
            eframe::egui::vec2(0.62 * room, 0.0),
            Layout::top_down(Align::Min),
            |ui| {
                ui.spacing_mut().item_spacing.y = 0.0;
                ui.set_width(0.62 * room);
                let text = Role::Text.text(ui, name).font(face.at(14.0));
                ui.label(text);
                if !reason.is_empty() {
                    Role::Smallest.label(ui, reason);
                }
            },
        );
        ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
            let text = Role::Text.text(ui, amount).font(face.at(14.0));
            ui.label(text);
        });
    });
}

/// A length with its spread in the unit one says long lengths in.
pub(in crate::app) fn with_spread(length: Estimate, units: UnitSystem) -> String {
    let shown = long(length, units);
    match shown.1.as_str() {
        "" => shown.0,
        spread => format!("{} ({spread})", shown.0),
    }
}

/// A long length and its spread apart: `44.4 cm`, `44.3 to 44.5`.
pub(in crate::app) fn long(length: Estimate, units: UnitSystem) -> (String, String) {
    if units == UnitSystem::Inches {
        let shown = length.length(units);
        return (shown.figure, shown.spread);
    }
    let cm = |mm: f64| Grain::Long.bare((mm * 1.0).round(), units);
    let [value, low, high] = [length.value, length.low, length.high].map(cm);
    let spread = if low == high {
        String::new()
    } else {
        format!("{low} to {high}")
    };
    (format!("{value} cm"), spread)
}

/// What a step adds, with its sign unless it is the first.
fn signed(adds: Estimate, is_first: bool, units: UnitSystem) -> String {
    let shown = with_spread(adds, units);
    if is_first || adds.value < 0.0 {
        return shown;
    }
    format!("+{shown}")
}
