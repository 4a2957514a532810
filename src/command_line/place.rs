//! Where the work on the cords of a design stands, as text and as one JSON object.

mod answer;
mod text;

use std::path::Path;

use answer::Answer;

use super::{Failure, as_json};
use crate::document::{self, Found, PIECES, under_way};

/// Answers for the design of a file, or for the one piece whose id begins so.
pub(super) fn run(
    file: &Path,
    piece: Option<&str>,
    json: bool,
    home: &Path,
) -> Result<String, Failure> {
    let kept = document::open(file)?;
    let found = under_way(&home.join(PIECES), Some(&kept.id));
    let found = found.map_err(|error| Failure::Other(error.to_string()))?;
    let found = match piece {
        Some(piece) => vec![only(found, piece)?],
        None => found,
    };
    let answer = Answer::of(&kept, &found);
    if json {
        return as_json(&answer);
    }
    Ok(answer.text())
}

fn only(found: Vec<Found>, piece: &str) -> Result<Found, Failure> {
    let mut these: Vec<Found> = found
        .into_iter()
        .filter(|found| found.piece.starts_with(piece))
        .collect();
    match (these.pop(), these.len()) {
        (Some(found), 0) => Ok(found),
        (None, _) => Err(Failure::Input(format!(
            "no cord of this design is under way whose id begins with {piece:?}"
        ))),
        (Some(_), more) => Err(Failure::Input(format!(
            "the ids of {} cords begin with {piece:?}; say more of it",
            more + 1
        ))),
    }
}
