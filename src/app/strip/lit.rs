//! Chosen strands on the cord: a seam along each of their floats, and the letter once.
//!
//! The same strands as on the disc, always.

use eframe::egui::{Align2, Painter, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, vec2};

use super::flags::free_spot;
use super::row::{Placed, Row};
use crate::app::fonts::Face;
use crate::app::stitch::{self, Dashes};
use crate::app::theme::Theme;
use crate::cord::strand_name;

/// Radius of a letter's tag.
const TAG: f32 = 9.0;

/// The seam; finer than round a row, for floats are short.
const SEAM: Dashes = Dashes {
    width: 2.0,
    dash: 6.0,
    gap: 4.5,
};

/// A float that shows less of itself than this gets no seam, points.
const SHORTEST: f32 = 9.0;

/// Sews the chosen strands and gives the places of their letters.
pub(super) fn lit_ui<'a>(
    ui: &Ui,
    row: &Row,
    placed: &Placed<'_>,
    chosen: impl Iterator<Item = &'a usize>,
    theme: &Theme,
) -> Vec<Pos2> {
    let painter = ui.painter().with_clip_rect(row.rect);
    let mut tags = Vec::new();
    for &strand in chosen {
        let floats = placed.floats_of(strand);
        floats.iter().for_each(|path| seam(&painter, path, theme));
        if let Some(at) = free_spot(&floats, &tags, row.rect) {
            tag(ui, &painter, at, (row, strand), theme);
            tags.push(at);
        }
    }
    tags
}

fn seam(painter: &Painter, path: &[Pos2], theme: &Theme) {
    if stitch::length(path) < SHORTEST {
        return;
    }
    painter.extend(stitch::thread(path.to_vec(), SEAM.width + 2.4, theme.paper));
    painter.extend(stitch::dashed(path, SEAM, theme.thread));
}

fn tag(ui: &Ui, painter: &Painter, at: Pos2, (row, strand): (&Row, usize), theme: &Theme) {
    let letter = strand_name(strand);
    painter.circle(at, TAG, theme.thread, Stroke::new(1.6, theme.paper));
    let size = if letter.len() > 1 { 10.0 } else { 12.5 };
    let font = Face::Bold.at(size);
    painter.text(at, Align2::CENTER_CENTER, &letter, font, theme.onthread);
    let id = ui.scope_id().with(("lit", row.lane as usize, strand));
    let rect = Rect::from_center_size(at, vec2(2.0, 2.0) * TAG);
    let response = ui.interact(rect, id, Sense::hover());
    let words = format!("on the cord: strand {letter}, chosen");
    let role = eframe::egui::Role::Label;
    response.widget_info(|| WidgetInfo::labeled(role, true, &words));
}
