//! Plait files on the disk: opened, and written whole or not at all.
//!
//! A file that cannot be read changes nothing; a file that cannot be written
//! leaves the older one as it was.

use std::io;
use std::path::{Path, PathBuf};

use super::check::DesignError;
use super::disk::{Disk, RealDisk, folder_of, reason};
use super::format::{Kept, LARGEST, ReadError, read, write};

/// Why a file was not written; what was there before is still there.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WriteError {
    /// Not fit to be read again.
    #[error("nothing was written, for it could not be read again: {0}")]
    Unsound(#[from] DesignError),
    /// Larger than what is read.
    #[error(
        "nothing was written: the design takes {0} bytes, and a plait file never has more than {LARGEST}"
    )]
    TooLarge(u64),
    /// The system did not take it.
    #[error("{} was not written: {why}", path.display())]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// The reason in plain words.
        why: String,
    },
}

/// Reads a file.
///
/// # Errors
///
/// See [`ReadError`].
pub fn open(path: &Path) -> Result<Kept, ReadError> {
    read(&load(path, LARGEST)?)
}

/// The bytes of a file, unless they are too many.
pub(super) fn load(path: &Path, largest: u64) -> Result<Vec<u8>, ReadError> {
    let unreadable = |error: io::Error| ReadError::Unreadable(reason(&error));
    let length = RealDisk.length(path).map_err(unreadable)?;
    if length > largest {
        return Err(ReadError::TooLarge(length));
    }
    RealDisk.read(path, largest + 1).map_err(unreadable)
}

/// Writes a file, whole or not at all.
///
/// A link is followed, and an older file's permissions are kept.
///
/// # Errors
///
/// See [`WriteError`]; an older file is then untouched.
pub fn save(path: &Path, kept: &Kept) -> Result<(), WriteError> {
    replace(path, text_to_keep(kept)?.as_bytes())
}

/// The text of what can be read again.
pub(super) fn text_to_keep(kept: &Kept) -> Result<String, WriteError> {
    kept.check()?;
    let text = write(kept);
    let size = text.len() as u64;
    if size > LARGEST {
        return Err(WriteError::TooLarge(size));
    }
    Ok(text)
}

/// Puts `bytes` in the place of the file, whole or not at all.
///
/// A link is followed, and an older file's permissions are kept.
///
/// # Errors
///
/// See [`WriteError`]; an older file is then untouched.
pub fn replace(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    replace_on(&RealDisk, path, bytes)
}

/// The same on any disk; see [`replace`].
///
/// # Errors
///
/// See [`WriteError`]; an older file is then untouched.
pub fn replace_on(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let goal = disk.goal(path);
    replace_in_place(disk, &goal, bytes).map_err(|error| WriteError::Unwritable {
        why: reason(&error),
        path: goal,
    })
}

fn replace_in_place(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let part = disk.write_beside(path, bytes)?;
    if let Err(error) = disk.rename(&part, path) {
        if let Err(stays) = disk.remove(&part) {
            log::warn!("{} stays behind: {}", part.display(), reason(&stays));
        }
        return Err(error);
    }
    // The file is in its place; a folder that cannot be synced is no reason to say that
    // nothing was written.
    if let Err(error) = disk.sync_folder(folder_of(path)) {
        log::warn!("{} is not synced: {}", path.display(), reason(&error));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fs::{self, File};

    use super::*;
    use crate::document::{sample_design, sample_fibre};
    use crate::material::Fibre;

    fn kept(seed: u64) -> Kept {
        Kept::new(sample_design(), seed)
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let name = |entry: io::Result<fs::DirEntry>| entry.unwrap().file_name();
        entries
            .map(|entry| name(entry).to_string_lossy().into_owned())
            .collect()
    }

    #[test]
    fn what_is_saved_opens_again_and_nothing_else_is_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.plait");
        save(&path, &kept(1)).unwrap();
        save(&path, &kept(2)).unwrap();
        assert_eq!(open(&path), Ok(kept(2)));
        assert_eq!(names(folder.path()), ["a.plait"]);
    }

    #[test]
    fn a_design_that_is_not_sound_never_replaces_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.plait");
        save(&path, &kept(1)).unwrap();
        let mut bad = kept(1);
        bad.design.braiding.counterweight = f64::NAN;
        let error = save(&path, &bad).unwrap_err().to_string();
        assert_eq!(
            error,
            "nothing was written, for it could not be read again: braiding, counterweight: NaN is not a number"
        );
        assert_eq!(open(&path), Ok(kept(1)));
    }

    #[test]
    fn a_design_too_large_to_be_read_again_is_not_written() {
        let folder = tempfile::tempdir().unwrap();
        let mut large = kept(1);
        let note = "\u{1f9f6}".repeat(10_000);
        large.design.fibres.extend((0..200).map(|i| Fibre {
            note: note.clone(),
            ..sample_fibre(&i.to_string())
        }));
        assert_eq!(large.check(), Ok(()));
        let error = save(&folder.path().join("a.plait"), &large);
        assert!(matches!(error, Err(WriteError::TooLarge(_))), "{error:?}");
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn a_missing_folder_and_a_folder_in_the_way_are_said() {
        let folder = tempfile::tempdir().unwrap();
        let said = |path: &Path| save(path, &kept(1)).unwrap_err().to_string();
        let missing = folder.path().join("no/a.plait");
        assert!(said(&missing).ends_with("was not written: there is no such file or folder"));
        assert!(said(folder.path()).ends_with("was not written: it is a folder"));
    }

    #[test]
    fn a_write_protected_file_is_not_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.plait");
        save(&path, &kept(1)).unwrap();
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        let error = save(&path, &kept(2)).unwrap_err().to_string();
        assert!(
            error.ends_with("the file or its folder is protected"),
            "{error}"
        );
        assert_eq!(open(&path), Ok(kept(1)));
        assert_eq!(names(folder.path()), ["a.plait"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_and_permissions_are_kept() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a.plait"), folder.path().join("link"));
        symlink("a.plait", &link).unwrap();
        save(&link, &kept(1)).unwrap();
        let mode = |mode| fs::Permissions::from_mode(mode);
        fs::set_permissions(&path, mode(0o640)).unwrap();
        save(&link, &kept(2)).unwrap();
        assert!(link.is_symlink());
        assert_eq!(open(&path), Ok(kept(2)));
        let now = fs::metadata(&path).unwrap().permissions();
        assert_eq!(now.mode() & 0o777, 0o640);
    }

    #[test]
    fn a_huge_file_is_not_read_and_a_folder_is_no_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("huge.plait");
        File::create(&path).unwrap().set_len(1 << 40).unwrap();
        assert_eq!(open(&path), Err(ReadError::TooLarge(1 << 40)));
        let said = open(folder.path()).unwrap_err().to_string();
        assert_eq!(said, "the file cannot be read: it is not a file");
    }
}
