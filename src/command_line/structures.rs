//! The shelf of structures, printed.

use serde::Serialize;

use super::{Failure, as_json};
use crate::structure::{Braid, Structure, shelf};
use crate::topology::verdict;

/// One structure of the answer, in this order.
#[derive(Serialize)]
struct Listed<'a> {
    name: &'a str,
    /// Empty where none is sure.
    trade_name: &'a str,
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
    fn of(structure: &'a Structure) -> Result<Self, Failure> {
        let braid = Braid::new(&structure.moves)
            .map_err(|error| Failure::Other(format!("{}: {error}", structure.name)))?;
        Ok(Self {
            name: &structure.name,
            trade_name: &structure.trade_name,
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
            "{:>3} strands  {:<34} {:<7} {:>3} moves, {:>2} to remember",
            self.strands, self.name, self.shape, self.moves, self.to_remember
        )
    }
}

/// All of the shelf, by number of strands.
pub(super) fn run(json: bool) -> Result<String, Failure> {
    let listed: Vec<Listed> = shelf().iter().map(Listed::of).collect::<Result<_, _>>()?;
    if json {
        return as_json(&listed);
    }
    let lines: Vec<String> = listed.iter().map(Listed::line).collect();
    Ok(lines.join("\n"))
}
