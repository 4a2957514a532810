//! The cell as balls about the middle of the cord, and the rows that cut them.
//!
//! Strands are rows of balls, close enough to look smooth; of ellipsoids where they
//! flatten. Radii are those of the squeezed strands. Knows nothing of what is measured.

use std::f64::consts::PI;

use super::oval::Ellipse;
use crate::mechanics::layout::{Layout, MOST_LEVELS};
use crate::mechanics::section::{Oval, Tensor};
use crate::mechanics::segments::{between, dot, minus, norm};
use crate::mechanics::tubes::{Ends, Shape, Tubes, screwed};

/// Directions in half a turn from which the cord is looked at.
pub(super) const DIRECTIONS: usize = 36;

/// Heights taken for each strand diameter of rise, and their bounds.
const HEIGHTS_PER_DIAMETER: f64 = 16.0;
const FEWEST_HEIGHTS: usize = 24;
const MOST_HEIGHTS: usize = 128;

/// Distance of balls over their radius; leaves scallops of 0.8 % of the radius.
const BALL_STEP: f64 = 0.25;

/// Most balls from a node to the next.
const MOST_BALLS: f64 = 32.0;

/// A piece of strand, seen from the middle of the cord at its height.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ball {
    pub distance: f64,
    pub angle: f64,
    pub height: f64,
    /// Half its wider side, if it is no ball.
    pub radius: f64,
    /// Number of its ellipsoid among those of the tower; none of a ball.
    pub oval: Option<u32>,
    pub strand: usize,
    /// The node before it, and how far it is on to the next.
    pub node: usize,
    pub part: f64,
}

/// How far the cord reaches in one direction, and what reaches there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Support {
    pub reach: f64,
    pub ball: usize,
    pub level: i32,
    /// Radius of the ball where the row cuts it.
    pub cut: f64,
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

/// The cell as balls about its middle, with the cells above and below.
#[derive(Debug)]
pub(super) struct Tower<'a> {
    pub tubes: &'a Tubes,
    pub lift: f64,
    pub turn: f64,
    pub balls: Vec<Ball>,
    /// Ellipsoids, each seen outwards, round z and up.
    ovals: Vec<Tensor>,
    /// Levels up and down from which balls reach into the cell.
    pub levels: i32,
}

impl<'a> Tower<'a> {
    pub(super) fn of(tubes: &'a Tubes, shape: &Shape) -> Option<Self> {
        let Ends::Screw { .. } = tubes.ends else {
            return None;
        };
        let pitch = shape.turn / shape.lift;
        let middle = shape.middle();
        let (mut balls, mut ovals) = (Vec::new(), Vec::new());
        for_balls(tubes, shape, |p, radius, oval, node, part| {
            let [x, y, _] = screwed(middle, 0.0, pitch * p[2]);
            let angle = (p[1] - y).atan2(p[0] - x);
            let number = oval.map(|oval| {
                ovals.push(oval.turned(-angle).tensor());
                (ovals.len() - 1) as u32
            });
            balls.push(Ball {
                distance: (p[0] - x).hypot(p[1] - y),
                angle,
                height: p[2],
                radius: oval.map_or(radius, |oval| oval.long()),
                oval: number,
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
            ovals,
            levels: farthest.ceil().min(MOST_LEVELS as f64) as i32 + 1,
        })
    }

    pub(super) fn heights(&self) -> usize {
        let heights = (self.lift * HEIGHTS_PER_DIAMETER) as usize;
        heights.clamp(FEWEST_HEIGHTS, MOST_HEIGHTS)
    }

    /// Show every ball at every level as it cuts each row: the row and the cut.
    pub(super) fn for_cuts(&self, rows: usize, balls: &[Ball], mut show: impl FnMut(usize, Cut)) {
        let gap = self.lift / rows as f64;
        for level in -self.levels..=self.levels {
            let level_rise = self.lift * f64::from(level);
            for (number, ball) in balls.iter().enumerate() {
                let height = ball.height + level_rise;
                let first = ((height - ball.radius) / gap).ceil().max(0.0) as usize;
                let end = (((height + ball.radius) / gap).floor() + 1.0).clamp(0.0, rows as f64);
                if let Some(oval) = ball.oval {
                    let rise = |row: usize| row as f64 * gap - height;
                    let tensor = &self.ovals[oval as usize];
                    for row in first..end as usize {
                        if let Some(ellipse) = Ellipse::cut(tensor, ball.distance, rise(row)) {
                            show(row, Cut::oval(ball, ellipse, self.turn, level, number));
                        }
                    }
                    continue;
                }
                for row in first..end as usize {
                    let square = ball.radius.powi(2) - (row as f64 * gap - height).powi(2);
                    show(
                        row,
                        Cut {
                            distance: ball.distance,
                            angle: ball.angle + self.turn * f64::from(level),
                            square: square.max(0.0),
                            oval: None,
                            strand: ball.strand,
                            level,
                            ball: number,
                        },
                    );
                }
            }
        }
    }

    /// Farthest reach in every direction, once round for every row, in the turning
    /// frame.
    pub(super) fn farthest(&self, rows: usize) -> Vec<Support> {
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
            let (c, s) = (cos, sin);
            for (out, (sin, cos)) in out.iter_mut().zip(&ways) {
                let half = match &cut.oval {
                    Some(ellipse) => ellipse.half_width(cos * c + sin * s, sin * c - cos * s),
                    None => radius,
                };
                let here = cos * x + sin * y + half;
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
}

/// The disc that a ball cuts out of a row, or the ellipse that an ellipsoid does.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cut {
    pub distance: f64,
    pub angle: f64,
    /// Squared radius; of half the wider side, if it is no disc.
    pub square: f64,
    pub oval: Option<Ellipse>,
    pub strand: usize,
    pub level: i32,
    /// Its number among those shown.
    pub ball: usize,
}

impl Cut {
    fn oval(ball: &Ball, ellipse: Ellipse, turn: f64, level: i32, number: usize) -> Self {
        Self {
            distance: ellipse.distance,
            angle: ball.angle + ellipse.aside + turn * f64::from(level),
            square: ellipse.long_square(),
            oval: Some(ellipse),
            strand: ball.strand,
            level,
            ball: number,
        }
    }

    /// How far out its edge lies along a ray from the middle, `cos` and `sin` of its angle
    /// from the middle of the cut.
    pub(super) fn edge(&self, cos: f64, sin: f64) -> Option<f64> {
        match &self.oval {
            Some(ellipse) => ellipse.edge(cos, sin),
            None => {
                let across = self.distance * sin;
                let deep = self.square - across * across;
                (deep >= 0.0).then(|| self.distance * cos + deep.sqrt())
            }
        }
    }

    /// Half the angle it covers from the middle; all round if it covers that.
    pub(super) fn half_angle(&self) -> Option<f64> {
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

/// Show balls along every strand of the cell: place, radius, section if it is not
/// round, the node before it and the part of the way to the next.
fn for_balls(
    tubes: &Tubes,
    shape: &Shape,
    mut show: impl FnMut([f64; 3], f64, Option<Oval>, usize, f64),
) {
    let layout = Layout::new(tubes);
    for (node, &next) in layout.next.iter().enumerate() {
        let from = tubes.radius_in(shape, node);
        let to = tubes.radius_in(shape, next % tubes.count());
        let (p, q) = (shape.points[node], layout.seen(shape, next));
        let axes = axes_of_step(shape, node, next);
        let thin = axes.map_or(from, |_| tubes.oval_in(shape, node).short());
        let pieces = norm(minus(q, p)) / (BALL_STEP * thin);
        let pieces = pieces.ceil().clamp(1.0, MOST_BALLS);
        for piece in 0..pieces as usize {
            let part = piece as f64 / pieces;
            let radius = from + part * (to - from);
            let oval = axes.map(|[v, w]| Oval::new(radius, between(v, w, part)));
            show(between(p, q, part), radius, oval, node, part);
        }
    }
}

/// The axes at both ends of a step, pointing to the same side; none if both are round.
fn axes_of_step(shape: &Shape, node: usize, next: usize) -> Option<[[f64; 3]; 2]> {
    let count = shape.points.len();
    let v = *shape.axes.get(node)?;
    let level = (next / count) as f64;
    let w = screwed(shape.axes[next % count], 0.0, level * shape.turn);
    let side = if dot(v, w) < 0.0 { -1.0 } else { 1.0 };
    (v != [0.0; 3] || w != [0.0; 3]).then(|| [v, w.map(|x| side * x)])
}
