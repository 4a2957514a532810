//! Looks: all that the colours of a cord can give, as small cords.

use eframe::egui::{Rect, Ui};

use crate::app::command::Command;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::Role;

use super::LookView;
use super::page;

/// The page with all looks.
pub(super) fn page_ui(
    ui: &mut Ui,
    rect: Rect,
    _desk: &Desk<'_>,
    view: &mut LookView,
    _easel: &mut Easel,
    _wants: &mut Vec<Command>,
) {
    page::head_ui(ui, rect, view, |ui, _| {
        Role::Section.label(ui, "Looks");
    });
}
