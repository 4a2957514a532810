//! Pictures as lines and areas: SVG 1.1.
//!
//! [`Svg`] writes the elements; whoever draws says where they go. Figures are
//! written short, so that the same picture is the same text everywhere.

mod disc;
mod strip;
mod trace;
mod writer;

pub use disc::disc_svg;
pub use strip::cord_svg;
pub use writer::{Svg, outline};
