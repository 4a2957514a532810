//! To a look: small pictures of how the disc lay, the last first.

use eframe::egui::{Rect, Ui, vec2};

use super::super::work::Work;
use super::disc;
use crate::app::controls::{Button, Pick};
use crate::app::fonts::Role;
use crate::bench::{Lying, Motions};

/// A picture with its words.
const CARD: eframe::egui::Vec2 = vec2(108.0, 124.0);
/// Pictures that are shown together.
const SHOWN: usize = 8;

/// The pictures with the ways to earlier and later ones; the moves that are left then.
pub(super) fn looks_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    page: &mut u64,
    lands: Option<u64>,
) -> Option<u64> {
    Role::Text.label(ui, "Choose the one at which yours was still right.");
    ui.add_space(4.0);
    let (places, is_more) = places(work, *page);
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        for &done in &places {
            let name = format!("how the disc lay after move {done}");
            let card = Pick::card(&name, lands == Some(done), CARD);
            let response = card.show(ui, |ui| {
                let rect = ui.max_rect();
                let spot = Rect::from_min_size(rect.min, vec2(rect.width(), rect.width()));
                disc(
                    ui,
                    spot,
                    work,
                    &Lying::after(work.braid, &work.course.roles, done),
                );
                let words = Role::Note.text(ui, format!("after {done}"));
                ui.painter().text(
                    rect.center_bottom() - vec2(0.0, 4.0),
                    eframe::egui::Align2::CENTER_CENTER,
                    words.text(),
                    Role::Note.font(),
                    crate::app::theme::Theme::of(ui).ink,
                );
            });
            if response.clicked() {
                chosen = Some(done);
            }
        }
    });
    ui.horizontal(|ui| {
        let first = (*page == 0).then_some("these are the latest");
        if ui.add(Button::plain("Later").off_because(first)).clicked() {
            *page = page.saturating_sub(1);
        }
        let last = (!is_more).then_some("the work began here");
        if ui.add(Button::plain("Earlier").off_because(last)).clicked() {
            *page += 1;
        }
    });
    chosen
}

/// Between which moves the disc lay on a page, the last first, and whether there are
/// earlier ones.
fn places(work: &Work<'_>, page: u64) -> (Vec<u64>, bool) {
    let motions = Motions::of(work.braid);
    let before = |at: &u64| motions.before(*at).map(|motion| motion.begins);
    let mut all = std::iter::successors(before(&work.course.done), before);
    let skipped = usize::try_from(page)
        .unwrap_or(usize::MAX)
        .saturating_mul(SHOWN);
    let places = all.by_ref().skip(skipped).take(SHOWN).collect();
    let is_more = all.next().is_some();
    (places, is_more)
}
