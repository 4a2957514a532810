//! How the maker's disc is numbered.

use serde::{Deserialize, Serialize};

use super::Place;

/// Which way the maker's disc is numbered, seen from above.
///
/// Either way the mark lies between the last slot and slot 1.
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

    /// The place as the maker numbers it: `17`, `16.5` or `hand`.
    pub fn label(self, place: Place, slots: u16) -> String {
        match self.renumbered(place, slots) {
            Place::Rim(half) if half % 2 == 0 => (half / 2).to_string(),
            Place::Rim(half) => format!("{}.5", half / 2),
            Place::Hand => "hand".to_owned(),
        }
    }

    /// The place in words, to stand in a sentence.
    pub fn phrase(self, place: Place, slots: u16) -> String {
        match self.renumbered(place, slots) {
            Place::Rim(half) if half % 2 == 0 => format!("slot {}", half / 2),
            Place::Rim(half) => {
                let before = half / 2;
                let after = if before == slots { 1 } else { before + 1 };
                format!("the place between slots {before} and {after}")
            }
            Place::Hand => "the hand".to_owned(),
        }
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
            assert_eq!(phrase, "the place between slots 32 and 1");
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
}
