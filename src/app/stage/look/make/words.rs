//! A step as the maker reads and writes it: "17 to 31", in the maker's numbers.

use crate::structure::{Move, MoveList, Numbering, Place, Step};

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
}
