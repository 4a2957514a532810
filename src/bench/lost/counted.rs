//! The moves as they were counted, some way back and some way on, with the disc as it
//! should have lain between them.

use std::ops::Range;

use super::Known;
use super::disc::{Carry, Disc, Rim};
use crate::bench::{Lying, Motion, Motions};
use crate::structure::{Place, Way};

/// Moves that a counter may be off.
pub(super) const OFF: u64 = 16;

/// A motion among the counted moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group {
    /// Its moves.
    pub(super) moves: Range<usize>,
    /// Those of its pair.
    pub(super) pair: Range<usize>,
    /// The places, as spots, and the way round, if it is an exchange.
    pub(super) exchange: Option<(u16, u16, Way)>,
    /// Quarters that the disc is turned clockwise when it is made.
    pub(super) facing: u8,
}

/// Moves in a row. Moments are counted from [`Counted::first`]; move `i` leads from
/// moment `i` to moment `i + 1`.
#[derive(Debug, Clone)]
pub(super) struct Counted {
    pub(super) rim: Rim,
    pub(super) strands: usize,
    /// Moves done at moment 0.
    pub(super) first: u64,
    /// The moment that was counted.
    pub(super) now: usize,
    /// How many of the last moves may hold the mistake.
    pub(super) within: usize,
    /// Moves in a round.
    pub(super) round: usize,
    /// Slots clockwise that each round is worked further on than the last.
    pub(super) turn: i32,
    pub(super) moves: Vec<Carry>,
    /// The disc at each moment.
    pub(super) discs: Vec<Disc>,
    /// The motion that each move belongs to.
    pub(super) groups: Vec<Group>,
}

impl Counted {
    pub(super) fn new(known: &Known<'_>) -> Self {
        let motions = Motions::of(known.braid);
        let within = known.within.min(known.done);
        // Whoever takes moves back, or counts too far, comes from further behind.
        let first = motions
            .at(known.done.saturating_sub(2 * within + OFF))
            .begins;
        let mut counted = Self {
            rim: Rim::new(known.braid.slots()),
            strands: known.braid.strands(),
            first,
            now: (known.done - first) as usize,
            within: within as usize,
            round: known.braid.lifts().len(),
            turn: known.braid.turn(),
            moves: Vec::new(),
            discs: vec![start(known, first)],
            groups: Vec::new(),
        };
        let ahead = OFF.max(motions.moves_a_round().min(64));
        let mut at = first;
        while at < known.done + ahead {
            let motion = motions.at(at);
            counted.push(&motions, &motion);
            at += motion.moves();
        }
        counted
    }

    fn push(&mut self, motions: &Motions, motion: &Motion) {
        let begins = self.moves.len();
        let pair = motions.pair(motion.begins);
        let pair_begins = pair.first().map_or(motion.begins, |first| first.begins);
        let behind = motion.begins.saturating_sub(pair_begins) as usize;
        let in_pair: u64 = pair.iter().map(Motion::moves).sum();
        let pair_begins = begins.saturating_sub(behind);
        let spot = |place: Place| self.rim.spot(place).unwrap_or(self.rim.halves);
        let group = Group {
            moves: begins..begins + motion.carries.len(),
            pair: pair_begins..begins + in_pair as usize - behind.min(in_pair as usize),
            exchange: motion.exchange.map(|(a, b, way)| (spot(a), spot(b), way)),
            facing: motions.facing(motion.begins),
        };
        for one in &motion.carries {
            let carry = Carry {
                from: spot(one.from),
                to: spot(one.to),
            };
            let mut disc = self.discs[self.moves.len()].clone();
            if disc.can(carry) {
                disc.carry(carry);
            }
            self.moves.push(carry);
            self.groups.push(group.clone());
            self.discs.push(disc);
        }
    }

    /// Moves done at a moment.
    pub(super) fn done(&self, moment: usize) -> u64 {
        self.first + moment as u64
    }
}

fn start(known: &Known<'_>, first: u64) -> Disc {
    let rim = Rim::new(known.braid.slots());
    let lying = Lying::after(known.braid, known.roles, first);
    let spots: Vec<u16> = lying
        .places()
        .iter()
        .filter_map(|&at| rim.spot(at))
        .collect();
    Disc::new(rim, &spots)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, shelf};

    #[test]
    fn the_discs_are_those_of_the_braid() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let roles: Vec<usize> = (0..braid.strands()).collect();
            let done = 3 * braid.lifts().len() as u64 + 1;
            let counted = Counted::new(&Known {
                braid: &braid,
                roles: &roles,
                done,
                looks: &roles,
                within: 64,
            });
            for (moment, disc) in counted.discs.iter().enumerate() {
                let there = Lying::after(&braid, &roles, counted.done(moment));
                let places = disc.spots(roles.len());
                let places: Vec<Place> =
                    places.into_iter().map(|at| counted.rim.place(at)).collect();
                assert_eq!(places, there.places(), "{} {moment}", structure.name);
            }
            for (at, group) in counted.groups.iter().enumerate() {
                assert!(group.moves.contains(&at) && group.pair.contains(&at));
            }
            assert_eq!(counted.done(counted.now), done);
        }
    }
}
