//! Nodes that press on each other, with stick and slip.
//!
//! Two nodes nearer than a diameter push each other apart. Across the push they
//! are held by a spring that is strained as they slide, up to the friction
//! times the push; beyond, it slips (Coulomb). The strain of a touch outlives
//! the list of neighbours.

use std::collections::HashMap;

use super::chains::{Chains, ROOM};
use super::vector::{Vector, dot, length, minus, plus, times};

/// Pairs nearer than this are listed, strand diameters.
const LISTED: f64 = 1.3;
/// The list is renewed once a node has moved so far, under half of what
/// [`LISTED`] leaves.
const RENEWED: f64 = 0.1;
/// Frozen nodes so far below the oldest live one can still be touched.
const REACH: f64 = 2.2;
/// Nodes of one strand nearer along it than this do not touch, strand
/// diameters: half a circle round a point, as in the solver.
const SAME_BEND: f64 = 1.6;
/// Spring across a touch over the one along the push. Our guess; between 0.5
/// and 1 nothing changes (tried).
const ACROSS: f64 = 0.5;

#[derive(Debug, Clone, Copy)]
struct Touch {
    a: usize,
    b: usize,
    /// Slide of `b` against `a` that the spring across has taken up.
    strain: Vector,
}

/// The list of touching nodes.
#[derive(Debug, Clone, Default)]
pub(crate) struct Contacts {
    touches: Vec<Touch>,
    listed_at: Vec<Vector>,
    stale: bool,
}

impl Contacts {
    /// Has the list renewed at the next step.
    pub(crate) fn renew(&mut self) {
        self.stale = true;
    }

    /// Adds the push and the friction of all touches.
    pub(crate) fn press(&mut self, chains: &mut Chains) {
        if self.stale || self.listed_at.is_empty() || self.is_outrun(chains) {
            self.list(chains);
        }
        let stiffness = chains.yarn.push();
        let friction = chains.yarn.friction;
        for touch in &mut self.touches {
            let (a, b) = (touch.a, touch.b);
            let apart = minus(chains.at[b], chains.at[a]);
            let square = dot(apart, apart);
            if square >= 1.0 {
                touch.strain = [0.0; 3];
                continue;
            }
            let distance = square.sqrt();
            let normal = times(apart, 1.0 / distance);
            let push = stiffness * (1.0 - distance);
            let mut force = times(normal, push);
            if friction > 0.0 {
                let slide = minus(chains.speed[b], chains.speed[a]);
                touch.slide(slide, normal, friction * push / (ACROSS * stiffness));
                force = minus(force, times(touch.strain, ACROSS * stiffness));
            }
            chains.push(b, force);
            chains.push(a, times(force, -1.0));
        }
    }

    fn is_outrun(&self, chains: &Chains) -> bool {
        let moved = |node: usize| {
            let way = minus(chains.at[node], self.listed_at[node]);
            dot(way, way) > RENEWED * RENEWED
        };
        (0..chains.strands()).any(|strand| chains.live(strand).any(moved))
    }

    fn list(&mut self, chains: &Chains) {
        let strained = self.touches.iter().filter(|t| t.strain != [0.0; 3]);
        let kept: HashMap<(usize, usize), Vector> =
            strained.map(|t| ((t.a, t.b), t.strain)).collect();
        let cells = Cells::new(chains);
        self.touches.clear();
        for strand in 0..chains.strands() {
            for node in chains.live(strand) {
                cells.visit_near(chains.at[node], |other| {
                    if touches(chains, node, other) {
                        let (a, b) = (node.min(other), node.max(other));
                        let strain = kept.get(&(a, b)).copied().unwrap_or_default();
                        self.touches.push(Touch { a, b, strain });
                    }
                });
            }
        }
        self.listed_at.clone_from(&chains.at);
        self.stale = false;
    }
}

impl Touch {
    /// Strains the spring across by a slide, up to `most`.
    fn slide(&mut self, slide: Vector, normal: Vector, most: f64) {
        let strain = plus(self.strain, slide);
        let strain = minus(strain, times(normal, dot(strain, normal)));
        let size = length(strain);
        self.strain = if size > most {
            times(strain, most / size)
        } else {
            strain
        };
    }
}

/// Whether a live node and another may touch; live pairs are asked once.
fn touches(chains: &Chains, node: usize, other: usize) -> bool {
    let apart = minus(chains.at[node], chains.at[other]);
    if dot(apart, apart) >= LISTED * LISTED || node == other {
        return false;
    }
    if !chains.is_frozen(other) && other < node {
        return false;
    }
    let along = chains.yarn.piece * node.abs_diff(other) as f64;
    node / ROOM != other / ROOM || along >= SAME_BEND
}

/// Nodes sorted into cubes as wide as the list reaches.
struct Cells {
    low: Vector,
    counts: [usize; 3],
    begin: Vec<usize>,
    nodes: Vec<usize>,
}

impl Cells {
    fn new(chains: &Chains) -> Self {
        let nodes = near_the_top(chains);
        let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for &node in &nodes {
            for axis in 0..3 {
                low[axis] = low[axis].min(chains.at[node][axis]);
                high[axis] = high[axis].max(chains.at[node][axis]);
            }
        }
        let counts = [0, 1, 2].map(|axis| ((high[axis] - low[axis]) / LISTED) as usize + 1);
        let mut cells = Self {
            low,
            counts,
            begin: vec![0; counts[0] * counts[1] * counts[2] + 1],
            nodes: vec![0; nodes.len()],
        };
        cells.sort(chains, &nodes);
        cells
    }

    fn sort(&mut self, chains: &Chains, nodes: &[usize]) {
        let cell_of: Vec<usize> = (nodes.iter())
            .map(|&node| self.index(self.cube(chains.at[node])))
            .collect();
        for &cell in &cell_of {
            self.begin[cell + 1] += 1;
        }
        for cell in 1..self.begin.len() {
            self.begin[cell] += self.begin[cell - 1];
        }
        let mut free = self.begin.clone();
        for (&cell, &node) in cell_of.iter().zip(nodes) {
            self.nodes[free[cell]] = node;
            free[cell] += 1;
        }
    }

    fn cube(&self, p: Vector) -> [usize; 3] {
        [0, 1, 2].map(|axis| {
            let cell = ((p[axis] - self.low[axis]) / LISTED) as usize;
            cell.min(self.counts[axis] - 1)
        })
    }

    fn index(&self, [x, y, z]: [usize; 3]) -> usize {
        (x * self.counts[1] + y) * self.counts[2] + z
    }

    fn visit_near(&self, p: Vector, mut visit: impl FnMut(usize)) {
        let cube = self.cube(p);
        let range = |axis: usize| {
            cube[axis].saturating_sub(1)..=(cube[axis] + 1).min(self.counts[axis] - 1)
        };
        let (low, high) = (*range(2).start(), *range(2).end());
        for x in range(0) {
            for y in range(1) {
                let (first, last) = (self.index([x, y, low]), self.index([x, y, high]));
                for &node in &self.nodes[self.begin[first]..self.begin[last + 1]] {
                    visit(node);
                }
            }
        }
    }
}

/// Live nodes, and frozen ones that they can still touch.
fn near_the_top(chains: &Chains) -> Vec<usize> {
    let oldest = (0..chains.strands())
        .map(|strand| chains.at[chains.live(strand).start][2])
        .fold(f64::INFINITY, f64::min);
    let mut nodes = Vec::new();
    for strand in 0..chains.strands() {
        let live = chains.live(strand).start;
        let buried = |&node: &usize| node < live && chains.at[node][2] < oldest - REACH;
        nodes.extend(chains.whole(strand).filter(|node| !buried(node)));
    }
    nodes
}
