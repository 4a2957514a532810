//! Tubes pulled tight: the stages of a solve.
//!
//! Contacts begin soft and are stiffened by stages, each begun where the last one
//! rested. Soft at first lets strands settle past each other's corners; too
//! soft lets them through.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::energy::Energy;
use super::minimise::{End, Limits, Walked, minimise};
use super::schedule::Schedule;
use super::tubes::{Shape, Tubes};

/// Times a stage is begun anew because strands have grown or shrunk too much.
const MOST_RESTARTS: usize = 12;

/// How far above its tolerance the last stage may stay before its shape is useless.
const USELESS: f64 = 30.0;

/// A way to call a solve off from another thread.
#[derive(Debug, Clone, Default)]
pub struct Progress {
    stopped: Arc<AtomicBool>,
}

impl Progress {
    /// Nothing called off yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Call off every solve that holds a clone of this.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// Whether it was called off.
    pub fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }
}

/// How a solve went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Report {
    /// Energy of the cell, pulls times strand diameters.
    pub energy: f64,
    /// Worst force on a node for each length of strand, `T/d`.
    pub residual: f64,
    /// Times the energy was worked out.
    pub evaluations: usize,
    /// Steps taken.
    pub iterations: usize,
    /// What it cost, in looks at one node of a cord.
    pub work: f64,
    /// Whether the residual is below the tolerance.
    pub converged: bool,
    /// Contact stiffness of the last stage.
    pub stiffness: f64,
    /// Smallest distance of two nodes over the sum of their radii; one is
    /// touching, less is overlap. Infinite when nothing is near anything.
    pub least_gap: f64,
}

/// Why tubes were not tightened.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum TightenError {
    /// It was called off. Usual, not a fault.
    #[error("stopped")]
    Stopped,
    /// The tubes or the start shape are not sound.
    #[error("strand {strand}: {what}")]
    BadStart {
        /// The strand at fault, from 0.
        strand: usize,
        /// What is wrong with it.
        what: &'static str,
    },
    /// No rest was found.
    #[error("no rest found, forces of {residual:.3} are left")]
    Restless {
        /// Worst force on a node for each length of strand, `T/d`.
        residual: f64,
        /// What was worked, in looks at one node of a cord.
        work: f64,
    },
    /// The cell lost its height: nothing holds the strands together.
    #[error("the cell fell together to a height of {lift:.3}")]
    Collapsed {
        /// Its last rise, strand diameters.
        lift: f64,
        /// What was worked, in looks at one node of a cord.
        work: f64,
    },
}

/// Tubes as tight as their own pull and the hanging weight will have them.
///
/// Lengths in strand diameters, forces in the reference pull: whoever calls
/// scales. `start` may be wide and rough, but must already have the right
/// crossings; they are kept, not mended: no step is longer than the free way
/// between any two strands. Time grows a little faster than the number of nodes.
///
/// # Errors
///
/// * [`TightenError::Stopped`] when `progress` was told to stop.
/// * [`TightenError::BadStart`] when [`Tubes::check`] fails.
/// * [`TightenError::Collapsed`] when a free rise falls below a twentieth of a diameter: strands
///   that are not locked in each other.
/// * [`TightenError::Restless`] when the steps or the work are used up far from rest. Near
///   rest the shape is given, with `converged` false in the report.
///
/// # Source
///
/// Checked on tight knots, ropes and packed circles in `tests/published.rs`.
pub fn tighten(
    tubes: &Tubes,
    start: Shape,
    schedule: &Schedule,
    progress: &Progress,
) -> Result<(Shape, Report), TightenError> {
    tubes.check(&start)?;
    let mut energy = Energy::new(tubes);
    let mut at = energy.unknowns(&start);
    drop(start);
    let mut report = Report::none();
    for (number, &stiffness) in schedule.stages.iter().enumerate() {
        let is_last = number + 1 == schedule.stages.len();
        let tolerance = if is_last {
            schedule.tolerance
        } else {
            schedule.early_tolerance
        };
        let mut left = schedule.most_iterations;
        for _ in 0..MOST_RESTARTS {
            energy.stiffen(&at, stiffness);
            let limits = Limits {
                tolerance,
                steps: left,
                work: schedule.most_work - report.work,
            };
            let walked = minimise(&mut energy, &mut at, limits, || progress.is_stopped());
            report.add(&walked, stiffness);
            left -= walked.steps.min(left);
            match walked.end {
                End::Stopped => return Err(TightenError::Stopped),
                End::Flat => {
                    return Err(TightenError::Collapsed {
                        lift: energy.images.lift,
                        work: report.work,
                    });
                }
                End::Rested | End::Stuck if energy.has_outgrown() => {}
                End::Rested | End::Stuck => break,
            }
        }
    }
    if report.residual.is_nan() || report.residual > USELESS * schedule.tolerance {
        return Err(TightenError::Restless {
            residual: report.residual,
            work: report.work,
        });
    }
    report.least_gap = energy.least_gap();
    Ok((energy.shape(&at), report))
}

impl Report {
    fn none() -> Self {
        Self {
            energy: 0.0,
            residual: 0.0,
            evaluations: 0,
            iterations: 0,
            work: 0.0,
            converged: true,
            stiffness: 0.0,
            least_gap: f64::INFINITY,
        }
    }

    fn add(&mut self, walked: &Walked, stiffness: f64) {
        self.energy = walked.height;
        self.residual = walked.unrest;
        self.converged = walked.end == End::Rested;
        self.evaluations += walked.looks;
        self.iterations += walked.steps;
        self.work += walked.work;
        self.stiffness = stiffness;
    }
}

#[cfg(test)]
mod tests {
    use super::super::spiral::{mirrored, round_spiral};
    use super::super::{linking, outline_area, same_crossings, silhouette, strand_lengths};
    use super::*;

    fn tight(tubes: &Tubes, start: Shape, schedule: &Schedule) -> (Shape, Report) {
        let done = tighten(tubes, start, schedule, &Progress::new()).unwrap();
        assert!(done.1.converged, "residual {}", done.1.residual);
        done
    }

    /// Width of the smallest tube about z that holds the cord.
    fn circumscribed(shape: &Shape) -> f64 {
        let out = |p: &[f64; 3]| p[0].hypot(p[1]);
        2.0 * shape.points.iter().map(out).fold(0.0, f64::max) + 1.0
    }

    /// Figures of the round spiral of eight: an earlier solver of the same model.
    #[test]
    fn the_firm_spiral_of_eight_has_the_figures_of_an_earlier_solver() {
        let (tubes, start) = round_spiral(10);
        let (shape, _) = tight(&tubes, start, &Schedule::fine());
        let take_up = strand_lengths(&tubes, &shape).iter().sum::<f64>() / 8.0 / shape.lift;
        let crests = silhouette(&tubes, &shape).mean;
        let pressed = (outline_area(&tubes, &shape) * 4.0 / std::f64::consts::PI).sqrt();
        for (found, expected) in [
            (2.0 * shape.lift, 1.902),
            (take_up, 1.534),
            (circumscribed(&shape), 4.497),
            (crests, 4.19),
            (pressed, 3.71),
        ] {
            assert!(
                (found / expected - 1.0).abs() < 0.01,
                "{found} for {expected}"
            );
        }
    }

    #[test]
    fn a_mirrored_start_gives_the_mirrored_shape() {
        let (tubes, start) = round_spiral(7);
        let (shape, _) = tight(&tubes, start.clone(), &Schedule::fine());
        let (other, _) = tight(&tubes, mirrored(&start), &Schedule::fine());
        assert!(
            (shape.lift - other.lift).abs() < 1e-4,
            "{} {}",
            shape.lift,
            other.lift
        );
        assert!(
            (shape.turn + other.turn).abs() < 1e-3,
            "{} {}",
            shape.turn,
            other.turn
        );
        let crests = |shape| silhouette(&tubes, shape).mean;
        assert!((crests(&shape) - crests(&other)).abs() < 1e-3);
    }

    #[test]
    fn tightening_keeps_the_linking() {
        let (tubes, start) = round_spiral(7);
        let before = linking(&tubes, &start);
        let (shape, report) = tight(&tubes, start, &Schedule::coarse());
        assert!(before.iter().any(|&count| count != 0), "nothing is linked");
        assert_eq!(before, linking(&tubes, &shape), "{report:?}");
    }

    /// Bound at the ends and pulled sixteen times as hard: longer, thinner, and
    /// no strand longer than it was but for what the stiff spring gives.
    #[test]
    fn strands_that_keep_their_length_let_the_cord_stretch() {
        let (tubes, start) = round_spiral(10);
        let (rest, _) = tight(&tubes, start, &Schedule::fine());
        let lengths = strand_lengths(&tubes, &rest);
        let mean = lengths.iter().sum::<f64>() / 8.0;
        let bound = |pulls: f64| Tubes {
            lengths: Some(vec![mean; 8]),
            weight: pulls * 8.0,
            ..tubes.clone()
        };
        let (same, _) = tight(&bound(0.5), rest.clone(), &Schedule::warm());
        assert!((same.lift / rest.lift - 1.0).abs() < 0.002, "{}", same.lift);
        let (longer, _) = tight(&bound(8.0), rest.clone(), &Schedule::warm());
        let now = strand_lengths(&tubes, &longer).iter().sum::<f64>() / 8.0;
        assert!(
            longer.lift > 1.01 * rest.lift && now < 1.02 * mean,
            "{now} {}",
            longer.lift
        );
        let width = |shape| silhouette(&tubes, shape).mean;
        assert!(width(&longer) < width(&rest));
    }

    #[test]
    fn a_solve_that_is_called_off_stops() {
        let (tubes, start) = round_spiral(7);
        let progress = Progress::new();
        progress.clone().stop();
        let end = tighten(&tubes, start, &Schedule::coarse(), &progress);
        assert_eq!(end.unwrap_err(), TightenError::Stopped);
    }

    fn soft(tubes: &Tubes, stiffness: f64, limit: f64) -> Tubes {
        Tubes {
            squeeze: vec![super::super::Squeeze::Fibre { stiffness, limit }; tubes.strands],
            ..tubes.clone()
        }
    }

    #[test]
    fn a_strand_is_squeezed_where_it_is_pressed() {
        let (tubes, start) = round_spiral(14);
        let soft = soft(&tubes, 1.0, 1.0);
        let (shape, _) = tight(&soft, start, &Schedule::fine());
        let most = shape.squeeze.iter().copied().fold(0.0, f64::max);
        let least = shape.squeeze.iter().copied().fold(1.0, f64::min);
        assert!(least < 0.2 * most && least > -1e-3, "{least} to {most}");
    }

    #[test]
    fn no_strand_is_squeezed_far_beyond_its_closest_packing() {
        let (tubes, start) = round_spiral(7);
        let (shape, _) = tight(&soft(&tubes, 0.01, 0.1), start, &Schedule::fine());
        let most = shape.squeeze.iter().copied().fold(0.0, f64::max);
        assert!((0.1..0.105).contains(&most), "{most}");
    }

    /// Figures of an earlier solver of the same model, extrapolated as
    /// [`Schedule::hard`] says.
    #[test]
    fn the_hard_spiral_of_eight_has_the_figures_of_an_earlier_solver() {
        let (tubes, start) = round_spiral(16);
        let hard = Schedule::hard();
        let before = Schedule {
            stages: hard.stages[..hard.stages.len() - 1].to_vec(),
            ..hard.clone()
        };
        let figures = |schedule: &Schedule| {
            let (shape, _) = tight(&tubes, start.clone(), schedule);
            let take_up = strand_lengths(&tubes, &shape).iter().sum::<f64>() / 8.0 / shape.lift;
            [circumscribed(&shape), 2.0 * shape.lift, take_up]
        };
        let (last, before) = (figures(&hard), figures(&before));
        for ((last, before), expected) in last.iter().zip(before).zip([4.538, 1.940, 1.526]) {
            let found = 2.0 * last - before;
            assert!(
                (found / expected - 1.0).abs() < 0.01,
                "{found} for {expected}"
            );
        }
    }

    #[test]
    fn two_cells_as_one_rest_in_the_same_shape() {
        let (tubes, start) = round_spiral(7);
        let (shape, report) = tight(&tubes, start, &Schedule::fine());
        let (double, start) = tubes.repeated(&shape, 2);
        let (longer, both) = tight(&double, start, &Schedule::warm());
        let ratio = longer.lift / shape.lift;
        assert!((ratio - 2.0).abs() < 1e-3, "{ratio} times as high");
        assert!((both.energy - 2.0 * report.energy).abs() < 1e-3, "{both:?}");
    }

    #[test]
    fn strands_that_nothing_locks_collapse() {
        let (tubes, _) = round_spiral(4);
        let beside = |strand: usize, node: usize| {
            let (sin, cos) = (strand as f64 * std::f64::consts::FRAC_PI_4).sin_cos();
            [1.5 * cos, 1.5 * sin, 0.25 * node as f64]
        };
        let tubes = Tubes {
            continues: (0..8).collect(),
            weight: 1.0,
            ..tubes
        };
        let start = Shape {
            points: (0..32).map(|n| beside(n / 4, n % 4)).collect(),
            lift: 1.0,
            turn: 0.0,
            squeeze: vec![0.0; 32],
            axes: Vec::new(),
        };
        let end = tighten(&tubes, start, &Schedule::coarse(), &Progress::new());
        assert!(
            matches!(end, Err(TightenError::Collapsed { .. })),
            "{end:?}"
        );
    }

    #[test]
    fn a_start_with_a_hole_in_it_is_refused_by_strand() {
        let (tubes, mut start) = round_spiral(7);
        start.points[3 * 7 + 2][1] = f64::NAN;
        let end = tighten(&tubes, start, &Schedule::coarse(), &Progress::new());
        assert!(
            matches!(end, Err(TightenError::BadStart { strand: 3, .. })),
            "{end:?}"
        );
    }

    /// The inverse stiffness earns its keep: plain slopes need thousands.
    #[test]
    fn a_cold_spiral_needs_a_hundred_looks_or_so() {
        let (tubes, start) = round_spiral(10);
        let (_, report) = tight(&tubes, start, &Schedule::fine());
        assert!(report.evaluations < 150, "{report:?}");
    }

    #[test]
    fn a_solve_cut_short_is_restless() {
        let (tubes, start) = round_spiral(7);
        let hasty = Schedule {
            most_iterations: 3,
            ..Schedule::fine()
        };
        let end = tighten(&tubes, start, &hasty, &Progress::new());
        assert!(matches!(end, Err(TightenError::Restless { .. })), "{end:?}");
    }

    #[test]
    fn the_same_start_gives_the_same_digits() {
        let (tubes, start) = round_spiral(7);
        let first = tight(&tubes, start.clone(), &Schedule::coarse());
        assert_eq!(first, tight(&tubes, start, &Schedule::coarse()));
    }

    /// Two cycles of different make in one cord: each gets its own squeeze.
    #[test]
    fn the_softer_strands_are_squeezed_more() {
        let (tubes, start) = round_spiral(7);
        let (tubes, start) = tubes.repeated(&start, 8);
        let cycles = tubes.cycles();
        assert!(cycles.len() == 8, "every strand by itself");
        let mut mixed = soft(&tubes, 2.0, 0.3);
        for &strand in cycles.iter().step_by(2).flatten() {
            mixed.squeeze[strand] = super::super::Squeeze::Fibre {
                stiffness: 0.5,
                limit: 0.3,
            };
        }
        let (shape, _) = tight(&mixed, start, &Schedule::coarse());
        let mean = |strand: &[f64]| strand.iter().sum::<f64>() / strand.len() as f64;
        let means: Vec<f64> = shape.squeeze.chunks_exact(56).map(mean).collect();
        for pair in means.chunks_exact(2) {
            assert!(
                pair[0] > 1.5 * pair[1] && pair[1] > 0.0,
                "{:?}",
                shape.squeeze
            );
        }
    }

    /// Fat nodes, two strands thick, on strands that rest on the ring.
    #[test]
    fn beads_stand_out_of_the_cord() {
        let (mut tubes, start) = round_spiral(14);
        let out = |shape: &Shape, node: usize| shape.points[node][0].hypot(shape.points[node][1]);
        let beads = [2 * 14 + 9, 6 * 14 + 9];
        for bead in beads {
            tubes.radius[bead] = 1.0;
        }
        let before = linking(&tubes, &start);
        let (shape, _) = tight(&tubes, start, &Schedule::coarse());
        assert_eq!(before, linking(&tubes, &shape));
        let plain = (0..shape.points.len()).filter(|node| !beads.contains(node));
        let surface = plain
            .map(|node| out(&shape, node) + 0.5)
            .fold(0.0, f64::max);
        for bead in beads {
            let edge = out(&shape, bead) + 1.0;
            assert!(
                edge > surface + 0.4,
                "bead out to {edge}, strands to {surface}"
            );
        }
    }

    /// With few nodes and soft contacts strands lie deep in one another and steps are
    /// long: whatever is found, stuck or not, crosses as the start did.
    #[test]
    fn however_deep_strands_are_pulled_into_one_another_none_passes_through() {
        let mut looked_at = 0;
        for (nodes, pull, k) in [(7, 2.0, 2.0), (7, 1.0, 2.0), (7, 1.0, 4.0), (10, 2.0, 2.0)] {
            let (mut tubes, start) = round_spiral(nodes);
            tubes.pull = vec![pull; 8];
            tubes.weight = 4.0 * pull;
            let schedule = Schedule {
                stages: vec![k],
                tolerance: 0.5,
                ..Schedule::coarse()
            };
            if let Ok((shape, report)) = tighten(&tubes, start.clone(), &schedule, &Progress::new())
            {
                looked_at += 1;
                assert!(
                    same_crossings(&tubes, &start, &shape),
                    "{nodes} {pull} {k} {report:?}"
                );
            }
        }
        assert!(looked_at >= 2, "{looked_at} shapes found");
    }
}
