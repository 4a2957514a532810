//! How a maker works at the disc; remembered between runs.

use eframe::egui::Key;
use serde::{Deserialize, Serialize};

use crate::bench::Side;

/// How she works at the disc.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Habits {
    /// Whether her disc turns under her hands, or stays and the hands go round.
    pub disc_turns: bool,
    /// Whether the two motions of a pair are stepped together.
    pub pairs: bool,
    /// Whether one hand makes every move while the other holds the disc.
    pub one_hand: bool,
    /// Whether the left hand makes the moves that either hand could.
    pub left_handed: bool,
    /// Whether the move after the next is shown as well, faint.
    pub following: bool,
    /// Whether pictures change at once, without moving.
    pub still: bool,
    /// Whether every move is spoken.
    pub speaking: bool,
    /// Whether every step ticks.
    pub tick: bool,
    /// A key of her own that goes on, by its name: pedals send many.
    pub own_key: Option<String>,
}

impl Default for Habits {
    fn default() -> Self {
        Self {
            disc_turns: true,
            pairs: false,
            one_hand: false,
            left_handed: false,
            following: true,
            still: false,
            speaking: false,
            tick: false,
            own_key: None,
        }
    }
}

impl Habits {
    /// The hand that makes a move which passes on this side of the disc, or over its
    /// middle.
    pub fn hand(&self, passes: Option<Side>) -> Side {
        let own = if self.left_handed {
            Side::Left
        } else {
            Side::Right
        };
        passes.filter(|_| !self.one_hand).unwrap_or(own)
    }

    /// Her own key that goes on.
    pub fn own_key(&self) -> Option<Key> {
        self.own_key.as_deref().and_then(Key::from_name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_hand_works_on_its_side_unless_one_does_all() {
        let mut habits = Habits::default();
        assert_eq!(habits.hand(Some(Side::Left)), Side::Left);
        assert_eq!(habits.hand(None), Side::Right, "over the middle");
        habits.left_handed = true;
        assert_eq!(habits.hand(Some(Side::Right)), Side::Right);
        assert_eq!(habits.hand(None), Side::Left);
        habits.one_hand = true;
        assert_eq!(habits.hand(Some(Side::Right)), Side::Left);
    }
}
