//! The place of a cord under way is never lost: its file begun, read, damaged, torn, cut
//! off at every call and killed at every moment.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

#[path = "journal/brittle.rs"]
mod brittle;
#[path = "journal/crashes.rs"]
mod crashes;
#[path = "journal/files.rs"]
mod files;
#[cfg(unix)]
#[path = "journal/killed.rs"]
mod killed;
#[path = "journal/pieces.rs"]
mod pieces;
