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
        let mut lying = Self::new(roles.iter().map(|&role| at[role]).collect());
        // Who was lifted last lies uppermost; a round lifts all that ever move.
        let round = braid.lifts().len();
        let many = round.saturating_mul(braid.strands()).min(done);
        let role_of = |lift: usize| lifted(braid, lift);
        for lift in done - many..done {
            if let Some(strand) = roles.iter().position(|&role| role == role_of(lift)) {
                lying.lay_uppermost(strand);
            }
        }
        lying
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
        self.at[strand] = carried.to;
        self.lay_uppermost(strand);
        Ok(strand)
    }

    fn lay_uppermost(&mut self, strand: usize) {
        self.upwards.retain(|&other| other != strand);
        self.upwards.push(strand);
    }
}

/// Which strand of the start is lifted by a move, counted from 0 through all rounds.
fn lifted(braid: &Braid, lift: usize) -> usize {
    let round = braid.lifts().len();
    let part = braid.lifts()[lift % round].strand;
    // In a later round a part is played by whoever has become it.
    let becomes = braid.becomes();
    (0..braid.strands())
        .find(|&strand| became(becomes, strand, lift / round) == part)
        .expect("every part is played by a strand")
}

/// Whose part a strand plays after so many rounds.
fn became(becomes: &[usize], strand: usize, rounds: usize) -> usize {
    let mut cycle = vec![strand];
    let mut next = becomes[strand];
    while next != strand {
        cycle.push(next);
        next = becomes[next];
    }
    cycle[rounds % cycle.len()]
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
                let strand = lifted(&braid, done);
                let carried = Move {
                    from: before[strand],
                    to: after[strand],
                };
                assert_eq!(lying.carry(carried), Ok(strand), "{}", structure.name);
                let there = Lying::after(&braid, &roles, done as u64 + 1);
                assert_eq!(lying.places(), there.places(), "{} {done}", structure.name);
                assert_eq!(lying.uppermost(), there.uppermost());
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
        assert_eq!(lying.upwards(), [1, 0]);
    }
}
