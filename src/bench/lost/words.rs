//! Mistakes in plain words, with the slots as the maker numbers them.

use super::{Explanation, Mistake, Slip};
use crate::bench::{Motion, Motions};
use crate::structure::{Braid, MoveList, Numbering, Place};

/// What a sentence is about.
struct Telling<'a> {
    list: &'a MoveList,
    numbering: Numbering,
    motions: Option<Motions>,
}

impl Explanation {
    /// What happened, in a sentence; moves are counted from 1.
    pub fn sentence(&self, list: &MoveList, numbering: Numbering) -> String {
        let braid = Braid::new(list);
        let telling = Telling {
            list,
            numbering,
            motions: braid.ok().map(|braid| Motions::of(&braid)),
        };
        let told: Vec<String> = self
            .mistakes
            .iter()
            .map(|one| telling.mistake(one))
            .collect();
        let place = match (self.done, self.counted) {
            (done, counted) if done == counted && told.is_empty() => {
                return "All is as it should be.".to_owned();
            }
            (done, counted) if done == counted => String::new(),
            (done, counted) => place(done, counted),
        };
        let mut all = told;
        if !place.is_empty() {
            all.push(place);
        }
        capital(&all.join("; ")) + "."
    }
}

fn place(done: u64, counted: u64) -> String {
    let off = done.abs_diff(counted);
    let (moves, way) = (moves(off), if done > counted { "more" } else { "fewer" });
    format!("{moves} {way} than counted lie in the cord: {done}, not {counted}")
}

fn moves(count: u64) -> String {
    match count {
        1 => "1 move".to_owned(),
        count => format!("{count} moves"),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

impl Telling<'_> {
    fn label(&self, place: Place) -> String {
        match place {
            Place::Hand => "the hand".to_owned(),
            Place::Rim(_) => self.list.label(place, self.numbering),
        }
    }

    fn motion(&self, at: u64) -> Option<Motion> {
        Some(self.motions.as_ref()?.at(at))
    }

    /// `move 212, from 1 to 15,` or `moves 212 to 214,`.
    fn these(&self, at: u64, count: u64) -> String {
        let motion = self.motion(at).filter(|motion| motion.begins == at);
        let exchange = motion.as_ref().and_then(|motion| motion.exchange);
        match (motion, exchange) {
            (Some(motion), Some((a, b, _))) if motion.moves() == count => {
                let (a, b) = (self.label(a), self.label(b));
                format!("moves {} to {}, {a} and {b} exchanged,", at + 1, at + count)
            }
            (Some(motion), _) if count == 1 => {
                let one = motion.carries.first();
                let places = one.map(|one| (self.label(one.from), self.label(one.to)));
                let (from, to) = places.unwrap_or_default();
                format!("move {}, from {from} to {to},", at + 1)
            }
            _ if count == 1 => format!("move {}", at + 1),
            _ => format!("moves {} to {}", at + 1, at + count),
        }
    }

    /// Where the strand of a move is taken up and where it should go.
    fn ends(&self, at: u64) -> (String, Option<Place>) {
        let motion = self.motion(at);
        let one = motion.as_ref().and_then(|motion| match motion.exchange {
            Some((a, b, _)) => Some((a, b)),
            None => motion.carries.first().map(|one| (one.from, one.to)),
        });
        let from = one.map(|(from, _)| self.label(from)).unwrap_or_default();
        (from, one.map(|(_, to)| to))
    }

    fn mistake(&self, mistake: &Mistake) -> String {
        let at = mistake.at;
        let (from, to) = self.ends(at);
        let number = at + 1;
        match mistake.kind {
            Slip::Skipped(count) => self.were(at, count, "left out"),
            Slip::Doubled(count) => self.were(at, count, "made twice"),
            Slip::OtherHand(count) => self.were(at, count, "made as by the other hand"),
            Slip::WrongSlot(by) => {
                let wrong = to.map(|to| self.label(to.turned(2 * by, self.list.slots)));
                let (to, wrong) = (to.map(|to| self.label(to)), wrong.unwrap_or_default());
                let to = to.unwrap_or_default();
                format!("in move {number} the strand from {from} was laid in {wrong}, not in {to}")
            }
            Slip::WrongStrand(taken) => {
                let taken = self.label(taken);
                format!("in move {number} the strand from {taken} was taken, not that from {from}")
            }
            Slip::Swapped { over, under } => {
                let (over, under) = (self.label(over), self.label(under));
                format!(
                    "after move {at} the strand in {over} was laid over its neighbour into {under}, and that one in {over}"
                )
            }
            Slip::Turned { quarters, moves } => {
                let turn = ["", "a quarter", "half a turn", "three quarters"];
                let turn = turn[usize::from(quarters % 4)];
                let which = moves.map_or(format!("from move {number} on all"), |moves| {
                    self.these(at, moves)
                });
                let were = if moves.is_some_and(|moves| moves > 1) {
                    "were"
                } else {
                    "was"
                };
                format!("{which} {were} worked {turn} further round clockwise")
            }
            Slip::Mirrored => format!("from move {number} on all was worked as in a mirror"),
            Slip::Backwards => format!("after move {at} moves were taken back instead of made"),
            Slip::ReverseOrder => {
                format!("from move {number} on the moves were made in the reverse order")
            }
        }
    }

    fn were(&self, at: u64, count: u64, what: &str) -> String {
        let were = if count == 1 { "was" } else { "were" };
        format!("{} {were} {what}", self.these(at, count))
    }
}
