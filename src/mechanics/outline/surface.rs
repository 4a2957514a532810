//! The outside of a cell, unrolled.

use std::f64::consts::TAU;

use super::tower::{Ball, Tower};
use crate::mechanics::layout::names_at_levels;
use crate::mechanics::tubes::{Shape, Tubes};

/// Balls that stay within this share of the outermost reach are hidden as a rule.
const HIDDEN: f64 = 0.62;

/// No strand in the map.
const NOTHING: i32 = -1;

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

/// The outside of one cell, unrolled; empty of strands for closed cells.
pub fn surface(tubes: &Tubes, shape: &Shape, angles: usize, heights: usize) -> Surface {
    match Tower::of(tubes, shape) {
        Some(tower) => tower.surface(angles, heights),
        None => Surface::bare(angles, heights),
    }
}

impl Tower<'_> {
    pub(super) fn surface(&self, angles: usize, heights: usize) -> Surface {
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
                let Some(out) = cut.edge(c * cos + s * sin, s * cos - c * sin) else {
                    continue;
                };
                let out = out as f32;
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
        let names = names_at_levels(&self.tubes.continues, i64::from(self.levels));
        let names: Vec<i32> = names.iter().flatten().map(|&name| name as i32).collect();
        for strand in surface.strand.iter_mut().filter(|strand| **strand >= 0) {
            *strand = names[*strand as usize];
        }
    }
}
