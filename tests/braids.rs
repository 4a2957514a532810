//! Random lists of moves beside `SnapPy`: rings, writhe, Alexander polynomial, and
//! whether they lock.
//!
//! The other side stands in `braids/peer.py`. It needs a Python of its own under
//! `target/peer`; where there is none, a sentence says how to get it.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use plaitwright::structure::{Braid, Move, MoveList, Place, Step};
use plaitwright::topology::{alexander, artin, cycles, places, verdict, writhe};
use serde::{Deserialize, Serialize};

#[derive(Serialize)]
struct Asked {
    strands: usize,
    word: Vec<i32>,
}

#[derive(Deserialize)]
struct Answer {
    rings: Option<Vec<usize>>,
    writhe: Option<i32>,
    alexander: Option<Vec<i64>>,
    hyperbolic: bool,
}

/// Slots of the disc.
const SLOTS: u16 = 32;

#[test]
fn two_hundred_random_lists_are_what_snappy_says() {
    if !is_ready() {
        println!(
            "Not run: needs `python3 -m venv target/peer && target/peer/bin/pip install snappy`."
        );
        return;
    }
    let mut random = fastrand::Rng::with_seed(200);
    let braids: Vec<Braid> = (0..200).map(|_| random_braid(&mut random)).collect();
    let ask = |braid: &Braid| Asked {
        strands: braid.strands(),
        word: artin(braid),
    };
    let asked: Vec<Asked> = braids.iter().map(ask).collect();
    let answers = answers(&asked);
    assert_eq!(answers.len(), braids.len());
    let mut counts = [0; 4];
    for ((braid, Asked { strands, word }), answer) in braids.iter().zip(&asked).zip(&answers) {
        counts[0] += usize::from(answer.rings.is_some());
        counts[1] += usize::from(answer.alexander.is_some());
        counts[2] += usize::from(answer.hyperbolic);
        counts[3] += usize::from(answer.alexander.as_ref().is_some_and(|a| a.len() > 1));
        compare(braid, *strands, word, answer);
    }
    let [rings, polynomials, locked, knotted] = counts;
    println!("{rings} rings, {polynomials} polynomials, {knotted} knotted, {locked} lock");
    assert!(rings > 150 && polynomials > 100 && locked > 30 && knotted > 40);
}

fn compare(braid: &Braid, strands: usize, word: &[i32], answer: &Answer) {
    let named = format!("{:?} of {strands}: {word:?}", braid.moves());
    if let Some(expected) = &answer.rings {
        let mut lengths: Vec<usize> = cycles(&places(word, strands))
            .iter()
            .map(Vec::len)
            .collect();
        lengths.sort_unstable();
        assert_eq!(&lengths, expected, "{named}");
    }
    if let Some(expected) = answer.writhe {
        assert_eq!(writhe(word), expected, "{named}");
    }
    if let Some(expected) = &answer.alexander {
        let found = alexander(word, strands);
        let found: Vec<i64> = found.iter().map(|c| i64::try_from(c).unwrap()).collect();
        assert_eq!(&found, expected, "{named}");
    }
    let verdict = verdict(braid);
    assert_eq!(verdict.locks(), answer.hyperbolic, "{named}: {verdict:?}");
}

/// Strands spread on the disc, some carried anywhere, all slid back into the slots
/// of the start.
fn random_braid(random: &mut fastrand::Rng) -> Braid {
    let strands = random.u16(3..9);
    let start: Vec<u16> = (0..strands)
        .map(|place| 1 + place * SLOTS / strands)
        .collect();
    let mut at = start.clone();
    let mut steps = Vec::new();
    for _ in 0..random.usize(4..20) {
        let strand = random.usize(0..at.len());
        let to = random.u16(1..=SLOTS);
        if !at.contains(&to) {
            steps.push(carried(at[strand], to));
            at[strand] = to;
        }
    }
    at.sort_unstable();
    while let Some(rank) = (0..at.len()).find(|&rank| can_slide(&at, rank, start[rank])) {
        steps.push(carried(at[rank], start[rank]));
        at[rank] = start[rank];
    }
    let list = MoveList {
        slots: SLOTS,
        start: start.into_iter().map(Place::slot).collect(),
        steps,
        ..MoveList::default()
    };
    Braid::new(&list).unwrap_or_else(|_| random_braid(random))
}

fn can_slide(at: &[u16], rank: usize, goal: u16) -> bool {
    let (first, last) = (at[rank].min(goal), at[rank].max(goal));
    let in_the_way = at.iter().filter(|slot| (first..=last).contains(slot));
    at[rank] != goal && in_the_way.count() == 1
}

fn carried(from: u16, to: u16) -> Step {
    let [from, to] = [from, to].map(Place::slot);
    Step {
        moves: vec![Move { from, to }],
    }
}

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn python() -> Command {
    Command::new(here("target/peer/bin/python"))
}

fn is_ready() -> bool {
    let asked = python().args(["-c", "import snappy"]).output();
    asked.is_ok_and(|output| output.status.success())
}

fn answers(asked: &[Asked]) -> Vec<Answer> {
    let mut child = python()
        .arg(here("tests/braids/peer.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let text = serde_json::to_string(asked).unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(text.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "the peer failed");
    serde_json::from_slice(&output.stdout).unwrap()
}
