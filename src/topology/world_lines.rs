//! The way of every strand through a cell, in plan and height.
//!
//! Letters: `x` to the right and `y` up in plan, slots clockwise, `z` up; the
//! newest part of the cord lies on top. Lengths in whatever unit the spacing
//! and the rise are given in.
//!
//! The rim is drawn with all strands evenly spaced, since only their order
//! counts. Resting strands close up while one is carried; the carried strand
//! takes the straight line, bent inwards where that runs too near the rim. Every
//! lift takes the same rise, one after another; slides take none.
//!
//! How far the cord has turned is kept exactly, in whole ranks and the turn of
//! the disc, and spread evenly over the cells: a cell closes on itself, and a
//! whole round is turned by just what the disc is.

use std::f64::consts::{PI, TAU};

use thiserror::Error;

use crate::structure::Braid;

use super::band;
use super::cell::Cell;
use super::hops::Hop;

/// How far inside the rim a carried strand passes the others at least, in
/// spacings. Our guess; below a half the seed begins with strands in each other.
const CLEARANCE: f64 = 0.75;
/// How near the middle that may push it, as a share of the rim's radius.
const NEAREST_MIDDLE: f64 = 0.2;

/// Angles nearer than this are the same, radians; far above the rounding of a
/// few thousand sums, far below any turn of a disc.
const ROUNDING: f64 = 1e-9;

/// World-lines of one cell of a braid.
///
/// After the cell strand `i` goes on where strand `continues[i]` began, turned
/// by `turn` about z and lifted by `lift()`.
#[derive(Debug, Clone, PartialEq)]
pub struct WorldLines {
    /// Which strand's beginning each strand goes on in.
    pub continues: Vec<usize>,
    /// Turn of the cell, radians anticlockwise seen from above, in (-π, π].
    pub turn: f64,
    /// What is carried, in order; slides left out.
    pub hops: Vec<Hop>,
    /// Smallest cells in this one; 1 unless made by [`WorldLines::repeated`].
    pub cells: usize,
    /// Smallest cells in a round.
    pub cells_per_round: usize,
    /// Radius of the rim.
    pub rim: f64,
    /// Rise of each lift.
    pub rise: f64,
    spacing: f64,
    /// Angle of each strand before each hop and after the last, clockwise from
    /// the y axis, without jumps.
    angles: Vec<Vec<f64>>,
}

/// Why a braid has no world-lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum WorldLinesError {
    /// Strands only slide along the rim.
    #[error(
        "No strand ever passes another, so the moves make no cord: carry a strand over its neighbours."
    )]
    NothingCrosses,
    /// Spacing or rise is not a positive number.
    #[error("The spacing and the rise of world-lines must be positive.")]
    NotPositive,
}

impl WorldLines {
    /// The smallest cell of a braid: resting strands `spacing` apart, each lift
    /// `rise` high.
    ///
    /// # Errors
    ///
    /// When nothing ever crosses, or a measure is not a positive number.
    pub fn new(braid: &Braid, spacing: f64, rise: f64) -> Result<Self, WorldLinesError> {
        let positive = |measure: f64| measure > 0.0 && measure.is_finite();
        if !positive(spacing) || !positive(rise) {
            return Err(WorldLinesError::NotPositive);
        }
        // Of several ways to hand on, the one that turns least: so it is also for
        // the mirror image. Of two that turn as much, the anticlockwise one.
        let least = |a: &Self, b: &Self| {
            let order = a.turn.abs().total_cmp(&b.turn.abs());
            let alike = (a.turn.abs() - b.turn.abs()).abs() < ROUNDING;
            if alike {
                b.turn.total_cmp(&a.turn)
            } else {
                order
            }
        };
        Cell::smallest(braid)
            .into_iter()
            .map(|cell| Self::of_cell(braid, cell, spacing, rise))
            .min_by(least)
            .ok_or(WorldLinesError::NothingCrosses)
    }

    /// A whole round of a braid, even if a part of it repeats already.
    ///
    /// # Errors
    ///
    /// As [`WorldLines::new`].
    pub fn of_round(braid: &Braid, spacing: f64, rise: f64) -> Result<Self, WorldLinesError> {
        let cell = Self::new(braid, spacing, rise)?;
        Ok(cell.repeated(cell.cells_per_round))
    }

    fn of_cell(braid: &Braid, cell: Cell, spacing: f64, rise: f64) -> Self {
        let strands = braid.strands();
        let rank = TAU / strands as f64;
        let round = TAU * f64::from(braid.turn()) / f64::from(braid.slots());
        let drift = (round - rank * f64::from(cell.ranks_a_round)) / cell.per_round as f64;
        let table = rank_table(&cell);
        let begin = facing(braid, &cell.ring, rank);
        let share = drift / cell.hops.len() as f64;
        let angle =
            |hop: usize, rank_of: i32| begin + rank * f64::from(rank_of) + share * hop as f64;
        let angles: Vec<Vec<f64>> = table
            .iter()
            .enumerate()
            .map(|(hop, ranks)| ranks.iter().map(|&of| angle(hop, of)).collect())
            .collect();
        let gained = angles[cell.hops.len()][0] - angles[0][cell.continues[0]];
        Self {
            turn: half_open(-gained),
            continues: cell.continues,
            hops: cell.hops,
            cells: 1,
            cells_per_round: cell.per_round,
            rim: spacing / (2.0 * (PI / strands as f64).sin()),
            rise,
            spacing,
            angles,
        }
    }

    /// Number of strands.
    pub fn strands(&self) -> usize {
        self.continues.len()
    }

    /// The strands in rim order at the beginning, clockwise.
    pub(super) fn ring(&self) -> Vec<usize> {
        let mut ring: Vec<usize> = (0..self.strands()).collect();
        ring.sort_by(|&a, &b| self.angles[0][a].total_cmp(&self.angles[0][b]));
        ring
    }

    /// Rise of the cell.
    pub fn lift(&self) -> f64 {
        self.rise * self.hops.len() as f64
    }

    /// Rounds of the move list in this cell; a fraction if it is shorter.
    pub fn rounds(&self) -> f64 {
        self.cells as f64 / self.cells_per_round as f64
    }

    /// So many of these cells on top of each other, as one cell.
    #[must_use]
    pub fn repeated(&self, cells: usize) -> Self {
        let mut whole = self.clone();
        for _ in 1..cells {
            whole.append(self);
        }
        whole
    }

    fn append(&mut self, cell: &Self) {
        let clockwise = -self.turn;
        let parts = self.continues.clone();
        let junction = self.angles.pop().expect("a table ends after its last hop");
        let jumps: Vec<f64> = (0..parts.len())
            .map(|strand| {
                let begun = cell.angles[0][parts[strand]] + clockwise;
                clockwise + TAU * ((junction[strand] - begun) / TAU).round()
            })
            .collect();
        for row in &cell.angles {
            let on = |strand: usize| row[parts[strand]] + jumps[strand];
            self.angles.push((0..parts.len()).map(on).collect());
        }
        let who = |part: usize| parts.iter().position(|&other| other == part);
        self.hops.extend(cell.hops.iter().map(|hop| Hop {
            strand: who(hop.strand).expect("every part is played"),
            passed: hop.passed,
        }));
        self.continues = parts.iter().map(|&part| cell.continues[part]).collect();
        self.turn = half_open(self.turn + cell.turn);
        self.cells += cell.cells;
    }

    /// The way of each strand through the cell, `samples` points to each lift,
    /// evenly in height, beginning at height 0; the end, which is the beginning
    /// of the next cell, is left out.
    pub fn paths(&self, samples: usize) -> Vec<Vec<[f64; 3]>> {
        let point = |strand, index: usize| {
            let part = (index % samples) as f64 / samples as f64;
            self.point(strand, index / samples, part)
        };
        (0..self.strands())
            .map(|strand| {
                (0..samples * self.hops.len())
                    .map(|index| point(strand, index))
                    .collect()
            })
            .collect()
    }

    /// The same ways laid flat, where nobody is ever carried across some gap of
    /// the rim: along x the row that rests, before it (towards minus y) what is
    /// carried. None where the cord goes all round.
    pub fn flat_paths(&self, samples: usize) -> Option<Vec<Vec<[f64; 3]>>> {
        let gap = band::gap(self)?;
        let mut paths = self.paths(samples);
        // What is carried passes a whole spacing before the row.
        let deep = self.spacing / (self.rim - self.nearest());
        band::unrolled(&mut paths, gap, self.rim, deep);
        Some(paths)
    }

    /// Whether it is a row with two ends: nobody is ever carried across some gap
    /// of the rim.
    pub fn is_band(&self) -> bool {
        band::gap(self).is_some()
    }

    /// Angle of a strand before a hop, clockwise from the y axis.
    pub(super) fn angle(&self, hop: usize, strand: usize) -> f64 {
        self.angles[hop][strand]
    }

    /// Where a strand is when the part `part`, from 0 to 1, of a lift is done.
    fn point(&self, strand: usize, lift: usize, part: f64) -> [f64; 3] {
        let (from, to) = (self.angles[lift][strand], self.angles[lift + 1][strand]);
        let hop = self.hops[lift];
        let [x, y] = if hop.strand == strand {
            // Straight as seen by those who rest: the whole may turn meanwhile.
            let across = TAU * f64::from(hop.passed) / self.strands() as f64;
            let turned = from + (to - from - across) * part;
            self.carried(turned, turned + across, part)
        } else {
            on_rim(self.rim, from + (to - from) * part)
        };
        [x, y, self.rise * (lift as f64 + part)]
    }

    /// How near the rim a carried strand passes in the middle of its way.
    fn nearest(&self) -> f64 {
        (self.rim - CLEARANCE * self.spacing).max(NEAREST_MIDDLE * self.rim)
    }

    /// The straight line between two places of the rim, bent inwards in the
    /// middle if it is so short that it would graze the strands it passes. Where the
    /// strands passed are bunched on the disc and drawn over more than half of the
    /// rim, it runs along inside them: so the middle stays on the side it was on.
    fn carried(&self, from: f64, to: f64, part: f64) -> [f64; 2] {
        if (to - from).abs() > PI + ROUNDING {
            let inwards = (self.rim - self.nearest()) * (PI * part).sin();
            return on_rim(self.rim - inwards, from + (to - from) * part);
        }
        let ([ax, ay], [bx, by]) = (on_rim(self.rim, from), on_rim(self.rim, to));
        let height = self.rim * ((to - from) / 2.0).cos();
        let bend = (self.nearest() - height).min(0.0) * (PI * part).sin();
        let [dx, dy] = on_rim(bend, (from + to) / 2.0);
        [ax + (bx - ax) * part + dx, ay + (by - ay) * part + dy]
    }
}

/// Rank of each strand before each hop and after the last, counted on without
/// jumps: who is passed gives way by one.
fn rank_table(cell: &Cell) -> Vec<Vec<i32>> {
    let mut ranks = vec![0; cell.ring.len()];
    for (rank, &strand) in cell.ring.iter().enumerate() {
        ranks[strand] = rank as i32;
    }
    let mut table = vec![ranks];
    for hop in &cell.hops {
        let before = table.last().expect("begins with the start");
        table.push(after_hop(before, *hop));
    }
    table
}

fn after_hop(ranks: &[i32], hop: Hop) -> Vec<i32> {
    let count = ranks.len() as i32;
    let own = ranks[hop.strand];
    let way = hop.passed.signum();
    let is_passed = |rank: i32| ((rank - own) * way).rem_euclid(count) <= hop.passed.abs();
    let mut after: Vec<i32> = ranks
        .iter()
        .map(|&rank| if is_passed(rank) { rank - way } else { rank })
        .collect();
    after[hop.strand] = own + hop.passed;
    after
}

/// The angle of rank 0 at which evenly spaced strands lie nearest to their slots.
fn facing(braid: &Braid, ring: &[usize], rank: f64) -> f64 {
    let seats = braid.seats_after(0);
    let (mut sine, mut cosine) = (0.0, 0.0);
    for (place, &strand) in ring.iter().enumerate() {
        let off = seats[strand].angle() - rank * place as f64;
        sine += off.sin();
        cosine += off.cos();
    }
    sine.atan2(cosine)
}

fn on_rim(radius: f64, clockwise: f64) -> [f64; 2] {
    [radius * clockwise.sin(), radius * clockwise.cos()]
}

/// The angle in (-π, π], a half turn being π and none being 0 whatever
/// the rounding.
fn half_open(angle: f64) -> f64 {
    let turned = angle.rem_euclid(TAU);
    let turned = if turned > PI + ROUNDING {
        turned - TAU
    } else {
        turned
    };
    if turned.abs() < ROUNDING { 0.0 } else { turned }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{MoveList, Structure, shelf};
    use crate::topology::{artin, writhe};

    fn braid(list: &MoveList) -> Braid {
        Braid::new(list).expect("on the shelf")
    }

    fn all_lists() -> Vec<(String, MoveList)> {
        let both = |s: &Structure| {
            let named = |hand| format!("{} of {}{hand}", s.name, s.strands());
            [
                (named(""), s.moves.clone()),
                (named(", mirrored"), s.moves.mirrored()),
            ]
        };
        shelf().iter().flat_map(both).collect()
    }

    fn turned([x, y, z]: [f64; 3], angle: f64) -> [f64; 3] {
        let (s, c) = angle.sin_cos();
        [x * c - y * s, x * s + y * c, z]
    }

    /// Right-handed less left-handed crossings of paths seen along a direction
    /// of no meaning; whoever is nearer is in front.
    fn signed_crossings(paths: &[Vec<[f64; 3]>]) -> i32 {
        let seen: Vec<Vec<[f64; 3]>> = paths
            .iter()
            .map(|path| path.iter().map(|&p| turned(p, 0.2371)).collect())
            .collect();
        let mut sum = 0;
        for a in 0..seen.len() {
            for b in 0..a {
                for (p, q) in seen[a].windows(2).zip(seen[b].windows(2)) {
                    let (x, x_next) = (p[0][0] - q[0][0], p[1][0] - q[1][0]);
                    if x * x_next >= 0.0 {
                        continue;
                    }
                    let part = x / (x - x_next);
                    let depth = |m: &[[f64; 3]]| m[0][1] + (m[1][1] - m[0][1]) * part;
                    let a_in_front = depth(p) < depth(q);
                    sum += if a_in_front == (x_next > x) { 1 } else { -1 };
                }
            }
        }
        sum
    }

    /// Turn of a round in the lines' sense: radians anticlockwise.
    fn disc_turn(braid: &Braid) -> f64 {
        -TAU * f64::from(braid.turn()) / f64::from(braid.slots())
    }

    /// The paths of a round with their end, then the whole turned back.
    fn round_and_back(lines: &WorldLines, turn: f64) -> Vec<Vec<[f64; 3]>> {
        let last = lines.hops.len() - 1;
        let mut paths = lines.paths(96);
        for (strand, path) in paths.iter_mut().enumerate() {
            let end = lines.point(strand, last, 1.0);
            for step in 0..=4000 {
                path.push(turned(end, -turn * f64::from(step) / 4000.0));
            }
        }
        paths
    }

    #[test]
    fn sampled_paths_cross_as_the_word_says() {
        for (name, list) in all_lists() {
            let braid = braid(&list);
            let lines = WorldLines::of_round(&braid, 1.15, 1.0).expect("crosses");
            let counted = signed_crossings(&round_and_back(&lines, disc_turn(&braid)));
            assert_eq!(counted, writhe(&artin(&braid)), "{name}");
        }
    }

    #[test]
    fn a_cell_closes_on_itself() {
        for (name, list) in all_lists() {
            let lines = WorldLines::new(&braid(&list), 1.15, 0.9).expect("crosses");
            for cells in [1, lines.cells_per_round, lines.cells_per_round + 1] {
                let lines = lines.repeated(cells);
                let last = lines.hops.len() - 1;
                for strand in 0..lines.strands() {
                    let end = lines.point(strand, last, 1.0);
                    let mut begin = lines.point(lines.continues[strand], 0, 0.0);
                    begin[2] += lines.lift();
                    let begin = turned(begin, lines.turn);
                    for axis in 0..3 {
                        assert!((end[axis] - begin[axis]).abs() < 1e-9, "{name}");
                    }
                }
            }
        }
    }

    #[test]
    fn paths_have_no_jumps() {
        for (name, list) in all_lists() {
            let lines = WorldLines::of_round(&braid(&list), 1.0, 1.0).expect("crosses");
            for path in lines.paths(32) {
                for pair in path.windows(2) {
                    let way: f64 = (0..2).map(|i| (pair[1][i] - pair[0][i]).powi(2)).sum();
                    assert!(way.sqrt() < 0.15 * lines.rim.max(1.0), "{name}");
                }
            }
        }
    }

    #[test]
    fn a_round_brings_the_strands_where_the_turned_disc_has_them() {
        for (name, list) in all_lists() {
            let braid = braid(&list);
            let lines = WorldLines::of_round(&braid, 1.0, 1.0).expect("crosses");
            let last = lines.hops.len() - 1;
            for (strand, &role) in braid.becomes().iter().enumerate() {
                let end = lines.point(strand, last, 1.0);
                let place = turned(lines.point(role, 0, 0.0), disc_turn(&braid));
                let off = (end[0] - place[0]).hypot(end[1] - place[1]);
                assert!(off < 1e-9, "{name}: strand {strand} is {off} off");
            }
        }
    }

    #[test]
    fn round_spirals_repeat_every_two_moves() {
        for structure in shelf().iter().filter(|s| s.name == "Round spiral") {
            let braid = braid(&structure.moves);
            let lines = WorldLines::new(&braid, 1.0, 1.0).expect("crosses");
            let of = structure.strands();
            let uneven = of == 6;
            assert_eq!(lines.hops.len(), if uneven { 4 } else { 2 }, "{of}");
            let per_round = if uneven { 1 } else { of / 4 };
            assert_eq!(lines.cells_per_round, per_round, "{of}");
        }
    }
}
