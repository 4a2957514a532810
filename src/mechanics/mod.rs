//! Tubes pulled tight. Knows no braids, no yarns, no millimetres.
//!
//! Lengths in one reference strand diameter `d`, forces in one reference pull
//! `T`; whoever calls scales.

mod contact;
mod energy;
mod images;
mod layout;
mod linking;
mod minimise;
mod outline;
mod pairs;
mod precondition;
#[cfg(test)]
mod spiral;
mod tighten;
mod tubes;

pub use linking::linking;
pub use outline::{Profile, Surface, outline_area, silhouette, strand_lengths, surface};
pub use tighten::{Progress, Report, Schedule, TightenError, tighten};
pub use tubes::{Ends, Hold, Shape, Squeeze, Tubes};
