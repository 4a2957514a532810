//! The cord to braid, with its spread, and the sum written out.

use eframe::egui::{Align, Layout, Ui};

use super::fold::FitState;
use super::{FitView, parts};
use crate::app::controls::{hairline, link};
use crate::app::fonts::Role;
use crate::app::stage::steps;

/// What it comes to, how, and the piece in its parts.
pub(super) fn sum_ui(ui: &mut Ui, view: &FitView<'_>, state: &mut FitState) {
    hairline(ui);
    ui.spacing_mut().item_spacing.y = 2.0;
    let Some(planned) = view.planned else {
        Role::Label.label(ui, "Cord to braid, rested");
        Role::Text.label(ui, "It comes with the cord.");
        return;
    };
    ui.horizontal(|ui| {
        Role::Label.label(ui, "Cord to braid, rested");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let words = if state.steps { "fold the sum" } else { "how?" };
            if link(ui, words).clicked() {
                state.steps = !state.steps;
            }
        });
    });
    let chain = &planned.plan.length;
    let shown = steps::long(chain.total, view.units);
    ui.horizontal(|ui| {
        let (figure, unit) = shown.figure.rsplit_once(' ').unwrap_or((&shown.figure, ""));
        ui.spacing_mut().item_spacing.x = 6.0;
        Role::Figure.label(ui, figure);
        Role::Unit.label(ui, unit);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            Role::Note.label(ui, &shown.spread);
        });
    });
    if state.steps {
        ui.spacing_mut().item_spacing.y = 3.0;
        steps::steps_ui(ui, chain, "cord to braid, rested", view.units);
        ui.add_space(6.0);
    }
    parts::parts_ui(ui, view);
    let disc = steps::long(planned.plan.on_disc.total, view.units);
    let moves = planned.plan.cut.moves.value;
    Role::Note.label(
        ui,
        format!("stop on the disc at {disc}, after about {moves:.0} moves"),
    );
    let worked = steps::long(planned.worked.total, view.units);
    Role::Note.label(ui, format!("worked supple it is {worked}"));
    for run in planned.plan.cut.runs.iter().skip(1) {
        let rested = steps::long(run.rested, view.units);
        Role::Note.label(ui, format!("{}: {rested}", run.size));
    }
}
