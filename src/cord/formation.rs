//! Which resting shape hands make, where there are several.
//!
//! From 16 strands on the symmetric cell is a saddle: a formed cord, relaxed,
//! falls to one lowest shape (tried against a slow model of the braiding
//! itself; no real cord was measured). That shape is looked for by letting a
//! whole round go from a few starts and keeping the lowest; the cord is then
//! stepped along that branch to its own weight.

use super::recipe::Recipe;
use super::start::{laid_out, world_lines};
use crate::mechanics::{Progress, Report, Schedule, Shape, TightenError, Tubes, tighten};

/// From this many strands on a cord may have several resting shapes. Tried:
/// 8 and 12 keep the symmetric shape, 16 and 32 do not.
pub(super) const SEVERAL_SHAPES_FROM: usize = 16;

/// Shares of weight at which a whole round is let go. Tried.
const LET_GO_AT: [f64; 2] = [0.2, 0.3];
/// Share of weight at which the shapes are compared. Tried.
const COMPARED_AT: f64 = 0.5;
/// Noise that breaks the symmetry, strand diameters. Tried.
const NOISE: f64 = 0.03;
/// Rise of the flat start for a lift over half the strands, strand diameters. Tried.
const FLAT_RISE: f64 = 0.3;
/// Energies closer than this share are taken as one shape. Our guess.
const SAME_SHAPE: f64 = 2e-3;
/// Forces left when shapes are compared: energies are good to five digits. Tried.
const SEARCH_TOLERANCE: f64 = 1e-2;
/// Seed of the noise: the same cord every time.
const SEED: u64 = 16;

/// The lowest resting shape found and how many different ones were met.
#[derive(Debug, Clone)]
pub(super) struct Resting {
    pub tubes: Tubes,
    pub shape: Shape,
    pub report: Report,
    /// Cells of the symmetric shape in this one.
    pub cells: usize,
    pub shapes: usize,
}

/// Looks for the lowest shape of a whole round of `cells` symmetric cells.
///
/// # Errors
///
/// As [`tighten`]; a start that does not come to rest is passed over unless
/// none does.
pub(super) fn lowest(
    recipe: &Recipe,
    symmetric: (&Tubes, &Shape),
    cells: usize,
    progress: &Progress,
) -> Result<Resting, TightenError> {
    let (tubes, shape) = symmetric.0.repeated(symmetric.1, cells);
    let mut found: Vec<(Shape, Report)> = Vec::new();
    let mut failed = None;
    for start in starts(recipe, &tubes, &shape) {
        match let_go(&tubes, start, progress) {
            Ok(rest) => found.push(rest),
            Err(TightenError::Stopped) => return Err(TightenError::Stopped),
            Err(error) => failed = Some(error),
        }
    }
    let shapes = count_shapes(&found);
    let lowest = found
        .into_iter()
        .min_by(|a, b| a.1.energy.total_cmp(&b.1.energy));
    let (shape, _) = match (lowest, failed) {
        (Some(lowest), _) => lowest,
        (None, Some(error)) => return Err(error),
        (None, None) => return Err(TightenError::Stopped),
    };
    // The comparison was made at one weight; the cord has its own.
    let (shape, report) = tighten(&tubes, shape, &Schedule::warm(), progress)?;
    Ok(Resting {
        tubes,
        shape,
        report,
        cells,
        shapes,
    })
}

/// A start and the shares of weight it passes through.
struct Start {
    shape: Shape,
    shares: Vec<f64>,
}

fn starts(recipe: &Recipe, tubes: &Tubes, symmetric: &Shape) -> Vec<Start> {
    let mut starts: Vec<Start> = LET_GO_AT
        .iter()
        .zip(SEED..)
        .map(|(&share, seed)| Start {
            shape: shaken(symmetric, seed),
            shares: vec![share, COMPARED_AT],
        })
        .collect();
    starts.extend(flat_start(recipe, tubes).map(|shape| Start {
        shape,
        shares: vec![COMPARED_AT],
    }));
    starts
}

/// The world-lines of the same stretch, laid nearly flat.
fn flat_start(recipe: &Recipe, tubes: &Tubes) -> Option<Shape> {
    let cell = world_lines(recipe, FLAT_RISE).ok()?;
    let lines = cell.repeated(cell.cells_per_round);
    (lines.continues == tubes.continues).then(|| laid_out(&lines, tubes.nodes))
}

fn let_go(
    tubes: &Tubes,
    start: Start,
    progress: &Progress,
) -> Result<(Shape, Report), TightenError> {
    let pull: f64 = tubes.pull.iter().sum();
    let mut rest = (start.shape, None);
    for share in start.shares {
        let at_share = Tubes {
            weight: share * pull,
            ..tubes.clone()
        };
        let (shape, report) = tighten(&at_share, rest.0, &search(), progress)?;
        rest = (shape, Some(report));
    }
    let report = rest.1.ok_or(TightenError::Stopped)?;
    Ok((rest.0, report))
}

fn search() -> Schedule {
    Schedule {
        tolerance: SEARCH_TOLERANCE,
        ..Schedule::warm()
    }
}

/// The same noise for a list and its mirror image, mirrored: they must come to
/// mirrored cords.
fn shaken(shape: &Shape, seed: u64) -> Shape {
    let mut dice = fastrand::Rng::with_seed(seed);
    let mut noise = || NOISE * (2.0 * dice.f64() - 1.0);
    let hand = if shape.turn < 0.0 { -1.0 } else { 1.0 };
    let mut shaken = shape.clone();
    for point in &mut shaken.points {
        point[0] += hand * noise();
        point[1] += noise();
        point[2] += noise();
    }
    shaken
}

fn count_shapes(found: &[(Shape, Report)]) -> usize {
    let mut energies: Vec<f64> = found.iter().map(|(_, r)| r.energy).collect();
    energies.sort_by(f64::total_cmp);
    energies.dedup_by(|a, b| (*a - *b).abs() < SAME_SHAPE * b.abs());
    energies.len().max(1)
}
