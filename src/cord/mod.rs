//! The craft's answers: moves and materials become a cord with figures in
//! millimetres.
//!
//! A [`Recipe`] holds everything the answer depends on; [`solve()`] gives the
//! [`Cord`]: its [`Form`] for drawing and its [`Figures`] with their spread.
//! Knows no files, no threads and no colours.

mod balance;
mod bands;
mod braiding;
mod cores;
mod crossings;
mod doubt;
mod figures;
mod form;
mod formation;
mod lay;
mod measure;
mod model;
mod nodes;
mod passes;
mod pull;
mod recipe;
mod remarks;
mod solve;
mod solved;
mod spread;
mod start;
mod strandlike;

pub use crate::mechanics::Progress;
pub use braiding::{Tension, Twist};
pub use figures::{Figures, Hand};
pub use form::Form;
pub use pull::{PullPoint, under_pull};
pub use recipe::{Recipe, RecipeError, strand_name};
pub use solve::{Cord, solve};
pub use solved::{Quality, SolveError, SolveReport};
