//! A length of thread laid straight, as the lists show it.

use eframe::egui::{Color32, CornerRadius, Painter, Pos2, Rect, Stroke, StrokeKind, pos2, vec2};

use crate::app::theme::Theme;
use crate::material::Colour;

/// The colour as the window paints it.
pub(super) fn paint(colour: Colour) -> Color32 {
    let [r, g, b] = colour.0;
    Color32::from_rgb(r, g, b)
}

/// A thread in its colour with its twist, and an edge that shows on either ground.
pub(super) fn thread_bar(painter: &Painter, rect: Rect, colour: Color32, theme: &Theme) {
    let radius = CornerRadius::same((rect.height() / 2.5).min(5.0) as u8);
    painter.rect_filled(rect, radius, colour);
    let clipped = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let light = colour.lerp_to_gamma(Color32::WHITE, 0.16);
    let upper = Rect::from_min_max(
        rect.min,
        pos2(rect.right(), rect.top() + 0.4 * rect.height()),
    );
    clipped.rect_filled(upper, radius, light);
    let dark = Stroke::new(1.0, colour.lerp_to_gamma(Color32::BLACK, 0.3));
    let lean = 0.7 * rect.height();
    let mut x = rect.left() - lean;
    while x < rect.right() {
        let foot = pos2(x, rect.bottom());
        clipped.line_segment([foot, foot + vec2(lean, -rect.height())], dark);
        x += 5.0;
    }
    let edge = if theme.is_night() {
        colour.lerp_to_gamma(Color32::WHITE, 0.45)
    } else {
        colour.lerp_to_gamma(Color32::BLACK, 0.45)
    };
    painter.rect_stroke(rect, radius, Stroke::new(1.0, edge), StrokeKind::Inside);
}

/// A part of a thread that is left over: hatched, its colour only a breath.
pub(super) fn left_over(painter: &Painter, rect: Rect, colour: Color32, theme: &Theme) {
    let radius = CornerRadius::same((rect.height() / 2.5).min(5.0) as u8);
    painter.rect_filled(rect, radius, theme.paper.lerp_to_gamma(colour, 0.22));
    hatch(painter, rect, theme);
    painter.rect_stroke(
        rect,
        radius,
        Stroke::new(1.0, theme.ink2),
        StrokeKind::Inside,
    );
}

fn hatch(painter: &Painter, rect: Rect, theme: &Theme) {
    let clipped = painter.with_clip_rect(rect.shrink(1.0).intersect(painter.clip_rect()));
    let line = Stroke::new(1.1, theme.ink2);
    let lean = 0.5 * rect.height();
    let mut x = rect.left() - lean + 4.0;
    while x < rect.right() {
        let foot = pos2(x, rect.bottom());
        clipped.line_segment([foot, foot + vec2(lean, -rect.height())], line);
        x += 6.0;
    }
}

/// A small swatch of thread in a list, its left end at `at`.
pub(super) fn swatch(painter: &Painter, at: Pos2, colour: Color32, theme: &Theme) {
    let rect = Rect::from_min_size(at - vec2(0.0, 5.0), vec2(32.0, 10.0));
    thread_bar(painter, rect, colour, theme);
}
