//! A list of moves as it is worked, round after round, on a disc of our own.

use plaitwright::structure::MoveList;

use super::disc::{Carry, Disc, HAND, Spot, mirrored, spot, turned};

/// A written list, unrolled.
#[derive(Debug, Clone)]
pub(crate) struct Work {
    pub(crate) slots: usize,
    start: Vec<Spot>,
    round: Vec<Carry>,
    /// Slots clockwise that each round is worked further on than the last.
    turn: i64,
}

impl Work {
    pub(crate) fn new(list: &MoveList) -> Self {
        let mut work = Self {
            slots: usize::from(list.slots),
            start: list.start.iter().copied().map(spot).collect(),
            round: list.moves().map(|(_, one)| Carry::of(one)).collect(),
            turn: 0,
        };
        work.turn = list.turn.map_or_else(|| work.smallest_turn(), i64::from);
        work
    }

    pub(crate) fn strands(&self) -> usize {
        self.start.len()
    }

    /// Moves in a round.
    pub(crate) fn a_round(&self) -> u64 {
        self.round.len() as u64
    }

    /// The move after so many.
    pub(crate) fn carry(&self, after: u64) -> Carry {
        let on = self.gone_on(after);
        let within = usize::try_from(after % self.a_round()).expect("a short list");
        self.round[within].moved(|spot| turned(spot, on, self.slots))
    }

    pub(crate) fn carries(&self, moves: std::ops::Range<u64>) -> Vec<Carry> {
        moves.map(|after| self.carry(after)).collect()
    }

    /// A spot as a mirror shows it that stands across the disc on the line that the round
    /// of the move after so many is laid out from, or square to that line.
    pub(crate) fn mirrored(&self, spot: Spot, square: bool, after: u64) -> Spot {
        let on = self.gone_on(after);
        let shown = mirrored(turned(spot, -on, self.slots), square, self.slots);
        turned(shown, on, self.slots)
    }

    /// Half slots clockwise that the round of the move after so many has gone on.
    fn gone_on(&self, after: u64) -> i64 {
        2 * self.turn * i64::try_from(after / self.a_round()).expect("few rounds")
    }

    /// The disc after so many moves, if strand `i` goes the way of `roles[i]`.
    pub(crate) fn disc(&self, roles: &[usize], after: u64) -> Disc {
        let at = roles.iter().map(|&role| self.start[role]);
        let mut disc = Disc::laid(self.slots, at);
        for one in self.carries(0..after) {
            assert!(disc.carry(one), "a list of the shelf can be worked");
        }
        disc
    }

    /// The moves that are made as one pair with the move after so many: two in a row
    /// of which one is the other seen from across the disc, or in the mirror; else the
    /// move and the next.
    pub(crate) fn pair(&self, after: u64) -> u64 {
        let first = after - (after % self.a_round()) % 2;
        let here = [first, after.saturating_sub(1), after];
        let pair = here.into_iter().find(|&first| self.is_pair(first));
        pair.unwrap_or(after)
    }

    pub(crate) fn is_pair(&self, first: u64) -> bool {
        let (one, two) = (self.carry(first), self.carry(first + 1));
        let across = |spot| turned(spot, self.slots as i64, self.slots);
        let mirror =
            (one.from + two.from) % (2 * self.slots) == (one.to + two.to) % (2 * self.slots);
        one.moved(across) == two || mirror
    }

    /// The smallest turn that brings the start places onto the end places; of two as
    /// small, the way most strands were carried.
    fn smallest_turn(&self) -> i64 {
        let mut disc = Disc::laid(self.slots, self.start.iter().copied());
        let mut drift = 0;
        for &one in &self.round {
            assert!(disc.carry(one), "a list of the shelf can be worked");
            if one.from != HAND && one.to != HAND {
                drift += shorter_way(one, self.slots);
            }
        }
        let way = if drift < 0 { -1 } else { 1 };
        let fits = |turn: &i64| {
            let mut places = self.start.iter();
            places.all(|&spot| !disc.is_free(turned(spot, 2 * turn, self.slots)))
        };
        let half = self.slots as i64 / 2;
        let mut turns = (0..=half).flat_map(|turn| [way * turn, -way * turn]);
        turns.find(fits).expect("a round comes back")
    }
}

/// Half slots clockwise from one end to the other; none if it is straight across.
fn shorter_way(one: Carry, slots: usize) -> i64 {
    let (all, half) = (2 * slots as i64, slots as i64);
    match (one.to as i64 - one.from as i64).rem_euclid(all) {
        on if on == half => 0,
        on if on > half => on - all,
        on => on,
    }
}
