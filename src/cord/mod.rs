//! The craft's answers: moves and materials become a cord with figures in millimetres.

mod figures;
mod form;

pub use figures::{Figures, Hand};
pub use form::Form;
