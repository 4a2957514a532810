//! Strands as bundles of hard filaments: what a squeezed strand stands for.
//!
//! The filaments of a strand lie parallel, untwisted, and pull alike; nothing
//! binds them but the braid. All lengths in filament diameters, forces in
//! filament pulls. The engine that tightens them is the one under test, but
//! nothing of the strand's compaction is in it: filaments are hard.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{Shape, Squeeze, Tubes};

use super::start::screwed;

/// How the filaments of a strand lie at first: a ring, and one in the middle or not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bundle {
    /// Filaments of the ring.
    pub ring: usize,
    /// Whether one lies in its middle.
    pub centre: bool,
}

/// Room between filaments at first, over touching.
const ROOM: f64 = 1.05;
/// Room between strands at first, over that of round ones: bundles have corners.
const APART: f64 = 1.4;

impl Bundle {
    /// Number of filaments.
    pub(super) fn count(self) -> usize {
        self.ring + usize::from(self.centre)
    }

    /// Radius of the ring on which filaments just touch.
    fn ring_radius(self) -> f64 {
        0.5 / (PI / self.ring as f64).sin()
    }

    /// Width over all.
    fn width(self) -> f64 {
        2.0 * self.ring_radius() + 1.0
    }

    /// Every strand of a loose start replaced by its bundle.
    ///
    /// Frames are carried along each strand cycle without turning about it; what
    /// they are turned by at its end is made up by joining each filament to the one
    /// that lies nearest there, and the rest of that turn is spread evenly.
    pub(super) fn of_strands(self, strands: &Tubes, start: &Shape) -> (Tubes, Shape) {
        let (count, nodes) = (self.count(), strands.nodes);
        let grown = Shape {
            points: scaled(&start.points, APART * self.width()),
            lift: start.lift * APART * self.width(),
            ..start.clone()
        };
        let mut points = vec![[0.0; 3]; strands.strands * count * nodes];
        let mut continues = vec![0; strands.strands * count];
        for cycle in strands.cycles() {
            let line = Line::along(&cycle, nodes, &grown);
            let step = TAU / self.ring as f64;
            let joined = (line.turned / step).round();
            let rest = line.turned - joined * step;
            for (number, frame) in line.frames.iter().enumerate() {
                let (level, node) = (number / nodes, number % nodes);
                let turn = rest * number as f64 / line.frames.len() as f64;
                for filament in 0..count {
                    let place = frame.beside(self.place(filament, turn));
                    let back = screwed(place, (grown.lift, grown.turn), -(level as f64));
                    points[(cycle[level] * count + filament) * nodes + node] = back;
                }
            }
            for (level, &piece) in cycle.iter().enumerate() {
                let shift = if level + 1 == cycle.len() {
                    joined
                } else {
                    0.0
                };
                let next = cycle[(level + 1) % cycle.len()] * count;
                for filament in 0..count {
                    continues[piece * count + filament] = next + self.neighbour(filament, shift);
                }
            }
        }
        self.tubes(strands, continues, points, &grown)
    }

    fn tubes(
        self,
        strands: &Tubes,
        continues: Vec<usize>,
        points: Vec<[f64; 3]>,
        grown: &Shape,
    ) -> (Tubes, Shape) {
        let (count, all) = (self.count() as f64, continues.len());
        let tubes = Tubes {
            strands: all,
            nodes: strands.nodes,
            radius: vec![0.5; points.len()],
            pull: vec![1.0; all],
            // Together as stiff as the one tube they stand for.
            bending: vec![strands.bending[0] * self.width().powi(2); all],
            squeeze: vec![Squeeze::Hard; all],
            weight: strands.weight * count,
            continues,
            ..strands.clone()
        };
        let shape = Shape {
            squeeze: vec![0.0; points.len()],
            points,
            ..grown.clone()
        };
        (tubes, shape)
    }

    /// Where a filament lies across the strand.
    fn place(self, filament: usize, turn: f64) -> [f64; 2] {
        if filament == self.ring {
            return [0.0, 0.0];
        }
        let (sin, cos) = (TAU * filament as f64 / self.ring as f64 + turn).sin_cos();
        [cos, sin].map(|x| ROOM * self.ring_radius() * x)
    }

    /// The filament so many places round the ring.
    fn neighbour(self, filament: usize, shift: f64) -> usize {
        if filament == self.ring {
            return filament;
        }
        (filament as i64 + shift as i64).rem_euclid(self.ring as i64) as usize
    }
}

/// A place on a strand and two directions across it.
struct Frame {
    at: [f64; 3],
    across: [[f64; 3]; 2],
}

impl Frame {
    fn beside(&self, [x, y]: [f64; 2]) -> [f64; 3] {
        std::array::from_fn(|i| self.at[i] + x * self.across[0][i] + y * self.across[1][i])
    }
}

/// A strand cycle with frames that do not turn about it.
struct Line {
    frames: Vec<Frame>,
    /// By how much the first frame, screwed to the end, is turned against the
    /// one carried there.
    turned: f64,
}

impl Line {
    fn along(cycle: &[usize], nodes: usize, shape: &Shape) -> Self {
        let screw = (shape.lift, shape.turn);
        let count = (cycle.len() * nodes) as i64;
        let point = |number: i64| {
            let (round, within) = (number.div_euclid(count), number.rem_euclid(count) as usize);
            let level = round as f64 * cycle.len() as f64 + (within / nodes) as f64;
            let node = cycle[within / nodes] * nodes + within % nodes;
            screwed(shape.points[node], screw, level)
        };
        let along = |number: i64| unit(sub(point(number + 1), point(number - 1)));
        let mut normal = across(along(0), [1.0, 0.3, 0.1]);
        let first = normal;
        let mut frames = Vec::new();
        for number in 0..count {
            normal = across(along(number), normal);
            let other = cross(along(number), normal);
            frames.push(Frame {
                at: point(number),
                across: [normal, other],
            });
        }
        let end = along(count);
        let carried = across(end, normal);
        let begun = screwed(first, (0.0, shape.turn), cycle.len() as f64);
        let turned = dot(cross(carried, begun), end).atan2(dot(carried, begun));
        Self { frames, turned }
    }
}

/// Mean area of the outline of the bundles across them, squared filament diameters:
/// the hull of their filaments.
pub(super) fn strand_area(bundle: Bundle, tubes: &Tubes, shape: &Shape) -> f64 {
    let (count, nodes) = (bundle.count(), tubes.nodes);
    let mut areas = Vec::new();
    for strand in 0..tubes.strands / count {
        let run = |filament: usize| &shape.points[(strand * count + filament) * nodes..][..nodes];
        for node in 1..nodes - 1 {
            let middle = |at: usize| -> [f64; 3] {
                let sum = |i: usize| (0..count).map(|f| run(f)[at][i]).sum::<f64>();
                std::array::from_fn(|i| sum(i) / count as f64)
            };
            let (here, along) = (middle(node), unit(sub(middle(node + 1), middle(node - 1))));
            let normal = across(along, [0.1, 0.2, 1.0]);
            let other = cross(along, normal);
            let cuts: Vec<[f64; 2]> = (0..count)
                .filter_map(|f| cut(run(f), here, along))
                .map(|p| [dot(p, normal), dot(p, other)])
                .collect();
            if cuts.len() == count {
                areas.push(hull_of_discs(cuts));
            }
        }
    }
    areas.iter().sum::<f64>() / areas.len() as f64
}

/// Where a filament goes through the plane, seen from a point of it; none if
/// that is beyond its ends.
fn cut(run: &[[f64; 3]], here: [f64; 3], along: [f64; 3]) -> Option<[f64; 3]> {
    let height = |p: [f64; 3]| dot(sub(p, here), along);
    let near = |p: [f64; 3]| dot(sub(p, here), sub(p, here));
    run.windows(2)
        .filter(|pair| height(pair[0]) <= 0.0 && height(pair[1]) > 0.0)
        .map(|pair| {
            let part = height(pair[0]) / (height(pair[0]) - height(pair[1]));
            sub(
                std::array::from_fn(|i| pair[0][i] + part * (pair[1][i] - pair[0][i])),
                here,
            )
        })
        .min_by(|a, b| near(*a).total_cmp(&near(*b)))
}

/// Area of the hull of discs of diameter one.
fn hull_of_discs(mut points: Vec<[f64; 2]>) -> f64 {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let turn = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| {
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    };
    let mut hull: Vec<[f64; 2]> = Vec::new();
    let back: Vec<[f64; 2]> = points.iter().rev().copied().collect();
    for way in [points, back] {
        let from = hull.len();
        for p in way {
            while hull.len() > from + 1
                && turn(hull[hull.len() - 2], hull[hull.len() - 1], p) <= 0.0
            {
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
    }
    let edges = (0..hull.len()).map(|k| (hull[k], hull[(k + 1) % hull.len()]));
    let (mut area, mut round) = (0.0, 0.0);
    for (a, b) in edges {
        area += 0.5 * (a[0] * b[1] - a[1] * b[0]);
        round += (b[0] - a[0]).hypot(b[1] - a[1]);
    }
    area + 0.5 * round + 0.25 * PI
}

fn scaled(points: &[[f64; 3]], by: f64) -> Vec<[f64; 3]> {
    points.iter().map(|p| p.map(|x| by * x)).collect()
}

/// The part of `rough` across a direction, of length one.
fn across(along: [f64; 3], rough: [f64; 3]) -> [f64; 3] {
    let part = dot(along, rough);
    unit(std::array::from_fn(|i| rough[i] - part * along[i]))
}

fn unit(a: [f64; 3]) -> [f64; 3] {
    let length = dot(a, a).sqrt();
    a.map(|x| x / length)
}

fn sub(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| a[i] - b[i])
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}
