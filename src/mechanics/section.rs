//! Oval sections of strands, and how far two of them lie apart.
//!
//! Letters: `r` radius of the round of equal area, `w` the *axis* of a section: a
//! vector along its wider side, square to the strand, nothing where it is round (`w` and
//! `-w` are one section), `q = |w|²`, `n` a direction of length one.
//!
//! A node is an ellipsoid `S = r² (β + w wᵀ)`. With `β (β + q) = 1`, so that
//! `β = 2 / (q + √(q² + 4))`, the half-widths of the section are `a = r / √β` along `w` and
//! `b = r √β` across, and its area `π a b` is that of the round, whatever `w` is. The same
//! `b` lies along the strand, where neighbouring nodes hide it. Everything is smooth in
//! `w`, at the round too.
//!
//! Half as wide along `n` as `h(n) = √(nᵀ S n)`, two nodes with `d` between them are
//! apart if for some `n` `d·n` is more than both half-widths. Their *share*
//! `t = max d·n / (h_A + h_B)` is the distance of balls over the sum of their radii, and one
//! where they touch, as for balls. By Cauchy's inequality
//! `t² = max over 0 < λ < 1 of dᵀ (S_A / λ + S_B / (1 - λ))⁻¹ d`, a concave function
//! of one number (Perram and Wertheim, *J. Comput. Phys.* 58 (1985) 409).
//!
//! Knows neither strands nor forces.

use super::segments::{Vector, dot, norm};

/// A symmetric matrix: its entries xx, yy, zz, xy, xz, yz.
pub(super) type Tensor = [f64; 6];

/// Newton's steps for `λ`; four do as a rule.
const MOST_STEPS: usize = 40;

/// A step of `λ` so short leaves an error of its square.
const SETTLED: f64 = 1e-8;

/// A node with its section.
#[derive(Debug, Clone, Copy)]
pub(super) struct Oval {
    radius: f64,
    axis: Vector,
    /// `β`.
    round: f64,
    long: f64,
}

impl Oval {
    pub(super) fn new(radius: f64, axis: Vector) -> Self {
        let q = dot(axis, axis);
        let round = 2.0 / (q + root(q));
        Self {
            radius,
            axis,
            round,
            long: radius / round.sqrt(),
        }
    }

    /// Half the width along `n`.
    pub(super) fn half_width(&self, n: Vector) -> f64 {
        self.radius * (self.round + dot(self.axis, n).powi(2)).sqrt()
    }

    /// Derivative of [`Self::half_width`] by the axis.
    pub(super) fn half_width_by_axis(&self, n: Vector) -> Vector {
        let along = dot(self.axis, n);
        let q = dot(self.axis, self.axis);
        let rounder = -self.round / root(q);
        let scale = self.radius / (self.round + along * along).sqrt();
        std::array::from_fn(|k| scale * (rounder * self.axis[k] + along * n[k]))
    }

    /// The same turned about z.
    pub(super) fn turned(&self, angle: f64) -> Self {
        Self {
            axis: super::tubes::screwed(self.axis, 0.0, angle),
            ..*self
        }
    }

    /// Half the wider side.
    pub(super) fn long(&self) -> f64 {
        self.long
    }

    /// Half the narrower side.
    pub(super) fn short(&self) -> f64 {
        self.radius * self.round.sqrt()
    }

    /// The axis, as long as half the wider side; none of a round section.
    pub(super) fn long_axis(&self) -> Vector {
        let length = norm(self.axis);
        let scale = if length > 0.0 {
            self.long() / length
        } else {
            0.0
        };
        self.axis.map(|x| scale * x)
    }

    /// `S`.
    pub(super) fn tensor(&self) -> Tensor {
        let [x, y, z] = self.axis;
        let square = self.radius * self.radius;
        let even = self.round;
        [
            even + x * x,
            even + y * y,
            even + z * z,
            x * y,
            x * z,
            y * z,
        ]
        .map(|e| square * e)
    }
}

fn root(q: f64) -> f64 {
    (q * q + 4.0).sqrt()
}

/// How much further than round a section of axis `w` is wide: `ln (a / r)`, and its
/// first derivative by `q`.
pub(super) fn widening(q: f64) -> (f64, f64) {
    (0.5 * (0.5 * q).asinh(), 0.5 / root(q))
}

/// `q` of a section so many times as wide as the round one.
pub(super) fn axis_square(wider: f64) -> f64 {
    (wider * wider - 1.0 / (wider * wider)).max(0.0)
}

/// The axes in the limit of hard contacts, no longer than the longest there are.
pub(super) fn axes_beyond(firm: &[[f64; 3]], firmer: &[[f64; 3]]) -> Vec<[f64; 3]> {
    let longest = firmer.iter().map(|&w| norm(w)).fold(0.0, f64::max);
    let beyond = |(a, b): (&[f64; 3], &[f64; 3])| {
        let side = if dot(*a, *b) < 0.0 { -1.0 } else { 1.0 };
        let w: [f64; 3] = std::array::from_fn(|k| 2.0 * b[k] - side * a[k]);
        let shorter = (longest / norm(w).max(f64::MIN_POSITIVE)).min(1.0);
        w.map(|x| shorter * x)
    };
    firm.iter().zip(firmer).map(beyond).collect()
}

/// The direction from `a` to `b` along which they lie farthest apart, `d` between their
/// middles.
pub(super) fn way_apart(a: &Oval, b: &Oval, d: Vector) -> Vector {
    let (first, second) = (a.tensor(), b.tensor());
    let straight = d.map(|x| x / norm(d));
    let (h, g) = (a.half_width(straight), b.half_width(straight));
    let mut share = h / (h + g);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..MOST_STEPS {
        let look = Look::at(&first, &second, d, share);
        if look.slope > 0.0 {
            low = share;
        } else {
            high = share;
        }
        let step = look.slope / look.curve;
        if look.curve < 0.0 && step.abs() < SETTLED {
            share -= step;
            break;
        }
        let next = share - step;
        share = if look.curve < 0.0 && next > low && next < high {
            next
        } else {
            f64::midpoint(low, high)
        };
    }
    let far = solved(&mixed(&first, &second, share), d);
    let length = norm(far);
    far.map(|x| x / length)
}

/// `t²` as a function of `λ`: its first and second derivative.
struct Look {
    slope: f64,
    curve: f64,
}

impl Look {
    fn at(a: &Tensor, b: &Tensor, d: Vector, share: f64) -> Self {
        let rest = 1.0 - share;
        let both = inverse(&mixed(a, b, share));
        let x = times(&both, d);
        let (of_a, of_b) = (times(a, x), times(b, x));
        let (by_a, by_b) = (1.0 / (share * share), 1.0 / (rest * rest));
        let change: Vector = std::array::from_fn(|k| by_b * of_b[k] - by_a * of_a[k]);
        let (h, g) = (dot(x, of_a), dot(x, of_b));
        let bend = 2.0 * (by_a * h / share + by_b * g / rest);
        Self {
            slope: -dot(x, change),
            curve: 2.0 * dot(change, times(&both, change)) - bend,
        }
    }
}

fn mixed(a: &Tensor, b: &Tensor, share: f64) -> Tensor {
    let (of_a, of_b) = (1.0 / share, 1.0 / (1.0 - share));
    std::array::from_fn(|k| of_a * a[k] + of_b * b[k])
}

fn times([xx, yy, zz, xy, xz, yz]: &Tensor, v: Vector) -> Vector {
    [
        xx * v[0] + xy * v[1] + xz * v[2],
        xy * v[0] + yy * v[1] + yz * v[2],
        xz * v[0] + yz * v[1] + zz * v[2],
    ]
}

/// The answer of a positive definite matrix.
pub(super) fn solved(matrix: &Tensor, v: Vector) -> Vector {
    times(&inverse(matrix), v)
}

/// By cofactors.
fn inverse([xx, yy, zz, xy, xz, yz]: &Tensor) -> Tensor {
    let (a, b, c) = (yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy);
    let (d, e, f) = (xx * zz - xz * xz, xy * xz - xx * yz, xx * yy - xy * xy);
    let share = 1.0 / (xx * a + xy * b + xz * c);
    [a, d, f, b, c, e].map(|cofactor| share * cofactor)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{PI, TAU};

    use super::*;

    fn share(a: &Oval, b: &Oval, d: Vector) -> f64 {
        let n = way_apart(a, b, d);
        dot(n, d) / (a.half_width(n) + b.half_width(n))
    }

    fn vector(dice: &mut fastrand::Rng) -> Vector {
        std::array::from_fn(|_| 2.0 * dice.f64() - 1.0)
    }

    fn any(dice: &mut fastrand::Rng) -> Oval {
        let (radius, size) = (0.2 + dice.f64(), 2.5 * dice.f64());
        Oval::new(radius, vector(dice).map(|x| size * x))
    }

    #[test]
    fn the_area_is_kept_and_half_widths_are_those_of_the_ellipse() {
        for wider in [1.0, 1.2, 1.8, 3.0] {
            let length = axis_square(wider).sqrt();
            let oval = Oval::new(0.7, [0.0, length, 0.0]);
            assert!((oval.long() / (0.7 * wider) - 1.0).abs() < 1e-12);
            assert!((oval.long() * oval.short() / 0.49 - 1.0).abs() < 1e-12);
            assert!((widening(length * length).0 - wider.ln()).abs() < 1e-12);
            for step in 0..12 {
                let (sin, cos) = (PI * f64::from(step) / 12.0).sin_cos();
                let exact = (oval.long() * sin).hypot(oval.short() * cos);
                assert!((oval.half_width([cos, sin, 0.0]) - exact).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn round_sections_are_apart_as_balls_are() {
        let (a, b) = (Oval::new(0.5, [0.0; 3]), Oval::new(0.3, [0.0; 3]));
        let d = [0.3, -0.4, 1.2];
        assert!((share(&a, &b, d) - 1.3 / 0.8).abs() < 1e-12);
        for (n, x) in way_apart(&a, &b, d).iter().zip(d) {
            assert!((n - x / 1.3).abs() < 1e-12);
        }
    }

    #[test]
    fn no_other_direction_lies_farther_apart() {
        let mut dice = fastrand::Rng::with_seed(7);
        for _ in 0..400 {
            let (a, b, d) = (any(&mut dice), any(&mut dice), vector(&mut dice));
            let best = share(&a, &b, d);
            for _ in 0..50 {
                let n = vector(&mut dice);
                let n = n.map(|x| x / norm(n));
                let other = dot(n, d) / (a.half_width(n) + b.half_width(n));
                assert!(other <= best + 1e-12, "{other} over {best}");
            }
        }
    }

    /// Ellipses in a plane, moved together until they touch: points of the one inside
    /// the other are sought all round.
    #[test]
    fn ellipses_touch_where_a_look_all_round_says() {
        let mut dice = fastrand::Rng::with_seed(8);
        let flat = |dice: &mut fastrand::Rng| {
            let (sin, cos) = (TAU * dice.f64()).sin_cos();
            let length = axis_square(1.0 + dice.f64()).sqrt();
            (
                Oval::new(0.5, [length * cos, length * sin, 0.0]),
                [cos, sin],
            )
        };
        for _ in 0..60 {
            let ((a, a_way), (b, b_way)) = (flat(&mut dice), flat(&mut dice));
            let (sin, cos) = (TAU * dice.f64()).sin_cos();
            let inside = |apart: f64| {
                (0..20_000).any(|k| {
                    let (s, c) = (TAU * f64::from(k) / 20_000.0).sin_cos();
                    let (u, v) = (a.long() * c, a.short() * s);
                    let x = a_way[0] * u - a_way[1] * v - apart * cos;
                    let y = a_way[1] * u + a_way[0] * v - apart * sin;
                    let (u, v) = (b_way[0] * x + b_way[1] * y, b_way[0] * y - b_way[1] * x);
                    (u / b.long()).powi(2) + (v / b.short()).powi(2) <= 1.0
                })
            };
            let (mut low, mut high) = (0.0, 3.0);
            for _ in 0..30 {
                let middle = f64::midpoint(low, high);
                *(if inside(middle) { &mut low } else { &mut high }) = middle;
            }
            let touching = 1.0 / share(&a, &b, [cos, sin, 0.0]);
            assert!((touching / low - 1.0).abs() < 1e-5, "{touching} for {low}");
        }
    }

    /// Crossing at right angles, the wider sides on each other.
    #[test]
    fn flat_strands_across_each_other_touch_at_two_short_halves() {
        let length = axis_square(1.7).sqrt();
        let (a, b) = (
            Oval::new(0.5, [length, 0.0, 0.0]),
            Oval::new(0.5, [0.0, length, 0.0]),
        );
        let touching = share(&a, &b, [0.0, 0.0, 2.0 * a.short()]);
        assert!((touching - 1.0).abs() < 1e-12, "{touching}");
    }

    #[test]
    fn the_half_width_by_the_axis_is_the_difference() {
        let mut dice = fastrand::Rng::with_seed(9);
        for _ in 0..40 {
            let (oval, n) = (any(&mut dice), vector(&mut dice));
            let n = n.map(|x| x / norm(n));
            let by = oval.half_width_by_axis(n);
            for axis in 0..3 {
                let width = |step: f64| {
                    let mut w = oval.axis;
                    w[axis] += step;
                    Oval::new(oval.radius, w).half_width(n)
                };
                let difference = (width(1e-6) - width(-1e-6)) / 2e-6;
                assert!((difference - by[axis]).abs() < 1e-8);
            }
        }
    }
}
