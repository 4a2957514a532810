//! A screen with the program on it.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Longest wait for anything the window should do.
const PATIENCE: Duration = Duration::from_secs(60);

/// A screen that goes with the test.
pub(crate) struct Screen {
    server: Child,
    pub(crate) display: String,
}

impl Screen {
    pub(crate) fn new(width: u32, height: u32) -> Self {
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

    pub(crate) fn tool(&self, arguments: &[&str]) -> Option<String> {
        let output = Command::new("xdotool")
            .args(arguments)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool is not installed: see the README's first command");
        let text = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        output.status.success().then_some(text)
    }

    pub(crate) fn click(&self, x: u32, y: u32) {
        let (x, y) = (x.to_string(), y.to_string());
        self.tool(&["mousemove", &x, &y]);
        sleep(Duration::from_millis(150));
        self.tool(&["click", "1"]);
    }

    pub(crate) fn press(&self, keys: &str) {
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
pub(crate) struct Program(pub(crate) Child);

impl Program {
    /// Opens `file` on the screen and waits until its window can be worked.
    pub(crate) fn open(screen: &Screen, home: &Path, file: Option<&Path>) -> Self {
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

    pub(crate) fn kill(&mut self) {
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

/// Looks again and again until something is seen.
pub(crate) fn wait_for<T>(what: &str, mut look: impl FnMut() -> Option<T>) -> T {
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE {
        if let Some(seen) = look() {
            return seen;
        }
        sleep(Duration::from_millis(200));
    }
    panic!("waited in vain for {what}");
}
