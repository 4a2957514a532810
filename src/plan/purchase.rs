//! What is needed, what is there, what must be bought.

use crate::material::Colour;
use crate::quantity::Money;

use super::workshop::PutUp;

/// What a line of the list is about.
#[derive(Debug, Clone, PartialEq)]
pub enum Ware {
    /// Thread of a fibre in a colour, m.
    Thread {
        /// Name of the fibre.
        fibre: String,
        /// Its colour.
        colour: Colour,
    },
    /// Beads of a fibre that is a string of them, counted.
    Beads {
        /// Name of the fibre.
        fibre: String,
        /// Their colour.
        colour: Colour,
        /// What they weigh, g.
        grams: f64,
    },
    /// A finding, by its name.
    Finding(String),
}

/// One line of the shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// What.
    pub ware: Ware,
    /// How much is needed, m or pieces, waste included.
    pub needed: f64,
    /// How much is there, m or pieces.
    pub there: f64,
    /// How it is sold, if the maker wrote it down.
    pub put_up: Option<(PutUp, f64)>,
    /// How many put-ups or pieces must be bought.
    pub buy: u32,
    /// What that costs; none if the price is not known.
    pub cost: Option<Money>,
    /// What is used of it costs; none if the price is not known.
    pub used: Option<Money>,
    /// A remark, as on the dye lot; empty without.
    pub note: String,
}

/// The shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct Shopping {
    /// Line by line.
    pub needs: Vec<Need>,
    /// What must be paid at the shop; of what has a price.
    pub to_pay: Money,
    /// Lines that have no price.
    pub unpriced: usize,
    /// Why the piece cannot be braided from what is on the shelf, and with what it
    /// could, one sentence each.
    pub lacking: Vec<String>,
}
