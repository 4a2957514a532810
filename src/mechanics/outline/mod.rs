//! What a tightened cell measures from outside.
//!
//! Everything is taken about the middle of the cord, not about z: a cord that
//! hardly turns may wander off z (tried). Strands are rows of balls, of
//! ellipsoids where they flatten, close enough to look smooth. Radii are those of the squeezed strands.
//!
//! ```text
//! oval         an ellipsoid cut by a row
//! tower        the cell as balls, and the rows that cut them
//! surface      what one sees from outside
//! slope        how the mean width answers to small moves
//! ```
//!
//! Knows tubes and their layout. Knows no forces.

mod oval;
mod slope;
mod surface;
mod tower;

use std::f64::consts::TAU;

use self::tower::{DIRECTIONS, Support, Tower};
use super::layout::Layout;
use super::segments::{minus, norm};
use super::tubes::{Shape, Tubes};

pub(super) use slope::{Slope, silhouette_slope};
pub use surface::{Surface, surface};

/// Angles of the outline whose area is taken.
const ANGLES: usize = 360;

/// Widths of a cord between the jaws of a narrow calliper.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Least width, strand diameters.
    pub least: f64,
    /// Mean over heights and directions: the thickness over the crests.
    pub mean: f64,
    /// Largest width.
    pub most: f64,
    /// Mean over heights for each of some directions, evenly over half a turn
    /// from x on, in the frame that turns with the cord.
    pub widths: Vec<f64>,
}

/// Local silhouette over heights and directions.
///
/// All zero for closed cells, which have no height.
pub fn silhouette(tubes: &Tubes, shape: &Shape) -> Profile {
    let Some(tower) = Tower::of(tubes, shape) else {
        return Profile {
            least: 0.0,
            mean: 0.0,
            most: 0.0,
            widths: vec![0.0; DIRECTIONS],
        };
    };
    let heights = tower.heights();
    let rows = tower.farthest(heights);
    let width = |row: &[Support], way: usize| row[way].reach + row[way + DIRECTIONS].reach;
    let mut widths = vec![0.0; DIRECTIONS];
    let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
    for row in rows.chunks_exact(2 * DIRECTIONS) {
        for (way, sum) in widths.iter_mut().enumerate() {
            let width = width(row, way).max(0.0);
            *sum += width / heights as f64;
            least = least.min(width);
            most = most.max(width);
        }
    }
    Profile {
        least,
        mean: widths.iter().sum::<f64>() / DIRECTIONS as f64,
        most,
        widths,
    }
}

/// Mean area within the outline, squared strand diameters.
///
/// The outline is the outermost surface at every angle, so hollows between the
/// strands count. Zero for closed cells.
pub fn outline_area(tubes: &Tubes, shape: &Shape) -> f64 {
    let Some(tower) = Tower::of(tubes, shape) else {
        return 0.0;
    };
    let heights = tower.heights();
    let surface = tower.surface(ANGLES, heights);
    let squares: f64 = surface.radius.iter().map(|&r| f64::from(r).powi(2)).sum();
    0.5 * squares * TAU / (ANGLES * heights) as f64
}

/// Length of every strand in the cell, along the straight steps between nodes.
pub fn strand_lengths(tubes: &Tubes, shape: &Shape) -> Vec<f64> {
    let layout = Layout::new(tubes);
    let mut lengths = vec![0.0; tubes.strands];
    for (node, &next) in layout.next.iter().enumerate() {
        lengths[node / tubes.nodes] += norm(minus(layout.seen(shape, next), shape.points[node]));
    }
    lengths
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::limp::{SCREW, limp};
    use super::*;

    /// Straight strands of radius `radius` that stand at `places`.
    fn straight(places: &[[f64; 2]], radius: f64, squeeze: f64) -> (Tubes, Shape) {
        const NODES: usize = 8;
        let strands = places.len();
        let tubes = Tubes {
            radius: vec![radius; strands * NODES],
            ..limp(strands, NODES, SCREW)
        };
        let point = |node: usize| {
            let [x, y] = places[node / NODES];
            [x, y, 0.25 * (node % NODES) as f64]
        };
        let shape = Shape {
            points: (0..strands * NODES).map(point).collect(),
            lift: 0.25 * NODES as f64,
            turn: 0.0,
            squeeze: vec![squeeze; strands * NODES],
            axes: Vec::new(),
        };
        (tubes, shape)
    }

    #[test]
    fn one_straight_strand_far_from_z_is_as_wide_as_it_is() {
        let (tubes, shape) = straight(&[[7.0, -3.0]], 0.5, 0.2);
        let width = (-0.2_f64).exp();
        let profile = silhouette(&tubes, &shape);
        assert!((profile.least - width).abs() < 0.01 * width, "{profile:?}");
        assert!((profile.most - width).abs() < 0.01 * width, "{profile:?}");
        let area = outline_area(&tubes, &shape);
        let disc = 0.25 * PI * width * width;
        assert!((area / disc - 1.0).abs() < 0.02, "{area} for {disc}");
        assert_eq!(strand_lengths(&tubes, &shape), [2.0]);
    }

    #[test]
    fn two_strands_side_by_side_are_twice_as_wide_one_way() {
        let (tubes, shape) = straight(&[[1.5, 1.0], [2.5, 1.0]], 0.5, 0.0);
        let widths = silhouette(&tubes, &shape).widths;
        assert!((widths[0] - 2.0).abs() < 0.01, "{widths:?}");
        assert!((widths[DIRECTIONS / 2] - 1.0).abs() < 0.01, "{widths:?}");
    }

    #[test]
    fn the_outermost_strand_is_seen_in_every_direction() {
        let (tubes, shape) = straight(&[[3.0, 1.0], [2.0, 2.0], [1.0, 1.0], [2.0, 0.0]], 0.5, 0.0);
        let map = surface(&tubes, &shape, 8, 3);
        // Looked at from the middle along x, y, -x, -y.
        for row in map.strand.chunks_exact(8) {
            assert_eq!([row[0], row[2], row[4], row[6]], [0, 1, 2, 3]);
        }
        assert!((map.radius[0] - 1.5).abs() < 0.01, "{}", map.radius[0]);
    }

    /// Half a turn in a cell, in which two strands change places.
    #[test]
    fn a_strand_keeps_its_name_in_the_cells_above_and_below() {
        let (mut tubes, mut shape) = straight(&[[1.0, 0.0], [-1.0, 0.0]], 0.5, 0.0);
        tubes.continues = vec![1, 0];
        let (lift, nodes) = (shape.lift, tubes.nodes);
        for (node, point) in shape.points.iter_mut().enumerate() {
            let way = PI * ((node / nodes) as f64 + (node % nodes) as f64 / nodes as f64);
            *point = [way.cos(), way.sin(), point[2]];
        }
        let map = surface(&tubes, &shape, 64, 32);
        for row in 0..32 {
            // Strand 0 turns from x over y to -x on its way up.
            let way = 32 * row / 32;
            assert_eq!(
                map.strand[64 * row + way],
                0,
                "row {row} of a rise of {lift}"
            );
            assert_eq!(map.strand[64 * row + (way + 32) % 64], 1, "row {row}");
        }
    }
}
