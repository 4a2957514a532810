//! Fillings drawn along a strand, dark on light thread and light on dark.

use eframe::egui::{Color32, Painter, Pos2, Shape, Stroke, Vec2};

use super::stitch;
use crate::drawing::Filling;
use crate::material::Colour;

/// Thinner strands than this are not filled, points: it would be a smear.
const LEAST: f32 = 4.0;

/// Fills in a strand of this colour, `width` wide, along `path`.
pub(super) fn fill(painter: &Painter, path: &[Pos2], width: f32, filling: Filling, thread: Colour) {
    if width < LEAST || stitch::length(path) < 0.5 * width {
        return;
    }
    let [r, g, b] = thread.ink().0;
    let ink = Color32::from_rgb(r, g, b).gamma_multiply(0.85);
    let line = Stroke::new((0.11 * width).clamp(1.0, 2.4), ink);
    painter.extend(match filling {
        Filling::Solid => Vec::new(),
        Filling::Hatched => slanted(path, width, line, &[1.0]),
        Filling::CrossHatched => slanted(path, width, line, &[1.0, -1.0]),
        Filling::Dotted => dots(path, width, ink),
        Filling::Striped => along(path, &[-0.24 * width, 0.24 * width], line),
        Filling::Open => along(path, &[0.0], Stroke::new(0.42 * width, ink)),
    });
}

/// Points along a path every `apart`, with the way there.
fn walk(path: &[Pos2], apart: f32) -> Vec<(Pos2, Vec2)> {
    let mut points = Vec::new();
    let mut next = 0.5 * apart;
    for pair in path.windows(2) {
        let piece = pair[0].distance(pair[1]);
        if piece <= 0.0 {
            continue;
        }
        let way = (pair[1] - pair[0]) / piece;
        while next <= piece {
            points.push((pair[0] + next * way, way));
            next += apart;
        }
        next -= piece;
    }
    points
}

/// Lines across it, leaning by half its width.
fn slanted(path: &[Pos2], width: f32, line: Stroke, ways: &[f32]) -> Vec<Shape> {
    let across = |(at, way): (Pos2, Vec2), lean: f32| {
        let half = 0.46 * width * way.rot90() + 0.3 * lean * width * way;
        Shape::line_segment([at - half, at + half], line)
    };
    let points = walk(path, 0.7 * width);
    let both = points
        .iter()
        .flat_map(|&point| ways.iter().map(move |&lean| (point, lean)));
    both.map(|(point, lean)| across(point, lean)).collect()
}

fn dots(path: &[Pos2], width: f32, ink: Color32) -> Vec<Shape> {
    let points = walk(path, 0.8 * width);
    let dot = |(at, _): (Pos2, Vec2)| Shape::circle_filled(at, 0.2 * width, ink);
    points.into_iter().map(dot).collect()
}

/// Lines along it, so far to the side.
fn along(path: &[Pos2], aside: &[f32], line: Stroke) -> Vec<Shape> {
    let moved = |aside: f32| {
        let side = |k: usize| {
            let (before, after) = (k.saturating_sub(1), (k + 1).min(path.len() - 1));
            path[k] + aside * (path[after] - path[before]).normalized().rot90()
        };
        Shape::line((0..path.len()).map(side).collect(), line)
    };
    aside.iter().map(|&aside| moved(aside)).collect()
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;

    #[test]
    fn points_stand_evenly_along_a_bent_path() {
        let path = [
            pos2(0.0, 0.0),
            pos2(7.0, 0.0),
            pos2(7.0, 0.0),
            pos2(7.0, 8.0),
        ];
        let points = walk(&path, 5.0);
        let at: Vec<Pos2> = points.iter().map(|(at, _)| *at).collect();
        assert_eq!(at, [pos2(2.5, 0.0), pos2(7.0, 0.5), pos2(7.0, 5.5)]);
        assert_eq!(points[1].1, Vec2::new(0.0, 1.0));
    }
}
