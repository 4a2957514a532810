//! The cords under way in a folder, and putting one away.

use std::path::{Path, PathBuf};

use super::begun::is_id;
use super::photograph::photographs_of;
use super::told::{self, Told};
use super::{JournalError, PLACE, load, locked};
use crate::document::disk::{Disk, RealDisk, folder_of, reason};

/// Where pieces lie that were put away, in the folder of those under way.
const PUT_AWAY: &str = "done";

/// A cord under way.
#[derive(Debug)]
pub struct Found {
    /// Its file.
    pub path: PathBuf,
    /// Id of the design it is a piece of.
    pub of: String,
    /// Id of the piece.
    pub piece: String,
    /// Whether a window holds it: another one, or this one.
    pub is_held: bool,
    /// What its file tells, or why it cannot be read.
    pub told: Result<Told, JournalError>,
}

/// The cords in a folder, of one design or of all, the one that was worked last first and
/// those that cannot be read last. Nothing is changed.
///
/// # Errors
///
/// When the folder is there and cannot be read.
pub fn under_way(folder: &Path, of: Option<&str>) -> Result<Vec<Found>, JournalError> {
    let listed = match RealDisk.list(folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Vec::new(),
        listed => listed.map_err(|error| JournalError::Unreadable(reason(&error)))?,
    };
    let found = listed.into_iter().filter_map(found_at);
    let mut found: Vec<Found> = found
        .filter(|found| of.is_none_or(|of| of == found.of))
        .collect();
    let last = |found: &Found| found.told.as_ref().map_or(0, |told| told.last);
    found.sort_by_key(|found| std::cmp::Reverse(last(found)));
    Ok(found)
}

fn found_at(path: PathBuf) -> Option<Found> {
    let (of, piece) = ids(&path)?;
    Some(Found {
        is_held: is_held(&path),
        told: load(&RealDisk, &path).and_then(|bytes| told::read(&bytes)),
        of,
        piece,
        path,
    })
}

/// The ids of design and piece that a place file is named by.
fn ids(path: &Path) -> Option<(String, String)> {
    if path.extension()? != PLACE {
        return None;
    }
    let (of, piece) = path.file_stem()?.to_str()?.split_once('-')?;
    (is_id(of) && is_id(piece)).then(|| (of.to_owned(), piece.to_owned()))
}

fn is_held(path: &Path) -> bool {
    let lock = path.with_extension("lock");
    // Not made for the sake of looking.
    RealDisk.length(&lock).is_ok() && matches!(RealDisk.lock(&lock), Ok(None))
}

/// Puts a cord away, finished or given up, because its maker said so: its file and
/// photographs go into a folder `done` beside those under way, and nothing is deleted.
/// Says where its file is then; [`under_way`] reads that folder too.
///
/// # Errors
///
/// When a window holds it, or the system says no; it is where it was.
pub fn put_away(path: &Path) -> Result<PathBuf, JournalError> {
    let no = |why: &std::io::Error| JournalError::NotPutAway(reason(why));
    let folder = folder_of(path);
    let done = folder.join(PUT_AWAY);
    let name = path.file_name().unwrap_or_default();
    RealDisk.length(path).map_err(|why| no(&why))?;
    let lock = locked(&RealDisk, path).map_err(|why| no(&why))?;
    let lock = lock.ok_or(JournalError::Elsewhere)?;
    RealDisk.make_folder(&done).map_err(|why| no(&why))?;
    let there = done.join(name);
    RealDisk.rename(path, &there).map_err(|why| no(&why))?;
    // The place is safe either way; what is left is tidying.
    let photographs = photographs_of(path);
    let tidied = match RealDisk.list(&photographs) {
        Ok(_) => RealDisk.rename(&photographs, &photographs_of(&there)),
        Err(_) => Ok(()),
    };
    let tidied = tidied
        .and(RealDisk.remove(&path.with_extension("lock")))
        .and(RealDisk.sync_folder(&done))
        .and(RealDisk.sync_folder(folder));
    if let Err(error) = tidied {
        log::warn!("{} is not tidied away: {}", path.display(), reason(&error));
    }
    drop(lock);
    Ok(there)
}
