//! Memory of one large solve, measured from outside: this program starts
//! itself again to do nothing else, and reads what that took at most.
//!
//! Linux only, since the peak is read from `/proc/self/status`.

use std::process::Command;

use plaitwright::mechanics::Schedule;

use super::clock::verdict;
use super::tubes::{symmetric, tight};

/// Argument by which the program knows that it is the child.
pub(super) const CHILD: &str = "--solve-two-thousand-nodes";

/// Goal, MB.
const GOAL: f64 = 50.0;

/// What the child does: one solve, and the peak before and after, in kB.
pub(super) fn be_the_child() {
    let before = peak();
    let (tubes, start) = symmetric(8, 56);
    let large = tubes.repeated(&start, 36);
    let shape = tight(&large, &Schedule::fine());
    assert_eq!(shape.points.len(), 2016);
    println!("{before} {}", peak());
}

/// Prints peak memory of a solve of two thousand nodes.
pub(super) fn print() {
    println!("\n### Memory of a solve of 2,016 nodes in a process of its own\n");
    let Some((before, after)) = child_peaks() else {
        println!("Not measured: this system does not tell the peak of a process.");
        return;
    };
    println!("| peak MB | of which before the solve | goal MB | |");
    println!("|---:|---:|---:|---|");
    println!(
        "| {after:.1} | {before:.1} | {GOAL} | {} |",
        verdict(after, GOAL)
    );
}

fn child_peaks() -> Option<(f64, f64)> {
    let program = std::env::current_exe().ok()?;
    let output = Command::new(program).arg(CHILD).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let mut peaks = text.split_whitespace().map(str::parse::<f64>);
    let mut next = || Some(peaks.next()?.ok()? / 1024.0);
    Some((next()?, next()?))
}

/// Most resident memory so far, kB; 0 where the system does not say.
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let figure = line.and_then(|rest| rest.split_whitespace().next());
    figure.and_then(|kb| kb.parse().ok()).unwrap_or(0)
}
