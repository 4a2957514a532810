//! The same energy from the same start to the same rest, by `SciPy`'s L-BFGS-B on
//! code compiled by numba: a second opinion, and a peer in speed.
//!
//! The other side stands in `peer.py`. It needs a Python of its own under
//! `target/peer`; where there is none, a sentence says how to get it.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use plaitwright::mechanics::{Progress, Schedule, Shape, tighten};
use serde_json::{Value, json};

use super::clock::{Times, verdict};
use super::tubes::{Cell, symmetric};

/// Times faster than the peer, at least.
const GOAL: f64 = 20.0;

/// Rise and energy agree to this share where both begin from our finer rest.
/// From the loose start they come to rests that differ by how the nodes of one
/// strand lie between those of another (tried: four digits and more agree).
const AGREE: f64 = 1e-6;

/// Worst force for each length of strand at that rest.
const FINER: f64 = 2e-5;

/// Prints both times, their ratio and how far the answers lie apart.
pub(super) fn print() {
    println!("\n### Beside SciPy L-BFGS-B with numba, same energy, start, stages and residual\n");
    if !is_ready() {
        println!(
            "Not run: needs `python3 -m venv target/peer && target/peer/bin/pip install numpy scipy numba`."
        );
        return;
    }
    println!(
        "| what | looks, theirs and ours | ms, theirs | ms, ours | ratio | goal | | rise apart, from the loose start | rise and energy apart, from our rest |"
    );
    println!("|---|---:|---:|---:|---:|---:|---|---:|---|");
    for (strands, nodes) in [(8, 56), (8, 128), (16, 128), (32, 256)] {
        print_one(strands, nodes);
    }
}

fn print_one(strands: usize, nodes: usize) {
    let what = format!("{strands} strands, {nodes} nodes");
    let cell = symmetric(strands, nodes);
    let schedule = Schedule::fine();
    let solve = || tighten(&cell.0, cell.1.clone(), &schedule, &Progress::new());
    let (shape, report) = solve().expect("a sound start");
    let looks = report.evaluations;
    let ours = Times::of(20, solve).least();
    let exact = Schedule {
        stages: vec![64.0],
        tolerance: FINER,
        ..schedule.clone()
    };
    let finer = tighten(&cell.0, shape, &exact, &Progress::new()).expect("a sound start");
    let Some(answer) = asked(&problem(&cell, &schedule, &finer.0)) else {
        println!("| {what} | the peer gave no answer | | {ours:.2} | | | | | |");
        return;
    };
    let figure = |name: &str| answer[name].as_f64().unwrap_or(f64::NAN);
    let ratio = figure("least") / ours;
    println!(
        "| {what} | {:.0}, {looks} | {:.1} | {ours:.2} | {ratio:.0} | {GOAL} | {} | {:.0e} | {} |",
        figure("looks"),
        figure("least"),
        verdict(GOAL, ratio),
        apart(figure("lift"), finer.0.lift),
        agreement(
            apart(figure("lift_from_rest"), finer.0.lift),
            apart(figure("energy_from_rest"), finer.1.energy)
        )
    );
}

fn apart(theirs: f64, ours: f64) -> f64 {
    (theirs / ours - 1.0).abs()
}

fn agreement(lift: f64, energy: f64) -> String {
    let agree = if lift.max(energy) < AGREE {
        "agree"
    } else {
        "**differ**"
    };
    format!("{lift:.0e}, {energy:.0e}: {agree}")
}

fn problem((tubes, start): &Cell, schedule: &Schedule, rest: &Shape) -> Value {
    let last = schedule.stages.len() - 1;
    let tolerance = |stage: usize| match stage {
        stage if stage == last => schedule.tolerance,
        _ => schedule.early_tolerance,
    };
    let tolerances: Vec<f64> = (0..=last).map(tolerance).collect();
    json!({
        "strands": tubes.strands, "nodes": tubes.nodes, "continues": tubes.continues,
        "radius": tubes.radius, "pull": tubes.pull, "bending": tubes.bending,
        "weight": tubes.weight, "points": start.points, "lift": start.lift,
        "turn": start.turn, "stages": schedule.stages, "tolerances": tolerances, "runs": 5,
        "rest": {
            "points": rest.points, "lift": rest.lift, "turn": rest.turn,
            "stages": [64.0], "tolerances": [FINER],
        },
    })
}

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn python() -> Command {
    Command::new(here("target/peer/bin/python"))
}

fn is_ready() -> bool {
    let asked = python().args(["-c", "import scipy, numba"]).output();
    asked.is_ok_and(|output| output.status.success())
}

fn asked(problem: &Value) -> Option<Value> {
    let mut child = python()
        .arg(here("tests/bench/peer.py"))
        .env("NUMBA_CACHE_DIR", here("target/peer/cache"))
        .env("OMP_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .ok()?;
    let text = problem.to_string();
    child.stdin.take()?.write_all(text.as_bytes()).ok()?;
    let output = child.wait_with_output().ok()?;
    serde_json::from_slice(&output.stdout).ok()
}
