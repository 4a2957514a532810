//! Places on the disc and the moves between them.

/// Where a strand can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// On the rim, in half slots clockwise: slot `k` is `2 * k`, the place
    /// between slots `k` and `k + 1` is `2 * k + 1`. From 2 to `2 * slots + 1`.
    Rim(u16),
    /// Held in the hand above the middle of the disc.
    Hand,
}

impl Place {
    /// The place in slot `slot`, counted from 1.
    pub fn slot(slot: u16) -> Self {
        Self::Rim(2 * slot)
    }
}

/// One strand carried from a place to a place, over all that rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Move {
    /// Where the strand is taken up.
    pub from: Place,
    /// Where it is laid down.
    pub to: Place,
}

/// Moves that the hands make together; one move in the plain case.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Step {
    /// The moves, in the order in which they count if it matters.
    pub moves: Vec<Move>,
}

/// Which way the maker's disc is numbered, seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Numbering {
    /// 1, 2, 3 … clockwise.
    #[default]
    Clockwise,
    /// 1, 2, 3 … anticlockwise.
    Anticlockwise,
}

/// A list of moves as written down, not yet checked.
///
/// Strand `i` of a design starts at `start[i]`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct MoveList {
    /// Number of slots of the disc, even.
    pub slots: u16,
    /// Where each strand sits at the start.
    pub start: Vec<Place>,
    /// The steps of one round, in order.
    pub steps: Vec<Step>,
}
