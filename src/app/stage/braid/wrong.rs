//! When something looks wrong: compare the disc with the picture, take steps back.

use eframe::egui::Ui;

use super::column::Column;
use super::{BraidScene, BraidState, glance, keys};
use crate::app::command::Command;
use crate::app::controls::Button;
use crate::app::fonts::Face;
use crate::app::icons::Icon;

/// Draws it into `ui`, in the place of the next move.
pub(super) fn wrong_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let mut column = Column::new(ui);
    glance::head_of(&mut column, "Something looks wrong", state);
    let (font, ink) = (column.font(Face::Medium, 17.0), column.theme.ink);
    column.words(
        "The picture shows what should lie on the disc before the next move. Compare it, slot \
         by slot, with what lies there.",
        font.clone(),
        ink,
    );
    column.gap(6.0);
    column.words(
        "If they differ by the last step, it was pressed too early or too late: go back one \
         here, or make the move.",
        font,
        ink,
    );
    column.gap(10.0);
    let strip = column.top(38.0);
    let pressed = column.controls(strip, "steps", |ui| {
        ui.add(Button::plain("Back one").icon(Icon::Back)).clicked()
    });
    if pressed {
        let now = column.ui.input(|input| input.time);
        wants.extend(keys::back(scene.work, state, now));
    }
}
