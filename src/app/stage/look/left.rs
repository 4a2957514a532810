//! The left column: structures picked from the shelf, made step by step, or
//! found.

use eframe::egui::Ui;

use crate::app::command::Command;
use crate::app::controls::segments;
use crate::app::desk::Desk;
use crate::app::easel::Easel;

use super::LookView;
use super::find::find_ui;
use super::make::make_ui;
use super::structures::structures_ui;

/// What stands in the left column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Left {
    /// Ready structures, as pictures.
    #[default]
    Pick,
    /// The moves of the design, step by step.
    Make,
    /// Structures that nobody knew.
    Find,
}

/// The head with its words, and what is chosen under it.
pub(super) fn left_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let words = [
        (Left::Pick, "pick"),
        (Left::Make, "make"),
        (Left::Find, "find"),
    ];
    segments(ui, "structure", &mut view.left, &words);
    ui.add_space(4.0);
    match view.left {
        Left::Pick => structures_ui(ui, desk, view, easel, wants),
        Left::Make => make_ui(ui, desk, view, wants),
        Left::Find => find_ui(ui, desk, view, easel, wants),
    }
}
