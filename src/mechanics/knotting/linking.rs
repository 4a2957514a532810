//! How often strands go round one another.
//!
//! The cord is untwisted, seen from one side, and the crossings of every two
//! strands are counted with their signs. A tube that passed through another
//! shows as a changed count. The reverse does not hold: equal counts are
//! necessary, not sufficient; `alexander` sees more.

use std::f64::consts::PI;

use crate::mechanics::layout::{Layout, names_at_levels};
use crate::mechanics::tubes::{Ends, Shape, Tubes, screwed};

/// Direction one looks from, in general position to anything laid out evenly.
const ASKEW: f64 = 0.61;

/// Signed crossings of every two strands, `strands * strands` counts, symmetric;
/// right-handed ones count up.
///
/// Of endless strands, named by their piece in the cell, over as many cells as
/// it takes until both are back in their places. Of closed strands, once round;
/// pieces of one closed strand count nothing together. Twice the linking number
/// either way. Takes about a microsecond for each node.
pub fn linking(tubes: &Tubes, shape: &Shape) -> Vec<i32> {
    match tubes.ends {
        Ends::Screw { .. } => linking_of_endless(tubes, shape),
        Ends::Closed { cells } => linking_of_closed(tubes, shape, cells),
    }
}

/// A step from node to node.
#[derive(Debug, Clone, Copy)]
struct Step {
    from: [f64; 3],
    to: [f64; 3],
    strand: usize,
    level: i64,
}

impl Step {
    fn low(&self) -> f64 {
        self.from[2].min(self.to[2])
    }

    fn high(&self) -> f64 {
        self.from[2].max(self.to[2])
    }

    fn lifted(&self, level: i64, lift: f64) -> Self {
        let rise = |p: [f64; 3]| [p[0], p[1], p[2] + level as f64 * lift];
        Self {
            from: rise(self.from),
            to: rise(self.to),
            strand: self.strand,
            level,
        }
    }

    /// +1 or -1 if the two cross as seen along y, else 0.
    fn crossing(&self, other: &Self) -> i32 {
        let (ax, az) = (self.to[0] - self.from[0], self.to[2] - self.from[2]);
        let (bx, bz) = (other.to[0] - other.from[0], other.to[2] - other.from[2]);
        let (ex, ez) = (other.from[0] - self.from[0], other.from[2] - self.from[2]);
        let turn = ax * bz - az * bx;
        let (s, t) = ((ex * bz - ez * bx) / turn, (ex * az - ez * ax) / turn);
        if !((0.0..1.0).contains(&s) && (0.0..1.0).contains(&t)) {
            return 0;
        }
        let own = self.from[1] + s * (self.to[1] - self.from[1]);
        let others = other.from[1] + t * (other.to[1] - other.from[1]);
        if (turn > 0.0) == (own < others) {
            1
        } else {
            -1
        }
    }
}

fn linking_of_endless(tubes: &Tubes, shape: &Shape) -> Vec<i32> {
    let strands = tubes.strands;
    let steps = untwisted_steps(tubes, shape);
    let (low, high) = extent(&steps);
    let levels = ((high - low) / shape.lift).ceil() as i64 + 1;
    let mut others = Vec::new();
    for level in -levels..=levels {
        let lifted = steps.iter().map(|step| step.lifted(level, shape.lift));
        others.extend(lifted.filter(|step| step.high() >= low && step.low() <= high));
    }
    let orbit = orbits(&tubes.continues);
    let named = names_at_levels(&tubes.continues, levels);
    let mut counts = vec![0; strands * strands];
    for_crossings(&steps, others, |step, other, sign| {
        let name = named[(other.level + levels) as usize][other.strand];
        if name != step.strand {
            counts[orbit[step.strand * strands + name]] += sign;
        }
    });
    orbit.iter().map(|&orbit| counts[orbit]).collect()
}

fn linking_of_closed(tubes: &Tubes, shape: &Shape, cells: usize) -> Vec<i32> {
    let strands = tubes.strands;
    let layout = Layout::new(tubes);
    let mut steps = Vec::new();
    for step in own_steps(tubes, shape) {
        for level in 0..cells {
            let turned = |p: [f64; 3]| askew(screwed(p, 0.0, shape.turn * level as f64));
            steps.push(Step {
                from: turned(step.from),
                to: turned(step.to),
                strand: step.strand,
                level: level as i64,
            });
        }
    }
    let curve = |strand: usize, level: usize| {
        let own = (0..strands).find(|&first| layout.joins(first, strand, level));
        own.unwrap_or(strand)
    };
    let curves: Vec<usize> = (0..cells * strands)
        .map(|piece| curve(piece % strands, piece / strands))
        .collect();
    let mut counts = vec![0; strands * strands];
    for_crossings(&steps, steps.clone(), |step, other, sign| {
        let own = curves[step.level as usize * strands + step.strand];
        let others = curves[other.level as usize * strands + other.strand];
        if own != others {
            counts[own * strands + others] += sign;
        }
    });
    (0..strands * strands)
        .map(|pair| counts[curves[pair / strands] * strands + curves[pair % strands]])
        .collect()
}

fn own_steps(tubes: &Tubes, shape: &Shape) -> Vec<Step> {
    let layout = Layout::new(tubes);
    let step = |(node, &next): (usize, &usize)| Step {
        from: shape.points[node],
        to: shape.image(next),
        strand: node / tubes.nodes,
        level: 0,
    };
    layout.next.iter().enumerate().map(step).collect()
}

fn untwisted_steps(tubes: &Tubes, shape: &Shape) -> Vec<Step> {
    let untwisted = |p: [f64; 3]| screwed(p, 0.0, ASKEW - shape.turn * p[2] / shape.lift);
    let straight = |step: Step| Step {
        from: untwisted(step.from),
        to: untwisted(step.to),
        ..step
    };
    own_steps(tubes, shape).into_iter().map(straight).collect()
}

/// Turned about two axes, so that no plane curve is seen edge on.
fn askew(point: [f64; 3]) -> [f64; 3] {
    let [x, y, z] = screwed(point, 0.0, ASKEW);
    let [y, z, _] = screwed([y, z, 0.0], 0.0, PI / 5.0);
    [x, y, z]
}

fn extent(steps: &[Step]) -> (f64, f64) {
    let low = steps.iter().map(Step::low).fold(f64::INFINITY, f64::min);
    let high = steps
        .iter()
        .map(Step::high)
        .fold(f64::NEG_INFINITY, f64::max);
    (low, high)
}

/// Show every crossing of one of `steps` with one of `others`. Sorted by height, since
/// only steps at about the same height can cross.
fn for_crossings(steps: &[Step], mut others: Vec<Step>, mut show: impl FnMut(&Step, &Step, i32)) {
    others.sort_by(|a, b| a.low().total_cmp(&b.low()));
    let tallest = others
        .iter()
        .fold(0.0_f64, |t, s| t.max(s.high() - s.low()));
    for step in steps {
        let from = others.partition_point(|other| other.low() < step.low() - tallest);
        let near = others[from..].iter();
        for other in near.take_while(|other| other.low() <= step.high()) {
            let sign = step.crossing(other);
            if sign != 0 {
                show(step, other, sign);
            }
        }
    }
}

/// A number for every two strands; equal where one pair follows in the places
/// of the other.
fn orbits(continues: &[usize]) -> Vec<usize> {
    let strands = continues.len();
    let mut orbit = vec![usize::MAX; strands * strands];
    for first in 0..orbit.len() {
        let mut pair = first;
        while orbit[pair] == usize::MAX {
            orbit[pair] = first;
            pair = continues[pair / strands] * strands + continues[pair % strands];
        }
    }
    orbit
}

#[cfg(test)]
pub(super) mod tests {
    use std::f64::consts::TAU;

    use super::*;
    use crate::mechanics::limp::{SCREW, limp};
    use crate::mechanics::spiral::{mirrored, round_spiral};

    pub(in super::super) fn shape(
        strands: usize,
        nodes: usize,
        lift: f64,
        at: impl Fn(usize, f64) -> [f64; 3],
    ) -> Shape {
        let part = |node: usize| (node % nodes) as f64 / nodes as f64;
        Shape {
            points: (0..strands * nodes)
                .map(|n| at(n / nodes, part(n)))
                .collect(),
            lift,
            turn: 0.0,
            squeeze: vec![0.0; strands * nodes],
        }
    }

    #[test]
    fn strands_once_round_each_other_in_a_cell_cross_twice() {
        for (hand, sign) in [(1.0, 1), (-1.0, -1)] {
            let at = |strand: usize, part: f64| {
                let (sin, cos) = (hand * TAU * (part + 0.5 * strand as f64)).sin_cos();
                [0.5 * cos, 0.5 * sin, 3.0 * part]
            };
            let counts = linking(&limp(2, 24, SCREW), &shape(2, 24, 3.0, at));
            assert_eq!(counts, [0, 2 * sign, 2 * sign, 0]);
        }
    }

    /// Half a turn in a cell: each strand runs on in the place of the other,
    /// and both are back after two cells.
    #[test]
    fn strands_that_change_places_are_counted_until_they_are_back() {
        let at = |strand: usize, part: f64| {
            let (sin, cos) = (0.5 * TAU * (part + strand as f64)).sin_cos();
            [0.5 * cos, 0.5 * sin, 2.0 * part]
        };
        let swapped = Tubes {
            continues: vec![1, 0],
            ..limp(2, 24, SCREW)
        };
        let counts = linking(&swapped, &shape(2, 24, 2.0, at));
        assert_eq!(counts, [0, 2, 2, 0]);
    }

    /// Gauss: two rings through each other have linking number one.
    #[test]
    fn two_rings_through_each_other_cross_twice_and_two_apart_never() {
        let rings = |apart: f64| {
            let at = |ring: usize, part: f64| {
                let (sin, cos) = (TAU * part).sin_cos();
                match ring {
                    0 => [cos, sin, 0.0],
                    _ => [apart + cos, 0.0, sin],
                }
            };
            let closed = limp(2, 24, Ends::Closed { cells: 1 });
            linking(&closed, &shape(2, 24, 0.0, at))
        };
        let (through, beside) = (rings(1.0), rings(2.5));
        assert_eq!((through[0], through[1].abs(), through[3]), (0, 2, 0));
        assert_eq!(through[1], through[2]);
        assert_eq!(beside, [0; 4]);
    }

    #[test]
    fn a_mirrored_shape_has_all_counts_turned() {
        let (tubes, shape) = round_spiral(10);
        let mut counts = linking(&tubes, &mirrored(&shape));
        assert!(counts.iter().any(|&count| count != 0), "nothing is linked");
        for count in &mut counts {
            *count = -*count;
        }
        assert_eq!(counts, linking(&tubes, &shape));
    }

    #[test]
    fn counts_do_not_depend_on_how_many_nodes_a_strand_has() {
        let count = |nodes| {
            let (tubes, shape) = round_spiral(nodes);
            linking(&tubes, &shape)
        };
        assert_eq!(count(12), count(31));
    }
}
