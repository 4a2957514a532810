//! A path of SVG cut into polylines.
//!
//! Absolute commands and the relative arc, as our own drawings use them. The
//! arc follows SVG 1.1, appendix F.6 (from end points to centre).

use eframe::egui::{Pos2, Vec2, pos2, vec2};

/// One line of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// Its corners.
    pub(super) points: Vec<Pos2>,
    /// Whether the last corner is joined to the first.
    pub(super) closed: bool,
}

/// Pieces a curve is cut into.
const PIECES: usize = 12;
/// Pieces an arc is cut into.
const ARC_PIECES: usize = 32;

/// The lines of a path.
///
/// Only ever given the drawings of this program, each of which a test reads: an
/// unknown command or a missing number panics.
pub(super) fn lines(text: &str) -> Vec<Line> {
    let mut pen = Pen::default();
    let mut rest = text;
    while let Some(command) = rest.chars().next() {
        let end = rest[1..]
            .find(|c: char| c.is_ascii_alphabetic())
            .map_or(rest.len(), |at| at + 1);
        pen.draw(command, &numbers(&rest[1..end]));
        rest = &rest[end..];
    }
    pen.lift();
    pen.lines
}

/// Numbers apart by blanks, commas, or the sign of the next.
fn numbers(text: &str) -> Vec<f32> {
    text.replace('-', " -")
        .split([' ', ','])
        .filter(|word| !word.is_empty())
        .map(|word| word.parse().expect("a number of our own drawing"))
        .collect()
}

#[derive(Default)]
struct Pen {
    lines: Vec<Line>,
    points: Vec<Pos2>,
    /// Where the last curve's handle stood.
    handle: Option<Pos2>,
}

impl Pen {
    fn at(&self) -> Pos2 {
        self.points.last().copied().unwrap_or_default()
    }

    fn lift(&mut self) {
        if self.points.len() > 1 {
            let points = std::mem::take(&mut self.points);
            self.lines.push(Line {
                points,
                closed: false,
            });
        }
        self.points.clear();
    }

    fn draw(&mut self, command: char, n: &[f32]) {
        let from = self.at();
        match command {
            'M' => {
                self.lift();
                self.points.push(pos2(n[0], n[1]));
            }
            'L' => self.points.push(pos2(n[0], n[1])),
            'H' => self.points.push(pos2(n[0], from.y)),
            'V' => self.points.push(pos2(from.x, n[0])),
            'Q' => self.curve(pos2(n[0], n[1]), pos2(n[2], n[3])),
            'T' => {
                let handle = self.handle.map_or(from, |h| from + (from - h));
                self.curve(handle, pos2(n[0], n[1]));
            }
            'A' => self.arc(vec2(n[0], n[1]), [n[3], n[4]], pos2(n[5], n[6])),
            'a' => self.arc(vec2(n[0], n[1]), [n[3], n[4]], from + vec2(n[5], n[6])),
            'Z' => self.close(),
            other => unreachable!("our drawings do not use {other}"),
        }
        if !matches!(command, 'Q' | 'T') {
            self.handle = None;
        }
    }

    fn close(&mut self) {
        let points = std::mem::take(&mut self.points);
        self.lines.push(Line {
            points,
            closed: true,
        });
    }

    fn curve(&mut self, handle: Pos2, to: Pos2) {
        let from = self.at();
        for piece in 1..=PIECES {
            let t = piece as f32 / PIECES as f32;
            let (a, b) = (from.lerp(handle, t), handle.lerp(to, t));
            self.points.push(a.lerp(b, t));
        }
        self.handle = Some(handle);
    }

    /// An arc without rotation of its axes; `flags` are the large and the sweep flag.
    fn arc(&mut self, radii: Vec2, flags: [f32; 2], to: Pos2) {
        let from = self.at();
        let (large, sweep) = (flags[0] > 0.5, flags[1] > 0.5);
        // In units of the radii the ellipse is a circle of radius one.
        let (a, b) = (from.to_vec2() / radii, to.to_vec2() / radii);
        let half = (b - a) / 2.0;
        let off = (1.0 - half.length_sq()).max(0.0).sqrt();
        let side = if large == sweep { -1.0 } else { 1.0 };
        let centre = a + half + side * off * half.normalized().rot90() * -1.0;
        let (start, end) = ((a - centre).angle(), (b - centre).angle());
        let turn = (end - start).rem_euclid(std::f32::consts::TAU);
        let turn = if sweep {
            turn
        } else {
            turn - std::f32::consts::TAU
        };
        for piece in 1..=ARC_PIECES {
            let angle = start + turn * piece as f32 / ARC_PIECES as f32;
            let point = (centre + Vec2::angled(angle)) * radii;
            self.points.push(point.to_pos2());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_nearly_closed_arc_is_a_circle() {
        let circle = &lines("M10 2a8 8 0 1 0 .01 0")[0];
        for point in &circle.points {
            let radius = point.distance(pos2(10.0, 10.0));
            assert!((radius - 8.0).abs() < 0.02, "{radius}");
        }
        let lowest = circle.points.iter().map(|p| p.y).fold(0.0, f32::max);
        assert!(lowest > 17.9, "only a part of the circle: {lowest}");
    }

    #[test]
    fn a_half_arc_bulges_to_the_side_of_its_sweep() {
        // From above to below, positive angles (y down, clockwise): to the right.
        let half = &lines("M0 0A2 2 0 0 1 0 4")[0];
        let widest = half.points.iter().map(|p| p.x).fold(0.0, f32::max);
        assert!((widest - 2.0).abs() < 0.02, "{widest}");
    }

    #[test]
    fn a_smooth_curve_mirrors_the_handle_before_it() {
        let wave = &lines("M0 0Q1 2 2 0T4 0")[0];
        let deepest = wave.points.iter().map(|p| p.y).fold(0.0, f32::min);
        assert!((deepest + 1.0).abs() < 0.02, "{deepest}");
    }

    #[test]
    fn a_new_place_lifts_the_pen() {
        assert_eq!(lines("M0 0H4M0 2V4Z").len(), 2);
        assert!(lines("M0 0L4 4V2Z")[0].closed);
    }
}
