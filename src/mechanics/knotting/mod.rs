//! How the curves of a shape are knotted, whatever shape they have.
//!
//! ```text
//! linking      how often every two strands go round one another
//! planar       the same for strands that repeat two ways
//! pieces       the curves cut into rising and falling pieces
//! crossings    where these cross as seen from one side, in order of height
//! residue      arithmetic by a large prime
//! sweep        a matrix carried up through the crossings
//! alexander    the invariant that comes of it, by which knottings are told apart
//! ```
//!
//! Knows tubes and their layout. Knows no forces, no thickness.

mod alexander;
mod crossings;
mod linking;
mod pieces;
mod planar;
mod residue;
mod sweep;

pub use alexander::{Knotting, same_crossings};
pub use crossings::Crossings;
pub use linking::linking;
