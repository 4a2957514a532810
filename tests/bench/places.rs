//! Times of the place file: a step kept, and a long story opened again.

use std::fs;
use std::path::Path;

use plaitwright::bench::{Entry, Stamped};
use plaitwright::cord::{Quality, solve};
use plaitwright::document::{Begun, Journal, example_workshop, examples};
use plaitwright::mechanics::Progress;
use plaitwright::plan::outlook;
use plaitwright::quantity::UnitSystem;

use super::clock::{print_head, timed};

/// Steps that are kept one by one.
const STEPS: u64 = 1000;
/// Moves of a long cord.
const LONG: u64 = 20_000;

/// Steps on the disk that the crate lies on, and a long cord.
pub(super) fn kept() {
    print_head("The place of a cord: kept at every step, opened again");
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    let mut journal = begun(folder.path());
    let path = journal.path().to_owned();
    let size = |path: &Path| fs::metadata(path).expect("it is there").len();
    let empty = size(&path);
    let mut done = 0;
    timed(
        "a step, kept on the disk",
        STEPS as usize,
        Some(8.0),
        || {
            step(&mut journal, &mut done);
        },
    );
    let bytes = (size(&path) - empty) as f64 / STEPS as f64;
    drop(journal);
    lengthened(&path, empty as usize);
    let what = format!("opened, {LONG} moves");
    timed(&what, 30, Some(5.0), || Journal::open(&path));
    let mut journal = Journal::open(&path).expect("it was just written");
    timed(
        &format!("a step after {LONG} moves"),
        200,
        Some(8.0),
        || {
            step(&mut journal, &mut done);
        },
    );
    println!("\n{empty} bytes when begun, {bytes:.1} a move.");
}

fn begun(folder: &Path) -> Journal {
    let design = examples()[0].clone();
    let recipe = design.recipe().expect("a sound design");
    let cord = solve(&recipe, None, Quality::Coarse, &Progress::new());
    let cord = cord.expect("a design that makes a cord");
    let (workshop, units) = (example_workshop(), UnitSystem::Millimetres);
    let expected = design.on_the_table(&cord.figures, workshop, units, outlook);
    let begun = Begun::new("0123456789abcdef".into(), design, expected, 0, 1);
    Journal::begin(folder, begun).expect("a folder that can be written to")
}

fn step(journal: &mut Journal, done: &mut u64) {
    *done += 1;
    let stamped = Stamped {
        at: 1_764_180_000_000 + 2000 * *done,
        entry: Entry::Done(*done),
    };
    journal.write(&stamped).expect("a disk that is not full");
}

/// Repeats the lines of the steps: each says all, so they may be told again.
fn lengthened(path: &Path, empty: usize) {
    let bytes = fs::read(path).expect("it is there");
    let again = (LONG / STEPS) as usize - 1;
    let more = bytes[empty..].repeat(again);
    fs::write(path, [bytes, more].concat()).expect("a disk that is not full");
}
