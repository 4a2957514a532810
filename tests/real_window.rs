//! The real window on a screen of its own, worked with mouse and keys.
//!
//! Needs `Xvfb` and `xdotool`, which the README's first command installs.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use plaitwright::document::{self, Design};

/// Longest wait for anything the window should do.
const PATIENCE: Duration = Duration::from_secs(60);

/// A screen that goes with the test.
struct Screen {
    server: Child,
    display: String,
}

impl Screen {
    fn new(width: u32, height: u32) -> Self {
        let mut server = Command::new("Xvfb")
            .args([
                "-displayfd",
                "1",
                "-screen",
                "0",
                &format!("{width}x{height}x24"),
            ])
            // Without this the screen starts anew, and drops whoever is just
            // coming, each time the last tool has gone.
            .args(["-nolisten", "tcp", "-noreset"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb is not installed: see the README's first command");
        let mut number = String::new();
        let mut lines = BufReader::new(server.stdout.take().unwrap());
        lines.read_line(&mut number).unwrap();
        Self {
            server,
            display: format!(":{}", number.trim()),
        }
    }

    fn tool(&self, arguments: &[&str]) -> Option<String> {
        let output = Command::new("xdotool")
            .args(arguments)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool is not installed: see the README's first command");
        let text = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        output.status.success().then_some(text)
    }

    fn click(&self, x: u32, y: u32) {
        let (x, y) = (x.to_string(), y.to_string());
        self.tool(&["mousemove", &x, &y]);
        sleep(Duration::from_millis(150));
        self.tool(&["click", "1"]);
    }

    fn press(&self, keys: &str) {
        self.tool(&["key", keys]);
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        self.server.kill().ok();
        self.server.wait().ok();
    }
}

/// A running program that goes with the test.
struct Program(Child);

impl Program {
    /// Opens `file` on the screen and waits until its window can be worked.
    fn open(screen: &Screen, home: &Path, file: Option<&Path>) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_plaitwright"));
        command
            .args(file)
            .env("DISPLAY", &screen.display)
            .env("PLAITWRIGHT_HOME", home)
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET")
            .stderr(Stdio::null());
        let program = Self(command.spawn().unwrap());
        let window = wait_for("the window", || {
            screen.tool(&["search", "--onlyvisible", "--name", "Plaitwright"])
        });
        let window = window.lines().next().unwrap().to_owned();
        screen.tool(&["windowmove", &window, "0", "0"]);
        screen.tool(&["windowsize", &window, "1280", "800"]);
        screen.tool(&["windowfocus", "--sync", &window]);
        // Let it draw itself at its new size once.
        sleep(Duration::from_secs(3));
        program
    }

    fn kill(&mut self) {
        self.0.kill().unwrap();
        self.0.wait().unwrap();
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        self.0.kill().ok();
        self.0.wait().ok();
    }
}

fn wait_for<T>(what: &str, mut look: impl FnMut() -> Option<T>) -> T {
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE {
        if let Some(seen) = look() {
            return seen;
        }
        sleep(Duration::from_millis(200));
    }
    panic!("waited in vain for {what}");
}

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
