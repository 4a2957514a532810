//! Figures that a person reads and types: values with a spread, lengths with a unit.

use serde::{Deserialize, Serialize};

/// A figure with its spread: `low <= value <= high`, all in one unit.
///
/// The unit stands with the field or function that hands it out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Estimate {
    /// The most likely figure.
    pub value: f64,
    /// The lower end of the spread.
    pub low: f64,
    /// The upper end of the spread.
    pub high: f64,
}

impl Estimate {
    /// A figure without spread.
    pub fn exact(value: f64) -> Self {
        Self {
            value,
            low: value,
            high: value,
        }
    }
}
