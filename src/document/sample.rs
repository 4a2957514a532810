//! What was measured on real cords.
//!
//! Not part of undo, and small on purpose: this version keeps it and shows nothing of it
//! yet.

use serde::{Deserialize, Serialize};

use super::check::{At, DesignError};

/// In what state a cord was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum State {
    /// Hanging on the disc.
    OnDisc,
    /// Off the weight, after a day's rest.
    Rested,
    /// Worked supple and worn.
    Worked,
}

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Quantity {
    /// Over the crests.
    Thickness,
    /// Pressed.
    Pressed,
    /// The wider side of a flat cord.
    Width,
    /// A marked length.
    Length,
    /// The end bound with thread.
    BoundEnd,
}

/// One measurement on a real cord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sample {
    /// When, as the maker wrote it.
    #[serde(default)]
    pub date: String,
    /// In what state the cord was.
    pub state: State,
    /// What was measured.
    pub quantity: Quantity,
    /// The figure, mm.
    pub value: f64,
    /// How far off it may be, mm.
    #[serde(default)]
    pub tolerance: f64,
}

impl Sample {
    pub(super) fn check_at(&self, at: &At<'_>) -> Result<(), DesignError> {
        at.field("date").words(&self.date)?;
        at.field("value").number(self.value, 0.0..=1.0e6, " mm")?;
        at.field("tolerance")
            .number(self.tolerance, 0.0..=1.0e6, " mm")
    }
}
