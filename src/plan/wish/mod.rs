//! Asked the other way round: which cord comes out as thick as wished, or with a bound
//! end that goes into the cap at hand.
//!
//! A [`Question`] holds the cord as it is, the [`Wish`] and what may change; [`ask`]
//! tells the nearest cords, the best first, each with what changes, how thick it comes
//! out and what it takes of thread. First answers come from the cord that is known;
//! then structures and the best answers are solved. Nothing is looked up: every figure
//! is that of a cord, told or solved. Knows no money and changes nothing by itself.

mod change;
mod makings;
mod options;
mod outcome;
mod rank;
#[cfg(test)]
mod sample;
mod search;
mod weights;

use std::collections::BTreeSet;

use super::end::bound_end;
use super::fit::glue_gaps;
use super::piece::Binding;
use crate::cord::{Cord, Figures, Progress};
use crate::quantity::Estimate;

pub use change::{Change, Freedom, Look};
pub use makings::{Makings, Thread};
pub use outcome::{Answer, Hindrance, Outcome};

/// What of a cord is wished for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Wanted {
    /// Its thickness over the crests, rested.
    Thickness,
    /// The thickness of its bound end.
    BoundEnd,
}

impl Wanted {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Thickness => "cord",
            Self::BoundEnd => "bound end",
        }
    }
}

/// What a maker would have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    wanted: Wanted,
    mm: f64,
    tolerance: f64,
    binding: Binding,
    inner: Option<f64>,
}

impl Wish {
    /// A cord so thick over its crests when rested, mm, and no further off than
    /// `tolerance`; none unless both are figures and the thickness is more than nothing.
    pub fn thickness(mm: f64, tolerance: f64) -> Option<Self> {
        Self::checked(Wanted::Thickness, mm, tolerance, Binding::default())
    }

    /// A bound end that a cap of this inner diameter takes with room for glue and no
    /// more, where a gap of `glue_gap` is wished for, mm; none if the cap is no wider
    /// than that room.
    pub fn cap(inner: f64, glue_gap: f64, binding: Binding) -> Option<Self> {
        let [least, most] = glue_gaps(glue_gap);
        let gap = f64::midpoint(least, most);
        let room = 0.5 * (most - least);
        let wish = Self::checked(Wanted::BoundEnd, inner - gap, room, binding)?;
        Some(Self {
            inner: Some(inner),
            ..wish
        })
    }

    fn checked(wanted: Wanted, mm: f64, tolerance: f64, binding: Binding) -> Option<Self> {
        let can_be = mm.is_finite() && mm > 0.0 && tolerance.is_finite() && tolerance >= 0.0;
        can_be.then_some(Self {
            wanted,
            mm,
            tolerance,
            binding,
            inner: None,
        })
    }

    /// What of a cord it is about.
    pub fn wanted(&self) -> Wanted {
        self.wanted
    }

    /// How much of it is wished for, mm.
    pub fn mm(&self) -> f64 {
        self.mm
    }

    /// Inner diameter of the cap wished for, mm, if one is.
    pub fn inner(&self) -> Option<f64> {
        self.inner
    }

    /// What these figures say of it, mm.
    pub fn measure(&self, figures: &Figures) -> Estimate {
        match self.wanted {
            Wanted::Thickness => figures.thickness_rested,
            Wanted::BoundEnd => bound_end(figures, &self.binding),
        }
    }

    /// The most that half a spread excuses, mm: in a cap no more than the room for glue.
    fn excuses(&self, half: f64) -> f64 {
        match self.wanted {
            Wanted::Thickness => half,
            Wanted::BoundEnd => half.min(self.tolerance),
        }
    }

    /// How far a figure lies outside what is wished for, mm; below nought if it is less.
    pub fn miss(&self, mm: f64) -> f64 {
        let off = mm - self.mm;
        off.signum() * (off.abs() - self.tolerance).max(0.0)
    }
}

/// How the figures of an answer came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum How {
    /// Told from a cord like it, or from one coarsely solved.
    About,
    /// Solved.
    Solved,
}

/// A wish, beside the cord that is there.
#[derive(Debug, Clone)]
pub struct Question<'a> {
    /// What the cord is made of now.
    pub now: &'a Makings,
    /// That cord, solved.
    pub cord: &'a Cord,
    /// What it should be.
    pub wish: Wish,
    /// What may change.
    pub free: BTreeSet<Freedom>,
    /// How many answers at most.
    pub most: usize,
}

/// The nearest cords to a wish; `tell` is told of them as they are found.
///
/// First answers come before any cord is solved; each telling holds all answers known by
/// then. Whoever is no longer interested stops `progress`; what was found until then is
/// handed back. The same question has the same answers, on any number of threads.
pub fn ask(question: &Question<'_>, progress: &Progress, mut tell: impl FnMut(Outcome)) -> Outcome {
    search::search(question, progress, &mut tell)
}
