//! Programs of the system that can be heard: found on the PATH, run off the window's
//! thread, one at a time and the newest first.
//!
//! What is heard is a comfort: nothing waits for it, a program that hangs is ended, and
//! only a program that was started here ever is. What is said is handed over as an
//! argument of its own; no shell reads it.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

/// How often a running program is looked at.
const LOOK: Duration = Duration::from_millis(15);
/// A program that runs for longer hangs, and is ended.
const PATIENCE: Duration = Duration::from_secs(20);

/// A program of the system by its name: the first on the path that can be run.
pub(super) fn on_path(path: &OsStr, name: &str) -> Option<PathBuf> {
    let named = std::env::split_paths(path).map(|folder| folder.join(name));
    named.into_iter().find(|file| can_be_run(file))
}

#[cfg(unix)]
fn can_be_run(file: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    let about = std::fs::metadata(file);
    about.is_ok_and(|about| about.is_file() && about.permissions().mode() & 0o111 != 0)
}

#[cfg(not(unix))]
fn can_be_run(file: &Path) -> bool {
    file.is_file()
}

/// A program that neither reads the terminal nor writes on it.
pub(super) fn quiet(program: &Path) -> Command {
    let mut command = Command::new(program);
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command
}

/// Runs one program after another on a thread of its own.
#[derive(Debug)]
pub(super) struct Player<T> {
    tell: Sender<T>,
}

impl<T: Send + 'static> Player<T> {
    /// `program` makes what is to be run; `is_cut_short` when something newer ends what
    /// still runs, else it is heard out.
    pub(super) fn start(
        name: &str,
        is_cut_short: bool,
        program: impl Fn(&T) -> Command + Send + 'static,
    ) -> Self {
        let (tell, told) = channel();
        let thread = std::thread::Builder::new().name(name.to_owned());
        if let Err(error) = thread.spawn(move || run(&told, is_cut_short, program)) {
            log::error!("no thread for the {name}: {error}");
        }
        Self { tell }
    }

    /// Has it run, in the place of whatever still waits. Returns at once.
    pub(super) fn play(&self, what: T) {
        // Without a thread nothing is heard.
        let _ = self.tell.send(what);
    }
}

fn run<T>(told: &Receiver<T>, is_cut_short: bool, program: impl Fn(&T) -> Command) {
    let mut next = told.recv().ok();
    while let Some(first) = next.take() {
        let newest = told.try_iter().last().unwrap_or(first);
        match program(&newest).spawn() {
            Ok(child) => next = heard_out(child, told, is_cut_short),
            Err(error) => log::warn!("a program that is to be heard does not start: {error}"),
        }
        next = next.or_else(|| told.recv().ok());
    }
}

/// Waits for the program; what was told meanwhile.
fn heard_out<T>(mut child: Child, told: &Receiver<T>, is_cut_short: bool) -> Option<T> {
    let begun = Instant::now();
    let mut newer = None;
    while matches!(child.try_wait(), Ok(None)) {
        match told.recv_timeout(LOOK) {
            Ok(what) => newer = Some(what),
            Err(RecvTimeoutError::Timeout) => {}
            // Nobody listens any more, and a closed channel does not wait.
            Err(RecvTimeoutError::Disconnected) if is_cut_short => break,
            Err(RecvTimeoutError::Disconnected) => std::thread::sleep(LOOK),
        }
        if begun.elapsed() > PATIENCE || (is_cut_short && newer.is_some()) {
            break;
        }
    }
    // Both fail where it has ended by itself.
    let _ = child.kill();
    let _ = child.wait();
    newer
}

#[cfg(test)]
#[cfg(unix)]
pub(super) mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    /// A folder with a program of this name that does this in a shell of its own.
    pub(in super::super) fn fake(name: &str, does: &str) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(name);
        std::fs::write(&file, format!("#!/bin/sh\n{does}\n")).unwrap();
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o755)).unwrap();
        folder
    }

    /// What stands in a file once `is_there` holds of it; panics after ten seconds.
    pub(in super::super) fn once(file: &Path, is_there: impl Fn(&str) -> bool) -> String {
        let begun = Instant::now();
        loop {
            let text = std::fs::read_to_string(file).unwrap_or_default();
            if is_there(&text) {
                return text;
            }
            assert!(
                begun.elapsed() < Duration::from_secs(10),
                "there is: {text:?}"
            );
            std::thread::sleep(LOOK);
        }
    }

    #[test]
    fn only_what_can_be_run_is_found() {
        let folder = fake("speaker", "exit 0");
        let path = folder.path().as_os_str();
        assert_eq!(
            on_path(path, "speaker"),
            Some(folder.path().join("speaker"))
        );
        assert_eq!(on_path(path, "other"), None);
        std::fs::write(folder.path().join("other"), "no program").unwrap();
        assert_eq!(on_path(path, "other"), None);
        assert_eq!(on_path(OsStr::new(""), "speaker"), None);
    }

    #[test]
    fn a_program_that_does_not_start_is_passed_over() {
        let folder = fake("speaker", "echo \"$1\" >> \"$0.said\"");
        let (good, said) = (
            folder.path().join("speaker"),
            folder.path().join("speaker.said"),
        );
        let player = Player::start("test", true, move |what: &String| {
            let program = if what == "bad" {
                Path::new("/nowhere")
            } else {
                &good
            };
            let mut command = quiet(program);
            command.arg(what);
            command
        });
        player.play("bad".to_owned());
        player.play("good".to_owned());
        assert_eq!(once(&said, |text| !text.is_empty()), "good\n");
    }
}
