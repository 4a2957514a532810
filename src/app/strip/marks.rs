//! What is drawn over the cord: its repeat, its age, words on slips of paper.

use eframe::egui::{Painter, Pos2, Rect, Ui, pos2, vec2};

use super::row::Row;
use super::{Layout, MARGIN, StripView};
use crate::app::fonts::Face;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::app::words;
use crate::quantity::UnitSystem;

/// The bracket over one repeat, with its length.
pub(super) fn bracket(
    ui: &Ui,
    layout: &Layout,
    row: &Row,
    view: &StripView,
    units: UnitSystem,
    theme: &Theme,
) {
    let lift = row.sitter.lift * cycle(&row.sitter.continues);
    let wide = lift as f32 * layout.per_mm;
    if wide < 12.0 || row.rect.height() < 52.0 {
        return;
    }
    // The first whole repeat right of the margin and half a fold on.
    let start = layout.zero() - (view.along * f64::from(layout.per_mm)) as f32;
    let first = row.rect.left() + 140.0;
    let left = start + ((first - start) / wide).ceil() * wide;
    let right = left + wide;
    let y = row.rect.top() + 9.0;
    let painter = ui.painter().with_clip_rect(row.rect);
    let ends = [
        pos2(left, y + 7.0),
        pos2(left, y),
        pos2(right, y),
        pos2(right, y + 7.0),
    ];
    painter.extend(stitch::thread(ends.to_vec(), 5.0, theme.paper));
    painter.extend(stitch::thread(ends.to_vec(), 2.0, theme.thread));
    let words = format!("one repeat, {}", words::length(lift, units));
    label(&painter, pos2(right + 8.0, y + 1.0), &words, theme);
}

/// Repeats of the form until every strand stands as at the start.
pub(super) fn cycle(continues: &[usize]) -> f64 {
    let mut at: Vec<usize> = (0..continues.len()).collect();
    for turns in 1..=64 {
        for place in &mut at {
            *place = continues.get(*place).copied().unwrap_or(*place);
        }
        if at.iter().enumerate().all(|(i, &p)| i == p) {
            return f64::from(turns);
        }
    }
    1.0
}

/// Words on a slip of paper, so that they can be read over any cord and ground.
pub(super) fn label(painter: &Painter, left_centre: Pos2, words: &str, theme: &Theme) -> Rect {
    let font = Face::Semibold.at(13.0);
    let galley = painter.layout_no_wrap(words.to_owned(), font, theme.ink);
    let size = galley.size();
    let at = left_centre - vec2(0.0, size.y / 2.0);
    let slip = Rect::from_min_size(at, size).expand2(vec2(5.0, 0.0));
    painter.rect_filled(slip, 4.0, theme.paper.gamma_multiply(0.92));
    painter.galley(at, galley, theme.ink);
    slip
}

/// Running dots along the upper edge of a cord that is not the newest.
pub(super) fn old_mark(ui: &Ui, row: &Row, runs: bool, theme: &Theme) {
    let linen = row.rect;
    let y = linen.top() + 2.5;
    let gap = 8.0;
    let phase = if runs {
        // Slowly, for the solver needs the processor more.
        ui.ctx().request_repaint_after_secs(0.15);
        (ui.input(|input| input.time) * 24.0 % f64::from(gap)) as f32
    } else {
        0.0
    };
    let painter = ui.painter().with_clip_rect(linen);
    let band = linen.with_max_y(linen.top() + 5.0);
    painter.rect_filled(band, 0.0, theme.paper.gamma_multiply(0.8));
    let count = (linen.width() / gap) as usize + 2;
    for k in 0..count {
        let x = linen.left() + phase + (k as f32 - 1.0) * gap;
        painter.circle_filled(pos2(x, y), 1.3, theme.ink);
    }
    let at = pos2(linen.left() + MARGIN, linen.top() + 18.0);
    label(&painter, at, "last good cord", theme);
}

/// Which cord this is, where several states can be shown.
pub(super) fn state_mark(ui: &Ui, row: &Row, words: &str, theme: &Theme) {
    let painter = ui.painter().with_clip_rect(row.rect);
    let at = pos2(row.rect.left() + MARGIN, row.rect.bottom() - 14.0);
    label(&painter, at, words, theme);
}

/// Why there is no cord here, in one sentence.
pub(super) fn sentence(ui: &Ui, spot: Rect, words: &str, theme: &Theme) {
    let painter = ui.painter().with_clip_rect(spot);
    let at = pos2(spot.left() + MARGIN + 8.0, spot.center().y);
    let slip = label(&painter, at, words, theme);
    let id = ui.scope_id().with(("sentence", words));
    let response = ui.interact(slip, id, eframe::egui::Sense::hover());
    let role = eframe::egui::Role::Label;
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(role, true, words));
}
