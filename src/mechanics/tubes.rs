//! What is tightened, and the shape it has.

use super::flatten::Section;
use super::layout::{Layout, cycles_of};
use super::section::{Oval, axes_beyond};
use super::tighten::TightenError;

/// Whether an unknown is found or stays as given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Found by the minimum.
    Free,
    /// Stays as in the start shape.
    Held,
}

/// How the ends of the pieces join.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// The cell repeats along z, lifted and turned.
    Screw {
        /// Rise of the cell.
        lift: Hold,
        /// Turn of the cell.
        turn: Hold,
    },
    /// The cell repeats two ways in a plane and does not turn: upwards along z by its
    /// rise, across along y by what stands as the shape's turn.
    Lattice {
        /// Strands that end one rise up, the first ones; the others end one period across.
        upright: usize,
        /// Rise of the cell.
        lift: Hold,
        /// Period across.
        across: Hold,
    },
    /// The cell, turned this many times by the shape's turn, closes on itself.
    Closed {
        /// Number of cells round.
        cells: usize,
    },
}

/// How a strand gives when squeezed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Squeeze {
    /// Not at all.
    Hard,
    /// As a mass of fibre (van Wyk): a radius `r e^-u` at every node, found
    /// together with the positions.
    Fibre {
        /// `kappa = K phi0^3 d^2 / T` of the strand.
        stiffness: f64,
        /// Largest `u`: closest packing.
        limit: f64,
    },
}

/// Tubes to be pulled tight: `strands` pieces of `nodes` nodes each.
///
/// Node arrays list all nodes of strand 0, then strand 1 and so on. Values
/// given per strand must agree along a cycle of `continues`.
#[derive(Debug, Clone, PartialEq)]
pub struct Tubes {
    /// Number of pieces in a cell.
    pub strands: usize,
    /// Nodes of a piece.
    pub nodes: usize,
    /// Node `nodes` of piece `i` is node 0 of piece `continues[i]`, turned and lifted;
    /// or in the next cell across.
    pub continues: Vec<usize>,
    /// Free radius of each node.
    pub radius: Vec<f64>,
    /// Pull on each strand.
    pub pull: Vec<f64>,
    /// Bending stiffness of each strand, force times length squared.
    pub bending: Vec<f64>,
    /// How each strand gives.
    pub squeeze: Vec<Squeeze>,
    /// How the section of each strand may flatten; empty if all stay round, as in a band
    /// and in a lattice.
    pub sections: Vec<Section>,
    /// How the ends join.
    pub ends: Ends,
    /// The hanging weight.
    pub weight: f64,
    /// Squeeze of a band round all: its energy is `band` times the radius of the
    /// band, about z, for each unit of rise. Only with [`Ends::Screw`]; 0 without.
    pub band: f64,
    /// Lengths that the strands keep in the cell, if they are bound at the ends and
    /// no longer run on under their pull. Strands of a cycle share theirs.
    pub lengths: Option<Vec<f64>>,
}

/// A shape of tubes.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Every node of the cell.
    pub points: Vec<[f64; 3]>,
    /// Rise of the cell.
    pub lift: f64,
    /// Turn of the cell about z, radians. Of a cell of a lattice, which does not turn, the
    /// period across, along y.
    pub turn: f64,
    /// Squeeze `u` of each node: its radius there is `radius * exp(-u)`.
    pub squeeze: Vec<f64>,
    /// Wider side of the section of each node, square to the strand; empty if all are
    /// round. Its squared length is `(a/r)² - (r/a)²`, where `a` is half the wider side
    /// and `r` the radius there; `r²/a` is half the narrower side.
    pub axes: Vec<[f64; 3]>,
}

impl Tubes {
    /// Strands that follow one another, each cycle from its lowest strand on.
    pub fn cycles(&self) -> Vec<Vec<usize>> {
        cycles_of(&self.continues)
    }

    /// Whether these tubes and that shape belong together and can be tightened.
    ///
    /// # Errors
    ///
    /// [`TightenError::BadStart`] with the strand at fault and what is wrong.
    pub fn check(&self, shape: &Shape) -> Result<(), TightenError> {
        self.check_counts(shape)?;
        self.check_values(shape)?;
        self.check_cycles()?;
        self.check_ends(shape)
    }

    fn check_counts(&self, shape: &Shape) -> Result<(), TightenError> {
        let all = self.strands * self.nodes;
        let per_strand = [
            self.continues.len(),
            self.pull.len(),
            self.bending.len(),
            self.squeeze.len(),
        ];
        if self.strands == 0 || self.nodes < FEWEST_NODES {
            return Err(bad(0, "too few strands or nodes"));
        }
        let per_node = [self.radius.len(), shape.points.len(), shape.squeeze.len()];
        if per_node.iter().any(|&count| count != all) {
            return Err(bad(0, "not one value for every node"));
        }
        let lengths = self.lengths.as_ref().map_or(self.strands, Vec::len);
        if lengths != self.strands || per_strand.iter().any(|&count| count != self.strands) {
            return Err(bad(0, "not one value for every strand"));
        }
        let sections = [0, self.strands].contains(&self.sections.len());
        if !sections || ![0, all].contains(&shape.axes.len()) {
            return Err(bad(
                0,
                "not one section for every strand and one axis for every node",
            ));
        }
        let mut met = vec![false; self.strands];
        for (strand, &next) in self.continues.iter().enumerate() {
            if next >= self.strands || std::mem::replace(&mut met[next], true) {
                return Err(bad(strand, "does not continue in a strand of its own"));
            }
        }
        Ok(())
    }

    fn check_values(&self, shape: &Shape) -> Result<(), TightenError> {
        for strand in 0..self.strands {
            let nodes = strand * self.nodes..(strand + 1) * self.nodes;
            let points = &shape.points[nodes.clone()];
            if points.iter().flatten().any(|value| !value.is_finite()) {
                return Err(bad(strand, "a point is not finite"));
            }
            if shape.squeeze[nodes.clone()].iter().any(|u| !u.is_finite()) {
                return Err(bad(strand, "a squeeze is not finite"));
            }
            if self.radius[nodes.clone()].iter().any(|&r| !is_positive(r)) {
                return Err(bad(strand, "a radius is not positive"));
            }
            if !is_positive(self.pull[strand]) {
                return Err(bad(strand, "the pull is not positive"));
            }
            if self
                .lengths
                .as_ref()
                .is_some_and(|l| !is_positive(l[strand]))
            {
                return Err(bad(strand, "the length to be kept is not positive"));
            }
            if !(self.bending[strand].is_finite() && self.bending[strand] >= 0.0) {
                return Err(bad(strand, "the bending stiffness is negative"));
            }
            let section = self.sections.get(strand).copied();
            if !section.is_none_or(Section::is_sound) {
                return Err(bad(strand, "the section is not sound"));
            }
            let mut axes = shape.axes.iter().skip(nodes.start).take(self.nodes);
            if axes.any(|axis| axis.iter().any(|x| !x.is_finite())) {
                return Err(bad(strand, "an axis is not finite"));
            }
            if !self.squeeze[strand].is_sound() {
                return Err(bad(strand, "the squeeze is not sound"));
            }
        }
        let whole = [self.weight, self.band, shape.lift, shape.turn];
        if whole.iter().any(|value| !value.is_finite()) || self.band < 0.0 {
            return Err(bad(0, "weight, band, rise or turn is not sound"));
        }
        Ok(())
    }

    fn check_cycles(&self) -> Result<(), TightenError> {
        for cycle in self.cycles() {
            let first = cycle[0];
            let agrees = |&strand: &usize| {
                self.pull[strand] == self.pull[first]
                    && self.bending[strand] == self.bending[first]
                    && self.squeeze[strand] == self.squeeze[first]
                    && self.sections.get(strand) == self.sections.get(first)
            };
            if let Some(&strand) = cycle.iter().find(|strand| !agrees(strand)) {
                return Err(bad(strand, "differs from a strand it continues in"));
            }
        }
        Ok(())
    }

    fn check_ends(&self, shape: &Shape) -> Result<(), TightenError> {
        let layout = Layout::new(self);
        if let Some(strand) = layout.pointlike(shape) {
            return Err(bad(strand, "has no length"));
        }
        if layout.flattens && (self.band > 0.0 || layout.lattice.is_some()) {
            return Err(bad(0, "strands in a band or a woven plane stay round"));
        }
        match self.ends {
            Ends::Screw { .. } if shape.lift > 0.0 => Ok(()),
            Ends::Screw { .. } => Err(bad(0, "the rise is not positive")),
            Ends::Lattice { upright, .. } => self.check_lattice(shape, upright),
            Ends::Closed { cells } => {
                let turns = shape.turn * cells as f64 / std::f64::consts::TAU;
                let closes = cells > 0 && (turns - turns.round()).abs() < 1e-6;
                if !closes || shape.lift != 0.0 || self.band > 0.0 {
                    return Err(bad(0, "the cells do not close"));
                }
                Ok(())
            }
        }
    }

    fn check_lattice(&self, shape: &Shape, upright: usize) -> Result<(), TightenError> {
        if !(is_positive(shape.lift) && is_positive(shape.turn)) {
            return Err(bad(0, "a period is not positive"));
        }
        if upright > self.strands || self.band > 0.0 {
            return Err(bad(0, "too many upright strands, or a band round a plane"));
        }
        let turns = |&strand: &usize| (strand < upright) != (self.continues[strand] < upright);
        match (0..self.strands).find(turns) {
            Some(strand) => Err(bad(strand, "runs on in a strand that goes the other way")),
            None => Ok(()),
        }
    }

    /// `cells` cells as one, in the same shape.
    ///
    /// Strand `i` of the larger cell runs on through `continues[i]` and so on.
    /// A closed cell must be repeated a number of times that divides its own.
    ///
    /// # Panics
    ///
    /// If `shape` does not belong to these tubes, `cells` is zero or the cell is one of a
    /// lattice.
    pub fn repeated(&self, shape: &Shape, cells: usize) -> (Self, Shape) {
        assert!(cells > 0, "at least one cell");
        let is_lattice = matches!(self.ends, Ends::Lattice { .. });
        assert!(
            !is_lattice,
            "a cell of a lattice has two ways to be repeated"
        );
        let mut continues: Vec<usize> = (0..self.strands).collect();
        let longer = self.nodes * cells;
        let mut radius = vec![0.0; self.strands * longer];
        let mut points = vec![[0.0; 3]; self.strands * longer];
        let mut squeeze = vec![0.0; self.strands * longer];
        let mut axes = vec![
            [0.0; 3];
            if shape.axes.is_empty() {
                0
            } else {
                self.strands * longer
            }
        ];
        for cell in 0..cells {
            let (lift, turn) = (shape.lift * cell as f64, shape.turn * cell as f64);
            for (strand, through) in continues.iter_mut().enumerate() {
                for node in 0..self.nodes {
                    let old = *through * self.nodes + node;
                    let new = strand * longer + cell * self.nodes + node;
                    radius[new] = self.radius[old];
                    squeeze[new] = shape.squeeze[old];
                    points[new] = screwed(shape.points[old], lift, turn);
                    if let Some(axis) = axes.get_mut(new) {
                        *axis = screwed(shape.axes[old], 0.0, turn);
                    }
                }
                *through = self.continues[*through];
            }
        }
        let ends = match self.ends {
            Ends::Closed { cells: round } => Ends::Closed {
                cells: round / cells,
            },
            endless => endless,
        };
        let tubes = Self {
            nodes: longer,
            continues,
            radius,
            ends,
            lengths: self.lengths.as_ref().map(|own| self.in_turn(own, cells)),
            ..self.clone()
        };
        let shape = Shape {
            points,
            lift: shape.lift * cells as f64,
            turn: shape.turn * cells as f64,
            squeeze,
            axes,
        };
        (tubes, shape)
    }

    /// Sums of `each` strand's value along `cells` pieces.
    fn in_turn(&self, each: &[f64], cells: usize) -> Vec<f64> {
        let sum = |strand: usize| {
            let pieces = std::iter::successors(Some(strand), |&piece| Some(self.continues[piece]));
            pieces.take(cells).map(|piece| each[piece]).sum()
        };
        (0..self.strands).map(sum).collect()
    }

    /// Radius of a node as squeezed in `shape`.
    pub fn radius_in(&self, shape: &Shape, node: usize) -> f64 {
        self.radius[node] * (-shape.squeeze[node]).exp()
    }

    /// Half the wider side of the section of a node in `shape`, as a vector along it;
    /// nothing where it is round.
    pub fn long_axis_in(&self, shape: &Shape, node: usize) -> [f64; 3] {
        self.oval_in(shape, node).long_axis()
    }

    /// Half the width of a node in `shape` along a direction of length one.
    pub fn half_width_in(&self, shape: &Shape, node: usize, way: [f64; 3]) -> f64 {
        self.oval_in(shape, node).half_width(way)
    }

    /// A node of `shape` with its section.
    pub(super) fn oval_in(&self, shape: &Shape, node: usize) -> Oval {
        let axis = shape.axes.get(node).copied().unwrap_or_default();
        Oval::new(self.radius_in(shape, node), axis)
    }

    /// How the section of the strand of a node may flatten.
    pub(super) fn section_at(&self, node: usize) -> Section {
        let section = self.sections.get(node / self.nodes);
        section.copied().unwrap_or(Section::Round)
    }

    /// Number of nodes in a cell.
    pub(super) fn count(&self) -> usize {
        self.strands * self.nodes
    }
}

impl Shape {
    /// Mean place of all nodes in the frame that turns with the cord: a cord that
    /// hardly turns may lie anywhere beside z.
    pub(super) fn middle(&self) -> [f64; 3] {
        let pitch = self.turn / self.lift;
        let count = self.points.len() as f64;
        let mut middle = [0.0; 3];
        for &p in &self.points {
            let [x, y, _] = screwed(p, 0.0, -pitch * p[2]);
            middle[0] += x / count;
            middle[1] += y / count;
        }
        middle
    }

    /// Every node of the cell with the middle of the cord brought to z. For tubes that
    /// repeat along z.
    pub fn centred(&self) -> Vec<[f64; 3]> {
        let middle = self.middle();
        let shift = |p: &[f64; 3]| {
            let [x, y, _] = screwed(middle, 0.0, self.turn / self.lift * p[2]);
            [p[0] - x, p[1] - y, p[2]]
        };
        self.points.iter().map(shift).collect()
    }

    /// The shape of tubes that do not give at all in their contacts, from those at
    /// some contact stiffness and at four times that: errors fall as the root of the
    /// stiffness (tried on the round spiral of eight: at 64 and 256 within 0.2 % of
    /// the limit).
    ///
    /// # Panics
    ///
    /// If the two are not shapes of the same tubes.
    pub fn hard_limit(firm: &Self, firmer: &Self) -> Self {
        assert_eq!(firm.points.len(), firmer.points.len(), "other tubes");
        let beyond = |a: f64, b: f64| 2.0 * b - a;
        let points = firm.points.iter().zip(&firmer.points);
        let squeezes = firm.squeeze.iter().zip(&firmer.squeeze);
        // A node that came under pressure in between is not to pass its stop.
        let most = firmer.squeeze.iter().copied().fold(0.0, f64::max);
        let least = firmer.squeeze.iter().copied().fold(0.0, f64::min);
        Self {
            points: points
                .map(|(a, b)| std::array::from_fn(|axis| beyond(a[axis], b[axis])))
                .collect(),
            lift: beyond(firm.lift, firmer.lift),
            turn: beyond(firm.turn, firmer.turn),
            squeeze: squeezes
                .map(|(&a, &b)| beyond(a, b).clamp(least, most))
                .collect(),
            axes: axes_beyond(&firm.axes, &firmer.axes),
        }
    }
}

impl Squeeze {
    fn is_sound(self) -> bool {
        match self {
            Self::Hard => true,
            Self::Fibre { stiffness, limit } => is_positive(stiffness) && is_positive(limit),
        }
    }
}

/// Fewest nodes of a piece: bending looks two nodes ahead, into the next cell
/// at most.
const FEWEST_NODES: usize = 2;

fn is_positive(value: f64) -> bool {
    value.is_finite() && value > 0.0
}

fn bad(strand: usize, what: &'static str) -> TightenError {
    TightenError::BadStart { strand, what }
}

/// `point` lifted and turned about z.
pub fn screwed(point: [f64; 3], lift: f64, turn: f64) -> [f64; 3] {
    let (sin, cos) = turn.sin_cos();
    let [x, y, z] = point;
    [cos * x - sin * y, sin * x + cos * y, z + lift]
}

#[cfg(test)]
mod tests {
    use super::super::spiral::round_spiral;
    use super::*;

    type Change = fn(&mut Tubes, &mut Shape);

    fn fault(change: impl Fn(&mut Tubes, &mut Shape)) -> Option<(usize, &'static str)> {
        let (mut tubes, mut shape) = round_spiral(5);
        change(&mut tubes, &mut shape);
        match tubes.check(&shape) {
            Err(TightenError::BadStart { strand, what }) => Some((strand, what)),
            _ => None,
        }
    }

    #[test]
    fn sound_tubes_pass_and_each_fault_names_its_strand() {
        assert_eq!(fault(|_, _| ()), None);
        let faults: [(Change, usize); 9] = [
            (|tubes, _| tubes.continues[3] = 0, 3),
            (|tubes, _| tubes.continues[6] = 8, 6),
            (|tubes, _| tubes.radius[5 * 5 + 1] = 0.0, 5),
            (|tubes, _| tubes.pull.fill(-1.0), 0),
            (|tubes, _| tubes.bending[2] = f64::NAN, 2),
            (|tubes, _| tubes.pull[4] = 2.0, 4),
            (|_, shape| shape.squeeze[7 * 5] = f64::NAN, 7),
            (|_, shape| shape.lift = 0.0, 0),
            (|_, shape| shape.points.truncate(39), 0),
        ];
        for (number, (change, strand)) in faults.into_iter().enumerate() {
            let found = fault(change).map(|(strand, _)| strand);
            assert_eq!(found, Some(strand), "fault {number}");
        }
    }

    #[test]
    fn a_closed_cell_must_close() {
        let closed = |turn: f64, lift: f64| {
            fault(|tubes, shape| {
                tubes.ends = Ends::Closed { cells: 3 };
                (shape.turn, shape.lift) = (turn, lift);
            })
        };
        let third = std::f64::consts::TAU / 3.0;
        assert_eq!(closed(2.0 * third, 0.0), None);
        assert!(closed(1.1 * third, 0.0).is_some(), "not a third of a turn");
        assert!(closed(third, 0.5).is_some(), "lifted");
    }

    #[test]
    fn a_repeated_cell_runs_through_the_same_places() {
        let (tubes, shape) = round_spiral(5);
        let (longer, row) = tubes.repeated(&shape, 3);
        assert_eq!((longer.nodes, row.lift), (15, 3.0 * shape.lift));
        for strand in 0..8 {
            let mut through = strand;
            for cell in 0..3 {
                let (old, new) = (through * 5 + 2, strand * 15 + cell * 5 + 2);
                let (lift, turn) = (cell as f64 * shape.lift, cell as f64 * shape.turn);
                assert_eq!(row.points[new], screwed(shape.points[old], lift, turn));
                through = tubes.continues[through];
            }
            assert_eq!(longer.continues[strand], through);
        }
        assert_eq!(longer.check(&row), Ok(()));
    }

    /// Moved aside as it turns, the cord is the same.
    #[test]
    fn a_cord_beside_the_axis_is_brought_back_to_it() {
        let (tubes, shape) = round_spiral(5);
        let beside = |p: &[f64; 3]| {
            let [x, y, _] = screwed([0.7, -0.2, 0.0], 0.0, shape.turn / shape.lift * p[2]);
            [p[0] + x, p[1] + y, p[2]]
        };
        let moved = Shape {
            points: shape.points.iter().map(beside).collect(),
            ..shape.clone()
        };
        assert_eq!(tubes.check(&moved), Ok(()));
        for (a, b) in moved.centred().iter().zip(shape.centred()) {
            for axis in 0..3 {
                assert!((a[axis] - b[axis]).abs() < 1e-12, "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn the_round_spiral_is_one_strand_through_all_places() {
        let (tubes, shape) = round_spiral(5);
        assert_eq!(tubes.cycles().len(), 1);
        let (longer, _) = tubes.repeated(&shape, 4);
        assert_eq!(
            longer.cycles(),
            [[0, 4], [1, 5], [2, 6], [3, 7]].map(Vec::from)
        );
    }
}
