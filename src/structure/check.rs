//! Works a list once, move by move, and stops at the first fault.

use super::{Fault, Move, MoveList, Place};

/// Smallest disc; four slots are the least that leave a place to move to.
const LEAST_SLOTS: u16 = 4;
/// Largest disc; common discs have 32, our guess at eight times what is made.
const MOST_SLOTS: u16 = 256;
/// Fewest strands; two only twist.
const LEAST_STRANDS: usize = 3;
/// Most strands; twice what is braided on a disc, our guess.
const MOST_STRANDS: usize = 64;
/// Most moves in a round; keeps a broken file from keeping the program busy.
const MOST_MOVES: usize = 4096;

/// One strand carried, with the place names of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Carried {
    pub(super) strand: usize,
    pub(super) step: usize,
    pub(super) from: Place,
    pub(super) to: Place,
}

/// What working a round shows.
#[derive(Debug)]
pub(super) struct Worked {
    pub(super) carried: Vec<Carried>,
    pub(super) end: Vec<Place>,
}

/// Works one round of the list.
pub(super) fn work(list: &MoveList) -> Result<Worked, Fault> {
    check_counts(list)?;
    check_start(list)?;
    let mut hands = Hands {
        slots: list.slots,
        at: list.start.clone(),
        taken_up: 0,
    };
    let carried = list
        .moves()
        .map(|(step, carried)| hands.carry(step, carried))
        .collect::<Result<_, _>>()?;
    if hands.at.contains(&Place::Hand) {
        return Err(Fault::LeftInHand {
            taken_up: hands.taken_up,
        });
    }
    Ok(Worked {
        carried,
        end: hands.at,
    })
}

fn check_counts(list: &MoveList) -> Result<(), Fault> {
    let strands = list.start.len();
    match list.slots {
        0..LEAST_SLOTS => Err(Fault::FewSlots { least: LEAST_SLOTS }),
        slots if slots > MOST_SLOTS => Err(Fault::ManySlots { most: MOST_SLOTS }),
        slots if slots % 2 == 1 => Err(Fault::OddSlots),
        _ if strands < LEAST_STRANDS => Err(Fault::FewStrands {
            strands,
            least: LEAST_STRANDS,
        }),
        _ if strands > MOST_STRANDS => Err(Fault::ManyStrands {
            strands,
            most: MOST_STRANDS,
        }),
        _ => match list.moves().take(MOST_MOVES + 1).count() {
            0 => Err(Fault::NoMoves),
            count if count > MOST_MOVES => Err(Fault::ManyMoves { most: MOST_MOVES }),
            _ => Ok(()),
        },
    }
}

fn check_start(list: &MoveList) -> Result<(), Fault> {
    for (strand, &place) in list.start.iter().enumerate() {
        if place == Place::Hand {
            return Err(Fault::StartInHand);
        }
        if !place.is_on(list.slots) {
            return Err(Fault::StartOffDisc { place });
        }
        if list.start[..strand].contains(&place) {
            return Err(Fault::StartTwice { place });
        }
    }
    Ok(())
}

/// Where every strand is while the list is worked.
struct Hands {
    slots: u16,
    at: Vec<Place>,
    /// Step that filled the hand last.
    taken_up: usize,
}

impl Hands {
    fn carry(&mut self, step: usize, Move { from, to }: Move) -> Result<Carried, Fault> {
        for place in [from, to] {
            if !place.is_on(self.slots) {
                return Err(Fault::OffDisc { step, place });
            }
        }
        if from == to {
            return Err(Fault::Nowhere { step, place: from });
        }
        let strand = self
            .strand_at(from)
            .ok_or(Fault::Empty { step, place: from })?;
        if self.strand_at(to).is_some() {
            return Err(self.taken(step, to));
        }
        if to == Place::Hand {
            self.taken_up = step;
        }
        self.at[strand] = to;
        Ok(Carried {
            strand,
            step,
            from,
            to,
        })
    }

    fn taken(&self, step: usize, place: Place) -> Fault {
        match place {
            Place::Hand => Fault::HandFull {
                step,
                taken_up: self.taken_up,
            },
            Place::Rim(_) => Fault::Taken { step, place },
        }
    }

    fn strand_at(&self, place: Place) -> Option<usize> {
        self.at.iter().position(|&here| here == place)
    }
}
