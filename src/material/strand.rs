//! A strand: one fibre or several held together, and the round body they make.

use serde::{Deserialize, Serialize};

use super::Colour;

/// Ends of one fibre in a strand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Name of the fibre.
    pub fibre: String,
    /// How many ends of it, at least 1.
    pub ends: u16,
    /// Its colour here.
    pub colour: Colour,
}

/// What sits in one slot: one fibre, or several held together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strand {
    /// The fibres with their ends, at least one.
    pub parts: Vec<Part>,
}

/// The round body that a strand's fibres make together; follows from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Diameter lying free, mm.
    pub diameter: f64,
    /// Solid fibre in the section, mm2.
    pub solid_area: f64,
    /// Linear density, tex.
    pub tex: f64,
    /// Packing lying free.
    pub packing_free: f64,
    /// Closest packing.
    pub packing_closest: f64,
    /// Resistance to squeezing (van Wyk's `K E`), N/mm2; infinite for what cannot be squeezed.
    pub squeeze_modulus: f64,
    /// Bending stiffness as a share of pull times diameter squared.
    pub bending: f64,
    /// Friction of strand on strand.
    pub friction: f64,
    /// Shortening off the weight, per cent.
    pub shortens: f64,
    /// Lengthening when worked, per cent.
    pub lengthens: f64,
}
