//! Whether a round comes back to its start, and on which turn of the disc.

use super::{Fault, Lift, MoveList, Place};

/// How a round comes back.
#[derive(Debug)]
pub(super) struct Closing {
    /// Slots clockwise that the next round is worked further on.
    pub(super) turn: i32,
    /// Whose start place each strand has come to.
    pub(super) becomes: Vec<usize>,
}

/// The turn that brings the start places onto the end places, and who then
/// stands where whom started.
///
/// The turn that the list gives, or else the smallest; of two turns as small,
/// the one the way the strands were carried, so that a mirrored list turns the
/// other way.
pub(super) fn closing(list: &MoveList, end: &[Place], drift: i32) -> Result<Closing, Fault> {
    if let Some(turn) = list.turn {
        return closing_at(list, end, turn).ok_or_else(|| not_back(list, end, turn));
    }
    let mut fewest = (usize::MAX, 0);
    for turn in turns(list.slots, drift) {
        let strays = strays(list, end, turn);
        if strays == 0 {
            return closing_at(list, end, turn).ok_or_else(|| not_back(list, end, turn));
        }
        if strays < fewest.0 {
            fewest = (strays, turn);
        }
    }
    Err(not_back(list, end, fewest.1))
}

/// Every turn once, the smallest first, of two as small the one that goes with
/// the drift.
pub(super) fn turns(slots: u16, drift: i32) -> impl Iterator<Item = i32> {
    let way = if drift < 0 { -1 } else { 1 };
    (0..=i32::from(slots) / 2).flat_map(move |turn| [way * turn, -way * turn])
}

/// How many strands do not end on a start place turned so far.
pub(super) fn strays(list: &MoveList, end: &[Place], turn: i32) -> usize {
    let turned = turned_places(list, turn);
    end.iter().filter(|here| !turned.contains(here)).count()
}

fn closing_at(list: &MoveList, end: &[Place], turn: i32) -> Option<Closing> {
    let turned = turned_places(list, turn);
    let whose = |here: &Place| turned.iter().position(|there| there == here);
    let becomes: Option<Vec<usize>> = end.iter().map(whose).collect();
    Some(Closing {
        turn,
        becomes: becomes?,
    })
}

/// Quarter slots that all lifts together go clockwise, each the shorter way;
/// straight across counts for neither.
pub(super) fn drift(lifts: &[Lift]) -> i32 {
    let way = |lift: &Lift| {
        let (clockwise, round) = (
            i32::from(lift.from.clockwise_to(lift.to)),
            i32::from(lift.from.of),
        );
        match (2 * clockwise).cmp(&round) {
            std::cmp::Ordering::Less => clockwise,
            std::cmp::Ordering::Equal => 0,
            std::cmp::Ordering::Greater => clockwise - round,
        }
    };
    lifts.iter().map(way).sum()
}

fn turned_places(list: &MoveList, turn: i32) -> Vec<Place> {
    let turned = |place: &Place| place.turned(2 * turn, list.slots);
    list.start.iter().map(turned).collect()
}

/// A place with a strand that should have none and one that should have one, of
/// a turn that does not fit.
pub(super) fn not_back(list: &MoveList, end: &[Place], turn: i32) -> Fault {
    let turned = turned_places(list, turn);
    let lacking = |these: &[Place], those: &[Place]| {
        let found = these.iter().position(|place| !those.contains(place));
        found.expect("some place differs, or the turn would have fitted")
    };
    let strand = lacking(end, &turned);
    Fault::NotBack {
        turn,
        stray: end[strand],
        missing: turned[lacking(&turned, end)],
        strand,
    }
}
