//! What we guess about hands and eyes. All numbers of the diagnosis stand here, and all
//! are our guess: nobody has counted the mistakes of makers.

use super::slip::Kind;
use crate::bench::Sign;

/// How likely each kind is before anything is seen.
pub(super) const KINDS: [(Kind, f64); 10] = [
    (Kind::Right, 0.02),
    (Kind::Place, 0.12),
    (Kind::Skipped, 0.20),
    (Kind::Doubled, 0.10),
    (Kind::Hand, 0.08),
    (Kind::Slot, 0.15),
    (Kind::Strand, 0.11),
    (Kind::Turned, 0.08),
    (Kind::Swapped, 0.06),
    (Kind::Reversed, 0.03),
];

/// Two mistakes.
pub(super) const TWO: f64 = 0.04;

/// Something else.
pub(super) const OTHER: f64 = 0.01;

/// How likely a kind is before anything is seen.
pub(super) fn of_kind(kind: Kind) -> f64 {
    let found = KINDS.iter().find(|(one, _)| *one == kind);
    found.map_or(0.0, |(_, likely)| *likely)
}

/// Among mistakes of a kind: of one motion, of a pair, of a round.
pub(super) const OF_SO_MANY: [f64; 3] = [3.0, 2.0, 1.0];
/// The same of two moves in a row that are no pair.
pub(super) const OF_ANY_TWO: f64 = 0.5;
/// Laid so many slots beside, by one and by two.
pub(super) const BESIDE_BY: [f64; 2] = [2.0, 1.0];
/// Worked in the other direction: taken back, in a mirror, in the reverse order.
pub(super) const DIRECTIONS: [f64; 3] = [4.0, 4.0, 0.5];

/// The other hand works in the mirror between the strand and its neighbour, or in one of
/// the two mirrors that the round is laid out by.
pub(super) const MIRRORS: [f64; 2] = [2.0, 1.0];

/// How likely the counter is off by so many moves, beside by one.
pub(super) fn off_by(moves: usize) -> f64 {
    (4.0 / moves.max(1) as f64).powi(2).min(1.0)
}

/// How likely a mistake is still unseen after so many moves, beside one just made:
/// nearly all are seen within sixteen moves.
pub(super) fn unseen_for(moves: usize) -> f64 {
    let age = moves.max(1) as f64;
    (16.0 / age).powi(6).min(1.0)
}

/// Where a counted move cannot be made hands stop while the counter goes on: rarely, for
/// whoever stops looks at the counter too.
pub(super) const STOP: f64 = 0.02;
/// They leave out what cannot be made.
pub(super) const LEAVE_OUT: f64 = 0.03;
/// They take the nearest strand and the next free slot.
pub(super) const PICTURE: f64 = 1.0 - NOTICED - STOP - LEAVE_OUT;
/// They see that something is wrong, and look at the disc instead of going on.
pub(super) const NOTICED: f64 = 0.50;
/// Where the next counted move cannot be made, it is so many times as likely that they
/// look at the disc now as at any other moment: about half stop there for certain, and
/// anybody stops at one moment of some sixteen for other reasons.
pub(super) const STUCK: f64 = 8.0;
/// So many slots away a strand or a slot is still taken for the right one.
pub(super) const REACH: i32 = 3;

/// A strand is told in the slot beside its own.
pub(super) const BESIDE: f64 = 0.002;
/// A look is taken for another.
pub(super) const LOOK: f64 = 0.002;
/// A strand is overlooked, or seen where none is.
pub(super) const OVERLOOKED: f64 = 0.0005;
/// An answer to a question is wrong.
pub(super) const ANSWER: f64 = 0.025;

/// How likely a sign is told when the cord holds a mistake of a kind.
pub(super) fn sign(kind: Kind, sign: Sign) -> f64 {
    let [fat, knee, cross, float] = match kind {
        Kind::Right | Kind::Place => [0.02, 0.02, 0.02, 0.02],
        Kind::Skipped => [0.10, 0.30, 0.05, 0.60],
        Kind::Doubled => [0.50, 0.20, 0.10, 0.10],
        Kind::Hand => [0.15, 0.40, 0.40, 0.20],
        Kind::Slot => [0.03, 0.10, 0.03, 0.10],
        Kind::Strand => [0.15, 0.40, 0.40, 0.30],
        Kind::Turned => [0.30, 0.40, 0.40, 0.30],
        Kind::Swapped => [0.05, 0.15, 0.50, 0.15],
        Kind::Reversed => [0.30, 0.50, 0.30, 0.30],
    };
    match sign {
        Sign::Fat => fat,
        Sign::Knee => knee,
        Sign::Cross => cross,
        Sign::LongFloat => float,
    }
}

/// Of signs that might have been told and were not, so much counts.
pub(super) const UNTOLD: f64 = 0.5;

/// To this power goes what was found likely: of all the stories that fit, many are told
/// that hardly anybody makes, and together they take from the likely ones. Tried: by
/// how much first answers held more often than was stated.
pub(super) const SHARP: f64 = 1.25;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_kinds_are_all_there_is() {
        let kinds: f64 = KINDS.iter().map(|(_, likely)| likely).sum();
        assert!((kinds + TWO + OTHER - 1.0).abs() < 1e-9, "{kinds}");
    }

    #[test]
    fn old_mistakes_are_less_likely_to_be_still_unseen() {
        let ages: Vec<f64> = (1..64).map(unseen_for).collect();
        assert!(ages.windows(2).all(|two| two[0] >= two[1]));
        assert!(ages[15] > 10.0 * ages[62]);
    }
}
