//! Straight strands bound together: circles in the smallest circle.

use std::f64::consts::TAU;

use plaitwright::mechanics::{Ends, Hold, Progress, Schedule, Shape, Tubes, tighten};

use super::check::{Check, Goal};
use super::limp::limp_tubes;

const GRAHAM: &str = "Graham, Lubachevsky, Nurmela and Östergård, *Discrete Math.* 181 (1998) 139";

const TABLE: &str =
    "E. Specht's table of equal circles in a circle, as quoted in public source texts";

/// Starts by chance before the best is shaken.
const BY_CHANCE: usize = 12;
/// Near enough to the published ratio to stop.
const ENOUGH: f64 = 1.0004;

/// Best known radius of the circle over that of the strands.
const BEST_KNOWN: [(usize, f64); 18] = [
    (2, 2.0),
    (3, 2.154_700_5),
    (4, 2.414_213_6),
    (5, 2.701_301_6),
    (6, 3.0),
    (7, 3.0),
    (8, 3.304_764_9),
    (9, 3.613_125_9),
    (10, 3.813_025_6),
    (11, 3.923_804_4),
    (12, 4.029_601_9),
    (13, 4.236_068_0),
    (14, 4.328_428_6),
    (15, 4.521_357_0),
    (16, 4.615_425_6),
    (17, 4.792_033_7),
    (18, 4.863_703_3),
    (19, 4.863_703_3),
];

/// What is found here is a packing that holds, so it can only be larger.
const MORE_KNOWN: [(usize, f64); 13] = [
    (20, 5.122_320_7),
    (21, 5.252_317_5),
    (22, 5.439_719_0),
    (23, 5.545_204_2),
    (24, 5.651_661_1),
    (25, 5.752_824_3),
    (26, 5.828_176_5),
    (27, 5.906_397_8),
    (28, 6.014_938_1),
    (29, 6.138_597_9),
    (30, 6.197_741_1),
    (31, 6.291_502_6),
    (32, 6.429_463_0),
];

/// Of so many strands each, from 2 to 32; left at the best found after so many starts.
pub(crate) fn of(strands: &[usize], starts: usize) -> Vec<Check> {
    let sure = BEST_KNOWN.iter().map(|&known| (known, GRAHAM));
    let more = MORE_KNOWN.iter().map(|&known| (known, TABLE));
    sure.chain(more)
        .filter(|((n, _), _)| strands.contains(n))
        .map(|(known, source)| check(known, source, starts))
        .collect()
}

fn check((strands, published): (usize, f64), source: &'static str, starts: usize) -> Check {
    Check {
        name: format!("{strands} circles in a circle, radius over radius"),
        source,
        published,
        found: vec![tightest(strands, starts, ENOUGH * published)],
        goal: Goal::Share(5e-4),
    }
}

/// Nodes of each straight strand.
const NODES: usize = 2;

const LIFT: f64 = 0.5;

fn straight(places: &[[f64; 2]]) -> Shape {
    let row = |&[x, y]: &[f64; 2]| (0..NODES).map(move |n| [x, y, LIFT * n as f64 / NODES as f64]);
    Shape {
        points: places.iter().flat_map(row).collect(),
        lift: LIFT,
        turn: 0.0,
        squeeze: vec![0.0; places.len() * NODES],
        axes: Vec::new(),
    }
}

/// Radius over strand radius of strands pulled tight from `places`, and where they
/// came to lie.
fn bound(places: &[[f64; 2]], stages: &[f64]) -> Option<(f64, Vec<[f64; 2]>)> {
    let ends = Ends::Screw {
        lift: Hold::Held,
        turn: Hold::Held,
    };
    let tubes = Tubes {
        band: 1.0,
        ..limp_tubes(places.len(), NODES, ends)
    };
    let schedule = Schedule {
        stages: stages.to_vec(),
        tolerance: 1e-3,
        early_tolerance: 1e-2,
        most_iterations: 400,
        most_work: f64::INFINITY,
    };
    let start = straight(places);
    let (shape, report) = tighten(&tubes, start, &schedule, &Progress::new()).ok()?;
    let lie: Vec<[f64; 2]> = shape
        .points
        .iter()
        .step_by(NODES)
        .map(|p| [p[0], p[1]])
        .collect();
    let outermost = lie.iter().map(|[x, y]| x.hypot(*y)).fold(0.0, f64::max);
    // As if the strands were as thin as they came to lie: a packing that holds.
    let radius = 0.5 * report.least_gap;
    Some(((outermost + radius) / radius, lie))
}

fn scattered(strands: usize, dice: &mut fastrand::Rng) -> Vec<[f64; 2]> {
    let place = |_| {
        let out = 0.9 * (strands as f64 * dice.f64()).sqrt();
        let (sin, cos) = (TAU * dice.f64()).sin_cos();
        [out * cos, out * sin]
    };
    (0..strands).map(place).collect()
}

/// The tightest of many bundles, each laid by chance or shaken out of the best.
fn tightest(strands: usize, tries: usize, enough: f64) -> f64 {
    const ROUGH: [f64; 4] = [1.0, 4.0, 32.0, 256.0];
    let mut dice = fastrand::Rng::with_seed(strands as u64);
    let mut best = (f64::INFINITY, Vec::new());
    let mut exact = f64::INFINITY;
    for number in 0..tries {
        let start = if number < BY_CHANCE || number % 4 == 0 {
            scattered(strands, &mut dice)
        } else {
            shaken(&best.1, &mut dice)
        };
        let Some(found) = bound(&start, &ROUGH) else {
            continue;
        };
        if found.0 < best.0 {
            let hard = bound(&found.1, &[2048.0, 16384.0]);
            exact = hard.map_or(exact, |(ratio, _)| ratio.min(exact));
            best = found;
            if exact < enough {
                break;
            }
        }
    }
    exact
}

/// One or two strands put elsewhere, the others moved a little.
fn shaken(places: &[[f64; 2]], dice: &mut fastrand::Rng) -> Vec<[f64; 2]> {
    let mut places = places.to_vec();
    for _ in 0..1 + dice.usize(0..2) {
        let moved = dice.usize(0..places.len());
        places[moved] = scattered(places.len(), dice)[0];
    }
    for x in places.iter_mut().flatten() {
        *x += 0.2 * (dice.f64() - 0.5);
    }
    places
}
