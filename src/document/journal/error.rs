//! Why a place file is not read, begun or written, a sentence each.

use crate::bench::CourseError;
use crate::structure::BraidError;

/// Why a place file is not read, begun or written.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum JournalError {
    /// The system did not hand it over.
    #[error("the place file cannot be read: {0}")]
    Unreadable(String),
    /// The first line is not ours.
    #[error("line 1: this is not a place file, its first line is not \"// plait place 1\"")]
    NotOurs,
    /// Written by a later program.
    #[error("line 1: the place file has version {0}, and this program reads none later than 1")]
    Newer(u64),
    /// A sound line that this program does not understand.
    #[error(
        "line {0}: this version does not understand it; a later one wrote it, so the place file is left as it is"
    )]
    Unknown(usize),
    /// What the cord was begun with cannot be made out.
    #[error(
        "line 2: what the cord was begun with is damaged, so the place file is left as it is and cannot be gone on with"
    )]
    NoBegin,
    /// Well written, but not sensible.
    #[error("a cord cannot be begun with this: {0}")]
    Unsound(String),
    /// The moves make no braid.
    #[error("a cord cannot be begun with moves that do not hold: {0}")]
    NoBraid(#[from] BraidError),
    /// Another window holds it.
    #[error(
        "this cord is being worked in another window: it can be looked at here and gone on with there"
    )]
    Elsewhere,
    /// Nothing can be written where it lies.
    #[error("this cord can be looked at but not gone on with, for its place cannot be kept: {0}")]
    Protected(String),
    /// It could not be written.
    #[error("the cord is not begun, for its place cannot be kept: {0}")]
    NotBegun(String),
    /// There is a piece of that id.
    #[error("the cord is not begun, for there is one of that id already")]
    There,
    /// A step could not be written; what was half written was taken back.
    #[error("the place could not be kept and is still the one before: {0}")]
    Unwritten(String),
    /// What was half written could not be taken back either.
    #[error(
        "the place could not be kept and is still the one before; nothing more is kept until the place file can be mended: {0}"
    )]
    Stuck(String),
    /// A damaged file could not be copied, and is not touched without.
    #[error("the damaged place file could not be set aside, so nothing is written to it: {0}")]
    NotSetAside(String),
    /// Another program has written to it.
    #[error(
        "the place file was changed from outside, so nothing is written to it; open the cord again"
    )]
    Changed,
    /// Too large.
    #[error("the place file is full: it holds 32 MB, about a million moves")]
    Full,
    /// An entry that cannot follow.
    #[error(transparent)]
    CannotFollow(#[from] CourseError),
    /// The changed design is of another piece.
    #[error("this is another cord, whose place is kept elsewhere")]
    OtherPiece,
    /// The changed design has more or fewer strands.
    #[error(
        "the cord on the disc has {here} strands and the changed design {there}: it is gone on with as it was begun"
    )]
    OtherStrands {
        /// Strands on the disc.
        here: usize,
        /// Strands of the changed design.
        there: usize,
    },
    /// The changed design has other moves.
    #[error(
        "the changed design has other moves than the cord on the disc: it is gone on with as it was begun"
    )]
    OtherMoves,
    /// A photograph that is not taken in.
    #[error("the photograph is not kept: {0}")]
    NoPhotograph(String),
    /// A piece could not be put away.
    #[error("the cord is not put away: {0}")]
    NotPutAway(String),
}
