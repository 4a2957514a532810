//! Unsaved work that outlives a crash.
//!
//! Every window keeps its unsaved work in a folder handed in, as
//! `<id>-<token>.plait`, a plait file whose second line says where the design
//! came from. Beside it lies `<id>-<token>.lock`, which the window holds locked
//! as long as it lives; the system lets go of it however the window ends. So a
//! file whose lock can be taken was left by a window that is gone.
//!
//! The lock is a file of its own because the other one is replaced on every
//! write, and a lock belongs to the file that was replaced.

use std::io;
use std::path::{Path, PathBuf};

use super::WriteError;
use super::disk::{Disk, Lock, RealDisk, reason};
use super::file::{load, open, replace, text_to_keep};
use super::format::{EXTENSION, Kept, LARGEST, ReadError, read};

/// What stands before the path in the second line.
const ORIGIN: &str = "// unsaved work on ";

/// The place where one window keeps its unsaved work.
#[derive(Debug)]
pub struct Autosave {
    path: PathBuf,
    lock: Lock,
    written: String,
}

impl Autosave {
    /// A place in `folder` for the design `id`.
    ///
    /// `token` tells windows apart that have the same design open: letters and
    /// digits that no other window uses.
    ///
    /// # Errors
    ///
    /// When the folder cannot be made or written to.
    pub fn begin(folder: &Path, id: &str, token: &str) -> Result<Self, WriteError> {
        let path = folder.join(format!("{id}-{token}.{EXTENSION}"));
        let lock = RealDisk.make_folder(folder).and_then(|()| locked(&path));
        let lock = lock.and_then(|lock| lock.ok_or(io::ErrorKind::ResourceBusy.into()));
        match lock {
            Ok(lock) => Ok(Self {
                path,
                lock,
                written: String::new(),
            }),
            Err(error) => Err(WriteError::Unwritable {
                why: reason(&error),
                path,
            }),
        }
    }

    /// Keeps the work; `from` is the file that the design was opened from.
    ///
    /// # Errors
    ///
    /// See [`WriteError`]; what was kept before is then still there.
    pub fn keep(&mut self, kept: &Kept, from: Option<&Path>) -> Result<(), WriteError> {
        let text = with_origin(&text_to_keep(kept)?, from);
        if text != self.written {
            replace(&self.path, text.as_bytes())?;
            self.written = text;
        }
        Ok(())
    }

    /// Throws away what was kept, as it is saved elsewhere or not wanted.
    pub fn discard(self) {
        discard(&self.path, self.lock);
    }
}

/// Unsaved work of a window that is gone.
///
/// No other window finds it as long as this one holds it.
#[derive(Debug)]
pub struct Lost {
    /// The work, or why it cannot be read.
    pub kept: Result<Kept, ReadError>,
    /// The file that the design was opened from, if from any.
    pub from: Option<PathBuf>,
    /// Where it was kept.
    pub path: PathBuf,
    lock: Lock,
}

impl Lost {
    /// Goes on with the work: it stays kept where it is.
    pub fn adopt(self) -> Autosave {
        Autosave {
            path: self.path,
            lock: self.lock,
            written: String::new(),
        }
    }

    /// Throws the work away.
    pub fn discard(self) {
        discard(&self.path, self.lock);
    }
}

/// The unsaved work in `folder` that no running window holds, by name.
///
/// What was saved to its own file just before the window ended is no loss and
/// is cleared away.
pub fn find_lost(folder: &Path) -> Vec<Lost> {
    let paths = RealDisk.list(folder).unwrap_or_default().into_iter();
    let is_plait = |path: &PathBuf| path.extension().is_some_and(|end| end == EXTENSION);
    let lost = paths.filter(is_plait).filter_map(lost_at);
    let (saved, lost): (Vec<_>, Vec<_>) = lost.partition(is_saved);
    saved.into_iter().for_each(Lost::discard);
    lost
}

fn lost_at(path: PathBuf) -> Option<Lost> {
    let lock = locked(&path).ok()??;
    let bytes = load(&path, LARGEST);
    let from = bytes.as_deref().ok().and_then(origin);
    Some(Lost {
        kept: bytes.and_then(|bytes| read(&bytes)),
        from,
        path,
        lock,
    })
}

fn is_saved(lost: &Lost) -> bool {
    let on_disk = lost.from.as_deref().map(open);
    on_disk.is_some_and(|on_disk| on_disk.is_ok() && on_disk == lost.kept)
}

fn locked(path: &Path) -> io::Result<Option<Lock>> {
    RealDisk.lock(&path.with_extension("lock"))
}

/// The work goes first, so that nobody finds it without its lock.
fn discard(path: &Path, lock: Lock) {
    for path in [path.to_owned(), path.with_extension("lock")] {
        if let Err(error) = RealDisk.remove(&path) {
            log::warn!("{} stays behind: {}", path.display(), reason(&error));
        }
    }
    drop(lock);
}

/// The text with a second line that says where the design came from.
///
/// A path that is not Unicode cannot be written here; the work then comes back
/// as a design without a file.
fn with_origin(text: &str, from: Option<&Path>) -> String {
    let from = from.and_then(Path::to_str);
    let quoted = from.and_then(|from| ron::to_string(from).ok());
    match (quoted, text.split_once('\n')) {
        (Some(quoted), Some((version, rest))) => format!("{version}\n{ORIGIN}{quoted}\n{rest}"),
        _ => text.into(),
    }
}

fn origin(bytes: &[u8]) -> Option<PathBuf> {
    let second = bytes.split(|&byte| byte == b'\n').nth(1)?;
    let quoted = str::from_utf8(second).ok()?.strip_prefix(ORIGIN)?;
    let path: String = ron::from_str(quoted).ok()?;
    Some(path.into())
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::document::{sample_design, save};

    fn kept(seed: u64) -> Kept {
        Kept::new(sample_design(), seed)
    }

    fn begun(folder: &Path, seed: u64) -> Autosave {
        let kept = kept(seed);
        let mut autosave = Autosave::begin(folder, &kept.id, "w1").unwrap();
        autosave.keep(&kept, None).unwrap();
        autosave
    }

    #[test]
    fn the_work_of_a_living_window_is_not_lost_and_that_of_a_gone_one_is() {
        let folder = tempfile::tempdir().unwrap();
        let (living, gone) = (begun(folder.path(), 1), begun(folder.path(), 2));
        assert!(find_lost(folder.path()).is_empty());
        drop(gone);
        let lost = find_lost(folder.path());
        assert_eq!(lost.len(), 1);
        assert_eq!(lost[0].kept, Ok(kept(2)));
        assert_eq!(lost[0].from, None);
        drop(living);
    }

    #[test]
    fn lost_work_is_found_by_one_window_only() {
        let folder = tempfile::tempdir().unwrap();
        drop(begun(folder.path(), 1));
        let first = find_lost(folder.path());
        assert_eq!(first.len(), 1);
        assert!(find_lost(folder.path()).is_empty());
        drop(first);
        assert_eq!(find_lost(folder.path()).len(), 1);
    }

    #[test]
    fn adopted_work_is_kept_on_and_discarded_work_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        drop(begun(folder.path(), 1));
        let mut autosave = find_lost(folder.path()).remove(0).adopt();
        assert!(find_lost(folder.path()).is_empty());
        let mut more = kept(1);
        more.design.name = "more".into();
        autosave.keep(&more, None).unwrap();
        drop(autosave);
        let lost = find_lost(folder.path()).remove(0);
        assert_eq!(lost.kept, Ok(more));
        lost.discard();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn the_way_back_to_the_file_is_kept_whatever_its_name() {
        let folder = tempfile::tempdir().unwrap();
        let from = folder.path().join("my \"best\"\ncord é.plait");
        let mut autosave = begun(folder.path(), 1);
        autosave.keep(&kept(1), Some(&from)).unwrap();
        drop(autosave);
        assert_eq!(find_lost(folder.path())[0].from, Some(from));
    }

    #[test]
    fn what_was_saved_just_before_the_end_is_no_loss() {
        let folder = tempfile::tempdir().unwrap();
        let (kept, keeping) = (kept(1), folder.path().join("keeping"));
        let from = folder.path().join("a.plait");
        save(&from, &kept).unwrap();
        let mut autosave = Autosave::begin(&keeping, &kept.id, "w1").unwrap();
        autosave.keep(&kept, Some(&from)).unwrap();
        drop(autosave);
        assert!(find_lost(&keeping).is_empty());
        assert_eq!(fs::read_dir(&keeping).unwrap().count(), 0);
    }

    #[test]
    fn damaged_work_is_found_and_said_and_not_thrown_away() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("0123-w1.plait");
        fs::write(&path, "// plait 1\n(id: ").unwrap();
        let lost = find_lost(folder.path());
        assert!(matches!(lost[0].kept, Err(ReadError::CutOff(_))));
        drop(lost);
        assert!(path.exists());
    }

    #[test]
    fn a_place_held_by_another_window_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let _first = begun(folder.path(), 1);
        assert!(Autosave::begin(folder.path(), &kept(1).id, "w1").is_err());
        assert!(Autosave::begin(folder.path(), &kept(1).id, "w2").is_ok());
    }
}
