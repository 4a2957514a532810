//! Whether two braids are the same, by what they do to curves, and the braid of
//! strands drawn in space, by looking at them from one side.
//!
//! Shares no code with the program: it is the judge of its braid words.

use std::f64::consts::{PI, TAU};

use plaitwright::structure::{Braid, Place};
use plaitwright::topology::WorldLines;

/// Views of no meaning, radians: should crossings fall together in one of them,
/// another is taken.
const VIEWS: [f64; 4] = [0.123_456_7, 0.371_1, 0.532_3, 0.877_7];

/// Whether two words on so many strands are the same braid.
///
/// # Source
///
/// The action on a system of curves in Dynnikov's coordinates is faithful (I.
/// Dynnikov, *On a Yang–Baxter map and the Dehornoy ordering*, 2002; update
/// rules as in Hall and Yurttaş, *On the topological entropy of families of
/// braids*, 2009). Two strands at the sides stand still, so that turns of the
/// whole count as well.
pub(crate) fn same_braid(this: &[i32], that: &[i32], strands: usize) -> bool {
    let started = |seed: i128| {
        let value = |k: i128| (seed * (7 * k + 3)) % 11 - 5;
        let count = strands as i128;
        Curves {
            a: (0..count).map(|k| seed.min(1) * value(k)).collect(),
            b: (0..count).map(|k| 1 + seed * value(k + 40)).collect(),
        }
    };
    (0..3).all(|seed| started(seed).after(this) == started(seed).after(that))
}

#[derive(PartialEq)]
struct Curves {
    a: Vec<i128>,
    b: Vec<i128>,
}

impl Curves {
    fn after(mut self, word: &[i32]) -> Self {
        for letter in word {
            // The strands of the word begin at the second puncture.
            let k = letter.unsigned_abs() as usize - 1;
            if *letter > 0 {
                self.right(k);
            } else {
                self.left(k);
            }
        }
        self
    }

    fn right(&mut self, k: usize) {
        let (a, b) = ([self.a[k], self.a[k + 1]], [self.b[k], self.b[k + 1]]);
        let c = a[0] - a[1] - b[1].max(0) + b[0].min(0);
        self.a[k] = a[0] - b[0].max(0) - (b[1].max(0) + c).max(0);
        self.b[k] = b[1] + c.min(0);
        self.a[k + 1] = a[1] - b[1].min(0) - (b[0].min(0) - c).min(0);
        self.b[k + 1] = b[0] - c.min(0);
    }

    fn left(&mut self, k: usize) {
        let (a, b) = ([self.a[k], self.a[k + 1]], [self.b[k], self.b[k + 1]]);
        let d = a[0] - a[1] + b[1].max(0) - b[0].min(0);
        self.a[k] = a[0] + b[0].max(0) + (b[1].max(0) - d).max(0);
        self.b[k] = b[1] - d.max(0);
        self.a[k + 1] = a[1] + b[1].min(0) + (b[0].min(0) + d).min(0);
        self.b[k + 1] = b[0] + d.max(0);
    }
}

/// Plan positions of all strands, one row a moment.
type Rows = Vec<Vec<[f64; 2]>>;

fn on_circle(clockwise: f64, view: f64) -> [f64; 2] {
    // The mark lies at the bottom, next to the viewer.
    [-(clockwise + view).sin(), -(clockwise + view).cos()]
}

/// The braid of strands that go straight from row to row, seen from far below
/// in the plan: what has the smaller y is in front. `None` if crossings fall
/// together.
fn seen(rows: &Rows) -> Option<Vec<i32>> {
    let count = rows[0].len();
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|&i, &j| rows[0][i][0].total_cmp(&rows[0][j][0]));
    let mut word = Vec::new();
    for pair in rows.windows(2) {
        let mut crossings = crossings(&pair[0], &pair[1]);
        crossings.sort_by(|one, other| one.0.total_cmp(&other.0));
        for (part, i, j) in crossings {
            let at = order.iter().position(|&k| k == i || k == j).expect("there");
            let (left, right) = (order[at], order[at + 1]);
            if ![i, j].contains(&right) {
                return None;
            }
            let depth = |k: usize| pair[0][k][1] + (pair[1][k][1] - pair[0][k][1]) * part;
            let letter = i32::try_from(at + 1).expect("few strands");
            word.push(if depth(left) < depth(right) {
                letter
            } else {
                -letter
            });
            order.swap(at, at + 1);
        }
    }
    Some(word)
}

fn crossings(from: &[[f64; 2]], to: &[[f64; 2]]) -> Vec<(f64, usize, usize)> {
    let mut found = Vec::new();
    for i in 0..from.len() {
        for j in 0..i {
            let (x, x_next) = (from[i][0] - from[j][0], to[i][0] - to[j][0]);
            if x * x_next < 0.0 {
                found.push((x / (x - x_next), i, j));
            }
        }
    }
    found
}

/// A braid of strands on the circle, begun and ended instead on an arc that is
/// open towards the mark; `angles` in rim order from the mark, rising.
fn from_the_arc(word: Vec<i32>, angles: &[f64], view: f64) -> Option<Vec<i32>> {
    let steps = 3000;
    let last = (angles.len() - 1) as f64;
    let row = |step: usize| {
        let part = step as f64 / f64::from(steps);
        let slid = |(rank, &angle): (usize, &f64)| {
            let goal = PI - view + PI * 0.95 * (rank as f64 / last - 0.5);
            on_circle(angle + (goal - angle) * part, view)
        };
        angles.iter().enumerate().map(slid).collect()
    };
    let slide = seen(&(0..=steps as usize).map(row).collect())?;
    let back = slide.iter().rev().map(|letter| -letter);
    Some(back.chain(word).chain(slide.iter().copied()).collect())
}

/// Radians clockwise that the disc turns in a round.
fn disc_turn(braid: &Braid) -> f64 {
    TAU * f64::from(braid.turn()) / f64::from(braid.slots())
}

fn turned([x, y]: [f64; 2], clockwise: f64) -> [f64; 2] {
    let (s, c) = clockwise.sin_cos();
    [x * c + y * s, y * c - x * s]
}

/// Adds the turn back by what the disc turns in a round.
fn turn_back(rows: &mut Rows, braid: &Braid) {
    let end = rows[rows.len() - 1].clone();
    for step in 1..=3000 {
        let back = -disc_turn(braid) * f64::from(step) / 3000.0;
        rows.push(end.iter().map(|&point| turned(point, back)).collect());
    }
}

/// The braid of one round as it really goes on the disc: strands rest in their
/// places, go straight, and hang over the middle when held.
pub(crate) fn braid_on_disc(braid: &Braid) -> Vec<i32> {
    let seen = |&view: &f64| on_disc_from(braid, view);
    VIEWS.iter().find_map(seen).expect("seen from some side")
}

fn on_disc_from(braid: &Braid, view: f64) -> Option<Vec<i32>> {
    let point = |place: Place| match place.angle(braid.slots()) {
        Some(angle) => on_circle(angle, view),
        None => [0.0, 0.0],
    };
    let row = |at: Vec<Place>| at.into_iter().map(point).collect::<Vec<_>>();
    let mut rows: Rows = (0..braid.lifts().len())
        .map(|lift| row(braid.places_after(lift)))
        .collect();
    // The end in the places of the round just done, not of the next.
    rows.push(row(braid.places_after(braid.lifts().len())));
    turn_back(&mut rows, braid);
    let mut angles: Vec<f64> = braid
        .places_after(0)
        .iter()
        .filter_map(|place| place.angle(braid.slots()))
        .map(|angle| angle.rem_euclid(TAU - 1e-9))
        .collect();
    angles.sort_by(f64::total_cmp);
    from_the_arc(seen(&rows)?, &angles, view)
}

/// The braid of the world-lines of a round.
pub(crate) fn braid_of_lines(braid: &Braid, lines: &WorldLines) -> Vec<i32> {
    let seen = |&view: &f64| lines_from(braid, lines, view);
    VIEWS.iter().find_map(seen).expect("seen from some side")
}

fn lines_from(braid: &Braid, lines: &WorldLines, view: f64) -> Option<Vec<i32>> {
    let paths = lines.paths(48);
    let angle = |[x, y, _]: [f64; 3]| x.atan2(y);
    let unit = |[x, y, z]: [f64; 3]| {
        let r = x.hypot(y);
        on_circle(angle([x, y, z]), view).map(|coordinate| coordinate * r)
    };
    let moment = |index: usize| paths.iter().map(|path| unit(path[index])).collect();
    let mut rows: Rows = (0..paths[0].len()).map(moment).collect();
    let end = |&role: &usize| turned(unit(paths[role][0]), disc_turn(braid));
    let end: Vec<[f64; 2]> = braid.becomes().iter().map(end).collect();
    for (last, end) in rows[rows.len() - 1].iter().zip(&end) {
        let way = (last[0] - end[0]).hypot(last[1] - end[1]);
        assert!(way < 0.25 * lines.rim, "the round ends elsewhere: {way}");
    }
    rows.push(end);
    turn_back(&mut rows, braid);
    let ring = braid.order_after(0);
    let first = angle(paths[ring[0]][0]);
    let rank = TAU / ring.len() as f64;
    let angles: Vec<f64> = (0..ring.len()).map(|r| first + rank * r as f64).collect();
    from_the_arc(seen(&rows)?, &angles, view)
}
