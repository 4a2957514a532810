//! How likely an explanation is: a word, a figure and the length of a bar.

use eframe::egui::{Painter, Rect, Stroke, StrokeKind, vec2};

use crate::app::stitch;
use crate::app::theme::Theme;

/// The word for a probability. The steps are our choice.
pub(super) fn word(probability: f64) -> &'static str {
    match probability {
        p if p >= 0.9 => "nearly sure",
        p if p >= 0.5 => "likely",
        p if p >= 0.1 => "possible",
        _ => "unlikely",
    }
}

/// In whole per cent, and never said to be certain or impossible.
pub(super) fn figure(probability: f64) -> String {
    let percent = 100.0 * probability;
    match percent {
        p if p < 1.0 => "under 1 %".to_owned(),
        p if p > 99.0 => "over 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// Its bar: as long as it is likely, hatched, in an outline as long as certainty.
pub(super) fn bar(painter: &Painter, rect: Rect, probability: f64, theme: &Theme) {
    let share = probability.clamp(0.0, 1.0) as f32;
    let least = rect.height() / rect.width();
    let filled = rect.with_max_x(rect.left() + rect.width() * share.max(least));
    let round = rect.height() / 2.0;
    painter.rect_filled(rect, round, theme.well);
    painter.rect_filled(filled, round, theme.soft);
    let inner = filled.shrink2(vec2(1.0, 1.0));
    painter.extend(stitch::hatch(inner, 4.0, Stroke::new(1.2, theme.ink2)));
    let edge = Stroke::new(1.0, theme.line2);
    painter.rect_stroke(rect, round, edge, StrokeKind::Inside);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_ever_certain_or_impossible() {
        assert_eq!(
            (word(1.0), figure(1.0)),
            ("nearly sure", "over 99 %".into())
        );
        assert_eq!((word(0.6), figure(0.6)), ("likely", "60 %".into()));
        assert_eq!((word(0.25), figure(0.25)), ("possible", "25 %".into()));
        assert_eq!((word(0.0), figure(0.0)), ("unlikely", "under 1 %".into()));
    }
}
