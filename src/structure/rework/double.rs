//! Two strands side by side for each.
//!
//! Both are carried over the same strands and not over each other: the one that
//! goes ahead first, the other after it, so on the surface of the cord they lie
//! flat beside one another all along. Which one goes ahead follows from the
//! shorter way along the slots; straight across it is the clockwise one.

use super::{ReworkError, Reworked, with_turn};
use crate::structure::check::{MOST_SLOTS, MOST_STRANDS};
use crate::structure::{Braid, Move, MoveList, Place, Step};

/// The doubled list, on a disc with twice as many slots, or four times if places
/// between slots are used. Strand `i` becomes strands `2 i` and `2 i + 1`.
pub(super) fn doubled(braid: &Braid) -> Result<Reworked, ReworkError> {
    let list = braid.moves();
    check(list)?;
    let times = if uses_halves(list) { 4 } else { 2 };
    let slots = u32::from(list.slots) * u32::from(times);
    let slots = u16::try_from(slots)
        .ok()
        .filter(|&slots| slots <= MOST_SLOTS)
        .ok_or(ReworkError::ManySlots(slots))?;
    let pair = |place: Place| pair(place, times, slots);
    let doubled = MoveList {
        slots,
        start: list.start.iter().flat_map(|&place| pair(place)).collect(),
        steps: list
            .steps
            .iter()
            .flat_map(|step| both(step, list.slots, pair))
            .collect(),
        ..list.clone()
    };
    Ok(Reworked {
        list: with_turn(doubled, braid.turn() * i32::from(times)),
        strands: (0..2 * list.start.len()).map(|strand| strand / 2).collect(),
    })
}

fn check(list: &MoveList) -> Result<(), ReworkError> {
    let strands = 2 * list.start.len();
    if strands > MOST_STRANDS {
        return Err(ReworkError::ManyStrands(strands));
    }
    let held = list.moves().find(|(_, one)| one.to == Place::Hand);
    match held {
        Some((step, _)) => Err(ReworkError::Held { step }),
        None => Ok(()),
    }
}

fn uses_halves(list: &MoveList) -> bool {
    let is_half = |place: &Place| matches!(place, Place::Rim(half) if half % 2 == 1);
    let ends = list.moves().flat_map(|(_, one)| [one.from, one.to]);
    ends.chain(list.start.iter().copied())
        .any(|place| is_half(&place))
}

/// The two slots of the larger disc that stand for a place, clockwise.
fn pair(place: Place, times: u16, slots: u16) -> [Place; 2] {
    match place {
        Place::Rim(half) => {
            let first = Place::Rim(times * (half - 1));
            [first, first.turned(2, slots)]
        }
        Place::Hand => [Place::Hand; 2],
    }
}

/// The steps that make a step with both strands of every pair.
fn both(step: &Step, slots: u16, pair: impl Fn(Place) -> [Place; 2]) -> Vec<Step> {
    let (ahead, after): (Vec<Move>, Vec<Move>) = step
        .moves
        .iter()
        .map(|one| {
            let ([a, b], [c, d]) = (pair(one.from), pair(one.to));
            let (first, second) = (Move::from((a, c)), Move::from((b, d)));
            if is_clockwise(*one, slots) {
                (second, first)
            } else {
                (first, second)
            }
        })
        .unzip();
    if ends_apart(step) {
        return [ahead, after].map(|moves| Step { moves }).into();
    }
    let one_by_one = ahead.into_iter().zip(after).flat_map(|(a, b)| [a, b]);
    one_by_one.map(|one| Step { moves: vec![one] }).collect()
}

/// Whether the shorter way along the slots is clockwise.
fn is_clockwise(one: Move, slots: u16) -> bool {
    let (Place::Rim(from), Place::Rim(to)) = (one.from, one.to) else {
        return true;
    };
    let round = 2 * i32::from(slots);
    (i32::from(to) - i32::from(from)).rem_euclid(round) <= i32::from(slots)
}

/// Whether no place is used twice in the step.
fn ends_apart(step: &Step) -> bool {
    let ends: Vec<Place> = step.moves.iter().flat_map(|m| [m.from, m.to]).collect();
    (1..ends.len()).all(|at| !ends[..at].contains(&ends[at]))
}

#[cfg(test)]
mod tests {
    use crate::structure::{Braid, MoveList, Rework, ReworkError, shelf};

    #[test]
    fn every_list_of_the_shelf_up_to_sixteen_strands_doubles_to_a_braid() {
        let small = |s: &&crate::structure::Structure| s.strands() <= 16 && s.moves.slots == 32;
        for structure in shelf().iter().filter(small) {
            let made = Rework::Double.apply(&structure.moves).expect("possible");
            let (one, two) = (
                Braid::new(&structure.moves).expect("a braid"),
                Braid::new(&made.list).expect("a braid"),
            );
            assert_eq!(two.lifts().len(), 2 * one.lifts().len());
            let both = |&role: &usize| [2 * role, 2 * role + 1];
            let expected: Vec<usize> = one.becomes().iter().flat_map(both).collect();
            assert_eq!(two.becomes(), expected, "{}", structure.name);
        }
    }

    #[test]
    fn every_other_strand_out_again_gives_the_list_back() {
        for structure in shelf().iter().filter(|s| s.strands() <= 16) {
            let doubled = Rework::Double.apply(&structure.moves).expect("possible");
            if doubled.list.slots != 2 * structure.moves.slots {
                continue;
            }
            let half = Rework::EveryOtherOut
                .apply(&doubled.list)
                .expect("possible");
            let back = Rework::Spread(structure.moves.slots).apply(&half.list);
            let back = back.expect("half as many slots").list;
            assert_eq!(back, structure.moves, "{}", structure.name);
        }
    }

    #[test]
    fn two_strands_cannot_be_held_and_sixty_six_not_worked() {
        let list: MoveList = "slots 8\nstart 1 3 5\n1 > hand\nhand > 2\n2 > 1"
            .parse()
            .expect("a list");
        let said = Rework::Double.apply(&list).expect_err("held");
        assert_eq!(said, ReworkError::Held { step: 1 });
        let starts: Vec<String> = (1..=33).map(|slot| (2 * slot).to_string()).collect();
        let many = format!("slots 68\nstart {}\n2 > 3\n3 > 2", starts.join(" "));
        let many: MoveList = many.parse().expect("a list");
        let said = Rework::Double.apply(&many).expect_err("too many");
        assert_eq!(said, ReworkError::ManyStrands(66));
    }
}
