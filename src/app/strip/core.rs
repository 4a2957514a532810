//! The core of a cord that has one: its edges where it runs unseen in the middle,
//! in the dashes of a hidden line.

use eframe::egui::{Rect, Sense, Ui, WidgetInfo, pos2, vec2};

use super::Layout;
use super::row::Row;
use crate::app::fonts::Face;
use crate::app::stitch::{self, Dashes};
use crate::app::theme::Theme;
use crate::app::words;
use crate::cord::Cord;
use crate::quantity::UnitSystem;

/// How much of the core is drawn, points.
const SHOWN: f32 = 150.0;
/// Room right of it.
const RIGHT: f32 = 24.0;
/// A hidden edge.
const HIDDEN: Dashes = Dashes {
    width: 1.8,
    dash: 8.0,
    gap: 6.0,
};

/// Thickness of the core in the cord, mm; none of a cord without.
fn core_mm(cord: &Cord) -> Option<f64> {
    let (form, strands) = (&cord.form, cord.figures.take_up.len());
    let first = strands * form.nodes;
    let core = form.radius.get(first..first + form.nodes)?;
    let mean = core.iter().sum::<f64>() / core.len().max(1) as f64;
    (form.strands > strands).then_some(2.0 * mean)
}

/// Draws the edges at the right end of the linen, with a word.
pub(super) fn core_ui(
    ui: &Ui,
    (layout, row): (&Layout, &Row),
    cord: &Cord,
    units: UnitSystem,
    theme: &Theme,
) {
    let Some(thickness) = core_mm(cord) else {
        return;
    };
    let half = 0.5 * thickness as f32 * layout.per_mm;
    let middle = row.rect.center().y;
    let right = row.rect.right() - RIGHT;
    let painter = ui.painter().with_clip_rect(row.rect);
    let font = Face::Semibold.at(12.5);
    let words = format!("core, {}", words::length(thickness, units));
    let text = painter.layout_no_wrap(words.clone(), font, theme.ink);
    let slip = Rect::from_min_size(
        pos2(right - text.size().x - 14.0, middle - 11.0),
        text.size() + vec2(14.0, 22.0 - text.size().y),
    );
    for y in [middle - half, middle + half] {
        let line = [pos2(slip.left() - SHOWN, y), pos2(slip.left() - 4.0, y)];
        painter.extend(stitch::thread(line.to_vec(), 3.6, theme.paper));
        painter.extend(stitch::dashed(&line, HIDDEN, theme.ink));
    }
    painter.rect_filled(slip, 11.0, theme.paper);
    let edge = eframe::egui::Stroke::new(1.4, theme.ok);
    painter.rect_stroke(slip, 11.0, edge, eframe::egui::StrokeKind::Inside);
    let at = slip.center() - 0.5 * text.size();
    painter.galley(at, text, theme.ink);
    let id = ui.scope_id().with("core");
    let response = ui.interact(slip, id, Sense::hover());
    let role = eframe::egui::Role::Label;
    let spoken = format!("inside the cord: {words}");
    response.widget_info(|| WidgetInfo::labeled(role, true, &spoken));
}
