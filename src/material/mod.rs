//! What the strands are made of: fibres one can buy, and strands made of them.

pub mod colour;
pub mod count;

mod appearance;
mod body;
mod check;
mod construction;
mod fibre;
mod propose;
mod shelf;
mod strand;
mod substance;
mod unsure;

pub use appearance::{Appearance, Weave};
pub use body::Body;
pub use check::FibreError;
pub use colour::{Colour, NAMED};
pub use construction::Construction;
pub use fibre::{Fibre, Known, Label, Packing, Standing};
pub use propose::Size;
pub use shelf::{on_shelf, shelf};
pub use strand::{Part, Strand, StrandError};
pub use substance::Substance;
pub use unsure::{Bound, Unsure};
