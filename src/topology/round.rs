//! One round as a word that may be begun at any lift and cut at any place.

use crate::structure::Braid;

use super::curves::same_braid;
use super::word::{carried, lift_by_lift, reduced};

/// A round of so many strands, lift by lift.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    /// Number of strands.
    pub strands: usize,
    /// The words of the lifts in order, and as the last one whatever brings the
    /// strands back to where the next round begins. See [`artin`](super::artin)
    /// for the letters.
    pub pieces: Vec<Vec<i32>>,
}

/// Another way to begin a round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Start {
    /// Lifts left out at the beginning and made at the end instead.
    pub(super) lifts: usize,
    /// Places by which the cut is moved on clockwise.
    pub(super) places: usize,
    /// Whether the line of places is besides turned about its middle by a half.
    pub(super) half_turn: bool,
    /// The word that leads there.
    pub(super) way: Vec<i32>,
}

impl Round {
    /// One round of a checked list.
    pub fn of(braid: &Braid) -> Self {
        Self {
            strands: braid.strands(),
            pieces: lift_by_lift(braid),
        }
    }

    /// Its word.
    pub fn word(&self) -> Vec<i32> {
        reduced(&self.pieces.concat())
    }

    /// The round in a mirror: the other hand.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            strands: self.strands,
            pieces: self
                .pieces
                .iter()
                .map(|piece| self.counted_from_right(piece, -1))
                .collect(),
        }
    }

    /// The round of the same cord turned upside down: what was last comes first,
    /// and clockwise is now anticlockwise.
    #[must_use]
    pub fn upside_down(&self) -> Self {
        let back = |piece: &Vec<i32>| {
            let mut piece = self.counted_from_right(piece, 1);
            piece.reverse();
            piece
        };
        Self {
            strands: self.strands,
            pieces: self.pieces.iter().rev().map(back).collect(),
        }
    }

    /// Places counted from the other end; signs as they are or changed.
    fn counted_from_right(&self, piece: &[i32], sign: i32) -> Vec<i32> {
        let all = self.strands as i32;
        let letter = |letter: &i32| sign * letter.signum() * (all - letter.abs());
        piece.iter().map(letter).collect()
    }

    /// All ways to begin the round, the given one first.
    pub(super) fn starts(&self) -> impl Iterator<Item = Start> {
        (0..self.pieces.len().max(1)).flat_map(move |lifts| {
            let led = self.pieces[..lifts].concat();
            (0..self.strands).map(move |places| {
                let mut way = led.clone();
                carried(&mut way, self.strands, places as i32);
                Start {
                    lifts,
                    places,
                    half_turn: false,
                    way: reduced(&way),
                }
            })
        })
    }

    /// The same, and each with a half turn besides.
    pub(super) fn starts_and_half_turns(&self) -> impl Iterator<Item = Start> {
        let half = half_turn(self.strands);
        let turned = move |start: Start| Start {
            half_turn: true,
            way: [&start.way[..], &half].concat(),
            ..start
        };
        self.starts().chain(self.starts().map(turned))
    }
}

/// The line of places turned about its middle, every two strands crossed once.
fn half_turn(strands: usize) -> Vec<i32> {
    (1..strands as i32)
        .rev()
        .flat_map(|last| 1..=last)
        .collect()
}

impl Start {
    /// Whether a word, begun like this, is another one.
    pub(super) fn makes(&self, word: &[i32], other: &[i32], strands: usize) -> bool {
        let first = [word, &self.way].concat();
        let second = [&self.way, other].concat();
        same_braid(&first, &second, strands)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{MoveList, shelf};
    use crate::topology::full_turns;

    #[test]
    fn two_half_turns_are_a_whole_one() {
        for strands in 2..7 {
            let twice = half_turn(strands).repeat(2);
            assert!(same_braid(&twice, &full_turns(strands, 1), strands));
        }
    }

    #[test]
    fn the_mirrored_list_makes_the_round_in_the_mirror() {
        for structure in shelf().iter().filter(|one| one.strands() <= 12) {
            let of = |list: &MoveList| Round::of(&Braid::new(list).expect("a braid"));
            let mirrored = of(&structure.moves.mirrored());
            let expected = of(&structure.moves).mirrored();
            let strands = structure.strands();
            assert!(same_braid(&mirrored.word(), &expected.word(), strands));
        }
    }

    #[test]
    fn a_mirror_and_a_cord_upside_down_go_back_when_done_twice() {
        let round = Round {
            strands: 5,
            pieces: vec![vec![1, 2], vec![-4, -3], vec![3]],
        };
        assert_eq!(round.mirrored().mirrored(), round);
        assert_eq!(round.upside_down().upside_down(), round);
    }
}
