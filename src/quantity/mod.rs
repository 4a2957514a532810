//! Figures that a person reads and types: values with a spread, lengths and
//! masses with a unit.
//!
//! What was decided (a cap of 6.35 mm, a weight of 70 g) is a [`Length`] or a
//! [`Mass`] and is written so that it reads back the same. What was computed is an
//! [`Estimate`] and is shown no finer than such a figure can be meant.

mod day;
mod gauge;
mod money;
mod propagation;
mod read;
mod show;
mod sum;
mod sure;

use serde::{Deserialize, Serialize};

pub use day::Day;
pub use money::{Money, ReadMoneyError};
pub use propagation::propagated;
pub use read::{ReadNumberError, ReadQuantityError, read_number};
pub use show::Shown;
pub use sum::shown_sum;

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

    /// The same figure in another unit, `factor` of which make one of these.
    pub fn times(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            low: self.low * factor,
            high: self.high * factor,
        }
    }
}

/// The units a maker thinks in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum UnitSystem {
    /// Millimetres and grams.
    #[default]
    Millimetres,
    /// Inches with fractions, ounces.
    Inches,
}

/// Millimetres in an inch, exact by definition.
pub const MM_PER_INCH: f64 = 25.4;

/// Grams in an ounce: a sixteenth of the pound of 453.59237 g, exact by definition.
const GRAMS_PER_OUNCE: f64 = 453.592_37 / 16.0;

/// Millimetres in a yard, exact by definition.
const MM_PER_YARD: f64 = 914.4;

/// A length that was decided or measured.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// A length in millimetres.
    pub fn from_mm(mm: f64) -> Self {
        Self { mm }
    }

    /// A length in inches.
    pub fn from_inches(inches: f64) -> Self {
        Self {
            mm: inches * MM_PER_INCH,
        }
    }

    /// In millimetres.
    pub fn mm(self) -> f64 {
        self.mm
    }

    /// In inches.
    pub fn inches(self) -> f64 {
        self.mm / MM_PER_INCH
    }
}

/// A mass that was decided or weighed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mass {
    grams: f64,
}

impl Mass {
    /// A mass in grams.
    pub fn from_grams(grams: f64) -> Self {
        Self { grams }
    }

    /// A mass in ounces.
    pub fn from_ounces(ounces: f64) -> Self {
        Self {
            grams: ounces * GRAMS_PER_OUNCE,
        }
    }

    /// In grams.
    pub fn grams(self) -> f64 {
        self.grams
    }

    /// In ounces.
    pub fn ounces(self) -> f64 {
        self.grams / GRAMS_PER_OUNCE
    }
}
