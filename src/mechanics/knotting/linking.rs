//! How often strands go round one another.
//!
//! The crossings of every two strands are counted with their signs. A tube that
//! passed through another shows as a changed count. The reverse does not hold:
//! equal counts are necessary, not sufficient; `alexander` sees more.

use super::crossings::{Crossings, Line};
use super::pieces::closed_curves;
use super::planar::linking_of_lattice;
use crate::mechanics::layout::cycles_of;
use crate::mechanics::tubes::{Ends, Shape, Tubes};

/// Signed crossings of every two strands, `strands * strands` counts, symmetric;
/// right-handed ones count up.
///
/// Of endless strands, named by their piece in the cell, over as many cells as
/// it takes until both are back in their places. Of closed strands, once round;
/// pieces of one closed strand count nothing together. Twice the linking number
/// either way. Of a lattice, of each piece with all images of another, as seen along x;
/// once, not twice, where two ways cross once. Takes about a microsecond for each node.
pub fn linking(tubes: &Tubes, shape: &Shape) -> Vec<i32> {
    let crossings = Crossings::seen(tubes, shape);
    match tubes.ends {
        Ends::Screw { .. } => linking_of_endless(&crossings, &tubes.continues),
        Ends::Closed { cells } => linking_of_closed(&crossings, tubes, cells),
        Ends::Lattice { .. } => linking_of_lattice(tubes, shape),
    }
}

fn linking_of_endless(crossings: &Crossings, continues: &[usize]) -> Vec<i32> {
    let strands = continues.len();
    let cycles = cycles_of(continues);
    let name = |line: Line| cycles[line.cycle][line.copy as usize];
    let orbit = orbits(continues);
    let mut counts = vec![0; strands * strands];
    for (a, b, sign) in crossings.signed() {
        let (a, b) = (name(a), name(b));
        if a != b {
            counts[orbit[a * strands + b]] += sign;
            counts[orbit[b * strands + a]] += sign;
        }
    }
    orbit.iter().map(|&orbit| counts[orbit]).collect()
}

fn linking_of_closed(crossings: &Crossings, tubes: &Tubes, cells: usize) -> Vec<i32> {
    let curves = closed_curves(tubes, cells);
    let mut counts = vec![0; curves.len() * curves.len()];
    for (a, b, sign) in crossings.signed().filter(|(a, b, _)| a.cycle != b.cycle) {
        counts[a.cycle * curves.len() + b.cycle] += sign;
        counts[b.cycle * curves.len() + a.cycle] += sign;
    }
    let curve = |strand: usize| curves.iter().position(|curve| curve.contains(&strand));
    let of: Vec<usize> = (0..tubes.strands).filter_map(curve).collect();
    let pairs = of.iter().flat_map(|a| of.iter().map(move |b| (a, b)));
    pairs.map(|(a, b)| counts[a * curves.len() + b]).collect()
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
            axes: Vec::new(),
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
