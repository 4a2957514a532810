//! The system's file dialogs, asked on a thread of their own.
//!
//! A dialog may take minutes, or not exist at all: where neither a portal nor
//! zenity is there, the answer is the same as a cancel. So the window never
//! waits for one, and the file slip has a box for typing a path as well.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use crate::drawing::Keepsake;

use super::on_paper::Leaf;

/// What the dialog is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Question {
    /// Which file to open.
    Open,
    /// Where to save.
    SaveAs,
    /// Where to save what is taken along.
    Take(Keepsake),
    /// Where to save the work sheet or a list.
    Leaf(Leaf),
    /// Which photograph to take colours from.
    Photograph,
    /// Which photograph to note with the place of a cord.
    Noted,
    /// Which palette to open.
    Palette,
    /// Where to save a palette.
    SavePalette,
}

impl Question {
    /// Whether it asks where to write.
    fn saves(self) -> bool {
        matches!(
            self,
            Self::SaveAs | Self::Take(_) | Self::Leaf(_) | Self::SavePalette
        )
    }

    /// Title of the dialog.
    fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a design",
            Self::SaveAs => "Save the design as",
            Self::Take(_) => "Take it along as",
            Self::Leaf(Leaf::Pdf | Leaf::Svg) => "Save the work sheet as",
            Self::Leaf(_) => "Save the list as",
            Self::Photograph => "Open a photograph",
            Self::Noted => "Keep a photograph with the place",
            Self::Palette => "Open a palette",
            Self::SavePalette => "Save the palette as",
        }
    }

    /// What the files are, and how they end.
    fn files(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Self::Open | Self::SaveAs => ("Plaitwright designs", &["plait"]),
            Self::Take(what) => ("Things to take along", what.endings()),
            Self::Leaf(leaf) => ("Sheets and lists", leaf.endings()),
            Self::Photograph | Self::Noted => {
                ("Photographs", &["jpg", "jpeg", "png", "JPG", "JPEG", "PNG"])
            }
            Self::Palette | Self::SavePalette => ("Palettes", &["gpl"]),
        }
    }
}

/// A dialog that stands open.
#[derive(Debug)]
pub(super) struct Dialog {
    question: Question,
    answer: Receiver<Option<PathBuf>>,
}

impl Dialog {
    /// Opens a dialog at `folder`, with `name` proposed for saving, and calls
    /// `wake` once it is answered. `None` when no thread can be had.
    pub(super) fn ask(
        question: Question,
        folder: Option<&Path>,
        name: &str,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Self> {
        let (send, answer) = channel();
        let dialog = prepared(question, folder, name);
        let thread = std::thread::Builder::new().name("file dialog".to_owned());
        thread
            .spawn(move || {
                let path = if question.saves() {
                    dialog.save_file()
                } else {
                    dialog.pick_file()
                };
                if send.send(path).is_ok() {
                    wake();
                }
            })
            .ok()?;
        Some(Self { question, answer })
    }

    /// What it was opened for.
    pub(super) fn question(&self) -> Question {
        self.question
    }

    /// The answer once there is one; `Some(None)` is a cancel.
    pub(super) fn answer(&self) -> Option<Option<PathBuf>> {
        match self.answer.try_recv() {
            Ok(path) => Some(path),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(None),
        }
    }
}

fn prepared(question: Question, folder: Option<&Path>, name: &str) -> rfd::FileDialog {
    let (files, endings) = question.files();
    let dialog = rfd::FileDialog::new()
        .add_filter(files, endings)
        .set_title(question.title());
    let dialog = match folder {
        Some(folder) => dialog.set_directory(folder),
        None => dialog,
    };
    if question.saves() {
        return dialog.set_file_name(proposed_name(name, endings[0]));
    }
    dialog
}

/// A file name made of a design's name, safe on every system.
pub(super) fn proposed_name(design: &str, ending: &str) -> String {
    let safe: String = design
        .chars()
        .map(|c| if c.is_alphanumeric() { c } else { '-' })
        .collect();
    let words: Vec<&str> = safe.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        return format!("cord.{ending}");
    }
    format!("{}.{ending}", words.join("-").to_lowercase())
}

/// A path as typed: without quotes and blanks round it, `~` as the home folder.
pub(super) fn typed_path(text: &str) -> Option<PathBuf> {
    let text = text.trim().trim_matches(['"', '\'']);
    if text.is_empty() {
        return None;
    }
    let home = directories::UserDirs::new().map(|dirs| dirs.home_dir().to_path_buf());
    match (text.strip_prefix("~/"), home) {
        (Some(rest), Some(home)) => Some(home.join(rest)),
        _ => Some(PathBuf::from(text)),
    }
}

/// The same path, ending in `.plait` if it had no ending.
pub(super) fn with_ending(path: PathBuf) -> PathBuf {
    if path.extension().is_some() {
        return path;
    }
    path.with_extension("plait")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_design_name_becomes_a_file_name_without_troublesome_signs() {
        assert_eq!(
            proposed_name("Harbour / glass: no. 2", "plait"),
            "harbour-glass-no-2.plait"
        );
        assert_eq!(
            proposed_name("///", "gpl"),
            "cord.gpl",
            "nothing is left of it"
        );
    }

    #[test]
    fn a_typed_path_may_stand_in_quotes() {
        assert_eq!(
            typed_path(" \"/home/maker/a b.plait\" "),
            Some("/home/maker/a b.plait".into())
        );
        assert_eq!(typed_path("  "), None, "nothing typed");
    }

    #[test]
    fn a_path_without_ending_gets_ours() {
        assert_eq!(
            with_ending("/home/maker/cord".into()),
            PathBuf::from("/home/maker/cord.plait")
        );
        assert_eq!(
            with_ending("/home/maker/cord.txt".into()),
            PathBuf::from("/home/maker/cord.txt")
        );
    }
}
