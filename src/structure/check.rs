//! Works a list once, move by move, and notes every fault.
//!
//! After a fault the work goes on as if that move had not been made. What goes
//! wrong later in a place that a faulty move named may be no more than its
//! consequence, and is not noted.

use super::{Fault, Move, MoveList, Place, Plate};

/// Smallest disc; four slots are the least that leave a place to move to.
const LEAST_SLOTS: u16 = 4;
/// Largest disc; common discs have 32, our guess at eight times what is made.
pub(super) const MOST_SLOTS: u16 = 256;
/// Fewest strands; two only twist.
const LEAST_STRANDS: usize = 3;
/// Most strands; twice what is braided on a disc, our guess.
pub(super) const MOST_STRANDS: usize = 64;
/// Most moves in a round; keeps a broken file from keeping the program busy.
pub(super) const MOST_MOVES: usize = 4096;

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
    /// The moves that could be made.
    pub(super) carried: Vec<Carried>,
    /// Where every strand is at the end.
    pub(super) end: Vec<Place>,
    /// What went wrong, in the order in which it did.
    pub(super) faults: Vec<Fault>,
}

/// Works one round of the list.
pub(super) fn work(list: &MoveList) -> Worked {
    let mut hands = Hands::new(list);
    let before = check_counts(list).err().into_iter().collect::<Vec<_>>();
    hands.faults = if before.is_empty() {
        check_start(list)
    } else {
        before
    };
    if hands.faults.is_empty() {
        for (index, step) in list.steps.iter().enumerate() {
            hands.make(index + 1, &step.moves);
        }
        hands.end();
    }
    Worked {
        carried: hands.carried,
        end: hands.at,
        faults: hands.faults,
    }
}

fn check_counts(list: &MoveList) -> Result<(), Fault> {
    check_slots(list)?;
    let strands = list.start.len();
    if strands < LEAST_STRANDS {
        let least = LEAST_STRANDS;
        return Err(Fault::FewStrands { strands, least });
    }
    if strands > MOST_STRANDS {
        let most = MOST_STRANDS;
        return Err(Fault::ManyStrands { strands, most });
    }
    match list.moves().take(MOST_MOVES + 1).count() {
        0 => Err(Fault::NoMoves),
        count if count > MOST_MOVES => Err(Fault::ManyMoves { most: MOST_MOVES }),
        _ => Ok(()),
    }
}

fn check_slots(list: &MoveList) -> Result<(), Fault> {
    let turn = list.turn.unwrap_or(0);
    match list.slots {
        0..LEAST_SLOTS => Err(Fault::FewSlots { least: LEAST_SLOTS }),
        slots if slots > MOST_SLOTS => Err(Fault::ManySlots { most: MOST_SLOTS }),
        slots if slots % 2 == 1 => Err(Fault::OddSlots),
        slots if list.plate == Plate::Square && slots % 4 != 0 => Err(Fault::UnevenSides),
        slots if turn.unsigned_abs() > u32::from(slots) => Err(Fault::WideTurn { turn }),
        _ => Ok(()),
    }
}

fn check_start(list: &MoveList) -> Vec<Fault> {
    let fault = |(strand, &place): (usize, &Place)| {
        if place == Place::Hand {
            return Some(Fault::StartInHand { strand });
        }
        if !place.is_on(list.slots) {
            return Some(Fault::StartOffDisc { place, strand });
        }
        let first = list.start[..strand]
            .iter()
            .position(|&other| other == place)?;
        let strands = [strand, first];
        Some(Fault::StartTwice { place, strands })
    };
    list.start.iter().enumerate().filter_map(fault).collect()
}

/// Where every strand is while the list is worked.
struct Hands {
    slots: u16,
    at: Vec<Place>,
    /// Step that filled the hand last.
    taken_up: usize,
    carried: Vec<Carried>,
    faults: Vec<Fault>,
    /// Places that a faulty move named.
    doubtful: Vec<Place>,
}

impl Hands {
    fn new(list: &MoveList) -> Self {
        Self {
            slots: list.slots,
            at: list.start.clone(),
            taken_up: 0,
            carried: Vec::new(),
            faults: Vec::new(),
            doubtful: Vec::new(),
        }
    }

    /// Makes the moves of a step, as far as they can be made.
    fn make(&mut self, step: usize, moves: &[Move]) {
        for (index, &Move { from, to }) in moves.iter().enumerate() {
            match self.lift(step, moves[index], &moves[index + 1..]) {
                Ok(strand) => self.lay(strand, step, moves[index]),
                Err(fault) => {
                    let known = [from, to].iter().any(|end| self.doubtful.contains(end));
                    if !known {
                        self.faults.push(fault);
                    }
                    self.doubtful.extend([from, to]);
                }
            }
        }
    }

    /// The strand that a move carries; `rest` are the later moves of its step.
    fn lift(&self, step: usize, carried: Move, rest: &[Move]) -> Result<usize, Fault> {
        let Move { from, to } = carried;
        let strand = self.strand_at(from);
        for place in [from, to] {
            if !place.is_on(self.slots) {
                return Err(Fault::OffDisc {
                    step,
                    place,
                    strand,
                });
            }
        }
        if from == to {
            let place = from;
            return Err(Fault::Nowhere {
                step,
                place,
                strand,
            });
        }
        let strand = strand.ok_or(Fault::Empty { step, place: from })?;
        match self.strand_at(to) {
            Some(resting) => Err(self.in_the_way(step, carried, [strand, resting], rest)),
            None => Ok(strand),
        }
    }

    fn in_the_way(&self, step: usize, first: Move, strands: [usize; 2], rest: &[Move]) -> Fault {
        let Move { from, to: place } = first;
        if place == Place::Hand {
            let taken_up = self.taken_up;
            return Fault::HandFull {
                step,
                taken_up,
                strands,
            };
        }
        let back = Move {
            from: place,
            to: from,
        };
        match rest.iter().find(|&&other| other == back) {
            Some(&second) => Fault::Exchange {
                step,
                first,
                second,
                strands,
            },
            None => Fault::Taken {
                step,
                place,
                strands,
            },
        }
    }

    fn lay(&mut self, strand: usize, step: usize, Move { from, to }: Move) {
        if to == Place::Hand {
            self.taken_up = step;
        }
        self.at[strand] = to;
        self.carried.push(Carried {
            strand,
            step,
            from,
            to,
        });
    }

    /// The round ends with an empty hand.
    fn end(&mut self) {
        let held = self.strand_at(Place::Hand);
        if let Some(strand) = held.filter(|_| !self.doubtful.contains(&Place::Hand)) {
            let taken_up = self.taken_up;
            self.faults.push(Fault::LeftInHand { taken_up, strand });
        }
    }

    fn strand_at(&self, place: Place) -> Option<usize> {
        self.at.iter().position(|&here| here == place)
    }
}
