//! What a formed cord measures.

use std::f64::consts::PI;

use super::braiding::Braiding;
use super::chains::{Chains, ROOM};
use super::vector::{Vector, length, minus, plus, times};

/// Directions in half a turn from which widths are taken.
const DIRECTIONS: usize = 36;
/// Heights at which they are taken.
const HEIGHTS: usize = 40;
/// Balls laid along a piece for its outline.
const BALLS: usize = 2;

/// Measures of the newest frozen cord, strand diameters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gauge {
    /// Rise of a round.
    pub(crate) height: f64,
    /// Strand length over cord length.
    pub(crate) take_up: f64,
    /// Turn of a round against the disc's own, degrees.
    pub(crate) turn: f64,
    pub(crate) section: Section,
}

/// The outline of a cord, strand diameters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Section {
    /// Mean width between the jaws of a narrow calliper.
    pub(crate) width: f64,
    /// Narrowest over widest of the mean widths all round.
    pub(crate) roundness: f64,
    /// Widest round about the middle that no strand enters.
    pub(crate) bore: f64,
}

/// Measures the last `rounds` rounds, in `window` rounds' height of frozen cord.
pub(crate) fn measure(braiding: &Braiding, rounds: usize, window: f64) -> Gauge {
    let all = &braiding.rounds;
    let (first, last) = (all[all.len() - 1 - rounds], all[all.len() - 1]);
    let height = (last.1 - first.1) / rounds as f64;
    let high = braiding.cut() - 0.7;
    let low = high - window * height;
    let section = outline(&balls_between(&braiding.chains, low, high), low, high);
    Gauge {
        height,
        take_up: strand_between(&braiding.chains, low, high) / (high - low),
        turn: ((last.0 - first.0) / rounds as f64).to_degrees(),
        section,
    }
}

/// Widths and bore of balls of diameter one between two heights.
pub(crate) fn outline(balls: &[Vector], low: f64, high: f64) -> Section {
    let mut widths = vec![0.0; DIRECTIONS];
    let mut bore = 0.0;
    for number in 0..HEIGHTS {
        let z = low + (high - low) * (number as f64 + 0.5) / HEIGHTS as f64;
        for (sum, width) in widths.iter_mut().zip(widths_at(balls, z)) {
            *sum += width / HEIGHTS as f64;
        }
        bore += bore_at(balls, z) / HEIGHTS as f64;
    }
    let (narrow, wide) = (widths.iter()).fold((f64::INFINITY, 0.0_f64), |(low, high), &w| {
        (low.min(w), high.max(w))
    });
    Section {
        width: widths.iter().sum::<f64>() / DIRECTIONS as f64,
        roundness: narrow / wide,
        bore,
    }
}

/// Length of a strand, mean of all, between two heights.
fn strand_between(chains: &Chains, low: f64, high: f64) -> f64 {
    let mut sum = 0.0;
    for strand in 0..chains.strands() {
        let whole = chains.whole(strand);
        for node in whole.start..whole.end - 1 {
            let (a, b) = (chains.at[node], chains.at[node + 1]);
            let middle = 0.5 * (a[2] + b[2]);
            if middle > low && middle < high {
                sum += length(minus(b, a));
            }
        }
    }
    sum / chains.strands() as f64
}

fn balls_between(chains: &Chains, low: f64, high: f64) -> Vec<Vector> {
    let mut balls = Vec::new();
    for strand in 0..chains.strands() {
        let whole = chains.whole(strand);
        debug_assert!(whole.end <= (strand + 1) * ROOM);
        for node in whole.start..whole.end - 1 {
            let (a, b) = (chains.at[node], chains.at[node + 1]);
            if a[2] < low - 1.0 || a[2] > high + 1.0 {
                continue;
            }
            let step = minus(b, a);
            balls.extend((0..BALLS).map(|k| plus(a, times(step, k as f64 / BALLS as f64))));
        }
    }
    balls
}

/// Radius of the section of a ball at a height; none if it does not reach it.
fn section(ball: &Vector, z: f64) -> Option<f64> {
    let square = 0.25 - (ball[2] - z).powi(2);
    (square > 0.0).then(|| square.sqrt())
}

fn widths_at(balls: &[Vector], z: f64) -> Vec<f64> {
    let mut support = vec![f64::NEG_INFINITY; 2 * DIRECTIONS];
    for ball in balls {
        let Some(radius) = section(ball, z) else {
            continue;
        };
        for (way, most) in support.iter_mut().enumerate() {
            let (s, c) = (PI * way as f64 / DIRECTIONS as f64).sin_cos();
            *most = most.max(c * ball[0] + s * ball[1] + radius);
        }
    }
    (0..DIRECTIONS)
        .map(|way| support[way] + support[way + DIRECTIONS])
        .collect()
}

/// Diameter of the largest round about the middle that no strand enters.
fn bore_at(balls: &[Vector], z: f64) -> f64 {
    let cut: Vec<(&Vector, f64)> = (balls.iter())
        .filter_map(|ball| section(ball, z).map(|radius| (ball, radius)))
        .collect();
    let middle = |axis: usize| cut.iter().map(|(b, _)| b[axis]).sum::<f64>() / cut.len() as f64;
    let (x, y) = (middle(0), middle(1));
    let free = |(ball, radius): &(&Vector, f64)| (ball[0] - x).hypot(ball[1] - y) - radius;
    2.0 * cut.iter().map(free).fold(f64::INFINITY, f64::min).max(0.0)
}
