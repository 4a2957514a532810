//! What must be cut, bought and fitted. Same input, same answer; asks nobody.

mod fit;

pub use fit::{CapFit, GLUE_GAP_MM, cap_fit, fitting_caps};
