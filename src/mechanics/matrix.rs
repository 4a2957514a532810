//! A symmetric matrix over all unknowns, put together from springs.
//!
//! Every term of an energy adds a spring: its stiffness times the square of
//! the gradient of its stretch, which is a row over a few nodes and the wholes.
//!
//! An image `e` at level `k` of node `j`, which has the share `f` of the cell below it,
//! moves by `Rz(turn (k + f)) δX_j + (k + f)(δlift e_z + δturn e_z × x_e)`, and
//! its radius `r` by `-r δu_j`. In a lattice it moves by `δX_j + a δlift e_z + b δacross e_y`,
//! `a` and `b` cells up and across. The matrix does not know what the springs stand for.

use super::factor::{Factor, Kind};
use super::images::Images;
use super::layout::{LIFT, Layout, SQUEEZE, TURN};

/// Unknowns of a node: three coordinates and its squeeze.
const NODE: usize = 4;
/// Unknowns that are neither: rise, turn, band.
const WHOLES: usize = 3;

/// A block of two nodes: rows of the one, columns of the other.
pub(super) type Block = [[f64; NODE]; NODE];

/// What a matrix is put together of. Only the first `width` unknowns of a node count.
#[derive(Debug)]
pub(super) struct Parts {
    pub width: usize,
    /// Blocks beside the diagonal, each pair one way round; to be summed up.
    pub near: Vec<([u32; 2], Block)>,
    pub own: Vec<Block>,
    /// A row over all nodes for each whole.
    pub border: [Vec<[f64; NODE]>; WHOLES],
    pub corner: [[f64; WHOLES]; WHOLES],
}

/// The matrix while it is put together.
#[derive(Debug)]
pub(super) struct Matrix<'a> {
    layout: &'a Layout,
    images: &'a Images,
    parts: Parts,
}

/// How an image moves with the unknowns.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Mover {
    node: usize,
    cos: f64,
    sin: f64,
    /// Rises below it, and turns; or periods across beside it.
    cells: [f64; 2],
    /// Whether it moves straight across instead of round.
    straight: bool,
    /// Part of it in the stretch.
    part: f64,
    point: [f64; 4],
}

impl Mover {
    /// The same with another part in the stretch.
    pub(super) fn times(self, part: f64) -> Self {
        Self { part, ..self }
    }

    /// `v` in the turned frame of the node.
    fn local(&self, v: [f64; 3]) -> [f64; 3] {
        [
            self.cos * v[0] + self.sin * v[1],
            self.cos * v[1] - self.sin * v[0],
            v[2],
        ]
    }

    /// Way in x and y for each unit of a turn below it, or of a period beside it.
    fn swing(&self) -> [f64; 2] {
        match self.straight {
            true => [0.0, 1.0],
            false => [-self.point[1], self.point[0]],
        }
    }

    /// Move along `v` for each unit of rise and of turn.
    fn whole(&self, v: [f64; 3]) -> [f64; 2] {
        let [x, y] = self.swing();
        let round = v[1] * y + v[0] * x;
        [
            self.part * self.cells[0] * v[2],
            self.part * self.cells[1] * round,
        ]
    }
}

impl<'a> Matrix<'a> {
    /// Nothing yet; over the squeezes too, or without them.
    pub(super) fn new(layout: &'a Layout, images: &'a Images, squeezes: bool) -> Self {
        let count = layout.count();
        Self {
            layout,
            images,
            parts: Parts {
                width: if squeezes && layout.gives { NODE } else { 3 },
                near: Vec::new(),
                own: vec![[[0.0; NODE]; NODE]; count],
                border: std::array::from_fn(|_| vec![[0.0; NODE]; count]),
                corner: [[0.0; WHOLES]; WHOLES],
            },
        }
    }

    pub(super) fn mover(&self, image: usize, part: f64) -> Mover {
        let (level, node) = (image / self.layout.count(), self.images.own(image));
        let [cos, sin] = self.images.direction(level, node);
        let point = self.images.points[image];
        Mover {
            node,
            cos,
            sin,
            cells: self.images.cells[image],
            straight: self.layout.lattice.is_some(),
            part,
            point,
        }
    }

    /// A spring on the stretch `Σ part v·x + swell Σ radius + band`, `swell`
    /// taken only where nodes give.
    pub(super) fn spring(
        &mut self,
        stiffness: f64,
        v: [f64; 3],
        movers: &[Mover],
        swell: f64,
        band: f64,
    ) {
        let mut wholes = [0.0, 0.0, band];
        let mut rows = [(0, [0.0; NODE]); 4];
        let rows = &mut rows[..movers.len()];
        for (row, mover) in rows.iter_mut().zip(movers) {
            let [x, y, z] = mover.local(v).map(|x| x * mover.part);
            *row = (mover.node, [x, y, z, -swell * mover.point[3]]);
            let [lift, turn] = mover.whole(v);
            wholes[LIFT] += lift;
            wholes[TURN] += turn;
        }
        self.square(stiffness, rows, wholes);
    }

    /// `stiffness` times the square of a row.
    fn square(&mut self, stiffness: f64, rows: &[(usize, [f64; NODE])], wholes: [f64; WHOLES]) {
        for &(i, a) in rows {
            for &(j, b) in rows {
                self.block(i, j, a.map(|x| b.map(|y| stiffness * x * y)));
            }
            for (whole, amount) in wholes.into_iter().enumerate() {
                self.edge(whole, i, a.map(|x| stiffness * amount * x));
            }
        }
        for (i, a) in wholes.into_iter().enumerate() {
            for (j, b) in wholes.into_iter().enumerate() {
                self.parts.corner[i][j] += stiffness * a * b;
            }
        }
    }

    /// A spring on `Σ part x` along all three axes alike.
    pub(super) fn spring_every_way(&mut self, stiffness: f64, movers: &[Mover]) {
        let (mut lift, mut round) = (0.0, [0.0; 2]);
        for mover in movers {
            let [up, second] = mover.cells.map(|cells| mover.part * cells);
            lift += up;
            let [x, y] = mover.swing();
            round[0] += second * x;
            round[1] += second * y;
        }
        for a in movers {
            for b in movers {
                let part = stiffness * a.part * b.part;
                let cos = part * (a.cos * b.cos + a.sin * b.sin);
                let sin = part * (a.sin * b.cos - a.cos * b.sin);
                let flat = [[cos, sin, 0.0, 0.0], [-sin, cos, 0.0, 0.0]];
                let block = [flat[0], flat[1], [0.0, 0.0, part, 0.0], [0.0; NODE]];
                self.block(a.node, b.node, block);
            }
            let part = stiffness * a.part;
            let [x, y, _] = a.local([round[0], round[1], 0.0]).map(|x| part * x);
            self.edge(LIFT, a.node, [0.0, 0.0, part * lift, 0.0]);
            self.edge(TURN, a.node, [x, y, 0.0, 0.0]);
        }
        self.parts.corner[LIFT][LIFT] += stiffness * lift * lift;
        self.parts.corner[TURN][TURN] += stiffness * (round[0] * round[0] + round[1] * round[1]);
    }

    /// What a force on `Σ part x` adds as the turn swings it round: the images
    /// move on circles, but straight in a lattice.
    pub(super) fn turn_of_force(&mut self, force: [f64; 3], movers: &[Mover]) {
        if self.layout.lattice.is_some() {
            return;
        }
        for mover in movers {
            let [fx, fy, _] = force.map(|x| x * mover.part);
            let [x, y, ..] = mover.point;
            self.parts.corner[TURN][TURN] -= mover.cells[1] * mover.cells[1] * (fx * x + fy * y);
            let [x, y, _] = mover.local([fy, -fx, 0.0]).map(|x| mover.cells[1] * x);
            self.edge(TURN, mover.node, [x, y, 0.0, 0.0]);
        }
    }

    /// A second derivative by two wholes.
    pub(super) fn couple(&mut self, a: usize, b: usize, amount: f64) {
        self.parts.corner[a][b] += amount;
        self.parts.corner[b][a] += amount;
    }

    /// A spring of a node to its place.
    pub(super) fn spring_to_place(&mut self, stiffness: f64, node: usize) {
        for axis in 0..3 {
            self.parts.own[node][axis][axis] += stiffness;
        }
    }

    /// A spring of the squeeze of a node.
    pub(super) fn spring_of_squeeze(&mut self, stiffness: f64, node: usize) {
        self.parts.own[node][3][3] += stiffness;
    }

    fn block(&mut self, i: usize, j: usize, block: Block) {
        if i > j {
            self.parts.near.push(([i as u32, j as u32], block));
        }
        if i == j {
            let own = self.parts.own[i].iter_mut().flatten();
            for (sum, add) in own.zip(block.iter().flatten()) {
                *sum += add;
            }
        }
    }

    fn edge(&mut self, whole: usize, node: usize, add: [f64; NODE]) {
        for (sum, add) in self.parts.border[whole][node].iter_mut().zip(add) {
            *sum += add;
        }
    }

    /// The factor, unless the matrix is not as `kind` says. `weak` is a spring on every
    /// whole.
    pub(super) fn factor(mut self, weak: f64, kind: Kind) -> Option<Factor> {
        self.hold_wholes(weak);
        if self.parts.width == NODE {
            self.hold_squeezes();
        }
        let layout = self.layout;
        let place = |node: usize, which: usize| match (node == layout.count(), which) {
            (true, whole) => layout.place(whole),
            (false, 0..3) => 3 * node + which,
            (false, _) => layout.place(SQUEEZE + node),
        };
        Factor::of(&self.parts, place, kind)
    }

    /// Wholes that are not found are left to themselves.
    fn hold_wholes(&mut self, weak: f64) {
        for i in 0..WHOLES {
            if self.layout.free[i] {
                let own = &mut self.parts.corner[i][i];
                *own = *own * (1.0 + 1e-9) + weak;
                continue;
            }
            self.parts.border[i].fill([0.0; NODE]);
            for j in 0..WHOLES {
                let own = f64::from(u8::from(i == j));
                (self.parts.corner[i][j], self.parts.corner[j][i]) = (own, own);
            }
        }
    }

    /// So are the squeezes of what does not give.
    fn hold_squeezes(&mut self) {
        let free = &self.layout.free[SQUEEZE..];
        let last = NODE - 1;
        for (pair, block) in &mut self.parts.near {
            if !free[pair[0] as usize] {
                block[last] = [0.0; NODE];
            }
            if !free[pair[1] as usize] {
                block.iter_mut().for_each(|row| row[last] = 0.0);
            }
        }
        for node in (0..self.layout.count()).filter(|&node| !free[node]) {
            let own = &mut self.parts.own[node];
            own[last] = [0.0; NODE];
            own[last][last] = 1.0;
            for border in &mut self.parts.border {
                border[node][last] = 0.0;
            }
        }
    }
}
