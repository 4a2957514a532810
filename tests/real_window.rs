//! The real window on a screen of its own, worked with mouse and keys.
//!
//! Needs `Xvfb` and `xdotool`, which the README's first command installs.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

#[path = "real_window/screen.rs"]
mod screen;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread::sleep;
use std::time::Duration;

use plaitwright::document::{self, Design};

use screen::{Program, Screen, wait_for};

fn copy_of(example: &str, folder: &Path) -> PathBuf {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/designs");
    let to = folder.join(example);
    fs::copy(from.join(example), &to).unwrap();
    to
}

fn design(file: &Path) -> Option<Design> {
    document::open(file).ok().map(|kept| kept.design)
}

/// A place on the second card of the list of structures, at 1280 by 800.
const SECOND_CARD: (u32, u32) = (240, 500);

#[test]
fn a_click_on_a_structure_is_saved_by_key_and_undone_by_key() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("harbour-glass.plait", folder.path());
    let before = design(&file).unwrap();
    let screen = Screen::new(1280, 800);
    let _program = Program::open(&screen, &folder.path().join("home"), Some(&file));
    let other = wait_for("another structure in the file", || {
        // A slow machine may still be laying out its window: click again.
        screen.click(SECOND_CARD.0, SECOND_CARD.1);
        sleep(Duration::from_millis(500));
        screen.press("ctrl+s");
        sleep(Duration::from_millis(500));
        design(&file).filter(|d| d.sections[0].moves != before.sections[0].moves)
    });
    assert_eq!(other.strands.len(), before.strands.len());
    assert_ne!(other.sections[0].structure, before.sections[0].structure);
    wait_for("the first structure again", || {
        screen.press("ctrl+z");
        sleep(Duration::from_millis(500));
        screen.press("ctrl+s");
        sleep(Duration::from_millis(500));
        design(&file).filter(|d| d.sections == before.sections)
    });
}

#[test]
fn unsaved_work_outlives_a_killed_program() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("harbour-glass.plait", folder.path());
    let before = design(&file).unwrap();
    let home = folder.path().join("home");
    let screen = Screen::new(1280, 800);
    let mut program = Program::open(&screen, &home, Some(&file));
    wait_for("an autosave", || {
        screen.click(SECOND_CARD.0, SECOND_CARD.1);
        // Saved by itself once the hands rest.
        sleep(Duration::from_secs(8));
        kept_below(&home)
            .into_iter()
            .find(|d| d.sections != before.sections)
    });
    program.kill();
    assert_eq!(
        design(&file).unwrap(),
        before,
        "the file itself was not touched"
    );
    let lost: Vec<Design> = kept_below(&home);
    assert!(lost.iter().any(|d| d.sections != before.sections));
    // The next start opens and keeps what was lost.
    let _again = Program::open(&screen, &home, None);
    assert!(
        kept_below(&home)
            .iter()
            .any(|d| d.sections != before.sections)
    );
}

/// Every design in a plait file anywhere below a folder.
fn kept_below(folder: &Path) -> Vec<Design> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for path in entries.flatten().map(|e| e.path()) {
        if path.is_dir() {
            all.extend(kept_below(&path));
        } else {
            all.extend(design(&path));
        }
    }
    all
}

#[test]
fn a_broken_file_leaves_the_program_living_with_what_it_had() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("broken.plait");
    fs::write(&file, "// plait 1\n(id: \"00\", design: (").unwrap();
    let screen = Screen::new(1280, 800);
    let mut program = Program::open(&screen, &folder.path().join("home"), Some(&file));
    sleep(Duration::from_secs(1));
    assert!(
        program.0.try_wait().unwrap().is_none(),
        "the program lives on"
    );
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.ends_with("design: ("), "the file is left as it was");
}

#[test]
fn the_picture_of_the_cord_is_on_the_clipboard_for_others() {
    if Command::new("xclip").arg("-version").output().is_err() {
        println!("Not run: needs xclip.");
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let file = copy_of("harbour-glass.plait", home.path());
    let screen = Screen::new(1280, 800);
    let _program = Program::open(&screen, home.path(), Some(&file));
    let bytes = wait_for("a picture on the clipboard", || {
        // Shut first, in case it stands open from the last time.
        screen.press("Escape");
        screen.press("ctrl+e");
        sleep(Duration::from_secs(1));
        screen.click(884, 421);
        sleep(Duration::from_secs(3));
        let read = Command::new("timeout")
            .args([
                "5",
                "xclip",
                "-selection",
                "clipboard",
                "-t",
                "image/png",
                "-o",
            ])
            .env("DISPLAY", &screen.display)
            .output()
            .unwrap();
        Some(read.stdout).filter(|bytes| !bytes.is_empty())
    });
    let picture = image::load_from_memory(&bytes).unwrap();
    assert_eq!((picture.width(), picture.height()), (2400, 450));
}
