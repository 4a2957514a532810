//! The shelves of structures, printed: what comes with the program, then the maker's own.

use std::path::Path;

use serde::Serialize;

use super::{Failure, as_json};
use crate::document::{OWN_STRUCTURES, own_structures};
use crate::structure::{Braid, Structure, shelf};
use crate::topology::verdict;

/// One structure of the answer, in this order.
#[derive(Serialize)]
struct Listed<'a> {
    name: &'a str,
    /// Empty where none is sure.
    trade_name: &'a str,
    /// Whether it is the maker's own.
    own: bool,
    shape: &'static str,
    strands: usize,
    remark: &'a str,
    slots: u16,
    moves: usize,
    turn: i32,
    verdict: &'static str,
    to_remember: usize,
    kinds_of_move: usize,
    /// As a text of moves.
    text: String,
}

impl<'a> Listed<'a> {
    fn of(structure: &'a Structure, own: bool) -> Result<Self, Failure> {
        let braid = Braid::new(&structure.moves)
            .map_err(|error| Failure::Other(format!("{}: {error}", structure.name)))?;
        Ok(Self {
            name: &structure.name,
            trade_name: &structure.trade_name,
            own,
            shape: structure.shape.word(),
            strands: structure.strands(),
            remark: &structure.remark,
            slots: structure.moves.slots,
            moves: braid.lifts().len(),
            turn: braid.turn(),
            verdict: verdict(&braid).name(),
            to_remember: braid.to_remember(),
            kinds_of_move: braid.kinds_of_move(),
            text: structure.moves.to_string(),
        })
    }

    fn line(&self) -> String {
        format!(
            "{:>3} strands  {:<34} {:<7} {:>3} moves, {:>2} to remember{}",
            self.strands,
            self.name,
            self.shape,
            self.moves,
            self.to_remember,
            if self.own { ", my own" } else { "" }
        )
    }
}

/// All of the shelf, by number of strands, and of the maker's own in the folder `home`.
pub(super) fn run(json: bool, home: &Path) -> Result<String, Failure> {
    let mine = own_structures(&home.join(OWN_STRUCTURES))?;
    let ready = shelf().iter().map(|one| Listed::of(one, false));
    let own = mine.iter().map(|one| Listed::of(one, true));
    let listed: Vec<Listed> = ready.chain(own).collect::<Result<_, _>>()?;
    if json {
        return as_json(&listed);
    }
    let lines: Vec<String> = listed.iter().map(Listed::line).collect();
    Ok(lines.join("\n"))
}
