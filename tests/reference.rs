//! The engine against other ways to the same answer, and against itself seen
//! from another side.
//!
//! `cargo test --test reference -- --nocapture` prints what each finds.
#![expect(clippy::print_stdout, reason = "the figures are what is read")]

#[path = "reference/capsules.rs"]
mod capsules;
#[path = "reference/hard_tubes.rs"]
mod hard_tubes;
#[path = "reference/start.rs"]
mod start;

use plaitwright::mechanics::{Progress, Schedule, Shape, Tubes, linking, strand_lengths, tighten};

/// Circumscribed width, rise of a round of four moves, take-up.
fn figures(tubes: &Tubes, shape: &Shape) -> [f64; 3] {
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
fn at_the_hard_limit(tubes: &Tubes, start: &Shape) -> [f64; 3] {
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

/// Width, rise and take-up of the hard spiral of eight, from an earlier solver
/// of the engine's kind (tried: 20 to 72 nodes a round agree to 0.2 %).
const EARLIER: [f64; 3] = [4.538, 1.940, 1.526];

#[test]
fn two_solvers_of_different_kind_agree_on_the_hard_spiral_of_eight() {
    let lines = start::world_lines(&start::round_spiral(8));
    let (tubes, loose) = start::tubes(&lines, 16);
    let engine = at_the_hard_limit(&tubes, &loose);
    let (tubes, loose) = start::tubes(&lines, 12);
    let (shape, overlap) = hard_tubes::tighten(&tubes, &loose);
    assert_eq!(linking(&tubes, &loose), linking(&tubes, &shape));
    let other = figures(&tubes, &shape);
    println!("Hard spiral of eight: width, rise of four moves, take-up");
    println!("engine, extrapolated to hard      {engine:.4?}");
    println!("capsules held by multipliers      {other:.4?}, overlap {overlap:.0e}");
    println!("an earlier solver of the engine's {EARLIER:.4?}");
    for found in [engine, other] {
        for (found, known) in found.iter().zip(EARLIER) {
            assert!((found / known - 1.0).abs() < 2e-3, "{found} for {known}");
        }
    }
}
