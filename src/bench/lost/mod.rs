//! From what lies on the disc to what happened, and the way back.
//!
//! Everything that may have happened in the last moves is tried: the place is another
//! than counted, or hands made one mistake or two and went on by one of several rules.
//! What happened and leads to a disc that is seen so is an *explanation*; how likely it
//! is comes of how likely the mistake is before anything is seen (`guess`) times how
//! likely its disc is seen so (Bayes). Explanations with the same disc and the same cord
//! are one. What may have happened besides is [`Diagnosis::other`].
//!
//! | file | what it does |
//! |---|---|
//! | `counted` | the moves as counted and the discs between them |
//! | `slip` | the kinds of mistakes, and all that may happen at one moment |
//! | `replay` | how hands go on after a mistake |
//! | `sight` | how well a disc fits what is seen |
//! | `search`, `two` | all that may have happened |
//! | `cord` | the fingerprint of the cord |
//! | `way_back` | the shortest way to a right place |
//! | `going_on` | whether just going on is regular |
//! | `question` | what to check |
//! | `words` | mistakes in plain words |
//! | `guess` | what is our guess about hands and eyes |
//!
//! Not known here: how a mistake looks on the cord beyond the four [`Sign`]s, moves
//! farther back than was asked for, and strands that broke or were taken away.
//!
//! [`Sign`]: crate::bench::Sign

mod cord;
mod counted;
mod disc;
mod explain;
mod going_on;
mod guess;
mod question;
mod replay;
mod search;
mod sight;
mod slip;
mod two;
mod way_back;
mod words;

pub use explain::explain;
pub use question::{Answer, Check, Question, Said};
pub use slip::{Kind, Slip};

use super::{Lying, Way};
use crate::structure::{Braid, Place};

/// What is known of the work.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// The moves.
    pub braid: &'a Braid,
    /// Whose way of the start each strand goes.
    pub roles: &'a [usize],
    /// Moves that were counted.
    pub done: u64,
    /// For each strand the number of its look; those that look the same share one.
    pub looks: &'a [usize],
    /// How many moves to look back.
    pub within: u64,
}

/// A mistake and where it was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Mistake {
    /// What went wrong.
    pub kind: Slip,
    /// Moves that were done before it; the move that went wrong is the next.
    pub at: u64,
}

/// How to go on from what lies there, as it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GoingOn {
    /// Moves that count as done.
    pub done: u64,
    /// Whose way of the start each strand goes.
    pub roles: Vec<usize>,
}

/// What may have happened.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// The mistakes; none if the place is another than counted, or all is right.
    pub mistakes: Vec<Mistake>,
    /// Moves that lie in the cord, mistakes aside.
    pub done: u64,
    /// Moves that were counted.
    pub counted: u64,
    /// How likely it is.
    pub probability: f64,
    /// What lies there then.
    pub lying: Lying,
    /// The shortest way back; [`Way::is_right`] holds. No steps if all is right.
    pub way: Way,
    /// How just going on would be regular, where something is wrong and it would.
    pub going_on: Option<GoingOn>,
}

/// What may have happened, best first, and what to check.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// What may have happened, the likeliest first.
    pub explanations: Vec<Explanation>,
    /// How likely it is that it was none of these.
    pub other: f64,
    /// The check that tells most.
    pub question: Option<Question>,
    /// The look of each strand.
    looks: Vec<usize>,
    /// Slots of which nothing was told.
    unseen: Vec<Place>,
}
