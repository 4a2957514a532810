//! The cord under a pull: how it thins and lengthens.
//!
//! The strands keep their length; the pull takes the place of the
//! counterweight, and the strands' tension is whatever keeps them that long. Each
//! pull is solved from the one before.
//! Hard strands hardly give; soft ones are squeezed.
//!
//! Below the braiding weight friction holds the cord between two states that
//! are known, rested and on the disc; in between it is taken as going straight
//! from the one to the other (our guess). Knows no findings.

use super::measure::per_strand;
use super::passes::NEARLY_AT_REST;
use super::recipe::{GRAVITY, Recipe};
use super::solve::Cord;
use super::solved::{SolveError, Solved};
use crate::mechanics::{
    Progress, Schedule, Shape, TightenError, Tubes, silhouette, strand_lengths, tighten,
};
use crate::quantity::Estimate;

/// Newtons of a gram's weight.
const GRAM: f64 = 1e-3 * GRAVITY;
/// Tension of a strand whose length is kept, over its share of what hangs on the
/// cord: enough to begin with, since the length decides. Tried.
const TENSION: f64 = 1.5;

/// The cord under one pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PullPoint {
    /// What hangs on it, g.
    pub grams: f64,
    /// Thickness over the crests, mm.
    pub thickness: Estimate,
    /// Length against the rested length, per cent.
    pub longer: Estimate,
}

/// The cord under pulls of 0 to `most_grams`, evenly spread over `points`.
///
/// # Errors
///
/// [`SolveError::Stopped`] when told so; otherwise pulls at which the cord
/// does not come to rest are left out.
pub fn under_pull(
    recipe: &Recipe,
    cord: &Cord,
    most_grams: f64,
    points: usize,
    progress: &Progress,
) -> Result<Vec<PullPoint>, SolveError> {
    let hung = recipe.weight() / GRAM;
    let mut state = Stretched::on_disc(&cord.solved);
    // Friction helped the weight while braiding, and helps it on.
    let weight = state.tubes.weight;
    let mut curve = Vec::new();
    for k in 0..points {
        let grams = most_grams * k as f64 / (points.max(2) - 1) as f64;
        if grams <= hung {
            curve.push(below_the_weight(cord, grams, grams / hung));
            continue;
        }
        match state.pulled(weight, grams / hung, progress) {
            Ok(()) => curve.push(above_the_weight(cord, grams, &state)),
            Err(TightenError::Stopped) => return Err(SolveError::Stopped),
            Err(_) => break,
        }
    }
    Ok(curve)
}

/// Length on the disc against rested, as a factor.
fn on_disc_over_rested(cord: &Cord) -> Estimate {
    let factor = |percent: f64| 1.0 / (1.0 + percent / 100.0);
    let off = cord.figures.off_weight;
    Estimate {
        value: factor(off.value),
        low: factor(off.high),
        high: factor(off.low),
    }
}

fn below_the_weight(cord: &Cord, grams: f64, share: f64) -> PullPoint {
    let (rested, on_disc) = (
        cord.figures.thickness_rested,
        cord.figures.thickness_on_disc,
    );
    let mix = |a: f64, b: f64| a + share * (b - a);
    let longer = map(on_disc_over_rested(cord), |f| share * (f - 1.0) * 100.0);
    PullPoint {
        grams,
        thickness: Estimate {
            value: mix(rested.value, on_disc.value),
            low: mix(rested.low, on_disc.low),
            high: mix(rested.high, on_disc.high),
        },
        longer,
    }
}

fn above_the_weight(cord: &Cord, grams: f64, state: &Stretched) -> PullPoint {
    let thinner = state.width() / state.width_on_disc;
    let longer = state.shape.lift / state.lift_on_disc;
    PullPoint {
        grams,
        thickness: map(cord.figures.thickness_on_disc, |mm| mm * thinner),
        longer: map(on_disc_over_rested(cord), |f| (f * longer - 1.0) * 100.0),
    }
}

fn map(estimate: Estimate, change: impl Fn(f64) -> f64) -> Estimate {
    Estimate {
        value: change(estimate.value),
        low: change(estimate.low),
        high: change(estimate.high),
    }
}

/// A cord whose strands keep their length while the pull grows.
struct Stretched {
    tubes: Tubes,
    shape: Shape,
    braiding_pull: Vec<f64>,
    width_on_disc: f64,
    lift_on_disc: f64,
}

impl Stretched {
    fn on_disc(solved: &Solved) -> Self {
        let shape = solved.shape.clone();
        let mut tubes = solved.tubes.clone();
        let lengths = per_strand(&tubes, &strand_lengths(&tubes, &shape));
        tubes.lengths = Some(lengths);
        Self {
            width_on_disc: silhouette(&tubes, &shape).mean,
            lift_on_disc: shape.lift,
            braiding_pull: tubes.pull.clone(),
            tubes,
            shape,
        }
    }

    fn width(&self) -> f64 {
        silhouette(&self.tubes, &self.shape).mean
    }

    /// From the last pull to `weights` times the counterweight `hung`.
    fn pulled(&mut self, hung: f64, weights: f64, progress: &Progress) -> Result<(), TightenError> {
        let share = TENSION * hung * weights / self.braiding_pull.iter().sum::<f64>();
        let tension = share.max(1.0);
        let tubes = Tubes {
            weight: hung * weights,
            pull: self
                .braiding_pull
                .iter()
                .map(|pull| pull * tension)
                .collect(),
            ..self.tubes.clone()
        };
        let schedule = Schedule::warm().to(NEARLY_AT_REST).under(tension);
        let (shape, _) = tighten(&tubes, self.shape.clone(), &schedule, progress)?;
        self.shape = shape;
        Ok(())
    }
}
