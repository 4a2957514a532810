//! A strand from one node to the next, and where a ray leaves it.
//!
//! Balls along it are ellipsoids with the section of each place where sections are flat.
//! A ray that leaves one of them is told by Newton's step which way along the span it leaves
//! the others farther out; a ray that passes by, which way it comes nearer.

pub(super) type Vec3 = [f64; 3];

pub(super) fn dot(a: Vec3, b: Vec3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn plus(a: Vec3, b: Vec3, times: f64) -> Vec3 {
    [
        a[0] + times * b[0],
        a[1] + times * b[1],
        a[2] + times * b[2],
    ]
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
    /// Its middle.
    pub(super) middle: Vec3,
    /// The widest half section at its ends.
    widest: f64,
}

/// A short part of a span.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    /// Its middle, on the span and in space.
    pub(super) along: f64,
    pub(super) middle: Vec3,
    /// Radius of a ball that it keeps within, and of one that it holds.
    pub(super) within: f64,
    pub(super) ball: f64,
}

/// Longest part of a span, in diameters. Tried.
const SHORT: f64 = 0.12;
/// Most parts of a span.
const MOST_PARTS: f64 = 16.0;

/// Where a ray leaves a strand: how far along the span, and how far along the ray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hit {
    pub(super) along: f64,
    pub(super) depth: f64,
    /// Half the ray's way through the ball there, squared.
    pub(super) within: f64,
}

/// What holds at one place of a span.
pub(super) struct Probe {
    /// Where the ray leaves the ball; none if it passes by.
    pub(super) depth: Option<f64>,
    /// Half its way through the ball, squared; if it passes by, what that may come to, less
    /// than nothing.
    pub(super) within: f64,
    /// It passes by all balls near by.
    pub(super) is_lost: bool,
    /// Newton's step to the outermost ball, or to the one nearest to the ray if it passes by.
    pub(super) step: f64,
}

impl Span {
    fn point(&self, u: f64) -> Vec3 {
        let [a, b, c, d] = self.line;
        plus(a, plus(b, plus(c, d, u), u), u)
    }

    pub(super) fn probe(&self, ray: &Ray, u: f64) -> Probe {
        let [_, b, c, d] = self.line;
        let slope = plus(plus(b, c, 2.0 * u), d, 3.0 * u * u);
        let bend = plus(plus(c, c, 1.0), d, 6.0 * u);
        let (radius, grows) = (self.radius[0] + u * self.radius[1], self.radius[1]);
        let axis = plus(self.axis[0], self.axis[1], u);
        let square = dot(axis, axis);
        let is_round = square == 0.0;
        let root = if is_round {
            2.0
        } else {
            (square * square + 4.0).sqrt()
        };
        let wide = 0.5 * (square + root);
        // Twice the area of the section's metric: <x, y> = w² x·y - (a·x)(a·y).
        let metric = |x: Vec3, y: Vec3| {
            if is_round {
                dot(x, y)
            } else {
                wide * dot(x, y) - dot(axis, x) * dot(axis, y)
            }
        };
        let back = plus(ray.from, self.point(u), -1.0);
        let (two, one) = (metric(ray.way, ray.way), metric(back, ray.way));
        let none = metric(back, back) - radius * radius;
        let inside = one * one - two * none;
        if inside < 0.0 {
            let along = metric(slope, ray.way);
            let first = along * one / two - metric(back, slope) - radius * grows;
            let even = metric(slope, slope) - along * along / two - grows * grows;
            let bent = metric(back, bend) - one * metric(bend, ray.way) / two;
            return Probe::beside(inside, two, first, [even, bent]);
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
            within: inside,
            step,
            is_lost: false,
        }
    }

    /// From its beginning to its end.
    pub(super) fn chord(&self) -> Vec3 {
        let [_, b, c, d] = self.line;
        plus(plus(b, c, 1.0), d, 1.0)
    }
}

impl Probe {
    /// Where a ray passes by: with what is `within`, the metric of the ray's way, half the
    /// slope of the distance squared, and half its bend, of a straight strand and what it is
    /// less for its own.
    fn beside(within: f64, two: f64, first: f64, [even, bent]: [f64; 2]) -> Self {
        // Where the strand bends much towards the ray, steps as if it were straight.
        let second = if even - bent > 0.2 * even {
            even - bent
        } else {
            even
        };
        let step = if second > 0.0 {
            -first / second
        } else {
            -first.signum()
        };
        let gain = two * (first * step).abs();
        Self {
            depth: None,
            within: within + gain,
            step,
            is_lost: second > 0.0 && step.abs() < 0.5 && within + 4.0 * gain < 0.0,
        }
    }
}

impl Span {
    /// From the factors of its line, its radius and its axis (see [`Span`]).
    pub(super) fn new(line: [Vec3; 4], radius: [f64; 2], axis: [Vec3; 2]) -> Self {
        let ends = [axis[0], plus(axis[0], axis[1], 1.0)];
        let widest = ends.map(|a| widening(dot(a, a)));
        let mut span = Self {
            line,
            radius,
            axis,
            heights: [0.0; 2],
            middle: [0.0; 3],
            widest: 0.0,
        };
        span.bound(radius[0].max(radius[0] + radius[1]) * widest[0].max(widest[1]));
        span
    }

    /// Sets what the span keeps within, given its widest half section.
    fn bound(&mut self, half: f64) {
        self.middle = self.point(0.5);
        let heights = [0.0, 0.25, 0.5, 0.75, 1.0].map(|u| self.point(u));
        let low = heights.iter().map(|p| p[2]).fold(f64::MAX, f64::min);
        let high = heights.iter().map(|p| p[2]).fold(f64::MIN, f64::max);
        // Between its five places the curve strays by little.
        let slack = 0.05 * (high - low);
        self.heights = [low - half - slack, high + half + slack];
        self.widest = half;
    }

    /// Its parts, so short beside this diameter that a ball of each one's half section, and
    /// one that it keeps within, say much the same.
    pub(super) fn parts(&self, diameter: f64) -> Vec<Part> {
        let long = dot(self.chord(), self.chord()).sqrt();
        let count = (long / (SHORT * diameter)).ceil().clamp(1.0, MOST_PARTS);
        let part = |k: i32| self.part(f64::from(k) / count, 1.0 / count);
        (0..count as i32).map(part).collect()
    }

    fn part(&self, begin: f64, share: f64) -> Part {
        let along = begin + 0.5 * share;
        let middle = self.point(along);
        let axis = plus(self.axis[0], self.axis[1], along);
        let away = |part: f64| {
            let off = plus(self.point(begin + part * share), middle, -1.0);
            dot(off, off).sqrt()
        };
        // Between its places the curve strays by little.
        let strays = [0.0, 0.25, 0.75, 1.0]
            .map(away)
            .into_iter()
            .fold(0.0, f64::max);
        Part {
            along,
            middle,
            within: self.widest + 1.05 * strays,
            ball: (self.radius[0] + along * self.radius[1]) / widening(dot(axis, axis)),
        }
    }
}

/// How many times as wide as its round a section is whose axis has this squared length.
fn widening(square: f64) -> f64 {
    (0.5 * (square + (square * square + 4.0).sqrt())).sqrt()
}
