//! Photographs of a piece, kept beside its place file.
//!
//! They are copied, whole or not at all, before the note is written that names them: a
//! note never speaks of a picture that is not there.

use std::path::{Path, PathBuf};

use super::{Journal, JournalError};
use crate::bench::{Entry, Note, Stamped};
use crate::document::disk::{RealDisk, reason};
use crate::document::file::replace_on;
use crate::document::{Disk, WriteError};

/// Largest photograph that is copied, bytes. Our guess: twice what a telephone takes.
const LARGEST_PHOTOGRAPH: u64 = 40 * 1024 * 1024;
/// What their names may end in.
const KINDS: [&str; 5] = ["jpg", "jpeg", "png", "webp", "heic"];

/// Where the photographs of a place file lie.
pub(super) fn photographs_of(path: &Path) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let piece = stem.split_once('-').map_or(&*stem, |(_, piece)| piece);
    path.with_file_name(piece)
}

impl Journal {
    /// Copies a photograph and notes it at this place; `at` in ms since 1970.
    ///
    /// # Errors
    ///
    /// When it cannot be read, is too large or no picture by its name, or cannot be kept;
    /// nothing is noted then.
    pub fn photograph(&mut self, at: u64, file: &Path) -> Result<(), JournalError> {
        self.may_write()?;
        let no = |why: String| JournalError::NoPhotograph(why);
        let end = file.extension().unwrap_or_default().to_string_lossy();
        let end = end.to_ascii_lowercase();
        if !KINDS.contains(&&*end) {
            return Err(no(format!("its name does not end in {}", KINDS.join(", "))));
        }
        let size = RealDisk.length(file).map_err(|why| no(reason(&why)))?;
        if size > LARGEST_PHOTOGRAPH {
            return Err(no(format!("it has {size} bytes, and 40 MB is the most")));
        }
        let bytes = RealDisk.read(file, LARGEST_PHOTOGRAPH);
        let bytes = bytes.map_err(|why| no(reason(&why)))?;
        let name = self.next_name(&end);
        let kept = self.photograph_file(&name);
        self.copy(&kept, &bytes)?;
        let entry = Entry::Noted(Note::Photograph(name));
        let noted = self.write(&Stamped { at, entry });
        if noted.is_err()
            && let Err(stays) = self.disk.remove(&kept)
        {
            log::warn!("{} stays behind: {}", kept.display(), reason(&stays));
        }
        noted
    }

    /// Where a photograph of this piece lies, by the name in its note.
    pub fn photograph_file(&self, name: &str) -> PathBuf {
        let folder = photographs_of(self.path());
        folder.join(Path::new(name).file_name().unwrap_or_default())
    }

    fn next_name(&self, end: &str) -> String {
        let name = |number: usize| format!("{number:03}.{end}");
        let is_free = |name: &String| self.disk.length(&self.photograph_file(name)).is_err();
        let mut names = (1..).map(name);
        names.find(is_free).unwrap_or_else(|| name(0))
    }

    fn copy(&self, to: &Path, bytes: &[u8]) -> Result<(), JournalError> {
        let folder = photographs_of(self.path());
        let made = self.disk.make_folder(&folder);
        made.map_err(|why| JournalError::NoPhotograph(reason(&why)))?;
        replace_on(&*self.disk, to, bytes).map_err(|error| {
            JournalError::NoPhotograph(match error {
                WriteError::Unwritable { why, .. } => why,
                other => other.to_string(),
            })
        })
    }
}
