//! A sum that is shown step by step, each step with its spread.

use crate::quantity::Estimate;

/// One step of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// What it is, in plain words.
    pub name: String,
    /// What it adds, mm; below nought what it takes off.
    pub adds: Estimate,
    /// Why, or what it was worked out from; empty where the name says it.
    pub reason: String,
}

/// A length and the steps that lead to it, mm. The steps add up to the length to
/// the smallest digit.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// Step by step.
    pub links: Vec<Link>,
    /// What they come to.
    pub total: Estimate,
}
