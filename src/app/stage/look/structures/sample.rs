//! Pictures of sample cords, and what stands in their place.

use std::sync::Arc;

use eframe::egui::{Align2, Color32, Rect, Ui, pos2, vec2};

use crate::app::easel::Easel;
use crate::app::fonts::Role;
use crate::app::fresh::PLAIN_FIBRE;
use crate::app::icons::Icon;
use crate::app::order::{Age, Order, Sitter};
use crate::app::painting::{Scene, plain};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::cord::Cord;
use crate::document::{Design, Edit};
use crate::drawing::{Bend, Thread, View};
use crate::material::on_shelf;
use crate::structure::MoveList;

/// Paper under the chosen one, the table under the others; linen by night, for
/// dark cords must show.
pub(in crate::app::stage) fn ground(ui: &Ui, is_chosen: bool) -> Color32 {
    let theme = Theme::of(ui);
    match (theme.is_night(), is_chosen) {
        (true, _) => theme.linen,
        (false, true) => theme.paper,
        (false, false) => theme.table,
    }
}

pub(in crate::app::stage) fn order(
    ui: &Ui,
    cord: &Arc<Cord>,
    threads: Arc<[Thread]>,
    spot: Rect,
    ground: Color32,
) -> Order {
    let pixels = f64::from(ui.ctx().pixels_per_point());
    let size = spot.size() * pixels as f32;
    let thickness = cord
        .figures
        .thickness_on_disc
        .value
        .max(cord.figures.width_rested.value);
    Order {
        sitter: Sitter::Cord(Arc::clone(cord)),
        threads,
        scene: Scene {
            view: View {
                width: size.x.round() as usize,
                height: size.y.round() as usize,
                pixels_per_mm: 0.7 * f64::from(size.y) / thickness.max(0.1),
                start_mm: 0.0,
                roll: 0.0,
                centre_x: 0.0,
                centre_y: 0.47 * f64::from(size.y),
                bend: Bend::Straight,
            },
            ground: plain(&Theme::of(ui), ground),
        },
        age: Age::Now,
        traced: false,
    }
}

pub(in super::super) fn sample_picture(
    ui: &Ui,
    key: &str,
    order: Order,
    spot: Rect,
    easel: &mut Easel,
) {
    match easel.small(key, order) {
        Some(texture) => {
            let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            ui.painter().image(texture.id(), spot, uv, Color32::WHITE);
        }
        None => dotted(ui, spot),
    }
}

/// The sample's strands: all of one fibre, in the colours the design's strands
/// would have with these moves.
pub(in super::super) fn sample_threads(
    design: &Design,
    name: &str,
    moves: &MoveList,
) -> Arc<[Thread]> {
    let edit = Edit::Moves {
        structure: name.to_owned(),
        moves: moves.clone(),
    };
    let laid = edit.apply(design).unwrap_or_else(|_| design.clone());
    let Some(fibre) = on_shelf(PLAIN_FIBRE) else {
        return Arc::new([]);
    };
    laid.strands
        .iter()
        .map(|strand| {
            let colour = strand
                .parts
                .first()
                .map_or(fibre.colour, |part| part.colour);
            Thread::single(fibre.appearance, colour)
        })
        .collect()
}

/// A cord that is not solved yet.
pub(in crate::app::stage) fn dotted(ui: &Ui, spot: Rect) {
    let body = spot.shrink2(vec2(6.0, 8.0));
    let outline = stitch::rounded_outline(body, body.height() / 2.0);
    let theme = Theme::of(ui);
    ui.painter()
        .extend(stitch::dotted(&outline, 2.0, 7.0, theme.ink3));
}

/// A list that does not hold together.
pub(in super::super) fn slides(ui: &Ui, spot: Rect) {
    let theme = Theme::of(ui);
    Icon::Broken.paint(
        ui.painter(),
        spot.center() - vec2(70.0, 0.0),
        20.0,
        theme.stop,
    );
    ui.painter().text(
        spot.center() - vec2(52.0, 0.0),
        Align2::LEFT_CENTER,
        "does not lock",
        Role::Note.font(),
        theme.stop,
    );
}
