//! The grammar of line: what is certain is drawn solid, what is estimated
//! hatched, what is guessed or still to come as dots and dashes.
//!
//! Stitches in the accent mean chosen; a solid ring standing off means that the
//! keyboard is here. All lengths in points. egui has no dashed outlines with
//! round ends, so they are cut here from polylines.

use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};

use super::theme::Theme;

/// A dashed line with round ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dashes {
    /// Width of the line.
    pub width: f32,
    /// Length of a dash between the centres of its round ends.
    pub dash: f32,
    /// Length of a gap between the same.
    pub gap: f32,
}

/// Stitches round what is chosen.
pub const CHOSEN: Dashes = Dashes {
    width: 2.0,
    dash: 7.0,
    gap: 5.0,
};

/// The edge of what is switched off.
pub const OFF: Dashes = Dashes {
    width: 1.0,
    dash: 2.0,
    gap: 3.0,
};

/// Stitches under a link.
pub const LINK: Dashes = Dashes {
    width: 1.3,
    dash: 3.0,
    gap: 2.6,
};

/// Width of the ring that shows where the keyboard is, and its distance.
const FOCUS: f32 = 2.0;
const FOCUS_OFF: f32 = 4.0;

/// Closed outline of a rounded rectangle, clockwise from its upper left.
pub fn rounded_outline(rect: Rect, radius: f32) -> Vec<Pos2> {
    let radius = radius.min(rect.width() / 2.0).min(rect.height() / 2.0);
    let steps = ((radius * 1.5) as usize).clamp(3, 40);
    let inner = rect.shrink(radius);
    let corners = [
        (inner.left_top(), 2),
        (inner.right_top(), 3),
        (inner.right_bottom(), 0),
        (inner.left_bottom(), 1),
    ];
    let mut points = Vec::with_capacity(4 * (steps + 1) + 1);
    for (centre, quarter) in corners {
        for step in 0..=steps {
            let turn = (quarter as f32 + step as f32 / steps as f32) * std::f32::consts::FRAC_PI_2;
            let point = centre + radius * Vec2::angled(turn);
            // Where two corners meet there is one point; two would make a spike.
            if points
                .last()
                .is_none_or(|last: &Pos2| last.distance(point) > 0.01)
            {
                points.push(point);
            }
        }
    }
    if points[0].distance(points[points.len() - 1]) > 0.01 {
        points.push(points[0]);
    }
    points
}

/// Closed outline of a circle.
pub fn circle_outline(centre: Pos2, radius: f32) -> Vec<Pos2> {
    rounded_outline(
        Rect::from_center_size(centre, Vec2::splat(2.0 * radius)),
        radius,
    )
}

/// Length of a polyline.
pub fn length(path: &[Pos2]) -> f32 {
    path.windows(2).map(|w| w[0].distance(w[1])).sum()
}

/// The part of a polyline between two distances from its beginning.
pub fn stretch(path: &[Pos2], from: f32, to: f32) -> Vec<Pos2> {
    let mut part = Vec::new();
    let mut walked = 0.0;
    for ends in path.windows(2) {
        let piece = ends[0].distance(ends[1]);
        let (start, end) = (walked, walked + piece);
        walked = end;
        if piece <= 0.0 || end < from {
            continue;
        }
        let at = |d: f32| ends[0].lerp(ends[1], ((d - start) / piece).clamp(0.0, 1.0));
        if part.is_empty() {
            part.push(at(from));
        }
        if end >= to {
            part.push(at(to));
            return part;
        }
        part.push(ends[1]);
    }
    part
}

/// Dashes along a polyline, the gap tuned so that a closed one meets itself.
pub fn dashed(path: &[Pos2], dashes: Dashes, colour: Color32) -> Vec<Shape> {
    let whole = length(path);
    let count = (whole / (dashes.dash + dashes.gap)).round().max(1.0);
    let step = whole / count;
    let dash = dashes.dash.min(0.8 * step);
    (0..count as usize)
        .flat_map(|k| {
            let from = k as f32 * step;
            thread(stretch(path, from, from + dash), dashes.width, colour)
        })
        .collect()
}

/// A solid line with round ends.
pub fn thread(path: Vec<Pos2>, width: f32, colour: Color32) -> Vec<Shape> {
    let ends = path.first().copied().zip(path.last().copied());
    let mut shapes = vec![Shape::line(path, Stroke::new(width, colour))];
    // Under a point and a half the round ends are smaller than a pixel.
    if let Some((first, last)) = ends.filter(|_| width > 1.5) {
        shapes.push(Shape::circle_filled(first, width / 2.0, colour));
        shapes.push(Shape::circle_filled(last, width / 2.0, colour));
    }
    shapes
}

/// Dots along a polyline, `gap` from centre to centre.
pub fn dotted(path: &[Pos2], size: f32, gap: f32, colour: Color32) -> Vec<Shape> {
    let whole = length(path);
    let count = (whole / gap).round().max(1.0);
    (0..=count as usize)
        .filter_map(|k| {
            let at = (k as f32 * whole / count).min(whole - 1e-3).max(0.0);
            let centre = *stretch(path, at, at + 1e-3).first()?;
            Some(Shape::circle_filled(centre, size / 2.0, colour))
        })
        .collect()
}

/// Stitches round something chosen, standing on the edge of `rect`.
pub fn choose(painter: &Painter, rect: Rect, radius: f32, theme: &Theme) {
    choose_part(painter, rect, radius, theme, 1.0);
}

/// The same while the thread still runs round; `share` of the way is sewn.
pub fn choose_part(painter: &Painter, rect: Rect, radius: f32, theme: &Theme, share: f32) {
    let path = rounded_outline(rect, radius);
    let mut shapes = dashed(&path, CHOSEN, theme.thread);
    let sewn = (shapes.len() as f32 * share.clamp(0.0, 1.0)).round() as usize;
    shapes.truncate(sewn);
    painter.extend(shapes);
}

/// The ring that shows where the keyboard is.
pub fn focus_ring(painter: &Painter, rect: Rect, radius: f32, theme: &Theme) {
    let ring = rect.expand(FOCUS_OFF - FOCUS / 2.0);
    let mut path = rounded_outline(ring, radius + FOCUS_OFF - FOCUS / 2.0);
    path.pop();
    painter.add(Shape::closed_line(path, Stroke::new(FOCUS, theme.thread)));
}

/// Slanted lines inside a bar with round ends, clipped to it.
pub fn hatch(bar: Rect, spacing: f32, stroke: Stroke) -> Vec<Shape> {
    let radius = bar.height() / 2.0;
    let reach = |y: f32| {
        let inner = bar.shrink(radius);
        let rise = (y - bar.center().y).abs().min(radius);
        let bulge = (radius * radius - rise * rise).max(0.0).sqrt();
        (inner.left() - bulge, inner.right() + bulge)
    };
    let mut lines = Vec::new();
    let mut x = bar.left() - bar.height();
    while x < bar.right() {
        let inside: Vec<Pos2> = (0..=12)
            .map(|k| k as f32 / 12.0)
            .map(|t| pos2(x, bar.bottom()) + t * vec2(bar.height(), -bar.height()))
            .filter(|p| (reach(p.y).0..=reach(p.y).1).contains(&p.x))
            .collect();
        if let (Some(first), Some(last)) = (inside.first(), inside.last()) {
            lines.push(Shape::line_segment([*first, *last], stroke));
        }
        x += spacing;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Rect {
        Rect::from_min_size(pos2(10.0, 10.0), vec2(100.0, 60.0))
    }

    #[test]
    fn an_outline_without_radius_is_as_long_as_the_sides() {
        let sides = length(&rounded_outline(square(), 0.0));
        assert!((sides - 320.0).abs() < 0.01, "{sides}");
    }

    #[test]
    fn rounding_takes_off_the_corners() {
        // Four corners of radius r: 8 r of side become 2 π r of arc.
        let sides = length(&rounded_outline(square(), 10.0));
        let expected = 320.0 - 80.0 + std::f32::consts::TAU * 10.0;
        assert!((sides - expected).abs() < 0.3, "{sides}, not {expected}");
    }

    #[test]
    fn a_stretch_has_the_length_asked_for() {
        let path = rounded_outline(square(), 12.0);
        let part = stretch(&path, 30.0, 130.0);
        assert!((length(&part) - 100.0).abs() < 0.01);
    }

    #[test]
    fn an_outline_ends_where_it_began_and_has_no_point_twice() {
        for radius in [0.0, 8.0, 30.0] {
            let path = rounded_outline(square(), radius);
            assert!(path[0].distance(path[path.len() - 1]) < 0.02, "{radius}");
            for pair in path.windows(2) {
                assert!(
                    pair[0].distance(pair[1]) > 0.01,
                    "radius {radius}: {pair:?}"
                );
            }
        }
    }

    #[test]
    fn dashes_close_evenly_round_an_outline() {
        let path = rounded_outline(square(), 8.0);
        let lines = dashed(&path, CHOSEN, Color32::RED)
            .into_iter()
            .filter(|shape| matches!(shape, Shape::Path(_)))
            .count();
        let expected = (length(&path) / 12.0).round() as usize;
        assert_eq!(lines, expected);
    }

    #[test]
    fn hatching_stays_inside_its_bar() {
        let bar = Rect::from_min_size(pos2(0.0, 0.0), vec2(40.0, 8.0));
        let lines = hatch(bar, 4.0, Stroke::new(1.0, Color32::BLACK));
        assert!(lines.len() > 8, "{} lines", lines.len());
        for line in lines {
            let rect = line.visual_bounding_rect();
            assert!(bar.expand(0.8).contains_rect(rect), "{rect:?}");
        }
    }
}
