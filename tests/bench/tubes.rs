//! What the engine is timed on: cells of round spirals, uniform and mixed.

use plaitwright::mechanics::{Progress, Schedule, Shape, Tubes, tighten};

use super::start::{round_spiral, tubes, world_lines};

/// Tubes with a shape: a start or one at rest.
pub(super) type Cell = (Tubes, Shape);

/// The smallest cell of a round spiral, loose, with `count` nodes in all.
pub(super) fn symmetric(strands: usize, count: usize) -> Cell {
    tubes(&world_lines(&round_spiral(strands)), count / strands)
}

/// Tightened; a benchmark of a solve that fails is worth nothing.
pub(super) fn tight((tubes, start): &Cell, schedule: &Schedule) -> Shape {
    let (shape, report) =
        tighten(tubes, start.clone(), schedule, &Progress::new()).expect("a sound start");
    assert!(report.converged, "left with {}", report.residual);
    shape
}

/// Radius of the two makes of a mixed cord, strand diameters.
const MAKES: [f64; 2] = [0.4, 0.6];

/// Shares of the way from equal strands to the two makes, with the contact
/// stiffness of each: as a cord is grown for the window.
const GROWTH: [(f64, f64); 5] = [
    (0.25, 8.0),
    (0.6, 8.0),
    (1.0, 8.0),
    (1.0, 32.0),
    (1.0, 64.0),
];

/// A cord of two makes by turns, solved over a whole round from nothing:
/// `count` nodes in all.
pub(super) fn mixed(strands: usize, count: usize) -> Cell {
    let lines = world_lines(&round_spiral(strands));
    let round = lines.cells_per_round;
    let one = tubes(&lines, count / strands / round);
    let shape = tight(&one, &Schedule::coarse());
    let (mut tubes, mut shape) = one.0.repeated(&shape, round);
    let make = makes(&tubes);
    for (share, stiffness) in GROWTH {
        grow(&mut tubes, &make, share);
        let stage = Schedule {
            stages: vec![stiffness],
            ..Schedule::coarse()
        };
        shape = tight(&(tubes.clone(), shape), &stage);
    }
    (tubes, shape)
}

/// The makes by turns over the strands that take one another's places, so
/// that all are back after the round.
fn makes(tubes: &Tubes) -> Vec<usize> {
    let mut makes = vec![0; tubes.strands];
    for (number, cycle) in tubes.cycles().into_iter().enumerate() {
        for strand in cycle {
            makes[strand] = number % 2;
        }
    }
    makes
}

fn grow(tubes: &mut Tubes, make: &[usize], share: f64) {
    for (node, radius) in tubes.radius.iter_mut().enumerate() {
        let own = MAKES[make[node / tubes.nodes]];
        *radius = 0.5 + share * (own - 0.5);
    }
    for (strand, bending) in tubes.bending.iter_mut().enumerate() {
        let diameter = 2.0 * tubes.radius[strand * tubes.nodes];
        *bending = 0.05 * diameter * diameter;
    }
}

/// The thick make a little thicker: one step of a slider.
pub(super) fn thicker((tubes, shape): &Cell, by: f64) -> Cell {
    let mut tubes = tubes.clone();
    let thick = tubes.radius.iter().copied().fold(0.0, f64::max);
    for radius in tubes.radius.iter_mut().filter(|r| **r == thick) {
        *radius *= by;
    }
    (tubes, shape.clone())
}
