//! How the strands are held while the cord is braided.

use serde::{Deserialize, Serialize};

/// What holds the strands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Tension {
    /// A hand-held disc: the slots hold what the hand tugged, every strand
    /// alike. Pull in newtons on strands 2 mm thick; in proportion to the mean
    /// thickness for others (our guess).
    Slots(f64),
    /// A stand: every strand hangs on a bobbin of this many grams.
    Bobbins(f64),
}

/// Whether the cord may spin while it hangs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Twist {
    /// The hanging weight spins as it likes.
    Free,
    /// The cord is held at the turn of the disc.
    Held,
}
