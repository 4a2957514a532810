//! Checked polygons laid out as tubes, ready for a solve.
//!
//! Rings are drawn apart as `loosen` says, then everything is blown up or down until
//! the tubes just clear one another. Endless strands are blown up; where their
//! rise is held, across the axis only. Neither lets a strand through another.
//!
//! This module does not know how tight the strands will lie.

use super::loosen::loosen;
use super::polygons::{Joined, Polygons};
use crate::mechanics::segments::{Vector, between, minus, norm};
use crate::mechanics::tubes::{Ends, Hold, Shape, Squeeze, Tubes};

/// Distance of tubes after blowing up, over the sum of their radii.
const CLEAR: f64 = 1.05;

impl Polygons {
    /// The same knot in units of the largest diameter, drawn apart and blown up
    /// until the tubes clear.
    pub(super) fn cleared(&self) -> Self {
        let mut clear = self.normalised();
        if clear.is_rings() {
            clear = loosen(clear);
        }
        let by = CLEAR / clear.clearance();
        if by.is_finite() {
            clear.blow_up(by);
        }
        clear
    }

    /// In units of the thickest diameter; rings first at a size of about one. On a
    /// grid far finer than any figure, so that the unit they came in does not
    /// show in the last digits.
    fn normalised(&self) -> Self {
        const GRID: f64 = (1_u64 << 40) as f64;
        let (_, thick) = self.radii();
        let unit = if self.is_rings() {
            self.extent()
        } else {
            2.0 * thick
        };
        let onto = |x: f64| (x * GRID).round() / GRID;
        let mut all = self.clone();
        all.radius = self.radius.iter().map(|r| onto(0.5 * r / thick)).collect();
        for x in all.points.iter_mut().flatten().flatten() {
            *x = onto(*x / unit);
        }
        if let Joined::Screw { lift, .. } = &mut all.joined {
            *lift = onto(*lift / unit);
        }
        all
    }

    fn blow_up(&mut self, by: f64) {
        let mut up = by;
        if let Joined::Screw {
            lift, lift_hold, ..
        } = &mut self.joined
        {
            if *lift_hold == Hold::Held {
                up = 1.0;
            }
            *lift *= up;
        }
        // A held rise may stay too low whatever is done across.
        let across = if up == by { by } else { by.clamp(0.1, 10.0) };
        for p in self.points.iter_mut().flatten() {
            *p = [across * p[0], across * p[1], up * p[2]];
        }
    }

    /// Most corners of a strand, and at least as many as tubes need nodes.
    pub(super) fn corners(&self) -> usize {
        self.points.iter().map(Vec::len).fold(4, usize::max)
    }

    /// Tubes with `nodes` nodes a strand, laid along the polygons, every corner
    /// kept where there are nodes enough.
    pub(super) fn laid(&self, nodes: usize) -> (Tubes, Shape) {
        let strands = self.points.len();
        let mut points = Vec::with_capacity(strands * nodes);
        for corners in &self.points {
            points.extend(spread(corners, nodes, self.is_rings()));
        }
        let radius = self.radius.iter().flat_map(|&r| vec![r; nodes]).collect();
        let (ends, continues, lift, turn) = match &self.joined {
            Joined::Rings => (Ends::Closed { cells: 1 }, (0..strands).collect(), 0.0, 0.0),
            Joined::Screw {
                next,
                lift,
                lift_hold,
                turn,
                turn_hold,
            } => {
                let ends = Ends::Screw {
                    lift: *lift_hold,
                    turn: *turn_hold,
                };
                (ends, next.clone(), *lift, *turn)
            }
        };
        let tubes = Tubes {
            strands,
            nodes,
            continues,
            radius,
            pull: vec![1.0; strands],
            bending: vec![0.0; strands],
            squeeze: vec![Squeeze::Hard; strands],
            ends,
            weight: self.weight,
            band: 0.0,
            lengths: None,
            sections: Vec::new(),
        };
        let squeeze = vec![0.0; strands * nodes];
        (
            tubes,
            Shape {
                points,
                lift,
                turn,
                squeeze,
                axes: Vec::new(),
            },
        )
    }
}

/// `nodes` nodes along `corners`: all corners, and the rest on the longest steps.
fn spread(corners: &[Vector], nodes: usize, is_ring: bool) -> Vec<Vector> {
    let count = corners.len();
    let edges = if is_ring { count } else { count - 1 };
    let ends = |edge: usize| [corners[edge], corners[(edge + 1) % count]];
    let lengths: Vec<f64> = (0..edges)
        .map(|e| norm(minus(ends(e)[1], ends(e)[0])))
        .collect();
    let mut cuts = vec![1_usize; edges];
    for _ in edges..nodes {
        let step = |e: &usize| lengths[*e] / cuts[*e] as f64;
        let longest = (0..edges).max_by(|a, b| step(a).total_cmp(&step(b)));
        cuts[longest.unwrap_or(0)] += 1;
    }
    let mut row = Vec::with_capacity(nodes);
    for (edge, &cuts) in cuts.iter().enumerate() {
        let [a, b] = ends(edge);
        row.extend((0..cuts).map(|cut| between(a, b, cut as f64 / cuts as f64)));
    }
    row
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Vector; 4] = [
        [0.0, 0.0, 0.0],
        [2.0, 0.0, 0.0],
        [2.0, 2.0, 1.0],
        [0.0, 2.0, 0.0],
    ];

    #[test]
    fn rings_are_blown_up_until_their_tubes_clear() {
        let mut rings = Polygons {
            points: vec![SQUARE.to_vec()],
            radius: vec![0.5],
            joined: Joined::Rings,
            weight: 0.0,
        };
        rings
            .points
            .push(SQUARE.map(|[x, y, z]| [x + 1.0, z + 0.9, y - 1.0]).to_vec());
        rings.radius.push(2.0);
        let clear = rings.cleared();
        assert!((clear.clearance() / CLEAR - 1.0).abs() < 1e-9);
        assert_eq!(clear.radius, [0.125, 0.5], "in diameters of the thicker");
    }

    #[test]
    fn nodes_are_laid_on_every_corner_and_evenly_between() {
        let row = spread(&SQUARE, 13, true);
        assert_eq!(row.len(), 13);
        assert!(SQUARE.iter().all(|corner| row.contains(corner)));
        let open = spread(&SQUARE[..3], 4, false);
        assert_eq!(open.len(), 4);
        assert!(!open.contains(&SQUARE[2]), "the end begins the next cell");
    }
}
