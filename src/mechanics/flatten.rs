//! What it costs to flatten a strand, its section kept in area.
//!
//! Letters as in `section` and `energy`.
//!
//! * flattening: `l Σ T ½ E (σ - σ0)²`, with `σ = ln (a/r)`, from the section `σ0` in which the
//!   strand lies by itself; beyond the widest one an end stop as that of `fibre`.
//! * turning: `(T r²/4 + C) / (2 l) Σ |P - P'|²` for each step, where `P = w wᵀ / (a/r + r/a)` is
//!   what the section is drawn out by. Filaments of a strand under pull, each keeping its
//!   place in the section, run the longer the faster the section turns or changes: that is
//!   the first part. A strip's own stiffness `C` is the other. As in space neither may turn, twist
//!   and bending over the edge cost alike, bending over the flat side nothing. Without it
//!   sections of neighbouring nodes lock into one another like cogs (tried).
//!
//! A strand with no force on its round section stays round: that is a saddle, so nodes
//! begin a little oval, across the bend of the strand.

use super::layout::Layout;
use super::section::{axis_square, widening};
use super::segments::{Vector, cross, dot, minus, norm};
use super::tubes::{Shape, Tubes, screwed};

/// How the section of a strand may flatten, its area kept. Widths are those over the
/// round's of equal area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Not at all.
    Round,
    /// To an ellipse, whose axes are found at every node together with the positions.
    Oval {
        /// Widest section, over one and at most [`WIDEST`]. Twice as wide is half as thick.
        widest: f64,
        /// Section in which the strand lies by itself: one for a cord, wider for a ribbon.
        lies: f64,
        /// What it costs to flatten: energy per length and pull, `½ resistance ln²` of the
        /// width over that at which it lies.
        resistance: f64,
        /// Stiffness against twist and bending over the edge, force times length squared.
        turning: f64,
    },
}

/// Widest section that contacts of nodes still hold apart, over the round one's width: as
/// far as was tried.
pub const WIDEST: f64 = 1.6;

impl Section {
    pub(super) fn is_sound(self) -> bool {
        match self {
            Self::Round => true,
            Self::Oval {
                widest,
                lies,
                resistance,
                turning,
            } => {
                let sizes = 1.0 < widest && widest <= WIDEST && 1.0 <= lies && lies <= widest;
                let stiff = |x: f64| x.is_finite() && x >= 0.0;
                sizes && stiff(resistance) && stiff(turning)
            }
        }
    }
}

/// Stiffness of the end stop at the widest section, energy per length for a widening
/// of one, over the pull: as that of the squeeze.
const END_STOP: f64 = 1000.0;

/// How many times as wide as round nodes begin. Tried.
const BEGUN: f64 = 1.05;

/// How much wider than the widest nodes may be for the lists of pairs.
const OVERSHOOT: f64 = 1.1;

/// Steps shorter than this have no direction.
pub(super) const POINT: f64 = 1e-12;

/// How far beyond its round radius the widest strand may reach, for each strand
/// of a pair.
pub(super) fn reach_beyond(tubes: &Tubes) -> f64 {
    let beyond = |(node, &radius): (usize, &f64)| match tubes.section_at(node) {
        Section::Oval { widest, .. } => radius * (OVERSHOOT * widest - 1.0),
        Section::Round => 0.0,
    };
    let all = tubes.radius.iter().enumerate().map(beyond);
    2.0 * all.fold(0.0, f64::max)
}

/// `1 / (a/r + r/a)` of a section, and its first derivative by `q`.
pub(super) fn drawn_out(q: f64) -> (f64, f64) {
    let root = (q * q + 4.0).sqrt();
    let share = 1.0 / (2.0 + root).sqrt();
    (share, -0.5 * share.powi(3) * q / root)
}

/// What a section costs that turns or changes from a node to the next, for a stiffness over
/// length of one, and its derivatives by both axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turned {
    pub held: f64,
    pub by_first: Vector,
    pub by_second: Vector,
}

impl Turned {
    pub(super) fn between(v: Vector, w: Vector) -> Self {
        let (vv, ww, vw) = (dot(v, v), dot(w, w), dot(v, w));
        let ((g, g_by), (h, h_by)) = (drawn_out(vv), drawn_out(ww));
        // Squares of P and P', and twice their product.
        let (pp, qq, both) = (g * g * vv * vv, h * h * ww * ww, 2.0 * g * h * vw * vw);
        let own =
            |g: f64, g_by: f64, q: f64, pp: f64| 2.0 * g * g * q + g_by * (2.0 * pp - both) / g;
        let (by_v, by_w) = (own(g, g_by, vv, pp), own(h, h_by, ww, qq));
        let across = -2.0 * g * h * vw;
        Self {
            held: 0.5 * (pp + qq - both),
            by_first: std::array::from_fn(|k| by_v * v[k] + across * w[k]),
            by_second: std::array::from_fn(|k| by_w * w[k] + across * v[k]),
        }
    }
}

/// The work of a section for each length and pull, and its first and second derivative by `q`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flattening {
    pub held: f64,
    pub slope: f64,
    pub curve: f64,
}

pub(super) fn work(section: Section, axis: Vector) -> Flattening {
    let Section::Oval {
        widest,
        lies,
        resistance,
        ..
    } = section
    else {
        return Flattening {
            held: 0.0,
            slope: 0.0,
            curve: 0.0,
        };
    };
    let (wider, by_q) = widening(dot(axis, axis));
    let (off, over) = (wider - lies.ln(), (wider - widest.ln()).max(0.0));
    let stop = if over > 0.0 { END_STOP } else { 0.0 };
    Flattening {
        held: 0.5 * (resistance * off * off + stop * over * over),
        slope: (resistance * off + stop * over) * by_q,
        curve: (resistance + stop) * by_q * by_q,
    }
}

/// Vectors to begin with: those of the shape, or a little oval across the bend.
pub(super) fn begun(tubes: &Tubes, layout: &Layout, shape: &Shape) -> Vec<Vector> {
    if !shape.axes.is_empty() {
        return shape.axes.clone();
    }
    let mut axes = vec![[0.0; 3]; layout.count()];
    for (node, (&next, &after)) in layout.next.iter().zip(&layout.after).enumerate() {
        let [p, q, r] = [node, next, after].map(|image| layout.seen(shape, image));
        let (way, bend) = (minus(r, p), cross(minus(q, p), minus(r, q)));
        let aside = if norm(bend) > POINT {
            bend
        } else {
            any_across(way)
        };
        let (middle, level) = (next % layout.count(), next / layout.count());
        let back = screwed(aside, 0.0, -(level as f64) * shape.turn);
        if tubes.section_at(middle) != Section::Round {
            let length = axis_square(BEGUN).sqrt() / norm(aside).max(POINT);
            axes[middle] = back.map(|x| length * x);
        }
    }
    axes
}

/// Some direction across a way.
fn any_across(way: Vector) -> Vector {
    let [x, y, z] = way.map(f64::abs);
    let least = if x <= y && x <= z {
        [1.0, 0.0, 0.0]
    } else if y <= z {
        [0.0, 1.0, 0.0]
    } else {
        [0.0, 0.0, 1.0]
    };
    cross(way, least)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_work_of_a_section_has_the_derivatives_of_its_differences() {
        let section = Section::Oval {
            widest: 1.4,
            lies: 1.2,
            resistance: 0.8,
            turning: 0.0,
        };
        for wider in [1.01, 1.1, 1.3, 1.45] {
            let q = axis_square(wider);
            let at = |q: f64| work(section, [0.0, q.sqrt(), 0.0]);
            let [less, here, more] = [at(q - 1e-6), at(q), at(q + 1e-6)];
            let slope = (more.held - less.held) / 2e-6;
            assert!((here.slope - slope).abs() < 1e-6, "{here:?} {slope}");
            assert!(here.curve > 0.0 && here.held > 0.0);
        }
    }

    #[test]
    fn sections_alike_cost_nothing_and_opposite_vectors_are_one_section() {
        let (v, w) = ([0.3, 0.5, -0.2], [-0.1, 0.9, 0.4]);
        let back = w.map(|x: f64| -x);
        assert!(Turned::between(v, v).held.abs() < 1e-15);
        assert!(Turned::between(v, v.map(|x: f64| -x)).held.abs() < 1e-15);
        let (there, other) = (Turned::between(v, w), Turned::between(v, back));
        assert!(there.held > 0.1 && (there.held - other.held).abs() < 1e-15);
    }

    /// Filaments on circles in the section, each turned by a small angle in a step:
    /// `½ T` times the mean square of what they move aside.
    #[test]
    fn a_turn_of_the_section_costs_what_its_filaments_run_longer() {
        let (wider, angle) = (1.5_f64, 1e-3_f64);
        let length = axis_square(wider).sqrt();
        let (sin, cos) = angle.sin_cos();
        let turned = Turned::between([length, 0.0, 0.0], [length * cos, length * sin, 0.0]);
        let mut aside = 0.0;
        for k in 0..100 {
            let (s, c) = (std::f64::consts::TAU * f64::from(k) / 100.0).sin_cos();
            // F and its turn R F Rᵀ on a point of the round's rim.
            let place = |sin: f64, cos: f64| {
                let (x, y) = (c * cos + s * sin, s * cos - c * sin);
                let (x, y) = (wider * x, y / wider);
                [cos * x - sin * y, sin * x + cos * y]
            };
            let (p, q) = (place(0.0, 1.0), place(sin, cos));
            aside += ((p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2)) / 100.0;
        }
        // Over the disc the mean square of the distance from the middle is half the rim's.
        let filaments = 0.5 * 0.5 * aside;
        assert!((0.25 * turned.held / filaments - 1.0).abs() < 1e-3);
    }
}
