//! Which strand lies in which place, and which lies uppermost at the hole.

use crate::structure::{Braid, Move, MoveList, Place};

/// The strands on the disc at one moment.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Lying {
    at: Vec<Place>,
    upwards: Vec<usize>,
}

/// Why a strand cannot be carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CannotCarry {
    /// Nothing lies where it should be taken up.
    #[error("nothing lies there to be taken up")]
    Empty(Place),
    /// Where it should go another strand lies.
    #[error("another strand lies where it should go")]
    Taken(Place),
}

impl Lying {
    /// Strand `i` at `at[i]`, none above another.
    pub fn new(at: Vec<Place>) -> Self {
        let upwards = (0..at.len()).collect();
        Self { at, upwards }
    }

    /// As the strands of a list lie at its start.
    pub fn start(list: &MoveList) -> Self {
        Self::new(list.start.clone())
    }

    /// After so many moves. Strand `i` goes the way that strand `roles[i]` of the
    /// start goes.
    pub fn after(braid: &Braid, roles: &[usize], done: u64) -> Self {
        let done = usize::try_from(done).unwrap_or(usize::MAX);
        let at = braid.places_after(done);
        let lying = Self::new(roles.iter().map(|&role| at[role]).collect());
        let upwards = lying.upwards_by_last_lifts(braid, done);
        Self { upwards, ..lying }
    }

    /// The strands from the lowest to the uppermost: who was carried over others last is
    /// found by taking moves back, at most as many as bring every strand round.
    fn upwards_by_last_lifts(&self, braid: &Braid, done: usize) -> Vec<usize> {
        let most = braid.lifts().len().saturating_mul(braid.strands());
        let mut before = self.clone();
        let mut downwards: Vec<usize> = Vec::with_capacity(self.at.len());
        for lift in (done.saturating_sub(most)..done).rev() {
            let carried = nth_move(braid, lift);
            let Some(strand) = before.strand_in(carried.to) else {
                break;
            };
            if !downwards.contains(&strand) && before.passes_over(strand, carried) {
                downwards.push(strand);
            }
            before.at[strand] = carried.from;
            if downwards.len() == self.at.len() {
                break;
            }
        }
        let others = (0..self.at.len()).filter(|strand| !downwards.contains(strand));
        others.chain(downwards.iter().rev().copied()).collect()
    }

    /// Where each strand lies.
    pub fn places(&self) -> &[Place] {
        &self.at
    }

    /// The strands from the lowest to the uppermost at the hole.
    pub fn upwards(&self) -> &[usize] {
        &self.upwards
    }

    /// The strand that lies uppermost at the hole.
    pub fn uppermost(&self) -> Option<usize> {
        self.upwards.last().copied()
    }

    /// The strand in a place.
    pub fn strand_in(&self, place: Place) -> Option<usize> {
        self.at.iter().position(|&at| at == place)
    }

    /// Carries what lies at `carried.from` over everything; the strand that was carried.
    ///
    /// # Errors
    ///
    /// When nothing lies there, or something where it should go; all is as it was then.
    pub fn carry(&mut self, carried: Move) -> Result<usize, CannotCarry> {
        let strand = self.strand_in(carried.from);
        let strand = strand.ok_or(CannotCarry::Empty(carried.from))?;
        let is_taken = |other: usize| other != strand;
        if self.strand_in(carried.to).is_some_and(is_taken) {
            return Err(CannotCarry::Taken(carried.to));
        }
        if self.passes_over(strand, carried) {
            self.lay_uppermost(strand);
        }
        self.at[strand] = carried.to;
        Ok(strand)
    }

    /// Whether a strand that is carried so comes to lie over others at the hole: it does
    /// unless it is slid along the rim past none of them.
    fn passes_over(&self, strand: usize, carried: Move) -> bool {
        let others = self.at.iter().enumerate().filter(|&(at, _)| at != strand);
        let (Place::Rim(from), Place::Rim(to)) = (carried.from, carried.to) else {
            return self.at.len() > 1;
        };
        let (low, high) = (from.min(to), from.max(to));
        let mut sides = [false; 2];
        for (_, &at) in others {
            if let Place::Rim(half) = at {
                sides[usize::from((low..high).contains(&half))] = true;
            }
        }
        sides == [true; 2]
    }

    fn lay_uppermost(&mut self, strand: usize) {
        self.upwards.retain(|&other| other != strand);
        self.upwards.push(strand);
    }
}

/// A move counted from 0 through all rounds.
fn nth_move(braid: &Braid, lift: usize) -> Move {
    let list = braid.moves();
    let round = braid.lifts().len();
    let slots = i64::from(list.slots);
    let rounds = (lift / round) as i64 % slots;
    let turn = (2 * rounds * i64::from(braid.turn()) % (2 * slots)) as i32;
    let (_, carried) = list.moves().nth(lift % round).expect("within a round");
    Move {
        from: carried.from.turned(turn, list.slots),
        to: carried.to.turned(turn, list.slots),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    #[test]
    fn carrying_move_after_move_is_where_the_braid_says() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let roles: Vec<usize> = (0..braid.strands()).collect();
            let mut lying = Lying::start(&structure.moves);
            let round = braid.lifts().len();
            for done in 0..3 * round {
                let (before, after) = (braid.places_after(done), braid.places_after(done + 1));
                let strand = (0..braid.strands()).find(|&it| before[it] != after[it]);
                let carried = nth_move(&braid, done);
                assert_eq!(lying.carry(carried).ok(), strand, "{}", structure.name);
                let there = Lying::after(&braid, &roles, done as u64 + 1);
                assert_eq!(lying.places(), there.places(), "{} {done}", structure.name);
                assert_eq!(lying.uppermost(), there.uppermost(), "{}", structure.name);
            }
            let there = Lying::after(&braid, &roles, 3 * round as u64);
            assert_eq!(lying.upwards(), there.upwards(), "{}", structure.name);
        }
    }

    #[test]
    fn a_strand_goes_nowhere_where_it_cannot() {
        let mut lying = Lying::new(vec![Place::slot(1), Place::slot(5)]);
        let carry = |lying: &mut Lying, from, to| {
            lying.carry(Move {
                from: Place::slot(from),
                to: Place::slot(to),
            })
        };
        let before = lying.clone();
        assert_eq!(
            carry(&mut lying, 2, 3),
            Err(CannotCarry::Empty(Place::slot(2)))
        );
        assert_eq!(
            carry(&mut lying, 1, 5),
            Err(CannotCarry::Taken(Place::slot(5)))
        );
        assert_eq!(lying, before);
        assert_eq!(carry(&mut lying, 1, 3), Ok(0));
        assert_eq!(lying.places(), [3, 5].map(Place::slot));
    }

    #[test]
    fn a_strand_carried_over_others_lies_uppermost_and_one_slid_along_the_rim_does_not() {
        let mut lying = Lying::new([1, 5, 9, 13].map(Place::slot).to_vec());
        let carry = |lying: &mut Lying, from, to| {
            lying
                .carry(Move {
                    from: Place::slot(from),
                    to: Place::slot(to),
                })
                .unwrap();
        };
        carry(&mut lying, 1, 3);
        assert_eq!(lying.upwards(), [0, 1, 2, 3], "slid past none");
        carry(&mut lying, 3, 7);
        assert_eq!(lying.upwards(), [1, 2, 3, 0], "carried over the one at 5");
        carry(&mut lying, 13, 1);
        assert_eq!(lying.upwards(), [1, 2, 3, 0], "slid past the mark");
        carry(&mut lying, 1, 6);
        assert_eq!(lying.uppermost(), Some(3));
    }
}
