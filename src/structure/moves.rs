//! Places on the disc and the moves between them.

use std::f64::consts::TAU;

use serde::{Deserialize, Serialize};

use super::Plate;

/// Where a strand can be.
///
/// Written as `17` for a slot, `16.5` for the place between slots 16 and 17,
/// `"hand"` for the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// On the rim, in half slots clockwise: slot `k` is `2 * k`, the place
    /// between slots `k` and `k + 1` is `2 * k + 1`. From 2 to `2 * slots + 1`.
    Rim(u16),
    /// Held in the hand above the middle of the disc.
    Hand,
}

impl Place {
    /// The place in slot `slot`, counted from 1; `slot` is at most 32767.
    pub fn slot(slot: u16) -> Self {
        Self::Rim(2 * slot)
    }

    /// Whether a disc of `slots` slots has this place; the hand is always there.
    pub fn is_on(self, slots: u16) -> bool {
        match self {
            Self::Rim(half) => half >= 2 && u32::from(half) <= 2 * u32::from(slots) + 1,
            Self::Hand => true,
        }
    }

    /// Angle on the disc, radians clockwise seen from above, from the mark
    /// between the last slot and slot 1; the hand has none.
    pub fn angle(self, slots: u16) -> Option<f64> {
        match self {
            Self::Rim(half) => Some(TAU * (f64::from(half) - 1.0) / (2.0 * f64::from(slots))),
            Self::Hand => None,
        }
    }

    /// The place as far on, `half_slots` half slots clockwise.
    ///
    /// The hand, and a place that the disc does not have, stay what they are.
    pub fn turned(self, half_slots: i32, slots: u16) -> Self {
        self.on_rim(slots, |half| half + i64::from(half_slots))
    }

    /// The place as a mirror shows it: slot `k` becomes `slots + 1 - k`.
    ///
    /// The hand, and a place that the disc does not have, stay what they are.
    pub fn mirrored(self, slots: u16) -> Self {
        self.on_rim(slots, |half| 2 * i64::from(slots) + 2 - half)
    }

    fn on_rim(self, slots: u16, to: impl Fn(i64) -> i64) -> Self {
        match self {
            Self::Rim(half) if self.is_on(slots) => {
                let round = (to(i64::from(half)) - 2).rem_euclid(2 * i64::from(slots)) + 2;
                u16::try_from(round).map_or(self, Self::Rim)
            }
            _ => self,
        }
    }
}

/// One strand carried from a place to a place, over all that rests.
///
/// Written as a pair, `(17, 31)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(from = "(Place, Place)", into = "(Place, Place)")]
pub struct Move {
    /// Where the strand is taken up.
    pub from: Place,
    /// Where it is laid down.
    pub to: Place,
}

impl From<(Place, Place)> for Move {
    fn from((from, to): (Place, Place)) -> Self {
        Self { from, to }
    }
}

impl From<Move> for (Place, Place) {
    fn from(carried: Move) -> Self {
        (carried.from, carried.to)
    }
}

/// Moves that the hands make together; one move in the plain case.
///
/// Written as a list of moves.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Step {
    /// The moves, in the order in which they count if it matters.
    pub moves: Vec<Move>,
}

/// Which way round, seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Way {
    /// As the hands of a clock.
    Clockwise,
    /// The other way.
    Anticlockwise,
}

impl Way {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }

    fn half_slot(self) -> i32 {
        match self {
            Self::Clockwise => 1,
            Self::Anticlockwise => -1,
        }
    }
}

impl Step {
    /// One strand carried.
    pub fn one(from: Place, to: Place) -> Self {
        Self {
            moves: vec![Move { from, to }],
        }
    }

    /// Two hands exchange the strands of two places, half a turn round one
    /// another.
    ///
    /// Clockwise the first strand passes on the anticlockwise side of the
    /// second. Told exactly, in single lifts: to half a slot beside the other
    /// place, the other strand across, and the half slot back.
    pub fn exchange(a: Place, b: Place, way: Way, slots: u16) -> Self {
        let beside = b.turned(-way.half_slot(), slots);
        let moves = [(a, beside), (b, a), (beside, b)];
        Self {
            moves: moves.map(Move::from).into(),
        }
    }

    /// The two places and the way, if the step is an exchange by two hands.
    pub fn as_exchange(&self, slots: u16) -> Option<(Place, Place, Way)> {
        let &[Move { from: a, .. }, Move { from: b, .. }, _] = self.moves.as_slice() else {
            return None;
        };
        [Way::Clockwise, Way::Anticlockwise]
            .into_iter()
            .find(|&way| *self == Self::exchange(a, b, way, slots))
            .map(|way| (a, b, way))
    }
}

/// A list of moves as written down, not yet checked.
///
/// Strand `i` of a design starts at `start[i]`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoveList {
    /// What the strands are laid on; a disc where a file does not say.
    #[serde(default, skip_serializing_if = "Plate::is_disc")]
    pub plate: Plate,
    /// Number of slots of the disc, even; of a square plate, in fours.
    pub slots: u16,
    /// Where each strand sits at the start.
    pub start: Vec<Place>,
    /// The steps of one round, in order.
    pub steps: Vec<Step>,
    /// Slots clockwise that the next round is worked further on; none for the
    /// smallest turn that brings the strands onto their start places.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<i32>,
}

impl MoveList {
    /// All moves of one round in order, each with its step counted from 1.
    pub fn moves(&self) -> impl Iterator<Item = (usize, Move)> + '_ {
        self.steps
            .iter()
            .enumerate()
            .flat_map(|(index, step)| step.moves.iter().map(move |&carried| (index + 1, carried)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turning_goes_round_past_the_last_slot() {
        assert_eq!(Place::slot(32).turned(2, 32), Place::slot(1));
        assert_eq!(Place::slot(1).turned(-1, 32), Place::Rim(65));
        assert_eq!(Place::Rim(65).turned(1, 32), Place::slot(1));
        assert_eq!(Place::Hand.turned(7, 32), Place::Hand);
    }

    #[test]
    fn a_mirror_swaps_the_sides_of_the_mark() {
        assert_eq!(Place::slot(1).mirrored(32), Place::slot(32));
        assert_eq!(Place::Rim(33).mirrored(32), Place::Rim(33));
        assert_eq!(Place::Rim(65).mirrored(32), Place::Rim(65));
    }

    #[test]
    fn an_exchange_is_known_again_with_its_way() {
        let (a, b) = (Place::slot(1), Place::slot(17));
        for way in [Way::Clockwise, Way::Anticlockwise] {
            let step = Step::exchange(a, b, way, 32);
            assert_eq!(step.as_exchange(32), Some((a, b, way)));
        }
        let clockwise = Step::exchange(a, b, Way::Clockwise, 32);
        assert_eq!(clockwise.moves[0].to, Place::Rim(33));
        assert_eq!(Step::one(a, b).as_exchange(32), None);
    }

    #[test]
    fn places_off_the_disc_are_left_alone() {
        assert_eq!(Place::slot(40).turned(2, 32), Place::slot(40));
        assert_eq!(Place::slot(1).turned(2, 0), Place::slot(1));
        assert!(!Place::Rim(66).is_on(32));
        assert!(!Place::Rim(1).is_on(32));
    }

    #[test]
    fn the_mark_lies_between_the_last_slot_and_the_first() {
        let last = Place::slot(32).angle(32).expect("on the rim");
        let first = Place::slot(1).angle(32).expect("on the rim");
        assert!((TAU - last - first).abs() < 1e-12);
        assert!((first - TAU / 64.0).abs() < 1e-12);
    }
}
