//! Any knot, link or rope: from corners to the tight length, with its error.
//!
//! ```text
//! polygons     closed or endless rows of corners, and what is wrong with them
//! loosen       needless corners taken out, none pulled through another strand
//! laying       tubes laid along polygons, free of overlaps
//! curve        the smooth curve through the nodes: its length, its least distance
//! rests        the shortest of several rests of one knot
//! accurate     tightened until the error is below a tolerance
//! ```
//!
//! Stands on [`tighten()`](super::tighten()); nothing of the solver knows this room.

mod accurate;
mod curve;
mod laying;
mod loosen;
mod polygons;
mod rests;

pub use accurate::{Accurate, Figure, Untight, accurate, tighten_polygons};
pub use curve::{Nearness, curve_lengths, least_distance};
pub use polygons::{Joined, PolygonError, Polygons};
