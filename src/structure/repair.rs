//! Changes that would make a braid of a list at fault.
//!
//! Offered is only what is exact: each repair is worked out, and dropped unless
//! the whole list is a braid afterwards. A list with two faults of its own gets
//! none, for no single change mends it. Only where the order of two moves was
//! missing may other faults be left: that answer does not hang on them.

mod misnamed;

use misnamed::{any_start, anywhere, landing, one_off, other_starts};

use super::check::work;
use super::closing::{strays, turns};
use super::sentence::slots_turned;
use super::{BraidError, Fault, Move, MoveList, Numbering, Place, Step, Way};

/// How many moves nearest to the fault are tried one place off; our guess at
/// more than a maker looks over.
const MOVES_TRIED: usize = 128;
/// Most repairs offered for one fault; our guess at what one can choose from.
const MOST_OFFERED: usize = 6;

/// A change that mends a list at fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repair {
    /// The list with the change made: a braid, or with a fault less if only the
    /// order of moves was missing.
    pub list: MoveList,
    /// What was changed.
    pub change: Change,
}

/// What a repair changes. Steps are counted from 1, strands from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Only the turn of a round was wrong.
    Turn {
        /// The turn given before.
        from: i32,
        /// The turn that fits.
        to: i32,
    },
    /// A strand starts one place further on.
    Start {
        /// The strand.
        strand: usize,
        /// Where it started.
        from: Place,
        /// Where it starts now.
        to: Place,
    },
    /// A strand is taken up one place further on.
    TakenUp {
        /// The step.
        step: usize,
        /// Where it was taken up.
        from: Place,
        /// Where it is now.
        to: Place,
    },
    /// A strand is laid down one place further on.
    LaidDown {
        /// The step.
        step: usize,
        /// Where it was laid down.
        from: Place,
        /// Where it is now.
        to: Place,
    },
    /// A change of one step made in all steps that are the same further round the disc.
    Alike {
        /// The change of the first.
        first: Box<Self>,
        /// The other steps.
        steps: Vec<usize>,
    },
    /// The last move was missing.
    Last(Move),
    /// Two moves made together are made one after the other.
    Order {
        /// The step.
        step: usize,
        /// The move that is made first; the other then lies over it.
        first: Move,
    },
    /// Two strands change places one way round.
    Exchange {
        /// The step.
        step: usize,
        /// Which way.
        way: Way,
    },
    /// A held strand is held between two slots.
    Beside {
        /// The step that took it up.
        step: usize,
        /// Where it waits.
        place: Place,
    },
    /// A strand is laid half a slot beside its goal first, so that it passes the
    /// core on one side.
    PastCore {
        /// The step.
        step: usize,
        /// Where it is laid first.
        place: Place,
    },
}

impl Repair {
    /// The change in one sentence, places as the maker numbers them.
    pub fn sentence(&self, numbering: Numbering) -> String {
        let (plate, slots) = (self.list.plate, self.list.slots);
        let named = |place: Place| numbering.phrase_on(plate, place, slots);
        format!("{}.", self.change.said(&named))
    }
}

impl Change {
    /// The change without a full stop.
    fn said(&self, named: &dyn Fn(Place) -> String) -> String {
        let instead = |to: Place, from: Place| format!("{} instead of {}", named(to), named(from));
        match *self {
            Self::Turn { to, .. } => {
                format!(
                    "Only the turn was wrong: turn by {} a round",
                    slots_turned(to)
                )
            }
            Self::Start { from, to, .. } => format!("Start in {}", instead(to, from)),
            Self::TakenUp { step, from, to } => {
                format!("In step {step} lift from {}", instead(to, from))
            }
            Self::LaidDown { step, from, to } => {
                format!("In step {step} lay the strand in {}", instead(to, from))
            }
            Self::Alike {
                ref first,
                ref steps,
            } => format!("{}, and likewise in {}", first.said(named), listed(steps)),
            Self::Last(one) => format!("The last move was missing: {}", carried(one, named)),
            Self::Order { step, first } => format!(
                "In step {step} {} first, so that the other lies over it",
                carried(first, named)
            ),
            Self::Exchange { step, way } => format!(
                "In step {step} the two strands go {} round one another",
                way.word()
            ),
            Self::PastCore { step, place } => format!(
                "In step {step} hold the strand in {} first, to pass the core on that side",
                named(place)
            ),
            Self::Beside { step, place } => {
                format!("In step {step} hold the strand in {}", named(place))
            }
        }
    }
}

fn carried(Move { from, to }: Move, named: &dyn Fn(Place) -> String) -> String {
    match from {
        Place::Hand => format!("lay the held strand in {}", named(to)),
        _ => format!("carry the strand from {} to {}", named(from), named(to)),
    }
}

/// `step 3`, `steps 3, 5 and 7`.
fn listed(steps: &[usize]) -> String {
    let names: Vec<String> = steps.iter().map(usize::to_string).collect();
    match names.split_last() {
        Some((last, before)) if !before.is_empty() => {
            format!("steps {} and {last}", before.join(", "))
        }
        _ => format!("step {}", names.concat()),
    }
}

impl BraidError {
    /// The changes that would mend the list at fault, the likeliest first; none
    /// if no small one does.
    pub fn repairs(&self, list: &MoveList) -> Vec<Repair> {
        let tried = match self.fault {
            Fault::Interleave {
                step,
                first,
                second,
                ..
            } => orders(list, step, [first, second]),
            Fault::Exchange { step, first, .. } => exchanges(list, step, first),
            Fault::HoldUnclear { taken_up, .. } => beside(list, taken_up),
            Fault::OverCore { step, passing, .. } => past_core(list, step, passing),
            Fault::LeftInHand { .. } => last_moves(list),
            Fault::Taken { step, place, .. } => {
                let mut tried: Vec<Tried> = made_way(list, step, place).into_iter().collect();
                tried.extend(one_off(list, step));
                tried.extend(anywhere(list, step, place));
                tried
            }
            Fault::NotBack { stray, missing, .. } => {
                let mut tried = turn(list);
                tried.extend(last_moves(list));
                tried.extend(landing(list, stray, missing));
                tried.extend(one_off(list, list.steps.len()));
                tried
            }
            // Either may be moved; they differ by their names only.
            Fault::StartTwice { strands, .. } => other_starts(list, strands[0]),
            Fault::StartOffDisc { strand, .. } | Fault::StartInHand { strand } => {
                any_start(list, strand)
            }
            Fault::OffDisc { step, place, .. } => anywhere(list, step, place),
            Fault::Empty { step, place } | Fault::Nowhere { step, place, .. } => {
                let mut tried = one_off(list, step);
                tried.extend(anywhere(list, step, place));
                tried
            }
            Fault::EmptyLater { .. } | Fault::TakenLater { .. } => one_off(list, list.steps.len()),
            _ => Vec::new(),
        };
        let faults = match self.fault {
            Fault::Interleave { .. } | Fault::Exchange { .. } => list.faults().len(),
            _ => 1,
        };
        let mut sound: Vec<Repair> = Vec::new();
        for (list, change) in tried {
            let is_new = sound.iter().all(|repair| repair.list != list);
            if is_new && list.faults().len() < faults {
                sound.push(Repair { list, change });
            }
            if sound.len() == MOST_OFFERED {
                break;
            }
        }
        sound
    }
}

/// A list with a change, not yet checked.
type Tried = (MoveList, Change);

/// Other turns that fit, the smallest.
fn turn(list: &MoveList) -> Vec<Tried> {
    let Some(from) = list.turn else {
        return Vec::new();
    };
    let end = work(list).end;
    let fits = |turn: &i32| strays(list, &end, *turn) == 0;
    let tried = turns(list.slots, from).find(fits).map(|to| {
        let turned = MoveList {
            turn: Some(to),
            ..list.clone()
        };
        (turned, Change::Turn { from, to })
    });
    tried.into_iter().collect()
}

/// One move more at the end, for every turn that leaves one strand astray.
fn last_moves(list: &MoveList) -> Vec<Tried> {
    let end = work(list).end;
    let given = list.turn.map(|turn| vec![turn]);
    let all = given.unwrap_or_else(|| turns(list.slots, 0).collect());
    let last = |turn: i32| {
        if strays(list, &end, turn) != 1 {
            return None;
        }
        let Fault::NotBack { stray, missing, .. } = super::closing::not_back(list, &end, turn)
        else {
            return None;
        };
        let mut more = list.clone();
        more.steps.push(Step::one(stray, missing));
        let last = Move {
            from: stray,
            to: missing,
        };
        Some((more, Change::Last(last)))
    };
    all.into_iter().filter_map(last).collect()
}

/// The two moves of a step one after the other, either first.
fn orders(list: &MoveList, step: usize, moves: [Move; 2]) -> Vec<Tried> {
    let split = |first: Move| {
        let mut ordered = list.clone();
        ordered.steps[step - 1]
            .moves
            .retain(|&other| other != first);
        ordered
            .steps
            .insert(step - 1, Step::one(first.from, first.to));
        (ordered, Change::Order { step, first })
    };
    moves.map(split).into()
}

/// The strand that is in the way is moved first, if it is moved in that step.
fn made_way(list: &MoveList, step: usize, place: Place) -> Option<Tried> {
    let moves = &list.steps[step - 1].moves;
    let at = moves.iter().position(|other| other.from == place)?;
    let first = moves[at];
    let mut ordered = list.clone();
    ordered.steps[step - 1].moves[..=at].rotate_right(1);
    Some((ordered, Change::Order { step, first }))
}

/// An exchange either way.
fn exchanges(list: &MoveList, step: usize, Move { from, to }: Move) -> Vec<Tried> {
    let others = |other: &&Move| ![(from, to), (to, from)].contains(&(**other).into());
    let rest: Vec<Move> = list.steps[step - 1]
        .moves
        .iter()
        .filter(others)
        .copied()
        .collect();
    let either = |way: Way| {
        let mut told = list.clone();
        told.steps[step - 1] = Step::exchange(from, to, way, list.slots);
        if !rest.is_empty() {
            told.steps.insert(
                step,
                Step {
                    moves: rest.clone(),
                },
            );
        }
        (told, Change::Exchange { step, way })
    };
    [Way::Clockwise, Way::Anticlockwise].map(either).into()
}

/// A held strand laid half a slot before or after its goal.
fn beside(list: &MoveList, taken_up: usize) -> Vec<Tried> {
    let mut ends = list.moves().filter(|(step, _)| *step >= taken_up);
    let Some((_, Move { to: goal, .. })) = ends.find(|(_, one)| one.from == Place::Hand) else {
        return Vec::new();
    };
    let lay = |half: i32| {
        let place = goal.turned(half, list.slots);
        let mut laid = list.clone();
        replace_hold(&mut laid, taken_up, place);
        let step = taken_up;
        (laid, Change::Beside { step, place })
    };
    [-1, 1].map(lay).into()
}

/// A move over the core told as one beside it, on either side, and a slide.
fn past_core(list: &MoveList, step: usize, passing: Move) -> Vec<Tried> {
    let side = |half: i32| {
        let place = passing.to.turned(half, list.slots);
        let mut told = list.clone();
        let moves = &mut told.steps[step - 1].moves;
        if let Some(at) = moves.iter().position(|&one| one == passing) {
            let slide = Move::from((place, passing.to));
            moves.splice(at..=at, [(passing.from, place).into(), slide]);
        }
        (told, Change::PastCore { step, place })
    };
    [-1, 1].map(side).into()
}

/// Writes a place for the hand, in the hold that a step begins.
fn replace_hold(list: &mut MoveList, taken_up: usize, place: Place) {
    for step in &mut list.steps[taken_up - 1..] {
        for one in &mut step.moves {
            if one.to == Place::Hand {
                one.to = place;
            }
            if one.from == Place::Hand {
                one.from = place;
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spiral(steps: &str, turn: Option<i32>) -> MoveList {
        let start = "[32, 1, 8, 9, 16, 17, 24, 25]";
        let text = format!("(slots: 32, start: {start}, steps: {steps})");
        let list: MoveList = ron::from_str(&text).expect("a list");
        MoveList { turn, ..list }
    }

    /// The repairs of the first fault, each checked again.
    fn offered(list: &MoveList) -> Vec<String> {
        let repairs = list.faults()[0].repairs(list);
        for repair in &repairs {
            assert!(repair.list.faults().is_empty(), "{:?}", repair.change);
        }
        let said = |repair: &Repair| repair.sentence(Numbering::Clockwise);
        repairs.iter().map(said).collect()
    }

    #[test]
    fn a_wrong_turn_alone_is_told_with_the_turn_that_fits() {
        let list = spiral("[[(17, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", Some(2));
        assert_eq!(
            offered(&list)[0],
            "Only the turn was wrong: turn by 1 slot anticlockwise a round."
        );
    }

    #[test]
    fn a_landing_one_slot_off_is_found() {
        for turn in [None, Some(-1)] {
            let list = spiral("[[(17, 31)], [(1, 14)], [(25, 7)], [(9, 23)]]", turn);
            let said = "In step 2 lay the strand in slot 15 instead of slot 14.";
            assert!(
                offered(&list).contains(&said.to_owned()),
                "{:?}",
                offered(&list)
            );
        }
    }

    #[test]
    fn a_lift_one_slot_off_is_found() {
        let list = spiral("[[(18, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", None);
        assert_eq!(
            offered(&list),
            ["In step 1 lift from slot 17 instead of slot 18."]
        );
    }

    #[test]
    fn a_missing_last_move_is_found() {
        let list = spiral("[[(17, 31)], [(1, 15)], [(25, 7)]]", Some(-1));
        assert_eq!(
            offered(&list)[0],
            "The last move was missing: carry the strand from slot 9 to slot 23."
        );
        let held = spiral("[[(17, \"hand\")]]", None);
        assert_eq!(
            offered(&held)[0],
            "The last move was missing: lay the held strand in slot 17."
        );
    }

    #[test]
    fn crossing_moves_are_offered_in_either_order() {
        let list = spiral("[[(17, 30), (24, 5)], [(30, 17)], [(5, 24)]]", None);
        assert_eq!(
            offered(&list),
            [
                "In step 1 carry the strand from slot 17 to slot 30 first, so that the other lies over it.",
                "In step 1 carry the strand from slot 24 to slot 5 first, so that the other lies over it.",
            ]
        );
    }

    #[test]
    fn an_exchange_is_offered_both_ways_round() {
        let list = spiral("[[(17, 1), (1, 17), (8, 10)], [(10, 8)]]", None);
        assert_eq!(
            offered(&list),
            [
                "In step 1 the two strands go clockwise round one another.",
                "In step 1 the two strands go anticlockwise round one another.",
            ]
        );
    }

    #[test]
    fn two_exchanges_are_asked_about_one_after_the_other() {
        let list = spiral("[[(17, 1), (1, 17)], [(8, 24), (24, 8)]]", None);
        let faults = list.faults();
        assert_eq!(faults.len(), 2);
        let first = &faults[0].repairs(&list);
        assert_eq!(first.len(), 2);
        let left = first[0].list.faults();
        assert_eq!(left.len(), 1);
        let second = left[0].repairs(&first[0].list);
        assert!(second.len() == 2 && second[0].list.faults().is_empty());
    }

    #[test]
    fn a_strand_in_the_way_that_moves_too_is_moved_first() {
        let list = spiral("[[(17, 24), (24, 17)], [(1, 2)], [(2, 1)]]", None);
        assert!(matches!(list.faults()[0].fault, Fault::Exchange { .. }));
        let chain = spiral("[[(17, 24), (24, 20)], [(24, 17), (20, 24)]]", None);
        assert_eq!(
            offered(&chain)[0],
            "In step 1 carry the strand from slot 24 to slot 20 first, so that the other lies over it."
        );
    }

    #[test]
    fn a_strand_held_under_a_move_straight_across_may_be_held_beside_its_goal() {
        let list = spiral(
            "[[(8, \"hand\")], [(17, 2)], [(1, 17)], [(\"hand\", 8)], [(2, 1)]]",
            None,
        );
        assert_eq!(
            offered(&list),
            [
                "In step 1 hold the strand in the hand between slots 7 and 8.",
                "In step 1 hold the strand in the hand between slots 8 and 9.",
            ]
        );
    }

    #[test]
    fn a_move_over_the_core_is_offered_on_either_side_of_it() {
        let list = spiral("[[(17, 2)], [(1, 17)], [(2, 1)]]", None);
        let passing = Move::from((Place::slot(1), Place::slot(17)));
        let fault = Fault::OverCore {
            step: 2,
            passing,
            strand: 1,
        };
        let repairs = list.error(fault).repairs(&list);
        assert_eq!(repairs.len(), 2);
        let step = &repairs[0].list.steps[1];
        let beside = Place::Rim(33);
        assert_eq!(step.moves[0], (Place::slot(1), beside).into());
        assert_eq!(step.moves[1], (beside, Place::slot(17)).into());
    }

    #[test]
    fn two_strands_that_start_together_are_offered_the_free_slot_that_makes_a_braid() {
        let mut list = spiral("[[(17, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", None);
        list.start[3] = Place::slot(8);
        assert_eq!(offered(&list), ["Start in slot 9 instead of slot 8."]);
    }

    #[test]
    fn a_list_with_two_faults_is_offered_nothing() {
        let list = spiral("[[(18, 31)], [(1, 14)], [(25, 7)], [(9, 23)]]", None);
        assert_eq!(offered(&list), Vec::<String>::new());
    }

    #[test]
    fn a_slip_that_is_made_again_further_round_is_mended_in_all_steps() {
        let list = spiral("[[(18, 31)], [(1, 15)], [(26, 7)], [(9, 23)]]", None);
        assert_eq!(
            offered(&list),
            ["In step 1 lift from slot 17 instead of slot 18, and likewise in step 3."]
        );
        let list = spiral("[[(17, 31)], [(1, 14)], [(25, 7)], [(9, 22)]]", None);
        let said =
            "In step 2 lay the strand in slot 15 instead of slot 14, and likewise in step 4.";
        assert!(
            offered(&list).contains(&said.to_owned()),
            "{:?}",
            offered(&list)
        );
    }

    #[test]
    fn a_slot_that_the_disc_does_not_have_is_offered_as_the_one_that_makes_a_braid() {
        let list = spiral("[[(17, 35)], [(1, 15)], [(25, 7)], [(9, 23)]]", None);
        let said = "In step 1 lay the strand in slot 31 instead of slot 35.";
        assert_eq!(offered(&list), [said]);
        let mut list = spiral("[[(17, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", None);
        list.start[3] = Place::slot(39);
        assert_eq!(offered(&list), ["Start in slot 9 instead of slot 39."]);
        list.start[3] = Place::Hand;
        assert_eq!(offered(&list), ["Start in slot 9 instead of the hand."]);
    }

    #[test]
    fn a_strand_laid_far_from_where_it_is_missing_is_found() {
        let list = spiral("[[(17, 31)], [(1, 15)], [(25, 7)], [(9, 29)]]", Some(-1));
        assert_eq!(
            offered(&list),
            [
                "The last move was missing: carry the strand from slot 29 to slot 23.",
                "In step 4 lay the strand in slot 23 instead of slot 29.",
            ]
        );
    }

    #[test]
    fn a_slot_far_from_the_right_one_is_found_in_the_step_at_fault() {
        let list = spiral("[[(12, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", None);
        let said = "In step 1 lift from slot 17 instead of slot 12.";
        assert_eq!(offered(&list), [said]);
    }
}
