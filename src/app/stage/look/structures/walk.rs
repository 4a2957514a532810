//! The keyboard on the cards: arrows walk from one to the next through all groups,
//! Enter lays one on, Esc takes it back.

use eframe::egui::{EventFilter, Id, Key, Modifiers, Ui};

use crate::app::command::Command;
use crate::app::desk::Desk;

use super::super::LookView;

/// Takes up the keys while one of the cards, in rows, or the search has the
/// keyboard.
pub(super) fn walk(
    ui: &Ui,
    rows: &[Vec<Id>],
    search: Id,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let Some(focused) = ui.memory(|memory| memory.focused()) else {
        return;
    };
    let first = rows.iter().flatten().next().copied();
    if focused == search {
        if let Some(first) = first.filter(|_| taken(ui, Key::ArrowDown)) {
            go_to(ui, first, view);
        }
        return;
    }
    let here = rows
        .iter()
        .enumerate()
        .find_map(|(row, ids)| Some((row, ids.iter().position(|&id| id == focused)?)));
    let Some(here) = here else { return };
    keep_keys(ui, focused);
    if taken(ui, Key::Escape) {
        let is_last = view.picked.take().as_deref() == desk.undo && desk.undo.is_some();
        if is_last {
            wants.push(Command::Undo);
        } else {
            ui.memory_mut(|memory| memory.surrender_focus(focused));
        }
        return;
    }
    let next = stepped(rows, here, |key| taken(ui, key));
    if next == (0, 0) && here == (0, 0) && taken(ui, Key::ArrowUp) {
        ui.memory_mut(|memory| memory.request_focus(search));
    } else if next != here {
        go_to(ui, rows[next.0][next.1], view);
    }
}

/// The keyboard goes to a card, which is brought into sight.
fn go_to(ui: &Ui, card: Id, view: &mut LookView) {
    ui.memory_mut(|memory| memory.request_focus(card));
    view.brings = Some(card);
    ui.ctx().request_repaint();
}

/// The arrows walk here; Tab leaves.
pub(in super::super) fn keep_keys(ui: &Ui, focused: Id) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        escape: true,
        ..EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(focused, filter));
}

/// Whether a key was pressed; nobody else hears of it.
pub(in super::super) fn taken(ui: &Ui, key: Key) -> bool {
    ui.input_mut(|input| input.consume_key(Modifiers::NONE, key))
}

/// Row and card after the key that was pressed; rows may be of unlike length.
pub(in super::super) fn stepped<T>(
    rows: &[Vec<T>],
    (row, at): (usize, usize),
    pressed: impl Fn(Key) -> bool,
) -> (usize, usize) {
    let in_row = |row: usize| (row, at.min(rows[row].len().saturating_sub(1)));
    let last = rows.len().saturating_sub(1);
    let is_last = at + 1 >= rows[row].len();
    if pressed(Key::ArrowDown) && row < last {
        in_row(row + 1)
    } else if row > 0 && pressed(Key::ArrowUp) {
        in_row(row - 1)
    } else if pressed(Key::ArrowRight) {
        match is_last {
            false => (row, at + 1),
            true if row < last => (row + 1, 0),
            true => (row, at),
        }
    } else if pressed(Key::ArrowLeft) {
        match at.checked_sub(1) {
            Some(before) => (row, before),
            None if row > 0 => (row - 1, rows[row - 1].len().saturating_sub(1)),
            None => (row, at),
        }
    } else if pressed(Key::Home) {
        (0, 0)
    } else if pressed(Key::End) {
        (last, rows[last].len().saturating_sub(1))
    } else {
        (row, at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(key: Key, here: (usize, usize)) -> (usize, usize) {
        let rows: Vec<Vec<Id>> = [2, 1, 2]
            .iter()
            .enumerate()
            .map(|(row, &cards)| (0..cards).map(|card| Id::unique((row, card))).collect())
            .collect();
        stepped(&rows, here, |pressed| pressed == key)
    }

    #[test]
    fn arrows_go_through_all_rows_and_stop_at_the_ends() {
        assert_eq!(after(Key::ArrowDown, (0, 1)), (1, 0), "a shorter row");
        assert_eq!(after(Key::ArrowDown, (2, 1)), (2, 1));
        assert_eq!(after(Key::ArrowUp, (1, 0)), (0, 0));
        assert_eq!(after(Key::ArrowRight, (0, 1)), (1, 0));
        assert_eq!(after(Key::ArrowLeft, (2, 0)), (1, 0));
        assert_eq!(after(Key::ArrowLeft, (0, 0)), (0, 0));
        assert_eq!(after(Key::End, (0, 0)), (2, 1));
        assert_eq!(after(Key::Home, (2, 1)), (0, 0));
    }
}
