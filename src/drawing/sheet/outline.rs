//! Outlines in millimetres: lines, curves and the few figures made of them.
//!
//! `x` to the right, `y` down.

use std::f64::consts::{FRAC_PI_2, TAU};

/// How far the handles of a quarter round lie from its ends, in radii: the curve is
/// then nowhere off the round by more than 3 parts in 10,000.
const QUARTER: f64 = 0.552_284_75;

/// One step of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Step {
    /// Begins a part here.
    To([f64; 2]),
    /// Straight to here.
    Line([f64; 2]),
    /// By two handles to here.
    Curve([[f64; 2]; 3]),
    /// Back to where the part began.
    Close,
}

/// An outline of one or several parts.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Outline {
    pub(crate) steps: Vec<Step>,
}

impl Outline {
    /// Through these points.
    pub(crate) fn line(points: &[[f64; 2]]) -> Self {
        let mut line = Self::default();
        line.part(points, false);
        line
    }

    /// Round these points and back.
    pub(crate) fn ring(points: &[[f64; 2]]) -> Self {
        let mut ring = Self::default();
        ring.part(points, true);
        ring
    }

    /// A part more.
    pub(crate) fn part(&mut self, points: &[[f64; 2]], closed: bool) {
        for (i, &point) in points.iter().enumerate() {
            self.steps.push(match i {
                0 => Step::To(point),
                _ => Step::Line(point),
            });
        }
        if closed {
            self.steps.push(Step::Close);
        }
    }

    /// A box from its upper left corner.
    pub(crate) fn rect([x, y]: [f64; 2], [wide, high]: [f64; 2]) -> Self {
        let (right, low) = (x + wide, y + high);
        Self::ring(&[[x, y], [right, y], [right, low], [x, low]])
    }

    /// A box with round corners.
    pub(crate) fn rounded([x, y]: [f64; 2], [wide, high]: [f64; 2], radius: f64) -> Self {
        let r = radius.min(wide / 2.0).min(high / 2.0);
        let corners = [
            ([x + wide - r, y + r], 0.0),
            ([x + wide - r, y + high - r], FRAC_PI_2),
            ([x + r, y + high - r], 2.0 * FRAC_PI_2),
            ([x + r, y + r], 3.0 * FRAC_PI_2),
        ];
        let mut rounded = Self::default();
        for (middle, from) in corners {
            rounded.arc(middle, r, from - FRAC_PI_2, from);
        }
        rounded.steps.push(Step::Close);
        rounded
    }

    /// A round.
    pub(crate) fn circle(middle: [f64; 2], radius: f64) -> Self {
        let mut circle = Self::default();
        circle.arc(middle, radius, 0.0, TAU);
        circle.steps.push(Step::Close);
        circle
    }

    /// Goes on along a part of a round, from and to an angle clockwise from the right;
    /// straight to where it begins.
    pub(crate) fn arc(&mut self, middle: [f64; 2], radius: f64, from: f64, to: f64) {
        let at = |angle: f64, far: f64| {
            [
                middle[0] + radius * far * angle.cos(),
                middle[1] + radius * far * angle.sin(),
            ]
        };
        let first = at(from, 1.0);
        self.steps.push(match self.steps.last() {
            None | Some(Step::Close) => Step::To(first),
            Some(_) => Step::Line(first),
        });
        let parts = ((to - from).abs() / FRAC_PI_2).ceil().max(1.0);
        let each = (to - from) / parts;
        let handle = QUARTER * each / FRAC_PI_2;
        let mut angle = from;
        for _ in 0..parts as usize {
            let next = angle + each;
            let (a, b) = (at(angle, 1.0), at(next, 1.0));
            let out = |p: [f64; 2], angle: f64, way: f64| {
                [
                    p[0] - way * handle * radius * angle.sin(),
                    p[1] + way * handle * radius * angle.cos(),
                ]
            };
            self.steps
                .push(Step::Curve([out(a, angle, 1.0), out(b, next, -1.0), b]));
            angle = next;
        }
    }

    /// A strip of this width round the way between two points, with round ends.
    pub(crate) fn capsule(from: [f64; 2], to: [f64; 2], width: f64) -> Self {
        let angle = (to[1] - from[1]).atan2(to[0] - from[0]);
        let mut capsule = Self::default();
        capsule.arc(to, width / 2.0, angle - FRAC_PI_2, angle + FRAC_PI_2);
        let back = angle + 2.0 * FRAC_PI_2;
        capsule.arc(from, width / 2.0, back - FRAC_PI_2, back + FRAC_PI_2);
        capsule.steps.push(Step::Close);
        capsule
    }

    /// All of it elsewhere.
    pub(crate) fn shift(&mut self, by: [f64; 2]) {
        let moved = |p: &mut [f64; 2]| {
            p[0] += by[0];
            p[1] += by[1];
        };
        for step in &mut self.steps {
            match step {
                Step::To(p) | Step::Line(p) => moved(p),
                Step::Curve(points) => points.iter_mut().for_each(moved),
                Step::Close => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ends(outline: &Outline) -> Vec<[f64; 2]> {
        let end = |step: &Step| match step {
            Step::To(p) | Step::Line(p) | Step::Curve([_, _, p]) => Some(*p),
            Step::Close => None,
        };
        outline.steps.iter().filter_map(end).collect()
    }

    #[test]
    fn every_point_of_a_round_is_as_far_from_its_middle() {
        for point in ends(&Outline::circle([3.0, 4.0], 2.0)) {
            let far = (point[0] - 3.0).hypot(point[1] - 4.0);
            assert!((far - 2.0).abs() < 1e-12, "{far}");
        }
    }

    #[test]
    fn a_rounded_box_keeps_to_its_sides() {
        let rounded = Outline::rounded([1.0, 2.0], [4.0, 3.0], 0.5);
        let (xs, ys): (Vec<f64>, Vec<f64>) = ends(&rounded).iter().map(|p| (p[0], p[1])).unzip();
        let span = |v: &[f64]| {
            let least = v.iter().copied().fold(f64::INFINITY, f64::min);
            (least, v.iter().copied().fold(f64::NEG_INFINITY, f64::max))
        };
        assert_eq!(span(&xs), (1.0, 5.0));
        assert_eq!(span(&ys), (2.0, 5.0));
    }

    #[test]
    fn a_capsule_is_as_wide_as_it_is_asked_to_be() {
        let capsule = Outline::capsule([0.0, 0.0], [10.0, 0.0], 3.0);
        let most = ends(&capsule)
            .iter()
            .map(|p| p[1].abs())
            .fold(0.0, f64::max);
        assert!((most - 1.5).abs() < 1e-12);
    }
}
