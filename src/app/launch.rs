//! Opening the window, and saying plainly when there is none to open.
//!
//! Without a display the toolkit either returns a long error or, where a
//! keyboard library is missing, panics inside the window library (seen with
//! winit 0.30 and no `libxkbcommon-x11`). Both become one sentence here.

use std::panic::{self, AssertUnwindSafe};
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use eframe::egui;

use super::App;
use super::settings::{self, Settings};

/// Why the window did not open.
#[derive(Debug, thiserror::Error)]
pub enum RunError {
    /// No display, or a library of the display is missing.
    #[error(
        "no window can be opened here ({cause}); on Debian or Ubuntu: apt-get install \
         libgl1 libegl1 libxcursor1 libxi6 libxkbcommon-x11-0 (and xvfb xauth, then xvfb-run \
         plaitwright, where there is no screen); without a window: plaitwright check FILE, \
         plaitwright figures FILE [--json], plaitwright picture FILE --out X.png"
    )]
    NoWindow {
        /// What the toolkit said, on one line.
        cause: String,
    },
}

/// Opens the window and stays until it is closed.
///
/// With a `file` that design is shown; without one, what was last worked on or
/// a finished example.
///
/// # Errors
///
/// [`RunError::NoWindow`] when no display can be reached. A panic after the
/// window stands goes on as a panic.
pub fn run(file: Option<PathBuf>) -> Result<(), RunError> {
    let home = settings::home();
    let settings = Settings::read(&home);
    let stands = Arc::new(AtomicBool::new(false));
    let opened = Arc::clone(&stands);
    quietly(&stands, move || {
        eframe::run_native(
            "Plaitwright",
            options(&settings),
            Box::new(move |cc| {
                let app = App::new(&cc.egui_ctx, home, settings, file);
                opened.store(true, Ordering::Relaxed);
                Ok(Box::new(app))
            }),
        )
    })
}

fn options(settings: &Settings) -> eframe::NativeOptions {
    let (width, height) = settings.window;
    eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Plaitwright")
            .with_app_id("plaitwright")
            .with_inner_size([width, height])
            .with_min_inner_size([480.0, 400.0])
            .with_drag_and_drop(true),
        renderer: eframe::Renderer::Glow,
        ..Default::default()
    }
}

/// Runs `open`; until the window `stands`, a panic is an answer, not a report.
fn quietly(
    stands: &Arc<AtomicBool>,
    open: impl FnOnce() -> eframe::Result,
) -> Result<(), RunError> {
    let said = Arc::new(Mutex::new(None));
    let (usual, heard, running) = (
        Arc::new(panic::take_hook()),
        Arc::clone(&said),
        Arc::clone(stands),
    );
    let hook = Arc::clone(&usual);
    panic::set_hook(Box::new(move |info| {
        if running.load(Ordering::Relaxed) {
            return hook(info);
        }
        let message = info.payload_as_str().unwrap_or("the toolkit gave up");
        if let Ok(mut said) = heard.lock() {
            *said = Some(message.to_owned());
        }
    }));
    let end = panic::catch_unwind(AssertUnwindSafe(open));
    panic::set_hook(Box::new(move |info| usual(info)));
    match end {
        Ok(result) => result.map_err(|e| no_window(&e.to_string())),
        Err(payload) if stands.load(Ordering::Relaxed) => panic::resume_unwind(payload),
        Err(_) => {
            let said = said.lock().ok().and_then(|mut said| said.take());
            Err(no_window(said.as_deref().unwrap_or("no reason given")))
        }
    }
}

/// The sentence, with the last of the toolkit's own words: what comes before
/// them is where in its source they were said.
fn no_window(cause: &str) -> RunError {
    let line = cause.lines().next().unwrap_or_default().trim();
    let said = line.rsplit(": ").next().unwrap_or(line);
    let short: String = said.trim_end_matches('.').chars().take(160).collect();
    RunError::NoWindow { cause: short }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_refusal_is_one_line_and_names_the_commands_without_a_window() {
        let words = no_window("os error at mod.rs:7: neither X11\nnor Wayland").to_string();
        assert!(!words.contains('\n'), "one line: {words}");
        for named in ["plaitwright check", "libxkbcommon-x11-0", "neither X11"] {
            assert!(words.contains(named), "{named} is missing in {words}");
        }
        assert!(!words.contains("mod.rs"), "nobody can use that: {words}");
    }

    #[test]
    fn a_panic_before_the_window_stands_is_an_error() {
        let end = quietly(&Arc::new(AtomicBool::new(false)), || {
            panic!("no keyboard library")
        });
        let words = end.unwrap_err().to_string();
        assert!(words.contains("no keyboard library"), "said: {words}");
    }
}
