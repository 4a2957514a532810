//! How the mean width answers to small moves, for the sensitivities.

use std::f64::consts::PI;

use super::tower::{DIRECTIONS, Tower};
use crate::mechanics::layout::Layout;
use crate::mechanics::tubes::{Shape, Tubes};

/// Least radius of a cut that is divided by, strand diameters.
const LEAST_CUT: f64 = 1e-9;

/// How the mean width answers to moves of the nodes, as they stand.
#[derive(Debug, Clone)]
pub(in crate::mechanics) struct Slope {
    /// By the place and radius of every node, then of the cell above.
    pub points: Vec<[f64; 4]>,
    /// By the rise and turn of the rows and levels, nodes aside.
    pub lift: f64,
    pub turn: f64,
}

/// The slope of the mean of [`silhouette`](super::silhouette()). Only the outermost balls count, and
/// stay outermost in a small move.
///
/// The middle of the cord is taken to stand still: it shifts both sides alike.
pub(in crate::mechanics) fn silhouette_slope(tubes: &Tubes, shape: &Shape) -> Slope {
    let mut slope = Slope {
        points: vec![[0.0; 4]; 2 * tubes.count()],
        lift: 0.0,
        turn: 0.0,
    };
    let Some(tower) = Tower::of(tubes, shape) else {
        return slope;
    };
    let layout = Layout::new(tubes);
    let rows = tower.heights();
    let scale = 1.0 / (rows * DIRECTIONS) as f64;
    for (place, support) in tower.farthest(rows).into_iter().enumerate() {
        let (row, way) = (place / (2 * DIRECTIONS), place % (2 * DIRECTIONS));
        let ball = tower.balls[support.ball];
        // Levels of the row above the ball's own cell.
        let above = row as f64 / rows as f64 - f64::from(support.level);
        let seen = PI * way as f64 / DIRECTIONS as f64 + shape.turn * above;
        let (sin, cos) = seen.sin_cos();
        let higher = above * shape.lift - ball.height;
        let cut = support.cut.max(LEAST_CUT);
        let steep = higher / cut;
        let by = [cos, sin, steep, ball.radius / cut];
        let across = ball.distance * (ball.angle - seen).sin();
        slope.lift -= scale * steep * above;
        slope.turn += scale * across * above;
        let (from, to) = (ball.node, layout.next[ball.node]);
        for axis in 0..4 {
            slope.points[from][axis] += scale * (1.0 - ball.part) * by[axis];
            slope.points[to][axis] += scale * ball.part * by[axis];
        }
    }
    slope
}
