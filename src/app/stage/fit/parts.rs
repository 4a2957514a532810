//! The piece in its parts: end, cord, end; or a ring seen from its side.
//!
//! A scheme in the strands' colours: only the ring's thickness is to scale.

use eframe::egui::{
    self, Align2, Color32, Painter, Pos2, Rect, Role as Part, Sense, Shape, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use super::end::{BRASS, BRASS_LINE};
use super::{FitView, ends};
use crate::app::fonts::Role;
use crate::app::theme::Theme;
use crate::plan::{End, Measure};

/// The picture with its words.
pub(super) fn parts_ui(ui: &mut Ui, view: &FitView<'_>) {
    let ring = matches!(view.piece.measure, Measure::Round { .. });
    let tall = if ring { 96.0 } else { 46.0 };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), tall), Sense::hover());
    let spoken = if ring {
        ring_words(view)
    } else {
        row_words(view)
    };
    response.widget_info(|| WidgetInfo::labeled(Part::Image, true, &spoken));
    let theme = Theme::of(ui);
    if ring {
        ring_of(ui.painter(), rect, view, &theme);
    } else {
        row_of(ui.painter(), rect, view, &theme);
    }
}

fn row_words(view: &FitView<'_>) -> String {
    let [first, last] = view.piece.ends.map(ends::word);
    format!("the piece: {first}, cord, {last}")
}

fn ring_words(view: &FitView<'_>) -> String {
    let inside = view.long(view.piece.measure.bare());
    format!("the ring from its side, {inside} round inside")
}

/// End, cord, end in a row.
fn row_of(painter: &Painter, rect: Rect, view: &FitView<'_>, theme: &Theme) {
    let y = rect.top() + 16.0;
    let [first, last] = view.piece.ends;
    let wide = 24.0;
    let body = Rect::from_min_max(
        pos2(rect.left() + wide - 4.0, y - 7.0),
        pos2(rect.right() - wide + 4.0, y + 7.0),
    );
    band(painter, body, view, theme);
    finish(painter, pos2(rect.left(), y), wide, first, false, theme);
    finish(
        painter,
        pos2(rect.right() - wide, y),
        wide,
        last,
        true,
        theme,
    );
    let font = Role::Note.font();
    let foot = rect.top() + 38.0;
    let colour = theme.ink2;
    let put = |x: f32, align, words: &str| {
        painter.text(pos2(x, foot), align, words, font.clone(), colour);
    };
    put(rect.left(), Align2::LEFT_CENTER, ends::word(first));
    put(rect.right(), Align2::RIGHT_CENTER, ends::word(last));
    put(rect.center().x, Align2::CENTER_CENTER, "what is seen");
}

/// The cord as a band of its colours.
fn band(painter: &Painter, rect: Rect, view: &FitView<'_>, theme: &Theme) {
    let colours = colours(view, theme);
    let clipped = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let (step, lean) = (9.0, 9.0);
    let count = ((rect.width() + lean) / step).ceil() as usize;
    for k in 0..=count {
        let x = rect.left() - lean + k as f32 * step;
        let corners = [
            pos2(x, rect.top()),
            pos2(x + step, rect.top()),
            pos2(x + step + lean, rect.bottom()),
            pos2(x + lean, rect.bottom()),
        ];
        let fill = colours[k % colours.len()];
        let edge = Stroke::new(0.8, fill.lerp_to_gamma(Color32::BLACK, 0.35));
        clipped.add(Shape::convex_polygon(corners.to_vec(), fill, edge));
    }
    let edge = Stroke::new(1.0, theme.ink2);
    painter.rect_stroke(rect, 3.0, edge, StrokeKind::Inside);
}

fn colours(view: &FitView<'_>, theme: &Theme) -> Vec<Color32> {
    let all: Vec<_> = view.section.iter().map(|disc| disc.colour).collect();
    if all.is_empty() {
        vec![theme.line2]
    } else {
        all
    }
}

/// A small sign for how an end is finished.
fn finish(painter: &Painter, at: Pos2, wide: f32, end: End, is_last: bool, theme: &Theme) {
    let rect = Rect::from_min_size(at - vec2(0.0, 9.0), vec2(wide, 18.0));
    let line = Stroke::new(1.4, theme.ink);
    let (near, far) = if is_last {
        (rect.left(), rect.right())
    } else {
        (rect.right(), rect.left())
    };
    let middle = rect.center();
    match end {
        End::Cap | End::FlatCap { .. } | End::Crimp { .. } => {
            let edge = Stroke::new(1.2, BRASS_LINE);
            painter.rect(rect, 4.0, BRASS, edge, StrokeKind::Inside);
        }
        End::Knot { .. } => {
            painter.circle(middle, 10.0, theme.well, line);
            painter.line_segment([middle - vec2(7.0, 7.0), middle + vec2(7.0, 7.0)], line);
        }
        End::Tassel { .. } => {
            for k in -2..=2_i8 {
                let y = middle.y + f32::from(k) * 4.0;
                painter.line_segment([pos2(near, middle.y), pos2(far, y)], line);
            }
        }
        End::Loop { .. } => {
            painter.circle_stroke(middle, 8.0, Stroke::new(3.0, theme.ink2));
        }
        End::Button { .. } => {
            painter.circle(middle, 10.0, theme.well, line);
            for x in [-3.0, 3.0] {
                painter.circle_filled(middle + vec2(x, 0.0), 1.6, theme.ink);
            }
        }
        End::Bare => {
            painter.line_segment(
                [pos2(middle.x, rect.top()), pos2(middle.x, rect.bottom())],
                line,
            );
        }
    }
}

/// The closed ring, its thickness in true proportion to what it goes round.
fn ring_of(painter: &Painter, rect: Rect, view: &FitView<'_>, theme: &Theme) {
    let thick = view
        .figures
        .map_or(6.0, |figures| figures.thickness_rested.value);
    let inside = view.piece.measure.bare().max(1.0) / std::f64::consts::PI;
    let scale = f64::from(rect.height() - 4.0) / (inside + 2.0 * thick);
    let wide = (thick * scale) as f32;
    let radius = ((inside + thick) * scale / 2.0) as f32;
    let centre = pos2(rect.left() + radius + wide / 2.0 + 2.0, rect.center().y);
    let colours = colours(view, theme);
    let parts = 72_usize;
    let turn = std::f32::consts::TAU / parts as f32;
    let at = |k: f32, r: f32| centre + r * egui::Vec2::angled(k * turn);
    for k in 0..parts {
        let (from, to) = (k as f32, k as f32 + 1.0);
        let (inner, outer) = (radius - wide / 2.0, radius + wide / 2.0);
        let lean = 0.8;
        let corners = vec![
            at(from, inner),
            at(to, inner),
            at(to + lean, outer),
            at(from + lean, outer),
        ];
        let fill = colours[k % colours.len()];
        let edge = Stroke::new(0.7, fill.lerp_to_gamma(Color32::BLACK, 0.35));
        painter.add(Shape::convex_polygon(corners, fill, edge));
    }
    let line = Stroke::new(1.0, theme.ink2);
    for r in [radius - wide / 2.0, radius + wide / 2.0] {
        painter.circle_stroke(centre, r, line);
    }
    let closure = Rect::from_center_size(at(0.0, radius), vec2(wide + 5.0, 16.0));
    painter.rect(
        closure,
        3.0,
        BRASS,
        Stroke::new(1.2, BRASS_LINE),
        StrokeKind::Inside,
    );
    ring_labels(
        painter,
        pos2(centre.x + radius + wide / 2.0 + 16.0, rect.center().y),
        view,
        theme,
    );
}

/// How large it is inside and how thick its cord.
fn ring_labels(painter: &Painter, at: Pos2, view: &FitView<'_>, theme: &Theme) {
    let thick = view
        .figures
        .map_or(6.0, |figures| figures.thickness_rested.value);
    let put = |y: f32, said: String, role: Role, colour| {
        let at = at + vec2(0.0, y);
        painter.text(at, Align2::LEFT_CENTER, said, role.font(), colour);
    };
    let inside = view.long(view.piece.measure.bare());
    put(-18.0, "inside".to_owned(), Role::Note, theme.ink2);
    put(0.0, inside, Role::Value, theme.ink);
    put(
        18.0,
        format!("cord {}", view.length(thick)),
        Role::Note,
        theme.ink2,
    );
}
