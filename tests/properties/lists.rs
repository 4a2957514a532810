//! Random lists of moves that come round.

use plaitwright::structure::{Move, MoveList, Place, Step};
use proptest::prelude::*;
use proptest::sample::subsequence;

/// Raw material of a list: which strand goes to which of the free places.
type Choices = Vec<(usize, usize)>;

/// Slots, start places and choices; places between slots are used as well.
fn material() -> impl Strategy<Value = (u16, Vec<Place>, Choices)> {
    (3usize..=12, 4u16..=16).prop_flat_map(|(strands, half)| {
        let slots = 2 * half.max(3);
        let places: Vec<Place> = (2..=2 * slots + 1).map(Place::Rim).collect();
        let strands = strands.min(places.len() - 2);
        let start = subsequence(places, strands).prop_shuffle();
        let choices = prop::collection::vec((0usize..64, 0usize..64), 1..24);
        (Just(slots), start, choices)
    })
}

/// A sound list: lifts to free places, and at last everybody who is away goes
/// to a start place that is free.
pub(crate) fn sound_list() -> impl Strategy<Value = MoveList> {
    material().prop_map(|(slots, start, choices)| {
        let mut hands = Hands::new(slots, start);
        for (strand, place) in choices {
            hands.lift(strand, place);
        }
        hands.go_home()
    })
}

/// A list in which one strand is held in the hand while others are carried; it
/// may be refused, when the hold is unclear.
pub(crate) fn list_with_a_hold() -> impl Strategy<Value = MoveList> {
    (material(), 0usize..64, 0usize..64, 0usize..6).prop_map(
        |((slots, start, choices), held, goal, before)| {
            let mut hands = Hands::new(slots, start);
            let (first, rest) = choices.split_at(before.min(choices.len()));
            let (during, last) = rest.split_at(rest.len().min(4));
            first.iter().for_each(|&(s, p)| hands.lift(s, p));
            let held = held % hands.at.len();
            hands.carry(held, Place::Hand);
            let others = |s: usize| (held + 1 + s % (hands.at.len() - 1)) % hands.at.len();
            let during: Choices = during.iter().map(|&(s, p)| (others(s), p)).collect();
            during.into_iter().for_each(|(s, p)| hands.lift(s, p));
            let free = hands.free();
            hands.carry(held, free[goal % free.len()]);
            last.iter().for_each(|&(s, p)| hands.lift(s, p));
            hands.go_home()
        },
    )
}

struct Hands {
    list: MoveList,
    at: Vec<Place>,
}

impl Hands {
    fn new(slots: u16, start: Vec<Place>) -> Self {
        Self {
            at: start.clone(),
            list: MoveList {
                slots,
                start,
                steps: Vec::new(),
                ..MoveList::default()
            },
        }
    }

    fn free(&self) -> Vec<Place> {
        (2..=2 * self.list.slots + 1)
            .map(Place::Rim)
            .filter(|place| !self.at.contains(place))
            .collect()
    }

    fn lift(&mut self, strand: usize, place: usize) {
        let free = self.free();
        self.carry(strand % self.at.len(), free[place % free.len()]);
    }

    fn carry(&mut self, strand: usize, to: Place) {
        let from = std::mem::replace(&mut self.at[strand], to);
        self.list.steps.push(Step {
            moves: vec![Move { from, to }],
        });
    }

    fn go_home(mut self) -> MoveList {
        let start = self.list.start.clone();
        for strand in 0..start.len() {
            if !start.contains(&self.at[strand]) {
                let home = start.iter().find(|place| !self.at.contains(place));
                self.carry(strand, *home.expect("as many places as strands"));
            }
        }
        self.list
    }
}
