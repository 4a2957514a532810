//! How often closed curves go round one another, by Gauss's integral, and the solved
//! curves of a cord closed so that it can be taken.
//!
//! Shares no code with the program: no crossing is looked for, no side chosen to look
//! from.
//!
//! # Source
//!
//! The integral over two straight edges is the solid angle of the directions between
//! them: K. Klenin and J. Langowski, *Biopolymers* 54 (2000) 307, method 1a.

use std::f64::consts::{PI, TAU};

use plaitwright::cord::Form;

type Point = [f64; 3];

/// How wide the ring is at least that a cord is bent into, in widths of the cord.
const LEAST_RING: f64 = 2.0;

fn less(p: Point, q: Point) -> Point {
    std::array::from_fn(|d| p[d] - q[d])
}

fn dot(p: Point, q: Point) -> f64 {
    (0..3).map(|d| p[d] * q[d]).sum()
}

fn cross(p: Point, q: Point) -> Point {
    std::array::from_fn(|d| p[(d + 1) % 3] * q[(d + 2) % 3] - p[(d + 2) % 3] * q[(d + 1) % 3])
}

/// Distance between two points.
pub(crate) fn apart(p: Point, q: Point) -> f64 {
    dot(less(p, q), less(p, q)).sqrt()
}

/// Sine of the angle between two edges.
pub(crate) fn slant([a, b]: [Point; 2], [c, d]: [Point; 2]) -> f64 {
    let (one, other) = (less(b, a), less(d, c));
    let sine = cross(one, other);
    (dot(sine, sine) / (dot(one, one) * dot(other, other))).sqrt()
}

fn square_to(p: Point, q: Point) -> Point {
    let n = cross(p, q);
    let length = dot(n, n).sqrt();
    n.map(|x| if length > 0.0 { x / length } else { 0.0 })
}

/// The integral over the edges from `a` to `b` and from `c` to `d`: a share of all
/// directions, right-handed crossings positive.
pub(crate) fn of_edges([a, b]: [Point; 2], [c, d]: [Point; 2]) -> f64 {
    let [ac, ad, bc, bd] = [less(c, a), less(d, a), less(c, b), less(d, b)];
    let sides = [
        square_to(ac, ad),
        square_to(ad, bd),
        square_to(bd, bc),
        square_to(bc, ac),
    ];
    // The arc sine of the cosine, as exact near a right angle as elsewhere.
    let corner = |i: usize| {
        let (one, next) = (sides[i], sides[(i + 1) % 4]);
        let sine = cross(one, next);
        dot(one, next).atan2(dot(sine, sine).sqrt())
    };
    let angle: f64 = (0..4).map(corner).sum();
    let hand = dot(cross(less(d, c), less(b, a)), ac);
    angle.abs().copysign(hand) / (2.0 * TAU)
}

/// How often two closed polygons go round one another.
pub(crate) fn linking(one: &[Point], other: &[Point]) -> f64 {
    let edge = |of: &[Point], at: usize| [of[at], of[(at + 1) % of.len()]];
    let mut sum = 0.0;
    for at in 0..one.len() {
        let first = edge(one, at);
        let row = |beside| of_edges(first, edge(other, beside));
        sum += (0..other.len()).map(row).sum::<f64>();
    }
    sum
}

/// The integral over one whole run of a strand and of another as far as it goes, both as
/// they lie in space.
pub(crate) fn of_runs(one: &[Point], other: &[Point]) -> f64 {
    let edges = |of: &[Point]| -> Vec<[Point; 2]> { of.windows(2).map(|p| [p[0], p[1]]).collect() };
    let others = edges(other);
    let row = |edge: [Point; 2]| {
        others
            .iter()
            .map(|&beside| of_edges(edge, beside))
            .sum::<f64>()
    };
    edges(one).into_iter().map(row).sum()
}

/// A point of the cord so many cells on.
fn carried_on(form: &Form, point: Point, cells: f64) -> Point {
    let (sin, cos) = (form.turn * cells).sin_cos();
    let [x, y, z] = point;
    [x * cos - y * sin, x * sin + y * cos, z + form.lift * cells]
}

/// A strand through so many cells from cell `from` on, as it lies in space, up to the
/// first point of the next; `strand` is the one that begins there at the bottom of cell 0.
pub(crate) fn run(form: &Form, strand: usize, from: i32, cells: usize) -> Vec<Point> {
    let back = |piece: usize| form.continues.iter().position(|&on| on == piece);
    let mut piece = strand;
    for _ in from..0 {
        piece = back(piece).expect("every piece goes on from one");
    }
    for _ in 0..from {
        piece = form.continues[piece];
    }
    let mut points = Vec::with_capacity(cells * form.nodes + 1);
    for cell in 0..=cells {
        let nodes = if cell < cells { form.nodes } else { 1 };
        let own = &form.points[piece * form.nodes..][..nodes];
        let on = f64::from(from) + cell as f64;
        points.extend(own.iter().map(|&point| carried_on(form, point, on)));
        piece = form.continues[piece];
    }
    points
}

/// Every strand through so many cells as a closed curve: the turn of the cord is taken
/// out evenly along it, so that every strand ends straight above its beginning, and the
/// cord is bent into a ring. Neither passes strands through one another, and strands
/// that hang side by side are not linked by it.
///
/// # Panics
///
/// If the strands are not all back in their places.
pub(crate) fn ring(form: &Form, cells: usize) -> Vec<Vec<Point>> {
    let height = form.lift * cells as f64;
    let wide = form
        .points
        .iter()
        .map(|p| p[0].hypot(p[1]))
        .fold(0.0, f64::max);
    let middle = (height / TAU).max(LEAST_RING * wide);
    let bent = |point: Point| {
        let [x, y, _] = carried_on(form, point, -point[2] / form.lift);
        let (sin, cos) = (TAU * point[2] / height).sin_cos();
        [(middle + x) * cos, (middle + x) * sin, -y]
    };
    (0..form.strands)
        .map(|strand| {
            let ends = (0..cells).fold(strand, |piece, _| form.continues[piece]);
            assert_eq!(ends, strand, "not back in its place");
            let open = run(form, strand, 0, cells);
            open[..open.len() - 1].iter().map(|&p| bent(p)).collect()
        })
        .collect()
}

/// Points of a closed curve.
fn curve(edges: usize, at: impl Fn(f64) -> Point) -> Vec<Point> {
    (0..edges)
        .map(|edge| at(TAU * edge as f64 / edges as f64))
        .collect()
}

fn assert_links(one: &[Point], other: &[Point], known: f64) {
    let found = linking(one, other);
    assert!((found - known).abs() < 1e-10, "{found} for {known}");
}

#[test]
fn gauss_integrals_of_known_links_are_their_linking_numbers() {
    let flat = curve(40, |u| [u.cos(), u.sin(), 0.0]);
    let across = |apart: f64| curve(40, move |u| [apart + u.cos(), 0.0, u.sin()]);
    assert!((linking(&flat, &across(1.0)).abs() - 1.0).abs() < 1e-10);
    assert_links(&flat, &across(5.0), 0.0);
    // Two strands on a torus, so many times round each other.
    for turns in [-3.0, -2.0, -1.0, 1.0, 2.0, 3.0] {
        let on_torus = |begins: f64| {
            curve(120, move |u| {
                let (sin, cos) = (turns * u + begins).sin_cos();
                [
                    (2.0 + 0.5 * cos) * u.cos(),
                    (2.0 + 0.5 * cos) * u.sin(),
                    0.5 * sin,
                ]
            })
        };
        // Seen along the way round, a turn from outside upwards is left-handed.
        assert_links(&on_torus(0.0), &on_torus(PI), -turns);
    }
    let ellipse = |first: usize| {
        curve(60, move |u| {
            let mut point = [0.0; 3];
            point[first] = 2.0 * u.cos();
            point[(first + 1) % 3] = u.sin();
            point
        })
    };
    for (one, other) in [(0, 1), (1, 2), (2, 0)] {
        assert_links(&ellipse(one), &ellipse(other), 0.0);
    }
}
