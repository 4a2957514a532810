//! Plait files on the disk: those kept in `tests/files/`, each showing one
//! thing, and the finished designs that come with the program.
//!
//! A file once kept here is never changed: it stands for one that a maker has.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use plaitwright::document::{Autosave, Kept, ReadError, examples, find_lost, open, read, save};
use plaitwright::plan::{Kind, Piece, Round};
use plaitwright::structure::{Braid, Plate};

#[path = "files/finished.rs"]
mod finished;

/// Files that open, with the names of their designs.
const SOUND: [(&str, &str); 5] = [
    ("v1-plain", "Plain"),
    ("v1-every-field", "Every field"),
    ("v1-only-what-must-be", "Only what must be"),
    ("v1-plate-and-turn", "Plate and turn"),
    ("v1-finished-piece", "Finished piece"),
];

/// Files that do not open, with what is said of them.
const REFUSED: [(&str, &str); 26] = [
    (
        "a-picture",
        "line 1, column 1: this is not a plait file, its first line is not \"// plait 1\"",
    ),
    ("comma-missing", "line 71, column 13: expected comma"),
    (
        "cut-off-in-a-word",
        "line 72, column 29: the file ends too early, as if it had been cut off",
    ),
    (
        "cut-off",
        "line 47, column 5: the file ends too early, as if it had been cut off",
    ),
    (
        "empty",
        "line 1, column 1: this is not a plait file, its first line is not \"// plait 1\"",
    ),
    (
        "fibre-cannot-be",
        "line 8, column 13: leather lace 1.5 mm, round: diameter is 900; it must lie between 0.02 and 60",
    ),
    (
        "fibre-not-there",
        "line 50, column 25: strand B, part 1: the fibre \"gold wire\" is not in the design",
    ),
    (
        "field-missing",
        "line 72, column 9: the field \"counterweight\" is missing before this place",
    ),
    (
        "field-twice",
        "line 71, column 13: the field \"counterweight\" stands here a second time",
    ),
    (
        "knot-cannot-be",
        "line 100, column 30: piece, first end, thicknesses: -6.5 is not between 0 and 200 thicknesses of the cord",
    ),
    (
        "nested-options",
        "line 85, column 23: a number is expected here",
    ),
    (
        "nested-too-deeply",
        "line 70, column 28: a number is expected here",
    ),
    (
        "newer",
        "line 1, column 10: the file has version 12, and this program reads no version later than 1",
    ),
    (
        "no-ends",
        "line 50, column 25: strand B, part 1: there must be 1 to 99 ends, not 0",
    ),
    (
        "no-such-choice",
        "line 71, column 20: \"Loose\" is none of Free, Held",
    ),
    (
        "no-such-colour",
        "line 47, column 81: \"brown\" is not a colour like \"#1f4e79\"",
    ),
    (
        "no-such-place",
        "line 62, column 73: expected a slot such as 17, a place between slots such as 16.5, or \"hand\" but found the string \"lap\" instead",
    ),
    (
        "no-such-slot",
        "line 62, column 67: section 1, moves, step 1: the disc has 32 slots and no place 40",
    ),
    (
        "not-a-number",
        "line 70, column 28: \"NaN\" is not a number that can be used",
    ),
    (
        "not-an-id",
        "line 3, column 9: id: it must be 8 to 64 digits from 0 to f",
    ),
    (
        "not-ours",
        "line 1, column 1: this is not a plait file, its first line is not \"// plait 1\"",
    ),
    (
        "not-text",
        "line 5, column 19: the file is not UTF-8 text from here on",
    ),
    (
        "text-for-a-number",
        "line 70, column 28: a number is expected here",
    ),
    (
        "too-big-a-number",
        "line 13, column 35: \"1e999\" is not a number that can be used",
    ),
    (
        "too-few-starts",
        "line 62, column 43: section 1, moves, start: there are 4 strands but 3 places to start at",
    ),
    (
        "unknown-field",
        "line 71, column 13: this version does not know the field \"humidity\"",
    ),
];

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/files");

fn kept_file(name: &str) -> PathBuf {
    Path::new(FOLDER).join(name).with_extension("plait")
}

#[test]
fn every_file_of_every_version_opens_and_opens_equal_after_saving() {
    let folder = tempfile::tempdir().unwrap();
    for (name, design) in SOUND {
        let kept = open(&kept_file(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(kept.design.name, design);
        let path = folder.path().join(name);
        save(&path, &kept).unwrap();
        assert_eq!(open(&path), Ok(kept), "{name}");
    }
}

#[test]
fn every_refused_file_gets_its_one_sentence() {
    for (name, sentence) in REFUSED {
        let before = fs::read(kept_file(name)).unwrap();
        let said = open(&kept_file(name)).unwrap_err().to_string();
        assert_eq!(said, sentence, "{name}");
        assert_eq!(fs::read(kept_file(name)).unwrap(), before);
    }
}

#[test]
fn every_file_kept_is_tried() {
    let entries = fs::read_dir(FOLDER).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let mut there: Vec<_> = paths
        .filter(|path| path.extension().is_some_and(|end| end == "plait"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    let mut tried: Vec<_> = SOUND
        .iter()
        .chain(&REFUSED)
        .map(|(name, _)| *name)
        .collect();
    there.sort();
    tried.sort_unstable();
    assert_eq!(there, tried);
}

#[test]
fn a_file_with_every_field_loses_none_but_the_work_that_nothing_counted_in() {
    let kept = open(&kept_file("v1-every-field")).unwrap();
    let section = &kept.design.sections[0];
    assert_eq!(section.repeat, Some(12));
    assert_eq!(section.cores[0].strand.parts[0].ends, 2);
    assert_eq!(section.beads[0].name, "sea glass");
    assert_eq!(kept.samples.len(), 2);
    assert_eq!(kept.design.not_yet().len(), 1);
    assert_eq!(kept.design.note.lines().count(), 2);
}

#[test]
fn a_finished_piece_loses_none_of_its_fields_and_an_older_one_starts_as_a_free_length() {
    let piece = |name| open(&kept_file(name)).unwrap().design.piece;
    let told = piece("v1-finished-piece");
    let start = Piece::default();
    assert_eq!(told.kind, Kind::BagHandle);
    assert_eq!((told.from_one_cord, told.cords, told.folded), (3, 2, true));
    assert_eq!((told.binding.round, told.binding.layers), (Round::Tails, 3));
    assert_eq!(told.pendant.as_ref().map(|it| it.bail), Some(7.5));
    assert_eq!((told.sizes.len(), told.sizes[1].longer), (2, 25.4));
    assert_ne!((told.measure, told.ends), (start.measure, start.ends));
    assert_ne!(told.closure, start.closure);
    assert_ne!((told.wearer, told.glue_gap), (start.wearer, start.glue_gap));
    let untold = piece("v1-every-field");
    let as_before = Piece {
        caps: untold.caps.clone(),
        cap: Some(4.5),
        ..start
    };
    assert_eq!(untold, as_before);
}

#[test]
fn a_plate_and_a_turn_are_kept_and_missing_ones_are_a_disc_and_the_smallest_turn() {
    let moves = |name| {
        open(&kept_file(name)).unwrap().design.sections[0]
            .moves
            .clone()
    };
    let told = moves("v1-plate-and-turn");
    assert_eq!((told.plate, told.turn), (Plate::Square, Some(16)));
    let untold = moves("v1-plain");
    assert_eq!((untold.plate, untold.turn), (Plate::Disc, None));
    assert_eq!(Braid::new(&told).unwrap().turn(), 16);
}

/// Every byte of a real file turned over, one at a time, and the file cut at
/// every place: read or refused, never a panic.
#[test]
fn a_damaged_file_is_read_or_refused() {
    let bytes = fs::read(kept_file("v1-every-field")).unwrap();
    for place in 0..bytes.len() {
        let mut damaged = bytes.clone();
        damaged[place] ^= 1 << (place % 8);
        let _ = read(&damaged).map_err(|error| error.to_string());
        let cut = read(&bytes[..place]);
        let whole = bytes.trim_ascii_end().len() == place;
        assert!(whole || cut.is_err(), "cut at {place}");
    }
}

#[test]
fn a_file_that_is_not_there_is_said_to_be_so() {
    let error = open(Path::new("/no/such/cord.plait")).unwrap_err();
    let sentence = "the file cannot be read: there is no such file or folder";
    assert_eq!(error.to_string(), sentence);
    assert!(matches!(error, ReadError::Unreadable(_)));
}

const KEEPING: &str = "PLAIT_TEST_KEEPING";

/// Runs twice: the second time as the window that is killed.
#[test]
fn work_of_a_window_that_is_killed_is_found_again() {
    let kept = Kept::new(examples()[0].clone(), 11);
    if let Some(folder) = env::var_os(KEEPING) {
        let mut autosave = Autosave::begin(Path::new(&folder), &kept.id, "killed").unwrap();
        autosave.keep(&kept, None).unwrap();
        sleep(Duration::from_secs(60));
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mut window = Command::new(env::current_exe().unwrap())
        .args(["--exact", "work_of_a_window_that_is_killed_is_found_again"])
        .env(KEEPING, folder.path())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    let file = folder.path().join(format!("{}-killed.plait", kept.id));
    let begun = Instant::now();
    while !file.exists() {
        assert!(begun.elapsed() < Duration::from_secs(30), "nothing kept");
        sleep(Duration::from_millis(5));
    }
    assert!(find_lost(folder.path()).is_empty(), "it still lives");
    window.kill().unwrap();
    window.wait().unwrap();
    let lost = find_lost(folder.path());
    assert_eq!(lost.len(), 1);
    assert_eq!(lost[0].kept, Ok(kept));
}
