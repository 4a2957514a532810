//! What the hands do next, with which hand, and how the disc lies meanwhile.
//!
//! A *pair* is two motions that belong together: a step of two, or two steps in a row
//! of which the second is the first seen from across the disc or in a mirror.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, TAU};

use crate::structure::{Braid, Move, Place, Way};

/// What the hands do at once: a strand carried, or two exchanged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Motion {
    /// The moves in order: one, or the three that an exchange is told in.
    pub carries: Vec<Move>,
    /// The two places, and the way round, of an exchange by two hands.
    pub exchange: Option<(Place, Place, Way)>,
    /// Moves done when it begins.
    pub begins: u64,
    /// Its place in its pair, counted from 0, and the motions of the pair: one, if it
    /// stands alone, or more, if a step has more.
    pub of_pair: (usize, usize),
}

/// A side of the disc as it lies before the maker, and the hand on that side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other side.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

impl Motion {
    /// How many moves of the list it is.
    pub fn moves(&self) -> u64 {
        self.carries.len() as u64
    }

    /// The same taken back: its moves turned round, the last first.
    pub fn back(&self) -> Vec<Move> {
        let turned = |&Move { from, to }: &Move| Move { from: to, to: from };
        self.carries.iter().rev().map(turned).collect()
    }

    /// On which side of the disc it passes, once the disc was turned clockwise by so
    /// many quarters; none if it passes over the middle. Our guess at which hand does
    /// it: the one on that side.
    pub fn side(&self, slots: u16, quarters: u8) -> Option<Side> {
        let one = self.carries.first()?;
        let point = |place: Place| {
            let angle = place.angle(slots)? + f64::from(quarters) * FRAC_PI_2;
            Some(angle.sin())
        };
        // The hand lies in the middle.
        let aside = point(one.from).unwrap_or(0.0) + point(one.to).unwrap_or(0.0);
        match aside {
            x if x < -1e-9 => Some(Side::Left),
            x if x > 1e-9 => Some(Side::Right),
            _ => None,
        }
    }
}

/// The motions of a braid, through all its rounds.
#[derive(Debug, Clone)]
pub struct Motions {
    round: Vec<Motion>,
    lifts: u64,
    slots: u16,
    turn: i32,
}

impl Motions {
    /// Those of a checked list.
    pub fn of(braid: &Braid) -> Self {
        let mut round = in_a_round(braid);
        pair_up(&mut round, braid.slots());
        Self {
            round,
            lifts: braid.lifts().len() as u64,
            slots: braid.slots(),
            turn: braid.turn(),
        }
    }

    /// Moves in a round.
    pub fn moves_a_round(&self) -> u64 {
        self.lifts
    }

    /// The motion that the move after `done` moves belongs to: between motions the next
    /// one, within an exchange that exchange.
    pub fn at(&self, done: u64) -> Motion {
        let (round, within) = (done / self.lifts, done % self.lifts);
        let motion = self.round.iter().rfind(|motion| motion.begins <= within);
        self.in_round(motion.expect("the first begins a round"), round)
    }

    /// The motion that ends with `done` moves, if any was made.
    pub fn before(&self, done: u64) -> Option<Motion> {
        Some(self.at(done.checked_sub(1)?))
    }

    /// The motions of the pair that the move after `done` moves belongs to, those that
    /// are done among them.
    pub fn pair(&self, done: u64) -> Vec<Motion> {
        let this = self.at(done);
        let mut begins = this.begins;
        for _ in 0..this.of_pair.0 {
            begins = self.before(begins).map_or(begins, |motion| motion.begins);
        }
        let mut pair = Vec::new();
        for _ in 0..this.of_pair.1 {
            pair.push(self.at(begins));
            begins += pair.last().map_or(1, Motion::moves);
        }
        pair
    }

    /// Quarters that the disc is to be turned clockwise so that the pair after `done`
    /// moves is worked as the first of the list is.
    ///
    /// The strand that the pair takes up first lies then where that of the first pair
    /// lay, as nearly as whole quarters bring it there.
    pub fn facing(&self, done: u64) -> u8 {
        let angle = |done: u64| {
            let first = self.pair(done).into_iter().next()?;
            let one = first.carries.first().copied()?;
            one.from.angle(self.slots).or(one.to.angle(self.slots))
        };
        let (Some(first), Some(now)) = (angle(0), angle(done)) else {
            return 0;
        };
        let back = (first - now + FRAC_PI_4).rem_euclid(TAU);
        (back / FRAC_PI_2).floor() as u8 % 4
    }

    fn in_round(&self, motion: &Motion, round: u64) -> Motion {
        let slots = i64::from(self.slots);
        let rounds = (round % u64::from(self.slots)) as i64;
        let turn = (2 * rounds * i64::from(self.turn) % (2 * slots)) as i32;
        let placed = |place: Place| place.turned(turn, self.slots);
        let carried = |one: &Move| Move {
            from: placed(one.from),
            to: placed(one.to),
        };
        Motion {
            carries: motion.carries.iter().map(carried).collect(),
            exchange: motion
                .exchange
                .map(|(a, b, way)| (placed(a), placed(b), way)),
            begins: round * self.lifts + motion.begins,
            of_pair: motion.of_pair,
        }
    }
}

/// The motions of the first round; a step of several is a pair.
fn in_a_round(braid: &Braid) -> Vec<Motion> {
    let mut round = Vec::new();
    let mut begins = 0;
    for step in &braid.moves().steps {
        let exchange = step.as_exchange(braid.slots());
        let at_once = if exchange.is_some() {
            step.moves.len()
        } else {
            1
        };
        let of = step.moves.len().div_ceil(at_once.max(1));
        for (at, carries) in step.moves.chunks(at_once.max(1)).enumerate() {
            round.push(Motion {
                carries: carries.to_vec(),
                exchange,
                begins,
                of_pair: (at, of),
            });
            begins += carries.len() as u64;
        }
    }
    round
}

/// Joins two steps of one motion each, where one is the other from across or mirrored.
fn pair_up(round: &mut [Motion], slots: u16) {
    let mut at = 0;
    while at + 1 < round.len() {
        let [first, second] = [&round[at], &round[at + 1]];
        let stand_alone = first.of_pair.1 == 1 && second.of_pair.1 == 1;
        if stand_alone && belong_together(first, second, slots) {
            round[at].of_pair = (0, 2);
            round[at + 1].of_pair = (1, 2);
            at += 1;
        }
        at += 1;
    }
}

fn belong_together(first: &Motion, second: &Motion, slots: u16) -> bool {
    let ([a], [b]) = (&first.carries[..], &second.carries[..]) else {
        return false;
    };
    let (Place::Rim(af), Place::Rim(at)) = (a.from, a.to) else {
        return false;
    };
    let (Place::Rim(bf), Place::Rim(bt)) = (b.from, b.to) else {
        return false;
    };
    let all = 2 * slots;
    let apart = |x: u16, y: u16| (all + y - x) % all;
    let from_across = apart(af, bf) == slots && apart(at, bt) == slots;
    from_across || (af + bf) % all == (at + bt) % all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Lying;
    use crate::structure::shelf;

    fn spiral() -> Braid {
        let mut shelf = shelf().iter();
        let of_eight = shelf.find(|s| s.name == "Round spiral" && s.strands() == 8);
        Braid::new(&of_eight.unwrap().moves).unwrap()
    }

    #[test]
    fn motions_in_a_row_are_the_braid() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let motions = Motions::of(&braid);
            let mut lying = Lying::start(&structure.moves);
            let mut done = 0;
            while done < 5 * motions.moves_a_round() {
                let motion = motions.at(done);
                assert_eq!(motion.begins, done);
                assert!(motions.pair(done).contains(&motion));
                for &one in &motion.carries {
                    lying.carry(one).unwrap();
                }
                done += motion.moves();
                assert_eq!(lying.places(), braid.places_after(done as usize));
                assert_eq!(motions.before(done), Some(motion), "{}", structure.name);
            }
        }
    }

    #[test]
    fn the_spiral_is_worked_by_both_hands_and_turned_a_quarter_a_pair() {
        let motions = Motions::of(&spiral());
        let hand = |done| motions.at(done).side(32, motions.facing(done));
        let hands: Vec<_> = (0..8).map(hand).collect();
        assert_eq!(hands[0], Some(Side::Left), "up on the left");
        assert_eq!(hands[1], Some(Side::Right), "down on the right");
        assert_eq!(hands[2..], hands[..6], "and the same on the other axis");
        let facing: Vec<u8> = (0..8).map(|done| motions.facing(done)).collect();
        assert_eq!(facing, [0, 0, 3, 3, 0, 0, 3, 3]);
    }

    #[test]
    fn the_eight_strand_spiral_is_worked_in_pairs() {
        let motions = Motions::of(&spiral());
        let places: Vec<_> = (0..4).map(|done| motions.at(done).of_pair).collect();
        assert_eq!(places, [(0, 2), (1, 2), (0, 2), (1, 2)]);
        assert_eq!(motions.pair(5), [motions.at(4), motions.at(5)]);
    }

    #[test]
    fn a_motion_taken_back_is_no_motion() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let before = Lying::start(&structure.moves);
            let mut lying = before.clone();
            let first = Motions::of(&braid).at(0);
            for one in first.carries.iter().copied().chain(first.back()) {
                lying.carry(one).unwrap();
            }
            assert_eq!(lying.places(), before.places(), "{}", structure.name);
        }
    }
}
