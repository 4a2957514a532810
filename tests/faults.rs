//! A list for every fault and for every verdict, with what a maker reads of it.
//!
//! The lists stand in `faults/lists.ron`, as texts of moves. Each is one slip in an
//! otherwise sound cord, made as a hand would make it.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::collections::BTreeSet;

use plaitwright::structure::{Braid, MoveList, Numbering};
use plaitwright::topology::verdict;
use serde::Deserialize;

/// What is told of a list.
#[derive(Debug, PartialEq, Eq, Deserialize)]
struct Told {
    /// What kind of fault, or the verdict.
    kind: String,
    /// The step, counted from 1.
    step: Option<usize>,
    /// The strands, counted from 0.
    strands: Vec<usize>,
    sentence: String,
    /// What would make a braid of it.
    repairs: Vec<String>,
}

#[derive(Deserialize)]
struct Listed {
    moves: String,
    told: Told,
}

impl Listed {
    /// The first fault, or the verdict.
    fn found(&self) -> Told {
        let list: MoveList = self.moves.parse().unwrap();
        let Some(first) = list.faults().into_iter().next() else {
            let verdict = verdict(&Braid::new(&list).unwrap());
            return Told {
                kind: verdict.name().to_owned(),
                step: None,
                strands: verdict.parts().concat(),
                sentence: verdict.sentence(),
                repairs: Vec::new(),
            };
        };
        let repairs = first.repairs(&list);
        Told {
            kind: first.fault.kind().to_owned(),
            step: first.fault.step(),
            strands: first.fault.strands(),
            sentence: first.sentence(Numbering::Clockwise),
            repairs: repairs
                .iter()
                .map(|repair| repair.sentence(Numbering::Clockwise))
                .collect(),
        }
    }
}

fn listed() -> Vec<Listed> {
    ron::from_str(include_str!("faults/lists.ron")).unwrap()
}

#[test]
fn every_fault_and_verdict_is_told_to_the_maker_as_it_was_read_over() {
    for one in listed() {
        assert_eq!(one.found(), one.told, "{}", one.moves);
    }
}

#[test]
fn there_is_a_list_for_every_kind_of_fault_and_every_verdict() {
    let kinds: BTreeSet<String> = listed().into_iter().map(|one| one.told.kind).collect();
    for kind in [
        "odd number of slots",
        "sides not equal",
        "too few slots",
        "too many slots",
        "too few strands",
        "too many strands",
        "no moves",
        "too many moves",
        "turn too wide",
        "no such slot",
        "starts in the hand",
        "start slot twice",
        "slot empty",
        "slot taken",
        "hand full",
        "move goes nowhere",
        "order needed",
        "side of the held strand unclear",
        "left in the hand",
        "does not return",
        "locks",
        "slides apart",
        "two cords",
        "bundle",
        "strand outside",
        "layers",
    ] {
        assert!(kinds.contains(kind), "{kind}");
    }
}

#[test]
fn repairs_are_braids_and_every_sentence_is_one() {
    for one in listed() {
        let list: MoveList = one.moves.parse().unwrap();
        let sentences = [&one.told.sentence].into_iter().chain(&one.told.repairs);
        for sentence in sentences {
            assert!(
                sentence.ends_with('.') && !sentence.contains('\n'),
                "{sentence}"
            );
        }
        for repair in list.faults().iter().flat_map(|error| error.repairs(&list)) {
            let left = repair.list.faults().len();
            assert!(
                left < list.faults().len(),
                "{}",
                repair.sentence(Numbering::Clockwise)
            );
        }
    }
}
