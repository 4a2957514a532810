//! A sum written out: one line a step, with its reason, and what it comes to.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::app::controls::hairline;
use crate::app::fonts::{Face, Role};
use crate::plan::Chain;
use crate::quantity::{Estimate, Shown, UnitSystem};

/// The steps of a chain, one under the other, and the total called `total`.
pub(in crate::app) fn steps_ui(ui: &mut Ui, chain: &Chain, total: &str, units: UnitSystem) {
    let (steps, sum) = chain.shown(units);
    for (place, (link, shown)) in chain.links.iter().zip(&steps).enumerate() {
        let sign = if place > 0 && link.adds.value > 0.0 {
            "+"
        } else {
            ""
        };
        step_ui(ui, [&link.name, &link.reason], (sign, shown), Face::Medium);
    }
    hairline(ui);
    step_ui(ui, [total, ""], ("", &sum), Face::Bold);
}

/// One line: what, why, how much, and its spread under it.
pub(in crate::app) fn step_ui(
    ui: &mut Ui,
    [name, reason]: [&str; 2],
    (sign, shown): (&str, &Shown),
    face: Face,
) {
    ui.horizontal_top(|ui| {
        let left = 0.6 * ui.available_width();
        ui.allocate_ui_with_layout(vec2(left, 0.0), Layout::top_down(Align::Min), |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.set_width(left);
            let text = Role::Text.text(ui, name).font(face.at(14.0));
            ui.label(text);
            if !reason.is_empty() {
                Role::Smallest.label(ui, reason);
            }
        });
        ui.with_layout(Layout::top_down(Align::Max), |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            let figure = format!("{sign}{}", shown.figure);
            let text = Role::Text.text(ui, figure).font(face.at(14.0));
            ui.label(text);
            if !shown.spread.is_empty() {
                Role::Smallest.label(ui, &shown.spread);
            }
        });
    });
}

/// A long length and its spread apart: `44.4 cm`, `44.3 to 44.5`.
pub(in crate::app) fn long(length: Estimate, units: UnitSystem) -> Shown {
    if units == UnitSystem::Inches {
        return length.length(units);
    }
    let cm = |mm: f64| format!("{:.1}", mm / 10.0).replace('-', "−");
    let [value, low, high] = [length.value, length.low, length.high].map(cm);
    let spread = if low == high {
        String::new()
    } else {
        format!("{low} to {high}")
    };
    Shown {
        figure: format!("{value} cm"),
        spread,
    }
}
