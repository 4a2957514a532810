//! Plait files on the disk: those kept in `tests/files/`, each showing one
//! thing, and the finished designs that come with the program.

#[path = "files/finished.rs"]
mod finished;
