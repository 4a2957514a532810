//! A strand as a whole: all pieces that run on in one another.
//!
//! Letters as in `energy`. Knows no nodes: only how long its steps are together.

use super::tubes::{Squeeze, Tubes};

/// Pull that stretches a strand of kept length by its own length, over its pull:
/// stiff enough to keep it to a thousandth.
const STRETCH: f64 = 1000.0;

/// One strand cycle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cycle {
    pub pull: f64,
    /// Length that is kept, all pieces together.
    kept: Option<f64>,
    pub bending: f64,
    pub squeeze: Squeeze,
    /// Number of steps.
    pub steps: f64,
    /// Sum of squared steps.
    pub sum: f64,
    /// Sum of the work of the squeeze over the nodes, for each length.
    pub held: f64,
}

impl Cycle {
    /// The cycle of these strands.
    pub(super) fn of(tubes: &Tubes, strands: &[usize]) -> Self {
        let kept = |lengths: &Vec<f64>| strands.iter().map(|&strand| lengths[strand]).sum();
        Self {
            pull: tubes.pull[strands[0]],
            kept: tubes.lengths.as_ref().map(kept),
            bending: tubes.bending[strands[0]],
            squeeze: tubes.squeeze[strands[0]],
            steps: (strands.len() * tubes.nodes) as f64,
            sum: 0.0,
            held: 0.0,
        }
    }

    pub(super) fn spacing(&self) -> f64 {
        (self.sum / self.steps).sqrt()
    }

    pub(super) fn length(&self) -> f64 {
        (self.sum * self.steps).sqrt()
    }

    /// What acts along each step, over its length. `pressed` and `bent` are half the
    /// contact and the whole bending energy of the cycle.
    pub(super) fn along(&self, pressed: f64, bent: f64) -> f64 {
        self.tension() / self.spacing() + 2.0 * (pressed - 1.5 * bent) / self.sum
    }

    /// What draws along the strand: its pull and the work it holds, for each length.
    pub(super) fn tension(&self) -> f64 {
        self.line() + self.held / self.steps
    }

    /// Pull in the strand.
    pub(super) fn line(&self) -> f64 {
        match self.kept {
            Some(kept) => STRETCH * self.pull * (self.length() / kept - 1.0),
            None => self.pull,
        }
    }

    /// Second derivative of the energy by the length.
    pub(super) fn stretch(&self) -> f64 {
        self.kept.map_or(0.0, |kept| STRETCH * self.pull / kept)
    }

    /// Of its pull and its squeeze.
    pub(super) fn energy(&self) -> f64 {
        let drawn = match self.kept {
            Some(kept) => 0.5 * self.line() * (self.length() - kept),
            None => self.pull * self.length(),
        };
        drawn + self.held * self.spacing()
    }
}
