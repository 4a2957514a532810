//! Tubes for the engine from a structure on the shelf, without the cord above.
//!
//! The way of each strand comes from its world-lines; corners are smoothed, and
//! nodes lie evenly along every strand cycle. Lengths in strand diameters,
//! forces in strand pulls.

use plaitwright::mechanics::{Ends, Hold, Shape, Squeeze, Tubes};
use plaitwright::structure::{self, Braid, MoveList};
use plaitwright::topology::WorldLines;

/// Neighbours on the rim of the start: clear of one another.
const RIM_SPACING: f64 = 1.15;
/// Points of a world-line a lift.
const SAMPLES: usize = 24;
/// Passes over the corners of the chords.
const SMOOTHING: usize = 4;

/// The round spiral of so many strands.
pub(super) fn round_spiral(strands: usize) -> MoveList {
    structure::shelf()
        .iter()
        .find(|s| s.strands() == strands && s.name == "Round spiral")
        .map(|s| s.moves.clone())
        .expect("the shelf has round spirals")
}

/// The smallest cell of a list; one move over half the strands rises by one diameter.
pub(super) fn world_lines(list: &MoveList) -> WorldLines {
    let braid = Braid::new(list).expect("the shelf holds braids");
    WorldLines::new(&braid, RIM_SPACING, 1.0).expect("strands pass each other")
}

/// Hard round strands with half their pull as weight, `nodes` a piece, and a
/// wide start.
pub(super) fn tubes(lines: &WorldLines, nodes: usize) -> (Tubes, Shape) {
    let strands = lines.strands();
    let tubes = Tubes {
        strands,
        nodes,
        continues: lines.continues.clone(),
        radius: vec![0.5; strands * nodes],
        pull: vec![1.0; strands],
        bending: vec![0.05; strands],
        squeeze: vec![Squeeze::Hard; strands],
        ends: Ends::Screw {
            lift: Hold::Free,
            turn: Hold::Free,
        },
        weight: 0.5 * strands as f64,
        band: 0.0,
        lengths: None,
        sections: Vec::new(),
    };
    let paths = lines.paths(SAMPLES);
    let shape = Shape {
        points: evenly_spaced(&tubes, &paths, (lines.lift(), lines.turn)),
        lift: lines.lift(),
        turn: lines.turn,
        squeeze: vec![0.0; strands * nodes],
        axes: Vec::new(),
    };
    (tubes, shape)
}

/// `point` lifted and turned `times` times.
pub(super) fn screwed(point: [f64; 3], (lift, turn): (f64, f64), times: f64) -> [f64; 3] {
    let (sin, cos) = (turn * times).sin_cos();
    let [x, y, z] = point;
    [cos * x - sin * y, sin * x + cos * y, z + lift * times]
}

fn evenly_spaced(tubes: &Tubes, paths: &[Vec<[f64; 3]>], screw: (f64, f64)) -> Vec<[f64; 3]> {
    let mut points = vec![[0.0; 3]; tubes.strands * tubes.nodes];
    for cycle in tubes.cycles() {
        let whole = cycle.len() as f64;
        let mut line: Vec<[f64; 3]> = Vec::new();
        for (level, &piece) in cycle.iter().enumerate() {
            let above = |&p| screwed(p, screw, level as f64);
            line.extend(paths[piece].iter().map(above));
        }
        for _ in 0..SMOOTHING {
            line = smoothed(&line, screw, whole);
        }
        line.push(screwed(line[0], screw, whole));
        let even = resampled(&line, cycle.len() * tubes.nodes);
        for (number, point) in even.into_iter().enumerate() {
            let (level, node) = (number / tubes.nodes, number % tubes.nodes);
            points[cycle[level] * tubes.nodes + node] = screwed(point, screw, -(level as f64));
        }
    }
    points
}

fn smoothed(line: &[[f64; 3]], screw: (f64, f64), whole: f64) -> Vec<[f64; 3]> {
    let last = line.len() - 1;
    let before = |i: usize| match i {
        0 => screwed(line[last], screw, -whole),
        _ => line[i - 1],
    };
    let after = |i: usize| match i {
        i if i == last => screwed(line[0], screw, whole),
        i => line[i + 1],
    };
    let mean = |i: usize| {
        let (a, b, c) = (before(i), line[i], after(i));
        std::array::from_fn(|axis| 0.25 * (a[axis] + c[axis]) + 0.5 * b[axis])
    };
    (0..=last).map(mean).collect()
}

/// `count` points at even distances along an open line, its end left out.
fn resampled(line: &[[f64; 3]], count: usize) -> Vec<[f64; 3]> {
    let mut ways = vec![0.0];
    for pair in line.windows(2) {
        ways.push(ways[ways.len() - 1] + distance(pair[0], pair[1]));
    }
    let whole = ways[ways.len() - 1];
    let point = |number: usize| -> [f64; 3] {
        let way = whole * number as f64 / count as f64;
        let k = ways.partition_point(|&w| w <= way) - 1;
        let part = (way - ways[k]) / (ways[k + 1] - ways[k]);
        std::array::from_fn(|axis| line[k][axis] + part * (line[k + 1][axis] - line[k][axis]))
    };
    (0..count).map(point).collect()
}

/// How far two points lie apart.
fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}
