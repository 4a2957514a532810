//! How a strand that the others do not enclose lies beside them.
//!
//! Asked are the sides to look from, the one of the mark first: a strand that crosses
//! none of the others seen from one of them hangs beside the cord, and one that passes
//! in front of all that it passes lies on it.

use super::linking::{Passes, passes};
use super::word::seen_from;

/// How a strand lies outside the cord.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outside {
    /// It is never lifted.
    NeverLifted,
    /// Seen from some side it crosses no other strand.
    CrossesNone,
    /// Seen from some side it only passes over others.
    OnlyOver,
    /// Seen from some side it only passes under others.
    OnlyUnder,
    /// Crossed both ways, and yet not held.
    NotHeld,
}

impl Outside {
    /// How the strand in a place of a word lies.
    pub(super) fn of(word: &[i32], strands: usize, place: usize) -> Self {
        let seen = |cut: usize| {
            let there = (place + cut) % strands;
            Self::by(passes(&seen_from(word, strands, cut), strands)[there])
        };
        let is_clear = |how: &Self| *how != Self::NotHeld;
        let mut all = (0..strands).map(seen);
        all.find(is_clear).unwrap_or(Self::NotHeld)
    }

    fn by(Passes { over, under }: Passes) -> Self {
        match (over, under) {
            (0, 0) => Self::CrossesNone,
            (_, 0) => Self::OnlyOver,
            (0, _) => Self::OnlyUnder,
            _ => Self::NotHeld,
        }
    }

    /// What is said of the strand called so.
    pub(super) fn sentence(self, name: &str) -> String {
        match self {
            Self::NeverLifted => format!(
                "Strand {name} is never lifted and stays outside the cord: nothing holds it to \
                 the others."
            ),
            Self::CrossesNone => format!(
                "Strand {name} crosses no other strand: it stays outside the cord, and nothing \
                 holds it to the others."
            ),
            Self::OnlyOver => format!(
                "Strand {name} stays outside the cord: it only passes over the others and can be \
                 taken off them."
            ),
            Self::OnlyUnder => format!(
                "Strand {name} stays outside the cord: it only passes under the others, which \
                 can be taken off it."
            ),
            Self::NotHeld => {
                format!("Strand {name} stays outside the cord: nothing holds it to the others.")
            }
        }
    }
}
