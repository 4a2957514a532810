//! A list of moves as plain text: a line for every step.
//!
//! ```text
//! # Round spiral of eight. What follows a # is a remark.
//! slots 32
//! start 32 1 8 9 16 17 24 25
//! 17 > 31
//! 1 > 15
//! again 2 on 8
//! turn -1
//! ```
//!
//! * `plate square`: the plate is square, not a disc; before `slots`.
//! * `slots 32`: how many slots all round; before the places.
//! * `start 32 1 8`: where the strands start, in the order of the strands. May
//!   stand on several lines.
//! * `17 > 31`: the strand in slot 17 is carried to slot 31. `16.5` is the place
//!   between slots 16 and 17, `hand` is the hand. On a square plate `N3` is the
//!   third place of the far side, `E`, `S` and `W` are the other sides
//!   clockwise; a bare number counts on from `N1` all round.
//! * `1 > 15 & 9 > 23`: two hands at once.
//! * `1 <> 17 clockwise` (or `anticlockwise`): two hands let the strands of two
//!   places change places, round one another that way.
//! * `again 2 on 8`: the same at the next place: the last two steps once more,
//!   8 slots further clockwise; `back 8` anticlockwise. `times 3` at the end
//!   says how often, each time as far on again.
//! * `rest`: a step in which nothing is moved.
//! * `turn -1`: the slots clockwise that the next round is worked further on;
//!   left out, it is the smallest turn that fits.
//!
//! Case and spacing do not matter. Whether the moves can be made is not asked:
//! that is for [`MoveList::faults`]. What is written is read again as it was.

mod read;

use std::fmt;

use super::{Move, MoveList, Numbering, Place, Plate, Step};

/// Why a text is no list of moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextError {
    /// The line, counted from 1.
    pub line: usize,
    /// The character of the line, counted from 1.
    pub column: usize,
    /// What is wrong there, without a full stop.
    pub what: String,
}

impl fmt::Display for TextError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "line {}, column {}: {}",
            self.line, self.column, self.what
        )
    }
}

impl std::error::Error for TextError {}

impl fmt::Display for MoveList {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.plate == Plate::Square {
            writeln!(f, "plate square")?;
        }
        writeln!(f, "slots {}", self.slots)?;
        write!(f, "start")?;
        for &place in &self.start {
            write!(f, " {}", self.label(place, Numbering::Clockwise))?;
        }
        writeln!(f)?;
        self.write_steps(f)?;
        match self.turn {
            Some(turn) => writeln!(f, "turn {turn}"),
            None => Ok(()),
        }
    }
}

impl MoveList {
    /// The steps, those that come again further on in one line.
    fn write_steps(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut at = 0;
        while at < self.steps.len() {
            let Some(again) = self.longest_again(at) else {
                self.write_step(f, &self.steps[at])?;
                at += 1;
                continue;
            };
            for step in &self.steps[at..at + again.steps] {
                self.write_step(f, step)?;
            }
            writeln!(f, "{again}")?;
            at += again.steps * (again.times + 1);
        }
        Ok(())
    }

    fn write_step(&self, f: &mut fmt::Formatter<'_>, step: &Step) -> fmt::Result {
        let label = |place: Place| self.label(place, Numbering::Clockwise);
        if let Some((a, b, way)) = step.as_exchange(self.slots) {
            return writeln!(f, "{} <> {} {}", label(a), label(b), way.word());
        }
        let moves: Vec<String> = step
            .moves
            .iter()
            .map(|one| format!("{} > {}", label(one.from), label(one.to)))
            .collect();
        match moves.is_empty() {
            true => writeln!(f, "rest"),
            false => writeln!(f, "{}", moves.join(" & ")),
        }
    }

    /// Of the ways to tell steps from `at` on as coming again, the one that
    /// spares most lines, if it spares any.
    fn longest_again(&self, at: usize) -> Option<Again> {
        let longest = (self.steps.len() - at) / 2;
        let way = |steps: usize| {
            let half_slots = self.half_slots_on(at, steps)?;
            let times = (1..)
                .take_while(|&time| self.comes_again(at, steps, half_slots, time))
                .count();
            (steps * times > 1).then_some(Again {
                steps,
                half_slots,
                times,
            })
        };
        // Of two that spare as many, the shorter run.
        (1..=longest)
            .rev()
            .filter_map(way)
            .max_by_key(|again| again.steps * again.times)
    }

    /// How much further on a run of steps comes again, by its first move.
    fn half_slots_on(&self, at: usize, steps: usize) -> Option<i32> {
        let first = |at: usize| self.steps[at].moves.first().copied();
        let (here, there) = (first(at)?, first(at + steps)?);
        let round = 2 * i32::from(self.slots);
        let (Place::Rim(a), Place::Rim(b)) = rim_ends(here, there)? else {
            return None;
        };
        let on = (i32::from(b) - i32::from(a)).rem_euclid(round.max(1));
        Some(if 2 * on > round { on - round } else { on })
    }

    fn comes_again(&self, at: usize, steps: usize, half_slots: i32, time: usize) -> bool {
        let there = at + steps * time;
        let on = half_slots * i32::try_from(time).unwrap_or(0);
        there + steps <= self.steps.len()
            && (0..steps)
                .all(|k| self.steps[there + k] == self.turned_step(&self.steps[at + k], on))
    }

    /// A step so many half slots further clockwise.
    pub(super) fn turned_step(&self, step: &Step, half_slots: i32) -> Step {
        let on = |place: Place| place.turned(half_slots, self.slots);
        let moves = step.moves.iter();
        Step {
            moves: moves.map(|m| Move::from((on(m.from), on(m.to)))).collect(),
        }
    }
}

/// Two places that correspond, of two moves; not the hand.
fn rim_ends(one: Move, other: Move) -> Option<(Place, Place)> {
    [(one.from, other.from), (one.to, other.to)]
        .into_iter()
        .find(|&(a, b)| a != Place::Hand && b != Place::Hand)
}

/// Steps that come again further on.
struct Again {
    steps: usize,
    half_slots: i32,
    times: usize,
}

impl fmt::Display for Again {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let way = if self.half_slots < 0 { "back" } else { "on" };
        let half_slots = self.half_slots.unsigned_abs();
        let half = if half_slots % 2 == 1 { ".5" } else { "" };
        write!(f, "again {} {way} {}{half}", self.steps, half_slots / 2)?;
        match self.times {
            1 => Ok(()),
            times => write!(f, " times {times}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Way, shelf};

    #[test]
    fn the_spiral_of_eight_is_told_in_six_lines() {
        let spiral = shelf()
            .iter()
            .find(|s| s.name == "Round spiral" && s.strands() == 8)
            .expect("on the shelf");
        let text = "slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8\n";
        assert_eq!(spiral.moves.to_string(), text);
    }

    #[test]
    fn every_list_of_the_shelf_is_read_as_it_was_written() {
        for structure in shelf() {
            let text = structure.moves.to_string();
            assert_eq!(text.parse(), Ok(structure.moves.clone()), "{text}");
        }
    }

    #[test]
    fn hands_half_slots_and_two_hands_are_written_as_said_above() {
        let (slot, half) = (Place::slot, Place::Rim(33));
        let list = MoveList {
            slots: 32,
            start: [1, 9, 17].map(slot).into(),
            steps: vec![
                Step {
                    moves: vec![(slot(1), slot(15)).into(), (slot(9), half).into()],
                },
                Step::one(slot(17), Place::Hand),
                Step::default(),
                Step::exchange(slot(1), slot(9), Way::Anticlockwise, 32),
            ],
            turn: Some(-3),
            ..MoveList::default()
        };
        let text = "slots 32\nstart 1 9 17\n1 > 15 & 9 > 16.5\n17 > hand\nrest\n\
                    1 <> 9 anticlockwise\nturn -3\n";
        assert_eq!(list.to_string(), text);
        assert_eq!(text.parse(), Ok(list));
    }

    #[test]
    fn places_of_a_square_plate_are_written_by_side() {
        let list = MoveList {
            plate: Plate::Square,
            slots: 16,
            start: vec![Place::slot(1), Place::Rim(9), Place::slot(16)],
            steps: vec![Step::one(Place::slot(1), Place::slot(7))],
            ..MoveList::default()
        };
        let text = "plate square\nslots 16\nstart N1 N4.5 W4\nN1 > E3\n";
        assert_eq!(list.to_string(), text);
        assert_eq!(text.parse(), Ok(list));
    }
}
