//! How a place is written in a file: `17`, `16.5`, `"hand"`.

use std::fmt;

use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::Place;

/// The highest slot that can be written; far above what any disc has.
const HIGHEST_SLOT: u16 = u16::MAX / 2 - 1;

impl Serialize for Place {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match *self {
            Self::Rim(half) if half % 2 == 0 => serializer.serialize_u16(half / 2),
            Self::Rim(half) => serializer.serialize_f64(f64::from(half) / 2.0),
            Self::Hand => serializer.serialize_str("hand"),
        }
    }
}

impl<'de> Deserialize<'de> for Place {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PlaceVisitor)
    }
}

struct PlaceVisitor;

impl Visitor<'_> for PlaceVisitor {
    type Value = Place;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a slot such as 17, a place between slots such as 16.5, or \"hand\"")
    }

    fn visit_u64<E: Error>(self, slot: u64) -> Result<Place, E> {
        match u16::try_from(slot) {
            Ok(slot @ 1..=HIGHEST_SLOT) => Ok(Place::slot(slot)),
            _ => Err(E::invalid_value(Unexpected::Unsigned(slot), &self)),
        }
    }

    fn visit_i64<E: Error>(self, slot: i64) -> Result<Place, E> {
        match u64::try_from(slot) {
            Ok(slot) => self.visit_u64(slot),
            Err(_) => Err(E::invalid_value(Unexpected::Signed(slot), &self)),
        }
    }

    fn visit_f64<E: Error>(self, slot: f64) -> Result<Place, E> {
        let halves = slot * 2.0;
        let highest = f64::from(2 * HIGHEST_SLOT + 1);
        if (2.0..=highest).contains(&halves) && halves.fract() == 0.0 {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a whole number between 2 and u16::MAX, see the line above"
            )]
            return Ok(Place::Rim(halves as u16));
        }
        Err(E::invalid_value(Unexpected::Float(slot), &self))
    }

    fn visit_str<E: Error>(self, word: &str) -> Result<Place, E> {
        match word {
            "hand" => Ok(Place::Hand),
            _ => Err(E::invalid_value(Unexpected::Str(word), &self)),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::structure::{Move, MoveList, Place, Plate, Step};

    fn list() -> MoveList {
        let carried = |from, to| Step {
            moves: vec![Move { from, to }],
        };
        MoveList {
            slots: 32,
            start: vec![Place::slot(1), Place::slot(9), Place::slot(17)],
            steps: vec![
                carried(Place::slot(17), Place::Rim(37)),
                carried(Place::Rim(37), Place::Hand),
            ],
            ..MoveList::default()
        }
    }

    #[test]
    fn a_list_is_written_as_a_maker_would_write_it() {
        let text = ron::to_string(&list()).expect("plain data");
        assert_eq!(
            text,
            "(slots:32,start:[1,9,17],steps:[[(17,18.5)],[(18.5,\"hand\")]])"
        );
        assert_eq!(ron::from_str::<MoveList>(&text).expect("own text"), list());
    }

    #[test]
    fn a_square_plate_and_a_given_turn_are_written_and_read_again() {
        let list = MoveList {
            plate: Plate::Square,
            turn: Some(-2),
            ..list()
        };
        let text = ron::to_string(&list).expect("plain data");
        assert!(text.starts_with("(plate:Square,slots:32,"), "{text}");
        assert!(text.ends_with(",turn:Some(-2))"), "{text}");
        assert_eq!(ron::from_str::<MoveList>(&text).expect("own text"), list);
    }

    #[test]
    fn what_is_not_a_place_is_refused_in_words() {
        for wrong in [
            "0", "-3", "0.5", "16.25", "70000", "1e300", "NaN", "inf", "\"foot\"",
        ] {
            let said = ron::from_str::<Place>(wrong).expect_err(wrong).to_string();
            assert!(said.contains("a slot such as 17"), "{wrong}: {said}");
        }
        assert!(ron::from_str::<Place>("true").is_err());
    }

    #[test]
    fn the_highest_places_are_read_without_overflow() {
        assert_eq!(ron::from_str::<Place>("32766"), Ok(Place::Rim(65532)));
        assert_eq!(ron::from_str::<Place>("32766.5"), Ok(Place::Rim(65533)));
        assert!(ron::from_str::<Place>("32767").is_err());
    }

    #[test]
    fn an_unknown_field_is_refused_by_name() {
        let text = "(slots: 32, start: [], steps: [], colour: 3)";
        let said = ron::from_str::<MoveList>(text)
            .expect_err("unknown field")
            .to_string();
        assert!(said.contains("colour"), "{said}");
    }
}
