//! A stiffness matrix of the tubes that is always positive definite, and its
//! inverse.
//!
//! Every term of the energy is taken as a spring: its stiffness times the square
//! of the gradient of its stretch (Gauss and Newton). What would be negative,
//! the sideways slackening of pressed contacts, is left out, and every node gets a
//! weak spring to its place.
//!
//! An image `e` at level `k` of node `j`, which has the share `f` of the cell below it,
//! moves by `Rz(turn (k + f)) δX_j + (k + f)(δlift e_z + δturn e_z × x_e)`.
//! Rise, turn, band and squeezes are the last rows of the matrix.

use faer::prelude::*;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{SparseColMat, Triplet};

use super::contact::{Contact, outside_band};
use super::energy::Energy;
use super::layout::{BAND, LIFT, SQUEEZE, TURN};
use super::minimise::Downhill;

/// Spring of every node to its place, over twice the pull and the spacing (tried).
const WEAK_SPRING: f64 = 2e-3;

type Block = [[f64; 3]; 3];

/// The matrix while it is put together.
#[derive(Debug)]
pub(super) struct Matrix<'a> {
    of: &'a Energy<'a>,
    count: usize,
    /// Lower off-diagonal blocks, entry by entry.
    entries: Vec<Triplet<usize, usize, f64>>,
    own: Vec<Block>,
    /// A row over all coordinates for each unknown that is no coordinate.
    border: Vec<Vec<f64>>,
    corner: Vec<Vec<f64>>,
}

/// How an image moves with the unknowns.
#[derive(Debug, Clone, Copy, Default)]
struct Mover {
    node: usize,
    cos: f64,
    sin: f64,
    /// Cells below it.
    cells: f64,
    /// Part of it in the stretch.
    part: f64,
    point: [f64; 4],
}

impl Mover {
    /// `v` in the turned frame of the node.
    fn local(&self, v: [f64; 3]) -> [f64; 3] {
        [
            self.cos * v[0] + self.sin * v[1],
            self.cos * v[1] - self.sin * v[0],
            v[2],
        ]
    }

    /// Move along `v` for each unit of rise and of turn.
    fn whole(&self, v: [f64; 3]) -> [f64; 2] {
        let round = v[1] * self.point[0] - v[0] * self.point[1];
        [
            self.part * self.cells * v[2],
            self.part * self.cells * round,
        ]
    }
}

impl<'a> Matrix<'a> {
    pub(super) fn of(energy: &'a Energy<'a>) -> Self {
        let count = energy.layout.count();
        let wholes = energy.layout.free.len();
        let mut matrix = Self {
            of: energy,
            count,
            entries: Vec::with_capacity(count * 120),
            own: vec![[[0.0; 3]; 3]; count],
            border: vec![vec![0.0; 3 * count]; wholes],
            corner: vec![vec![0.0; wholes]; wholes],
        };
        matrix.add_strands();
        matrix.add_contacts();
        matrix.add_band();
        matrix.add_squeezes();
        matrix
    }

    fn mover(&self, image: usize, part: f64) -> Mover {
        let (level, node) = (image / self.count, image % self.count);
        let cells = level as f64 + self.of.layout.share(node);
        let (sin, cos) = (self.of.images.turn * cells).sin_cos();
        Mover {
            node,
            cos,
            sin,
            cells,
            part,
            point: self.of.images.points[image],
        }
    }

    fn add_strands(&mut self) {
        for node in 0..self.count {
            let of = self.of;
            let number = of.cycle_of[node] as usize;
            let cycle = &of.cycles[number];
            let spacing = cycle.spacing();
            let tension = (cycle.pull + cycle.work()[0]) / spacing;
            let (next, after) = (of.layout.next[node], of.layout.after[node]);
            let (a, b) = (self.mover(node, 1.0), self.mover(next, -1.0));
            self.spring_every_way(tension, &[a, b]);
            let bending = cycle.bending / spacing.powi(3);
            if bending > 0.0 {
                let middle = Mover { part: -2.0, ..b };
                self.spring_every_way(bending, &[a, middle, self.mover(after, 1.0)]);
            }
        }
    }

    fn add_contacts(&mut self) {
        let of = self.of;
        for node in 0..self.count {
            let p = of.images.points[node];
            let own = of.cycle_of[node] as usize;
            for &image in of.pairs.of(node) {
                let image = image as usize;
                let q = of.images.points[image];
                let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
                let square: f64 = d.iter().map(|x| x * x).sum();
                let radii = p[3] + q[3];
                if square >= radii * radii || square == 0.0 {
                    continue;
                }
                let other = of.cycle_of[image % self.count] as usize;
                let spacings = of.pressed[own].spacing * of.pressed[other].spacing;
                let touch = Contact::new(square, radii, spacings, of.stiffness);
                let normal = d.map(|x| x / touch.distance);
                let movers = [self.mover(node, -1.0), self.mover(image, 1.0)];
                let swell = [(SQUEEZE + own, p[3]), (SQUEEZE + other, q[3])];
                self.spring(touch.stiffness, normal, &movers, &swell);
            }
        }
    }

    fn add_band(&mut self) {
        if !self.of.layout.free[BAND] {
            return;
        }
        for node in 0..self.count {
            let p = self.of.images.points[node];
            let cycle = self.of.cycle_of[node] as usize;
            let spacing = self.of.pressed[cycle].spacing;
            if let Some(touch) = outside_band(&p, self.of.band, spacing, self.of.stiffness) {
                let outward = [p[0] / touch.distance, p[1] / touch.distance, 0.0];
                let wholes = [(BAND, -1.0), (SQUEEZE + cycle, -p[3])];
                let mover = [self.mover(node, 1.0)];
                self.spring(touch.stiffness, outward, &mover, &wholes);
            }
        }
    }

    fn add_squeezes(&mut self) {
        for (number, cycle) in self.of.cycles.iter().enumerate() {
            self.corner[SQUEEZE + number][SQUEEZE + number] += cycle.work()[2] * cycle.length();
        }
    }

    /// A spring on the stretch `Σ part v·x + Σ amount whole`.
    fn spring(&mut self, stiffness: f64, v: [f64; 3], movers: &[Mover], wholes: &[(usize, f64)]) {
        let mut by_node = [(0_usize, [0.0; 3]); 3];
        let by_node = &mut by_node[..movers.len()];
        let mut by_whole = [(LIFT, 0.0), (TURN, 0.0), (BAND, 0.0), (BAND, 0.0)];
        by_whole[2..2 + wholes.len()].copy_from_slice(wholes);
        for (slot, mover) in by_node.iter_mut().zip(movers) {
            *slot = (mover.node, mover.local(v).map(|x| x * mover.part));
            let [lift, turn] = mover.whole(v);
            by_whole[LIFT].1 += lift;
            by_whole[TURN].1 += turn;
        }
        for &(i, a) in by_node.iter() {
            for &(j, b) in by_node.iter() {
                self.block(i, j, a.map(|x| b.map(|y| stiffness * x * y)));
            }
            for (whole, amount) in by_whole {
                self.edge(whole, i, a.map(|x| stiffness * amount * x));
            }
        }
        for (i, a) in by_whole {
            for (j, b) in by_whole {
                self.corner[i][j] += stiffness * a * b;
            }
        }
    }

    /// The same spring along all three axes.
    fn spring_every_way(&mut self, stiffness: f64, movers: &[Mover]) {
        let (mut lift, mut round) = (0.0, [0.0; 2]);
        for mover in movers {
            let carried = mover.part * mover.cells;
            lift += carried;
            round[0] -= carried * mover.point[1];
            round[1] += carried * mover.point[0];
        }
        for a in movers {
            for b in movers {
                let part = stiffness * a.part * b.part;
                let cos = part * (a.cos * b.cos + a.sin * b.sin);
                let sin = part * (a.sin * b.cos - a.cos * b.sin);
                self.block(
                    a.node,
                    b.node,
                    [[cos, sin, 0.0], [-sin, cos, 0.0], [0.0, 0.0, part]],
                );
            }
            let part = stiffness * a.part;
            let turned = a.local([round[0], round[1], 0.0]);
            self.edge(LIFT, a.node, [0.0, 0.0, part * lift]);
            self.edge(TURN, a.node, turned.map(|x| part * x));
        }
        self.corner[LIFT][LIFT] += stiffness * lift * lift;
        self.corner[TURN][TURN] += stiffness * (round[0] * round[0] + round[1] * round[1]);
    }

    fn block(&mut self, i: usize, j: usize, block: Block) {
        if i < j {
            return;
        }
        if i == j {
            for (row, add) in self.own[i].iter_mut().flatten().zip(block.iter().flatten()) {
                *row += add;
            }
            return;
        }
        for (r, row) in block.iter().enumerate() {
            for (c, &value) in row.iter().enumerate() {
                if value != 0.0 {
                    self.entries.push(Triplet::new(3 * i + r, 3 * j + c, value));
                }
            }
        }
    }

    fn edge(&mut self, whole: usize, node: usize, add: [f64; 3]) {
        let row = &mut self.border[whole][3 * node..3 * node + 3];
        for (sum, add) in row.iter_mut().zip(add) {
            *sum += add;
        }
    }

    /// The inverse, unless numbers went astray.
    pub(super) fn inverse(mut self) -> Option<Inverse> {
        self.close_nodes();
        self.close_border();
        let size = self.of.layout.unknowns();
        let matrix =
            SparseColMat::<usize, f64>::try_new_from_triplets(size, size, &self.entries).ok()?;
        let order = SymbolicLlt::try_new(matrix.symbolic(), faer::Side::Lower).ok()?;
        let factor = Llt::try_new_with_symbolic(order, matrix.as_ref(), faer::Side::Lower).ok()?;
        Some(Inverse {
            factor,
            right: Mat::zeros(size, 1),
        })
    }

    fn close_nodes(&mut self) {
        for (node, block) in self.own.iter().enumerate() {
            let cycle = &self.of.cycles[self.of.cycle_of[node] as usize];
            let weak = WEAK_SPRING * 2.0 * cycle.pull / cycle.spacing();
            for (r, row) in block.iter().enumerate() {
                for (c, &value) in row.iter().enumerate().take(r + 1) {
                    let value = if r == c { value + weak } else { value };
                    self.entries
                        .push(Triplet::new(3 * node + r, 3 * node + c, value));
                }
            }
        }
    }

    fn close_border(&mut self) {
        let place = 3 * self.count;
        let free = &self.of.layout.free;
        for (i, row) in self.border.iter().enumerate() {
            let mut diagonal = 1.0;
            if free[i] {
                diagonal = self.corner[i][i] * (1.0 + 1e-9) + WEAK_SPRING;
                let set = row.iter().enumerate().filter(|(_, value)| **value != 0.0);
                self.entries
                    .extend(set.map(|(j, &value)| Triplet::new(place + i, j, value)));
                for j in (0..i).filter(|&j| free[j] && self.corner[i][j] != 0.0) {
                    self.entries
                        .push(Triplet::new(place + i, place + j, self.corner[i][j]));
                }
            }
            self.entries
                .push(Triplet::new(place + i, place + i, diagonal));
        }
    }
}

/// The factored matrix.
#[derive(Debug)]
pub(super) struct Inverse {
    factor: Llt<usize, f64>,
    right: Mat<f64>,
}

impl Downhill for Inverse {
    fn apply(&mut self, slope: &mut [f64]) {
        for (row, &value) in slope.iter().enumerate() {
            self.right[(row, 0)] = value;
        }
        self.factor.solve_in_place(self.right.as_mut());
        for (row, value) in slope.iter_mut().enumerate() {
            *value = self.right[(row, 0)];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::minimise::Landscape;
    use super::super::spiral::round_spiral;
    use super::super::{Shape, Squeeze, Tubes};
    use super::*;

    fn looked_at<'a>(tubes: &'a Tubes, shape: &Shape) -> (Energy<'a>, Vec<f64>) {
        let mut energy = Energy::new(tubes);
        let at = energy.unknowns(shape);
        energy.stiffen(&at, 64.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        (energy, at)
    }

    fn assert_gives(energy: &Energy, mut load: Vec<f64>, expected: &[f64]) {
        energy.inverse().unwrap().apply(&mut load);
        for (place, (found, expected)) in load.iter().zip(expected).enumerate() {
            let error = (found - expected).abs();
            assert!(error < 1e-5, "unknown {place}: {found} for {expected}");
        }
    }

    /// Lifted as a whole, the cord is held by the weak springs alone.
    #[test]
    fn a_rigid_lift_meets_only_the_weak_springs() {
        let (tubes, shape) = round_spiral(6);
        let (tubes, shape) = tubes.repeated(&shape, 3);
        let (energy, at) = looked_at(&tubes, &shape);
        assert!(energy.least_gap() < 1.0, "nothing presses");
        let mut lifted = vec![0.0; at.len()];
        let mut load = lifted.clone();
        for node in 0..energy.layout.count() {
            let cycle = &energy.cycles[energy.layout.cycle_of_node(node)];
            lifted[3 * node + 2] = 1.0;
            load[3 * node + 2] = WEAK_SPRING * 2.0 * cycle.pull / cycle.spacing();
        }
        assert_gives(&energy, load, &lifted);
    }

    /// Straight limp strands that touch nothing, twisted by their ends: nothing
    /// is left out of the matrix, so it is the true second derivative.
    #[test]
    fn the_stiffness_against_a_first_twist_is_exact() {
        let (tubes, shape) = round_spiral(6);
        let tubes = Tubes {
            continues: (0..8).collect(),
            radius: vec![0.1; 48],
            bending: vec![0.0; 8],
            squeeze: vec![Squeeze::Hard; 8],
            ..tubes
        };
        let place = |node: usize| {
            let (sin, cos) = ((node / 6) as f64).sin_cos();
            [2.0 * cos, 2.0 * sin, (node % 6) as f64 / 3.0]
        };
        let shape = Shape {
            points: (0..48).map(place).collect(),
            turn: 0.0,
            ..shape
        };
        let (mut energy, at) = looked_at(&tubes, &shape);
        let turn = energy.layout.place(TURN);
        let mut slope = |by: f64| {
            let mut there = at.clone();
            there[turn] += by;
            let mut slope = vec![0.0; at.len()];
            energy.height(&there, &mut slope);
            slope
        };
        let (more, less) = (slope(1e-4), slope(-1e-4));
        let mut load: Vec<f64> = more.iter().zip(less).map(|(a, b)| (a - b) / 2e-4).collect();
        load[turn] += WEAK_SPRING;
        let mut twist = vec![0.0; at.len()];
        twist[turn] = 1.0;
        energy.height(&at, &mut vec![0.0; at.len()]);
        assert_gives(&energy, load, &twist);
    }
}
