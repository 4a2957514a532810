//! Looks: what arrangements of colours a cord can show, and which shows what was
//! painted.
//!
//! An [`Arrangement`] gives each strand one of a list of colours. The [`Group`] of a
//! structure says which arrangements look the same; [`count()`] how many do not.
//! [`Looks`] finds them piece by piece, and [`describe`] says in plain words what one
//! shows, measured on the stitches of the surface, the [`Mosaic`]. A [`Painting`] is what
//! a cord should show: [`answers()`] finds the arrangements that come nearest.
//!
//! ```text
//! arrangement, group   colours on strands, and what leaves the cord as it was
//! count                how many looks, exactly
//! sameness, listing, sample   every look once, or some drawn
//! mosaic, patches, words      what hangs together, and what it is called
//! kin, looks           all of it by pieces, in order
//! worn                 colours apart from what the strands are made of
//! painting, candidate, assign, answer   what was painted, and which arrangement shows it best
//! ```
//!
//! This room does not know how a cord is solved or drawn, nor any structure by name.

mod answer;
mod arrangement;
mod assign;
mod candidate;
mod count;
mod group;
mod kin;
mod listing;
mod looks;
mod mosaic;
#[cfg(test)]
mod on_cords;
mod painting;
mod patches;
mod sameness;
mod sample;
mod words;
mod worn;

pub use answer::{Answer, Asked, Fate, answers};
pub use arrangement::{Arrangement, Choice, Contents};
pub use candidate::{Candidate, Hand};
pub use count::{arrangements, count, count_beside};
pub use group::{Alike, Group, GroupError};
pub use looks::{DRAWN, LISTED_AT_MOST, Look, Looks, Wanted};
pub use mosaic::{Mosaic, Neighbour, Stitch};
pub use painting::{Crop, Painting, Wish};
pub use words::{Kind, Shown, Words, describe};
pub use worn::Worn;
