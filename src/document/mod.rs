//! What is kept: the design, its history and its file.

mod design;

pub use design::{Braiding, Design, Piece, Section};
