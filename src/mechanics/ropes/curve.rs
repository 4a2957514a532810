//! The smooth curve that the nodes of a shape stand for.
//!
//! Between two nodes it runs as the cubic through four neighbours says: a place
//! halfway is `(-a + 9 b + 9 c - d) / 16` (Dubuc, *J. Math. Anal. Appl.* 114 (1986)
//! 185). Nodes are kept; errors fall with the fourth power of the spacing, those of
//! straight steps with the second.

use crate::mechanics::layout::Layout;
use crate::mechanics::outline::strand_lengths;
use crate::mechanics::pairs::OWN_ARC;
use crate::mechanics::segments::{Vector, minus, nearest, norm};
use crate::mechanics::tubes::{Ends, Shape, Tubes};

/// Times a step is halved before distances are taken: leaves a sixty-fourth of
/// what straight steps miss.
const HALVINGS: usize = 3;

/// Levels up to which neighbours are looked for.
const LEVELS: usize = 8;
/// The same for shells of a lattice.
const SHELLS: usize = 5;

/// The same tubes and shape with twice the nodes, on the smooth curve.
pub(super) fn doubled(tubes: &Tubes, shape: &Shape) -> (Tubes, Shape) {
    let layout = Layout::new(tubes);
    let count = tubes.count();
    let finer = Tubes {
        nodes: 2 * tubes.nodes,
        radius: tubes.radius.iter().flat_map(|&r| [r, r]).collect(),
        ..tubes.clone()
    };
    let mut points = Vec::with_capacity(2 * count);
    let mut squeeze = Vec::with_capacity(2 * count);
    for node in 0..count {
        let (next, after) = (
            layout.seen(shape, layout.next[node]),
            layout.seen(shape, layout.after[node]),
        );
        let (own, before) = (shape.points[node], previous(&layout, shape, node));
        points.extend([own, halfway([before, own, next, after])]);
        squeeze.extend([shape.squeeze[node]; 2]);
    }
    (
        finer,
        Shape {
            points,
            squeeze,
            ..shape.clone()
        },
    )
}

/// The same tubes and shape with another number of nodes to a strand, on the smooth
/// curve and as evenly spaced as before.
///
/// Radii must be the same along each strand.
pub(super) fn relaid(tubes: &Tubes, shape: &Shape, nodes: usize) -> (Tubes, Shape) {
    let layout = Layout::new(tubes);
    let strand_of = |new: usize| new / nodes * tubes.nodes;
    let at = |new: usize| {
        let along = (new % nodes * tubes.nodes) as f64 / nodes as f64;
        let node = strand_of(new) + along as usize;
        let (next, after) = (
            layout.seen(shape, layout.next[node]),
            layout.seen(shape, layout.after[node]),
        );
        let (own, before) = (shape.points[node], previous(&layout, shape, node));
        cubic([before, own, next, after], along.fract())
    };
    let all = 0..tubes.strands * nodes;
    let relaid = Tubes {
        nodes,
        radius: all
            .clone()
            .map(|new| tubes.radius[strand_of(new)])
            .collect(),
        ..tubes.clone()
    };
    let shape = Shape {
        squeeze: all
            .clone()
            .map(|new| shape.squeeze[strand_of(new)])
            .collect(),
        points: all.map(at).collect(),
        ..shape.clone()
    };
    (relaid, shape)
}

/// The cubic through four places, at a share of the way from the second to the third.
fn cubic([a, b, c, d]: [Vector; 4], t: f64) -> Vector {
    let weights = [
        -t * (t - 1.0) * (t - 2.0) / 6.0,
        (t + 1.0) * (t - 1.0) * (t - 2.0) / 2.0,
        -(t + 1.0) * t * (t - 2.0) / 2.0,
        (t + 1.0) * t * (t - 1.0) / 6.0,
    ];
    std::array::from_fn(|k| {
        let all = [a[k], b[k], c[k], d[k]];
        weights.iter().zip(all).map(|(w, x)| w * x).sum()
    })
}

fn halfway([a, b, c, d]: [Vector; 4]) -> Vector {
    std::array::from_fn(|k| (9.0 * (b[k] + c[k]) - a[k] - d[k]) / 16.0)
}

fn previous(layout: &Layout, shape: &Shape, node: usize) -> Vector {
    match node % layout.nodes {
        0 => layout.before(shape, node / layout.nodes),
        _ => shape.points[node - 1],
    }
}

/// Length of every strand along the smooth curve.
pub fn curve_lengths(tubes: &Tubes, shape: &Shape) -> Vec<f64> {
    let straight = strand_lengths(tubes, shape);
    let (finer, row) = doubled(tubes, shape);
    let halved = strand_lengths(&finer, &row);
    // Chords miss a share that falls with the square of the step.
    let ends = halved.iter().zip(straight);
    ends.map(|(half, whole)| (4.0 * half - whole) / 3.0)
        .collect()
}

/// How near two tubes come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearness {
    /// Distance of their middles over the sum of their radii.
    pub ratio: f64,
    /// Distance of their middles.
    pub distance: f64,
}

impl Nearness {
    fn or(self, distance: f64, radii: f64) -> Self {
        let ratio = distance / radii;
        if ratio < self.ratio {
            Self { ratio, distance }
        } else {
            self
        }
    }
}

/// Where two smooth curves, or two places across on one, are nearest for their
/// radii; infinite where nothing is near anything.
///
/// Places of one strand nearer than half a tight bend along it do not count.
pub fn least_distance(tubes: &Tubes, shape: &Shape) -> Nearness {
    let lengths = strand_lengths(tubes, shape);
    let layout = Layout::new(tubes);
    let spacing = lengths.iter().fold(0.0_f64, |most, l| most.max(*l)) / tubes.nodes as f64;
    let mut least = Nearness {
        ratio: f64::INFINITY,
        distance: f64::INFINITY,
    };
    let mut near = Vec::new();
    for_node_pairs(&layout, tubes, shape, |node, other, level, apart, radii| {
        let own = lengths[node / tubes.nodes] / tubes.nodes as f64;
        let arc = layout.nodes_between(node, other, level);
        let across = |ends: f64| arc.is_none_or(|arc| (arc as f64 - ends) * own >= OWN_ARC * radii);
        if across(0.0) {
            least = least.or(apart, radii);
        }
        // The steps on both sides must lie across, too.
        if across(2.0) {
            near.push((node, other, level, apart / radii));
        }
    });
    let thin = tubes.radius.iter().fold(f64::INFINITY, |a, &b| a.min(b));
    let reach = (least.ratio.powi(2) + 0.6 * (spacing / (2.0 * thin)).powi(2)).sqrt();
    near.retain(|(.., ratio)| *ratio <= reach);
    let fine = Fine::of(tubes, shape);
    near.iter().fold(least, |least, &(node, other, level, _)| {
        let radii = tubes.radius[node] + tubes.radius[other];
        least.or(fine.apart(node, other, level), radii)
    })
}

/// Shows nodes with nodes of this and higher cells that are no farther than
/// about two thickest strands: node, other, level, distance, radii.
fn for_node_pairs(
    layout: &Layout,
    tubes: &Tubes,
    shape: &Shape,
    mut show: impl FnMut(usize, usize, usize, f64, f64),
) {
    let levels = match tubes.ends {
        Ends::Closed { cells } => cells / 2,
        Ends::Screw { .. } => LEVELS,
        Ends::Lattice { .. } => layout.levels_within(SHELLS),
    };
    let count = tubes.count();
    for level in 0..=levels {
        for other in 0..count {
            let q = layout.seen(shape, layout.above(other, level));
            let first = if level == 0 { other + 1 } else { 0 };
            for node in if level == 0 { 0..first - 1 } else { 0..count } {
                let way = minus(q, shape.points[node]);
                let radii = tubes.radius[node] + tubes.radius[other];
                if way[2].abs() < 2.0 * radii && norm(way) < 2.0 * radii {
                    show(node, other, level, norm(way), radii);
                }
            }
        }
    }
}

/// The curve cut finely, with where each coarse step begins in it.
#[derive(Debug)]
struct Fine {
    shape: Shape,
    layout: Layout,
    /// Nodes of a strand before cutting.
    nodes: usize,
}

impl Fine {
    fn of(tubes: &Tubes, shape: &Shape) -> Self {
        let mut fine = (tubes.clone(), shape.clone());
        for _ in 0..HALVINGS {
            fine = doubled(&fine.0, &fine.1);
        }
        Self {
            layout: Layout::new(&fine.0),
            nodes: tubes.nodes,
            shape: fine.1,
        }
    }

    /// Fine steps on both sides of a coarse node.
    fn about(&self, node: usize, level: usize) -> Vec<[Vector; 2]> {
        let cuts = 1 << HALVINGS;
        let middle = node * cuts;
        let strand = node / self.nodes * self.nodes * cuts;
        let before = middle.saturating_sub(cuts).max(strand);
        let seen = |image: usize| {
            self.layout
                .seen(&self.shape, self.layout.above(image, level))
        };
        let steps = before..(middle + cuts).min(self.layout.count());
        steps
            .map(|from| [seen(from), seen(self.layout.next[from])])
            .collect()
    }

    fn apart(&self, node: usize, other: usize, level: usize) -> f64 {
        let (own, others) = (self.about(node, 0), self.about(other, level));
        let mut least = f64::INFINITY;
        for a in &own {
            for b in &others {
                least = least.min(norm(nearest(*a, *b).way));
            }
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::limp::{SCREW, limp};
    use std::f64::consts::{PI, TAU};

    /// Two circles through each other's centres: length 2 pi each, distance 1.
    #[test]
    fn two_round_rings_measure_as_circles_though_cut_coarsely() {
        let rings = limp(2, 40, Ends::Closed { cells: 1 });
        let ring = |node: usize| {
            let (sin, cos) = (TAU * (0.3 + (node % 40) as f64) / 40.0).sin_cos();
            if node < 40 {
                [cos, sin, 0.0]
            } else {
                [1.0 + cos, 0.0, sin]
            }
        };
        let shape = Shape {
            points: (0..80).map(ring).collect(),
            lift: 0.0,
            turn: 0.0,
            squeeze: vec![0.0; 80],
            axes: Vec::new(),
        };
        for length in curve_lengths(&rings, &shape) {
            assert!((length / TAU - 1.0).abs() < 2e-5, "{length}");
        }
        let least = least_distance(&rings, &shape).ratio;
        assert!((least - 1.0).abs() < 3e-4, "{least}");
    }

    #[test]
    fn a_helix_is_as_long_as_it_is_though_cut_coarsely() {
        let helix = limp(1, 8, SCREW);
        let at = |node: usize| {
            let (sin, cos) = (PI / 2.0 * node as f64 / 8.0).sin_cos();
            [cos, sin, 0.1 * node as f64]
        };
        let shape = Shape {
            points: (0..8).map(at).collect(),
            lift: 0.8,
            turn: PI / 2.0,
            squeeze: vec![0.0; 8],
            axes: Vec::new(),
        };
        let exact = (PI * PI / 4.0 + 0.64_f64).sqrt();
        let found = curve_lengths(&helix, &shape)[0];
        assert!((found / exact - 1.0).abs() < 2e-5, "{found} {exact}");
    }
}
