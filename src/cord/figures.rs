//! What a maker wants to know of a cord.

use super::section::Section;
use crate::material::Standing;
use crate::quantity::Estimate;

/// Hand of the lay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// The rows of floats climb like the middle of an S.
    S,
    /// The rows of floats climb like the middle of a Z.
    Z,
    /// They go straight up.
    None,
}

/// The figures of one cord. Lengths in mm, changes of length in per cent
/// (minus is shorter), mass in g/m.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Over the crests, on the disc.
    pub thickness_on_disc: Estimate,
    /// Over the crests, off the weight and rested.
    pub thickness_rested: Estimate,
    /// Pressed (same section as a full round), on the disc.
    pub pressed_on_disc: Estimate,
    /// Pressed, rested.
    pub pressed_rested: Estimate,
    /// The wider side of a flat cord, rested; of a round one its thickness.
    pub width_rested: Estimate,
    /// What kind of section it has, as solved.
    pub section: Section,
    /// Across the empty middle, on the disc, mm; 0 of a full cord.
    pub bore: f64,
    /// Change of length off the weight, against the length on the disc.
    pub off_weight: Estimate,
    /// Change of length when worked supple, against the rested length.
    pub worked: Estimate,
    /// Both together, worked and rested against on the disc.
    pub lengthening: Estimate,
    /// Across the strands, braided as they are, squeezed round by a binding; without
    /// the thread of it.
    pub bundle: Estimate,
    /// The same of their loose tails, which lie straight.
    pub bundle_of_tails: Estimate,
    /// Rise of one full turn of the lay, rested; infinite without lay.
    pub pitch: Estimate,
    /// Hand of the lay.
    pub hand: Hand,
    /// Moves for a centimetre of cord on the disc.
    pub moves_per_cm: Estimate,
    /// Mass of a metre of rested cord.
    pub mass: Estimate,
    /// Strand length used per cord length (rested), strand by strand.
    pub take_up: Vec<Estimate>,
    /// The weakest standing among what the figures rest on.
    pub standing: Standing,
    /// What the figures rest on that is no more than a guess, in plain words.
    pub guesses: Vec<String>,
}
