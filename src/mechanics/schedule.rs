//! How tight and how exact a solve shall be: its stages.
//!
//! Knows neither tubes nor their energy.

/// Contact stiffness of the first stage.
///
/// Tried: softer (2) collapses knots, harder (32) jams cords in loose states.
const SOFT: f64 = 8.0;

/// Contact stiffness at which figures are read: overlaps of about a hundredth of a diameter.
pub(super) const FIRM: f64 = 64.0;

/// How tight, how exact.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Contact stiffness of each stage, `T/d`.
    pub stages: Vec<f64>,
    /// Worst force on a node for each length of strand at the end, `T/d`.
    pub tolerance: f64,
    /// The same for all stages but the last.
    pub early_tolerance: f64,
    /// Most steps of each stage, beginning anew included.
    pub most_iterations: usize,
    /// Most work of all stages together, in looks at one node of a cord.
    pub most_work: f64,
}

impl Schedule {
    /// Soft, then firm; height and width good to about three digits.
    pub fn coarse() -> Self {
        Self {
            stages: vec![SOFT, FIRM],
            tolerance: 1e-2,
            early_tolerance: 5e-2,
            most_iterations: 2000,
            most_work: f64::INFINITY,
        }
    }

    /// Soft, then firm; four digits and more.
    pub fn fine() -> Self {
        Self {
            tolerance: 1e-3,
            ..Self::coarse()
        }
    }

    /// On to almost no overlap. Errors fall as the root of the stiffness, so
    /// twice the last value less the one at a quarter of its stiffness
    /// extrapolates.
    pub fn hard() -> Self {
        Self {
            stages: vec![SOFT, FIRM, 128.0, 512.0, 2048.0, 8192.0],
            ..Self::fine()
        }
    }

    /// Four times as stiff as [`Self::warm`], from its shape on: with
    /// [`Shape::hard_limit`](super::Shape::hard_limit) the two tell of tubes that do not give.
    pub fn firmer() -> Self {
        Self {
            stages: vec![4.0 * FIRM],
            ..Self::fine()
        }
    }

    /// One stage of this contact stiffness, as exact as [`Self::coarse`].
    pub fn at(stiffness: f64) -> Self {
        Self {
            stages: vec![stiffness],
            ..Self::coarse()
        }
    }

    /// The same to another tolerance at the end.
    pub fn to(self, tolerance: f64) -> Self {
        Self { tolerance, ..self }
    }

    /// The same for strands that pull so many times as hard.
    pub fn under(mut self, pull: f64) -> Self {
        for stiffness in &mut self.stages {
            *stiffness *= pull;
        }
        self.tolerance *= pull;
        self
    }

    /// Firm at once: for a start that was tight under nearly the same conditions.
    pub fn warm() -> Self {
        Self {
            stages: vec![FIRM],
            ..Self::fine()
        }
    }
}
