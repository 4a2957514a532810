//! The craft's answers: moves and materials become a cord with figures in millimetres.

mod braiding;
mod figures;
mod form;

pub use braiding::{Tension, Twist};
pub use figures::{Figures, Hand};
pub use form::Form;
