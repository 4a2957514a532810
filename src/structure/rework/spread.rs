//! The same list on a disc with another number of slots.

use super::{ReworkError, named, with_turn};
use crate::structure::check::MOST_SLOTS;
use crate::structure::{Braid, MoveList, Place};

/// The list in exact proportion, the first strand's place taken as the one that
/// stays: slot 1 goes to slot 1. Slots become slots, or it is refused.
pub(super) fn spread(braid: &Braid, slots: u16) -> Result<MoveList, ReworkError> {
    let list = braid.moves();
    if slots > MOST_SLOTS {
        return Err(ReworkError::ManySlots(u32::from(slots)));
    }
    let places = list.moves().flat_map(|(_, one)| [one.from, one.to]);
    let places: Vec<Place> = list.start.iter().copied().chain(places).collect();
    if let Some(&place) = places
        .iter()
        .find(|&&place| on(place, list.slots, slots).is_none())
    {
        let fits = |&other: &u16| {
            let all = places
                .iter()
                .all(|&place| on(place, list.slots, other).is_some());
            all && proportion(braid.turn(), list.slots, other).is_some()
        };
        return Err(ReworkError::BetweenPlaces {
            place: named(list, place),
            slots,
            instead: (slots..=MOST_SLOTS)
                .step_by(1)
                .filter(|slots| slots % 2 == 0)
                .find(fits),
        });
    }
    let turn = proportion(braid.turn(), list.slots, slots).ok_or(ReworkError::UnevenTurn {
        turn: braid.turn(),
        slots,
    })?;
    let to = |place: Place| on(place, list.slots, slots).unwrap_or(place);
    let spread = MoveList {
        slots,
        ..list.with_places(to)
    };
    let spread = with_turn(spread, turn);
    Braid::new(&spread)?;
    Ok(spread)
}

/// The same place of another disc, if it has one: a slot for a slot.
fn on(place: Place, slots: u16, other: u16) -> Option<Place> {
    let Place::Rim(half) = place else {
        return Some(place);
    };
    let there = proportion(i32::from(half) - 2, slots, other)?;
    if half % 2 == 0 && there % 2 == 1 {
        return None;
    }
    u16::try_from(there + 2).ok().map(Place::Rim)
}

fn proportion(count: i32, slots: u16, other: u16) -> Option<i32> {
    let all = count * i32::from(other);
    (all % i32::from(slots) == 0).then(|| all / i32::from(slots))
}

#[cfg(test)]
mod tests {
    use crate::structure::{Braid, MoveList, Place, Rework, ReworkError};

    fn list(text: &str) -> MoveList {
        text.parse().expect("a list")
    }

    #[test]
    fn a_list_spread_to_twice_the_slots_and_back_is_the_list() {
        let spiral = list("slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8");
        let wide = Rework::Spread(64).apply(&spiral).expect("twice").list;
        assert_eq!((wide.slots, wide.start[0]), (64, Place::slot(63)));
        assert_eq!(Braid::new(&wide).expect("a braid").turn(), -2);
        let back = Rework::Spread(32).apply(&wide).expect("half").list;
        assert_eq!(back, spiral);
    }

    #[test]
    fn a_place_that_falls_between_two_is_named_with_a_disc_that_would_do() {
        let spiral = list("slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8");
        let said = Rework::Spread(48).apply(&spiral).expect_err("not whole");
        assert_eq!(
            said.to_string(),
            "Slot 32 would lie between two places of a disc of 48 slots; 64 slots would do."
        );
        let even = list("slots 8\nstart 1 3 5 7\n1 > 2\n3 > 4\n5 > 6\n7 > 8");
        let said = Rework::Spread(12).apply(&even).expect_err("not whole");
        assert!(matches!(said, ReworkError::BetweenPlaces { .. }), "{said}");
        let said = Rework::Spread(258).apply(&even).expect_err("too large");
        assert_eq!(said, ReworkError::ManySlots(258));
    }

    #[test]
    fn a_turn_that_would_not_be_whole_is_refused() {
        let even = list("slots 8\nstart 1 3 5 7\n1 > hand\n3 > 1\n5 > 3\nhand > 5\nturn -2");
        let smaller = Rework::Spread(4).apply(&even).expect("half").list;
        assert_eq!(Braid::new(&smaller).expect("a braid").turn(), -1);
        let odd = list("slots 8\nstart 1 5 7\n1 > 3\n5 > 1\n7 > 5\n3 > 7\nturn 4");
        let said = Rework::Spread(6).apply(&odd);
        assert!(said.is_err());
    }
}
