//! Strands as swept tubes, and where a ray leaves them.
//!
//! The middle line is the Catmull-Rom curve through the nodes that the picture of the
//! cord follows too. A strand is what balls along it fill (ellipsoids with the section of
//! each place where sections are flat): its outermost point on a ray is the largest of
//! where the ray leaves each ball. That has one maximum on a short span of the curve, at
//! which the surface touches the ball: Newton's steps find it.

use super::span::{Hit, Ray, Span, Vec3, dot};
use crate::cord::Form;

/// Newton's steps at most; 3 do mostly.
const STEPS: usize = 24;
/// Spans followed at most.
const STRIDES: f64 = 24.0;
/// Shares of a span closer than this are one: the depth, at its largest there, is then off
/// by the square of it.
const CLOSE: f64 = 1e-3;

/// All strands of a cord.
#[derive(Debug, Clone)]
pub(super) struct Strands {
    pub(super) nodes: usize,
    pub(super) continues: Vec<usize>,
    pub(super) comes_from: Vec<usize>,
    /// `nodes` for each piece.
    pub(super) spans: Vec<Span>,
    pub(super) lift: f64,
    /// Radians.
    pub(super) turn: f64,
    /// Mean diameter, mm.
    pub(super) diameter: f64,
    /// Spans on a strand that bulge out together.
    pub(super) around: i64,
    /// Farthest step along a strand, in spans.
    stride: f64,
    /// Sine and cosine of the turn of repeats from `-NEAR` to `NEAR`.
    turns: Vec<(f64, f64)>,
}

/// Repeats whose turn is kept at hand.
const NEAR: i32 = 16;

/// One span in one of the repeats.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) span: usize,
    pub(super) level: i32,
}

/// Where a ray leaves a strand: on which span, and there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Met {
    pub(super) spot: Spot,
    pub(super) hit: Hit,
}

impl Strands {
    /// The strands of a form; none if it is no cord.
    pub(super) fn new(form: &Form) -> Option<Self> {
        let mut comes_from = vec![usize::MAX; form.strands];
        for (piece, &next) in form.continues.iter().enumerate() {
            *comes_from.get_mut(next)? = piece;
        }
        if !is_sound(form) || comes_from.contains(&usize::MAX) {
            return None;
        }
        let mut strands = Self {
            nodes: form.nodes,
            continues: form.continues.clone(),
            comes_from,
            spans: Vec::new(),
            lift: form.lift,
            turn: form.turn,
            diameter: 2.0 * form.radius.iter().sum::<f64>() / form.radius.len() as f64,
            around: 1,
            stride: 0.6,
            turns: (-NEAR..=NEAR)
                .map(|level| (form.turn * f64::from(level)).sin_cos())
                .collect(),
        };
        strands.spans = (0..form.points.len())
            .map(|at| strands.span(form, at))
            .collect();
        let bulge = strands.bulge();
        strands.around = bulge.ceil() as i64;
        strands.stride = 0.6 * bulge.max(1.0);
        Some(strands)
    }

    /// Node `by` after node `at` of its piece: its number and the repeat it lies in.
    fn node(&self, at: usize, by: isize) -> Spot {
        let nodes = self.nodes as isize;
        let (mut piece, q) = (at / self.nodes, (at % self.nodes) as isize + by);
        let level = q.div_euclid(nodes);
        for _ in 0..level.unsigned_abs() {
            let way = if level > 0 {
                &self.continues
            } else {
                &self.comes_from
            };
            piece = way[piece];
        }
        Spot {
            span: piece * self.nodes + q.rem_euclid(nodes) as usize,
            level: level as i32,
        }
    }

    /// The span before or after, in its repeat.
    pub(super) fn beside(&self, spot: Spot, by: isize) -> Spot {
        let next = self.node(spot.span, by);
        Spot {
            level: spot.level + next.level,
            ..next
        }
    }

    fn turned(&self, v: Vec3, level: i32) -> Vec3 {
        if level == 0 {
            return v;
        }
        let near = usize::try_from(level + NEAR).ok();
        let near = near.and_then(|at| self.turns.get(at).copied());
        let (sin, cos) = near.unwrap_or_else(|| (self.turn * f64::from(level)).sin_cos());
        [v[0] * cos - v[1] * sin, v[0] * sin + v[1] * cos, v[2]]
    }

    /// A point of level 0 as it lies in another repeat.
    pub(super) fn raised(&self, point: Vec3, level: i32) -> Vec3 {
        let mut point = self.turned(point, level);
        point[2] += self.lift * f64::from(level);
        point
    }

    /// A ray as it passes the repeat at level 0 that another is a copy of.
    pub(super) fn lowered(&self, ray: &Ray, level: i32) -> Ray {
        let mut from = self.turned(ray.from, -level);
        from[2] -= self.lift * f64::from(level);
        Ray {
            from,
            way: self.turned(ray.way, -level),
        }
    }

    fn span(&self, form: &Form, at: usize) -> Span {
        let nodes = [-1, 0, 1, 2].map(|by| self.node(at, by));
        let [a, b, c, d] = nodes.map(|node| self.raised(form.points[node.span], node.level));
        let mix =
            |w: [f64; 4]| [0, 1, 2].map(|k| w[0] * a[k] + w[1] * b[k] + w[2] * c[k] + w[3] * d[k]);
        let radius = [1, 2].map(|k: usize| form.radius[nodes[k].span]);
        let axis = [1, 2].map(|k: usize| self.turned(axis(form, nodes[k].span), nodes[k].level));
        let side = if dot(axis[0], axis[1]) < 0.0 {
            -1.0
        } else {
            1.0
        };
        let line = [
            b,
            mix([-0.5, 0.0, 0.5, 0.0]),
            mix([1.0, -2.5, 2.0, -0.5]),
            mix([-0.5, 1.5, -1.5, 0.5]),
        ];
        Span::new(
            line,
            [radius[0], radius[1] - radius[0]],
            [axis[0], [0, 1, 2].map(|k| side * axis[1][k] - axis[0][k])],
        )
    }

    /// The strand of the design that lies in a span.
    pub(super) fn strand(&self, spot: Spot) -> usize {
        self.comes_to(spot.span / self.nodes, i64::from(spot.level))
    }

    /// Number of a span on its strand.
    pub(super) fn number(&self, spot: Spot) -> i64 {
        i64::from(spot.level) * self.nodes as i64 + (spot.span % self.nodes) as i64
    }

    /// The strand that lies, so many repeats up, in the piece of a strand.
    pub(super) fn comes_to(&self, mut piece: usize, level: i64) -> usize {
        let way = if level > 0 {
            &self.comes_from
        } else {
            &self.continues
        };
        for _ in 0..level.unsigned_abs() {
            piece = way[piece];
        }
        piece
    }

    /// The repeats that reach into heights from 0 to one lift.
    pub(super) fn levels(&self) -> std::ops::RangeInclusive<i32> {
        let low = self
            .spans
            .iter()
            .map(|s| s.heights[0])
            .fold(f64::MAX, f64::min);
        let high = self
            .spans
            .iter()
            .map(|s| s.heights[1])
            .fold(f64::MIN, f64::max);
        let first = (-high / self.lift).floor().max(-MOST_LEVELS);
        let last = ((self.lift - low) / self.lift).ceil().min(MOST_LEVELS);
        first as i32..=last as i32
    }

    /// Where a ray leaves a strand near a place that it was met at close by: by Newton's steps
    /// along the strand, from span to span. What the ray misses it by, as `within` of a hit
    /// that is less than nothing, if it passes by.
    pub(super) fn follow(&self, ray: &Ray, start: Spot, along: f64) -> Result<Met, f64> {
        let mut spot = start;
        let mut lowered = self.lowered(ray, spot.level);
        // Spans from the beginning of the first one.
        let (mut far, mut passed) = (along, 0.0);
        let mut best: Option<(f64, Met)> = None;
        let mut most = self.stride;
        let mut missed = f64::NEG_INFINITY;
        for _ in 0..STEPS {
            let off = (far - passed).floor().clamp(-STRIDES, STRIDES);
            if off != 0.0 && far - passed != 1.0 {
                let next = self.beside(spot, off as isize);
                if next.level != spot.level {
                    lowered = self.lowered(ray, next.level);
                }
                spot = next;
                passed += off;
            }
            let along = far - passed;
            let probe = self.spans[spot.span].probe(&lowered, along);
            let last = far;
            missed = probe.within;
            match (probe.depth, best) {
                (depth, Some((at, met))) if depth.is_none_or(|depth| depth < met.hit.depth) => {
                    // Too far: half the way back.
                    most *= 0.5;
                    far = 0.5 * (far + at);
                }
                (depth, _) => {
                    if let Some(depth) = depth {
                        let within = probe.within;
                        let hit = Hit {
                            along,
                            depth,
                            within,
                        };
                        best = Some((far, Met { spot, hit }));
                    }
                    far = (far + probe.step.clamp(-most, most)).clamp(-STRIDES, STRIDES);
                }
            }
            if (far - last).abs() < CLOSE || probe.is_lost && best.is_none() {
                break;
            }
        }
        best.map(|(_, met)| met).ok_or(missed)
    }

    /// Spans on a strand as long as half a diameter.
    fn bulge(&self) -> f64 {
        let long = |span: &Span| dot(span.chord(), span.chord()).sqrt();
        let mean = self.spans.iter().map(long).sum::<f64>() / self.spans.len() as f64;
        (0.5 * self.diameter / mean.max(1e-9)).min(1e6)
    }
}

/// Most repeats that reach into one; more is no cord.
const MOST_LEVELS: f64 = 1000.0;

/// From half the wider side to the axis of [`Span`].
fn axis(form: &Form, at: usize) -> Vec3 {
    let Some(&wide) = form.wide.get(at) else {
        return [0.0; 3];
    };
    let long = dot(wide, wide).sqrt();
    let ratio = (long / form.radius[at]).clamp(1.0, 10.0);
    let length = (ratio * ratio - 1.0 / (ratio * ratio)).max(0.0).sqrt();
    wide.map(|v| v * length / long.max(1e-12))
}

/// Whether lengths and figures of a form make a cord.
fn is_sound(form: &Form) -> bool {
    let count = form.strands.saturating_mul(form.nodes);
    count > 0
        && form.points.len() == count
        && form.radius.len() == count
        && [0, count].contains(&form.wide.len())
        && form.continues.len() == form.strands
        && form
            .points
            .iter()
            .chain(&form.wide)
            .flatten()
            .all(|v| v.is_finite())
        && form.radius.iter().all(|&r| r.is_finite() && r > 0.0)
        && form.lift.is_finite()
        && form.lift > 0.0
        && form.turn.is_finite()
}
