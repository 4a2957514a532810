//! Pictures as lines and areas: SVG 1.1.
//!
//! [`Svg`] writes the elements; whoever draws says where they go. Figures are
//! written short, so that the same picture is the same text everywhere.

mod writer;

pub use writer::{Svg, outline};
