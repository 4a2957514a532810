//! Tight to a tolerance, with the error that was reached.
//!
//! A solve errs in three ways, and each is measured:
//!
//! * contacts give a little: errors fall as the root of the stiffness `k`, so `2 x(4k) -
//!   x(k)` is the hard limit; its error is what one stage less would have said;
//! * nodes stand apart: errors fall as the square of the spacing, so with `n` and
//!   `2n` nodes `(4 x(2n) - x(n)) / 3` is the limit; its error is what it adds;
//! * some force is left: the residual, as a share of the length.
//!
//! Nodes are doubled until the sum is below the tolerance or the nodes are too many.
//! Beside the limit stand two measures of what was really laid: by the radius the
//! tubes were given, too short as they overlap, and by half the distance they
//! keep, too long. The truth lies between.

use super::curve::{Nearness, curve_lengths, doubled, least_distance, relaid};
use super::polygons::{Joined, PolygonError, Polygons};
use super::rests::{Rest, shortest};
use crate::mechanics::outline::strand_lengths;
use crate::mechanics::schedule::Schedule;
use crate::mechanics::tighten::{Progress, Report, TightenError, tighten};
use crate::mechanics::tubes::{Ends, Shape, Tubes};
use crate::mechanics::{Crossings, Knotting, linking};

/// Stages that bring rough starts to rest.
const EARLY: [f64; 3] = [8.0, 64.0, 256.0];

/// Stiffness at which rests of the same rings are compared.
const COMPARED: f64 = 64.0;

/// Stages from which the hard limit is taken, each four times as stiff; four times
/// as stiff again each time nodes are doubled.
const LATE: [f64; 3] = [1024.0, 4096.0, 16384.0];

/// Most nodes in a cell.
const MOST_NODES: usize = 2400;

/// Spacing at the start over the diameter of a strand. At 0.45 one link of a chain of
/// 32 broke (tried): two steps of coarse strands cross where no nodes are near.
const COARSE: f64 = 0.3;

/// Spacing once the shape is tight, the same way, before nodes are doubled.
const FINE: f64 = 0.2;

/// Steps of the first solve, and of a stage after it, times the nodes that they move.
const FIRST_WORK: usize = 3_000_000;
const STAGE_WORK: usize = 4_000_000;

/// Force that only a ring shrunk to nothing leaves.
const GONE: f64 = 1e6;

/// Force left on a node for each length, as a share of the tolerance.
const REST: f64 = 0.3;

/// A figure with its error, one way or the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// In the limit of hard strands and many nodes.
    pub value: f64,
    /// What the estimate may be off by.
    pub error: f64,
}

/// A tight shape and how exactly it is known. Lengths in the unit of the tubes.
#[derive(Debug, Clone, PartialEq)]
pub struct Accurate {
    /// The tubes with as many nodes as it took.
    pub tubes: Tubes,
    /// Their shape at the last stage.
    pub shape: Shape,
    /// Length of each strand.
    pub lengths: Vec<Figure>,
    /// Rise of the cell.
    pub lift: Figure,
    /// Turn of the cell, radians.
    pub turn: Figure,
    /// Length of each strand as laid, along the smooth curve.
    pub laid: Vec<f64>,
    /// Least distance as laid.
    pub least: Nearness,
    /// Largest error of a length or the rise, or the overlap left if that is more,
    /// relative.
    pub reached: f64,
    /// Worst force on a node for each length of strand at the end.
    pub residual: f64,
    /// Times the energy was worked out from the shortest rest on.
    pub evaluations: usize,
}

/// Why no accurate shape was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Untight {
    /// The polygons are at fault.
    #[error(transparent)]
    Polygons(#[from] PolygonError),
    /// The solve failed.
    #[error(transparent)]
    Solve(#[from] TightenError),
    /// A ring with nothing in it.
    #[error("a ring shrinks to a point: no knot and no other ring holds it open")]
    Loose,
    /// A strand came through another.
    #[error("a strand passed through another; no shape is given")]
    Passed,
}

/// Figures at one stage.
#[derive(Debug, Clone)]
struct Stage {
    figures: Vec<f64>,
}

impl Stage {
    fn of(tubes: &Tubes, shape: &Shape) -> Self {
        let mut figures = curve_lengths(tubes, shape);
        figures.extend([shape.lift, shape.turn]);
        Self { figures }
    }

    fn mixed(&self, own: f64, other: &Self, others: f64) -> Self {
        let both = self.figures.iter().zip(&other.figures);
        let figures = both.map(|(a, b)| own * a + others * b).collect();
        Self { figures }
    }
}

/// The hard limit with one number of nodes.
#[derive(Debug, Clone)]
struct Hard {
    limit: Stage,
    error: Vec<f64>,
}

/// A solve that is carried on to more stages and nodes.
#[derive(Debug)]
struct Climb<'a> {
    tubes: Tubes,
    shape: Shape,
    residual: f64,
    evaluations: usize,
    tolerance: f64,
    /// Times the stiffness of the late stages.
    harder: f64,
    progress: &'a Progress,
}

impl Climb<'_> {
    fn stages(&mut self, stages: &[f64], tolerance: f64) -> Result<Report, TightenError> {
        let schedule = Schedule {
            stages: stages.to_vec(),
            tolerance,
            early_tolerance: tolerance.max(1e-2),
            most_iterations: most_steps(&self.tubes, STAGE_WORK),
            most_work: f64::INFINITY,
        };
        let start = self.shape.clone();
        let (shape, report) = tighten(&self.tubes, start, &schedule, self.progress)?;
        self.shape = shape;
        self.residual = report.residual;
        self.evaluations += report.evaluations;
        Ok(report)
    }

    fn hard(&mut self) -> Result<Hard, TightenError> {
        let mut stages = Vec::new();
        for stiffness in LATE {
            self.stages(&[self.harder * stiffness], self.tolerance)?;
            stages.push(Stage::of(&self.tubes, &self.shape));
        }
        let limit = stages[2].mixed(2.0, &stages[1], -1.0);
        let before = stages[1].mixed(2.0, &stages[0], -1.0);
        Ok(Hard {
            error: differences(&limit, &before),
            limit,
        })
    }

    /// Twice the nodes, and the hard limit with them: as hard as the last one
    /// where harder strands find no rest.
    fn finer(&mut self) -> Result<Hard, TightenError> {
        (self.tubes, self.shape) = doubled(&self.tubes, &self.shape);
        let (start, softer) = (self.shape.clone(), self.harder);
        self.harder *= 4.0;
        match self.hard() {
            Err(TightenError::Restless { .. }) => {
                (self.shape, self.harder) = (start, softer);
                self.hard()
            }
            done => done,
        }
    }
}

fn differences(a: &Stage, b: &Stage) -> Vec<f64> {
    let both = a.figures.iter().zip(&b.figures);
    both.map(|(a, b)| (a - b).abs()).collect()
}

/// Tubes as tight as they will go, in the hard limit, to a relative `tolerance`.
///
/// # Errors
///
/// As [`tighten()`]. That the tolerance was not reached is no error: see
/// [`Accurate::reached`].
pub fn accurate(
    tubes: &Tubes,
    start: Shape,
    tolerance: f64,
    progress: &Progress,
) -> Result<Accurate, TightenError> {
    let mut climb = Climb {
        tubes: tubes.clone(),
        shape: start,
        residual: 0.0,
        evaluations: 0,
        tolerance: (REST * tolerance).clamp(1e-6, 1e-2),
        harder: thinness(&tubes.radius),
        progress,
    };
    climb.stages(&EARLY.map(|k| k * climb.harder), 1e-2)?;
    let mut coarse = climb.hard()?;
    let mut best: Option<Accurate> = None;
    loop {
        let fine = match (climb.finer(), best) {
            (Ok(fine), _) => fine,
            (Err(TightenError::Restless { .. }), Some(found)) => return Ok(found),
            (Err(error), _) => return Err(error),
        };
        let found = summed(&climb, &coarse, &fine);
        if found.reached <= tolerance || 2 * climb.tubes.count() > MOST_NODES {
            return Ok(found);
        }
        best = Some(found);
        coarse = fine;
    }
}

fn summed(climb: &Climb, coarse: &Hard, fine: &Hard) -> Accurate {
    let limit = fine.limit.mixed(4.0 / 3.0, &coarse.limit, -1.0 / 3.0);
    let added = differences(&limit, &fine.limit);
    let figure = |number: usize| Figure {
        value: limit.figures[number],
        error: fine.error[number] + added[number] + climb.residual * limit.figures[number].abs(),
    };
    let strands = climb.tubes.strands;
    let lengths: Vec<Figure> = (0..strands).map(figure).collect();
    let lift = figure(strands);
    let share = |f: &Figure| {
        if f.value == 0.0 {
            0.0
        } else {
            f.error / f.value.abs()
        }
    };
    let least = least_distance(&climb.tubes, &climb.shape);
    let overlap = (1.0 - least.ratio).max(0.0);
    Accurate {
        reached: lengths
            .iter()
            .map(share)
            .fold(share(&lift).max(overlap), f64::max),
        least,
        turn: figure(strands + 1),
        laid: curve_lengths(&climb.tubes, &climb.shape),
        residual: climb.residual,
        evaluations: climb.evaluations,
        tubes: climb.tubes.clone(),
        shape: climb.shape.clone(),
        lengths,
        lift,
    }
}

/// Polygons pulled tight to a relative `tolerance`.
///
/// Lengths come out in diameters of the thickest strand.
///
/// # Errors
///
/// [`Untight`] says whether the polygons are at fault or no rest was found.
pub fn tighten_polygons(
    polygons: Polygons,
    tolerance: f64,
    progress: &Progress,
) -> Result<Accurate, Untight> {
    let given = polygons.checked()?;
    let (tubes, shape) = given.laid(given.corners());
    let knot = tied(&tubes, &shape);
    let clear = given.cleared();
    let (tubes, shape) = drawn_in(&clear, progress)?;
    let (tubes, shape) = match given.joined {
        Joined::Rings => shortest_rest(&clear.radius, (tubes, shape), &knot, progress)?,
        Joined::Screw { .. } => (tubes, shape),
    };
    let found = accurate(&tubes, shape, tolerance, progress)?;
    if tied(&found.tubes, &found.shape) != knot {
        return Err(Untight::Passed);
    }
    Ok(found)
}

/// The shortest of several rests of rings.
fn shortest_rest(
    radius: &[f64],
    first: (Tubes, Shape),
    knot: &(Vec<i32>, Knotting),
    progress: &Progress,
) -> Result<(Tubes, Shape), Untight> {
    let Some(first) = settled(first, radius, progress)? else {
        return Err(Untight::Loose);
    };
    let tightened = |bent: &Polygons| match drawn_in(&bent.cleared(), progress) {
        Ok(drawn) => settled(drawn, radius, progress),
        Err(Untight::Solve(TightenError::Stopped)) => Err(TightenError::Stopped.into()),
        Err(_) => Ok(None),
    };
    let stays = |rest: &Rest| tied(&rest.tubes, &rest.shape) == *knot;
    let best = shortest(first, radius, tightened, stays)?;
    Ok((best.tubes, best.shape))
}

/// Brought to rest at the spacing and stiffness at which rests are compared.
fn settled(
    (tubes, start): (Tubes, Shape),
    radius: &[f64],
    progress: &Progress,
) -> Result<Option<Rest>, Untight> {
    let schedule = Schedule {
        stages: vec![COMPARED * thinness(radius)],
        tolerance: 1e-2,
        early_tolerance: 1e-2,
        most_iterations: most_steps(&tubes, FIRST_WORK),
        most_work: f64::INFINITY,
    };
    match tighten(&tubes, start, &schedule, progress) {
        Ok((shape, report)) => Ok(Some(Rest {
            tubes,
            shape,
            energy: report.energy,
        })),
        Err(TightenError::Stopped) => Err(TightenError::Stopped.into()),
        Err(_) => Ok(None),
    }
}

/// How often strands go round one another, and how all are knotted.
fn tied(tubes: &Tubes, shape: &Shape) -> (Vec<i32>, Knotting) {
    let knotting = Crossings::seen(tubes, shape).knotting();
    (linking(tubes, shape), knotting)
}

/// Tubes along the polygons with nodes enough for a first solve.
fn rough(clear: &Polygons) -> (Tubes, Shape) {
    let needed = nodes_for(&clear.lengths(), &clear.radius, COARSE);
    clear.laid(needed.max(clear.corners()))
}

fn nodes_for(lengths: &[f64], radius: &[f64], spacing: f64) -> usize {
    let each = lengths
        .iter()
        .zip(radius)
        .map(|(l, r)| l / (2.0 * r * spacing));
    (each.fold(0.0, f64::max).ceil() as usize).max(8)
}

/// First tight shape, and the nodes that its length asks for.
fn drawn_in(clear: &Polygons, progress: &Progress) -> Result<(Tubes, Shape), Untight> {
    let (tubes, start) = rough(clear);
    let radius = &clear.radius;
    let harder = thinness(radius);
    let schedule = Schedule {
        stages: EARLY[..2].iter().map(|k| k * harder).collect(),
        most_iterations: most_steps(&tubes, FIRST_WORK),
        ..Schedule::coarse()
    };
    let done = tighten(&tubes, start, &schedule, progress);
    let (shape, _) = done.map_err(|error| match error {
        // Nothing presses on a ring that shrinks, so that no rest is found.
        TightenError::Restless { residual, .. } if residual > GONE => Untight::Loose,
        other => other.into(),
    })?;
    let lengths = strand_lengths(&tubes, &shape);
    let is_ring = matches!(tubes.ends, Ends::Closed { .. });
    let mut each = lengths.iter().zip(radius);
    if is_ring && each.any(|(length, r)| *length < 4.0 * r) {
        return Err(Untight::Loose);
    }
    let most = MOST_NODES / (2 * tubes.strands);
    let wanted = nodes_for(&lengths, radius, FINE).min(most);
    let nodes = wanted.max(nodes_for(&lengths, radius, COARSE));
    Ok(relaid(&tubes, &shape, nodes))
}

/// Thickest over thinnest radius. The same pull presses a thin strand as many times
/// as deep (tried at 1 to 10: a thin ring cut in until no rest was found).
fn thinness(radius: &[f64]) -> f64 {
    let thin = radius.iter().fold(f64::INFINITY, |a, &b| a.min(b));
    radius.iter().fold(0.0_f64, |a, &b| a.max(b)) / thin
}

/// Most steps of a stage, so that many nodes do not take for ever.
fn most_steps(tubes: &Tubes, node_steps: usize) -> usize {
    (node_steps / (tubes.strands * tubes.nodes)).clamp(100, 3000)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::tubes::Hold;
    use std::f64::consts::{PI, TAU};

    fn ring(corners: usize, scale: f64, at: impl Fn(f64) -> [f64; 3]) -> Vec<[f64; 3]> {
        let angle = |corner| TAU * corner as f64 / corners as f64;
        let corner = |number| at(angle(number)).map(|x| scale * x);
        (0..corners).map(corner).collect()
    }

    fn two_rings(scale: f64, radius: [f64; 2]) -> Polygons {
        let flat = ring(20, scale, |t| [t.cos(), t.sin(), 0.0]);
        let upright = ring(7, scale, |t| [1.0 + t.cos(), 0.05, t.sin()]);
        Polygons {
            points: vec![flat, upright],
            radius: radius.to_vec(),
            joined: Joined::Rings,
            weight: 0.0,
        }
    }

    fn tight(polygons: Polygons, tolerance: f64) -> Accurate {
        tighten_polygons(polygons, tolerance, &Progress::new()).unwrap()
    }

    /// Two round rings through each other's centres, 2 pi diameters in all each.
    #[test]
    fn the_error_is_no_smaller_than_it_is_and_falls_with_the_tolerance() {
        for tolerance in [3e-3, 1e-3, 3e-4] {
            let found = tight(two_rings(1.0, [0.5; 2]), tolerance);
            assert!(found.reached <= tolerance, "{}", found.reached);
            for length in &found.lengths {
                let miss = (length.value - TAU).abs();
                assert!(miss <= length.error, "{miss} but {length:?}");
            }
        }
    }

    #[test]
    fn the_unit_of_length_does_not_show() {
        let found = tight(two_rings(1.0, [0.2; 2]), 3e-3);
        for scale in [25.4, 1e-6, 0.3] {
            let other = tight(two_rings(scale, [0.2 * scale; 2]), 3e-3);
            assert_eq!(found.laid, other.laid, "{scale}");
        }
    }

    /// A thin ring through a thick one: each goes round the other's middle at the
    /// sum of radii.
    #[test]
    fn rings_of_two_thicknesses_go_round_at_the_sum_of_radii() {
        let found = tight(two_rings(1.0, [1.0, 0.25]), 2e-3);
        let round = TAU * (0.5 + 0.125);
        for length in found.lengths {
            assert!((length.value / round - 1.0).abs() < 2e-3, "{length:?}");
        }
    }

    #[test]
    fn a_ring_that_nothing_holds_is_refused() {
        let mut apart = two_rings(1.0, [0.1; 2]);
        for point in &mut apart.points[1] {
            point[0] += 5.0;
        }
        let end = tighten_polygons(apart, 1e-2, &Progress::new());
        assert_eq!(end, Err(Untight::Loose));
    }

    /// A rope of two held to a turn: both lie on the axis at half a diameter.
    #[test]
    fn a_held_rope_is_as_long_as_a_helix_of_half_a_diameter() {
        let (lift, turn) = (0.5, PI / 6.0);
        let row = |out: f64| {
            let at = |step: i32| {
                let share = f64::from(step) / 4.0;
                let (sin, cos) = (turn * share).sin_cos();
                [out * cos, out * sin, lift * share]
            };
            (0..=4).map(at).collect()
        };
        let rope = Polygons {
            points: vec![row(0.8), row(-0.8)],
            radius: vec![0.5; 2],
            joined: Joined::Screw {
                next: vec![0, 1],
                lift,
                lift_hold: Hold::Held,
                turn,
                turn_hold: Hold::Held,
            },
            weight: 0.0,
        };
        let found = tight(rope, 1e-3);
        let exact = lift.hypot(0.5 * turn);
        assert!((found.lengths[0].value / exact - 1.0).abs() < 1e-3);
        assert_eq!(found.lift.value, lift);
    }
}
