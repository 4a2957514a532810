//! A step as the maker reads and writes it: "17 to 31", in the maker's numbers.

use crate::structure::{Move, MoveList, Numbering, Place, Plate, Step, TextError};

/// A step in words.
pub(super) fn step(list: &MoveList, step: &Step, numbering: Numbering) -> String {
    let label = |place| list.label(place, numbering);
    if let Some((a, b, way)) = step.as_exchange(list.slots) {
        return format!("{} and {} change, {}", label(a), label(b), way.word());
    }
    let moves: Vec<String> = step
        .moves
        .iter()
        .map(|&one| carried(list, one, numbering))
        .collect();
    match moves.is_empty() {
        true => "rest".to_owned(),
        false => moves.join(" and "),
    }
}

/// Nobody owns a disc with half slots: what is laid between two is held there.
fn carried(list: &MoveList, one: Move, numbering: Numbering) -> String {
    let label = |place| list.label(place, numbering);
    let held = |place| matches!(place, Place::Rim(half) if half % 2 == 1);
    match (one.from, one.to) {
        (Place::Hand, to) => format!("the held one to {}", label(to)),
        (from, Place::Hand) => format!("hold {} in the hand", label(from)),
        (from, to) if held(from) => format!("the held one, {}, to {}", label(from), label(to)),
        (from, to) if held(to) => format!("hold {} at {} in the hand", label(from), label(to)),
        (from, to) => format!("{} to {}", label(from), label(to)),
    }
}

/// A step as it is written into its row; [`read`] reads it again.
pub(super) fn typed(list: &MoveList, step: &Step, numbering: Numbering) -> String {
    let label = |place| list.label(place, numbering);
    if let Some((a, b, way)) = step.as_exchange(list.slots) {
        return format!("{} <> {} {}", label(a), label(b), way.word());
    }
    let moves = step.moves.iter();
    let moves: Vec<String> = moves
        .map(|one| format!("{} to {}", label(one.from), label(one.to)))
        .collect();
    match moves.is_empty() {
        true => "rest".to_owned(),
        false => moves.join(" and "),
    }
}

/// A step from what was written: as [`typed`] gives it, or as in the text form,
/// in the maker's numbers.
pub(super) fn read(list: &MoveList, text: &str, numbering: Numbering) -> Result<Step, String> {
    let exchanged = text.to_ascii_lowercase().replace("<>", " ⇄ ");
    let spaced = [">", "&", "to"].iter().fold(exchanged, |text, sign| {
        text.replace(sign, &format!(" {sign} "))
    });
    let line: Vec<String> = spaced
        .split_whitespace()
        .map(|word| clockwise(list, word, numbering))
        .collect();
    let (plate, start) = match list.plate {
        Plate::Square => ("plate square\n", "N1"),
        Plate::Disc => ("", "1"),
    };
    let head = format!("{plate}slots {}\nstart {start}", list.slots);
    let text = format!("{head}\n{}", line.join(" "));
    let read: MoveList = text.parse().map_err(|error: TextError| error.what)?;
    let Ok([step]) = <[Step; 1]>::try_from(read.steps) else {
        return Err("one step, such as 17 to 31".to_owned());
    };
    let places = step.moves.iter().flat_map(|one| [one.from, one.to]);
    match places.into_iter().find(|place| !place.is_on(list.slots)) {
        Some(place) => Err(format!(
            "the disc has no {}",
            numbering.phrase(place, list.slots)
        )),
        None => Ok(step),
    }
}

/// A word of a step in the text form, its place numbered clockwise.
fn clockwise(list: &MoveList, word: &str, numbering: Numbering) -> String {
    let word = word.trim_end_matches(',');
    match word.to_ascii_lowercase().as_str() {
        "to" | "→" => return ">".to_owned(),
        "and" => return "&".to_owned(),
        "⇄" => return "<>".to_owned(),
        _ => {}
    }
    let halves = 2..=2 * list.slots.min(u16::MAX / 2 - 1) + 1;
    let place = halves
        .map(Place::Rim)
        .find(|&place| list.label(place, numbering).eq_ignore_ascii_case(word));
    match place {
        Some(place) => list.label(place, Numbering::Clockwise),
        None => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Way;

    fn said(moves: &[(Place, Place)], numbering: Numbering) -> String {
        let list = MoveList {
            slots: 32,
            ..MoveList::default()
        };
        let moves = moves.iter().map(|&one| one.into()).collect();
        step(&list, &Step { moves }, numbering)
    }

    #[test]
    fn steps_are_said_in_the_makers_own_numbers() {
        let one = (Place::slot(17), Place::slot(31));
        assert_eq!(said(&[one], Numbering::Clockwise), "17 to 31");
        assert_eq!(said(&[one], Numbering::Anticlockwise), "16 to 2");
        let other = (Place::slot(1), Place::slot(15));
        assert_eq!(
            said(&[one, other], Numbering::Clockwise),
            "17 to 31 and 1 to 15"
        );
        assert_eq!(said(&[], Numbering::Clockwise), "rest");
    }

    #[test]
    fn what_lies_between_two_slots_is_held_in_the_hand() {
        let (slot, half) = (Place::slot(1), Place::Rim(33));
        let said = |from, to| said(&[(from, to)], Numbering::Clockwise);
        assert_eq!(said(slot, Place::Hand), "hold 1 in the hand");
        assert_eq!(said(Place::Hand, slot), "the held one to 1");
        assert_eq!(said(slot, half), "hold 1 at 16.5 in the hand");
        assert_eq!(said(half, slot), "the held one, 16.5, to 1");
    }

    #[test]
    fn two_strands_that_change_places_are_said_at_once() {
        let list = MoveList {
            slots: 32,
            ..MoveList::default()
        };
        let turn = Step::exchange(Place::slot(1), Place::slot(17), Way::Clockwise, 32);
        let said = step(&list, &turn, Numbering::Clockwise);
        assert_eq!(said, "1 and 17 change, clockwise");
    }

    #[test]
    fn a_step_is_read_as_it_is_written_whatever_the_numbering() {
        let list = MoveList {
            slots: 32,
            ..MoveList::default()
        };
        let two = Step {
            moves: vec![
                (Place::slot(17), Place::slot(31)).into(),
                (Place::slot(1), Place::Rim(31)).into(),
            ],
        };
        let steps = [
            Step::one(Place::slot(17), Place::Hand),
            Step::exchange(Place::slot(1), Place::slot(17), Way::Clockwise, 32),
            Step::default(),
            two,
        ];
        for numbering in [Numbering::Clockwise, Numbering::Anticlockwise] {
            for step in &steps {
                let text = typed(&list, step, numbering);
                assert_eq!(read(&list, &text, numbering).as_ref(), Ok(step), "{text}");
            }
        }
        for short in ["17>31", "17to31", " 17  TO 31"] {
            let step = Step::one(Place::slot(17), Place::slot(31));
            assert_eq!(read(&list, short, Numbering::Clockwise), Ok(step));
        }
    }

    #[test]
    fn what_is_no_step_says_why() {
        let list = MoveList {
            slots: 32,
            ..MoveList::default()
        };
        for text in [
            "17",
            "17 to",
            "17 to 99",
            "absurd",
            "17 to 31\n1 to 15",
            "again 1 on 8",
        ] {
            let said = read(&list, text, Numbering::Clockwise);
            assert!(said.is_err_and(|said| !said.is_empty()), "{text}");
        }
    }

    #[test]
    fn places_of_a_square_plate_are_typed_as_they_are_named() {
        let list = MoveList {
            plate: Plate::Square,
            slots: 16,
            ..MoveList::default()
        };
        let step = Step::one(Place::slot(1), Place::slot(7));
        for numbering in [Numbering::Clockwise, Numbering::Anticlockwise] {
            let text = typed(&list, &step, numbering);
            assert_eq!(read(&list, &text, numbering).as_ref(), Ok(&step), "{text}");
        }
    }
}
