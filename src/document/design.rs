//! A design: only what was decided, nothing that can be computed.

use crate::cord::{Tension, Twist};
use crate::material::{Fibre, Strand};
use crate::structure::{MoveList, Numbering};

/// How the cord is braided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Braiding {
    /// What holds the strands.
    pub tension: Tension,
    /// Counterweight, grams.
    pub counterweight: f64,
    /// Free or held twist.
    pub twist: Twist,
    /// How the maker's disc is numbered.
    pub numbering: Numbering,
}

/// A run of cord worked with one list of moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Name of the structure on a shelf; a remark only.
    pub structure: String,
    /// The moves themselves, with the start; strand `i` of the design starts at `start[i]`.
    pub moves: MoveList,
}

/// The finished piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Inner diameters of the end caps at hand, mm, ascending.
    pub caps: Vec<f64>,
    /// The cap looked at, an inner diameter of the list.
    pub cap: Option<f64>,
    /// Depth of that cap, mm.
    pub cap_depth: f64,
}

/// Everything that was decided about a cord.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Its name.
    pub name: String,
    /// A remark.
    pub note: String,
    /// The fibres used, complete, so that a file can travel.
    pub fibres: Vec<Fibre>,
    /// The strands.
    pub strands: Vec<Strand>,
    /// The sections in order; now one.
    pub sections: Vec<Section>,
    /// How it is braided.
    pub braiding: Braiding,
    /// The finished piece.
    pub piece: Piece,
}
