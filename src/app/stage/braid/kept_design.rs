//! Where the design on the table is another than the cord was begun with.

use super::BraidScene;
use super::column::Column;
use crate::app::at_disc::{Beside, Hands};
use crate::app::command::Command;
use crate::app::controls::link;
use crate::app::fonts::Face;

/// Says so in a line, and offers to follow where it can.
pub(super) fn beside_design(
    column: &mut Column<'_>,
    scene: BraidScene<'_>,
    wants: &mut Vec<Command>,
) {
    let desk = scene.desk;
    let beside = Beside::of(scene.work, desk.design, desk.file.id());
    let name = &scene.work.design().name;
    let (words, follows) = match beside {
        Beside::Same => return,
        Beside::Changed => (
            "The design on the table was changed since; this cord keeps what it was begun with."
                .to_owned(),
            true,
        ),
        Beside::OtherMoves => (
            "The design on the table has other moves now; this cord keeps its own, for they \
             would not go on from what lies on the disc."
                .to_owned(),
            false,
        ),
        Beside::Other => (
            format!("This cord is of {name}; another design lies on the table."),
            false,
        ),
    };
    column.gap(8.0);
    let (font, ink) = (column.font(Face::Regular, 14.0), column.theme.ink2);
    column.words(&words, font, ink);
    if follows && desk.known().figures().is_some() {
        let strip = column.top(26.0);
        if column.controls(strip, "follow", |ui| {
            link(ui, Hands::Follow.words()).clicked()
        }) {
            wants.push(Command::AtDisc(Hands::Follow));
        }
    }
}
