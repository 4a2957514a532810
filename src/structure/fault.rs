//! What can be wrong with a move list, as data: what kind of fault it is, at
//! which step, in which places, with which strands.

use super::{Move, Place, Plate};

/// Why a move list is no braid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BraidError {
    /// What the strands are laid on, needed to name the places.
    pub plate: Plate,
    /// Slots of the disc, needed to number the places.
    pub slots: u16,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong with a move list. Steps are counted from 1, strands from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// The disc has an odd number of slots.
    OddSlots,
    /// The sides of a square plate would differ.
    UnevenSides,
    /// The disc is too small.
    FewSlots {
        /// The smallest number of slots.
        least: u16,
    },
    /// The disc is larger than any real one.
    ManySlots {
        /// The largest number of slots.
        most: u16,
    },
    /// Too few strands to interlace.
    FewStrands {
        /// How many there are.
        strands: usize,
        /// How many are needed.
        least: usize,
    },
    /// More strands than can be worked.
    ManyStrands {
        /// How many there are.
        strands: usize,
        /// How many are allowed.
        most: usize,
    },
    /// The list holds no move.
    NoMoves,
    /// More moves in a round than anybody makes.
    ManyMoves {
        /// How many are allowed.
        most: usize,
    },
    /// More than once round is given as the turn of a round.
    WideTurn {
        /// The turn given, slots clockwise.
        turn: i32,
    },
    /// A strand starts where the disc has no place.
    StartOffDisc {
        /// The place.
        place: Place,
        /// The strand.
        strand: usize,
    },
    /// A strand starts in the hand.
    StartInHand {
        /// The strand.
        strand: usize,
    },
    /// Two strands start in one place.
    StartTwice {
        /// The place.
        place: Place,
        /// The two strands.
        strands: [usize; 2],
    },
    /// A move names a place that the disc does not have.
    OffDisc {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
        /// The strand that would be carried there, if one would.
        strand: Option<usize>,
    },
    /// A move lifts from a place that holds no strand, or from an empty hand.
    Empty {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
    },
    /// A move lays a strand where one rests.
    Taken {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
        /// The strand carried and the one that rests there.
        strands: [usize; 2],
    },
    /// A second strand is taken into the hand.
    HandFull {
        /// The step.
        step: usize,
        /// The step that took the first one up.
        taken_up: usize,
        /// The strand carried and the one that is held.
        strands: [usize; 2],
    },
    /// A move ends where it begins.
    Nowhere {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
        /// The strand there, if there is one.
        strand: Option<usize>,
    },
    /// Two moves of one step cross, so their order matters.
    Interleave {
        /// The step.
        step: usize,
        /// The earlier in the list.
        first: Move,
        /// The later in the list.
        second: Move,
        /// The strands of both.
        strands: [usize; 2],
    },
    /// Two strands change places in one step, and nothing says which way.
    Exchange {
        /// The step.
        step: usize,
        /// The earlier in the list.
        first: Move,
        /// The later in the list, back the same way.
        second: Move,
        /// The strands of both.
        strands: [usize; 2],
    },
    /// A held strand's side of a move cannot be told.
    HoldUnclear {
        /// The step of the move that passes the hand.
        step: usize,
        /// The move that passes the hand.
        passing: Move,
        /// The step that took the held strand up.
        taken_up: usize,
        /// The strand that passes and the one that is held.
        strands: [usize; 2],
    },
    /// A move goes straight over the core, so its side cannot be told.
    OverCore {
        /// The step.
        step: usize,
        /// The move.
        passing: Move,
        /// The strand that passes.
        strand: usize,
    },
    /// A strand is in the hand when the round ends.
    LeftInHand {
        /// The step that took it up.
        taken_up: usize,
        /// The strand.
        strand: usize,
    },
    /// The strands do not end on their start places: with the turn that is
    /// given, or however the disc is turned.
    NotBack {
        /// The turn given, or the one that fits best, in slots clockwise.
        turn: i32,
        /// A place that holds a strand and should not.
        stray: Place,
        /// A place that should hold a strand and does not.
        missing: Place,
        /// The strand in the wrong place.
        strand: usize,
    },
    /// Worked on with the turn that is given, a later round lifts from an empty
    /// place.
    EmptyLater {
        /// The step, counted on through the rounds.
        step: usize,
        /// Which round that is, counted from 1.
        round: usize,
        /// The place.
        place: Place,
    },
    /// Worked on with the turn that is given, a later round lays a strand where
    /// one rests.
    TakenLater {
        /// The step, counted on through the rounds.
        step: usize,
        /// Which round that is, counted from 1.
        round: usize,
        /// The place.
        place: Place,
        /// The strand carried and the one that rests there.
        strands: [usize; 2],
    },
}

impl Fault {
    /// What kind of fault it is, in a few words that stay the same.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::OddSlots => "odd number of slots",
            Self::UnevenSides => "sides not equal",
            Self::FewSlots { .. } => "too few slots",
            Self::ManySlots { .. } => "too many slots",
            Self::FewStrands { .. } => "too few strands",
            Self::ManyStrands { .. } => "too many strands",
            Self::NoMoves => "no moves",
            Self::ManyMoves { .. } => "too many moves",
            Self::WideTurn { .. } => "turn too wide",
            Self::StartOffDisc { .. } | Self::OffDisc { .. } => "no such slot",
            Self::StartInHand { .. } => "starts in the hand",
            Self::StartTwice { .. } => "start slot twice",
            Self::Empty { .. } | Self::EmptyLater { .. } => "slot empty",
            Self::Taken { .. } | Self::TakenLater { .. } => "slot taken",
            Self::HandFull { .. } => "hand full",
            Self::Nowhere { .. } => "move goes nowhere",
            Self::Interleave { .. } | Self::Exchange { .. } => "order needed",
            Self::HoldUnclear { .. } => "side of the held strand unclear",
            Self::OverCore { .. } => "side of the core unclear",
            Self::LeftInHand { .. } => "left in the hand",
            Self::NotBack { .. } => "does not return",
        }
    }

    /// The step at fault, counted from 1; none if it is no one step.
    pub fn step(&self) -> Option<usize> {
        match *self {
            Self::OffDisc { step, .. }
            | Self::Empty { step, .. }
            | Self::Taken { step, .. }
            | Self::HandFull { step, .. }
            | Self::Nowhere { step, .. }
            | Self::Interleave { step, .. }
            | Self::Exchange { step, .. }
            | Self::HoldUnclear { step, .. }
            | Self::OverCore { step, .. }
            | Self::EmptyLater { step, .. }
            | Self::TakenLater { step, .. }
            | Self::LeftInHand { taken_up: step, .. } => Some(step),
            _ => None,
        }
    }

    /// The places it is about, the chief one first.
    pub fn places(&self) -> Vec<Place> {
        let ends = |moves: &[Move]| moves.iter().flat_map(|m| [m.from, m.to]).collect();
        match self {
            Self::StartOffDisc { place, .. }
            | Self::StartTwice { place, .. }
            | Self::OffDisc { place, .. }
            | Self::Empty { place, .. }
            | Self::EmptyLater { place, .. }
            | Self::Taken { place, .. }
            | Self::TakenLater { place, .. }
            | Self::Nowhere { place, .. } => vec![*place],
            Self::StartInHand { .. } | Self::HandFull { .. } | Self::LeftInHand { .. } => {
                vec![Place::Hand]
            }
            Self::Interleave { first, second, .. } | Self::Exchange { first, second, .. } => {
                ends(&[*first, *second])
            }
            Self::HoldUnclear { passing, .. } | Self::OverCore { passing, .. } => ends(&[*passing]),
            Self::NotBack { stray, missing, .. } => vec![*stray, *missing],
            _ => Vec::new(),
        }
    }

    /// The strands it is about, the one that moves first.
    pub fn strands(&self) -> Vec<usize> {
        match *self {
            Self::StartTwice { strands, .. }
            | Self::Taken { strands, .. }
            | Self::TakenLater { strands, .. }
            | Self::HandFull { strands, .. }
            | Self::Interleave { strands, .. }
            | Self::Exchange { strands, .. }
            | Self::HoldUnclear { strands, .. } => strands.into(),
            Self::StartOffDisc { strand, .. }
            | Self::StartInHand { strand }
            | Self::OverCore { strand, .. }
            | Self::LeftInHand { strand, .. }
            | Self::NotBack { strand, .. } => vec![strand],
            Self::OffDisc { strand, .. } | Self::Nowhere { strand, .. } => {
                strand.into_iter().collect()
            }
            _ => Vec::new(),
        }
    }
}
