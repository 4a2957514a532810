//! The cords of a piece: the piece itself and its further sizes.

use super::chain::Chain;
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

/// The cords to be braided, each so much shorter, mm, than the piece asks for.
pub(super) fn runs(job: &Job<'_>, shorter: f64) -> Vec<Run> {
    let own = run(job, String::new(), shorter);
    let of_size = |size: &Size| {
        let piece = job.piece.of_size(size);
        let piece = &piece;
        run(&Job { piece, ..*job }, size.name.clone(), shorter)
    };
    let sizes = job.piece.sizes.iter().map(of_size);
    std::iter::once(own).chain(sizes).collect()
}

fn run(job: &Job<'_>, size: String, shorter: f64) -> Run {
    let rested = Chain {
        total: length(job).total.plus(-shorter),
        links: Vec::new(),
    };
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
