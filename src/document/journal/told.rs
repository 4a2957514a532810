//! What a place file tells.
//!
//! Lines are read as long as they are sound and follow one another. A last line that is
//! not whole is passed over: it is the step at which the current went. Anything else that
//! is wrong is damage, and what follows it is not believed.

use std::path::PathBuf;

use super::line::{self, Said};
use super::{Begun, FIRST_LINE, JournalError};
use crate::bench::{Course, Entry};

/// What a place file tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What the cord was begun with, or follows since.
    pub begun: Begun,
    /// The story.
    pub course: Course,
    /// When it was worked last, ms since the beginning of 1970.
    pub last: u64,
    /// Whether the last line was not whole and was passed over: the step at which the
    /// current went, or the disk was full. It is cut off at the next write.
    pub is_torn: bool,
    /// What was found damaged before the last line. The story ends there, and goes on
    /// there at the next write, which keeps the damaged file aside first.
    pub damage: Option<Damage>,
    /// Bytes that are good.
    pub(super) length: u64,
}

/// Damage in the middle of a place file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Damage {
    /// The first line that is damaged or cannot follow, counted from 1.
    pub line: usize,
    /// Moves that were done by the last sound line after it, if there is one: what the
    /// maker may compare with what lies on the disc.
    pub later: Option<u64>,
    /// Where the damaged file is kept, once that was needed.
    pub(super) aside: Option<PathBuf>,
}

impl Damage {
    /// It in words, with what is done about it.
    fn sentence(&self, done: u64) -> String {
        let later = self.later.map_or_else(String::new, |later| {
            format!(" Later lines speak of {later} moves; compare with the disc.")
        });
        format!(
            "Line {} of the place file is damaged: the work stands at {done} moves, as the line before it says, and the damaged file is kept beside it when the work goes on.{later}",
            self.line
        )
    }
}

impl Told {
    pub(super) fn begun(begun: Begun, length: u64) -> Self {
        Self {
            course: begun.course(),
            last: begun.began,
            begun,
            is_torn: false,
            damage: None,
            length,
        }
    }

    /// What of the file was not whole, and what is done about it; none where all was.
    pub fn not_whole(&self) -> Option<String> {
        let done = self.course.done;
        if let Some(damage) = &self.damage {
            return Some(damage.sentence(done));
        }
        self.is_torn.then(|| {
            format!("The last thing that was written was not kept whole and does not count: the work stands at {done} moves. Compare with the disc.")
        })
    }

    /// Takes in what a line says; false if it cannot follow.
    fn take(&mut self, said: Said) -> bool {
        match said {
            Said::Begun(begun) => {
                let follows = self.begun.check_followed_by(&begun).is_ok();
                if follows {
                    self.begun = *begun;
                }
                follows
            }
            Said::Stamped(stamped) => {
                self.last = stamped.at;
                self.course.take(&stamped).is_ok()
            }
            Said::Unknown => false,
        }
    }
}

/// Reads the bytes of a place file.
pub(super) fn read(bytes: &[u8]) -> Result<Told, JournalError> {
    let Some(rest) = bytes.strip_prefix(FIRST_LINE.as_bytes()) else {
        return Err(not_ours(bytes));
    };
    // Each with its end, but for a last one that has none.
    let mut lines = rest.split_inclusive(|&byte| byte == b'\n');
    let mut told = first(lines.next())?;
    let mut number = 2;
    while let Some(one) = lines.next() {
        number += 1;
        let said = one.strip_suffix(b"\n").and_then(line::read);
        if matches!(said, Some(Said::Unknown)) {
            return Err(JournalError::Unknown(number));
        }
        let is_sound = said.is_some();
        if said.is_some_and(|said| told.take(said)) {
            told.length += one.len() as u64;
            continue;
        }
        let mut after = lines.peekable();
        if is_sound || after.peek().is_some() {
            told.damage = Some(Damage {
                line: number,
                later: after.filter_map(done_by).next_back(),
                aside: None,
            });
        } else {
            told.is_torn = true;
        }
        break;
    }
    Ok(told)
}

fn first(line: Option<&[u8]>) -> Result<Told, JournalError> {
    let line = line.ok_or(JournalError::NoBegin)?;
    match line.strip_suffix(b"\n").and_then(line::read) {
        Some(Said::Begun(begun)) => {
            begun.check()?;
            let length = FIRST_LINE.len() + line.len();
            Ok(Told::begun(*begun, length as u64))
        }
        Some(Said::Unknown) => Err(JournalError::Unknown(2)),
        _ => Err(JournalError::NoBegin),
    }
}

fn done_by(line: &[u8]) -> Option<u64> {
    match line::read(line.strip_suffix(b"\n")?)? {
        Said::Stamped(stamped) => match stamped.entry {
            Entry::Done(done) | Entry::Taken { done, .. } => Some(done),
            _ => None,
        },
        _ => None,
    }
}

fn not_ours(bytes: &[u8]) -> JournalError {
    let line = bytes.split(|&byte| byte == b'\n').next().unwrap_or(bytes);
    let version = str::from_utf8(line).ok();
    let version = version.and_then(|line| line.trim_end().strip_prefix("// plait place "));
    match version.and_then(|version| version.parse().ok()) {
        Some(newer) if newer > 1 => JournalError::Newer(newer),
        _ => JournalError::NotOurs,
    }
}
