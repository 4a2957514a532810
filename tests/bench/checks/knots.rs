//! Tight knots and links: length over radius, in the limit of hard strands and
//! many nodes; and as laid, by the radius given (too short) and by half the least
//! distance (too long), between which the true one lies.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{Accurate, Ends, Progress, Shape, accurate};

use super::check::{Check, Goal};
use super::limp::limp_tubes;

/// Asked of the engine.
const TOLERANCE: f64 = 7e-4;
/// Of the published length.
const GOAL: Goal = Goal::Share(1e-3);

/// A length over radius, and who says so.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known {
    pub length: f64,
    pub source: &'static str,
}

pub(crate) const TREFOIL: Known = Known {
    length: 32.742_934,
    source: "Przybył and Pierański, *J. Phys. A* 47 (2014) 285201",
};

pub(crate) const FIGURE_EIGHT: Known = Known {
    length: 42.0887,
    source: "Ashton, Cantarella, Piatek and Rawdon, *Exp. Math.* 20 (2011) 57",
};

pub(crate) const HOPF_LINK: Known = Known {
    length: 8.0 * PI,
    source: "8π: Cantarella, Kusner and Sullivan, *Invent. Math.* 150 (2002) 257",
};

/// In three equal pieces.
pub(crate) fn trefoil() -> [Check; 2] {
    let found = tight([1, 24, 3], 2.0 * TAU / 3.0, |_, t| {
        let out = 0.8 * (2.0 + (3.0 * t).cos());
        let (sin, cos) = (2.0 * t).sin_cos();
        [out * cos, out * sin, 0.8 * (3.0 * t).sin()]
    });
    both("trefoil", TREFOIL, &found)
}

/// In two equal pieces.
pub(crate) fn figure_eight() -> [Check; 2] {
    let found = tight([1, 48, 2], PI, |_, t| {
        let out = 0.9 * (2.0 + (2.0 * t).cos());
        let (sin, cos) = (3.0 * t).sin_cos();
        [out * cos, out * sin, 0.9 * (4.0 * t).sin()]
    });
    both("figure-eight knot", FIGURE_EIGHT, &found)
}

/// Two rings.
pub(crate) fn hopf_link() -> [Check; 2] {
    let found = tight([2, 48, 1], 0.0, |ring, t| match ring {
        0 => [1.5 * t.cos(), 1.5 * t.sin(), 0.0],
        _ => [1.5 + 1.5 * t.cos(), 0.1 * t.sin(), 1.5 * t.sin()],
    });
    both("Hopf link", HOPF_LINK, &found)
}

fn both(what: &str, known: Known, found: &[f64]) -> [Check; 2] {
    let check = |how: &str, found: &[f64]| Check {
        name: format!("{what}, length over radius, {how}"),
        source: known.source,
        published: known.length,
        found: found.to_vec(),
        goal: GOAL,
    };
    [
        check("in the limit", &found[..1]),
        check("by both measures", &found[1..]),
    ]
}

/// Length over radius in the limit; and as laid, by the radius given and by half
/// the least distance. `counts`: strands, nodes and cells round.
fn tight(
    [strands, nodes, cells]: [usize; 3],
    turn: f64,
    at: impl Fn(usize, f64) -> [f64; 3],
) -> Vec<f64> {
    let tubes = limp_tubes(strands, nodes, Ends::Closed { cells });
    let place = |node: usize| {
        let round = TAU / cells as f64 * (node % nodes) as f64 / nodes as f64;
        at(node / nodes, round)
    };
    let start = Shape {
        points: (0..strands * nodes).map(place).collect(),
        lift: 0.0,
        turn,
        squeeze: vec![0.0; strands * nodes],
        axes: Vec::new(),
    };
    let found = accurate(&tubes, start, TOLERANCE, &Progress::new()).expect("a sound start");
    lengths_over_radius(&found, cells as f64)
}

fn lengths_over_radius(found: &Accurate, cells: f64) -> Vec<f64> {
    let limit = cells * found.lengths.iter().map(|l| l.value).sum::<f64>();
    let laid = cells * found.laid.iter().sum::<f64>();
    vec![limit / 0.5, laid / 0.5, laid / (0.5 * found.least.ratio)]
}
