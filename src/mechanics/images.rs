//! The nodes of a cell as they are seen in the cells above it.
//!
//! A point is `[x, y, z, radius]`. The cell at level `k` is the own cell turned
//! `k` times and lifted `k` times. Forces (derivatives of the energy) gathered
//! on images are folded back upon the nodes, the rise and the turn.
//!
//! A cell of a lattice is lifted and moved along y instead, each level by its own
//! numbers of periods.

use super::layout::{ACROSS, LIFT, Layout, TURN};

/// Nodes at all levels, with the derivative of the energy for each.
#[derive(Debug, Clone)]
pub(super) struct Images {
    /// Level 0, then level 1 and so on.
    pub points: Vec<[f64; 4]>,
    /// Derivative of the energy by each point and its radius.
    pub slope: Vec<[f64; 4]>,
    pub lift: f64,
    pub turn: f64,
    /// Period across of a lattice; nothing elsewhere.
    pub across: f64,
    levels: usize,
    /// Own node of each image.
    pub own: Vec<u32>,
    /// Rises, and turns or periods across, by which each image has left its own frame.
    pub cells: Vec<[f64; 2]>,
    /// Cosine and sine of the turn of each own node.
    spin: Vec<[f64; 2]>,
    /// The same for each level, and one beyond.
    level_spin: Vec<[f64; 2]>,
}

impl Images {
    pub(super) fn new(layout: &Layout) -> Self {
        let mut images = Self {
            points: Vec::new(),
            slope: Vec::new(),
            lift: 0.0,
            turn: 0.0,
            across: 0.0,
            levels: 0,
            own: Vec::new(),
            cells: Vec::new(),
            spin: vec![[1.0, 0.0]; layout.count()],
            level_spin: Vec::new(),
        };
        images.show(layout, 1);
        images
    }

    /// Highest level shown; at least one, since strands run on into it.
    pub(super) fn levels(&self) -> usize {
        self.levels
    }

    /// Show this many levels above the own cell, from the next placing on.
    pub(super) fn show(&mut self, layout: &Layout, levels: usize) {
        self.levels = layout.levels_within(layout.farthest(levels));
        let size = (self.levels + 1) * layout.count();
        let beyond = layout.levels_within(layout.farthest(self.levels) + 1);
        self.level_spin.resize(beyond + 1, [1.0, 0.0]);
        self.points.resize(size, [0.0; 4]);
        self.slope.resize(size, [0.0; 4]);
        // Strands that are seen run on into one cell more.
        let all = 0..(beyond + 1) * layout.count();
        self.own = all.clone().map(|i| (i % layout.count()) as u32).collect();
        self.cells = all.map(|image| layout.cells(image)).collect();
    }

    /// The own node of an image.
    pub(super) fn own(&self, image: usize) -> usize {
        self.own[image] as usize
    }

    /// Most cells, and parts of one, between a node and an image, up or across.
    pub(super) fn cells_between(&self, node: usize, image: usize) -> f64 {
        let (from, to) = (self.cells[node], self.cells[image]);
        (to[0] - from[0]).abs().max((to[1] - from[1]).abs())
    }

    /// Put every image where the unknowns say.
    pub(super) fn place(&mut self, layout: &Layout, at: &[f64], radius: &[f64]) {
        let count = layout.count();
        self.lift = at[layout.place(LIFT)];
        if layout.lattice.is_some() {
            self.across = at[layout.place(ACROSS)];
            return self.place_lattice(at, radius);
        }
        self.turn = at[layout.place(TURN)];
        for (level, spin) in self.level_spin.iter_mut().enumerate() {
            let (sin, cos) = (self.turn * level as f64).sin_cos();
            *spin = [cos, sin];
        }
        self.spin_nodes(layout);
        let own = self.points[..count].iter_mut();
        for (node, (point, x)) in own.zip(at.chunks_exact(3)).enumerate() {
            let [cos, sin] = self.spin[node];
            let rise = self.lift * layout.share(node);
            *point = [
                cos * x[0] - sin * x[1],
                sin * x[0] + cos * x[1],
                x[2] + rise,
                radius[node],
            ];
        }
        self.place_levels(count);
    }

    /// Strands turn alike.
    fn spin_nodes(&mut self, layout: &Layout) {
        let (first, others) = self.spin.split_at_mut(layout.nodes);
        for (node, spin) in first.iter_mut().enumerate() {
            let (sin, cos) = (self.turn * layout.share(node)).sin_cos();
            *spin = [cos, sin];
        }
        for strand in others.chunks_exact_mut(layout.nodes) {
            strand.copy_from_slice(first);
        }
    }

    fn place_lattice(&mut self, at: &[f64], radius: &[f64]) {
        for (image, point) in self.points.iter_mut().enumerate() {
            let node = self.own[image] as usize;
            let [up, across] = self.cells[image];
            *point = [
                at[3 * node],
                at[3 * node + 1] + across * self.across,
                at[3 * node + 2] + up * self.lift,
                radius[node],
            ];
        }
    }

    fn place_levels(&mut self, count: usize) {
        let (own, above) = self.points.split_at_mut(count);
        for (below, cell) in above.chunks_exact_mut(count).enumerate() {
            let [cos, sin] = self.level_spin[below + 1];
            let rise = self.lift * (below + 1) as f64;
            for (image, p) in cell.iter_mut().zip(own.iter()) {
                *image = [
                    cos * p[0] - sin * p[1],
                    sin * p[0] + cos * p[1],
                    p[2] + rise,
                    p[3],
                ];
            }
        }
    }

    /// Most cells, and parts of one, between two images that are no farther apart
    /// than `distance`: strands rise nearly as evenly as the cell does.
    pub(super) fn cells_within(&self, layout: &Layout, distance: f64) -> f64 {
        let all = layout.farthest(self.levels) as f64 + 1.0;
        if self.lift <= 0.0 || layout.lattice.is_some() {
            return all;
        }
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (node, point) in self.points[..layout.count()].iter().enumerate() {
            let uneven = point[2] - self.lift * layout.share(node);
            low = low.min(uneven);
            high = high.max(uneven);
        }
        all.min((distance + high - low) / self.lift)
    }

    /// Where a node stands in its own frame, which is lifted and turned along.
    pub(super) fn in_own_frame(&self, layout: &Layout, node: usize) -> [f64; 4] {
        let [x, y, z, radius] = self.points[node];
        if layout.lattice.is_some() {
            let [up, across] = self.cells[node];
            return [x, y - across * self.across, z - up * self.lift, radius];
        }
        let [cos, sin] = self.spin[node];
        let rise = self.lift * layout.share(node);
        [cos * x + sin * y, cos * y - sin * x, z - rise, radius]
    }

    /// Cosine and sine of the turn of a level.
    pub(super) fn turned(&self, level: usize) -> [f64; 2] {
        self.level_spin[level]
    }

    /// Cosine and sine of the turn of the frame of an own node, seen at a level.
    pub(super) fn direction(&self, level: usize, node: usize) -> [f64; 2] {
        let [cos, sin] = self.spin[node];
        let [c, s] = self.level_spin[level];
        [cos * c - sin * s, sin * c + cos * s]
    }

    /// Slopes of two images that press each other apart along `normal`, from the
    /// first to the second.
    pub(super) fn push_apart(&mut self, a: usize, b: usize, push: f64, normal: [f64; 3]) {
        for axis in 0..3 {
            self.slope[a][axis] += push * normal[axis];
            self.slope[b][axis] -= push * normal[axis];
        }
    }

    /// Begin a new sum of slopes.
    pub(super) fn clear_slope(&mut self) {
        self.slope.fill([0.0; 4]);
    }

    /// Fold the slopes of all images back upon the unknowns. What `gradient`
    /// already holds for rise and turn is kept.
    pub(super) fn fold(&mut self, layout: &Layout, gradient: &mut [f64]) {
        let count = layout.count();
        if layout.lattice.is_some() {
            return self.fold_lattice(layout, gradient);
        }
        let (mut by_lift, mut by_turn) = self.fold_levels(count);
        for (node, out) in gradient[..3 * count].chunks_exact_mut(3).enumerate() {
            let (q, p) = (self.slope[node], self.points[node]);
            let share = layout.share(node);
            by_lift += share * q[2];
            by_turn += share * (p[0] * q[1] - p[1] * q[0]);
            let [cos, sin] = self.spin[node];
            out[0] = cos * q[0] + sin * q[1];
            out[1] = cos * q[1] - sin * q[0];
            out[2] = q[2];
        }
        gradient[layout.place(LIFT)] += by_lift;
        gradient[layout.place(TURN)] += by_turn;
    }

    fn fold_lattice(&mut self, layout: &Layout, gradient: &mut [f64]) {
        let count = layout.count();
        let (own, above) = self.slope.split_at_mut(count);
        for (image, q) in own.iter().chain(above.iter()).enumerate() {
            let [up, across] = self.cells[image];
            gradient[layout.place(LIFT)] += up * q[2];
            gradient[layout.place(ACROSS)] += across * q[1];
        }
        for (image, q) in above.iter().enumerate() {
            for (sum, part) in own[self.own[image] as usize].iter_mut().zip(q) {
                *sum += part;
            }
        }
        for (out, q) in gradient.chunks_exact_mut(3).zip(own) {
            out.copy_from_slice(&q[..3]);
        }
    }

    fn fold_levels(&mut self, count: usize) -> (f64, f64) {
        let (mut by_lift, mut by_turn) = (0.0, 0.0);
        let (own, above) = self.slope.split_at_mut(count);
        let cells = above.chunks_exact(count);
        let places = self.points[count..].chunks_exact(count);
        for (below, (cell, points)) in cells.zip(places).enumerate() {
            let level = (below + 1) as f64;
            let [cos, sin] = self.level_spin[below + 1];
            let (mut up, mut round) = (0.0, 0.0);
            for ((sum, q), p) in own.iter_mut().zip(cell).zip(points) {
                up += q[2];
                round += p[0] * q[1] - p[1] * q[0];
                sum[0] += cos * q[0] + sin * q[1];
                sum[1] += cos * q[1] - sin * q[0];
                sum[2] += q[2];
                sum[3] += q[3];
            }
            by_lift += level * up;
            by_turn += level * round;
        }
        (by_lift, by_turn)
    }
}
