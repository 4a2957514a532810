//! Bands: cords of which nobody is ever carried across some gap of the rim.
//!
//! Pulled tight without friction a band rests flat, folded or rolled up, at
//! energies that differ by a few thousandths (tried on 4 to 13 strands one over
//! one): which it is, friction decides. Hands lay it flat, and the slow model of
//! the braiding keeps it so. So it is let go from the flat in several ways, and
//! of the shapes that cost hardly more than the least the flattest is kept.

use super::effort::Effort;
use super::passes::NEARLY_AT_REST;
use super::solved::SolveError;
use crate::mechanics::{Report, Schedule, Shape, Tubes, silhouette};

/// Contact stiffness of the stages of each way: firm at once, or harder or softer
/// first. Tried; from 2 strands pass through each other.
const WAYS: [&[f64]; 4] = [&[64.0], &[256.0, 64.0], &[24.0, 64.0], &[8.0, 64.0]];
/// What friction holds against the least energy, as a share of it. Tried: shapes
/// met differ by 0.2 to 0.5 %.
const HELD: f64 = 0.01;

/// A band that keeps no more than this share of its flatness has rolled up. Our guess;
/// softer strands keep nine tenths (tried).
pub(super) const ROLLED_UP: f64 = 0.6;

/// The flattest shape of a band near the least energy.
///
/// # Errors
///
/// As [`Effort::tighten_cell`]; a way that fails is passed over unless all do.
pub(super) fn flattest(
    tubes: &Tubes,
    start: &Shape,
    effort: &mut Effort<'_>,
) -> Result<(Shape, Report), SolveError> {
    let mut found = let_go(tubes, start, effort)?;
    let least = found
        .iter()
        .map(|(_, r)| r.energy)
        .fold(f64::INFINITY, f64::min);
    found.retain(|(_, r)| r.energy - least <= HELD * least.abs());
    Ok(flattest_of(tubes, found))
}

/// Where a band comes to rest from a start, by every way that leads anywhere; at
/// least one.
fn let_go(
    tubes: &Tubes,
    start: &Shape,
    effort: &mut Effort<'_>,
) -> Result<Vec<(Shape, Report)>, SolveError> {
    let mut found = Vec::new();
    let mut failed = SolveError::Stopped;
    for way in WAYS {
        let schedule = Schedule {
            stages: way.to_vec(),
            ..Schedule::coarse()
        };
        match effort.tighten_cell(tubes, start.clone(), &schedule) {
            Ok(rest) => found.push(rest),
            Err(SolveError::Stopped) => return Err(SolveError::Stopped),
            Err(error) => failed = error,
        }
    }
    if found.is_empty() {
        Err(failed)
    } else {
        Ok(found)
    }
}

/// The flattest of some shapes, of which there is at least one.
fn flattest_of(tubes: &Tubes, shapes: Vec<(Shape, Report)>) -> (Shape, Report) {
    shapes
        .into_iter()
        .max_by(|a, b| flatness(tubes, &a.0).total_cmp(&flatness(tubes, &b.0)))
        .expect("some shape was found")
}

/// From the flat band of plain strands to that of the wanted ones. Where one step
/// rolls it up (tried: ten soft strands under little weight, where a twisted tube costs
/// a fifth less) it is let go in several ways, and the flattest is kept: hands laid it
/// flat, and friction holds it.
///
/// # Errors
///
/// As [`Effort::tighten_cell`].
pub(super) fn stepped(
    plain: &Tubes,
    tubes: &Tubes,
    flat: &Shape,
    effort: &mut Effort<'_>,
) -> Result<(Shape, Report), SolveError> {
    let once = Schedule::warm().to(NEARLY_AT_REST);
    match effort.tighten_cell(tubes, flat.clone(), &once) {
        Ok(rest) if flatness(tubes, &rest.0) > ROLLED_UP * flatness(plain, flat) => Ok(rest),
        Err(SolveError::Stopped) => Err(SolveError::Stopped),
        _ => Ok(flattest_of(tubes, let_go(tubes, flat, effort)?)),
    }
}

/// Widest over narrowest of the mean widths all round.
pub(super) fn flatness(tubes: &Tubes, shape: &Shape) -> f64 {
    let widths = silhouette(tubes, shape).widths;
    let narrow = widths.iter().copied().fold(f64::INFINITY, f64::min);
    widths.iter().copied().fold(0.0, f64::max) / narrow
}
