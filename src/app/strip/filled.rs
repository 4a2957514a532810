//! Fillings on the cord: marks besides colour, on the floats of each strand.

use eframe::egui::Ui;

use super::row::{Placed, Row};
use crate::app::filling::fill;
use crate::app::stitch;
use crate::document::Design;
use crate::drawing::fillings;

/// Share of a strand's width that a filling takes up: floats are narrower than
/// strands, for their neighbours lie over their edges (tried).
const SHARE: f32 = 0.8;

/// Share of a float at either end that is left out: it dips under there.
const END: f32 = 0.1;

/// Fills in the floats of every strand of the design, `per_mm` points a mm.
pub(super) fn filled_ui(ui: &Ui, row: &Row, placed: &Placed<'_>, design: &Design, per_mm: f32) {
    let painter = ui.painter().with_clip_rect(row.rect);
    for (strand, filling) in fillings(&design.strands).into_iter().enumerate() {
        let part = design.strands[strand].parts.first();
        let (Some(filling), Some(part)) = (filling, part) else {
            continue;
        };
        let radius = row.sitter.radius.get(strand * row.sitter.nodes);
        let width = SHARE * 2.0 * radius.map_or(1.0, |radius| *radius as f32) * per_mm;
        for path in placed.floats_of(strand) {
            let whole = stitch::length(&path);
            let inner = stitch::stretch(&path, END * whole, (1.0 - END) * whole);
            fill(&painter, &inner, width, filling, part.colour);
        }
    }
}
