//! Bands: cords of which nobody is ever carried across some gap of the rim.
//!
//! Pulled tight without friction a band rests flat, folded or rolled up, at
//! energies that differ by a few thousandths (tried on 4 to 13 strands one over
//! one): which it is, friction decides. Hands lay it flat, and the slow model of
//! the braiding keeps it so. So it is let go from the flat in several ways, and
//! of the shapes that friction can hold the flattest is kept.

use super::effort::Effort;
use super::passes::NEARLY_AT_REST;
use super::solved::SolveError;
use crate::mechanics::{Report, Schedule, Shape, Tubes, silhouette};

/// A way to let a band go.
struct Way {
    /// Counterweight that hangs meanwhile, as a share of the strands' pull.
    weight: f64,
    /// So many times as high as it was laid.
    stretched: f64,
    /// Contact stiffness of the stages. Tried; from 2 strands pass through each other.
    stages: &'static [f64],
}

/// Of 96 ways, tried on the bands of 4 to 13 strands and the same told the way back,
/// these four together come to the flattest shape, or to one within a tenth of it; any
/// one of them alone misses a third of the bands. They take as much work as four ways
/// at one weight did, which let a band of seven fold.
const WAYS: [Way; 4] = [
    Way::of(0.2, 2.0, &[8.0, 64.0]),
    Way::of(0.4, 2.0, &[24.0, 64.0]),
    Way::of(0.8, 1.4, &[24.0, 64.0]),
    Way::of(0.1, 1.4, &[8.0, 64.0]),
];
/// Stages of the ways from a flat shape that is tight already.
const AGAIN: [&[f64]; 4] = [&[64.0], &[256.0, 64.0], &[24.0, 64.0], &[8.0, 64.0]];
/// What friction holds against the least energy, as a share of it. Tried: shapes one over
/// one differ by 2 % at most, rolled up those with an outer strand carried to the middle
/// cost 12 to 15 % less.
const HELD: f64 = 0.2;

/// A band that keeps no more than this share of its flatness has rolled up. Our guess;
/// softer strands keep nine tenths (tried).
pub(super) const ROLLED_UP: f64 = 0.6;

impl Way {
    const fn of(weight: f64, stretched: f64, stages: &'static [f64]) -> Self {
        Self {
            weight,
            stretched,
            stages,
        }
    }

    /// Let go from a start, then under its own weight.
    fn go(
        &self,
        tubes: &Tubes,
        start: &Shape,
        effort: &mut Effort<'_>,
    ) -> Result<(Shape, Report), SolveError> {
        let hung = Tubes {
            weight: self.weight * tubes.pull.iter().sum::<f64>(),
            ..tubes.clone()
        };
        let start = stretched(start, self.stretched);
        let (shape, _) = effort.tighten_cell(&hung, start, &by_stages(self.stages))?;
        effort.tighten_cell(tubes, shape, &Schedule::warm())
    }
}

fn by_stages(stages: &[f64]) -> Schedule {
    Schedule {
        stages: stages.to_vec(),
        ..Schedule::coarse()
    }
}

fn stretched(shape: &Shape, times: f64) -> Shape {
    let mut other = shape.clone();
    other.points.iter_mut().for_each(|point| point[2] *= times);
    other.lift *= times;
    other
}

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
    let mut found = arrived(&WAYS, |way| way.go(tubes, start, effort))?;
    let least = found
        .iter()
        .map(|(_, r)| r.energy)
        .fold(f64::INFINITY, f64::min);
    found.retain(|(_, r)| r.energy - least <= HELD * least.abs());
    Ok(flattest_of(tubes, found))
}

/// What every way that leads anywhere comes to; at least one.
fn arrived<W>(
    ways: &[W],
    mut go: impl FnMut(&W) -> Result<(Shape, Report), SolveError>,
) -> Result<Vec<(Shape, Report)>, SolveError> {
    let mut found = Vec::new();
    let mut failed = SolveError::Stopped;
    for way in ways {
        match go(way) {
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
        _ => {
            let found = arrived(&AGAIN, |stages| {
                effort.tighten_cell(tubes, flat.clone(), &by_stages(stages))
            })?;
            Ok(flattest_of(tubes, found))
        }
    }
}

/// Widest over narrowest of the mean widths all round.
pub(super) fn flatness(tubes: &Tubes, shape: &Shape) -> f64 {
    let widths = silhouette(tubes, shape).widths;
    let narrow = widths.iter().copied().fold(f64::INFINITY, f64::min);
    widths.iter().copied().fold(0.0, f64::max) / narrow
}
