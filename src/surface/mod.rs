//! The unrolled surface of a solved cord: which strand is outermost at each place round
//! the cord and each height.
//!
//! A place is told by its share of a round, anticlockwise seen from above, and its height
//! in mm. Everything is read from the solved [`Form`](crate::cord::Form) alone: strands
//! are tubes along its lines, and the outermost is the one that a ray from the middle
//! leaves last. A [`Float`] is a connected place of one strand; what no strand covers,
//! where one looks through an open cord, is a gap.
//!
//! The picture of a cord shows it from the side, where a strand that stands out may hide what
//! lies beside it; here nothing is hidden but what lies under. Knows no colours.
//!
//! ```text
//! strand      tubes, and where a ray leaves them
//!   span      from one node to the next
//! round       the coordinate round the cord
//! field       what is outermost at a place
//! grid        the same for a repeat, and where it changes
//! outline     connected parts and their edges
//! floats      the surface and its floats,
//!   laying, polygon     laid out on it with their neighbours
//! seam        which strands lie side by side, along what length
//! map         a raster of the whole repeat
//! ```

mod field;
mod floats;
mod grid;
mod laying;
mod map;
mod outline;
mod polygon;
mod round;
mod seam;
mod span;
mod strand;

pub use floats::{Beside, Copy, Float, Surface};
pub use map::Map;
pub use seam::Seam;
