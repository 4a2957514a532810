//! A short rule told as a list of moves on a disc.
//!
//! A rule knows places in the rim order alone. On a disc a strand must be laid
//! into a slot of the gap that it goes to: beside the strand before it, beside
//! the one after it, or between them. Worked on and on, the free places mostly
//! come to lie round the rule in the same way again; the list is what was done
//! between, begun there, and needs no slides. Where that takes long or ends for
//! want of room, the strands are slid back to even places after the rule.

use std::collections::HashMap;

use super::pattern::Pattern;
use crate::structure::{Move, MoveList, Place, Step};

/// Most times that a rule is done before its free places are given up to come
/// round; tried: those that come round at all do so within 60.
const MOST_TIMES: usize = 120;
/// Most times that a rule stands in a list.
const LONGEST: usize = 24;

/// Which slot of a gap a strand is laid into.
#[derive(Debug, Clone, Copy)]
enum Beside {
    /// The nearest to the strand before the gap, clockwise.
    Before,
    /// The nearest to the strand after the gap.
    After,
    /// In the middle.
    Between,
}

/// A strand carried from slot to slot.
type Hop = (usize, usize);

/// Strands on a disc while a rule is worked, slots counted from 0.
#[derive(Debug, Clone)]
struct Rim {
    slots: usize,
    /// Slots in use, by rank from the place where the rule stands.
    taken: Vec<usize>,
    /// The slot of that place.
    origin: usize,
}

impl Pattern {
    /// The rule as a list of moves on a disc, its strands named clockwise; `None`
    /// if so many slots leave no room for it.
    pub fn told(&self, slots: u16) -> Option<MoveList> {
        let ways = [Beside::After, Beside::Before, Beside::Between];
        let lists = ways.into_iter().filter_map(|way| self.told_on(slots, way));
        let shortest = lists.min_by_key(|list| list.steps.len());
        shortest.or_else(|| {
            let mut lists = ways.into_iter();
            lists.find_map(|way| self.told_with_slides(slots, way))
        })
    }

    /// Without slides, begun where the free places lie as they will again.
    fn told_on(&self, slots: u16, way: Beside) -> Option<MoveList> {
        let mut rim = Rim::even(usize::from(slots), self.strands)?;
        let mut seen: HashMap<Vec<usize>, usize> = HashMap::new();
        let mut times: Vec<(Rim, Vec<Hop>)> = Vec::new();
        for time in 0..MOST_TIMES {
            if let Some(&first) = seen.get(&rim.ahead()) {
                let moves = times[first..].iter().flat_map(|(_, moves)| moves);
                let list = list(&times[first].0, moves, rim.origin);
                return (time - first <= LONGEST).then_some(list);
            }
            seen.insert(rim.ahead(), time);
            let before = rim.clone();
            let moves = rim.work(self, way)?;
            times.push((before, moves));
        }
        None
    }

    /// Once, and the strands slid to where they were, seen from where it goes on.
    fn told_with_slides(&self, slots: u16, way: Beside) -> Option<MoveList> {
        let even = Rim::even(usize::from(slots), self.strands)?;
        let mut rim = even.clone();
        let mut moves = rim.work(self, way)?;
        let turns = 0..usize::from(slots);
        let slid = turns.filter_map(|turn| {
            let origin = (even.origin + turn) % rim.slots;
            Some((rim.slid(&even.turned(turn))?, origin))
        });
        let (slides, origin) = slid.min_by_key(|(slides, _)| slides.len())?;
        moves.extend(slides);
        Some(list(&even, moves.iter(), origin))
    }
}

impl Rim {
    /// Strands spread as evenly as the slots allow.
    fn even(slots: usize, strands: usize) -> Option<Self> {
        (strands < slots).then(|| Self {
            slots,
            taken: (0..strands).map(|rank| rank * slots / strands).collect(),
            origin: 0,
        })
    }

    /// Slots in use as seen from where the rule stands.
    fn ahead(&self) -> Vec<usize> {
        let from = |&slot: &usize| (slot + self.slots - self.origin) % self.slots;
        self.taken.iter().map(from).collect()
    }

    fn rank_anew(&mut self) {
        let (slots, origin) = (self.slots, self.origin);
        self.taken
            .sort_by_key(|slot| (slot + slots - origin) % slots);
    }

    /// The rule once; the moves made, or `None` if a gap had no room.
    fn work(&mut self, rule: &Pattern, way: Beside) -> Option<Vec<Hop>> {
        let mut moves = Vec::new();
        for carry in &rule.carries {
            let at = self.taken.clone();
            self.origin = at[0];
            for place in rule.alike(carry.place) {
                let goal = self.room(&at, place + carry.past, way)?;
                let mover = self.taken.iter_mut().find(|slot| **slot == at[place])?;
                *mover = goal;
                moves.push((at[place], goal));
            }
            self.rank_anew();
        }
        self.origin = self.taken[rule.turn % self.taken.len()];
        self.rank_anew();
        Some(moves)
    }

    /// So many slots further clockwise.
    fn turned(&self, turn: usize) -> Self {
        let on = |slot: usize| (slot + turn) % self.slots;
        Self {
            slots: self.slots,
            taken: self.taken.iter().map(|&slot| on(slot)).collect(),
            origin: on(self.origin),
        }
    }

    /// The slides that bring every strand to the place of the same rank of
    /// another rim, none past another; `None` if they stand in each other's way.
    fn slid(&self, goal: &Self) -> Option<Vec<Hop>> {
        let mut rim = self.clone();
        let mut slides = Vec::new();
        while rim.taken != goal.taken {
            let ranks = 0..rim.taken.len();
            let next = ranks
                .filter(|&rank| rim.taken[rank] != goal.taken[rank])
                .find(|&rank| rim.is_open(rank, goal.taken[rank]))?;
            slides.push((rim.taken[next], goal.taken[next]));
            rim.taken[next] = goal.taken[next];
        }
        Some(slides)
    }

    /// Whether a slot lies between the neighbours of a strand.
    fn is_open(&self, rank: usize, slot: usize) -> bool {
        let count = self.taken.len();
        let before = self.taken[(rank + count - 1) % count];
        let after = self.taken[(rank + 1) % count];
        let from_before = |slot: usize| (slot + self.slots - before) % self.slots;
        (1..from_before(after)).contains(&from_before(slot))
    }

    /// A free slot of the gap after a place.
    fn room(&self, at: &[usize], place: usize, way: Beside) -> Option<usize> {
        let (before, after) = (at[place % at.len()], at[(place + 1) % at.len()]);
        let width = (after + self.slots - before) % self.slots;
        let free = |on: &usize| !self.taken.contains(&((before + on) % self.slots));
        let inside = 1..width;
        let on = match way {
            Beside::Before => inside.clone().find(free),
            Beside::After => inside.clone().rev().find(free),
            Beside::Between => inside
                .clone()
                .filter(free)
                .min_by_key(|on| (2 * on).abs_diff(width)),
        };
        on.map(|on| (before + on) % self.slots)
    }
}

/// The list that begins on a rim and goes on from another origin.
fn list<'a>(rim: &Rim, moves: impl Iterator<Item = &'a Hop>, origin: usize) -> MoveList {
    let place = |slot: usize| Place::Rim(2 * (slot as u16 + 1));
    let mut start = rim.taken.clone();
    start.sort_unstable();
    let on = (origin + rim.slots - rim.origin) % rim.slots;
    // A whole turn more or less is the same cord.
    let turn = match on as i32 {
        turn if 2 * on > rim.slots => turn - rim.slots as i32,
        turn => turn,
    };
    let step = |&(from, to): &Hop| Step {
        moves: vec![Move {
            from: place(from),
            to: place(to),
        }],
    };
    MoveList {
        slots: rim.slots as u16,
        start: start.into_iter().map(place).collect(),
        steps: moves.map(step).collect(),
        turn: Some(turn),
        ..MoveList::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, shelf};
    use crate::topology::{Family, Round, compare, verdict_of_word};

    /// The rules that lock: of others that twist there is nothing to compare.
    fn family(strands: usize, fold: usize, carries: usize) -> impl Iterator<Item = Pattern> {
        let family = Family {
            strands,
            fold,
            carries,
        };
        let locks = |rule: &Pattern| verdict_of_word(&rule.round().word(), rule.strands).locks();
        family.patterns().filter(locks)
    }

    #[test]
    fn a_rule_told_on_a_disc_makes_the_cord_of_the_rule() {
        for (strands, fold, carries) in [(5, 1, 1), (6, 2, 1), (8, 2, 1), (9, 3, 1), (12, 4, 1)] {
            for rule in family(strands, fold, carries) {
                let list = rule.told(32).expect("there is room");
                let braid = Braid::new(&list).unwrap_or_else(|error| panic!("{rule:?}: {error}"));
                let said = compare(&Round::of(&braid), &rule.round());
                assert!(said.is_alike(), "{rule:?}: {said:?}\n{list}");
            }
        }
    }

    #[test]
    fn rules_of_two_lifts_are_told_too() {
        let rules = family(8, 2, 2);
        for rule in rules.step_by(5) {
            let list = rule.told(32).expect("there is room");
            let braid = Braid::new(&list).expect("a braid");
            let said = compare(&Round::of(&braid), &rule.round());
            assert!(said.is_alike(), "{rule:?}: {said:?}\n{list}");
        }
    }

    #[test]
    fn the_spiral_of_eight_is_found_in_as_many_moves_as_makers_tell_it_in() {
        let is_it = |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let spiral = shelf().iter().find(is_it).expect("on the shelf");
        let spiral = Round::of(&Braid::new(&spiral.moves).expect("a braid"));
        let told = family(8, 2, 1)
            .filter(|rule| compare(&rule.round(), &spiral).is_alike())
            .filter_map(|rule| rule.told(32))
            .map(|list| list.steps.len())
            .min();
        assert_eq!(
            told,
            Some(4),
            "two moves north and south, the same east and west"
        );
    }

    #[test]
    fn a_full_disc_has_no_room() {
        assert!(family(8, 2, 1).all(|rule| rule.told(8).is_none()));
    }
}
