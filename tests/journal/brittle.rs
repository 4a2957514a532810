//! A disk in memory that fails when it is told to.
//!
//! It knows two states of every file and of the names: as they are *seen*, and as they
//! are *kept*. A power cut leaves what is kept, and of what was only seen whatever the
//! cut's [`Rest`] says.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use plaitwright::document::{Disk, Lock};

/// How a call fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Trouble {
    /// Nothing is done: a protected folder, a full disk.
    Refused,
    /// Half of the bytes are there, then the disk is full.
    Half,
    /// All is done and seen, and cannot be kept.
    NotKept,
    /// The current goes while it is done; nothing works until the next start.
    PowerCut,
}

/// All kinds of trouble.
pub(crate) const TROUBLES: [Trouble; 4] = [
    Trouble::Refused,
    Trouble::Half,
    Trouble::NotKept,
    Trouble::PowerCut,
];

/// What is there after a power cut of all that was seen and not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rest {
    /// Nothing.
    Nothing,
    /// The names.
    Names,
    /// The names, and half of the bytes that were added.
    Half,
    /// The names, and nought bytes where bytes were added.
    Noughts,
    /// Everything.
    All,
}

/// All rests.
pub(crate) const RESTS: [Rest; 5] = [
    Rest::Nothing,
    Rest::Names,
    Rest::Half,
    Rest::Noughts,
    Rest::All,
];

#[derive(Debug, Default, Clone)]
struct Bytes {
    seen: Vec<u8>,
    kept: Vec<u8>,
}

#[derive(Debug, Default, Clone)]
struct State {
    bytes: Vec<Bytes>,
    seen: BTreeMap<PathBuf, usize>,
    kept: BTreeMap<PathBuf, usize>,
    calls: u64,
    troubles: BTreeMap<u64, Trouble>,
    is_off: bool,
}

/// The disk.
#[derive(Debug, Default)]
pub(crate) struct Brittle(RefCell<State>);

impl Brittle {
    /// Lets the calls from now on fail as listed, counted from 0.
    pub(crate) fn troubled(&self, troubles: impl IntoIterator<Item = (u64, Trouble)>) {
        let mut state = self.0.borrow_mut();
        state.calls = 0;
        state.troubles = troubles.into_iter().collect();
    }

    /// Ends all trouble; how many calls there were since it began.
    pub(crate) fn sound(&self) -> u64 {
        let calls = self.0.borrow().calls;
        self.troubled([]);
        calls
    }

    /// Whether the current is gone.
    pub(crate) fn is_off(&self) -> bool {
        self.0.borrow().is_off
    }

    /// Starts the computer anew after the current was gone.
    pub(crate) fn start(&self, rest: Rest) {
        let state = &mut *self.0.borrow_mut();
        if rest == Rest::Nothing {
            state.seen.clone_from(&state.kept);
        }
        state.kept.clone_from(&state.seen);
        for Bytes { seen, kept } in &mut state.bytes {
            *seen = left_over(seen, kept, rest);
            kept.clone_from(seen);
        }
        state.calls = 0;
        state.troubles.clear();
        state.is_off = false;
    }

    /// What is seen of a file.
    pub(crate) fn seen(&self, file: &Path) -> Option<Vec<u8>> {
        let state = self.0.borrow();
        Some(state.bytes[*state.seen.get(file)?].seen.clone())
    }

    /// Puts a file there, kept.
    pub(crate) fn put(&self, file: &Path, bytes: &[u8]) {
        let mut state = self.0.borrow_mut();
        let number = state.bytes.len();
        state.bytes.push(Bytes {
            seen: bytes.to_vec(),
            kept: bytes.to_vec(),
        });
        state.seen.insert(file.to_owned(), number);
        state.kept.insert(file.to_owned(), number);
    }

    /// A copy of the disk as it is now.
    pub(crate) fn copy(&self) -> Self {
        Self(RefCell::new(self.0.borrow().clone()))
    }

    /// Counts a call; the trouble that it is in.
    fn call(&self) -> io::Result<Option<Trouble>> {
        let mut state = self.0.borrow_mut();
        let trouble = state.troubles.get(&state.calls).copied();
        state.calls += 1;
        if trouble == Some(Trouble::PowerCut) {
            state.is_off = true;
            return Ok(trouble);
        }
        match trouble {
            _ if state.is_off => Err(io::Error::other("there is no current")),
            Some(Trouble::Refused) => Err(io::ErrorKind::PermissionDenied.into()),
            trouble => Ok(trouble),
        }
    }

    /// A call that does all or nothing and can be kept only elsewhere.
    fn whole<T>(&self, done: impl FnOnce(&mut State) -> io::Result<T>) -> io::Result<T> {
        match self.call()? {
            None => done(&mut self.0.borrow_mut()),
            Some(Trouble::PowerCut) => {
                // Done at the very last moment; the rest decides whether it is there.
                let _ = done(&mut self.0.borrow_mut());
                Err(io::Error::other("there is no current"))
            }
            Some(_) => Err(io::ErrorKind::StorageFull.into()),
        }
    }
}

fn left_over(seen: &[u8], kept: &[u8], rest: Rest) -> Vec<u8> {
    let added = seen.strip_prefix(kept).unwrap_or_default();
    let more: Vec<u8> = match rest {
        Rest::Nothing | Rest::Names => Vec::new(),
        Rest::Half => added[..added.len() / 2].to_vec(),
        Rest::Noughts => vec![0; added.len()],
        Rest::All => return seen.to_vec(),
    };
    [kept, &more].concat()
}

impl State {
    fn number(&self, file: &Path) -> io::Result<usize> {
        let number = self.seen.get(file).copied();
        number.ok_or_else(|| io::ErrorKind::NotFound.into())
    }

    /// Changes the bytes of a file, by half, whole, or whole and kept.
    fn change(
        &mut self,
        file: &Path,
        trouble: Option<Trouble>,
        after: impl FnOnce(&[u8]) -> Vec<u8>,
    ) -> io::Result<()> {
        let number = self.number(file)?;
        let Bytes { seen, kept } = &mut self.bytes[number];
        let whole = after(seen);
        match trouble {
            None => {
                seen.clone_from(&whole);
                *kept = whole;
                Ok(())
            }
            Some(Trouble::Half) => {
                let added = whole.len().saturating_sub(seen.len());
                if added > 0 {
                    *seen = whole[..seen.len() + added / 2].to_vec();
                }
                Err(io::ErrorKind::StorageFull.into())
            }
            Some(_) => {
                *seen = whole;
                Err(io::Error::other("the disk does not answer"))
            }
        }
    }
}

impl Disk for Brittle {
    fn length(&self, file: &Path) -> io::Result<u64> {
        self.whole(|state| Ok(state.bytes[state.number(file)?].seen.len() as u64))
    }

    fn read(&self, file: &Path, most: u64) -> io::Result<Vec<u8>> {
        self.whole(|state| {
            let bytes = &state.bytes[state.number(file)?].seen;
            Ok(bytes[..bytes.len().min(most as usize)].to_vec())
        })
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        self.whole(|state| {
            let inside = |path: &&PathBuf| path.parent() == Some(folder);
            Ok(state.seen.keys().filter(inside).cloned().collect())
        })
    }

    fn make_folder(&self, _folder: &Path) -> io::Result<()> {
        self.whole(|_| Ok(()))
    }

    fn write_beside(&self, file: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
        let trouble = self.call()?;
        let mut state = self.0.borrow_mut();
        let number = state.bytes.len();
        let part = file.with_file_name(format!("{number}.part"));
        state.bytes.push(Bytes::default());
        state.seen.insert(part.clone(), number);
        let done = state.change(&part, trouble, |_| bytes.to_vec());
        if done.is_err() && !state.is_off {
            state.seen.remove(&part);
        }
        done.map(|()| part)
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()> {
        let trouble = self.call()?;
        let added = |seen: &[u8]| [seen, bytes].concat();
        self.0.borrow_mut().change(file, trouble, added)
    }

    fn cut(&self, file: &Path, length: u64) -> io::Result<()> {
        let trouble = self.call()?;
        let cut = |seen: &[u8]| seen[..seen.len().min(length as usize)].to_vec();
        self.0.borrow_mut().change(file, trouble, cut)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.whole(|state| {
            let number = state.number(from)?;
            state.seen.remove(from);
            state.seen.insert(to.to_owned(), number);
            Ok(())
        })
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        self.whole(|state| {
            state.number(file)?;
            state.seen.remove(file);
            Ok(())
        })
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.whole(|state| {
            let inside = |path: &Path| path.parent() == Some(folder);
            state.kept.retain(|path, _| !inside(path));
            let seen = state.seen.iter().filter(|(path, _)| inside(path));
            state.kept.extend(seen.map(|(path, &n)| (path.clone(), n)));
            Ok(())
        })
    }

    fn lock(&self, _file: &Path) -> io::Result<Option<Lock>> {
        self.whole(|_| Ok(Some(Box::new(()) as Lock)))
    }
}
