//! The dressed disc beside its picture: "yours should look like this".

use std::collections::BTreeMap;

use super::column::Column;
use super::{BraidScene, BraidState, foot, glance, keys};
use crate::app::at_disc::Names;
use crate::app::command::Command;
use crate::app::controls::Button;
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::document::Design;

/// Draws all of it into `ui`; the disc stands beside it.
pub(super) fn check_ui(
    ui: &mut eframe::egui::Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let mut column = Column::new(ui);
    glance::plain_head(&mut column, "Before the first move");
    let theme = column.theme;
    let lead = column.font(Face::Figures, 40.0);
    column.words("Yours should look like this.", lead, theme.ink);
    column.gap(10.0);
    let strip = column.bottom(38.0);
    let now = column.ui.input(|input| input.time);
    let back = column.controls(strip, "compare", |ui| {
        ui.add(Button::bare("Back one").icon(Icon::Back)).clicked()
    });
    column.left.max.y -= 8.0 * column.scale;
    let button = column.bottom((72.0 * column.scale).clamp(40.0, 110.0));
    if foot::big_button(&mut column, button, "It does, begin").clicked() {
        wants.extend(keys::on(scene.work, state, now));
    }
    if back {
        wants.extend(keys::back(scene.work, state, now));
    }
    let font = column.font(Face::Medium, 17.0);
    for line in lines(scene.work.design(), Names::of(scene.work)) {
        column.words(&line, font.clone(), theme.ink);
        column.gap(4.0);
    }
    column.gap(6.0);
    let note = column.font(Face::Regular, 14.5);
    let look = "Look first for a strand that lies in a neighbour's slot.";
    column.words(look, note.clone(), theme.ink2);
    let grams = scene.work.begun().outlook.counterweight;
    if grams > 0.0 {
        let hang = format!("Then hang the {grams:.0} g on, below the hole.");
        column.words(&hang, note, theme.ink2);
    }
}

/// A line for each colour with its slots: "ink in 1, 16, 17 and 32".
fn lines(design: &Design, names: Names<'_>) -> Vec<String> {
    let mut slots: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut colours: Vec<String> = Vec::new();
    for strand in design.slot_order() {
        let colour = names.colours(strand);
        if !colours.contains(&colour) {
            colours.push(colour.clone());
        }
        if let Some(&place) = names.list.start.get(strand) {
            slots.entry(colour).or_default().push(names.label(place));
        }
    }
    let line = |colour: String| {
        let slots: Vec<&str> = slots.get(&colour)?.iter().map(String::as_str).collect();
        Some(format!("{colour} in {}", crate::app::words::list(&slots)))
    };
    colours.into_iter().filter_map(line).collect()
}
