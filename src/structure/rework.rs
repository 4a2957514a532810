//! Making one list of moves out of another.
//!
//! Each change is a value, so that it can be kept, named and undone. Some need
//! no more than a list, and may be made while it is being written; those that
//! hold only for a braid say what is wrong with the list instead.

mod double;
mod out;
mod spread;

use std::fmt;
use std::ops::Range;

use super::sentence::slots_turned;
use super::{Braid, BraidError, MoveList, Numbering, Place, Step};

/// A change of a list. Steps and strands are counted from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rework {
    /// In a mirror: the other hand.
    Mirror,
    /// From the end to the beginning.
    Reverse,
    /// So many half slots further clockwise; the same cord.
    Turn(i32),
    /// Two strands side by side for each.
    Double,
    /// Every other strand taken out, the second in rim order first.
    EveryOtherOut,
    /// Some strands taken out.
    Out(Vec<usize>),
    /// On a disc with another number of slots, in exact proportion.
    Spread(u16),
    /// One step more, before the one that is at that place now.
    Insert {
        /// Where.
        at: usize,
        /// What.
        step: Step,
    },
    /// One step less.
    Remove {
        /// Which.
        at: usize,
    },
    /// A step brought to another place.
    Reorder {
        /// Which.
        from: usize,
        /// Its number afterwards.
        to: usize,
    },
    /// Steps once more further on, behind them: the same at the next quarter.
    Again {
        /// Which steps.
        steps: Range<usize>,
        /// How far on.
        on: On,
        /// How often, each time as far on again.
        times: usize,
    },
}

/// How far on the same is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// Half slots clockwise.
    HalfSlots(i32),
    /// Start places clockwise; every place goes with the nearest of them. For
    /// strands that do not divide the disc evenly.
    Strands(i32),
}

/// What comes of a change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reworked {
    /// The list.
    pub list: MoveList,
    /// For each of its strands the one it was, or was doubled from.
    pub strands: Vec<usize>,
}

/// Why a change cannot be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReworkError {
    /// The list is no braid.
    Unsound(BraidError),
    /// The list has no such step; counted from 1.
    NoStep(usize),
    /// There is no such strand; counted from 1.
    NoStrand(usize),
    /// A strand is held, and a hand holds one.
    Held {
        /// The step that takes it up, counted from 1.
        step: usize,
    },
    /// More strands than can be worked.
    ManyStrands(usize),
    /// Too few strands would be left.
    FewStrands(usize),
    /// The disc would need more slots than any has.
    ManySlots(u32),
    /// The round would get too long.
    ManyMoves(usize),
    /// A place would lie between two places of the other disc.
    BetweenPlaces {
        /// The place as it is now, clockwise.
        place: String,
        /// The slots of the other disc.
        slots: u16,
        /// The next number of slots that would do, if any does.
        instead: Option<u16>,
    },
    /// The turn of a round would be no whole number of slots.
    UnevenTurn {
        /// The turn as it is now.
        turn: i32,
        /// The slots of the other disc.
        slots: u16,
    },
}

impl fmt::Display for ReworkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unsound(error) => write!(f, "{error}"),
            Self::NoStep(step) => write!(f, "The list has no step {step}."),
            Self::NoStrand(strand) => write!(f, "The list has no strand {strand}."),
            Self::Held { step } => write!(
                f,
                "Step {step} takes a strand into the hand, and two cannot be held at once."
            ),
            Self::ManyStrands(count) => {
                write!(f, "{count} strands would be too many to work.")
            }
            Self::FewStrands(count) => write!(
                f,
                "Only {count} would be left, too few strands to make a braid."
            ),
            Self::ManySlots(count) => {
                write!(f, "It would need a disc of {count} slots, larger than any.")
            }
            Self::ManyMoves(count) => {
                write!(f, "A round of {count} moves would be too long.")
            }
            Self::BetweenPlaces {
                place,
                slots,
                instead,
            } => {
                write!(
                    f,
                    "{place} would lie between two places of a disc of {slots} slots"
                )?;
                match instead {
                    Some(slots) => write!(f, "; {slots} slots would do."),
                    None => write!(f, "."),
                }
            }
            Self::UnevenTurn { turn, slots } => write!(
                f,
                "A round turns by {}; on a disc of {slots} slots that is no whole number of \
                 them.",
                slots_turned(*turn)
            ),
        }
    }
}

impl std::error::Error for ReworkError {}

impl From<BraidError> for ReworkError {
    fn from(error: BraidError) -> Self {
        Self::Unsound(error)
    }
}

impl Rework {
    /// What is done, to stand behind "Undo".
    pub fn label(&self) -> &'static str {
        match self {
            Self::Mirror => "mirror",
            Self::Reverse => "other way up",
            Self::Turn(_) => "turn on the disc",
            Self::Double => "double every strand",
            Self::EveryOtherOut => "every other strand out",
            Self::Out(_) => "strands out",
            Self::Spread(_) => "other disc",
            Self::Insert { .. } => "one step more",
            Self::Remove { .. } => "one step less",
            Self::Reorder { .. } => "order of the steps",
            Self::Again { .. } => "the same further on",
        }
    }

    /// The list with the change made.
    ///
    /// # Errors
    ///
    /// When the list is no braid and must be one, or the change is not possible;
    /// see [`ReworkError`].
    pub fn apply(&self, list: &MoveList) -> Result<Reworked, ReworkError> {
        let same_strands = |list: MoveList| Reworked {
            strands: (0..list.start.len()).collect(),
            list,
        };
        Ok(match self {
            Self::Mirror => same_strands(list.mirrored()),
            Self::Reverse => same_strands(Braid::new(list)?.reversed()),
            Self::Turn(half_slots) => same_strands(list.turned(*half_slots)),
            Self::Double => double::doubled(&Braid::new(list)?)?,
            Self::EveryOtherOut => {
                let braid = Braid::new(list)?;
                let ranks = braid.order_after(0).into_iter().enumerate();
                let odd = ranks.filter(|(rank, _)| rank % 2 == 1);
                out::without(&braid, &odd.map(|(_, strand)| strand).collect::<Vec<_>>())?
            }
            Self::Out(strands) => out::without(&Braid::new(list)?, strands)?,
            Self::Spread(slots) => same_strands(spread::spread(&Braid::new(list)?, *slots)?),
            Self::Insert { at, step } => same_strands(inserted(list, *at, step)?),
            Self::Remove { at } => same_strands(removed(list, *at)?),
            Self::Reorder { from, to } => same_strands(reordered(list, *from, *to)?),
            Self::Again { steps, on, times } => {
                same_strands(again(list, steps.clone(), *on, *times)?)
            }
        })
    }
}

fn inserted(list: &MoveList, at: usize, step: &Step) -> Result<MoveList, ReworkError> {
    let mut list = list.clone();
    if at > list.steps.len() {
        return Err(ReworkError::NoStep(at + 1));
    }
    list.steps.insert(at, step.clone());
    Ok(list)
}

fn removed(list: &MoveList, at: usize) -> Result<MoveList, ReworkError> {
    let mut list = list.clone();
    if at >= list.steps.len() {
        return Err(ReworkError::NoStep(at + 1));
    }
    list.steps.remove(at);
    Ok(list)
}

fn reordered(list: &MoveList, from: usize, to: usize) -> Result<MoveList, ReworkError> {
    let mut list = list.clone();
    let farthest = from.max(to);
    if farthest >= list.steps.len() {
        return Err(ReworkError::NoStep(farthest + 1));
    }
    let step = list.steps.remove(from);
    list.steps.insert(to, step);
    Ok(list)
}

fn again(
    list: &MoveList,
    steps: Range<usize>,
    on: On,
    times: usize,
) -> Result<MoveList, ReworkError> {
    let run = list
        .steps
        .get(steps.clone())
        .ok_or(ReworkError::NoStep(steps.end))?;
    let more = run.len().saturating_mul(times);
    let count = list.steps.len().saturating_add(more);
    if count > super::check::MOST_MOVES {
        return Err(ReworkError::ManyMoves(count));
    }
    let copies = (1..=times).flat_map(|time| {
        let time = i32::try_from(time).unwrap_or(0);
        run.iter().map(move |step| moved_on(list, step, on, time))
    });
    let copies: Vec<Step> = copies.collect();
    let mut longer = list.clone();
    longer.steps.splice(steps.end..steps.end, copies);
    Ok(longer)
}

fn moved_on(list: &MoveList, step: &Step, on: On, time: i32) -> Step {
    let strands = match on {
        On::HalfSlots(half_slots) => return list.turned_step(step, half_slots * time),
        On::Strands(strands) => strands * time,
    };
    let to = |place: Place| beside_start(list, place, strands);
    let moves = step.moves.iter();
    Step {
        moves: moves.map(|m| (to(m.from), to(m.to)).into()).collect(),
    }
}

/// As far from a start place as a place is from the nearest, so many start
/// places further clockwise.
fn beside_start(list: &MoveList, place: Place, on: i32) -> Place {
    let Place::Rim(half) = place else {
        return place;
    };
    let mut start: Vec<u16> = list
        .start
        .iter()
        .filter_map(|place| match place {
            Place::Rim(half) => Some(*half),
            Place::Hand => None,
        })
        .collect();
    start.sort_unstable();
    let round = 2 * i32::from(list.slots);
    let off = |rank: usize| {
        let clockwise = (i32::from(half) - i32::from(start[rank])).rem_euclid(round.max(1));
        if 2 * clockwise > round {
            clockwise - round
        } else {
            clockwise
        }
    };
    // Of two as near, the one before.
    let nearest = (0..start.len()).min_by_key(|&rank| (off(rank).abs(), off(rank) < 0));
    let Some(nearest) = nearest else {
        return place;
    };
    let other = (nearest as i32 + on).rem_euclid(start.len() as i32);
    Place::Rim(start[other as usize]).turned(off(nearest), list.slots)
}

/// The list with that turn of a round, left unsaid where it is found anyway.
fn with_turn(list: MoveList, turn: i32) -> MoveList {
    let unsaid = MoveList { turn: None, ..list };
    match Braid::new(&unsaid) {
        Ok(braid) if braid.turn() == turn => unsaid,
        _ => MoveList {
            turn: Some(turn),
            ..unsaid
        },
    }
}

/// A place in words, as the first of a sentence.
fn named(list: &MoveList, place: Place) -> String {
    let phrase = Numbering::Clockwise.phrase_on(list.plate, place, list.slots);
    let mut letters = phrase.chars();
    let first = letters.next().map(|c| c.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(text: &str) -> MoveList {
        text.parse().expect("a list")
    }

    fn spiral() -> MoveList {
        list("slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8")
    }

    fn made(rework: &Rework, list: &MoveList) -> MoveList {
        rework.apply(list).expect("possible").list
    }

    #[test]
    fn the_mirror_twice_and_the_way_back_twice_are_the_list() {
        let mirror = made(&Rework::Mirror, &spiral());
        assert_ne!(mirror, spiral());
        assert_eq!(made(&Rework::Mirror, &mirror), spiral());
        let back = made(&Rework::Reverse, &spiral());
        assert_eq!(made(&Rework::Reverse, &back), spiral());
    }

    #[test]
    fn a_turn_is_undone_by_the_turn_back() {
        let turned = made(&Rework::Turn(5), &spiral());
        assert_eq!(turned.start[1], Place::Rim(7));
        assert_eq!(made(&Rework::Turn(-5), &turned), spiral());
    }

    #[test]
    fn steps_are_put_in_taken_out_and_moved() {
        let step = Step::one(Place::slot(32), Place::slot(30));
        let more = made(
            &Rework::Insert {
                at: 4,
                step: step.clone(),
            },
            &spiral(),
        );
        assert_eq!(more.steps[4], step);
        assert_eq!(made(&Rework::Remove { at: 4 }, &more), spiral());
        let moved = made(&Rework::Reorder { from: 0, to: 1 }, &spiral());
        assert_eq!(moved.steps[1], spiral().steps[0]);
        assert_eq!(made(&Rework::Reorder { from: 1, to: 0 }, &moved), spiral());
        for wrong in [
            Rework::Insert { at: 5, step },
            Rework::Remove { at: 4 },
            Rework::Reorder { from: 0, to: 4 },
        ] {
            let said = wrong.apply(&spiral()).expect_err("no such step");
            assert!(said.to_string().ends_with('.'), "{said}");
        }
    }

    #[test]
    fn the_same_at_the_next_quarter_makes_the_spiral() {
        let block = MoveList {
            steps: spiral().steps[..2].to_vec(),
            ..spiral()
        };
        let again = |on| Rework::Again {
            steps: 0..2,
            on,
            times: 1,
        };
        assert_eq!(made(&again(On::HalfSlots(16)), &block), spiral());
        assert_eq!(made(&again(On::Strands(2)), &block), spiral());
    }

    #[test]
    fn the_same_two_strands_on_fits_a_disc_that_is_not_divided_evenly() {
        let start = "slots 32\nstart 32 1 5 6 11 12 16 17 21 22 27 28\n";
        let block = list(&format!("{start}17 > 31\n1 > 15"));
        let again = Rework::Again {
            steps: 0..2,
            on: On::Strands(2),
            times: 2,
        };
        let whole = format!("{start}17 > 31\n1 > 15\n22 > 4\n6 > 20\n28 > 10\n12 > 26");
        assert_eq!(made(&again, &block), list(&whole));
    }

    #[test]
    fn too_many_copies_are_refused() {
        let again = Rework::Again {
            steps: 0..4,
            on: On::HalfSlots(0),
            times: usize::MAX,
        };
        assert!(matches!(
            again.apply(&spiral()),
            Err(ReworkError::ManyMoves(_))
        ));
        let none = Rework::Again {
            steps: 3..6,
            on: On::HalfSlots(0),
            times: 1,
        };
        assert_eq!(none.apply(&spiral()), Err(ReworkError::NoStep(6)));
    }

    #[test]
    fn what_needs_a_braid_says_what_is_wrong_with_the_list() {
        let broken = list("slots 32\nstart 1 9 17\n2 > 3");
        for rework in [
            Rework::Reverse,
            Rework::Double,
            Rework::EveryOtherOut,
            Rework::Spread(64),
        ] {
            let said = rework.apply(&broken).expect_err("no braid").to_string();
            assert!(said.contains("slot 2"), "{said}");
        }
    }
}
