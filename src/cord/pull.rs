//! The cord under a pull: how it thins and lengthens.
//!
//! The strands keep their length; the pull takes the place of the
//! counterweight, and the strands' tension is whatever keeps them that long.
//! Hard strands hardly give; soft ones are squeezed.
//!
//! Below the braiding weight friction holds the cord between two states that
//! are known, rested and on the disc; in between it is taken as going straight
//! from the one to the other (our guess). Knows no findings.

use super::recipe::Recipe;
use super::solve::Cord;
use super::solved::{SolveError, Solved};
use super::start::{strands_like, tubes_of};
use crate::mechanics::{
    Progress, Schedule, Shape, TightenError, Tubes, silhouette, strand_lengths, tighten,
};
use crate::quantity::Estimate;

/// Newtons of a gram's weight.
const GRAM: f64 = 9.806_65e-3;
/// Steps to find the tension that keeps the strands' length. Tried.
const MOST_STEPS: usize = 25;
/// The pull is at most this share of the strands' tension together: at more
/// the cord has no rest.
const MOST_SHARE: f64 = 0.9;
/// Strand length is kept to this share.
const LENGTH_KEPT: f64 = 1e-3;

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
    let mut curve = Vec::new();
    for k in 0..points {
        let grams = most_grams * k as f64 / (points.max(2) - 1) as f64;
        if grams <= hung {
            curve.push(below_the_weight(cord, grams, grams / hung));
            continue;
        }
        match state.pulled(recipe, grams / hung, progress) {
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
    tension: f64,
    length: f64,
    width_on_disc: f64,
    lift_on_disc: f64,
}

impl Stretched {
    fn on_disc(solved: &Solved) -> Self {
        let (tubes, shape) = (solved.tubes.clone(), solved.shape.clone());
        Self {
            length: strand_lengths(&tubes, &shape).iter().sum(),
            width_on_disc: silhouette(&tubes, &shape).mean,
            lift_on_disc: shape.lift,
            tension: 1.0,
            tubes,
            shape,
        }
    }

    fn width(&self) -> f64 {
        silhouette(&self.tubes, &self.shape).mean
    }

    /// Secant steps on the logarithms of tension and length: longer strands
    /// than there are need more tension.
    fn pulled(
        &mut self,
        recipe: &Recipe,
        weights: f64,
        progress: &Progress,
    ) -> Result<(), TightenError> {
        let mut slope = -0.2;
        let mut before: Option<(f64, f64)> = None;
        let mut tension = self.tension.max(0.5 * weights);
        for _ in 0..MOST_STEPS {
            self.relax(recipe, weights, tension, progress)?;
            let now: f64 = strand_lengths(&self.tubes, &self.shape).iter().sum();
            let miss = (now / self.length).ln();
            if miss.abs() < LENGTH_KEPT {
                return Ok(());
            }
            if let Some((log, old)) = before
                && (tension.ln() - log).abs() > 1e-9
            {
                slope = ((miss - old) / (tension.ln() - log)).clamp(-2.0, -0.02);
            }
            before = Some((tension.ln(), miss));
            let next = tension * (-miss / slope).clamp(-0.7, 0.7).exp();
            // The strands must hold more than hangs on them.
            tension = next.max(weights * recipe.effective_share() / MOST_SHARE);
        }
        // No tension keeps the strands this long: they are pulled straight.
        Err(TightenError::Restless {
            residual: before.map_or(f64::NAN, |(_, miss)| miss.abs()),
        })
    }

    fn relax(
        &mut self,
        recipe: &Recipe,
        weights: f64,
        tension: f64,
        progress: &Progress,
    ) -> Result<(), TightenError> {
        let strands = strands_like(recipe);
        let mut tubes = tubes_of(&strands, recipe, &self.tubes.continues, self.tubes.nodes);
        tubes.weight *= weights;
        for pull in &mut tubes.pull {
            *pull *= tension;
        }
        // Contacts as stiff against this tension as against the braiding one.
        let schedule = Schedule {
            stages: vec![64.0 * tension.max(1.0)],
            ..Schedule::warm()
        };
        let (shape, _) = tighten(&tubes, self.shape.clone(), &schedule, progress)?;
        self.tubes = tubes;
        self.shape = shape;
        self.tension = tension;
        Ok(())
    }
}
