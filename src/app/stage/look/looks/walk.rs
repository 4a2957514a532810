//! The keyboard on the looks: arrows walk from one to the next and try it on, Enter
//! keeps it, Esc takes it back.

use eframe::egui::{Key, Ui};

use crate::app::command::Command;
use crate::app::desk::Desk;
use crate::pattern::Worn;

use super::super::structures::{keep_keys, stepped, taken};
use super::super::{Escape, LookView};
use super::card;
use super::listed::Listed;

/// Takes up the keys while one of the looks, in rows, has the keyboard; Enter wherever
/// nothing has it.
pub(super) fn walk(
    ui: &Ui,
    rows: &[Vec<usize>],
    listed: &Listed,
    worn: &Worn,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let focused = ui.memory(|memory| memory.focused());
    let Some(focused) = focused else {
        if view.trying.is_on(desk.design, desk.undo) && taken(ui, Key::Enter) {
            view.trying.keep();
        }
        return;
    };
    let id = |place: usize| card::id(&listed.looks[place].arrangement);
    let in_row = |row: &Vec<usize>| row.iter().position(|&place| id(place) == focused);
    let here = rows
        .iter()
        .enumerate()
        .find_map(|(row, looks)| Some((row, in_row(looks)?)));
    let Some(here) = here else { return };
    keep_keys(ui, focused);
    if taken(ui, Key::Escape) {
        match view.escape(desk.design, desk.undo) {
            Escape::TakeBack => wants.push(Command::Undo),
            Escape::Done => ui.memory_mut(|memory| memory.surrender_focus(focused)),
        }
        return;
    }
    if view.trying.is_on(desk.design, desk.undo) && taken(ui, Key::Enter) {
        view.trying.keep();
        return;
    }
    let next = stepped(rows, here, |key| taken(ui, key));
    if next != here {
        let arrangement = &listed.looks[rows[next.0][next.1]].arrangement;
        ui.memory_mut(|memory| memory.request_focus(card::id(arrangement)));
        view.looks.brings = Some(arrangement.clone());
        ui.ctx().request_repaint();
        super::try_on(arrangement, worn, desk, view, wants);
    }
}
