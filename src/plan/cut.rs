//! What to cut: kind by kind, each length with what it is made up of.

use super::chain::Chain;
use crate::material::Strand;
use crate::quantity::Estimate;

/// Lengths that are cut alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What a strand of them is made of.
    pub makes: Strand,
    /// The strands, each a group of one, or of the two that a folded length makes.
    pub strands: Vec<Vec<usize>>,
    /// How many lengths are cut, all ends and all cords counted.
    pub count: u32,
    /// One length, mm, rounded up to the maker's mark.
    pub length: f64,
    /// How it comes about, for one strand; its total before the reserve and rounding.
    pub chain: Chain,
    /// Kept in hand so that it is long enough as surely as wished, mm a strand.
    pub reserve: f64,
    /// Left over for sure at the end of a strand, mm: what cannot be braided.
    pub left_over: f64,
    /// What the everyday rule, three times the finished length, would cut, mm.
    pub rule_of_thumb: f64,
}

/// The whole list.
#[derive(Debug, Clone, PartialEq)]
pub struct CutList {
    /// Thickest first.
    pub cuts: Vec<Cut>,
    /// How sure every strand is to be long enough.
    pub sure: f64,
    /// Length of all that is cut, m.
    pub metres: f64,
    /// What the everyday rule would cut more, m; below nought it would have been short.
    pub saved: f64,
    /// Strands that the everyday rule would have left too short, with by how much, mm.
    pub rule_short_by: Option<f64>,
    /// Cord that is braided, on the disc, mm.
    pub on_disc: Estimate,
    /// Moves to make.
    pub moves: Estimate,
}
