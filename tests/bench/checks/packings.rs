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
    let mut dice = fastrand::Rng::with_seed(strands as u64);
    let (mut best, mut lie) = (f64::INFINITY, Vec::new());
    for number in 0..starts {
        let places = if number % 4 == 0 || number < BY_CHANCE {
            scattered(strands, &mut dice)
        } else {
            shaken(&lie, &mut dice)
        };
        let Some(found) = bound(&places) else {
            continue;
        };
        if ratio(&found) < best {
            (best, lie) = (ratio(&found), found);
        }
        if best < published * (1.0 + 2e-4) {
            break;
        }
    }
    Check {
        name: format!("{strands} circles in a circle, radius over radius"),
        source,
        published,
        found: vec![best],
        goal: Goal::Share(5e-4),
    }
}

fn scattered(strands: usize, dice: &mut fastrand::Rng) -> Vec<[f64; 2]> {
    let place = |_| {
        let out = 0.9 * (strands as f64 * dice.f64()).sqrt();
        let (sin, cos) = (TAU * dice.f64()).sin_cos();
        [out * cos, out * sin]
    };
    (0..strands).map(place).collect()
}

/// One strand put elsewhere, the others moved a little.
fn shaken(places: &[[f64; 2]], dice: &mut fastrand::Rng) -> Vec<[f64; 2]> {
    let mut places = places.to_vec();
    let moved = dice.usize(0..places.len());
    places[moved] = scattered(places.len(), dice)[0];
    for x in places.iter_mut().flatten() {
        *x += 0.2 * (dice.f64() - 0.5);
    }
    places
}

/// Where straight strands come to lie, bound together and pulled tight.
fn bound(places: &[[f64; 2]]) -> Option<Vec<[f64; 2]>> {
    const NODES: usize = 2;
    let strands = places.len();
    let ends = Ends::Screw {
        lift: Hold::Held,
        turn: Hold::Held,
    };
    let tubes = Tubes {
        band: 1.0,
        ..limp_tubes(strands, NODES, ends)
    };
    // So low that strands gain next to nothing by lying with their nodes in one
    // another's gaps: a strand in steps of a half comes 0.8 % too near (tried).
    let lift = 0.1;
    let node = |at: usize| {
        let [x, y] = places[at / NODES];
        [x, y, lift * (at % NODES) as f64 / NODES as f64]
    };
    let points = (0..strands * NODES).map(node).collect();
    let start = Shape {
        points,
        lift,
        turn: 0.0,
        squeeze: vec![0.0; strands * NODES],
    };
    let schedule = Schedule {
        stages: vec![1.0, 4.0, 32.0, 256.0, 4096.0],
        tolerance: 1e-3,
        early_tolerance: 1e-2,
        most_iterations: 2000,
    };
    let (shape, _) = tighten(&tubes, start, &schedule, &Progress::new()).ok()?;
    Some(middles(&shape, NODES))
}

/// Where every strand stands.
fn middles(shape: &Shape, nodes: usize) -> Vec<[f64; 2]> {
    let middle = |run: &[[f64; 3]]| -> [f64; 2] {
        let sum = |axis: usize| run.iter().map(|p| p[axis]).sum::<f64>();
        [0, 1].map(|axis| sum(axis) / run.len() as f64)
    };
    shape.points.chunks(nodes).map(middle).collect()
}

/// Circle over circles as large as may stand there: a packing that holds.
fn ratio(places: &[[f64; 2]]) -> f64 {
    let out = |p: &[f64; 2]| p[0].hypot(p[1]);
    let outermost = places.iter().map(out).fold(0.0, f64::max);
    let apart = |p: &[f64; 2], q: &[f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
    let pairs = places
        .iter()
        .enumerate()
        .flat_map(|(k, p)| places[..k].iter().map(move |q| apart(p, q)));
    let radius = 0.5 * pairs.fold(f64::INFINITY, f64::min);
    (outermost + radius) / radius
}
