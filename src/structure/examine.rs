//! All that is wrong with a list, or all that makes it a braid.

use super::check::{Carried, Worked, work};
use super::closing::{Closing, closing, drift};
use super::hold::resolve;
use super::order::{Made, crossing_steps};
use super::{BraidError, Fault, Lift, Move, MoveList, Place, Seat};

/// Most moves worked on after a round that does not come back; our guess at
/// more than enough to see what comes of it.
const MOST_WORKED_ON: usize = 16_384;

/// A list without fault.
#[derive(Debug)]
pub(super) struct Sound {
    pub(super) lifts: Vec<Lift>,
    pub(super) end: Vec<Place>,
    pub(super) closing: Closing,
}

impl MoveList {
    /// Everything that is wrong with the list, in the order in which it would
    /// be met; nothing if it is a braid.
    ///
    /// A later fault that may be no more than the consequence of an earlier one
    /// is left out, and whether the round comes back is not asked of a list
    /// with moves that cannot be made.
    pub fn faults(&self) -> Vec<BraidError> {
        let found = examine(self).err().unwrap_or_default();
        found.into_iter().map(|fault| self.error(fault)).collect()
    }

    /// A fault with what is needed to name its places.
    pub(super) fn error(&self, fault: Fault) -> BraidError {
        BraidError {
            plate: self.plate,
            slots: self.slots,
            fault,
        }
    }
}

/// Works a list and looks at it from every side.
pub(super) fn examine(list: &MoveList) -> Result<Sound, Vec<Fault>> {
    let Worked {
        carried,
        end,
        mut faults,
    } = work(list);
    if !faults.is_empty() {
        faults.extend(crossing_steps(&on_rim(&carried, list.slots)));
        return Err(faults);
    }
    let lifts = resolve(&carried, list.slots).unwrap_or_else(|fault| {
        faults.push(fault);
        Vec::new()
    });
    let made = if faults.is_empty() {
        carried.iter().copied().zip(lifts.iter().copied()).collect()
    } else {
        on_rim(&carried, list.slots)
    };
    faults.extend(crossing_steps(&made));
    let all: Vec<Lift> = made.iter().map(|(_, lift)| *lift).collect();
    match closing(list, &end, drift(&all)) {
        Ok(closing) if faults.is_empty() => Ok(Sound {
            lifts,
            end,
            closing,
        }),
        Ok(_) => Err(faults),
        Err(fault) => {
            faults.push(fault);
            faults.extend(worked_on(list, &end));
            Err(faults)
        }
    }
}

/// The moves from rim to rim, without those of the hand.
fn on_rim(carried: &[Carried], slots: u16) -> Vec<Made> {
    let made = |one: &Carried| {
        let lift = Lift {
            strand: one.strand,
            from: Seat::of(one.from, slots)?,
            to: Seat::of(one.to, slots)?,
            step: one.step,
        };
        Some((*one, lift))
    };
    carried.iter().filter_map(made).collect()
}

/// The first move that cannot be made when a list that does not come back is
/// worked on with the turn that it gives.
fn worked_on(list: &MoveList, end: &[Place]) -> Option<Fault> {
    let turn = list.turn?;
    let mut at = end.to_vec();
    let rounds = (1..=usize::from(list.slots)).map(|round| (round, turn * 2 * round as i32));
    let moves = rounds.flat_map(|(round, on)| {
        list.moves().map(move |(step, one)| {
            (
                round,
                step + round * list.steps.len(),
                turned(one, on, list),
            )
        })
    });
    for (round, step, Move { from, to }) in moves.take(MOST_WORKED_ON) {
        let strand_at = |place: Place| at.iter().position(|&here| here == place);
        let round = round + 1;
        let Some(strand) = strand_at(from) else {
            let place = from;
            return Some(Fault::EmptyLater { step, round, place });
        };
        if let Some(resting) = strand_at(to) {
            return Some(Fault::TakenLater {
                step,
                round,
                place: to,
                strands: [strand, resting],
            });
        }
        at[strand] = to;
    }
    None
}

fn turned(Move { from, to }: Move, half_slots: i32, list: &MoveList) -> Move {
    let on = |place: Place| place.turned(half_slots, list.slots);
    Move {
        from: on(from),
        to: on(to),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(start: &str, steps: &str, turn: Option<i32>) -> MoveList {
        let text = format!("(slots: 32, start: {start}, steps: {steps})");
        let list: MoveList = ron::from_str(&text).expect("a list");
        MoveList { turn, ..list }
    }

    /// Eight strands in pairs at the marks, as for the round spiral.
    fn pairs(steps: &str, turn: Option<i32>) -> Vec<Fault> {
        let list = list("[32, 1, 8, 9, 16, 17, 24, 25]", steps, turn);
        list.faults().into_iter().map(|error| error.fault).collect()
    }

    type Told = (&'static str, Option<usize>, Vec<Place>, Vec<usize>);

    fn told(faults: &[Fault]) -> Vec<Told> {
        let told = |f: &Fault| (f.kind(), f.step(), f.places(), f.strands());
        faults.iter().map(told).collect()
    }

    #[test]
    fn a_fault_tells_its_kind_step_places_and_strands() {
        let slot = Place::slot;
        let spiral = "[(25, 7)], [(9, 23)]";
        let taken = pairs(&format!("[[(17, 32)], [(1, 15)], {spiral}]"), None);
        assert_eq!(
            told(&taken),
            [("slot taken", Some(1), vec![slot(32)], vec![5, 0])]
        );
        let empty = pairs(&format!("[[(18, 31)], [(1, 15)], {spiral}]"), None);
        assert_eq!(
            told(&empty),
            [("slot empty", Some(1), vec![slot(18)], vec![])]
        );
        let nowhere = pairs("[[(17, 31)], [(9, 9)]]", None);
        assert_eq!(
            told(&nowhere),
            [("move goes nowhere", Some(2), vec![slot(9)], vec![3])]
        );
        let twice = list("[1, 9, 9, 1]", "[[(1, 2)]]", None).faults();
        let twice: Vec<Fault> = twice.into_iter().map(|error| error.fault).collect();
        assert_eq!(
            told(&twice),
            [
                ("start slot twice", None, vec![slot(9)], vec![2, 1]),
                ("start slot twice", None, vec![slot(1)], vec![3, 0]),
            ]
        );
    }

    #[test]
    fn all_faults_are_told_but_none_that_follows_from_another() {
        // The second move lifts from where the first should have laid a strand.
        let steps = "[[(18, 31)], [(31, 30)], [(1, 8)], [(24, 2), (3, 27)], [(9, 20), (16, 5)]]";
        let faults = pairs(steps, None);
        let kinds: Vec<_> = faults.iter().map(|f| (f.kind(), f.step())).collect();
        assert_eq!(
            kinds,
            [
                ("slot empty", Some(1)),
                ("slot taken", Some(3)),
                ("slot empty", Some(4)),
                ("order needed", Some(5)),
            ]
        );
    }

    #[test]
    fn a_round_that_does_not_come_back_is_worked_on_with_its_turn() {
        let off = "[[(17, 31)], [(1, 14)], [(25, 7)], [(9, 23)]]";
        let without = pairs(off, None);
        assert_eq!(without.len(), 1, "{without:?}");
        let with = pairs(off, Some(-1));
        let slot = Place::slot;
        assert_eq!(
            told(&with),
            [
                ("does not return", None, vec![slot(14), slot(15)], vec![1]),
                ("slot empty", Some(9), vec![slot(15)], vec![]),
            ]
        );
        let wrong_turn = pairs("[[(17, 31)], [(1, 15)], [(25, 7)], [(9, 23)]]", Some(2));
        assert_eq!(wrong_turn[0].kind(), "does not return");
        assert_eq!(wrong_turn[1].step(), Some(5), "{wrong_turn:?}");
    }

    #[test]
    fn two_strands_that_change_places_in_one_step_need_a_way() {
        let faults = pairs("[[(17, 1), (1, 17)]]", None);
        let slot = Place::slot;
        let ends = vec![slot(17), slot(1), slot(1), slot(17)];
        assert_eq!(told(&faults), [("order needed", Some(1), ends, vec![5, 1])]);
        assert!(matches!(faults[0], Fault::Exchange { .. }));
    }

    #[test]
    fn a_hold_that_is_unclear_is_told_along_with_a_round_that_does_not_come_back() {
        let steps = "[[(1, \"hand\")], [(17, 32)], [(32, 16)], [(\"hand\", 2)]]";
        let start = "[1, 9, 17, 25]";
        let faults = list(start, steps, None).faults();
        let kinds: Vec<_> = faults.iter().map(|error| error.fault.kind()).collect();
        assert_eq!(
            kinds,
            ["side of the held strand unclear", "does not return"]
        );
    }

    #[test]
    fn a_square_plate_has_four_equal_sides() {
        let square = |slots| MoveList {
            plate: crate::structure::Plate::Square,
            slots,
            ..list("[1, 9, 17]", "[[(1, 2)], [(2, 1)]]", None)
        };
        assert!(square(32).faults().is_empty());
        assert_eq!(square(30).faults()[0].fault, Fault::UnevenSides);
    }

    #[test]
    fn a_turn_beyond_once_round_is_refused() {
        let turned = |turn| list("[1, 9, 17]", "[[(1, 2)], [(2, 1)]]", Some(turn)).faults();
        assert!(turned(32).is_empty());
        assert_eq!(turned(33)[0].fault, Fault::WideTurn { turn: 33 });
    }
}
