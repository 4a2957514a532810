//! Bands: cords of which nobody is ever carried across some gap of the rim.
//!
//! Pulled tight without friction a band rests flat, folded or rolled up, at
//! energies that differ by a few thousandths (tried on 4 to 13 strands one over
//! one): which it is, friction decides. Hands lay it flat, and the slow model of
//! the braiding keeps it so. So it is let go from the flat in several ways, and
//! of the shapes that cost hardly more than the least the flattest is kept.

use crate::mechanics::{
    Progress, Report, Schedule, Shape, TightenError, Tubes, silhouette, tighten,
};

/// Contact stiffness of the stages of each way: firm at once, or harder or softer
/// first. Tried; from 2 strands pass through each other.
const WAYS: [&[f64]; 4] = [&[64.0], &[256.0, 64.0], &[24.0, 64.0], &[8.0, 64.0]];
/// What friction holds against the least energy, as a share of it. Tried: shapes
/// met differ by 0.2 to 0.5 %.
const HELD: f64 = 0.01;

/// The flattest shape of a band near the least energy.
///
/// # Errors
///
/// As [`tighten`]; a way that fails is passed over unless all do.
pub(super) fn flattest(
    tubes: &Tubes,
    start: &Shape,
    progress: &Progress,
) -> Result<(Shape, Report), TightenError> {
    let mut found = Vec::new();
    let mut failed = TightenError::Stopped;
    for way in WAYS {
        let schedule = Schedule {
            stages: way.to_vec(),
            ..Schedule::coarse()
        };
        match tighten(tubes, start.clone(), &schedule, progress) {
            Ok(rest) => found.push(rest),
            Err(TightenError::Stopped) => return Err(TightenError::Stopped),
            Err(error) => failed = error,
        }
    }
    let least = found
        .iter()
        .map(|(_, r)| r.energy)
        .fold(f64::INFINITY, f64::min);
    let held = found
        .into_iter()
        .filter(|(_, r)| r.energy - least <= HELD * least.abs());
    let flat = held.max_by(|a, b| flatness(tubes, &a.0).total_cmp(&flatness(tubes, &b.0)));
    flat.ok_or(failed)
}

/// Widest over narrowest of the mean widths all round.
fn flatness(tubes: &Tubes, shape: &Shape) -> f64 {
    let widths = silhouette(tubes, shape).widths;
    let narrow = widths.iter().copied().fold(f64::INFINITY, f64::min);
    widths.iter().copied().fold(0.0, f64::max) / narrow
}
