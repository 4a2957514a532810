//! Plain weave: two strands up and two across, equal, limp and hard.
//!
//! Letters as Peirce's: `D` sum of the diameters of two strands that cross, `p` distance
//! of neighbours, `l` length of strand from one crossing to the next, crimp `l/p - 1`.
//!
//! Peirce lays both strands of a crossing along arcs of circles. Tubes lie there
//! too, but touch only in the two planes of the strands, and can be drawn a little
//! shorter: as tight clasps, whose tips do not touch. So his lengths are upper
//! bounds, and the distances of his jammed weave are held here: of all jammed weaves
//! the square one has the longest strands, and would leave it if it were free to.

use plaitwright::mechanics::{Accurate, Ends, Hold, Progress, Shape, Tubes, accurate, linking};

use super::check::{Check, Goal};
use super::limp::limp_tubes;

const PEIRCE: &str = "Peirce, *J. Text. Inst.* 28 (1937) T45";

const CLASPS: &str = "tight clasps, after Cantarella, Fu, Kusner, Sullivan and Wrinkle, *Geom. Topol.* 10 (2006) 2055";

/// `p/D` of the square weave that is jammed by Peirce's formulas, half the root of three, and
/// its crimp in per cent.
const JAMMED: [f64; 2] = [0.866_025_4, 20.92];

/// Nodes of a strand at first.
const NODES: usize = 8;
/// Asked of the engine: of a weave that is held, or of one that slides.
const TOLERANCE: [f64; 2] = [2e-4, 2e-3];

/// As jammed by Peirce's formulas, square and not.
pub(crate) fn jammed() -> Vec<Check> {
    let [p, crimp] = JAMMED;
    let square = Weave::held([p, p]);
    // D (cos a + cos b) = D for the angles of both; lengths are arcs.
    let up = 50.0_f64.to_radians();
    let across = (1.0 - up.cos()).acos();
    let unequal = Weave::held([up.sin(), across.sin()]);
    vec![
        Check {
            name: "jammed square plain weave, crimp, per cent".to_owned(),
            source: PEIRCE,
            published: crimp,
            found: square.crimps().into(),
            goal: Goal::Plain(0.25),
        },
        Check {
            name: "plain weave jammed at 50 and 69.07°, l/D of both together".to_owned(),
            source: PEIRCE,
            published: up + across,
            found: vec![unequal.lengths.iter().sum()],
            goal: Goal::Share(3e-3),
        },
    ]
}

/// Square weaves from open to Peirce's jam, held in both distances; and one that is held
/// across and finds its own distance under a weight.
pub(crate) fn by_clasps() -> Vec<Check> {
    let held = [1.25, 1.0, JAMMED[0]].map(|p| Check {
        name: format!("square plain weave, p/D {p:.4}, crimp, per cent"),
        source: CLASPS,
        published: 100.0 * (Crossing::of(p).length / p - 1.0),
        found: Weave::held([p, p]).crimps().into(),
        goal: Goal::Plain(0.01),
    });
    let p = 1.25;
    let weight = 2.0 * (1.0 - Crossing::of(p).slope.powi(2)).sqrt();
    let drawn = Check {
        name: format!("the same drawn up by {weight:.4} pulls, p/D"),
        source: CLASPS,
        published: p,
        found: vec![Weave::tight([1.2 * p, p], [Hold::Free, Hold::Held], weight).distances[0]],
        goal: Goal::Share(1e-3),
    };
    held.into_iter().chain([drawn]).collect()
}

/// A weave free both ways: strands of one way close up until neighbours touch where they
/// change sides, and all together are shorter than those of the square jam.
pub(crate) fn free() -> Vec<Check> {
    let found = Weave::tight([1.3, 1.2], [Hold::Free; 2], 0.0);
    let [up, across] = found.distances;
    let jam = 2.0 * 60.0_f64.to_radians();
    let together: f64 = found.lengths.iter().sum();
    assert!(together < jam, "{together} is longer than jammed, {jam}");
    vec![Check {
        name: "plain weave free both ways, lesser p/D".to_owned(),
        source: "neighbours touch",
        published: 0.5,
        found: vec![up.min(across)],
        goal: Goal::Share(1e-3),
    }]
}

/// Distance of neighbours and length of strand, both over `D`, of upright strands and those
/// across.
struct Weave {
    distances: [f64; 2],
    lengths: [f64; 2],
}

impl Weave {
    fn held(distances: [f64; 2]) -> Self {
        Self::tight(distances, [Hold::Held; 2], 0.0)
    }

    /// Pulled tight from an open weave; `weight` draws upwards.
    fn tight(distances: [f64; 2], [lift, across]: [Hold; 2], weight: f64) -> Self {
        let ends = Ends::Lattice {
            upright: 2,
            lift,
            across,
        };
        let tubes = Tubes {
            weight,
            ..limp_tubes(4, NODES, ends)
        };
        let start = waves(distances);
        let before = linking(&tubes, &start);
        let slides = usize::from(across == Hold::Free);
        let found = accurate(&tubes, start, TOLERANCE[slides], &Progress::new());
        let found = found.expect("a sound start");
        let after = linking(&found.tubes, &found.shape);
        assert_eq!(before, after, "a strand came through another");
        Self::of(&found)
    }

    /// A cell holds two crossings of each strand; `D` is two diameters.
    fn of(found: &Accurate) -> Self {
        let strand = |first: usize| {
            let pair = &found.lengths[first..first + 2];
            pair.iter().map(|length| length.value).sum::<f64>() / 8.0
        };
        Self {
            distances: [found.lift.value / 4.0, found.turn.value / 4.0],
            lengths: [strand(0), strand(2)],
        }
    }

    /// Per cent.
    fn crimps(&self) -> [f64; 2] {
        [0, 1].map(|way| 100.0 * (self.lengths[way] / self.distances[way] - 1.0))
    }
}

/// Strands in waves, so high that those that cross just touch.
fn waves(distances: [f64; 2]) -> Shape {
    let [up, across] = distances.map(|distance| 4.0 * distance);
    let place = |node: usize| {
        let along = (node % NODES) as f64 / NODES as f64;
        let strand = node / NODES;
        let side = (strand % 2) as f64 / 2.0;
        let out = 0.5 * (std::f64::consts::TAU * (along + side)).cos();
        match strand {
            0 | 1 => [out, side * across, along * up],
            _ => [-out, along * across, side * up],
        }
    };
    Shape {
        points: (0..4 * NODES).map(place).collect(),
        lift: up,
        turn: across,
        squeeze: vec![0.0; 4 * NODES],
        axes: Vec::new(),
    }
}

/// A crossing of two equal strands, tight, with what is straight between it and the next.
struct Crossing {
    /// Sine of the angle at which strands lie where they are straight.
    slope: f64,
    /// `l/D`.
    length: f64,
}

/// Steps of an integral, and halvings until an angle is found.
const STEPS: usize = 4000;
const HALVINGS: usize = 50;

impl Crossing {
    /// Of a square weave of this `p/D`.
    fn of(p: f64) -> Self {
        let (mut low, mut high) = (0.0, p.min(0.99));
        for _ in 0..HALVINGS {
            let slope = 0.5 * (low + high);
            if rest(p, slope)[0] < 0.0 {
                low = slope;
            } else {
                high = slope;
            }
        }
        let slope = 0.5 * (low + high);
        let length = rest(p, slope)[1];
        Self { slope, length }
    }
}

/// How far a strand that leaves the clasp at `slope` comes beyond the middle of the weave
/// halfway to the next crossing, and its `l/D`. `D/2` is 1 here.
fn rest(p: f64, slope: f64) -> [f64; 2] {
    let [length, rise] = clasp(slope);
    let level = (1.0 - slope * slope).sqrt();
    let straight = (p - slope) / level;
    let apart = rise + level;
    [rise + straight * slope - 0.5 * apart, length + straight]
}

/// Half of a strand of a tight clasp, length and rise from its tip. At each of its points
/// the strand lies at a slope `u` and touches the other where that lies at `slope - u`, as
/// what they press on one another must balance.
fn clasp(slope: f64) -> [f64; 2] {
    let out = |u: f64| {
        let square = |u: f64| 1.0 / (1.0 - u * u);
        let deep = (square(u) + square(slope - u) - 1.0).sqrt().recip();
        deep * u * square(u).sqrt()
    };
    let (mut length, mut rise) = (0.0, 0.0);
    for step in 0..STEPS {
        let u = |part: f64| slope * (step as f64 + part) / STEPS as f64;
        let way = (out(u(1.0)) - out(u(0.0))) / (1.0 - u(0.5).powi(2)).sqrt();
        length += way;
        rise += way * u(0.5);
    }
    [length, rise]
}
