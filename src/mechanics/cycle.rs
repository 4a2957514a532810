//! A strand cycle: what draws along it.
//!
//! Letters as in `energy`. Strands that run on in one another have one pull, one
//! spacing and, if it is kept, one length.

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
    pub(super) fn of(tubes: &Tubes, strands: &[usize]) -> Self {
        let first = strands[0];
        Self {
            pull: tubes.pull[first],
            kept: kept(tubes, strands),
            bending: tubes.bending[first],
            squeeze: tubes.squeeze[first],
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

    /// What acts along each step, over its length. `pressed` and `bent` are half the contact
    /// and the whole bending energy of the cycle.
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

    /// Energy of all that acts along the strand.
    pub(super) fn energy(&self) -> f64 {
        let drawn = match self.kept {
            Some(kept) => 0.5 * self.line() * (self.length() - kept),
            None => self.pull * self.length(),
        };
        drawn + self.held * self.spacing()
    }
}

fn kept(tubes: &Tubes, cycle: &[usize]) -> Option<f64> {
    let lengths = tubes.lengths.as_ref()?;
    Some(cycle.iter().map(|&strand| lengths[strand]).sum())
}
