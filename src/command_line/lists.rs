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
//! "square") may be there; what else is there is not looked at.

use std::fs;
use std::path::Path;

use serde::Deserialize;

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

/// All lists of a JSON file, in order.
pub(super) fn many(file: &Path) -> Result<Vec<Named>, Failure> {
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
    start: Vec<Place>,
    blocks: Vec<Vec<(Place, Place)>>,
    #[serde(default)]
    turn_per_round: Option<i32>,
}

impl Entry {
    fn named(self) -> Result<Named, Failure> {
        let name = if self.name.is_empty() {
            self.key
        } else {
            self.name
        };
        let plate = match self.plate.as_deref() {
            None | Some("disc") => Plate::Disc,
            Some("square") => Plate::Square,
            Some(other) => {
                return Err(Failure::Input(format!(
                    "{name}: the plate {other:?} is neither \"disc\" nor \"square\""
                )));
            }
        };
        let moves = self.blocks.into_iter().flatten();
        Ok(Named {
            name,
            moves: MoveList {
                plate,
                slots: self.slots,
                start: self.start,
                steps: moves.map(|(from, to)| Step::one(from, to)).collect(),
                turn: self.turn_per_round,
            },
            has_core: false,
        })
    }
}
