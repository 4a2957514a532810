//! What two hands may do together, and what is said of lists at fault.

use plaitwright::structure::{Braid, Fault, Move, MoveList, Numbering, Place, Plate, Rework, Step};
use plaitwright::topology::{artin, crossings, writhe};
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

/// Whether a strand is ever laid on the mark itself: there it counts before slot
/// 1 on one disc, behind the last slot on the other, and the word is another one
/// of the same braid.
fn uses_the_mark(list: &MoveList) -> bool {
    let mark = Place::Rim(2 * list.slots + 1);
    let ends = list.moves().flat_map(|(_, one)| [one.from, one.to]);
    ends.chain(list.start.iter().copied())
        .any(|place| place == mark)
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
    fn doubled_and_every_other_strand_out_again_is_the_same_word(list in sound_list()) {
        let word = |list: &MoveList| artin(&Braid::new(list).expect("a braid"));
        let doubled = Rework::Double.apply(&list).expect("small").list;
        let back = Rework::EveryOtherOut.apply(&doubled).expect("small").list;
        if !uses_the_mark(&list) {
            prop_assert_eq!(word(&back), word(&list));
        }
        prop_assert_eq!(writhe(&word(&back)), writhe(&word(&list)));
    }

    #[test]
    fn a_list_spread_to_three_times_the_slots_is_the_same_word(list in sound_list()) {
        let word = |list: &MoveList| artin(&Braid::new(list).expect("a braid"));
        let wide = Rework::Spread(3 * list.slots).apply(&list).expect("exact").list;
        if !uses_the_mark(&list) {
            prop_assert_eq!(word(&wide), word(&list));
        }
        let back = Rework::Spread(list.slots).apply(&wide).expect("exact").list;
        prop_assert_eq!(back, list);
    }

    #[test]
    fn what_is_left_when_strands_are_taken_out_crosses_as_it_did(
        list in sound_list(),
        out in prop::collection::vec(any::<prop::sample::Index>(), 1..3),
    ) {
        let count = list.start.len();
        let out: Vec<usize> = out.iter().map(|index| index.index(count)).collect();
        if let Ok(left) = Rework::Out(out).apply(&list) {
            let (all, few) = (Braid::new(&list).expect("a braid"), Braid::new(&left.list).expect("a braid"));
            let rounds = (1..).find(|&rounds| {
                let at = all.places_after(rounds * all.lifts().len());
                left.strands.iter().all(|&s| left.strands.iter().any(|&t| at[s] == list.start[t]))
            }).expect("some round");
            let crossed = crossings(&artin(&all).repeat(rounds), count);
            let order = all.order_after(0);
            let is_kept = |place: usize| left.strands.contains(&order[place]);
            let pairs = (0..count).flat_map(|a| (0..a).map(move |b| (a, b)));
            let sum: i32 = pairs
                .filter(|&(a, b)| is_kept(a) && is_kept(b))
                .map(|(a, b)| crossed[a][b])
                .sum();
            prop_assert_eq!(writhe(&artin(&few)), sum);
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
                let left = repair.list.faults().len();
                let may_be_left = fault.kind() == "order needed" && left < faults.len();
                prop_assert!(left == 0 || may_be_left);
                prop_assert!(repair.sentence(Numbering::Clockwise).ends_with('.'));
            }
        }
    }
}
