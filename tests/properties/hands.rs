//! What two hands may do together, and what is said of lists at fault.

use plaitwright::structure::{Braid, Fault, Move, MoveList, Numbering, Plate, Step};
use plaitwright::topology::artin;
use proptest::prelude::*;

use super::curves::same_braid;
use super::{config, list_with_a_hold, sound_list};

/// Two moves of different strands as the only moves of a round, then all home.
fn both_orders(list: &MoveList) -> Option<[MoveList; 2]> {
    let [a, b] = [list.steps.first()?, list.steps.get(1)?].map(|step| step.moves[0]);
    let apart = |m: Move, other: Move| m.from != other.to && m.to != other.from;
    if a.to == b.from || !apart(a, b) {
        return None;
    }
    let back = |m: Move| Step::one(m.to, m.from);
    let order = |first: Move, second: Move| MoveList {
        steps: vec![
            Step::one(first.from, first.to),
            Step::one(second.from, second.to),
            back(a),
            back(b),
        ],
        ..list.clone()
    };
    Some([order(a, b), order(b, a)])
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn a_text_is_read_as_the_list_that_was_written(
        list in prop_oneof![sound_list(), list_with_a_hold()],
        turn in prop::option::of(-40i32..=40),
        square in any::<bool>(),
        again in prop::option::of((1usize..4, -9i32..9, 1usize..4)),
    ) {
        let plate = if square { Plate::Square } else { Plate::Disc };
        let mut list = MoveList { plate, turn, ..list };
        if let Some((count, on, times)) = again {
            let run: Vec<Step> = list.steps.iter().take(count).cloned().collect();
            for time in 1..=times {
                let on = on * i32::try_from(time).expect("few");
                let turned = MoveList { steps: run.clone(), ..list.clone() }.turned(on);
                list.steps.extend(turned.steps);
            }
        }
        let text = list.to_string();
        prop_assert_eq!(text.parse::<MoveList>(), Ok(list), "{}", text);
    }

    #[test]
    fn any_text_is_read_or_refused_with_its_place(
        text in "(slots|start|again|turn|rest|plate|square|on|times|clockwise|<>|[ \n0-9.>&NESW#-]){0,60}",
    ) {
        match text.parse::<MoveList>() {
            Ok(list) => prop_assert_eq!(list.to_string().parse::<MoveList>(), Ok(list)),
            Err(error) => prop_assert!(error.line >= 1 && error.column >= 1 && !error.what.is_empty()),
        }
    }

    /// Rule for two hands: lines that do not cross may be worked in either
    /// order, lines that cross may not.
    #[test]
    fn two_hands_may_move_together_if_and_only_if_the_order_makes_no_difference(
        list in sound_list(),
    ) {
        if let Some([one, other]) = both_orders(&list) {
            let word = |list: &MoveList| artin(&Braid::new(list).expect("goes home"));
            let mut together = one.clone();
            let second = together.steps.remove(1);
            together.steps[0].moves.extend(second.moves);
            let is_same = same_braid(&word(&one), &word(&other), list.start.len());
            match Braid::new(&together).map_err(|error| error.fault) {
                Ok(braid) => {
                    prop_assert!(is_same);
                    prop_assert!(same_braid(&artin(&braid), &word(&one), list.start.len()));
                }
                Err(Fault::Interleave { step: 1, .. }) => prop_assert!(!is_same),
                Err(other) => prop_assert!(false, "{other:?}"),
            }
        }
    }

    #[test]
    fn faults_name_steps_places_and_strands_that_are_there_and_repairs_are_braids(
        list in sound_list(),
        step in any::<prop::sample::Index>(),
        off in prop_oneof![Just(-3), Just(-2), Just(2), Just(3)],
        turn in prop::option::of(-3i32..=3),
        together in any::<bool>(),
    ) {
        let mut list = MoveList { turn, ..list };
        let at = step.index(list.steps.len());
        let to = list.steps[at].moves[0].to;
        list.steps[at].moves[0].to = to.turned(off, list.slots);
        if together && at + 1 < list.steps.len() {
            let next = list.steps.remove(at + 1);
            list.steps[at].moves.extend(next.moves);
        }
        let faults = list.faults();
        prop_assert_eq!(Braid::new(&list).err(), faults.first().cloned());
        for error in &faults {
            let fault = &error.fault;
            prop_assert!(!fault.kind().is_empty());
            prop_assert!(fault.strands().iter().all(|&strand| strand < list.start.len()));
            prop_assert!(fault.places().iter().all(|place| place.is_on(list.slots)));
            prop_assert!(fault.step().is_none_or(|step| step >= 1));
            for repair in error.repairs(&list) {
                prop_assert!(repair.list.faults().is_empty());
                prop_assert!(repair.sentence(Numbering::Clockwise).ends_with('.'));
            }
        }
    }
}
