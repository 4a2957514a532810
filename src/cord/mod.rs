//! The craft's answers: moves and materials become a cord with figures in
//! millimetres.
//!
//! A [`Recipe`] holds everything the answer depends on; [`solve()`] gives the
//! [`Cord`]: its [`Form`] for drawing and its [`Figures`] with their spread.
//! Knows no files, no threads and no colours.
//!
//! ```text
//! recipe, braiding     what the answer depends on
//! strandlike, nodes, start     strands as tubes, laid along the world-lines
//! passes               the ways to a tight cord, with
//!   effort                     how much may be computed,
//!   alike, mixing              equal strands, and each grown to its own make,
//!   bands, cores, formation    what is flat, has a core, has several shapes at rest
//! solved, doubt        a shape that was found, and how far it may be off
//! crossings, balance   whether it is the cord of the moves, and can be
//! measure, section, lay, model, changes, spread, figures     millimetres, and how sure they are
//! remarks, form        what to tell of it, and what to draw
//! solve                all of it in order
//! first_answer, leeway     figures at once, from the last cord
//! pull, rested, firmness     the cord under a pull, and off the weight
//! swatch               the values that give a measured cord
//! ```

mod alike;
mod balance;
mod bands;
mod braiding;
mod changes;
mod cores;
mod crossings;
mod doubt;
mod effort;
mod figures;
mod firmness;
mod first_answer;
mod flattened;
mod form;
mod formation;
mod lay;
mod leeway;
mod measure;
mod mixing;
mod model;
mod nodes;
mod passes;
mod pull;
mod recipe;
mod remarks;
mod rested;
mod section;
mod solve;
mod solved;
mod spread;
mod start;
mod strandlike;
mod swatch;

pub use crate::mechanics::Progress;
pub use braiding::{Tension, Twist};
pub use figures::{Figures, Hand};
pub use firmness::{FIRMNESS_GRAMS, Firmness, lengthening};
pub use first_answer::{FirstAnswer, first_answer, spread_at_once};
pub use form::Form;
pub use model::Miss;
pub use pull::{PullPoint, Pulled, State, pulled, under_pull};
pub use recipe::{Recipe, RecipeError, strand_name};
pub use rested::rested;
pub use section::{FLAT_FROM, Section};
pub use solve::{Cord, solve};
pub use solved::{Quality, SolveError, SolveReport};
pub use swatch::{Met, Swatch, SwatchError, meet, reach};
