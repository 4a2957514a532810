//! Straight strands bound together.
//!
//! Ratios of the enclosing circle to one circle: Graham, Lubachevsky, Nurmela and
//! Östergård, *Discrete Math.* 181 (1998) 139, to 19; all from E. Specht's table of
//! equal circles in a circle, as quoted in public source texts.

use std::f64::consts::TAU;

use plaitwright::mechanics::{Ends, Hold, Progress, Schedule, Shape, Tubes, tighten};

use super::{assert_near, limp_tubes};

/// Enclosing radius for 2 circles of radius one and more.
const RATIOS: [f64; 31] = [
    2.0,
    2.154_700_5,
    2.414_213_6,
    2.701_301_6,
    3.0,
    3.0,
    3.304_764_9,
    3.613_125_9,
    3.813_025_6,
    3.923_804_4,
    4.029_601_9,
    4.236_068_0,
    4.328_428_6,
    4.521_357_0,
    4.615_425_6,
    4.792_033_7,
    4.863_703_3,
    4.863_703_3,
    5.122_320_7,
    5.252_317_5,
    5.439_719_0,
    5.545_204_2,
    5.651_661_1,
    5.752_824_3,
    5.828_176_5,
    5.906_397_8,
    6.014_938_1,
    6.138_597_9,
    6.197_741_1,
    6.291_502_6,
    6.429_463_0,
];

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
        let start = if number < 12 || number % 4 == 0 {
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

/// `PLAIT_PACKINGS=all` looks at every number up to 32.
#[test]
fn strands_bound_together_lie_as_circles_in_the_smallest_circle() {
    let all = std::env::var_os("PLAIT_PACKINGS").is_some();
    let counts: Vec<usize> = if all {
        (2..=32).collect()
    } else {
        FEW.to_vec()
    };
    for strands in counts {
        let ratio = RATIOS[strands - 2];
        let tries = if all { 3000 } else { 200 };
        let found = tightest(strands, tries, 1.0004 * ratio);
        println!("{strands} strands: {found:.5}, published {ratio:.5}");
        assert_near(found, ratio, 5e-4 * ratio, &format!("{strands} circles"));
    }
}

/// Numbers whose tightest bundle is soon found.
const FEW: [usize; 12] = [2, 3, 4, 5, 6, 7, 8, 10, 12, 13, 14, 19];
