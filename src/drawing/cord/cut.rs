//! Where strands pass a height in the cord.

use super::path::{Sample, pieces};
use super::run::Run;
use crate::cord::Form;

/// Distance between samples, strand diameters.
const STEP: f32 = 0.1;

/// Strand, middle and radius (mm) wherever a strand passes the height (mm).
pub(crate) fn crossings(
    form: &Form,
    height_mm: f64,
) -> impl Iterator<Item = (usize, [f64; 2], f64)> {
    let run = Run::new(form).filter(|_| height_mm.is_finite());
    run.into_iter().flat_map(move |run| passed(&run, height_mm))
}

fn passed(run: &Run, height_mm: f64) -> Vec<(usize, [f64; 2], f64)> {
    let pieces = pieces(run, STEP);
    let lengths: Vec<f32> = pieces.iter().map(|p| p.length).collect();
    let height = height_mm / run.unit;
    let mut met = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        for level in levels(run, &piece.samples, height) {
            let local = (height - f64::from(run.lift) * level as f64) as f32;
            for pair in piece.samples.windows(2) {
                let Some(t) = passing(pair, local) else {
                    continue;
                };
                let (strand, _) = run.strand_at(level, i, &lengths);
                let (sin, cos) = (run.turn * level as f64).sin_cos();
                let at = pair[0].centre.towards(pair[1].centre, t);
                let at = at.turned((sin as f32, cos as f32));
                let radius = pair[0].radius + (pair[1].radius - pair[0].radius) * t;
                let mm = |v: f32| f64::from(v) * run.unit;
                met.push((strand, [mm(at.x), mm(at.y)], mm(radius)));
            }
        }
    }
    met
}

/// Repeats whose samples reach the height; only the first where all repeats
/// lie at one height.
fn levels(run: &Run, samples: &[Sample], height: f64) -> std::ops::RangeInclusive<i64> {
    let lift = f64::from(run.lift);
    if lift.abs() < 1e-3 {
        return 0..=0;
    }
    let heights = samples.iter().map(|s| f64::from(s.centre.z));
    let (low, high) = heights.fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)));
    let (a, b) = ((height - high) / lift, (height - low) / lift);
    let (first, last) = (a.min(b).floor(), a.max(b).ceil());
    // A piece reaches over few repeats; more is no cord.
    let last = last.min(first + 10_000.0);
    first as i64..=last as i64
}

/// How far between two samples the height is passed, the first included.
fn passing(pair: &[Sample], height: f32) -> Option<f32> {
    let (a, b) = (pair[0].centre.z - height, pair[1].centre.z - height);
    let passes = (a <= 0.0 && b > 0.0) || (a > 0.0 && b <= 0.0);
    passes.then(|| a / (a - b))
}
