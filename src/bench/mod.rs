//! At the disc: where the hands are, what lies where, and how it came to be so.
//!
//! Moves are counted from the start of the cord, through all rounds: `done` moves lie
//! in the cord. A *motion* is what the hands do at once: one strand carried, or two
//! exchanged. A *course* is the story of one cord under way, entry by entry; the place
//! is what the story comes to. Where hands went wrong, a *way* leads back.
//!
//! What is [`lost`] is found again from what is seen.
//!
//! This room does not know files, clocks, colours (strands that look the same have the
//! same number), thickness, nor how the cord is solved. The same story has the same end.

mod course;
pub mod lost;
mod lying;
mod motion;
mod onward;
mod pace;
mod seen;

pub use course::{Course, CourseError, Entry, Note, Noted, Stamped, Way, Why};
pub use lost::{
    Answer, Check, Diagnosis, Explanation, GoingOn, Known, Mistake, Question, Said, Slip, explain,
};
pub use lying::{CannotCarry, Lying};
pub use motion::{Motion, Motions, Side};
pub use onward::Stride;
pub use pace::{OwnPace, Pause, Sitting, own_pace, should_rest, sittings, without_rest};
pub use seen::{Seen, Sign, Spot};
