//! The hard spiral of eight strands by the engine.

use plaitwright::mechanics::{Progress, Schedule, Shape, Tubes, strand_lengths, tighten};

/// Width, rise and take-up of the hard spiral of eight, from an earlier solver
/// of the engine's kind (tried: 20 to 72 nodes a round agree to 0.2 %).
pub(super) const EARLIER: [f64; 3] = [4.538, 1.940, 1.526];

/// Circumscribed width, rise of a round of four moves, take-up.
pub(super) fn figures(tubes: &Tubes, shape: &Shape) -> [f64; 3] {
    let out = |p: &[f64; 3]| p[0].hypot(p[1]);
    let width = 2.0 * shape.points.iter().map(out).fold(0.0, f64::max) + 1.0;
    let lengths: f64 = strand_lengths(tubes, shape).iter().sum();
    [
        width,
        2.0 * shape.lift,
        lengths / tubes.strands as f64 / shape.lift,
    ]
}

/// The engine's figures as contacts become endlessly stiff: errors fall as
/// the root of the stiffness.
pub(super) fn at_the_hard_limit(tubes: &Tubes, start: &Shape) -> [f64; 3] {
    let mut schedule = Schedule {
        tolerance: 3e-4,
        ..Schedule::hard()
    };
    let at = |schedule: &Schedule| {
        let (shape, report) =
            tighten(tubes, start.clone(), schedule, &Progress::new()).expect("a sound start");
        assert!(report.converged, "left with {}", report.residual);
        figures(tubes, &shape)
    };
    let stiff = at(&schedule);
    schedule.stages.pop();
    let soft = at(&schedule);
    std::array::from_fn(|i| 2.0 * stiff[i] - soft[i])
}
