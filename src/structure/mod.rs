//! What the hands do on the disc: slots, strands, moves and steps.
//!
//! Pure counting on whole numbers. Slots are numbered 1 to S clockwise seen
//! from above; how the maker numbers them is a matter of display
//! ([`Numbering`]). A lifted strand passes over everything that rests.
//!
//! A [`MoveList`] is what was written down; a [`Braid`] is a list that has been
//! checked and can be worked for ever. The [`shelf()`] holds ready lists.
//!
//! This room does not know how thick a strand is, nor which strand crosses
//! which.

mod braid;
mod check;
mod closing;
mod examine;
mod fault;
mod hold;
mod memory;
mod moves;
mod numbering;
mod order;
mod plate;
mod repair;
mod rework;
mod sentence;
mod shelf;
mod slides;
mod steps;
mod symmetry;
mod text;
mod writing;

pub use braid::{Braid, Lift, Seat};
pub use fault::{BraidError, Fault};
pub use moves::{Move, MoveList, Place, Step, Way};
pub use numbering::Numbering;
pub use plate::Plate;
pub use repair::{Change, Repair};
pub use rework::{On, Rework, ReworkError, Reworked};
pub use shelf::{Shape, Structure, shelf};
pub use slides::slides;
pub use text::TextError;
