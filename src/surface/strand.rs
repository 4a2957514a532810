//! Strands as swept tubes, and where a ray leaves them.
//!
//! The middle line is the Catmull-Rom curve through the nodes that the picture of the
//! cord follows too. A strand is what balls along it fill (ellipsoids with the section of
//! each place where sections are flat): its outermost point on a ray is the largest of
//! where the ray leaves each ball. That has one maximum on a short span of the curve, at
//! which the surface touches the ball: Newton's steps find it.

use crate::cord::Form;

pub(super) type Vec3 = [f64; 3];

pub(super) fn dot(a: Vec3, b: Vec3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn plus(a: Vec3, b: Vec3, times: f64) -> Vec3 {
    [0, 1, 2].map(|d| a[d] + times * b[d])
}

/// A level ray: from where, and which way (unit).
#[derive(Debug, Clone, Copy)]
pub(super) struct Ray {
    pub(super) from: Vec3,
    pub(super) way: Vec3,
}

/// The curve between two nodes.
#[derive(Debug, Clone)]
pub(super) struct Span {
    /// Factors of 1, u, u², u³.
    line: [Vec3; 4],
    /// Radius at the beginning, and what it grows by.
    radius: [f64; 2],
    /// Wider side of the section at the beginning, and what is added; its squared length is
    /// `w² - 1/w²` for a section `w` times as wide as its round.
    axis: [Vec3; 2],
    /// Lowest and highest place of its surface.
    pub(super) heights: [f64; 2],
    /// Its middle, and how far from there its surface reaches.
    pub(super) middle: Vec3,
    pub(super) reach: f64,
}

/// Where a ray leaves a strand: how far along the span, and how far along the ray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hit {
    pub(super) along: f64,
    pub(super) depth: f64,
}

/// What holds at one place of a span.
struct Probe {
    /// Where the ray leaves the ball; none if it passes by.
    depth: Option<f64>,
    /// Newton's step to the outermost ball, or to the one nearest to the ray if it passes by.
    step: f64,
}

/// Newton's steps at most; 3 do mostly.
const STEPS: usize = 12;
/// Shares of a span closer than this are one.
const CLOSE: f64 = 1e-7;

impl Span {
    fn point(&self, u: f64) -> Vec3 {
        let [a, b, c, d] = self.line;
        [0, 1, 2].map(|k| a[k] + u * (b[k] + u * (c[k] + u * d[k])))
    }

    fn probe(&self, ray: &Ray, u: f64) -> Probe {
        let [_, b, c, d] = self.line;
        let slope = [0, 1, 2].map(|k| b[k] + u * (2.0 * c[k] + u * 3.0 * d[k]));
        let bend = [0, 1, 2].map(|k| 2.0 * c[k] + u * 6.0 * d[k]);
        let (radius, grows) = (self.radius[0] + u * self.radius[1], self.radius[1]);
        let axis = plus(self.axis[0], self.axis[1], u);
        let square = dot(axis, axis);
        let root = (square * square + 4.0).sqrt();
        let wide = 0.5 * (square + root);
        // Twice the area of the section's metric: <x, y> = w² x·y - (a·x)(a·y).
        let metric = |x: Vec3, y: Vec3| wide * dot(x, y) - dot(axis, x) * dot(axis, y);
        let back = plus(ray.from, self.point(u), -1.0);
        let (two, one) = (metric(ray.way, ray.way), metric(back, ray.way));
        let none = metric(back, back) - radius * radius;
        let inside = one * one - two * none;
        if inside < 0.0 {
            let along = metric(slope, ray.way);
            let first = along * one / two - metric(back, slope) - radius * grows;
            let second = metric(slope, slope) - along * along / two - grows * grows;
            let step = if second > 0.0 {
                -first / second
            } else {
                -first.signum()
            };
            return Probe { depth: None, step };
        }
        let depth = (inside.sqrt() - one) / two;
        let out = plus(back, ray.way, depth);
        let widens = (1.0 + square / root) * dot(axis, self.axis[1]);
        let first = metric(out, slope) + dot(axis, out) * dot(self.axis[1], out)
            - 0.5 * widens * dot(out, out)
            + radius * grows;
        let second = metric(out, bend) - metric(slope, slope) + grows * grows;
        let step = if second < 0.0 {
            -first / second
        } else {
            0.3 * first.signum()
        };
        Probe {
            depth: Some(depth),
            step,
        }
    }

    /// The outermost point of this span's part of the strand on a ray.
    pub(super) fn hit(&self, ray: &Ray) -> Option<Hit> {
        let mut u = self.nearest(ray);
        let mut best: Option<Hit> = None;
        let mut most = 0.6;
        for _ in 0..STEPS {
            let probe = self.probe(ray, u);
            match (probe.depth, best) {
                (Some(depth), Some(hit)) if depth < hit.depth => {
                    // Too far: half the way back.
                    most *= 0.5;
                    if (u - hit.along).abs() < CLOSE {
                        break;
                    }
                    u = 0.5 * (u + hit.along);
                    continue;
                }
                (None, Some(hit)) => {
                    most *= 0.5;
                    if (u - hit.along).abs() < CLOSE {
                        break;
                    }
                    u = 0.5 * (u + hit.along);
                    continue;
                }
                (Some(depth), _) => best = Some(Hit { along: u, depth }),
                (None, None) => {}
            }
            let next = (u + probe.step.clamp(-most, most)).clamp(0.0, 1.0);
            if (next - u).abs() < CLOSE {
                break;
            }
            u = next;
        }
        best
    }

    /// Share of the chord that is nearest to the ray.
    fn nearest(&self, ray: &Ray) -> f64 {
        let [a, b, c, d] = self.line;
        let chord = [0, 1, 2].map(|k| b[k] + c[k] + d[k]);
        let back = plus(ray.from, a, -1.0);
        let along = dot(chord, ray.way);
        let first = dot(back, chord) - dot(back, ray.way) * along;
        let second = dot(chord, chord) - along * along;
        if second > 1e-12 {
            (first / second).clamp(0.0, 1.0)
        } else {
            0.5
        }
    }
}

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
}

/// One span in one of the repeats.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) span: usize,
    pub(super) level: i32,
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
        };
        strands.spans = (0..form.points.len())
            .map(|at| strands.span(form, at))
            .collect();
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
        let (sin, cos) = (self.turn * f64::from(level)).sin_cos();
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
        let mut span = Span {
            line,
            radius: [radius[0], radius[1] - radius[0]],
            axis: [axis[0], [0, 1, 2].map(|k| side * axis[1][k] - axis[0][k])],
            heights: [0.0; 2],
            middle: [0.0; 3],
            reach: 0.0,
        };
        let widest = axis
            .map(|a| widening(dot(a, a)))
            .into_iter()
            .fold(1.0, f64::max);
        span.bound(radius[0].max(radius[1]) * widest);
        span
    }

    /// The strand of the design that lies in a span.
    pub(super) fn strand(&self, spot: Spot) -> usize {
        self.comes_to(spot.span / self.nodes, i64::from(spot.level))
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

    /// Where a ray leaves a strand near a span that it was met on close by.
    pub(super) fn follow(&self, ray: &Ray, start: Spot) -> Option<f64> {
        let mut spot = start;
        let mut best: Option<f64> = None;
        let mut came = 0;
        for _ in 0..4 {
            let hit = self.spans[spot.span].hit(&self.lowered(ray, spot.level));
            best = match (hit, best) {
                (Some(hit), Some(depth)) => Some(depth.max(hit.depth)),
                (hit, best) => hit.map(|h| h.depth).or(best),
            };
            let by = match hit {
                Some(hit) if hit.along >= 1.0 - CLOSE => 1,
                Some(hit) if hit.along <= CLOSE => -1,
                Some(_) => break,
                None => match self.spans[spot.span].nearest(&self.lowered(ray, spot.level)) {
                    1.0 => 1,
                    0.0 => -1,
                    _ => break,
                },
            };
            if by == -came {
                break;
            }
            came = by;
            spot = self.beside(spot, by);
        }
        best
    }
}

/// Most repeats that reach into one; more is no cord.
const MOST_LEVELS: f64 = 1000.0;

/// How many times as wide as its round a section is whose axis has this squared length.
fn widening(square: f64) -> f64 {
    (0.5 * (square + (square * square + 4.0).sqrt())).sqrt()
}

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

impl Span {
    /// Sets what the span keeps within, given its widest half section.
    fn bound(&mut self, half: f64) {
        self.middle = self.point(0.5);
        let heights = [0.0, 0.25, 0.5, 0.75, 1.0].map(|u| self.point(u));
        let low = heights.iter().map(|p| p[2]).fold(f64::MAX, f64::min);
        let high = heights.iter().map(|p| p[2]).fold(f64::MIN, f64::max);
        // Between its five places the curve strays by little.
        let slack = 0.05 * (high - low);
        self.heights = [low - half - slack, high + half + slack];
        let away = |p: &Vec3| dot(plus(*p, self.middle, -1.0), plus(*p, self.middle, -1.0)).sqrt();
        self.reach = half + 1.05 * heights.iter().map(away).fold(0.0, f64::max);
    }
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
