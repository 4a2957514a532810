//! What a cord is begun with.

use serde::{Deserialize, Serialize};

use super::JournalError;
use crate::bench::Course;
use crate::document::Design;
use crate::plan::Outlook;
use crate::structure::{Braid, MoveList};

/// What a cord is begun with, whole: the work follows this and not the design's file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Begun {
    /// Made once per piece and never changed: hexadecimal digits.
    pub piece: String,
    /// Id of the design it is a piece of.
    pub of: String,
    /// The design.
    pub design: Design,
    /// What is expected of the cord.
    pub outlook: Outlook,
    /// When it was begun, ms since the beginning of 1970.
    pub began: u64,
}

impl Begun {
    /// A piece of the design `of` that was never begun before; `seed` makes its id.
    pub fn new(of: String, design: Design, outlook: Outlook, began: u64, seed: u64) -> Self {
        let mut random = fastrand::Rng::with_seed(seed);
        Self {
            piece: format!("{:032x}", random.u128(..)),
            of,
            design,
            outlook,
            began,
        }
    }

    /// Its moves: those of the first section, which every sound design has.
    pub fn moves(&self) -> &MoveList {
        &self.design.sections[0].moves
    }

    /// Its moves, checked.
    ///
    /// # Errors
    ///
    /// When they do not hold, as in no piece that was begun.
    pub fn braid(&self) -> Result<Braid, JournalError> {
        Ok(Braid::new(self.moves())?)
    }

    /// The story before anything happened.
    pub(super) fn course(&self) -> Course {
        Course::new(self.design.strands.len())
    }

    /// Whether a cord can be begun with it, and whether what was read may be used.
    pub(super) fn check(&self) -> Result<(), JournalError> {
        let unsound = |words: String| Err(JournalError::Unsound(words));
        if !is_id(&self.piece) || !is_id(&self.of) {
            return unsound("an id must be 8 to 64 digits from 0 to f".into());
        }
        if let Err(error) = self.design.check() {
            return unsound(error.to_string());
        }
        if let Err(error) = self.outlook.check(self.design.strands.len()) {
            return unsound(error.to_string());
        }
        self.braid().map(|_| ())
    }

    /// Whether the work may go on with `other` instead.
    pub(super) fn check_followed_by(&self, other: &Self) -> Result<(), JournalError> {
        other.check()?;
        if (&self.piece, &self.of) != (&other.piece, &other.of) {
            return Err(JournalError::OtherPiece);
        }
        let (here, there) = (self.design.strands.len(), other.design.strands.len());
        if here != there {
            return Err(JournalError::OtherStrands { here, there });
        }
        if self.moves() != other.moves() {
            return Err(JournalError::OtherMoves);
        }
        Ok(())
    }
}

/// Whether it can be told from a path, and from another's end.
pub(super) fn is_id(id: &str) -> bool {
    let hex = |c: char| matches!(c, '0'..='9' | 'a'..='f');
    (8..=64).contains(&id.len()) && id.chars().all(hex)
}
