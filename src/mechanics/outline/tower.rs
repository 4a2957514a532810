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

/// The same once round, and the angle between two of them.
const WAYS: usize = 2 * DIRECTIONS;
const WAY: f64 = PI / DIRECTIONS as f64;

/// Parts of all balls after which the least reach of each row is read: what lies within
/// it need not be looked at.
const PARTS: usize = 16;

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
        let mut reach = vec![Support::default(); rows * WAYS];
        let mut least = vec![f64::NEG_INFINITY; rows];
        let ways = ways();
        let order = self.outermost_first();
        for part in order.chunks(order.len().div_ceil(PARTS).max(1)) {
            let balls: Vec<Ball> = part.iter().map(|&ball| self.balls[ball]).collect();
            if balls[0].farthest() <= least_of(least.iter().copied()) {
                break;
            }
            self.for_cuts(rows, &balls, |row, cut| {
                let ball = part[cut.ball];
                let angle = cut.angle - self.turn * row as f64 / rows as f64;
                let out = &mut reach[row * WAYS..(row + 1) * WAYS];
                Cut { ball, angle, ..cut }.reach_out(out, &ways, least[row]);
            });
            for (least, row) in least.iter_mut().zip(reach.chunks_exact(WAYS)) {
                *least = least_of(row.iter().map(|out| out.reach));
            }
        }
        reach
    }

    fn outermost_first(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.balls.len()).collect();
        let far = |&ball: &usize| self.balls[ball].farthest();
        order.sort_by(|a, b| far(b).total_cmp(&far(a)));
        order
    }
}

/// The directions once round.
pub(super) fn ways() -> [[f64; 2]; WAYS] {
    std::array::from_fn(|way| {
        let (sin, cos) = (WAY * way as f64).sin_cos();
        [cos, sin]
    })
}

fn least_of(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::INFINITY, f64::min)
}

impl Ball {
    /// How far from the middle of the cord it reaches.
    fn farthest(&self) -> f64 {
        self.distance + self.radius
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

    /// Where it reaches farther than what was there, which nowhere reaches less than
    /// `least`; `ways` are the directions of `out`, its own angle is seen in their frame.
    fn reach_out(&self, out: &mut [Support], ways: &[[f64; 2]; WAYS], least: f64) {
        let radius = self.square.sqrt();
        if self.distance + radius <= least {
            return;
        }
        let (s, c) = self.angle.sin_cos();
        let (x, y) = (self.distance * c, self.distance * s);
        for way in self.ways_beyond(least - radius) {
            let [cos, sin] = ways[way];
            let half = match &self.oval {
                Some(ellipse) => ellipse.half_width(cos * c + sin * s, sin * c - cos * s),
                None => radius,
            };
            let here = cos * x + sin * y + half;
            if here > out[way].reach {
                out[way] = Support {
                    reach: here,
                    ball: self.ball,
                    level: self.level,
                    cut: radius,
                };
            }
        }
    }

    /// The ways along which its middle lies farther than `least`, or nearly so.
    fn ways_beyond(&self, least: f64) -> impl Iterator<Item = usize> + use<> {
        let aside = (least / self.distance).clamp(-1.0, 1.0).acos();
        let from = ((self.angle - aside) / WAY).floor();
        let count = ((self.angle + aside) / WAY).ceil() - from + 1.0;
        let first = (from as i64).rem_euclid(WAYS as i64) as usize;
        (first..WAYS).chain(0..first).take(count as usize)
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
