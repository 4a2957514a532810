//! What can be wrong with a move list, each said in one sentence for a maker.

use std::fmt;

use super::{Move, Numbering, Place};

/// Why a move list is no braid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BraidError {
    /// Slots of the disc, needed to number the places.
    pub slots: u16,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong with a move list. Steps are counted from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// The disc has an odd number of slots.
    OddSlots,
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
    /// A strand starts where the disc has no place.
    StartOffDisc {
        /// The place.
        place: Place,
    },
    /// A strand starts in the hand.
    StartInHand,
    /// Two strands start in one place.
    StartTwice {
        /// The place.
        place: Place,
    },
    /// A move names a place that the disc does not have.
    OffDisc {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
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
    },
    /// A second strand is taken into the hand.
    HandFull {
        /// The step.
        step: usize,
        /// The step that took the first one up.
        taken_up: usize,
    },
    /// A move ends where it begins.
    Nowhere {
        /// The step.
        step: usize,
        /// The place.
        place: Place,
    },
    /// Two moves of one step cross, so their order matters.
    Interleave {
        /// The step.
        step: usize,
        /// The earlier in the list.
        first: Move,
        /// The later in the list.
        second: Move,
    },
    /// A held strand's side of a move cannot be told.
    HoldUnclear {
        /// The step of the move that passes the hand.
        step: usize,
        /// The move that passes the hand.
        passing: Move,
        /// The step that took the held strand up.
        taken_up: usize,
    },
    /// A strand is in the hand when the round ends.
    LeftInHand {
        /// The step that took it up.
        taken_up: usize,
    },
    /// The strands do not end on their start places, however the disc is turned.
    NotBack {
        /// Turn that fits best, in slots clockwise.
        turn: i32,
        /// A place that holds a strand and should not.
        stray: Place,
        /// A place that should hold a strand and does not.
        missing: Place,
    },
}

impl fmt::Display for BraidError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence(Numbering::Clockwise))
    }
}

impl std::error::Error for BraidError {}

impl BraidError {
    /// What is wrong and what to do, places as the maker numbers them.
    pub fn sentence(&self, numbering: Numbering) -> String {
        let slots = self.slots;
        let named = |place: Place| numbering.phrase(place, slots);
        let short = |m: Move| [m.from, m.to].map(|place| numbering.label(place, slots));
        match self.fault {
            Fault::OddSlots => odd_slots(slots),
            Fault::FewSlots { least } => few_slots(slots, least),
            Fault::ManySlots { most } => many_slots(slots, most),
            Fault::FewStrands { strands, least } => few_strands(strands, least),
            Fault::ManyStrands { strands, most } => many_strands(strands, most),
            Fault::NoMoves => no_moves(),
            Fault::ManyMoves { most } => many_moves(most),
            Fault::StartOffDisc { place } => start_off_disc(&named(place), slots),
            Fault::StartInHand => start_in_hand(),
            Fault::StartTwice { place } => start_twice(&named(place)),
            Fault::OffDisc { step, place } => off_disc(step, &named(place), slots),
            Fault::Empty { step, place } => empty(step, place, &named(place)),
            Fault::Taken { step, place } => taken(step, &named(place)),
            Fault::HandFull { step, taken_up } => hand_full(step, taken_up),
            Fault::Nowhere { step, place } => nowhere(step, &named(place)),
            Fault::Interleave {
                step,
                first,
                second,
            } => interleave(step, &short(first), &short(second)),
            Fault::HoldUnclear {
                step,
                passing,
                taken_up,
            } => hold_unclear(step, &short(passing), taken_up),
            Fault::LeftInHand { taken_up } => left_in_hand(taken_up),
            Fault::NotBack {
                turn,
                stray,
                missing,
            } => not_back(turn, &named(stray), &named(missing)),
        }
    }
}

fn odd_slots(slots: u16) -> String {
    format!("The disc has {slots} slots, but the number must be even: add one or take one away.")
}

fn few_slots(slots: u16, least: u16) -> String {
    format!("A disc of {slots} slots is too small: give it {least} or more.")
}

fn many_slots(slots: u16, most: u16) -> String {
    format!("A disc of {slots} slots is too large: give it {most} or fewer.")
}

fn few_strands(strands: usize, least: usize) -> String {
    let they = match strands {
        0 => "No strand does".to_owned(),
        1 => "One strand does".to_owned(),
        _ => format!("{strands} strands do"),
    };
    format!("{they} not make a braid: lay at least {least} on the disc.")
}

fn many_strands(strands: usize, most: usize) -> String {
    format!("{strands} strands are too many to work: lay {most} or fewer on the disc.")
}

fn no_moves() -> String {
    "There are no moves yet: carry a strand from its slot to a free one.".to_owned()
}

fn many_moves(most: usize) -> String {
    format!("A round of more than {most} moves is too long: write down one round only.")
}

fn start_off_disc(place: &str, slots: u16) -> String {
    format!(
        "A strand starts in {place}, but the disc has slots 1 to {slots}: move it to one of them."
    )
}

fn start_in_hand() -> String {
    "A strand starts in the hand: lay it in a slot at the start.".to_owned()
}

fn start_twice(place: &str) -> String {
    format!("Two strands start in {place}: move one of them to a free slot.")
}

fn off_disc(step: usize, place: &str, slots: u16) -> String {
    format!(
        "Step {step} names {place}, but the disc has slots 1 to {slots}: correct the move \
         or give the disc more slots."
    )
}

fn empty(step: usize, place: Place, named: &str) -> String {
    if place == Place::Hand {
        return format!(
            "Step {step} lays a strand down, but the hand is empty: take one up first."
        );
    }
    format!(
        "Step {step} lifts a strand from {named}, but none is there: correct this move \
         or one before it."
    )
}

fn taken(step: usize, place: &str) -> String {
    format!(
        "Step {step} lays a strand in {place}, where one rests already: lift that one first \
         or choose a free slot."
    )
}

fn hand_full(step: usize, taken_up: usize) -> String {
    format!(
        "Step {step} takes a second strand into the hand while the one of step {taken_up} \
         is still held: lay that one down first."
    )
}

fn nowhere(step: usize, place: &str) -> String {
    format!("Step {step} has a move that ends where it begins, in {place}: give it another goal.")
}

fn interleave(step: usize, first: &[String; 2], second: &[String; 2]) -> String {
    let [a, b] = first;
    let [c, d] = second;
    format!(
        "In step {step} the moves {a} to {b} and {c} to {d} cross, so it matters which goes \
         first: make two steps of them, in the order of your hands."
    )
}

fn hold_unclear(step: usize, passing: &[String; 2], taken_up: usize) -> String {
    let [a, b] = passing;
    format!(
        "In step {step} it cannot be told on which side the move {a} to {b} passes the strand \
         held since step {taken_up}: lay that strand between two slots instead of holding it."
    )
}

fn left_in_hand(taken_up: usize) -> String {
    format!(
        "The strand taken up in step {taken_up} is still in the hand when the round ends: \
         add a move that lays it down."
    )
}

fn not_back(turn: i32, stray: &str, missing: &str) -> String {
    let turned = match turn {
        0 => String::new(),
        _ => format!(", even with the disc turned by {}", slots_turned(turn)),
    };
    format!(
        "The round does not come back to its start{turned}: {stray} holds a strand and \
         {missing} holds none; correct a move, or add one that carries the strand there."
    )
}

fn slots_turned(turn: i32) -> String {
    let count = turn.unsigned_abs();
    let noun = if count == 1 { "slot" } else { "slots" };
    let way = if turn > 0 {
        "clockwise"
    } else {
        "anticlockwise"
    };
    format!("{count} {noun} {way}")
}
