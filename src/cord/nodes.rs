//! Nodes laid evenly along strand cycles.

use crate::mechanics::{Shape, Tubes, cycles_of, screwed, strand_lengths};

/// Most nodes that are solved at once; beyond, they are spread wider.
pub(super) const MOST_NODES: usize = 6500;
/// Fewest nodes of a piece: bends need some.
pub(super) const FEWEST_NODES: usize = 6;
/// Wider than this the nodes no longer hold strands apart, strand diameters. Tried.
pub(super) const WIDEST_SPACING: f64 = 0.5;

/// Pieces whose lengths differ by less than this share are as long.
const ALIKE: f64 = 1e-9;

/// Nodes of a piece of this length at this spacing.
pub(super) fn nodes_for(length: f64, strands: usize, spacing: f64) -> usize {
    let wanted = (length / spacing).ceil() as usize;
    let most = MOST_NODES / strands;
    let fewest = FEWEST_NODES.max((length / WIDEST_SPACING).ceil() as usize);
    wanted.clamp(fewest, most.max(fewest))
}

/// Length of the longest piece.
pub(super) fn longest(tubes: &Tubes, shape: &Shape) -> f64 {
    strand_lengths(tubes, shape).into_iter().fold(0.0, f64::max)
}

/// A rise and a turn, taken so many times.
fn screwed_on(p: [f64; 3], (lift, turn): (f64, f64), times: f64) -> [f64; 3] {
    screwed(p, lift * times, turn * times)
}

/// The piece of a cycle that is longest: where nodes begin may not depend on how
/// strands are named (tried: with few nodes it moves the figures by a hundredth).
fn longest_of(cycle: &[usize], pieces: &[Vec<[f64; 3]>]) -> usize {
    let length = |&piece: &usize| -> f64 {
        let steps = pieces[piece].windows(2);
        steps.map(|pair| distance(pair[0], pair[1])).sum()
    };
    let lengths: Vec<f64> = cycle.iter().map(length).collect();
    let most = lengths.iter().copied().fold(0.0, f64::max);
    let is_longest = |&length: &f64| length > (1.0 - ALIKE) * most;
    lengths.iter().position(is_longest).unwrap_or(0)
}

/// The pieces as `nodes` points each, evenly spaced along every strand cycle,
/// after `smoothing` passes over the corners. `screw` is lift and turn.
pub(super) fn evenly_spaced(
    continues: &[usize],
    pieces: &[Vec<[f64; 3]>],
    screw: (f64, f64),
    smoothing: usize,
    nodes: usize,
) -> Vec<[f64; 3]> {
    let mut points = vec![[0.0; 3]; pieces.len() * nodes];
    for mut cycle in cycles_of(continues) {
        let first = longest_of(&cycle, pieces);
        cycle.rotate_left(first);
        let mut line: Vec<[f64; 3]> = Vec::new();
        for (level, &piece) in cycle.iter().enumerate() {
            line.extend(
                pieces[piece]
                    .iter()
                    .map(|&p| screwed_on(p, screw, level as f64)),
            );
        }
        let whole = cycle.len() as f64;
        for _ in 0..smoothing {
            line = smoothed(&line, screw, whole);
        }
        line.push(screwed_on(line[0], screw, whole));
        let even = resampled(&line, cycle.len() * nodes, pieces[cycle[0]].len());
        for (level, &piece) in cycle.iter().enumerate() {
            for k in 0..nodes {
                let point = even[level * nodes + k];
                points[piece * nodes + k] = screwed_on(point, screw, -(level as f64));
            }
        }
    }
    points
}

/// A solved shape with another number of nodes a piece.
pub(super) fn with_nodes(tubes: &Tubes, shape: &Shape, nodes: usize) -> Shape {
    let pieces: Vec<Vec<[f64; 3]>> = shape
        .points
        .chunks(tubes.nodes)
        .map(<[_]>::to_vec)
        .collect();
    let screw = (shape.lift, shape.turn);
    Shape {
        points: evenly_spaced(&tubes.continues, &pieces, screw, 0, nodes),
        squeeze: squeeze_with_nodes(tubes, &shape.squeeze, nodes),
        axes: axes_with_nodes(tubes, shape, nodes),
        ..shape.clone()
    }
}

/// Nodes lie evenly along a strand before and after, so their numbers tell.
fn squeeze_with_nodes(tubes: &Tubes, squeeze: &[f64], nodes: usize) -> Vec<f64> {
    let at = |new: usize| {
        let (piece, place) = (new / nodes, (new % nodes) as f64 / nodes as f64);
        let along = place * tubes.nodes as f64;
        let (node, past) = (along as usize, along.fract());
        let own = piece * tubes.nodes + node;
        let next = if node + 1 < tubes.nodes {
            own + 1
        } else {
            tubes.continues[piece] * tubes.nodes
        };
        squeeze[own] + past * (squeeze[next] - squeeze[own])
    };
    (0..tubes.strands * nodes).map(at).collect()
}

/// The same for the axes of sections, of which each and its opposite are one.
fn axes_with_nodes(tubes: &Tubes, shape: &Shape, nodes: usize) -> Vec<[f64; 3]> {
    if shape.axes.is_empty() {
        return Vec::new();
    }
    let at = |new: usize| {
        let (piece, place) = (new / nodes, (new % nodes) as f64 / nodes as f64);
        let along = place * tubes.nodes as f64;
        let (node, past) = (along as usize, along.fract());
        let v = shape.axes[piece * tubes.nodes + node];
        let w = if node + 1 < tubes.nodes {
            shape.axes[piece * tubes.nodes + node + 1]
        } else {
            screwed(
                shape.axes[tubes.continues[piece] * tubes.nodes],
                0.0,
                shape.turn,
            )
        };
        let alike = (0..3).map(|d| v[d] * w[d]).sum::<f64>() >= 0.0;
        let side = if alike { past } else { -past };
        std::array::from_fn(|d| (1.0 - past) * v[d] + side * w[d])
    };
    (0..tubes.strands * nodes).map(at).collect()
}

fn smoothed(line: &[[f64; 3]], screw: (f64, f64), whole: f64) -> Vec<[f64; 3]> {
    let n = line.len();
    let before = |i: usize| match i {
        0 => screwed_on(line[n - 1], screw, -whole),
        _ => line[i - 1],
    };
    let after = |i: usize| match i + 1 {
        next if next == n => screwed_on(line[0], screw, whole),
        next => line[next],
    };
    let blend = |i: usize| {
        let (a, b, c) = (before(i), line[i], after(i));
        std::array::from_fn(|d| 0.25 * a[d] + 0.5 * b[d] + 0.25 * c[d])
    };
    (0..n).map(blend).collect()
}

/// Points evenly along a line, as far from the ends of its first `points` points on one
/// side as on the other: told the way back, the same points come out.
fn resampled(line: &[[f64; 3]], count: usize, points: usize) -> Vec<[f64; 3]> {
    let mut along = vec![0.0];
    for pair in line.windows(2) {
        along.push(along[along.len() - 1] + distance(pair[0], pair[1]));
    }
    let total = along[along.len() - 1];
    let steps = along[points] * count as f64 / total;
    let begin = 0.5 * (steps - steps.round());
    let mut at = 0;
    let mut point = |k: usize| {
        let goal = total * (k as f64 + begin) / count as f64;
        while at + 2 < along.len() && along[at + 1] < goal {
            at += 1;
        }
        let span = (along[at + 1] - along[at]).max(f64::MIN_POSITIVE);
        let u = (goal - along[at]) / span;
        std::array::from_fn(|d| line[at][d] + u * (line[at + 1][d] - line[at][d]))
    };
    (0..count).map(&mut point).collect()
}

pub(super) fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    (0..3).map(|d| (a[d] - b[d]).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn evenly_spaced_points_of_a_screw_line_are_evenly_spaced_over_the_joint() {
        let screw = (2.0, 0.7);
        let piece: Vec<[f64; 3]> = (0..40)
            .map(|k| {
                let u = (k as f64 / 40.0).powi(2);
                screwed_on([1.0, 0.2, 0.0], screw, u)
            })
            .collect();
        let even = evenly_spaced(&[0], &[piece], screw, 0, 12);
        let mut steps: Vec<f64> = even.windows(2).map(|w| distance(w[0], w[1])).collect();
        steps.push(distance(even[11], screwed_on(even[0], screw, 1.0)));
        let mean = steps.iter().sum::<f64>() / 12.0;
        for step in steps {
            assert!((step / mean - 1.0).abs() < 0.02, "{step} against {mean}");
        }
    }
}
