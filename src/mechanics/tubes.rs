//! What is tightened, and the shape it has.

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
    /// As a mass of fibre (van Wyk), one radius `r e^-u` for the whole strand
    /// cycle, found together with the positions.
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
    /// Node `nodes` of piece `i` is node 0 of piece `continues[i]`, turned and lifted.
    pub continues: Vec<usize>,
    /// Free radius of each node.
    pub radius: Vec<f64>,
    /// Pull on each strand.
    pub pull: Vec<f64>,
    /// Bending stiffness of each strand, force times length squared.
    pub bending: Vec<f64>,
    /// How each strand gives.
    pub squeeze: Vec<Squeeze>,
    /// How the ends join.
    pub ends: Ends,
    /// The hanging weight.
    pub weight: f64,
    /// Pull of a band round all, force; 0 without.
    pub band: f64,
}

/// A shape of tubes.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Every node of the cell.
    pub points: Vec<[f64; 3]>,
    /// Rise of the cell.
    pub lift: f64,
    /// Turn of the cell about z, radians.
    pub turn: f64,
    /// Squeeze `u` of each strand: its radius is `radius * exp(-u)`.
    pub squeeze: Vec<f64>,
}
