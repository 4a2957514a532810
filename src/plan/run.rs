//! The cords of a piece: the piece itself and its further sizes.

use super::length::{length, moves, on_disc};
use super::{Job, Size};
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

impl Run {
    /// The same so much shorter, mm.
    pub(super) fn shorter(&self, by: f64) -> Self {
        let rested = self.rested.plus(-by);
        let share = rested.value / self.rested.value;
        Self {
            rested,
            on_disc: self.on_disc.times(share),
            moves: self.moves.times(share),
            ..self.clone()
        }
    }
}

/// The cords to be braided.
pub(super) fn runs(job: &Job<'_>) -> Vec<Run> {
    let own = run(job, String::new());
    let of_size = |size: &Size| {
        let piece = job.piece.of_size(size);
        let piece = &piece;
        run(&Job { piece, ..*job }, size.name.clone())
    };
    let sizes = job.piece.sizes.iter().map(of_size);
    std::iter::once(own).chain(sizes).collect()
}

fn run(job: &Job<'_>, size: String) -> Run {
    let rested = length(job);
    let on_disc = on_disc(job, &rested).total;
    Run {
        size,
        cords: job.piece.cords.into(),
        pieces: u32::from(job.piece.cords) * u32::from(job.piece.from_one_cord),
        rested: rested.total,
        on_disc,
        moves: moves(job, on_disc),
    }
}
