//! Ready move lists.
//!
//! Moves only: no figure of any cord is kept here, and nothing in the program
//! asks which of them it has in hand.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::MoveList;

/// What kind of cord a list is meant to make; a word for sorting, nothing else
/// depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Shape {
    /// Round.
    Round,
    /// Square.
    Square,
    /// Flat.
    Flat,
    /// A tube.
    Hollow,
}

impl Shape {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Square => "square",
            Self::Flat => "flat",
            Self::Hollow => "hollow",
        }
    }
}

/// A ready list with its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Structure {
    /// Plain words; lists for different numbers of strands may share a name.
    pub name: String,
    /// What the trade calls it, where that is sure; empty otherwise.
    #[serde(default)]
    pub trade_name: String,
    /// What kind of cord it is meant to make.
    pub shape: Shape,
    /// One line more.
    pub remark: String,
    /// The moves of one round.
    pub moves: MoveList,
}

impl Structure {
    /// Number of strands.
    pub fn strands(&self) -> usize {
        self.moves.start.len()
    }

    /// Whether every word typed is part of a name, its shape or its remark, or is
    /// its number of strands.
    pub fn matches(&self, typed: &str) -> bool {
        let names = format!("{} {}", self.name, self.trade_name);
        let told = format!("{names} {} {}", self.shape.word(), self.remark).to_lowercase();
        let strands = self.strands().to_string();
        let is_met = |word: &str| told.contains(word) || word == strands;
        typed.to_lowercase().split_whitespace().all(is_met)
    }
}

/// The ready lists, by number of strands.
///
/// The other hand of each comes by [`MoveList::mirrored`].
pub fn shelf() -> &'static [Structure] {
    static SHELF: LazyLock<Vec<Structure>> = LazyLock::new(|| {
        ron::from_str(include_str!("../../resources/structures.ron"))
            .expect("the bundled shelf is read by a test")
    });
    &SHELF
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Braid;

    #[test]
    fn every_list_on_the_shelf_is_a_braid_in_both_hands() {
        for structure in shelf() {
            let named = format!("{} of {}", structure.name, structure.strands());
            for list in [structure.moves.clone(), structure.moves.mirrored()] {
                let braid = Braid::new(&list).unwrap_or_else(|fault| panic!("{named}: {fault}"));
                assert!(braid.never_lifted().is_empty(), "{named}");
            }
        }
    }

    #[test]
    fn the_shelf_goes_from_three_strands_to_thirty_two_in_order() {
        let strands: Vec<usize> = shelf().iter().map(Structure::strands).collect();
        assert!(strands.is_sorted());
        for wanted in [3, 4, 5, 6, 7, 8, 10, 12, 16, 20, 24, 28, 32] {
            assert!(strands.contains(&wanted), "{wanted} strands");
        }
    }

    #[test]
    fn plain_words_and_trade_names_find_a_structure() {
        let found = |typed: &str| shelf().iter().filter(|s| s.matches(typed)).count();
        assert_eq!(found(""), shelf().len());
        assert_eq!(found("Kongo gumi"), 1);
        assert_eq!(found("maru yotsu"), 1);
        assert_eq!(found("Edo Yatsu"), 1);
        assert_eq!(found("hop over"), 2);
        assert_eq!(found("8 square"), 2);
        assert!(found("hollow twill") >= 2);
        assert_eq!(found("climbing rope"), 0);
    }

    #[test]
    fn name_and_number_of_strands_tell_the_lists_apart() {
        for (index, structure) in shelf().iter().enumerate() {
            let same = |other: &Structure| {
                other.name == structure.name && other.strands() == structure.strands()
            };
            assert!(!shelf()[..index].iter().any(same), "{}", structure.name);
        }
    }
}
