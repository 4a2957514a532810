//! Which strand is outermost at a place of the cord's surface.

use rayon::prelude::*;

use super::round::Round;
use super::strand::{Ray, Span, Spot, Strands};

/// What is seen at a place: on which span, and how far from the spine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seen {
    pub(super) spot: Spot,
    pub(super) depth: f64,
}

/// The strands, and the coordinate round them.
#[derive(Debug, Clone)]
pub(super) struct Field {
    pub(super) strands: Strands,
    pub(super) round: Round,
    /// Turn of a repeat as seen from the spine, from -½ to ½ of a round.
    pub(super) turn: f64,
}

/// Places round and up at which the mean depth is taken.
const PROBES: (usize, usize) = (64, 8);

impl Field {
    pub(super) fn new(strands: Strands) -> Self {
        let share = strands.turn / std::f64::consts::TAU;
        let turn = share - (share - 0.5).ceil();
        let (round, turn) = Round::new(&strands, turn);
        let mut field = Self {
            strands,
            round,
            turn,
        };
        let (across, up) = PROBES;
        let seen = field.raster(across, up);
        let depths: Vec<f64> = seen.iter().flatten().map(|seen| seen.depth).collect();
        if !depths.is_empty() {
            let mean = depths.iter().sum::<f64>() / depths.len() as f64;
            field.round = field.round.at(mean);
        }
        field
    }

    /// What is seen at every place of one repeat, row by row upwards. Row `j` of `up`
    /// stands at that share of the lift and begins at that share of the turn.
    pub(super) fn raster(&self, across: usize, up: usize) -> Vec<Option<Seen>> {
        let row = |j: usize| {
            let part = j as f64 / up as f64;
            self.row(across, self.turn * part, self.strands.lift * part)
        };
        let rows: Vec<Vec<Option<Seen>>> = (0..up).into_par_iter().map(row).collect();
        rows.concat()
    }

    /// What is seen at a height from 0 to one lift, evenly round from `start`.
    pub(super) fn row(&self, across: usize, start: f64, height: f64) -> Vec<Option<Seen>> {
        let share = |i: usize| start + i as f64 / across as f64;
        let rays: Vec<Ray> = (0..across)
            .map(|i| self.round.ray(share(i), height))
            .collect();
        let mut seen = vec![None; across];
        for level in self.strands.levels() {
            let low = height - self.strands.lift * f64::from(level);
            for (number, span) in self.strands.spans.iter().enumerate() {
                if span.heights[0] > low || span.heights[1] < low {
                    continue;
                }
                let (middle, half) = self.shadow(span, level);
                let first = ((middle - half - start) * across as f64).ceil() as i64;
                let last = ((middle + half - start) * across as f64).floor() as i64;
                let spot = Spot {
                    span: number,
                    level,
                };
                for i in first..=last.min(first + across as i64 - 1) {
                    let i = i.rem_euclid(across as i64) as usize;
                    self.meet(&rays[i], spot, &mut seen[i]);
                }
            }
        }
        seen
    }

    /// Share of the round of a raised span's middle, and half of what it may be seen on.
    fn shadow(&self, span: &Span, level: i32) -> (f64, f64) {
        let (share, depth) = self.round.place(self.strands.raised(span.middle, level));
        (share, self.round.half_share(depth, span.reach))
    }

    /// Keeps what lies farther out.
    fn meet(&self, ray: &Ray, spot: Spot, seen: &mut Option<Seen>) {
        let span = &self.strands.spans[spot.span];
        let lowered = self.strands.lowered(ray, spot.level);
        let off = [0, 1, 2].map(|d| span.middle[d] - lowered.from[d]);
        let along = super::strand::dot(off, lowered.way);
        let passes = super::strand::dot(off, off) - along * along > span.reach * span.reach;
        if passes || seen.is_some_and(|seen| along + span.reach < seen.depth) {
            return;
        }
        let Some(hit) = span.hit(&lowered) else {
            return;
        };
        // What the spine lies beyond is seen on the other side.
        if hit.depth > 0.0 && seen.is_none_or(|seen| hit.depth > seen.depth) {
            *seen = Some(Seen {
                spot,
                depth: hit.depth,
            });
        }
    }

    /// What is seen at one place, whatever its height.
    pub(super) fn seen(&self, share: f64, height: f64) -> Option<Seen> {
        let (lift, up) = (self.strands.lift, (height / self.strands.lift).floor());
        let up = up.clamp(-1e6, 1e6);
        let seen = self.row(1, share - self.turn * up, height - lift * up);
        seen[0].map(|seen| Seen {
            spot: Spot {
                level: seen.spot.level + up as i32,
                ..seen.spot
            },
            ..seen
        })
    }
}
