//! What lies in the chosen slot, as chips of which one is on.

use eframe::egui::{
    Align, Align2, Color32, Layout, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    pos2, vec2,
};

use super::super::work::Work;
use super::marks::{Mark, Marks};
use super::spot::drawn;
use crate::app::controls::{keyboard_leads, link, switch};
use crate::app::disc::strand_swatch;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::structure::Place;

/// Height of a chip, and of a row with its gap.
const CHIP: f32 = 26.0;
const ROW: f32 = CHIP + 5.0;
/// Between chips.
const GAP: f32 = 6.0;
/// A piece of the strand on a chip.
const SWATCH: f32 = 22.0;

/// Height that the bar takes, whatever is chosen.
pub(super) fn height(ui: &Ui, width: f32, work: &Work<'_>) -> f32 {
    let head = words_width(ui, &head_words(work, Place::slot(work.braid.slots())));
    let (mut rows, mut across) = (1, head);
    for (words, mark) in chips(work, false) {
        let wide = GAP + chip_width(ui, &words, mark);
        if across + wide > width {
            rows += 1;
            across = 0.0;
        }
        across += wide;
    }
    (rows + 1) as f32 * ROW
}

/// The chips for `slot`, and the switch that leaves colours aside.
pub(super) fn bar_ui(ui: &mut Ui, work: &Work<'_>, marks: &mut Marks, slot: Option<Place>) {
    ui.spacing_mut().item_spacing = vec2(GAP, ROW - CHIP);
    match slot {
        Some(place) => chips_ui(ui, work, marks, place),
        None => {
            Role::Note.label(
                ui,
                "Pull a strand to where it lies on yours. Press a slot to mark it; digits are looks.",
            );
        }
    }
    ui.horizontal(|ui| {
        switch(ui, "only which slots are full", &mut marks.only_full);
        Role::Note.label(ui, "only which slots are full, no colours");
        if !marks.differing().is_empty() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if link(ui, "mark anew").clicked() {
                    marks.begin_anew();
                }
            });
        }
    });
}

/// All that can be marked in a slot.
fn chips(work: &Work<'_>, only_full: bool) -> Vec<(String, Mark)> {
    let looks = (0..work.looks.count()).filter(|_| !only_full);
    let look = |look| (work.looks.numbered(look), Mark::Strand(Some(look)));
    let untold = if only_full {
        "a strand"
    } else {
        "cannot tell the colour"
    };
    let others = [
        (untold.to_owned(), Mark::Strand(None)),
        ("nothing".to_owned(), Mark::Empty),
        ("cannot tell".to_owned(), Mark::Unsure),
    ];
    looks.map(look).chain(others).collect()
}

fn head_words(work: &Work<'_>, place: Place) -> String {
    format!("in {}:", work.phrase(place))
}

fn chips_ui(ui: &mut Ui, work: &Work<'_>, marks: &mut Marks, place: Place) {
    let now = marks.at(place);
    let is_on = |mark: Mark| match (mark, now) {
        (Mark::Strand(_), Mark::Strand(_)) if marks.only_full => true,
        _ => mark == now,
    };
    let mut put = None;
    ui.horizontal_wrapped(|ui| {
        Role::Label.label(ui, head_words(work, place));
        for (words, mark) in chips(work, marks.only_full) {
            if chip_ui(ui, &words, mark, is_on(mark), work).clicked() {
                put = Some(mark);
            }
        }
    });
    if let Some(mark) = put {
        marks.put(place, mark);
    }
}

fn words_width(ui: &Ui, words: &str) -> f32 {
    let font = Face::Bold.at(13.0);
    let laid = ui
        .painter()
        .layout_no_wrap(words.to_owned(), font, Color32::PLACEHOLDER);
    laid.size().x
}

fn chip_width(ui: &Ui, words: &str, mark: Mark) -> f32 {
    let swatch = if matches!(mark, Mark::Strand(Some(_))) {
        SWATCH + 6.0
    } else {
        0.0
    };
    words_width(ui, words) + 22.0 + swatch
}

/// A chip with a piece of the strand on it, if it is one that is known.
fn chip_ui(ui: &mut Ui, words: &str, mark: Mark, on: bool, work: &Work<'_>) -> Response {
    let size = vec2(chip_width(ui, words, mark), CHIP);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let role = eframe::egui::Role::Button;
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::selected(role, enabled, on, words));
    let theme = Theme::of(ui);
    let (fill, edge) = match (on, response.hovered()) {
        (true, _) => (theme.soft, Stroke::new(1.4, theme.thread)),
        (false, true) => (theme.well, Stroke::new(1.0, theme.ink)),
        (false, false) => (theme.paper, Stroke::new(1.0, theme.line2)),
    };
    let painter = ui.painter();
    painter.rect(rect, CHIP / 2.0, fill, edge, StrokeKind::Inside);
    let mut left = rect.left() + 11.0;
    if let Mark::Strand(Some(look)) = mark {
        let spot = Rect::from_min_size(pos2(left, rect.center().y - 4.5), vec2(SWATCH, 9.0));
        let strand = drawn(work, work.looks.first[look], Place::Hand);
        let (ends, appearance) = (strand.ends, &strand.appearance);
        strand_swatch(painter, spot, &strand.colours, ends, appearance, &theme);
        left = spot.right() + 6.0;
    }
    let (face, ink) = if on {
        (Face::Bold, theme.ink)
    } else {
        (Face::Medium, theme.ink2)
    };
    let at = pos2(left, rect.center().y);
    painter.text(at, Align2::LEFT_CENTER, words, face.at(13.0), ink);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect, CHIP / 2.0, &theme);
    }
    response
}
