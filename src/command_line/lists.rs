//! Lists of moves read from files of their own: one as text, or many as JSON.
//!
//! ```json
//! [{"name": "Round spiral", "slots": 32, "start": [32, 1, 8, 9, 16, 17, 24, 25],
//!   "blocks": [[[17, 31], [1, 15]], [[25, 7], [9, 23]]], "turn_per_round": -1}]
//! ```
//!
//! `blocks` are the moves of one round, cut into blocks however one likes; each
//! move is a step. `turn_per_round` is the number of slots clockwise that the
//! next round is worked further on. `name`, `key` and `plate` ("disc" or
//! "square") may be there; what else is there is not looked at. A list with a place that
//! cannot be is at fault by itself; a file of another shape is refused.

use std::fs;
use std::path::Path;

use serde::Deserialize;
use serde_json::Value;

use super::Failure;
use crate::structure::{MoveList, Place, Plate, Shape, Step, Structure};

/// Largest file, bytes.
const MOST_BYTES: u64 = 20_000_000;

/// A list of a file with its name, empty if it has none.
#[derive(Debug)]
pub(super) struct Named {
    pub(super) name: String,
    pub(super) moves: MoveList,
    /// Whether the moves are made round a core.
    pub(super) has_core: bool,
}

/// The moves of a text, named like its file.
pub(super) fn text(file: &Path) -> Result<Named, Failure> {
    let moves = load(file)?
        .parse()
        .map_err(|error| Failure::Input(format!("{}: {error}", file.display())))?;
    let name = file.file_stem().unwrap_or_default().to_string_lossy();
    Ok(Named {
        name: name.into_owned(),
        moves,
        has_core: false,
    })
}

/// The same as a structure, of which nothing else is known.
pub(super) fn structure(file: &Path) -> Result<Structure, Failure> {
    let Named { name, moves, .. } = text(file)?;
    Ok(Structure {
        name,
        trade_name: String::new(),
        shape: Shape::Round,
        remark: String::new(),
        moves,
    })
}

/// A list of a file with a place that cannot be.
#[derive(Debug)]
pub(super) struct Unplaced {
    pub(super) name: String,
    pub(super) strands: usize,
    pub(super) slots: u16,
    /// The step that names it, counted from 1; none if a strand starts there.
    pub(super) step: Option<usize>,
    /// The strand that starts there, counted from 0.
    pub(super) strand: Option<usize>,
    /// As it was written.
    pub(super) place: String,
}

impl Unplaced {
    /// What is wrong and what to do.
    pub(super) fn sentence(&self) -> String {
        let place = &self.place;
        let is_none = "which is no place: write a slot such as 17, 16.5 for the place between \
                       slots 16 and 17, or \"hand\".";
        match self.step {
            Some(step) => format!("Step {step} names {place}, {is_none}"),
            None => format!("A strand starts in {place}, {is_none}"),
        }
    }
}

/// All lists of a JSON file, in order.
pub(super) fn many(file: &Path) -> Result<Vec<Result<Named, Unplaced>>, Failure> {
    let entries: Vec<Entry> = serde_json::from_str(&load(file)?).map_err(|error| {
        Failure::Input(format!(
            "{} is no list of structures: {error}",
            file.display()
        ))
    })?;
    entries.into_iter().map(Entry::named).collect()
}

fn load(file: &Path) -> Result<String, Failure> {
    let unreadable = |why: String| Failure::Other(format!("{} {why}", file.display()));
    let about = fs::metadata(file).map_err(|e| unreadable(format!("cannot be read: {e}")))?;
    if about.len() > MOST_BYTES {
        return Err(Failure::Input(format!(
            "{} has {} bytes, more than any list of moves",
            file.display(),
            about.len()
        )));
    }
    let bytes = fs::read(file).map_err(|e| unreadable(format!("cannot be read: {e}")))?;
    String::from_utf8(bytes).map_err(|error| {
        let sound = error.utf8_error().valid_up_to();
        Failure::Input(format!(
            "{} is not UTF-8 text from byte {} on",
            file.display(),
            sound + 1
        ))
    })
}

#[derive(Deserialize)]
struct Entry {
    #[serde(default)]
    name: String,
    #[serde(default)]
    key: String,
    #[serde(default)]
    plate: Option<String>,
    slots: u16,
    start: Vec<Written>,
    blocks: Vec<Vec<(Written, Written)>>,
    #[serde(default)]
    turn_per_round: Option<i32>,
}

/// A place as it is written, or something else.
#[derive(Deserialize)]
#[serde(untagged)]
enum Written {
    Place(Place),
    Other(Value),
}

impl Written {
    fn place(&self) -> Result<Place, String> {
        match self {
            Self::Place(place) => Ok(*place),
            Self::Other(value) => Err(value.to_string()),
        }
    }
}

impl Entry {
    fn named(self) -> Result<Result<Named, Unplaced>, Failure> {
        let plate = self.plate()?;
        let start = self.start.iter().map(Written::place);
        let start: Vec<Result<Place, String>> = start.collect();
        let moves = self.blocks.iter().flatten();
        let steps = moves.map(|(from, to)| Ok(Step::one(from.place()?, to.place()?)));
        let steps: Vec<Result<Step, String>> = steps.collect();
        let strand = start.iter().position(Result::is_err);
        let step = steps.iter().position(Result::is_err).map(|index| index + 1);
        let strands = start.len();
        let start: Result<Vec<Place>, String> = start.into_iter().collect();
        let steps: Result<Vec<Step>, String> = steps.into_iter().collect();
        let unplaced = |name, place, step| Unplaced {
            name,
            strands,
            slots: self.slots,
            step,
            strand,
            place,
        };
        let name = if self.name.is_empty() {
            self.key
        } else {
            self.name
        };
        Ok(match (start, steps) {
            (Err(place), _) => Err(unplaced(name, place, None)),
            (_, Err(place)) => Err(unplaced(name, place, step)),
            (Ok(start), Ok(steps)) => Ok(Named {
                name,
                moves: MoveList {
                    plate,
                    slots: self.slots,
                    start,
                    steps,
                    turn: self.turn_per_round,
                },
                has_core: false,
            }),
        })
    }

    fn plate(&self) -> Result<Plate, Failure> {
        match self.plate.as_deref() {
            None | Some("disc") => Ok(Plate::Disc),
            Some("square") => Ok(Plate::Square),
            Some(other) => Err(Failure::Input(format!(
                "{}: the plate {other:?} is neither \"disc\" nor \"square\"",
                if self.name.is_empty() {
                    &self.key
                } else {
                    &self.name
                }
            ))),
        }
    }
}
