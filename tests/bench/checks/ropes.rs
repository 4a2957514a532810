//! Helices that touch, and ropes that do not twist under a pull.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{Ends, Hold, Progress, Shape, Tubes, accurate};

use super::check::{Check, Goal};
use super::limp::limp_tubes;

/// Turn of a cell.
const TURN: f64 = PI / 6.0;
/// Nodes of a piece.
const NODES: usize = 8;
/// Asked of the engine: for the angle, which is flat there, and for the radius.
const TOLERANCE: [f64; 2] = [4e-4, 1e-3];

/// Helices on a circle of radius `out`, evenly round.
fn helices(strands: usize, out: f64, lift: f64) -> Shape {
    let place = |node: usize| {
        let up = (node % NODES) as f64 / NODES as f64;
        let angle = TAU * (node / NODES) as f64 / strands as f64 + TURN * up;
        [out * angle.cos(), out * angle.sin(), lift * up]
    };
    Shape {
        points: (0..strands * NODES).map(place).collect(),
        lift,
        turn: TURN,
        squeeze: vec![0.0; strands * NODES],
        axes: Vec::new(),
    }
}

/// Length of a strand and rise of the cell, tight.
fn tight(tubes: &Tubes, start: Shape, tolerance: f64) -> [f64; 2] {
    let found = accurate(tubes, start, tolerance, &Progress::new()).expect("a sound start");
    let length = found.lengths.iter().map(|l| l.value).sum::<f64>();
    [length / tubes.strands as f64, found.lift.value]
}

/// Pitch angles of the ropes with most turns for their strand length.
///
/// Each strand runs on in the place of its neighbour, so that all are one strand
/// and stay equal; four that are free of each other sort themselves into two
/// wound round two (tried).
pub(crate) fn zero_twist() -> Vec<Check> {
    let one = |(strands, published): (usize, f64)| {
        let ends = Ends::Screw {
            lift: Hold::Free,
            turn: Hold::Held,
        };
        let tubes = Tubes {
            continues: (0..strands).map(|i| (i + 1) % strands).collect(),
            ..limp_tubes(strands, NODES, ends)
        };
        let mut start = helices(strands, 0.6 / (PI / strands as f64).sin(), 0.6);
        start.turn -= TAU / strands as f64;
        let [length, lift] = tight(&tubes, start, TOLERANCE[0]);
        Check {
            name: format!("zero-twist rope of {strands}, pitch angle, degrees"),
            source: "Bohr and Olsen, *EPL* 93 (2011) 60004",
            published,
            found: vec![(lift / length).asin().to_degrees()],
            goal: Goal::Plain(0.05),
        }
    };
    [(2, 39.3771), (3, 42.8354), (4, 43.8351)].map(one).into()
}

/// Radius of helices that just touch, of given pitch angle.
///
/// The condition of Neukirch and van der Heijden, *J. Elasticity* 69 (2002) 41: no point
/// of another strand is nearer than a diameter; solved here by halving.
pub(crate) fn touching_radius(strands: usize, slope: f64) -> f64 {
    let least = |out: f64| {
        let square = |strand: usize, t: f64| {
            let away = t + TAU * strand as f64 / strands as f64;
            2.0 * out * out * (1.0 - away.cos()) + (out * slope * t).powi(2)
        };
        let ways = (1..strands)
            .flat_map(|strand| (-20_000..20_000).map(move |i| (strand, f64::from(i) * PI / 2e4)));
        ways.map(|(strand, t)| square(strand, t))
            .fold(f64::INFINITY, f64::min)
            .sqrt()
    };
    let (mut low, mut high) = (0.3, 5.0);
    for _ in 0..45 {
        let middle = 0.5 * (low + high);
        if least(middle) < 1.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Radii of two, three and four helices of given pitch angle.
pub(crate) fn touching() -> Vec<Check> {
    let mut checks = Vec::new();
    for strands in [2, 3, 4] {
        for degrees in [60.0_f64, 45.0, 40.0, 35.0] {
            checks.push(touching_at(strands, degrees));
        }
    }
    checks
}

fn touching_at(strands: usize, degrees: f64) -> Check {
    let slope = degrees.to_radians().tan();
    let published = touching_radius(strands, slope);
    let ends = Ends::Screw {
        lift: Hold::Held,
        turn: Hold::Held,
    };
    let tubes = Tubes {
        continues: (0..strands).map(|i| (i + 1) % strands).collect(),
        ..limp_tubes(strands, NODES, ends)
    };
    let mut start = helices(strands, 1.3 * published, published * slope * TURN);
    start.turn -= TAU / strands as f64;
    let [length, lift] = tight(&tubes, start, TOLERANCE[1]);
    Check {
        name: format!("{strands} helices at {degrees}°, radius over diameter"),
        source: "Neukirch and van der Heijden, *J. Elasticity* 69 (2002) 41",
        published,
        found: vec![(length * length - lift * lift).sqrt() / TURN],
        goal: Goal::Share(2e-3),
    }
}
