//! Pages: what fills the stage in place of the disc and its columns.

use eframe::egui::{Rect, Ui, UiBuilder};

use crate::app::controls::{link, segments};
use crate::document::Design;

use super::LookView;

/// What fills the stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LookPage {
    /// The disc between its columns.
    #[default]
    Disc,
    /// All that the colours can give.
    Looks,
    /// The unrolled surface, to paint on.
    Paint,
}

/// What Esc does when nothing lies over the stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Escape {
    /// The last change, a try, is to be undone.
    TakeBack,
    /// It was done.
    Done,
}

impl LookView {
    /// Esc takes a try back, then leaves a page, then lets go of the choice.
    pub fn escape(&mut self, design: &Design, undo: Option<&str>) -> Escape {
        if self.trying.is_on(design, undo) {
            self.trying.keep();
            return Escape::TakeBack;
        }
        match self.page {
            LookPage::Disc => self.chosen.clear(),
            LookPage::Looks | LookPage::Paint => self.turn_page(LookPage::Disc),
        }
        Escape::Done
    }

    /// Goes to a page; what was being tried stays.
    pub fn turn_page(&mut self, page: LookPage) {
        self.page = page;
        self.trying.keep();
        self.looks.wish_anew();
    }
}

/// The three words over the strands, for the pages.
pub(super) fn words_ui(ui: &mut Ui, view: &mut LookView) {
    let words = [
        (LookPage::Disc, "strands"),
        (LookPage::Looks, "looks"),
        (LookPage::Paint, "paint"),
    ];
    let mut page = view.page;
    if segments(ui, "show", &mut page, &words) {
        view.turn_page(page);
    }
    ui.add_space(8.0);
}

/// The way back over a page, with `beside` it; what is left is the page's.
pub(super) fn head_ui(
    ui: &mut Ui,
    rect: Rect,
    view: &mut LookView,
    beside: impl FnOnce(&mut Ui, &mut LookView),
) -> Rect {
    let builder = UiBuilder::new().max_rect(rect).id_salt("page head");
    let head = ui.scope_builder(builder, |ui| {
        ui.horizontal(|ui| {
            if link(ui, "back to the disc").clicked() {
                view.turn_page(LookPage::Disc);
            }
            ui.add_space(16.0);
            beside(ui, view);
        });
    });
    rect.with_min_y(head.response.rect.bottom() + 8.0)
}
