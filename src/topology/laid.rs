//! A rule laid out on the slots of a disc, as moves that hands can make.
//!
//! Every carried strand lands in the middle of its gap; where the gap is full,
//! neighbours slide on first. After as many rules as bring it round, the strands
//! slide back into the slots they started from.

use crate::structure::{Move, MoveList, Place, Step};

use super::pattern::Pattern;

impl Pattern {
    /// The moves of a round on a disc of so many slots: the rule so many times as
    /// it takes to come round. `None` if there are fewer than two slots for each
    /// strand, or an odd number.
    pub fn moves(&self, slots: u16) -> Option<MoveList> {
        let all = usize::from(slots);
        if all < 2 * self.strands || all % 2 == 1 {
            return None;
        }
        let start: Vec<usize> = (0..self.strands)
            .map(|place| place * all / self.strands)
            .collect();
        let mut rim = Rim::new(all, start.clone(), place);
        let mut first = 0;
        for _ in 0..self.repeats() {
            for hops in self.hops().chunks(self.fold) {
                hops.iter().for_each(|&(from, to)| rim.hop(from, to));
            }
            rim.at.rotate_left(self.turn);
            first += self.turn;
        }
        let goals = (0..self.strands).map(|rank| start[(rank + first) % self.strands]);
        rim.slide_to(&goals.collect::<Vec<_>>());
        Some(MoveList {
            slots,
            start: start.into_iter().map(place).collect(),
            steps: rim.steps,
            ..MoveList::default()
        })
    }
}

/// Slots are counted from 0 here.
fn place(slot: usize) -> Place {
    Place::slot(u16::try_from(slot + 1).expect("a slot of the disc"))
}

/// The slides that bring every strand of a disc to its goal, none past another: the
/// first strand the shorter way round. Strands and goals in rim order from any
/// place; nothing if they are not as many, or not in that order.
pub(super) fn slides(slots: u16, from: &[Place], to: &[Place]) -> Option<Vec<Step>> {
    let all = 2 * usize::from(slots);
    let half_slots = |places: &[Place]| -> Option<Vec<usize>> {
        let half_slot = |place: &Place| match place {
            Place::Rim(half) => Some(usize::from(*half).checked_sub(2)?),
            Place::Hand => None,
        };
        places.iter().map(half_slot).collect()
    };
    let in_order = |at: &[usize]| {
        let next = at.iter().cycle().skip(1);
        let round: usize = at
            .iter()
            .zip(next)
            .map(|(here, next)| (next + all - here) % all)
            .sum();
        round == all
    };
    let (from, to) = (half_slots(from)?, half_slots(to)?);
    if from.len() != to.len() || !in_order(&from) || !in_order(&to) {
        return None;
    }
    let between = |half: usize| Place::Rim(u16::try_from(half + 2).expect("a place of the disc"));
    let mut rim = Rim::new(all, from, between);
    rim.slide_to(&to);
    Some(rim.steps)
}

/// Strands on the rim while a rule is worked.
struct Rim {
    /// Slots, or half slots, all round.
    slots: usize,
    /// The name of each.
    named: fn(usize) -> Place,
    /// The slot of each strand, in rank order clockwise from the rule's first
    /// place.
    at: Vec<usize>,
    steps: Vec<Step>,
}

impl Rim {
    fn new(slots: usize, at: Vec<usize>, named: fn(usize) -> Place) -> Self {
        Self {
            slots,
            named,
            at,
            steps: Vec::new(),
        }
    }

    fn carry(&mut self, from: usize, to: usize) {
        self.steps.push(Step {
            moves: vec![Move {
                from: (self.named)(from),
                to: (self.named)(to),
            }],
        });
    }

    /// Slots clockwise from one to the other; all round if they are the same.
    fn clockwise(&self, from: usize, to: usize) -> usize {
        (to + self.slots - from - 1) % self.slots + 1
    }

    fn next(&self, rank: usize) -> usize {
        (rank + 1) % self.at.len()
    }

    /// Carries the strand of one rank into the middle of the gap at another.
    fn hop(&mut self, from: usize, to: usize) {
        let strands = self.at.len();
        let mover = self.at[from];
        let mut others = self.at.clone();
        others.remove(from);
        let before = (to + strands - 2) % (strands - 1);
        let after = to % (strands - 1);
        if self.clockwise(others[before], others[after]) < 2 {
            let rank = |other: usize| if other < from { other } else { other + 1 };
            self.make_room(rank(after));
            return self.hop(from, to);
        }
        let half = self.clockwise(others[before], others[after]) / 2;
        let goal = (others[before] + half) % self.slots;
        if goal != mover {
            self.carry(mover, goal);
        }
        self.at.remove(from);
        self.at.insert(to, goal);
    }

    /// Slides a strand one slot on clockwise, those before it first.
    fn make_room(&mut self, rank: usize) {
        let next = self.next(rank);
        if self.clockwise(self.at[rank], self.at[next]) < 2 {
            self.make_room(next);
        }
        let goal = (self.at[rank] + 1) % self.slots;
        self.carry(self.at[rank], goal);
        self.at[rank] = goal;
    }

    /// Slides all strands to their goals, none past another.
    fn slide_to(&mut self, goals: &[usize]) {
        let mut ways = self.ways(goals);
        while let Some(rank) = self.free(&ways) {
            let goal = self.reachable(rank, ways[rank]);
            ways[rank] -= goal;
            let to = (self.at[rank] as i64 + goal).rem_euclid(self.slots as i64) as usize;
            self.carry(self.at[rank], to);
            self.at[rank] = to;
        }
    }

    /// Slots that each strand has to go, clockwise positive: the first the
    /// shorter way, the others beside it.
    fn ways(&self, goals: &[usize]) -> Vec<i64> {
        let all = self.slots as i64;
        let apart = |from: usize, to: usize| (self.clockwise(from, to) as i64) % all;
        let shorter = (apart(self.at[0], goals[0]) + all / 2) % all - all / 2;
        let way =
            |rank: usize| shorter + apart(goals[0], goals[rank]) - apart(self.at[0], self.at[rank]);
        (0..self.at.len()).map(way).collect()
    }

    /// A strand that can go on: all the way if there is one, else some of it.
    fn free(&self, ways: &[i64]) -> Option<usize> {
        let ranks = || (0..ways.len()).filter(|&rank| ways[rank] != 0);
        ranks()
            .find(|&rank| self.reachable(rank, ways[rank]) == ways[rank])
            .or_else(|| ranks().find(|&rank| self.reachable(rank, ways[rank]) != 0))
    }

    /// How much of a way is free of other strands.
    fn reachable(&self, rank: usize, way: i64) -> i64 {
        let before = (rank + self.at.len() - 1) % self.at.len();
        let ahead = self.clockwise(self.at[rank], self.at[self.next(rank)]) as i64 - 1;
        let behind = self.clockwise(self.at[before], self.at[rank]) as i64 - 1;
        way.clamp(-behind, ahead)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Braid;
    use crate::topology::word::carried;
    use crate::topology::{Carry, Family, Round, compare, full_turns, same_braid, writhe};

    #[track_caller]
    fn assert_laid(pattern: &Pattern, slots: u16) {
        let list = pattern.moves(slots).expect("room");
        let braid = Braid::new(&list).unwrap_or_else(|fault| panic!("{pattern:?}: {fault}"));
        let found = Round::of(&braid).word();
        let mut wanted = pattern.round().word().repeat(pattern.repeats());
        // The rule goes on round the disc, the list begins again at its start.
        let gone_on = pattern.repeats() * pattern.turn;
        carried(&mut wanted, pattern.strands, -(gone_on as i32));
        let strands = pattern.strands as i32;
        let turns = (writhe(&found) - writhe(&wanted)) / (strands * (strands - 1));
        let turned = [wanted, full_turns(pattern.strands, turns)].concat();
        let alike = same_braid(&found, &turned, pattern.strands);
        assert!(alike, "{pattern:?} {list:?}");
    }

    #[test]
    fn every_rule_with_two_opposite_lifts_twice_can_be_worked_on_a_disc() {
        let family = Family {
            strands: 8,
            fold: 2,
            carries: 2,
        };
        family
            .patterns()
            .for_each(|pattern| assert_laid(&pattern, 32));
    }

    #[test]
    fn rules_of_one_lift_are_laid_on_discs_with_few_slots_too() {
        for strands in 4..=11 {
            let family = Family {
                strands,
                fold: 1,
                carries: 1,
            };
            for pattern in family.patterns() {
                assert_laid(&pattern, 2 * strands as u16);
                assert_laid(&pattern, 32);
            }
        }
    }

    #[test]
    fn slides_lead_to_the_goals_past_nobody() {
        let mut random = fastrand::Rng::with_seed(11);
        for _ in 0..300 {
            let strands = random.usize(3..12);
            let mut places = || {
                let mut halves: Vec<u16> = (2..26).collect();
                random.shuffle(&mut halves);
                halves.truncate(strands);
                halves.sort_unstable();
                halves.rotate_left(random.usize(0..strands));
                halves.into_iter().map(Place::Rim).collect::<Vec<_>>()
            };
            let (from, to) = (places(), places());
            let mut at = from.clone();
            for step in slides(12, &from, &to).expect("in order") {
                let Move { from, to } = step.moves[0];
                assert!(!at.contains(&to));
                let who = at.iter().position(|&here| here == from);
                at[who.expect("a strand")] = to;
                let all = (0..strands).map(|rank| (at[rank], at[(rank + 1) % strands]));
                let round: i32 = all.map(|(here, next)| clockwise(here, next)).sum();
                assert_eq!(round, 24, "still in order");
            }
            assert_eq!(at, to);
        }
    }

    fn clockwise(from: Place, to: Place) -> i32 {
        let half = |place| match place {
            Place::Rim(half) => i32::from(half),
            Place::Hand => panic!("on the rim"),
        };
        (half(to) - half(from)).rem_euclid(24)
    }

    #[test]
    fn strands_out_of_order_have_no_slides() {
        let [a, b, c] = [1, 5, 9].map(Place::slot);
        assert_eq!(slides(12, &[a, b, c], &[b, a, c]), None);
        assert_eq!(slides(12, &[a, b, c], &[b, c]), None);
        assert_eq!(slides(12, &[a, b, c], &[a, b, c]), Some(Vec::new()));
    }

    #[test]
    fn a_disc_with_too_few_slots_is_refused() {
        let pattern = Pattern {
            strands: 16,
            fold: 1,
            carries: vec![Carry { place: 0, past: 2 }],
            turn: 1,
        };
        assert!(pattern.moves(32).is_some());
        assert!(pattern.moves(30).is_none());
        let braid = Braid::new(&pattern.moves(32).expect("room")).expect("a braid");
        assert!(compare(&Round::of(&braid), &pattern.round()).is_alike());
    }
}
