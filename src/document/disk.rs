//! The disk, as the files of this room need it: few calls, each of which may fail.
//!
//! All that is written goes through a [`Disk`], so that a test can put one in its place
//! that is full, protected, torn or without current at any call. [`RealDisk`] is the
//! one of this computer; it is the only place of this room that asks the system.
//!
//! A file is *kept* once it outlives a power cut; before, it is only *written*.

use std::fmt;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// A lock that is held until it is dropped.
pub type Lock = Box<dyn fmt::Debug>;

/// What is asked of a disk. Each call succeeds whole, or says why not; what it left
/// behind then is said with it.
pub trait Disk: fmt::Debug {
    /// Bytes of a file; an error for what is none.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn length(&self, file: &Path) -> io::Result<u64>;

    /// The bytes of a file, at most so many.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn read(&self, file: &Path, most: u64) -> io::Result<Vec<u8>>;

    /// What lies in a folder, by name.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;

    /// Makes a folder, and those that it lies in, unless they are there.
    ///
    /// # Errors
    ///
    /// What the system says; some of the folders may be there then.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// Keeps bytes in a new file beside `file`, as readable for others as that one is,
    /// and says where. It is to be renamed to `file`, or removed.
    ///
    /// # Errors
    ///
    /// What the system says, or when `file` must not be replaced. `file` is as it was.
    fn write_beside(&self, file: &Path, bytes: &[u8]) -> io::Result<PathBuf>;

    /// Adds bytes at the end of a file that is there, and keeps them.
    ///
    /// # Errors
    ///
    /// What the system says; any beginning of the bytes may be there then.
    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Cuts a file off after so many bytes, and keeps that.
    ///
    /// # Errors
    ///
    /// What the system says; it may be cut off nevertheless.
    fn cut(&self, file: &Path, length: u64) -> io::Result<()>;

    /// Gives a file or folder another name; a file of that name is replaced.
    ///
    /// # Errors
    ///
    /// What the system says; the names are as they were.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Takes a file away.
    ///
    /// # Errors
    ///
    /// What the system says; it is still there.
    fn remove(&self, file: &Path) -> io::Result<()>;

    /// Keeps the names in a folder. A drive that has no such thing does nothing.
    ///
    /// # Errors
    ///
    /// What the system says; a power cut may bring back older names.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// Locks a file, which is made if need be, against other windows and this one;
    /// none if it is locked already.
    ///
    /// # Errors
    ///
    /// When the file cannot be opened or made.
    fn lock(&self, file: &Path) -> io::Result<Option<Lock>>;

    /// Where a chain of links ends; the file itself, when it is none.
    fn goal(&self, file: &Path) -> PathBuf {
        file.to_owned()
    }
}

/// The folder that a file lies in.
pub(super) fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// The disk of this computer.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn length(&self, file: &Path) -> io::Result<u64> {
        let about = fs::metadata(file)?;
        if !about.is_file() {
            return Err(io::Error::other("it is not a file"));
        }
        Ok(about.len())
    }

    fn read(&self, file: &Path, most: u64) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        File::open(file)?.take(most).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        let entries = fs::read_dir(folder)?;
        let mut paths = entries
            .map(|entry| Ok(entry?.path()))
            .collect::<io::Result<Vec<_>>>()?;
        paths.sort();
        Ok(paths)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        if folder.is_dir() {
            return Ok(());
        }
        let above = folder_of(folder);
        self.make_folder(above)?;
        match fs::create_dir(folder) {
            Err(error) if !folder.is_dir() => Err(error),
            _ => self.sync_folder(above),
        }
    }

    fn write_beside(&self, file: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
        let older = older_permissions(file)?;
        let mut builder = tempfile::Builder::new();
        builder.prefix(".plait-").suffix(".part");
        // As any new file; the system takes away what the maker's mask forbids.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let mut part = builder.tempfile_in(folder_of(file))?;
        part.write_all(bytes)?;
        if let Some(permissions) = older {
            part.as_file().set_permissions(permissions)?;
        }
        part.as_file().sync_all()?;
        let (_, path) = part.keep().map_err(|error| error.error)?;
        Ok(path)
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()> {
        // Opened each time: a file that was moved away meanwhile is missed at once.
        let mut file = OpenOptions::new().append(true).open(file)?;
        file.write_all(bytes)?;
        file.sync_data()
    }

    fn cut(&self, file: &Path, length: u64) -> io::Result<()> {
        let file = OpenOptions::new().write(true).open(file)?;
        file.set_len(length)?;
        file.sync_data()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        fs::remove_file(file)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        use io::ErrorKind as Kind;
        match File::open(folder).and_then(|folder| folder.sync_all()) {
            // Some network drives, and systems where a folder is not opened.
            Err(error)
                if matches!(
                    error.kind(),
                    Kind::InvalidInput | Kind::Unsupported | Kind::PermissionDenied
                ) =>
            {
                Ok(())
            }
            done => done,
        }
    }

    fn lock(&self, file: &Path) -> io::Result<Option<Lock>> {
        let mut options = OpenOptions::new();
        let options = options.write(true).create(true).truncate(false);
        let lock = options.open(file)?;
        Ok(match lock.try_lock() {
            Err(TryLockError::WouldBlock) => None,
            // Some network drives have no locks; keeping the work matters more.
            Ok(()) | Err(TryLockError::Error(_)) => Some(Box::new(lock)),
        })
    }

    fn goal(&self, file: &Path) -> PathBuf {
        let mut goal = file.to_owned();
        // A chain longer than this is a ring; the write then says so.
        for _ in 0..40 {
            let Ok(next) = fs::read_link(&goal) else {
                break;
            };
            goal = goal.parent().unwrap_or(Path::new("")).join(next);
        }
        goal
    }
}

/// The permissions of the file to be replaced, if there is one.
fn older_permissions(path: &Path) -> io::Result<Option<fs::Permissions>> {
    match fs::metadata(path) {
        Ok(about) if about.is_dir() => Err(io::ErrorKind::IsADirectory.into()),
        Ok(about) if about.permissions().readonly() => Err(io::ErrorKind::PermissionDenied.into()),
        Ok(about) => Ok(Some(about.permissions())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// Why the system refused, in plain words where we have them.
pub(super) fn reason(error: &io::Error) -> String {
    use io::ErrorKind as Kind;
    let words = match error.kind() {
        Kind::NotFound => "there is no such file or folder",
        Kind::PermissionDenied => "the file or its folder is protected",
        Kind::ReadOnlyFilesystem => "the disk can only be read",
        Kind::StorageFull => "the disk is full",
        Kind::QuotaExceeded => "your share of the disk is used up",
        Kind::IsADirectory => "it is a folder",
        Kind::NotADirectory => "what should be its folder is a file",
        _ => return error.to_string(),
    };
    words.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_disk_is_called_full() {
        let error = io::Error::from(io::ErrorKind::StorageFull);
        assert_eq!(reason(&error), "the disk is full");
    }

    #[test]
    fn bytes_are_added_only_to_what_is_there() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a");
        assert!(RealDisk.append(&file, b"one").is_err());
        let part = RealDisk.write_beside(&file, b"one").unwrap();
        RealDisk.rename(&part, &file).unwrap();
        RealDisk.append(&file, b" two").unwrap();
        assert_eq!(RealDisk.read(&file, 100).unwrap(), b"one two");
        RealDisk.cut(&file, 3).unwrap();
        assert_eq!(RealDisk.length(&file).unwrap(), 3);
        assert_eq!(RealDisk.list(folder.path()).unwrap(), [file]);
    }

    #[test]
    fn a_lock_is_held_until_it_is_dropped() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.lock");
        let held = RealDisk.lock(&file).unwrap();
        assert!(held.is_some());
        assert!(RealDisk.lock(&file).unwrap().is_none());
        drop(held);
        assert!(RealDisk.lock(&file).unwrap().is_some());
    }

    #[test]
    fn folders_are_made_down_to_the_last_and_a_file_in_the_way_is_said() {
        let folder = tempfile::tempdir().unwrap();
        let deep = folder.path().join("one/two");
        RealDisk.make_folder(&deep).unwrap();
        RealDisk.make_folder(&deep).unwrap();
        assert!(deep.is_dir());
        let file = deep.join("file");
        fs::write(&file, "").unwrap();
        assert!(RealDisk.make_folder(&file.join("three")).is_err());
    }
}
