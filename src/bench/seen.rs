//! What a maker sees when something looks wrong.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::structure::Place;

/// What is seen in one slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Spot {
    /// Nothing lies there.
    Empty,
    /// A strand, no matter which.
    Strand,
    /// A strand that looks like this; strands that look the same have the same number.
    Look(usize),
}

/// What is seen of the cord just below the hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Sign {
    /// It is thicker there than further down.
    Fat,
    /// It has a bend to one side.
    Knee,
    /// Two strands cross in the middle of the disc where none should.
    Cross,
    /// A strand lies over the surface for longer than its neighbours.
    LongFloat,
}

/// What is on the disc, and what the cord looks like, as far as it was told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Seen {
    /// What is seen where; of a slot that is not named nothing is known.
    pub spots: BTreeMap<Place, Spot>,
    /// What is seen of the cord; none, if nothing was told.
    pub signs: BTreeSet<Sign>,
}
