//! A list with captions over columns of fields.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::app::fonts::Role;

/// Gap between columns.
const GAP: f32 = 8.0;

/// Captions over the columns, each with its width.
pub(super) fn captions(ui: &mut Ui, columns: &[(&str, f32)]) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        for (caption, width) in columns {
            cell(ui, *width, 18.0, |ui| {
                Role::Smallest.label(ui, *caption);
            });
        }
    });
}

/// A line of cells.
pub(super) fn line(ui: &mut Ui, cells: impl FnOnce(&mut Ui)) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        cells(ui);
    });
}

/// A cell as wide as its column.
pub(super) fn cell<R>(ui: &mut Ui, width: f32, tall: f32, draw: impl FnOnce(&mut Ui) -> R) -> R {
    let layout = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(width, tall), layout, |ui| {
        ui.set_min_size(vec2(width, tall));
        ui.set_max_width(width);
        draw(ui)
    })
    .inner
}

/// The word after this one, round and round.
pub(super) fn next<T: Copy + PartialEq>(all: &[T], now: T) -> T {
    let place = all.iter().position(|one| *one == now).unwrap_or(0);
    all[(place + 1) % all.len()]
}
