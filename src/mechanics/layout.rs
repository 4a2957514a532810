//! Where every unknown stands in the list of unknowns, and which strand runs
//! on in which.
//!
//! Unknowns, in this order: three coordinates of every node *in the turned
//! frame*, the rise and the turn of the cell, the radius of the band, the
//! squeeze of every node, if any strand gives, and the vector of the section of every
//! node, in the turned frame too, if any strand flattens. Node `m` of `M` stands at
//! `Rz(turn m/M) X + (m/M) lift`, so that a change of rise or turn spreads evenly
//! over the cell instead of tearing its ends. A cell of a lattice has no turn; its period
//! across stands in the turn's place, and is spread over strands that run across.
//!
//! Cells above the own one are told apart by their *level*; an *image* is a node
//! seen at a level, numbered `level * count + node`.

use std::iter::StepBy;
use std::ops::Range;

use super::flatten::{Section, reach_beyond};
use super::lattice::{self, Lattice};
use super::tubes::{Ends, Hold, Shape, Squeeze, Tubes, screwed};

/// Levels that are ever looked at above a cell.
///
/// At the rise where a cell counts as collapsed, a twentieth of a strand, plain
/// strands need about thirty; fat nodes need more.
pub(super) const MOST_LEVELS: usize = 80;

/// Unknowns that are not coordinates, before the squeezes.
pub(super) const LIFT: usize = 0;
pub(super) const TURN: usize = 1;
pub(super) const ACROSS: usize = TURN;
pub(super) const BAND: usize = 2;
pub(super) const SQUEEZE: usize = 3;

/// The order of things; fixed during a solve.
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub strands: usize,
    pub nodes: usize,
    pub cycles: Vec<Vec<usize>>,
    /// Cycle of each strand.
    pub cycle_of: Vec<usize>,
    /// Image that follows each node along its strand.
    pub next: Vec<usize>,
    /// Image after that.
    pub after: Vec<usize>,
    /// Whether each unknown that is no coordinate is found.
    pub free: Vec<bool>,
    /// Whether nodes have a squeeze among the unknowns.
    pub gives: bool,
    /// Whether nodes have an axis among the unknowns.
    pub flattens: bool,
    /// How far two flat strands may reach beyond the round ones, strand diameters.
    pub reach_beyond: f64,
    pub ends: Ends,
    /// Where cells stand that repeat two ways.
    pub lattice: Option<Lattice>,
    /// Strands of a lattice that run up; all of them elsewhere.
    upright: usize,
    /// Share of the cell that lies below each node.
    shares: Vec<f64>,
    /// `ahead[s][i]`: strand in which strand `i` runs on after `s` pieces.
    ahead: Vec<Vec<usize>>,
    /// Pieces in the closed curve of each strand.
    round: Vec<usize>,
}

impl Layout {
    pub(super) fn new(tubes: &Tubes) -> Self {
        let (strands, nodes) = (tubes.strands, tubes.nodes);
        let cycles = cycles_of(&tubes.continues);
        let mut cycle_of = vec![0; strands];
        for (number, cycle) in cycles.iter().enumerate() {
            for &strand in cycle {
                cycle_of[strand] = number;
            }
        }
        let upright = upright(tubes);
        let image = |strand: usize, node: usize| match node.checked_sub(nodes) {
            None => strand * nodes + node,
            Some(over) => {
                let level = if strand < upright {
                    lattice::UP
                } else {
                    lattice::ACROSS
                };
                (level * strands + tubes.continues[strand]) * nodes + over
            }
        };
        let following = |step: usize| {
            (0..strands)
                .flat_map(|i| (0..nodes).map(move |m| (i, m)))
                .map(|(i, m)| image(i, m + step))
                .collect()
        };
        let ahead = powers(&tubes.continues, tubes.ends);
        Self {
            strands,
            nodes,
            next: following(1),
            after: following(2),
            free: freedom(tubes),
            gives: gives(tubes),
            flattens: flattens(tubes),
            reach_beyond: reach_beyond(tubes),
            ends: tubes.ends,
            lattice: matches!(tubes.ends, Ends::Lattice { .. }).then(Lattice::new),
            upright,
            shares: (0..strands * nodes)
                .map(|node| (node % nodes) as f64 / nodes as f64)
                .collect(),
            round: rounds(&ahead, tubes.ends),
            ahead,
            cycles,
            cycle_of,
        }
    }

    /// Number of nodes in a cell.
    pub(super) fn count(&self) -> usize {
        self.strands * self.nodes
    }

    /// Number of unknowns.
    pub(super) fn unknowns(&self) -> usize {
        3 * self.count() + self.free.len()
    }

    /// Place in the list of an unknown that is no coordinate.
    pub(super) fn place(&self, whole: usize) -> usize {
        3 * self.count() + whole
    }

    /// Places of the squeezes in the list.
    pub(super) fn squeezes(&self) -> Range<usize> {
        let first = self.place(SQUEEZE);
        first..first + if self.gives { self.count() } else { 0 }
    }

    /// Places of the axes in the list, three for each node.
    pub(super) fn axes(&self) -> Range<usize> {
        let first = self.squeezes().end;
        first..first + if self.flattens { 3 * self.count() } else { 0 }
    }

    /// The image that follows an image along its strand.
    pub(super) fn onward(&self, image: usize) -> usize {
        let own = image % self.count();
        match self.lattice {
            None => self.next[own] + image - own,
            Some(_) => self.above(self.next[own], image / self.count()),
        }
    }

    /// What `image` is from the cell at a level on.
    pub(super) fn above(&self, image: usize, level: usize) -> usize {
        let count = self.count();
        match &self.lattice {
            None => image + level * count,
            Some(lattice) => lattice.onward(level, image / count) * count + image % count,
        }
    }

    /// Share of the cell that lies below `node`.
    pub(super) fn share(&self, node: usize) -> f64 {
        self.shares[node]
    }

    /// Rises, and turns or periods across, by which an image has left its own frame.
    pub(super) fn cells(&self, image: usize) -> [f64; 2] {
        let count = self.count();
        let (level, node) = (image / count, image % count);
        let share = self.share(node);
        match &self.lattice {
            None => [level as f64 + share; 2],
            Some(lattice) => {
                let [up, across] = lattice.cell(level).map(|cells| cells as f64);
                if node / self.nodes < self.upright {
                    [up + share, across]
                } else {
                    [up, across + share]
                }
            }
        }
    }

    /// Most cells that a shown cell stands away from the own one, either way.
    pub(super) fn farthest(&self, levels: usize) -> usize {
        match &self.lattice {
            None => levels,
            Some(lattice) => lattice.shells(levels),
        }
    }

    /// Levels to be shown for cells up to so far away: strands run on into some.
    pub(super) fn levels_within(&self, cells: usize) -> usize {
        match self.lattice {
            None => cells.max(1),
            Some(_) => Lattice::highest(cells.clamp(1, lattice::MOST_SHELLS)),
        }
    }

    /// Where an image stands.
    pub(super) fn seen(&self, shape: &Shape, image: usize) -> [f64; 3] {
        let count = self.count();
        let (level, node) = (image / count, image % count);
        match &self.lattice {
            None => shape.at_level(node, level as i64),
            Some(lattice) => shape.in_cell(node, lattice.cell(level)),
        }
    }

    /// Where the node before the first one of a strand stands.
    pub(super) fn before(&self, shape: &Shape, strand: usize) -> [f64; 3] {
        let first = strand * self.nodes;
        let last = |&node: &usize| self.next[node] % self.count() == first;
        let last = (0..self.count()).find(last).unwrap_or(first);
        match self.lattice {
            None => shape.at_level(last, -1),
            Some(_) if strand < self.upright => shape.in_cell(last, [-1, 0]),
            Some(_) => shape.in_cell(last, [0, -1]),
        }
    }

    /// Where a node stands in its own frame.
    pub(super) fn unrolled(&self, shape: &Shape, node: usize) -> [f64; 3] {
        let [lift, turn] = [shape.lift, shape.turn];
        let [up, second] = self.cells(node);
        match self.lattice {
            None => screwed(shape.points[node], -up * lift, -second * turn),
            Some(_) => moved(shape.points[node], -up * lift, -second * turn),
        }
    }

    pub(super) fn cycle_of_node(&self, node: usize) -> usize {
        self.cycle_of[node / self.nodes]
    }

    /// Nodes along the strand from node `a` to node `b` at `level`, the shorter
    /// way round if the strand closes; `None` on different strands.
    pub(super) fn nodes_between(&self, a: usize, b: usize, level: usize) -> Option<usize> {
        let (i, j) = (a / self.nodes, b / self.nodes);
        let (m, n) = (a % self.nodes, b % self.nodes);
        let pieces = self.pieces_between(i, j, level)?;
        let way = (pieces * self.nodes + n).abs_diff(m);
        let Ends::Closed { .. } = self.ends else {
            return Some(way);
        };
        Some(way.min((self.round[i] * self.nodes).abs_diff(way)))
    }

    fn pieces_between(&self, i: usize, j: usize, level: usize) -> Option<usize> {
        self.pieces_at(i, level)
            .find(|&pieces| self.ahead[pieces][i] == j)
    }

    /// Numbers of pieces after which strand `i` comes by at a level.
    fn pieces_at(&self, i: usize, level: usize) -> StepBy<Range<usize>> {
        let at = |pieces: usize| pieces..(pieces + 1).min(self.ahead.len());
        match self.ends {
            Ends::Screw { .. } => at(level).step_by(1),
            Ends::Lattice { .. } => self.straight_on(i, level).map_or(0..0, at).step_by(1),
            Ends::Closed { cells } => (level..self.round[i]).step_by(cells.max(1)),
        }
    }

    /// Marks, level by level, the strands that are pieces of strand `i`.
    pub(super) fn mark_pieces(&self, i: usize, marks: &mut [bool]) {
        marks.fill(false);
        for (level, marks) in marks.chunks_exact_mut(self.strands).enumerate() {
            for pieces in self.pieces_at(i, level) {
                marks[self.ahead[pieces][i]] = true;
            }
        }
    }

    /// Pieces after which strand `i` comes into the cell at a level of a lattice.
    fn straight_on(&self, i: usize, level: usize) -> Option<usize> {
        let [up, across] = self.lattice.as_ref()?.cell(level);
        let (along, beside) = match i < self.upright {
            true => (up, across),
            false => (across, up),
        };
        usize::try_from(along).ok().filter(|_| beside == 0)
    }

    /// The first strand, if any, whose cycle has no length.
    pub(super) fn pointlike(&self, shape: &Shape) -> Option<usize> {
        let still = |strand: usize| {
            let run = &shape.points[strand * self.nodes..(strand + 1) * self.nodes];
            run.windows(2).all(|pair| pair[0] == pair[1])
        };
        let cycle = self.cycles.iter().find(|c| c.iter().all(|&i| still(i)))?;
        Some(cycle[0])
    }
}

impl Shape {
    /// Where `node` stands as seen at a level.
    pub(super) fn at_level(&self, node: usize, level: i64) -> [f64; 3] {
        let level = level as f64;
        screwed(self.points[node], level * self.lift, level * self.turn)
    }

    /// Where `node` stands as seen in another cell of a lattice.
    fn in_cell(&self, node: usize, [up, across]: lattice::Cell) -> [f64; 3] {
        let [up, across] = [up as f64 * self.lift, across as f64 * self.turn];
        moved(self.points[node], up, across)
    }
}

fn moved([x, y, z]: [f64; 3], up: f64, across: f64) -> [f64; 3] {
    [x, y + across, z + up]
}

/// Strands that end one rise up.
fn upright(tubes: &Tubes) -> usize {
    match tubes.ends {
        Ends::Lattice { upright, .. } => upright,
        Ends::Screw { .. } | Ends::Closed { .. } => tubes.strands,
    }
}

/// Cycles of a permutation, each from its lowest member on.
pub fn cycles_of(continues: &[usize]) -> Vec<Vec<usize>> {
    let mut met = vec![false; continues.len()];
    let mut cycles = Vec::new();
    for first in 0..continues.len() {
        let mut cycle = Vec::new();
        let mut strand = first;
        while !std::mem::replace(&mut met[strand], true) {
            cycle.push(strand);
            strand = continues[strand];
        }
        if !cycle.is_empty() {
            cycles.push(cycle);
        }
    }
    cycles
}

/// For levels from `-levels` to `levels`: which strand of the cell comes by in
/// each place.
pub(super) fn names_at_levels(continues: &[usize], levels: i64) -> Vec<Vec<usize>> {
    let own: Vec<usize> = (0..continues.len()).collect();
    let mut above = vec![own.clone()];
    let mut below = vec![own];
    for level in 0..levels as usize {
        let mut up = vec![0; continues.len()];
        for (strand, &next) in continues.iter().enumerate() {
            up[next] = above[level][strand];
        }
        above.push(up);
        let down = continues.iter().map(|&next| below[level][next]).collect();
        below.push(down);
    }
    below.reverse();
    below.pop();
    below.extend(above);
    below
}

/// Whether any strand can be squeezed.
fn gives(tubes: &Tubes) -> bool {
    tubes
        .squeeze
        .iter()
        .any(|&squeeze| squeeze != Squeeze::Hard)
}

/// Whether any strand can flatten.
fn flattens(tubes: &Tubes) -> bool {
    tubes
        .sections
        .iter()
        .any(|&section| section != Section::Round)
}

fn freedom(tubes: &Tubes) -> Vec<bool> {
    let mut free = match tubes.ends {
        Ends::Screw { lift, turn: second }
        | Ends::Lattice {
            lift,
            across: second,
            ..
        } => {
            vec![lift == Hold::Free, second == Hold::Free]
        }
        Ends::Closed { .. } => vec![false, false],
    };
    free.push(tubes.band > 0.0);
    if gives(tubes) {
        for squeeze in &tubes.squeeze {
            free.extend(std::iter::repeat_n(*squeeze != Squeeze::Hard, tubes.nodes));
        }
    }
    if flattens(tubes) {
        for section in &tubes.sections {
            free.extend(std::iter::repeat_n(
                *section != Section::Round,
                3 * tubes.nodes,
            ));
        }
    }
    free
}

fn powers(continues: &[usize], ends: Ends) -> Vec<Vec<usize>> {
    let most = match ends {
        Ends::Screw { .. } => MOST_LEVELS,
        Ends::Lattice { .. } => lattice::MOST_SHELLS,
        Ends::Closed { cells } => continues.len() * cells,
    };
    let mut ahead: Vec<Vec<usize>> = vec![(0..continues.len()).collect()];
    for pieces in 0..most {
        let further = ahead[pieces].iter().map(|&i| continues[i]).collect();
        ahead.push(further);
    }
    ahead
}

fn rounds(ahead: &[Vec<usize>], ends: Ends) -> Vec<usize> {
    let Ends::Closed { cells } = ends else {
        return Vec::new();
    };
    let comes_home = |i: usize| {
        (cells..ahead.len())
            .step_by(cells.max(1))
            .find(|&pieces| ahead[pieces][i] == i)
            .unwrap_or(ahead.len())
    };
    (0..ahead[0].len()).map(comes_home).collect()
}
