//! Bobbins: which take the strands, how they are paid out, what hangs below.

use crate::quantity::Estimate;

/// How one cut is wound.
#[derive(Debug, Clone, PartialEq)]
pub struct Wound {
    /// The cut, counted from 0 in the list.
    pub cut: usize,
    /// Name of the bobbin that takes it; none if there is none large enough.
    pub bobbin: Option<String>,
    /// How many of them.
    pub count: u32,
    /// What one bobbin takes of this strand, m.
    pub holds: f64,
    /// Joins a strand needs since no bobbin takes it whole.
    pub joins: u32,
    /// Strand let off the bobbin at a time, mm.
    pub pay_out: f64,
}

/// Bobbins and counterweight.
#[derive(Debug, Clone, PartialEq)]
pub struct Bobbins {
    /// Cut by cut.
    pub wound: Vec<Wound>,
    /// All bobbins together with what is on them, g.
    pub grams: Estimate,
    /// The counterweight of the design, g.
    pub counterweight: f64,
    /// What is usual for these bobbins or this disc, g.
    pub usual: Estimate,
    /// One sentence on what the counterweight does against the usual.
    pub advice: String,
}
