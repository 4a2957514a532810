//! The way a bent cord's axis takes through the picture.
//!
//! Both curves are given by the length `s` along the axis from its middle,
//! where they run to the right, and turn to the left of their way: a circle of
//! radius `r`, and the catenary `y = a cosh(x / a)`, for which `s = a sinh(x /
//! a)`, so that `x = a asinh(s / a)`, `y = √(a² + s²)` and the bend is
//! `a / (a² + s²)`. (Textbook geometry.)
//!
//! A straight cord in view axes becomes a bent one: what lay `s` along the axis
//! and `y` beside it goes to the curve's place at `s` and `y` to its left. What
//! comes nearer to the eye does not change.

use super::path::Sample;
use super::run::Run;
use super::vector::{Vec3, vec3};
use crate::drawing::view::Bend;

/// A bent axis, lengths in strand diameters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Course {
    curve: Curve,
    pub(crate) length: f64,
    /// Half the width and half the height of the axis.
    half: (f64, f64),
    /// From the curve's own origin up to the middle of its height.
    raise: f64,
}

#[derive(Debug, Clone, Copy)]
enum Curve {
    /// A circle of this radius.
    Ring(f64),
    /// A catenary with this parameter, which is the radius at its lowest.
    Chain(f64),
    /// No bend at all, between two ends.
    Level,
}

/// A place on the axis: where, whither, and how much it bends to its left.
#[derive(Debug, Clone, Copy)]
struct Stand {
    at: (f32, f32),
    way: (f32, f32),
    bend: f32,
}

/// Sharpest bend of an axis: its radius over what the cord reaches inwards.
/// Sharper ones would push the inner side into itself. Our guess.
const SHARPEST: f64 = 1.25;

/// Gap between the ends of a loop, strand diameters: room for the ring of a
/// clasp. Our guess.
const GAP: f64 = 0.8;

/// Longest axis, strand diameters.
const LONGEST: f64 = 1e5;

impl Course {
    /// The axis of a cord that lies like this; none when it is straight.
    pub(crate) fn new(bend: Bend, run: &Run, roll: f64) -> Option<Self> {
        let units = |mm: f64| (mm / run.unit).clamp(0.0, LONGEST);
        let known = |mm: f64| mm.is_finite().then(|| units(mm));
        let inward = f64::from(run.inward(roll));
        match bend {
            Bend::Straight => None,
            Bend::Loop { inner_mm } => {
                let radius = 0.5 * known(inner_mm)? + inward;
                Some(Self::ring(radius.max(SHARPEST * inward)))
            }
            Bend::Hanging { worn_mm, span_mm } => {
                let (worn, span) = (known(worn_mm)?, known(span_mm)?);
                Some(Self::chain(worn.max(1e-3), span, SHARPEST * inward))
            }
        }
    }

    fn ring(radius: f64) -> Self {
        Self {
            curve: Curve::Ring(radius),
            length: (std::f64::consts::TAU * radius - GAP).max(GAP),
            half: (radius, radius),
            raise: 0.0,
        }
    }

    /// A chain of this length between ends `span` apart; they stand farther
    /// apart if it would else bend more sharply than `sharpest`.
    fn chain(length: f64, span: f64, sharpest: f64) -> Self {
        let Some(a) = parameter(length, span) else {
            return Self {
                curve: Curve::Level,
                length,
                half: (0.5 * length, 0.0),
                raise: 0.0,
            };
        };
        let (a, s) = (a.max(sharpest), 0.5 * length);
        let sag = a.hypot(s) - a;
        Self {
            curve: Curve::Chain(a),
            length,
            half: (a * (s / a).asinh(), 0.5 * sag),
            raise: a + 0.5 * sag,
        }
    }

    /// Half the width and the height of the axis.
    pub(crate) fn half(&self) -> (f32, f32) {
        (self.half.0 as f32, self.half.1 as f32)
    }

    fn stand(&self, from_start: f32) -> Stand {
        let s = f64::from(from_start) - 0.5 * self.length;
        let (x, y, way, bend) = match self.curve {
            Curve::Ring(r) => {
                let (sin, cos) = (s / r).sin_cos();
                (r * sin, -r * cos, (cos, sin), 1.0 / r)
            }
            Curve::Chain(a) => {
                let y = a.hypot(s);
                (a * (s / a).asinh(), y, (a / y, s / y), a / (y * y))
            }
            Curve::Level => (s, 0.0, (1.0, 0.0), 0.0),
        };
        Stand {
            at: (x as f32, (y - self.raise) as f32),
            way: (way.0 as f32, way.1 as f32),
            bend: bend as f32,
        }
    }

    /// Where a point of the straight cord comes to lie, from the middle of the
    /// whole piece.
    pub(crate) fn bent(&self, at: Vec3) -> Vec3 {
        self.stand(at.x).place(at)
    }

    /// A strand of the straight cord as it lies in the bent one, cut off at
    /// the ends; in more than one part when it passes an end more than once.
    pub(crate) fn lay(&self, straight: &[Sample]) -> Vec<Vec<Sample>> {
        let end = self.length as f32;
        let mut parts = Vec::new();
        for inside in cut(straight, |s| s.centre.x) {
            for part in cut(&inside, |s| end - s.centre.x) {
                parts.push(part.iter().map(|s| self.sample(s)).collect());
            }
        }
        parts
    }

    fn sample(&self, s: &Sample) -> Sample {
        let stand = self.stand(s.centre.x);
        // The inner side is shorter than the axis, the outer one longer.
        let stretch = 1.0 - stand.bend * s.centre.y;
        let t = s.tangent;
        let tangent = stand.direction(vec3(t.x * stretch, t.y, t.z)).unit();
        let square = |v: Vec3| stand.direction(v).square_to(tangent).unit();
        Sample {
            centre: stand.place(s.centre),
            tangent,
            across: square(s.across),
            outward: square(s.outward),
            ..*s
        }
    }
}

impl Stand {
    fn place(&self, v: Vec3) -> Vec3 {
        let ((x, y), (along, up)) = (self.at, self.way);
        vec3(x - up * v.y, y + along * v.y, v.z)
    }

    fn direction(&self, v: Vec3) -> Vec3 {
        let (along, up) = self.way;
        vec3(along * v.x - up * v.y, up * v.x + along * v.y, v.z)
    }
}

/// Parameter of the catenary of this length between ends of one height; none
/// when it hangs straight. With `u = span / 2 a` it is `sinh u / u = length /
/// span`, which rises with `u`.
fn parameter(length: f64, span: f64) -> Option<f64> {
    let ratio = length / span.max(1e-3);
    if ratio < 1.0 + 1e-6 {
        return None;
    }
    // sinh u / u passes any length over any span of a picture before 40.
    let (mut low, mut high) = (0.0, 40.0);
    for _ in 0..60 {
        let u = f64::midpoint(low, high);
        if u.sinh() / u < ratio {
            low = u;
        } else {
            high = u;
        }
    }
    Some(0.5 * span.max(1e-3) / high)
}

/// The stretches of a strand where `inside` is not under nought, with samples
/// just where it is nought.
fn cut(samples: &[Sample], inside: impl Fn(&Sample) -> f32) -> Vec<Vec<Sample>> {
    let mut parts: Vec<Vec<Sample>> = vec![Vec::new()];
    for (i, sample) in samples.iter().enumerate() {
        let here = inside(sample);
        if let Some(before) = i.checked_sub(1).map(|i| &samples[i]) {
            let there = inside(before);
            if (there < 0.0) != (here < 0.0) {
                let border = before.towards(sample, there / (there - here));
                parts.last_mut().expect("begun with one").push(border);
                if here < 0.0 {
                    parts.push(Vec::new());
                }
            }
        }
        if here >= 0.0 {
            parts.last_mut().expect("begun with one").push(*sample);
        }
    }
    parts.retain(|part| part.len() > 1);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    fn run() -> Run {
        Run::new(&rope(3, 12, 1.0)).unwrap()
    }

    fn hanging(worn_mm: f64, span_mm: f64) -> Course {
        Course::new(Bend::Hanging { worn_mm, span_mm }, &run(), 0.0).unwrap()
    }

    /// Places along the axis, ends included.
    fn axis(course: &Course) -> Vec<Vec3> {
        let at = |k: usize| course.length as f32 * k as f32 / 2000.0;
        let point = |k| course.bent(vec3(at(k), 0.0, 0.0));
        (0..=2000).map(point).collect()
    }

    #[test]
    fn a_hanging_cord_is_as_long_as_asked_and_its_ends_as_far_apart() {
        for (worn, span) in [(450.0, 140.0), (600.0, 180.0), (300.0, 290.0)] {
            let course = hanging(worn, span);
            let points = axis(&course);
            let steps = points.windows(2).map(|w| f64::from((w[1] - w[0]).length()));
            let long: f64 = steps.sum();
            assert!((long / worn - 1.0).abs() < 1e-3, "{long} for {worn}");
            let (first, last) = (points[0], points[2000]);
            let apart = f64::from(last.x - first.x);
            assert!((apart / span - 1.0).abs() < 1e-3, "{apart} for {span}");
            assert!((first.y - last.y).abs() < 1e-3, "ends at one height");
        }
    }

    /// Anchored at the ends, sag against span: `sag = a (cosh(span / 2 a) - 1)`.
    #[test]
    fn a_hanging_cord_sags_as_a_catenary() {
        let course = hanging(200.0, 100.0);
        let (wide, high) = course.half();
        let points = axis(&course);
        let sag = f64::from(points[0].y - points[1000].y);
        assert!((sag - 2.0 * f64::from(high)).abs() < 1e-2);
        assert!((wide - 50.0).abs() < 1e-2, "{wide}");
        // The parameter from sag and half the length: (s² - h²) / 2 h.
        let a = (100.0 * 100.0 - sag * sag) / (2.0 * sag);
        let expected = a * ((50.0 / a).cosh() - 1.0);
        assert!((sag / expected - 1.0).abs() < 1e-3, "{sag} {expected}");
    }

    #[test]
    fn a_cord_no_longer_than_its_span_hangs_straight() {
        let course = hanging(100.0, 140.0);
        assert!(axis(&course).iter().all(|p| p.y == 0.0));
        assert_eq!(course.half(), (50.0, 0.0));
    }

    #[test]
    fn no_axis_bends_more_sharply_than_the_cord_is_thick() {
        let reach = f64::from(run().reach);
        for bend in [
            Bend::Loop { inner_mm: 0.0 },
            Bend::Hanging {
                worn_mm: 50.0,
                span_mm: 0.0,
            },
        ] {
            let course = Course::new(bend, &run(), 0.0).unwrap();
            for k in 0..=100 {
                let stand = course.stand(course.length as f32 * k as f32 / 100.0);
                assert!(f64::from(stand.bend) * reach < 0.81, "{bend:?}");
            }
        }
    }

    #[test]
    fn figures_that_are_no_numbers_leave_the_cord_straight() {
        let nan = f64::NAN;
        let strange = [
            Bend::Loop { inner_mm: nan },
            Bend::Hanging {
                worn_mm: nan,
                span_mm: 1.0,
            },
        ];
        assert!(
            strange
                .iter()
                .all(|b| Course::new(*b, &run(), 0.0).is_none())
        );
    }
}
