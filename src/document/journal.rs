//! The place of a cord under way, kept step by step.
//!
//! Every piece has a file of its own, `<design id>-<piece id>.place`, in a folder handed
//! in: ids and not names, so that renaming a design or saving it elsewhere loses no
//! place. Its first line is `// plait place 1`; then comes a line for what the cord was
//! begun with, and one for each thing that happened (`line`).
//!
//! A line is one write at the end of the file, kept before anything else happens. If it
//! fails, what was half written is cut off again; if that fails too, nothing more is
//! written until it can be. So the file is always the story up to some step, and at most
//! a piece of the next one behind it.
//!
//! Beside it lies a `.lock`, held as long as a window works the cord. This room keeps
//! the story and does not know what lies where.

mod begun;
mod error;
mod found;
mod line;
mod photograph;
mod told;

use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;

pub use begun::Begun;
pub use error::JournalError;
pub use found::{Found, put_away, under_way};
pub use told::{Damage, Told};

use super::disk::{Disk, Lock, RealDisk, folder_of, reason};
use crate::bench::{Course, Stamped};

/// The folder of the places in the program's own folder.
pub const PIECES: &str = "pieces";
/// What the files end in, without the dot.
const PLACE: &str = "place";
/// The first line.
const FIRST_LINE: &str = "// plait place 1\n";
/// Largest file, bytes: about a million moves.
const LARGEST: u64 = 32 * 1024 * 1024;

/// The place file of one cord, open to go on with or only to look at.
#[derive(Debug)]
pub struct Journal {
    disk: Rc<dyn Disk>,
    path: PathBuf,
    hold: Hold,
    told: Told,
}

/// Who may write.
#[derive(Debug)]
enum Hold {
    /// This window.
    Here {
        /// Let go by being dropped.
        _lock: Lock,
    },
    /// Another window.
    Elsewhere,
    /// Nobody, and why.
    Nobody(String),
}

impl Hold {
    fn of(disk: &dyn Disk, path: &Path) -> Self {
        match locked(disk, path) {
            Ok(Some(lock)) => Self::Here { _lock: lock },
            Ok(None) => Self::Elsewhere,
            Err(error) => Self::Nobody(reason(&error)),
        }
    }

    fn check(&self) -> Result<(), JournalError> {
        match self {
            Self::Here { .. } => Ok(()),
            Self::Elsewhere => Err(JournalError::Elsewhere),
            Self::Nobody(why) => Err(JournalError::Protected(why.clone())),
        }
    }
}

/// Locks a place file; none if another window holds it.
fn locked(disk: &dyn Disk, path: &Path) -> io::Result<Option<Lock>> {
    let lock = path.with_extension("lock");
    // A window that only looks who holds it lets go at once: tried, a few microseconds.
    for _ in 0..20 {
        if let Some(held) = disk.lock(&lock)? {
            return Ok(Some(held));
        }
    }
    Ok(None)
}

impl Journal {
    /// Begins a cord in `folder`.
    ///
    /// # Errors
    ///
    /// See [`JournalError`]; nothing is begun then.
    pub fn begin(folder: &Path, begun: Begun) -> Result<Self, JournalError> {
        Self::begin_on(Rc::new(RealDisk), folder, begun)
    }

    /// The same on any disk; see [`Self::begin`].
    ///
    /// # Errors
    ///
    /// See [`JournalError`]; nothing is begun then.
    pub fn begin_on(disk: Rc<dyn Disk>, folder: &Path, begun: Begun) -> Result<Self, JournalError> {
        begun.check()?;
        let path = folder.join(format!("{}-{}.{PLACE}", begun.of, begun.piece));
        let unwritten = |error: io::Error| JournalError::NotBegun(reason(&error));
        disk.make_folder(folder).map_err(unwritten)?;
        let hold = Hold::of(&*disk, &path);
        hold.check()?;
        if disk.length(&path).is_ok() {
            return Err(JournalError::There);
        }
        let text = format!("{FIRST_LINE}{}", line::of_begun(&begun));
        put_new(&*disk, &path, text.as_bytes()).map_err(unwritten)?;
        let told = Told::begun(begun, text.len() as u64);
        Ok(Self {
            disk,
            path,
            hold,
            told,
        })
    }

    /// Opens the file of a cord under way. Where another window holds it, or nothing can
    /// be written, it can be looked at; see [`Self::may_write`].
    ///
    /// # Errors
    ///
    /// When it cannot be read; the file is as it was.
    pub fn open(path: &Path) -> Result<Self, JournalError> {
        Self::open_on(Rc::new(RealDisk), path)
    }

    /// The same on any disk; see [`Self::open`].
    ///
    /// # Errors
    ///
    /// When it cannot be read; the file is as it was.
    pub fn open_on(disk: Rc<dyn Disk>, path: &Path) -> Result<Self, JournalError> {
        // Before the lock, which would be made beside a file that is not there.
        length(&*disk, path)?;
        let hold = Hold::of(&*disk, path);
        let told = told::read(&load(&*disk, path)?)?;
        Ok(Self {
            disk,
            path: path.to_owned(),
            hold,
            told,
        })
    }

    /// Whether the work can be gone on with here.
    ///
    /// # Errors
    ///
    /// Why not: another window holds it, or the folder is protected.
    pub fn may_write(&self) -> Result<(), JournalError> {
        self.hold.check()
    }

    /// Where the file is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What the cord was begun with, or follows since.
    pub fn begun(&self) -> &Begun {
        &self.told.begun
    }

    /// The story so far.
    pub fn course(&self) -> &Course {
        &self.told.course
    }

    /// All that the file tells, with what was found damaged when it was opened.
    pub fn told(&self) -> &Told {
        &self.told
    }

    /// Takes an entry in once it is kept on the disk.
    ///
    /// # Errors
    ///
    /// See [`JournalError`]; course and file are as they were, except after
    /// [`JournalError::Stuck`], when the next write tries to mend the file first.
    pub fn write(&mut self, stamped: &Stamped) -> Result<(), JournalError> {
        let mut course = self.told.course.clone();
        course.take(stamped)?;
        self.append(&line::of_stamped(stamped))?;
        self.told.course = course;
        self.told.last = stamped.at;
        Ok(())
    }

    /// Goes on with a changed design or outlook, at the same place of the same cord.
    ///
    /// # Errors
    ///
    /// When the moves or the strands are others, or it cannot be kept; nothing is changed
    /// then.
    pub fn follow(&mut self, begun: Begun) -> Result<(), JournalError> {
        self.told.begun.check_followed_by(&begun)?;
        self.append(&line::of_begun(&begun))?;
        self.told.begun = begun;
        Ok(())
    }

    fn append(&mut self, line: &str) -> Result<(), JournalError> {
        self.hold.check()?;
        self.mend()?;
        let after = self.told.length + line.len() as u64;
        if after > LARGEST {
            return Err(JournalError::Full);
        }
        let unwritten = |error: io::Error| JournalError::Unwritten(reason(&error));
        if self.disk.length(&self.path).map_err(unwritten)? != self.told.length {
            return Err(JournalError::Changed);
        }
        if let Err(error) = self.disk.append(&self.path, line.as_bytes()) {
            self.told.is_torn = true;
            self.mend()?;
            return Err(unwritten(error));
        }
        self.told.length = after;
        Ok(())
    }

    /// Cuts off what stands behind the good lines, once it lies elsewhere if it may be
    /// of worth.
    fn mend(&mut self) -> Result<(), JournalError> {
        if !self.told.is_torn && self.told.damage.is_none() {
            return Ok(());
        }
        if let Some(damage) = &mut self.told.damage
            && damage.aside.is_none()
        {
            damage.aside = Some(set_aside(&*self.disk, &self.path)?);
        }
        let stuck = |error: io::Error| JournalError::Stuck(reason(&error));
        if self.disk.length(&self.path).map_err(stuck)? < self.told.length {
            return Err(JournalError::Changed);
        }
        let cut = self.disk.cut(&self.path, self.told.length);
        cut.map_err(stuck)?;
        self.told.is_torn = false;
        self.told.damage = None;
        Ok(())
    }
}

/// Puts a new file in its place, kept with its name.
fn put_new(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let part = disk.write_beside(path, bytes)?;
    let put = disk.rename(&part, path);
    let put = put.and_then(|()| disk.sync_folder(folder_of(path)));
    if put.is_err() {
        // Whichever name it has by now.
        for name in [&part, path] {
            if let Err(stays) = disk.remove(name) {
                log::warn!("{} stays behind: {}", name.display(), reason(&stays));
            }
        }
    }
    put
}

/// A copy of a damaged file beside it, kept with its name.
fn set_aside(disk: &dyn Disk, path: &Path) -> Result<PathBuf, JournalError> {
    let bytes = load(disk, path)?;
    let name = |number: u32| match number {
        0 => path.with_extension("place.damaged"),
        number => path.with_extension(format!("place.damaged-{number}")),
    };
    let is_it = |other: &PathBuf| match disk.length(other) {
        Ok(_) => disk.read(other, LARGEST).is_ok_and(|there| there == bytes),
        Err(_) => true,
    };
    let aside = (0..).map(name).find(is_it).expect("some number is free");
    let kept = match disk.length(&aside) {
        Ok(_) => disk.sync_folder(folder_of(path)),
        Err(_) => put_new(disk, &aside, &bytes),
    };
    kept.map_err(|error| JournalError::NotSetAside(reason(&error)))?;
    Ok(aside)
}

fn length(disk: &dyn Disk, path: &Path) -> Result<u64, JournalError> {
    let length = disk.length(path);
    length.map_err(|error| JournalError::Unreadable(reason(&error)))
}

fn load(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, JournalError> {
    if length(disk, path)? > LARGEST {
        return Err(JournalError::Full);
    }
    let bytes = disk.read(path, LARGEST);
    bytes.map_err(|error| JournalError::Unreadable(reason(&error)))
}
