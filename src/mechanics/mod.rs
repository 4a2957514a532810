//! Tubes pulled tight. Knows no braids, no yarns, no millimetres.
//!
//! Lengths in one reference strand diameter `d`, forces in one reference pull
//! `T`; whoever calls scales.
//!
//! A *cell* repeats for ever along z, each time lifted and turned a little; or it
//! closes on itself after some cells. Its strands are rows of nodes, each node with a
//! radius of its own. [`tighten()`] looks for the least energy: every strand
//! pulls, bends, presses on the tubes it touches and may be squeezed; a weight
//! draws the cord down. Unknown are the nodes, the rise and turn of the cell, and the
//! squeeze of soft strands node by node, all at once: nothing is held and renewed.
//!
//! From the start shape only its crossings matter. They are kept: no step goes
//! farther than the free way between any two strands. Several shapes may be at rest
//! with the same crossings; which one is found depends on the start.
//!
//! Left out: friction, a section that flattens, twist of a strand about itself, slip
//! of a band.
//!
//! ```text
//! tubes, layout        what is tightened, and where its unknowns stand
//! images, pairs, passage   neighbouring cells, who is near whom, how far all may move
//! energy, contact, fibre   heights and slopes
//! matrix, precondition     a stiffness matrix and its inverse
//! minimise             downhill; knows only a function
//! tighten              stages, errors, report
//! linking, curve, outline     what a shape can be asked
//! pieces, crossings    its crossings as seen from one side
//! residue, sweep, alexander   what they say of how the curves are knotted
//! accurate             tight to a tolerance, with the error reached
//! polygons, loosen, laying, segments     any knot, link or rope as a start
//! ```

mod accurate;
mod alexander;
mod contact;
mod crossings;
mod curvature;
mod curve;
mod energy;
mod factor;
mod fibre;
mod images;
mod laying;
mod layout;
mod linking;
mod loosen;
mod matrix;
mod minimise;
mod outline;
mod pairs;
mod passage;
mod pieces;
mod polygons;
mod precondition;
mod residue;
mod segments;
mod sensitivity;
#[cfg(test)]
mod spiral;
mod sweep;
mod tighten;
mod tubes;

pub use accurate::{Accurate, Figure, Untight, accurate, tighten_polygons};
pub use alexander::{Knotting, same_crossings};
pub use crossings::Crossings;
pub use curve::{Nearness, curve_lengths, least_distance};
pub use linking::linking;
pub use outline::{Profile, Surface, outline_area, silhouette, strand_lengths, surface};
pub use polygons::{Joined, PolygonError, Polygons};
pub use sensitivity::{Sensitivities, Sensitivity, sensitivities};
pub use tighten::{Progress, Report, Schedule, TightenError, tighten};
pub use tubes::{Ends, Hold, Shape, Squeeze, Tubes};
