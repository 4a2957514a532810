//! What the hands do on the disc: slots, strands, moves and steps.
//!
//! Pure counting on whole numbers. Slots are numbered 1 to S clockwise seen
//! from above; how the maker numbers them is a matter of display
//! ([`Numbering`]). A lifted strand passes over everything that rests.

mod moves;

pub use moves::{Move, MoveList, Numbering, Place, Step};
