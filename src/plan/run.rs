//! The cords of a piece: the piece itself and its further sizes.

use super::chain::{Chain, Link};
use super::cut::{chained, product};
use super::{Job, Measure};
use crate::quantity::Estimate;

/// A cord that is braided, once or several times over.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Name of the size; empty of the piece itself.
    pub size: String,
    /// How many such cords.
    pub cords: u32,
    /// How many pieces are cut from all of them.
    pub pieces: u32,
    /// One cord, rested, mm.
    pub rested: Estimate,
    /// The same on the disc, mm.
    pub on_disc: Estimate,
    /// Moves to make for one.
    pub moves: Estimate,
}

/// The cords to be braided, each so much shorter, mm, than the piece asks for.
pub(super) fn runs(job: &Job<'_>, shorter: f64) -> Vec<Run> {
    let piece = job.piece;
    let own = run(job, (String::new(), -shorter), piece.cords);
    let sizes = piece.sizes.iter();
    let sizes = sizes.map(|size| run(job, (size.name.clone(), size.longer - shorter), 1));
    std::iter::once(own).chain(sizes).collect()
}

fn run(job: &Job<'_>, (size, longer): (String, f64), cords: u16) -> Run {
    let rested = length(job).total.plus(longer);
    let on_disc = hanging(job, rested);
    let per_mm = job.figures.moves_per_cm.times(0.1);
    let pieces = u32::from(cords) * u32::from(job.piece.from_one_cord);
    Run {
        size,
        cords: cords.into(),
        pieces,
        rested,
        on_disc,
        moves: product(on_disc, per_mm),
    }
}

/// From the measure to the rested cord.
pub(super) fn length(job: &Job<'_>) -> Chain {
    let adds = match job.piece.measure {
        Measure::Length(length) => Estimate::exact(length),
        Measure::Round { girth, ease } => Estimate::exact(girth + ease),
    };
    chained(vec![Link {
        name: "finished".into(),
        adds,
        reason: String::new(),
    }])
}

/// To where to stop on the disc.
pub(super) fn on_disc(job: &Job<'_>) -> Chain {
    let adds = hanging(job, length(job).total);
    chained(vec![Link {
        name: "on the disc".into(),
        adds,
        reason: String::new(),
    }])
}

fn hanging(job: &Job<'_>, rested: Estimate) -> Estimate {
    rested.times(1.0 / (1.0 + job.figures.off_weight.value / 100.0))
}
