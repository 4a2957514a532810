//! Whether moves hold: the faults of a list, or the verdict on the braid.

use std::path::Path;

use serde::Serialize;

use super::lists::{self, Named, Unplaced};
use super::{Failure, Source, as_json, opened};
use crate::structure::{Braid, BraidError, MoveList, Numbering, Place};
use crate::topology::{
    Round, Verdict, artin, cycles, repeat, symmetry, verdict, verdict_round_a_core, writhe,
};

/// Answers for a design or a text of moves.
pub(super) fn one(source: &Source, json: bool) -> Result<String, Failure> {
    let named = match source {
        Source::Moves(file) => lists::text(file)?,
        Source::Design(_) => {
            let design = opened(source)?;
            let first = design.sections.into_iter().next().unwrap_or_default();
            Named {
                name: design.name,
                has_core: !first.cores.is_empty(),
                moves: first.moves,
            }
        }
    };
    let answer = Answer::of(&named);
    if json {
        as_json(&answer)
    } else {
        Ok(answer.text())
    }
}

/// Answers for every list of a file, one object for each, in order.
pub(super) fn all(file: &Path) -> Result<String, Failure> {
    let lists = lists::many(file)?;
    let mut answers = Vec::with_capacity(lists.len());
    for one in &lists {
        answers.push(match one {
            Ok(named) => Answer::of(named),
            Err(unplaced) => Answer::of_unplaced(unplaced),
        });
    }
    as_json(&answers)
}

/// The answer of `check --json`, in this order.
#[derive(Serialize)]
struct Answer<'a> {
    name: &'a str,
    strands: usize,
    slots: u16,
    /// A word or two that stay the same.
    verdict: &'static str,
    sentence: String,
    /// The strands that the verdict names, part by part, counted from 0.
    parts: Vec<Vec<usize>>,
    faults: Vec<Told>,
    #[serde(flatten)]
    braid: Found,
}

/// What is wrong with a list.
#[derive(Serialize)]
struct Told {
    kind: &'static str,
    step: Option<usize>,
    slots: Vec<Place>,
    strands: Vec<usize>,
    sentence: String,
    /// One sentence for each small change that makes a braid of the list.
    repairs: Vec<String>,
}

impl Told {
    fn of(error: &BraidError, list: &MoveList) -> Self {
        let numbering = Numbering::Clockwise;
        let repairs = error.repairs(list);
        Self {
            kind: error.fault.kind(),
            step: error.fault.step(),
            slots: error.fault.places(),
            strands: error.fault.strands(),
            sentence: error.sentence(numbering),
            repairs: repairs.iter().map(|r| r.sentence(numbering)).collect(),
        }
    }
}

/// What is found of a braid; all null for a list at fault.
#[derive(Serialize, Default)]
struct Found {
    moves: Option<usize>,
    turn: Option<i32>,
    artin: Option<Vec<i32>>,
    writhe: Option<i32>,
    cycles: Option<Vec<Vec<usize>>>,
    repeat_rounds: Option<usize>,
    symmetry_order: Option<usize>,
    symmetry_order_upside_down: Option<usize>,
    to_remember: Option<usize>,
    kinds_of_move: Option<usize>,
}

impl Found {
    fn of(braid: &Braid) -> Self {
        let word = artin(braid);
        let symmetry = symmetry(&Round::of(braid));
        Self {
            moves: Some(braid.lifts().len()),
            turn: Some(braid.turn()),
            writhe: Some(writhe(&word)),
            artin: Some(word),
            cycles: Some(cycles(braid.becomes())),
            repeat_rounds: Some(repeat(braid.becomes())),
            symmetry_order: Some(symmetry.order),
            symmetry_order_upside_down: Some(symmetry.order_upside_down),
            to_remember: Some(braid.to_remember()),
            kinds_of_move: Some(braid.kinds_of_move()),
        }
    }
}

impl<'a> Answer<'a> {
    /// A list that names a place that cannot be.
    fn of_unplaced(one: &'a Unplaced) -> Self {
        let fault = Told {
            kind: "no such slot",
            step: one.step,
            slots: Vec::new(),
            strands: one.strand.into_iter().collect(),
            sentence: one.sentence(),
            repairs: Vec::new(),
        };
        Self {
            name: &one.name,
            strands: one.strands,
            slots: one.slots,
            verdict: "fault",
            sentence: one.sentence(),
            parts: Vec::new(),
            faults: vec![fault],
            braid: Found::default(),
        }
    }

    fn of(named: &'a Named) -> Self {
        let list = &named.moves;
        let plain = Self {
            name: &named.name,
            strands: list.start.len(),
            slots: list.slots,
            verdict: "fault",
            sentence: String::new(),
            parts: Vec::new(),
            faults: Vec::new(),
            braid: Found::default(),
        };
        match judged(named) {
            Err(faults) => Self {
                sentence: faults
                    .first()
                    .map(BraidError::to_string)
                    .unwrap_or_default(),
                faults: faults.iter().map(|e| Told::of(e, list)).collect(),
                ..plain
            },
            Ok((braid, verdict)) => Self {
                verdict: verdict.name(),
                sentence: sentence(named, &verdict),
                parts: verdict.parts(),
                braid: Found::of(&braid),
                ..plain
            },
        }
    }

    fn text(&self) -> String {
        let mut text = match self.braid.moves {
            None => format!("{}: does not work", self.name),
            Some(moves) => format!(
                "{}: the moves work: {} strands, {moves} moves a round, {}; {}. {}",
                self.name,
                self.strands,
                comes_back(self.braid.turn.unwrap_or(0)),
                self.verdict,
                self.sentence
            ),
        };
        for fault in &self.faults {
            text += &format!("\n  {}", fault.sentence);
            for repair in &fault.repairs {
                text += &format!("\n    Perhaps: {repair}");
            }
        }
        text
    }
}

/// What the moves make; round a core, that is the strand after the last.
fn judged(named: &Named) -> Result<(Braid, Verdict), Vec<BraidError>> {
    let list = &named.moves;
    let braid = Braid::new(list).map_err(|_first| list.faults())?;
    if !named.has_core {
        let verdict = verdict(&braid);
        return Ok((braid, verdict));
    }
    match verdict_round_a_core(&braid) {
        Ok(verdict) => Ok((braid, verdict)),
        Err(fault) => Err(vec![BraidError {
            plate: list.plate,
            slots: list.slots,
            fault,
        }]),
    }
}

/// The verdict in a sentence, the core called so.
fn sentence(named: &Named, verdict: &Verdict) -> String {
    if named.has_core {
        verdict.sentence_round_a_core(named.moves.start.len())
    } else {
        verdict.sentence()
    }
}

/// How a round comes back to its start.
fn comes_back(turn: i32) -> String {
    let count = turn.unsigned_abs();
    let noun = if count == 1 { "slot" } else { "slots" };
    match turn {
        0 => "comes back to its start".to_owned(),
        1.. => format!("comes back to its start {count} {noun} clockwise"),
        _ => format!("comes back to its start {count} {noun} anticlockwise"),
    }
}
