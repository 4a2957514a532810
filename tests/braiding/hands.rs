//! The disc in somebody's hands: which strand lies where, worked from the written list
//! alone. Knows nothing of how the program keeps the place.

use plaitwright::structure::{MoveList, Place};

/// A disc with strands, and how far along the list the hands are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Disc {
    /// Half slots where the strands lie, strand by strand.
    pub(crate) at: Vec<u16>,
}

/// The list worked on and on, each round turned on as the last one ended.
#[derive(Debug, Clone)]
pub(crate) struct Pattern {
    slots: u16,
    start: Vec<u16>,
    moves: Vec<(u16, u16)>,
    turn: i32,
}

impl Pattern {
    pub(crate) fn new(list: &MoveList) -> Self {
        let start: Vec<u16> = list.start.iter().map(|&place| half(place)).collect();
        let moves: Vec<(u16, u16)> = list
            .moves()
            .map(|(_, one)| (half(one.from), half(one.to)))
            .collect();
        let mut pattern = Self {
            slots: list.slots,
            start,
            moves,
            turn: 0,
        };
        pattern.turn = pattern.turn_of_a_round();
        pattern
    }

    /// The smallest turn in whole slots that brings the places filled at the start onto
    /// those filled after a round, worked by hand.
    fn turn_of_a_round(&self) -> i32 {
        let mut disc = self.disc();
        for &one in &self.moves {
            disc.carry(one);
        }
        let filled = |mut at: Vec<u16>| {
            at.sort_unstable();
            at
        };
        let goal = filled(disc.at.clone());
        let slots = i32::from(self.slots);
        (0..slots)
            .flat_map(|turn| [turn, -turn])
            .find(|&turn| {
                let turned = self.start.iter().map(|&at| on(at, 2 * turn, self.slots));
                filled(turned.collect()) == goal
            })
            .expect("a round comes back")
    }

    pub(crate) fn disc(&self) -> Disc {
        Disc {
            at: self.start.clone(),
        }
    }

    /// The move after so many, from half slot to half slot.
    pub(crate) fn after(&self, done: usize) -> (u16, u16) {
        let (round, within) = (done / self.moves.len(), done % self.moves.len());
        let turned = |half: u16| {
            let turn = i32::try_from(round).unwrap() * self.turn % i32::from(self.slots);
            on(half, 2 * turn, self.slots)
        };
        let (from, to) = self.moves[within];
        (turned(from), turned(to))
    }

    /// The half slot so many half slots further clockwise.
    pub(crate) fn on(&self, half: u16, by: i32) -> u16 {
        on(half, by, self.slots)
    }

    /// What lies there after so many moves made rightly.
    pub(crate) fn right(&self, done: usize) -> Disc {
        let mut disc = self.disc();
        for at in 0..done {
            disc.carry(self.after(at));
        }
        disc
    }
}

impl Disc {
    /// Carries a strand; the hands never put two in one slot.
    pub(crate) fn carry(&mut self, (from, to): (u16, u16)) {
        let strand = self.at.iter().position(|&at| at == from);
        let strand = strand.unwrap_or_else(|| panic!("nothing lies at half slot {from}"));
        assert!(!self.at.contains(&to), "half slot {to} is taken");
        self.at[strand] = to;
    }

    /// Whether a move can be made.
    pub(crate) fn can(&self, (from, to): (u16, u16)) -> bool {
        self.at.contains(&from) && !self.at.contains(&to)
    }

    /// Slot of each strand, as written on the disc.
    pub(crate) fn slots(&self) -> Vec<u16> {
        self.at.iter().map(|half| half / 2).collect()
    }
}

fn half(place: Place) -> u16 {
    match place {
        Place::Rim(half) => half,
        Place::Hand => panic!("no strand of this list is held"),
    }
}

fn on(half: u16, by: i32, slots: u16) -> u16 {
    let all = 2 * i32::from(slots);
    u16::try_from((i32::from(half) - 2 + by).rem_euclid(all) + 2).unwrap()
}
