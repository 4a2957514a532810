//! What the strands are made of: fibres one can buy, and strands made of them.

mod colour;
mod fibre;
mod strand;

pub use colour::Colour;
pub use fibre::{Appearance, Construction, Fibre, Known, Packing, Standing, Weave};
pub use strand::{Body, Part, Strand};
