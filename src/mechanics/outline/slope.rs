//! How the mean width answers to small moves, for the sensitivities.

use super::tower::{Ball, DIRECTIONS, Tower, ways};
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
    let ways = ways();
    let places: Vec<[f64; 2]> = tower.balls.iter().map(place).collect();
    for (row, supports) in tower.farthest(rows).chunks_exact(ways.len()).enumerate() {
        let levels: Vec<Above> = (-tower.levels..=tower.levels)
            .map(|level| Above::of(row as f64 / rows as f64 - f64::from(level), shape.turn))
            .collect();
        for (support, way) in supports.iter().zip(ways) {
            let ball = &tower.balls[support.ball];
            let above = &levels[(support.level + tower.levels) as usize];
            let [cos, sin] = above.seen(way);
            let higher = above.cells * shape.lift - ball.height;
            let cut = support.cut.max(LEAST_CUT);
            let steep = higher / cut;
            let by = [cos, sin, steep, ball.radius / cut];
            let [x, y] = places[support.ball];
            slope.lift -= scale * steep * above.cells;
            slope.turn += scale * (y * cos - x * sin) * above.cells;
            let (from, to) = (ball.node, layout.next[ball.node]);
            for axis in 0..4 {
                slope.points[from][axis] += scale * (1.0 - ball.part) * by[axis];
                slope.points[to][axis] += scale * ball.part * by[axis];
            }
        }
    }
    slope
}

fn place(ball: &Ball) -> [f64; 2] {
    let (sin, cos) = ball.angle.sin_cos();
    [ball.distance * cos, ball.distance * sin]
}

/// How a row stands over the cell that a ball is of.
#[derive(Debug, Clone, Copy)]
struct Above {
    cells: f64,
    cos: f64,
    sin: f64,
}

impl Above {
    fn of(cells: f64, turn: f64) -> Self {
        let (sin, cos) = (turn * cells).sin_cos();
        Self { cells, cos, sin }
    }

    /// A direction in the frame of the row, seen from the cell of the ball.
    fn seen(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [x * self.cos - y * self.sin, y * self.cos + x * self.sin]
    }
}
