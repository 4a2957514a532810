//! The file a design is kept in, and what is kept of it when nobody saves.
//!
//! The autosave never touches the maker's file: it writes a copy into the
//! program's own folder, which is thrown away when the design is saved and
//! offered at the next start when it was not.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::document::{Autosave, Design, Kept, Sample};

/// How long after a change the copy is written. Tried: long enough not to write
/// during a drag, short enough that a crash costs one gesture.
const AUTOSAVE: Duration = Duration::from_secs(3);

/// Where a design is kept, and what belongs to it beside the design.
#[derive(Debug)]
pub struct OpenFile {
    /// Its file, once it has one.
    pub path: Option<PathBuf>,
    /// When it was saved in this run.
    pub saved_at: Option<Instant>,
    id: String,
    samples: Vec<Sample>,
    copy: Option<Autosave>,
    copied: Option<Design>,
    due: Option<Instant>,
}

/// Where the copies lie in the program's own folder.
pub(super) fn copies(home: &Path) -> PathBuf {
    home.join("unsaved")
}

impl OpenFile {
    /// What belongs to a file that was read, or to a design without file; with
    /// the copy it came from, when a crash left it.
    pub fn of(kept: Kept, path: Option<PathBuf>, copy: Option<Autosave>) -> (Self, Design) {
        let file = Self {
            path,
            saved_at: None,
            id: kept.id,
            samples: kept.samples,
            copy,
            copied: None,
            due: None,
        };
        (file, kept.design)
    }

    /// What tells its design from every other, wherever it is saved.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// All that is written of it.
    pub fn kept(&self, design: &Design) -> Kept {
        Kept {
            id: self.id.clone(),
            design: design.clone(),
            samples: self.samples.clone(),
        }
    }

    /// What it is called without its folder: "cord.plait".
    pub fn name(&self) -> Option<String> {
        let name = self.path.as_ref()?.file_name()?;
        Some(name.to_string_lossy().into_owned())
    }

    /// When the design was saved, in words that stay true for a while.
    pub fn saved_words(&self, is_unsaved: bool) -> String {
        let Some(name) = self.name() else {
            return "in no file yet".to_owned();
        };
        if is_unsaved {
            return format!("{name}, changed");
        }
        match self.saved_at.map(|at| at.elapsed().as_secs() / 60) {
            None => name,
            Some(0) => format!("{name}, saved just now"),
            Some(1) => format!("{name}, saved a minute ago"),
            Some(minutes) => format!("{name}, saved {minutes} minutes ago"),
        }
    }

    /// Writes a copy when one is due; how long until the next one.
    ///
    /// # Errors
    ///
    /// What the folder said. The next change tries again.
    pub fn autosave(
        &mut self,
        home: &Path,
        design: &Design,
        is_saved: bool,
    ) -> Result<Option<Duration>, String> {
        if is_saved {
            self.drop_copy();
            return Ok(None);
        }
        if self.copied.as_ref() == Some(design) {
            self.due = None;
            return Ok(None);
        }
        let due = *self.due.get_or_insert_with(|| Instant::now() + AUTOSAVE);
        let left = due.saturating_duration_since(Instant::now());
        if left > Duration::ZERO {
            return Ok(Some(left));
        }
        self.copy_now(home, design)?;
        Ok(None)
    }

    /// Writes the copy at once.
    ///
    /// # Errors
    ///
    /// What the folder said.
    pub fn copy_now(&mut self, home: &Path, design: &Design) -> Result<(), String> {
        self.due = None;
        // Marked as done even if it fails: the next change tries again, and not
        // every frame.
        self.copied = Some(design.clone());
        let kept = self.kept(design);
        let mut copy = match self.copy.take() {
            Some(copy) => copy,
            None => Autosave::begin(&copies(home), &self.id, &token())
                .map_err(|error| error.to_string())?,
        };
        let written = copy.keep(&kept, self.path.as_deref());
        self.copy = Some(copy);
        written.map_err(|error| error.to_string())
    }

    /// The copy is not needed any more.
    pub fn drop_copy(&mut self) {
        self.due = None;
        self.copied = None;
        if let Some(copy) = self.copy.take() {
            copy.discard();
        }
    }
}

/// Tells two windows apart that have the same design open.
fn token() -> String {
    format!("{:x}-{:08x}", std::process::id(), fastrand::u32(..))
}
