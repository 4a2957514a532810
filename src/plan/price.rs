//! What the piece costs, and what to ask for it.

use crate::quantity::{Estimate, Money};

/// One line of the sum.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceLine {
    /// What.
    pub name: String,
    /// How it comes about: an amount, an hourly rate.
    pub detail: String,
    /// What it costs; none if the price is not known.
    pub cost: Option<Money>,
}

/// Cost and price of one piece. Every sum is exact to the smallest unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Line by line.
    pub lines: Vec<PriceLine>,
    /// What they come to; of what has a price.
    pub costs: Money,
    /// Lines that have no price.
    pub unpriced: usize,
    /// The work, hours.
    pub hours: Estimate,
    /// The margin on it.
    pub margin: Money,
    /// The tax on both.
    pub tax: Money,
    /// What to ask for.
    pub ask: Money,
}
