//! The longer study: many weights, two frictions, several kinds of cord.

use super::braiding::{Braiding, Manner};
use super::chains::Yarn;
use super::disc::Freedom;
use super::gauge::{Gauge, Section, measure};
use super::quick;
use plaitwright::structure::MoveList;

/// Rounds worked under a heavy weight first, as from a tied end: strands hung
/// in a ring would begin a hollow cord.
const TIED: usize = 3;
/// That weight over the pull of all strands.
const TIED_AT: f64 = 0.5;

/// A cord of hard limp strands worked for so many rounds, and what the last
/// third of it measures.
pub(crate) fn formed(
    moves: &MoveList,
    friction: f64,
    f: f64,
    freedom: Freedom,
    rounds: usize,
) -> Gauge {
    let manner = Manner {
        yarn: Yarn::limp(friction),
        f: TIED_AT,
        freedom,
    };
    let mut braiding = Braiding::new(moves, &manner);
    braiding.work(TIED);
    braiding.disc.weight = f * moves.start.len() as f64;
    braiding.work(rounds);
    let last = (rounds / 3).max(1);
    measure(&braiding, last, last as f64)
}

/// One line of the table: what was formed beside what the quick model says.
pub(crate) fn line(
    name: &str,
    moves: &MoveList,
    friction: f64,
    f: f64,
    freedom: Freedom,
    rounds: usize,
) {
    let cord = formed(moves, friction, f, freedom, rounds);
    let quick = match quick::solved(moves, friction, f) {
        Ok(q) => format!(
            "F_eff {:.2} {}",
            q.share,
            row(q.height, q.take_up, q.turn, &q.section)
        ),
        Err(error) => error,
    };
    let formed = row(cord.height, cord.take_up, cord.turn, &cord.section);
    println!("{name:<24} mu {friction:.2} f {f:.2} {freedom:?}: {formed} | {quick}");
}

fn row(height: f64, take_up: f64, turn: f64, section: &Section) -> String {
    let Section {
        width,
        roundness,
        bore,
    } = section;
    format!(
        "height {height:5.2} take-up {take_up:.3} width {width:.2} round {roundness:.2} \
         bore {bore:.2} turn {turn:4.0}"
    )
}

/// What is studied: structure, strands, rounds, frictions, weights.
type Case = (&'static str, usize, usize, &'static [f64], &'static [f64]);

/// Kinds of cord of the longer study.
pub(crate) const CASES: [Case; 9] = [
    (
        "Round spiral",
        8,
        9,
        &[0.0, 0.1, 0.2, 0.3],
        &[0.05, 0.1, 0.14, 0.2, 0.25, 0.3, 0.4, 0.5],
    ),
    (
        "Square, pairs in turn",
        8,
        6,
        &[0.2],
        &[0.1, 0.14, 0.2, 0.3, 0.4],
    ),
    (
        "Hollow, one over one",
        8,
        6,
        &[0.15, 0.3],
        &[0.1, 0.2, 0.3, 0.5],
    ),
    ("Hollow, one over one", 12, 6, &[0.3], &[0.14, 0.3, 0.5]),
    (
        "Flat, one over one",
        7,
        7,
        &[0.15, 0.3],
        &[0.1, 0.2, 0.3, 0.5],
    ),
    ("Flat, one over one", 8, 7, &[0.3], &[0.14, 0.3]),
    ("Flat, one over one", 10, 6, &[0.3], &[0.14, 0.3]),
    ("Flat, one over one", 5, 7, &[0.3], &[0.14, 0.3]),
    ("Round spiral", 16, 7, &[0.3], &[0.14, 0.2, 0.3, 0.4]),
];
