//! How the maker's disc is numbered.

use serde::{Deserialize, Serialize};

use super::plate::SIDES;
use super::{MoveList, Place, Plate};

/// Which way the maker's disc is numbered, seen from above.
///
/// Either way the mark lies between the last slot and slot 1. The sides of a
/// square plate are numbered each by itself, that way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Numbering {
    /// 1, 2, 3 … clockwise.
    #[default]
    Clockwise,
    /// 1, 2, 3 … anticlockwise.
    Anticlockwise,
}

impl Numbering {
    /// The place renamed between the maker's numbers and clockwise ones; the
    /// same in both directions.
    pub fn renumbered(self, place: Place, slots: u16) -> Place {
        match self {
            Self::Clockwise => place,
            Self::Anticlockwise => place.mirrored(slots),
        }
    }

    /// The place of a disc as the maker numbers it: `17`, `16.5` or `hand`.
    pub fn label(self, place: Place, slots: u16) -> String {
        match self.renumbered(place, slots) {
            Place::Rim(half) => halves(half),
            Place::Hand => "hand".to_owned(),
        }
    }

    /// The place of a disc in words, to stand in a sentence. Between slots there
    /// is nothing to lay a strand in: it is held there.
    pub fn phrase(self, place: Place, slots: u16) -> String {
        match self.renumbered(place, slots) {
            Place::Rim(half) if half % 2 == 0 => format!("slot {}", half / 2),
            Place::Rim(half) => {
                let before = half / 2;
                let after = if before == slots { 1 } else { before + 1 };
                format!("the hand between slots {before} and {after}")
            }
            Place::Hand => "the hand".to_owned(),
        }
    }

    /// [`Self::label`] on a disc; on a square plate side and number, `N3`.
    pub fn label_on(self, plate: Plate, place: Place, slots: u16) -> String {
        match (plate, place) {
            (Plate::Square, Place::Rim(half)) if has_sides(place, slots) => {
                let (side, half) = self.side_and_half(half, slots);
                format!("{}{}", SIDES[side], halves(half))
            }
            _ => self.label(place, slots),
        }
    }

    /// [`Self::phrase`] on a disc; on a square plate `place N3`.
    pub fn phrase_on(self, plate: Plate, place: Place, slots: u16) -> String {
        match (plate, place) {
            (Plate::Square, Place::Rim(half)) if has_sides(place, slots) => {
                let (side, half) = self.side_and_half(half, slots);
                let (side, last) = (SIDES[side], slots / 4);
                match (half % 2, half / 2) {
                    (0, number) => format!("place {side}{number}"),
                    (_, 0) => format!("the hand at the corner before {side}1"),
                    (_, number) if number == last => {
                        format!("the hand at the corner after {side}{last}")
                    }
                    (_, number) => {
                        format!("the hand between {side}{number} and {side}{}", number + 1)
                    }
                }
            }
            _ => self.phrase(place, slots),
        }
    }

    /// Side of a square plate and half slots on it as the maker numbers them.
    fn side_and_half(self, half: u16, slots: u16) -> (usize, u16) {
        let (side, on) = Plate::side_and_half(half, slots);
        match self {
            Self::Clockwise => (side, on),
            Self::Anticlockwise => (side, slots / 2 + 2 - on),
        }
    }
}

impl MoveList {
    /// A place of the list as the maker numbers it.
    pub fn label(&self, place: Place, numbering: Numbering) -> String {
        numbering.label_on(self.plate, place, self.slots)
    }
}

/// Whether a square plate has equal sides, and the place on one of them.
fn has_sides(place: Place, slots: u16) -> bool {
    slots.is_multiple_of(4) && place.is_on(slots)
}

/// `17` or `16.5`.
fn halves(half: u16) -> String {
    match half % 2 {
        0 => (half / 2).to_string(),
        _ => format!("{}.5", half / 2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_follow_the_makers_numbering() {
        let between = Place::Rim(2 * 16 + 1);
        assert_eq!(Numbering::Clockwise.label(Place::slot(17), 32), "17");
        assert_eq!(Numbering::Anticlockwise.label(Place::slot(17), 32), "16");
        assert_eq!(Numbering::Clockwise.label(between, 32), "16.5");
        assert_eq!(Numbering::Anticlockwise.label(between, 32), "16.5");
        assert_eq!(Numbering::Anticlockwise.label(Place::Hand, 32), "hand");
    }

    #[test]
    fn the_place_at_the_mark_lies_between_the_last_slot_and_the_first() {
        for numbering in [Numbering::Clockwise, Numbering::Anticlockwise] {
            let phrase = numbering.phrase(Place::Rim(65), 32);
            assert_eq!(phrase, "the hand between slots 32 and 1");
        }
    }

    #[test]
    fn renumbering_twice_changes_nothing() {
        for half in 2..=65 {
            let place = Place::Rim(half);
            let there = Numbering::Anticlockwise.renumbered(place, 32);
            assert_eq!(Numbering::Anticlockwise.renumbered(there, 32), place);
        }
    }

    #[test]
    fn places_of_a_square_plate_have_side_and_number() {
        let label =
            |numbering: Numbering, half| numbering.label_on(Plate::Square, Place::Rim(half), 32);
        assert_eq!(label(Numbering::Clockwise, 2 * 3), "N3");
        assert_eq!(label(Numbering::Clockwise, 2 * 9), "E1");
        assert_eq!(label(Numbering::Clockwise, 2 * 32 + 1), "W8.5");
        assert_eq!(label(Numbering::Anticlockwise, 2 * 3), "N6");
        assert_eq!(label(Numbering::Anticlockwise, 2 * 9), "E8");
        assert_eq!(label(Numbering::Anticlockwise, 2 * 32 + 1), "W0.5");
        let phrase = |half| Numbering::Clockwise.phrase_on(Plate::Square, Place::Rim(half), 32);
        assert_eq!(phrase(2 * 17), "place S1");
        assert_eq!(phrase(2 * 16 + 1), "the hand at the corner after E8");
        assert_eq!(phrase(2 * 17 + 1), "the hand between S1 and S2");
    }
}
