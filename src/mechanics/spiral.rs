//! A start for tests: eight strands, two of which cross the middle in each
//! cell, from opposite sides, the way a round spiral is braided.
//!
//! Strands that rest stand evenly round a ring; one that moves goes along a
//! chord, over all that rest. After the two moves everything stands as before,
//! turned a little and with other strands in each place.

use std::f64::consts::TAU;

use super::tubes::screwed;
use super::{Ends, Hold, Shape, Squeeze, Tubes};

const STRANDS: usize = 8;
const SLOTS: f64 = 32.0;
/// Points on the way of one strand in one move.
const FINE: usize = 24;
/// Rise of one move, strand diameters.
const RISE: f64 = 1.0;
/// Strands in the order of their slots, before and after each of two moves.
const ORDER: [[usize; STRANDS]; 3] = [
    [0, 1, 2, 3, 4, 5, 6, 7],
    [0, 1, 2, 3, 5, 6, 4, 7],
    [1, 2, 0, 3, 5, 6, 4, 7],
];
const SLOT: [[f64; STRANDS]; 3] = [
    [0.0, 7.0, 8.0, 15.0, 16.0, 23.0, 24.0, 31.0],
    [0.0, 7.0, 8.0, 15.0, 23.0, 24.0, 30.0, 31.0],
    [7.0, 8.0, 14.0, 15.0, 23.0, 24.0, 30.0, 31.0],
];
const MOVER: [usize; 2] = [4, 0];

/// Hard strands of diameter one with half their pull as weight, and a wide start.
pub(super) fn round_spiral(nodes: usize) -> (Tubes, Shape) {
    let continues = continues();
    let (paths, turn) = paths(&continues);
    let tubes = Tubes {
        strands: STRANDS,
        nodes,
        continues,
        radius: vec![0.5; STRANDS * nodes],
        pull: vec![1.0; STRANDS],
        bending: vec![0.05; STRANDS],
        squeeze: vec![Squeeze::Hard; STRANDS],
        ends: Ends::Screw {
            lift: Hold::Free,
            turn: Hold::Free,
        },
        weight: 0.5 * STRANDS as f64,
        band: 0.0,
        lengths: None,
        sections: Vec::new(),
    };
    let lift = 2.0 * RISE;
    let shape = Shape {
        points: resampled(&tubes, &paths, lift, turn),
        lift,
        turn,
        squeeze: vec![0.0; STRANDS * nodes],
        axes: Vec::new(),
    };
    (tubes, shape)
}

/// The shape as seen in a mirror beside it.
pub(super) fn mirrored(shape: &Shape) -> Shape {
    Shape {
        points: shape.points.iter().map(|p| [-p[0], p[1], p[2]]).collect(),
        turn: -shape.turn,
        ..shape.clone()
    }
}

fn continues() -> Vec<usize> {
    // Places shift by one: who stands at place r + 1 after the cell does what
    // the strand at place r did before it.
    let mut continues = vec![0; STRANDS];
    for place in 0..STRANDS {
        continues[ORDER[2][(place + 1) % STRANDS]] = place;
    }
    continues
}

/// Even angles, clockwise, that keep up with the slots on the whole.
fn angles(step: usize) -> [f64; STRANDS] {
    let even = |place: usize| TAU * place as f64 / STRANDS as f64;
    let (mut sin, mut cos) = (0.0, 0.0);
    for (place, slot) in SLOT[step].iter().enumerate() {
        let (s, c) = (TAU * slot / SLOTS - even(place)).sin_cos();
        sin += s;
        cos += c;
    }
    let mut angles = [0.0; STRANDS];
    for (place, &strand) in ORDER[step].iter().enumerate() {
        angles[strand] = even(place) + sin.atan2(cos);
    }
    angles
}

fn paths(continues: &[usize]) -> (Vec<Vec<[f64; 3]>>, f64) {
    let radius = 1.15 / (2.0 * (TAU / 2.0 / STRANDS as f64).sin());
    let on_ring = |angle: f64| [radius * angle.sin(), radius * angle.cos()];
    let mut paths = vec![Vec::new(); STRANDS];
    for step in 0..2 {
        let (from, to) = (angles(step), angles(step + 1));
        for point in 0..FINE {
            let done = point as f64 / FINE as f64;
            let height = (step as f64 + done) * RISE;
            for (strand, path) in paths.iter_mut().enumerate() {
                let way = (to[strand] - from[strand] + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
                let [x, y] = if strand == MOVER[step] {
                    let (a, b) = (on_ring(from[strand]), on_ring(to[strand]));
                    [a[0] + (b[0] - a[0]) * done, a[1] + (b[1] - a[1]) * done]
                } else {
                    on_ring(from[strand] + way * done)
                };
                path.push([x, y, height]);
            }
        }
    }
    let turn = angles(0)[continues[0]] - angles(2)[0];
    (paths, turn.sin().atan2(turn.cos()))
}

/// Four times smoothed, then nodes at even distances along each cycle.
fn resampled(tubes: &Tubes, paths: &[Vec<[f64; 3]>], lift: f64, turn: f64) -> Vec<[f64; 3]> {
    let mut points = vec![[0.0; 3]; tubes.count()];
    for cycle in tubes.cycles() {
        let cells = cycle.len() as f64;
        let end = |p: [f64; 3], way: f64| screwed(p, way * cells * lift, way * cells * turn);
        let mut line: Vec<[f64; 3]> = Vec::new();
        for (level, &strand) in cycle.iter().enumerate() {
            let level = level as f64;
            line.extend(
                paths[strand]
                    .iter()
                    .map(|&p| screwed(p, level * lift, level * turn)),
            );
        }
        for _ in 0..4 {
            let (first, last) = (end(line[0], 1.0), end(line[line.len() - 1], -1.0));
            let before = |k: usize| if k == 0 { last } else { line[k - 1] };
            let after = |k: usize| *line.get(k + 1).unwrap_or(&first);
            let mean = |k: usize| -> [f64; 3] {
                let (a, b, c) = (before(k), line[k], after(k));
                std::array::from_fn(|axis| 0.25 * (a[axis] + c[axis]) + 0.5 * b[axis])
            };
            line = (0..line.len()).map(mean).collect();
        }
        line.push(end(line[0], 1.0));
        for (number, p) in evenly(&line, cycle.len() * tubes.nodes)
            .into_iter()
            .enumerate()
        {
            let level = (number / tubes.nodes) as f64;
            let node = cycle[number / tubes.nodes] * tubes.nodes + number % tubes.nodes;
            points[node] = screwed(p, -level * lift, -level * turn);
        }
    }
    points
}

fn evenly(line: &[[f64; 3]], count: usize) -> Vec<[f64; 3]> {
    let mut ways = vec![0.0];
    for pair in line.windows(2) {
        let square: f64 = (0..3)
            .map(|axis| (pair[1][axis] - pair[0][axis]).powi(2))
            .sum();
        ways.push(ways[ways.len() - 1] + square.sqrt());
    }
    let whole = ways[ways.len() - 1];
    let at = |number: usize| -> [f64; 3] {
        let way = whole * number as f64 / count as f64;
        let k = ways.partition_point(|&w| w <= way) - 1;
        let part = (way - ways[k]) / (ways[k + 1] - ways[k]);
        std::array::from_fn(|axis| line[k][axis] * (1.0 - part) + line[k + 1][axis] * part)
    };
    (0..count).map(at).collect()
}
