//! What is done with the steps chosen: in, out, up and down.

use eframe::egui::{Align, Layout, Ui};

use crate::app::command::Command;
use crate::app::controls::IconButton;
use crate::app::icons::Icon;
use crate::structure::MoveList;

use super::super::LookView;
use super::rows::Draft;
use super::{by_hand, write};

/// The row of tools over the steps.
pub(super) fn tools_ui(
    ui: &mut Ui,
    list: &MoveList,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let none = list.steps.is_empty().then_some("no step yet");
    let tool = |icon, name, tip| IconButton::new(icon, name).tip(tip);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let more = tool(
            Icon::Plus,
            "One step more",
            "One step more, after this one  Insert",
        );
        if ui.add(more).clicked() {
            let after = (view.make.at + 1).min(list.steps.len());
            view.make.draft = Some(Draft::new(after));
        }
        let less = tool(
            Icon::Minus,
            "Take the step out",
            "Take the steps chosen out  Delete",
        );
        if ui.add(less.off_because(none)).clicked() {
            take_out(list, view, wants);
        }
        let up = tool(Icon::Up, "Step earlier", "Earlier  Alt ↑");
        if ui.add(up.off_because(none)).clicked() {
            move_up(list, view, wants);
        }
        let down = tool(Icon::Down, "Step later", "Later  Alt ↓");
        if ui.add(down.off_because(none)).clicked() {
            move_down(list, view, wants);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            by_hand::begin_ui(ui, list, view);
        });
    });
}

/// Takes the steps chosen out.
pub(super) fn take_out(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let steps = list.steps_without(&view.make.meant());
    view.make.chosen.clear();
    if steps.len() < list.steps.len() {
        write("steps out", steps, wants);
    }
}

/// The steps chosen one earlier.
pub(super) fn move_up(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let (steps, places) = list.steps_earlier(&view.make.meant());
    view.make.at = view.make.at.saturating_sub(1);
    moved(list, steps, places, view, wants);
}

/// The steps chosen one later.
pub(super) fn move_down(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let (steps, places) = list.steps_later(&view.make.meant());
    view.make.at = (view.make.at + 1).min(view.make.last(list));
    moved(list, steps, places, view, wants);
}

fn moved(
    list: &MoveList,
    steps: Vec<crate::structure::Step>,
    places: std::collections::BTreeSet<usize>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    if !view.make.chosen.is_empty() {
        view.make.chosen = places;
    }
    view.make.brings = true;
    if steps != list.steps {
        write("order of the steps", steps, wants);
    }
}
