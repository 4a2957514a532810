//! The cord seen from the side, thread by thread.
//!
//! From a solved [`Form`] to pixels in five steps, each of which knows nothing
//! of the next: smooth strand lines ([`run`], [`path`]), tubes in view
//! ([`raise`], [`course`], [`makeup`], [`tubes`]), what is seen where ([`visibility`], [`canvas`]), how open it
//! lies ([`occlusion`]), how it takes the light ([`surface`], [`paint`],
//! [`hairs`], [`halo`]), all laid on a ground ([`ground`], [`layer`]).
//!
//! This part does not know moves, structures or where a form comes from, and
//! nothing in it depends on time or on the number of processors.
//!
//! [`Form`]: crate::cord::Form

mod bands;
mod canvas;
mod course;
mod cut;
mod floats;
mod glimpse;
mod ground;
mod hairs;
mod halo;
mod layer;
mod light;
mod look;
mod makeup;
mod noise;
mod occlusion;
mod paint;
mod path;
mod piece;
mod pixel;
mod plane;
mod raise;
mod run;
#[cfg(test)]
pub(crate) mod samples;
mod seen;
mod stage;
mod stretch;
mod string;
mod surface;
#[cfg(test)]
mod tests;
mod tubes;
mod vector;
mod visibility;

pub use bands::{TooLarge, large_picture};
pub(crate) use cut::crossings;
pub use floats::{CloseUp, Float, close_up, floats};
pub(crate) use glimpse::Glimpse;
pub(crate) use light::{Encoder, linear};
pub use piece::{PieceSize, piece_size, whole_piece};
pub use pixel::strand_seen;
pub use seen::{StrandsSeen, strands_seen};
pub use stage::{Stage, cord_picture};
pub(crate) use stretch::{Station, stretch};
pub(crate) use vector::Vec3;
