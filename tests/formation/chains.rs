//! Strands as chains of nodes of material.
//!
//! A node stays with its piece of strand: new ones are added where the strand
//! comes off the disc, the oldest are frozen into the cord and move no more.
//! All nodes of all strands stand in one row, [`ROOM`] places for each strand.

use super::vector::{Vector, at_most, length, minus, plus, times};

/// Most nodes of one strand.
pub(crate) const ROOM: usize = 2048;
/// No node moves farther than this in a step, strand diameters. Tried: strands
/// are a whole diameter apart, so none passes another.
const FASTEST: f64 = 0.03;
/// Speed kept from step to step: movement is damped to find rest. Tried: what
/// is pulled slowly comes to rest as with 0.9; what is pulled of a sudden
/// swings, slips back and holds with about half the friction.
const KEPT: f64 = 0.98;
/// Mass of a node over the least that is stable in steps of one. Tried.
const SAFETY: f64 = 1.2;

/// What all strands are made of.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Yarn {
    /// Distance of two nodes under the pull of one, strand diameters.
    pub(crate) piece: f64,
    /// Friction of strand on strand.
    pub(crate) friction: f64,
    /// Pull that would stretch it to twice its length, strand pulls.
    pub(crate) stretch: f64,
    /// Bending stiffness, pulls times squared diameters.
    pub(crate) bending: f64,
    /// Push of an overlap, for each length of either strand, `T/d`.
    pub(crate) contact: f64,
}

impl Yarn {
    /// Limp and hard.
    pub(crate) fn limp(friction: f64) -> Self {
        Self {
            piece: 0.25,
            friction,
            stretch: 30.0,
            bending: 0.05,
            contact: 64.0,
        }
    }

    /// Length of a piece that nothing pulls.
    pub(crate) fn slack(&self) -> f64 {
        self.piece / (1.0 + 1.0 / self.stretch)
    }

    /// Push of two overlapping nodes over their overlap.
    pub(crate) fn push(&self) -> f64 {
        4.0 * self.contact * self.piece * self.piece
    }

    /// Mass of a node that keeps steps of one stable: its stiffness along,
    /// across and against some seven neighbours of its own.
    pub(crate) fn mass(&self) -> f64 {
        let touching = 14.0 * self.push() * (1.0 + 0.5 * self.friction.signum());
        let chain = 4.0 * self.stretch / self.piece + 16.0 * self.bending / self.piece.powi(3);
        SAFETY * 0.25 * (chain + touching)
    }
}

/// All strands.
#[derive(Debug, Clone)]
pub(crate) struct Chains {
    pub(crate) yarn: Yarn,
    /// Where each node is.
    pub(crate) at: Vec<Vector>,
    /// How far each node moved in the last step.
    pub(crate) speed: Vec<Vector>,
    /// The force on each node.
    pub(crate) force: Vec<Vector>,
    /// Nodes of each strand, frozen ones included.
    pub(crate) nodes: Vec<usize>,
    /// Frozen nodes of each strand, from the oldest on.
    pub(crate) frozen: Vec<usize>,
}

impl Chains {
    /// Strands along these lines, with the number of nodes frozen in each.
    pub(crate) fn new(yarn: Yarn, lines: &[Vec<Vector>], frozen: &[usize]) -> Self {
        let mut at = vec![[0.0; 3]; lines.len() * ROOM];
        for (strand, line) in lines.iter().enumerate() {
            at[strand * ROOM..strand * ROOM + line.len()].copy_from_slice(line);
        }
        Self {
            yarn,
            speed: vec![[0.0; 3]; at.len()],
            force: vec![[0.0; 3]; at.len()],
            at,
            nodes: lines.iter().map(Vec::len).collect(),
            frozen: frozen.to_vec(),
        }
    }

    pub(crate) fn strands(&self) -> usize {
        self.nodes.len()
    }

    /// The nodes of a strand from the first that can move on.
    pub(crate) fn live(&self, strand: usize) -> std::ops::Range<usize> {
        strand * ROOM + self.frozen[strand]..strand * ROOM + self.nodes[strand]
    }

    /// All nodes of a strand.
    pub(crate) fn whole(&self, strand: usize) -> std::ops::Range<usize> {
        strand * ROOM..strand * ROOM + self.nodes[strand]
    }

    /// The last node of a strand, nearest to the disc.
    pub(crate) fn last(&self, strand: usize) -> usize {
        strand * ROOM + self.nodes[strand] - 1
    }

    pub(crate) fn is_frozen(&self, node: usize) -> bool {
        node % ROOM < self.frozen[node / ROOM]
    }

    /// Adds a node at the disc's end.
    pub(crate) fn grow(&mut self, strand: usize, at: Vector) {
        let new = self.last(strand) + 1;
        assert!(new < (strand + 1) * ROOM, "strand {strand} is too long");
        self.at[new] = at;
        self.speed[new] = self.speed[new - 1];
        self.nodes[strand] += 1;
    }

    /// Forces anew: stretching and bending of every chain.
    pub(crate) fn pull(&mut self) {
        let Yarn {
            stretch, bending, ..
        } = self.yarn;
        let slack = self.yarn.slack();
        let bend = bending / self.yarn.piece.powi(3);
        for strand in 0..self.strands() {
            let live = self.live(strand);
            let from = live.start.saturating_sub(2).max(strand * ROOM);
            self.force[from..live.end].fill([0.0; 3]);
            for node in from..live.end - 1 {
                let step = minus(self.at[node + 1], self.at[node]);
                let long = length(step);
                let pull = times(step, stretch * (long / slack - 1.0) / long);
                self.push(node, pull);
                self.push(node + 1, times(pull, -1.0));
            }
            for node in from..live.end - 2 {
                let [a, b, c] = [self.at[node], self.at[node + 1], self.at[node + 2]];
                let curve = minus(plus(a, c), times(b, 2.0));
                self.push(node, times(curve, -bend));
                self.push(node + 1, times(curve, 2.0 * bend));
                self.push(node + 2, times(curve, -bend));
            }
        }
    }

    /// Adds to the force on a node.
    pub(crate) fn push(&mut self, node: usize, force: Vector) {
        self.force[node] = plus(self.force[node], force);
    }

    /// One damped step of all live nodes; gives the greatest speed.
    pub(crate) fn step(&mut self) -> f64 {
        let per_mass = 1.0 / self.yarn.mass();
        let mut fastest: f64 = 0.0;
        for strand in 0..self.strands() {
            for node in self.live(strand) {
                let speed = plus(self.speed[node], times(self.force[node], per_mass));
                let speed = at_most(times(speed, KEPT), FASTEST);
                fastest = fastest.max(length(speed));
                self.speed[node] = speed;
                self.at[node] = plus(self.at[node], speed);
            }
        }
        fastest
    }

    /// Tension of the piece after a node, strand pulls.
    pub(crate) fn tension(&self, node: usize) -> f64 {
        let long = length(minus(self.at[node + 1], self.at[node]));
        self.yarn.stretch * (long / self.yarn.slack() - 1.0)
    }
}
