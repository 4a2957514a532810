//! What a tightened cell measures from outside.
//!
//! Everything is taken about the middle of the cord, not about z: a cord that
//! hardly turns may wander off z (tried). Strands are rows of balls, close
//! enough to look smooth. Radii are those of the squeezed strands.

use std::f64::consts::{PI, TAU};

use super::layout::{Layout, MOST_LEVELS};
use super::tubes::{Ends, Shape, Tubes, screwed};

/// Directions in half a turn from which the silhouette is taken.
const DIRECTIONS: usize = 36;

/// Angles of the outline whose area is taken.
const ANGLES: usize = 360;

/// Heights taken for each strand diameter of rise, and their bounds.
const HEIGHTS_PER_DIAMETER: f64 = 16.0;
const FEWEST_HEIGHTS: usize = 24;
const MOST_HEIGHTS: usize = 128;

/// Distance of balls over their radius; leaves scallops of 0.8 % of the radius.
const BALL_STEP: f64 = 0.25;

/// Balls that stay within this share of the outermost reach are hidden as a rule.
const HIDDEN: f64 = 0.62;

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

/// The outside of one cell, unrolled.
///
/// Row by row from z = 0 up to the rise; in a row, angles go once round from x
/// towards y. `strand` and `radius` have `angles * heights` entries.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Entries in a row.
    pub angles: usize,
    /// Number of rows.
    pub heights: usize,
    /// Outermost strand, named by its piece in this cell; -1 where there is none.
    pub strand: Vec<i32>,
    /// Its distance from the middle of the cord; 0 where there is none.
    pub radius: Vec<f32>,
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
    let rows = tower.supports(heights);
    let width = |row: &[f64], way: usize| row[way] + row[way + DIRECTIONS];
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

/// The outside of one cell, unrolled; empty of strands for closed cells.
pub fn surface(tubes: &Tubes, shape: &Shape, angles: usize, heights: usize) -> Surface {
    match Tower::of(tubes, shape) {
        Some(tower) => tower.surface(angles, heights),
        None => Surface::bare(angles, heights),
    }
}

/// Length of every strand in the cell, along the straight steps between nodes.
pub fn strand_lengths(tubes: &Tubes, shape: &Shape) -> Vec<f64> {
    let layout = Layout::new(tubes);
    let mut lengths = vec![0.0; tubes.strands];
    for (node, &next) in layout.next.iter().enumerate() {
        let (p, q) = (shape.points[node], image(tubes, shape, next));
        let square: f64 = (0..3).map(|axis| (q[axis] - p[axis]).powi(2)).sum();
        lengths[node / tubes.nodes] += square.sqrt();
    }
    lengths
}

fn image(tubes: &Tubes, shape: &Shape, image: usize) -> [f64; 3] {
    let level = (image / tubes.count()) as f64;
    let node = shape.points[image % tubes.count()];
    screwed(node, level * shape.lift, level * shape.turn)
}

/// A piece of strand, seen from the middle of the cord at its height.
#[derive(Debug, Clone, Copy)]
struct Ball {
    distance: f64,
    angle: f64,
    height: f64,
    radius: f64,
    strand: usize,
    /// The node before it, and how far it is on to the next.
    node: usize,
    part: f64,
}

/// How far the cord reaches in one direction, and what reaches there.
#[derive(Debug, Clone, Copy)]
struct Support {
    reach: f64,
    ball: usize,
    level: i32,
    /// Radius of the ball where the row cuts it.
    cut: f64,
}

impl Default for Support {
    fn default() -> Self {
        Self {
            reach: f64::NEG_INFINITY,
            ball: 0,
            level: 0,
            cut: 0.0,
        }
    }
}

/// How the mean width answers to moves of the nodes, as they stand.
#[derive(Debug, Clone)]
pub(super) struct Slope {
    /// By the place and radius of every node, then of the cell above.
    pub points: Vec<[f64; 4]>,
    /// By the rise and turn of the rows and levels, nodes aside.
    pub lift: f64,
    pub turn: f64,
}

/// The slope of the mean of [`silhouette()`]. Only the outermost balls count, and
/// stay outermost in a small move.
///
/// The middle of the cord is taken to stand still: it shifts both sides alike.
pub(super) fn silhouette_slope(tubes: &Tubes, shape: &Shape) -> Slope {
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
        let steep = higher / support.cut.max(1e-9);
        let by = [cos, sin, steep, ball.radius / support.cut.max(1e-9)];
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

/// The cell as balls about its middle, with the cells above and below.
#[derive(Debug)]
struct Tower<'a> {
    tubes: &'a Tubes,
    lift: f64,
    turn: f64,
    balls: Vec<Ball>,
    /// Levels up and down from which balls reach into the cell.
    levels: i32,
}

impl<'a> Tower<'a> {
    fn of(tubes: &'a Tubes, shape: &Shape) -> Option<Self> {
        let Ends::Screw { .. } = tubes.ends else {
            return None;
        };
        let pitch = shape.turn / shape.lift;
        let middle = middle(shape, pitch);
        let mut balls = Vec::new();
        for_balls(tubes, shape, |p, radius, node, part| {
            let [x, y, _] = screwed(middle, 0.0, pitch * p[2]);
            balls.push(Ball {
                distance: (p[0] - x).hypot(p[1] - y),
                angle: (p[1] - y).atan2(p[0] - x),
                height: p[2],
                radius,
                strand: node / tubes.nodes,
                node,
                part,
            });
        });
        let farthest = balls.iter().fold(0.0_f64, |far, ball| {
            far.max((ball.height.abs() + ball.radius) / shape.lift)
        });
        Some(Self {
            tubes,
            lift: shape.lift,
            turn: shape.turn,
            balls,
            levels: farthest.ceil().min(MOST_LEVELS as f64) as i32 + 1,
        })
    }

    fn heights(&self) -> usize {
        let heights = (self.lift * HEIGHTS_PER_DIAMETER) as usize;
        heights.clamp(FEWEST_HEIGHTS, MOST_HEIGHTS)
    }

    /// Show every ball at every level as it cuts each row: the row, the ball,
    /// its angle there, and the radius of the cut.
    fn for_cuts(&self, rows: usize, balls: &[Ball], mut show: impl FnMut(usize, Cut)) {
        let gap = self.lift / rows as f64;
        for level in -self.levels..=self.levels {
            let level_rise = self.lift * f64::from(level);
            for (number, ball) in balls.iter().enumerate() {
                let height = ball.height + level_rise;
                let first = ((height - ball.radius) / gap).ceil().max(0.0) as usize;
                let end = (((height + ball.radius) / gap).floor() + 1.0).clamp(0.0, rows as f64);
                for row in first..end as usize {
                    let square = ball.radius.powi(2) - (row as f64 * gap - height).powi(2);
                    show(
                        row,
                        Cut {
                            distance: ball.distance,
                            angle: ball.angle + self.turn * f64::from(level),
                            square: square.max(0.0),
                            strand: ball.strand,
                            level,
                            ball: number,
                        },
                    );
                }
            }
        }
    }

    /// Farthest reach in every direction, for every row, in the turning frame.
    fn supports(&self, rows: usize) -> Vec<f64> {
        let supports = self.farthest(rows);
        supports.into_iter().map(|support| support.reach).collect()
    }

    /// The same with the ball that reaches farthest.
    fn farthest(&self, rows: usize) -> Vec<Support> {
        let mut reach = vec![Support::default(); rows * 2 * DIRECTIONS];
        let ways: Vec<(f64, f64)> = (0..2 * DIRECTIONS)
            .map(|way| (PI * way as f64 / DIRECTIONS as f64).sin_cos())
            .collect();
        self.for_cuts(rows, &self.balls, |row, cut| {
            let angle = cut.angle - self.turn * row as f64 / rows as f64;
            let (sin, cos) = angle.sin_cos();
            let (x, y) = (cut.distance * cos, cut.distance * sin);
            let radius = cut.square.sqrt();
            let out = &mut reach[row * 2 * DIRECTIONS..(row + 1) * 2 * DIRECTIONS];
            for (out, (sin, cos)) in out.iter_mut().zip(&ways) {
                let here = cos * x + sin * y + radius;
                if here > out.reach {
                    *out = Support {
                        reach: here,
                        ball: cut.ball,
                        level: cut.level,
                        cut: radius,
                    };
                }
            }
        });
        reach
    }

    fn surface(&self, angles: usize, heights: usize) -> Surface {
        let mut surface = Surface::bare(angles, heights);
        let ways: Vec<(f64, f64)> = (0..angles)
            .map(|way| (TAU * way as f64 / angles as f64).sin_cos())
            .collect();
        let reach = |ball: &Ball| ball.distance + ball.radius;
        let outermost = self.balls.iter().map(reach).fold(0.0, f64::max);
        let is_outer = |ball: &Ball| reach(ball) > HIDDEN * outermost;
        let (outer, inner): (Vec<Ball>, Vec<Ball>) = self.balls.iter().partition(|b| is_outer(b));
        self.paint(&mut surface, &ways, &outer);
        if surface.strand.contains(&NOTHING) {
            self.paint(&mut surface, &ways, &inner);
        }
        self.rename(&mut surface);
        surface
    }

    /// Lay the balls into the map; strands are noted with their level.
    fn paint(&self, surface: &mut Surface, ways: &[(f64, f64)], balls: &[Ball]) {
        let angles = ways.len();
        let step = TAU / angles as f64;
        let strands = self.tubes.strands as i32;
        self.for_cuts(surface.heights, balls, |row, cut| {
            let Some(half) = cut.half_angle() else { return };
            let name = (cut.level + self.levels) * strands + cut.strand as i32;
            let (sin, cos) = cut.angle.sin_cos();
            let first = ((cut.angle - half) / step).ceil() as i64;
            let end = ((cut.angle + half) / step).floor() as i64;
            for way in first..=end.min(first + angles as i64 - 1) {
                let way = way.rem_euclid(angles as i64) as usize;
                let (s, c) = ways[way];
                let across = cut.distance * (s * cos - c * sin);
                let deep = cut.square - across * across;
                if deep < 0.0 {
                    continue;
                }
                let out = (cut.distance * (c * cos + s * sin) + deep.sqrt()) as f32;
                let place = row * angles + way;
                if out > surface.radius[place] {
                    surface.radius[place] = out;
                    surface.strand[place] = name;
                }
            }
        });
    }

    /// From strand and level to the strand's name in this cell.
    fn rename(&self, surface: &mut Surface) {
        let names = super::layout::names_at_levels(&self.tubes.continues, i64::from(self.levels));
        let names: Vec<i32> = names.iter().flatten().map(|&name| name as i32).collect();
        for strand in surface.strand.iter_mut().filter(|strand| **strand >= 0) {
            *strand = names[*strand as usize];
        }
    }
}

/// No strand in the map.
const NOTHING: i32 = -1;

impl Surface {
    fn bare(angles: usize, heights: usize) -> Self {
        Self {
            angles,
            heights,
            strand: vec![NOTHING; angles * heights],
            radius: vec![0.0; angles * heights],
        }
    }
}

/// The disc that a ball cuts out of a row.
#[derive(Debug, Clone, Copy)]
struct Cut {
    distance: f64,
    angle: f64,
    /// Squared radius.
    square: f64,
    strand: usize,
    level: i32,
    /// Its number among those shown.
    ball: usize,
}

impl Cut {
    /// Half the angle it covers from the middle; all round if it covers that.
    fn half_angle(&self) -> Option<f64> {
        let radius = self.square.sqrt();
        if radius <= 0.0 {
            return None;
        }
        if radius >= self.distance {
            return Some(PI);
        }
        Some((radius / self.distance).asin())
    }
}

/// Mean place of all nodes in the frame that turns with the cord.
fn middle(shape: &Shape, pitch: f64) -> [f64; 3] {
    let count = shape.points.len() as f64;
    let mut middle = [0.0; 3];
    for &p in &shape.points {
        let [x, y, _] = screwed(p, 0.0, -pitch * p[2]);
        middle[0] += x / count;
        middle[1] += y / count;
    }
    middle
}

/// Show balls along every strand of the cell: place, radius, the node before it
/// and the part of the way to the next.
fn for_balls(tubes: &Tubes, shape: &Shape, mut show: impl FnMut([f64; 3], f64, usize, f64)) {
    let layout = Layout::new(tubes);
    for (node, &next) in layout.next.iter().enumerate() {
        let from = tubes.radius_in(shape, node);
        let to = tubes.radius_in(shape, next % tubes.count());
        let (p, q) = (shape.points[node], image(tubes, shape, next));
        let square: f64 = (0..3).map(|axis| (q[axis] - p[axis]).powi(2)).sum();
        let pieces = (square.sqrt() / (BALL_STEP * from)).ceil().clamp(1.0, 32.0);
        for piece in 0..pieces as usize {
            let part = piece as f64 / pieces;
            let place = std::array::from_fn(|axis| p[axis] + part * (q[axis] - p[axis]));
            show(place, from + part * (to - from), node, part);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Hold, Squeeze};
    use super::*;

    /// Straight strands of radius `radius` that stand at `places`.
    fn straight(places: &[[f64; 2]], radius: f64, squeeze: f64) -> (Tubes, Shape) {
        const NODES: usize = 8;
        let strands = places.len();
        let tubes = Tubes {
            strands,
            nodes: NODES,
            continues: (0..strands).collect(),
            radius: vec![radius; strands * NODES],
            pull: vec![1.0; strands],
            bending: vec![0.0; strands],
            squeeze: vec![Squeeze::Hard; strands],
            ends: Ends::Screw {
                lift: Hold::Free,
                turn: Hold::Free,
            },
            weight: 0.0,
            band: 0.0,
            lengths: None,
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
