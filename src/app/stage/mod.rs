//! The stages of the work, in the order in which it is done.

pub mod braid;
mod cautions;
pub mod cut;
mod entry;
pub mod fit;
pub mod look;
mod steps;

pub(in crate::app) use entry::Grain;

/// One stage of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum Stage {
    /// Which braid, which colours where.
    #[default]
    Look,
    /// Does it go into the cap.
    Fit,
    /// What to cut and buy.
    Cut,
    /// The work at the disc.
    Braid,
    /// What was measured, and what it teaches.
    Swatch,
}

impl Stage {
    /// All stages in the order of the work.
    pub const ALL: [Self; 5] = [Self::Look, Self::Fit, Self::Cut, Self::Braid, Self::Swatch];

    /// Its name on the rail.
    pub fn name(self) -> &'static str {
        match self {
            Self::Look => "Look",
            Self::Fit => "Fit",
            Self::Cut => "Cut",
            Self::Braid => "Braid",
            Self::Swatch => "Swatch",
        }
    }

    /// What it is for, in one phrase.
    pub fn purpose(self) -> &'static str {
        match self {
            Self::Look => "which braid, which colours where",
            Self::Fit => "will it go into the cap",
            Self::Cut => "what to cut and buy",
            Self::Braid => "the work at the disc, move by move",
            Self::Swatch => "what was measured, and what it teaches",
        }
    }

    /// Whether this version can do it.
    pub fn is_working(self) -> bool {
        self != Self::Swatch
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_work_begins_with_a_stage_that_works() {
        assert_eq!(
            Stage::ALL[0],
            Stage::default(),
            "the first stage is shown first"
        );
        assert!(Stage::default().is_working(), "and it works");
    }
}
