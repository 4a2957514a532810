//! One repeat of the surface on a grid, and where the grid's lines cross from strand to
//! strand.
//!
//! The grid leans as the cord turns, so that the row above the last is the first one again.
//! From each of its places three lines go out: right, up, and both at once; the
//! two triangles between them cover the surface.

use rayon::prelude::*;

use super::field::{Field, Seen};
use super::span::Ray;
use super::strand::Strands;

/// Places to a strand diameter. Tried.
const CLOSE: f64 = 12.0;
/// Most places in one repeat.
const MOST: f64 = 400_000.0;
/// Crossings are found to this share of a line between two places.
const EXACT: f64 = 2e-3;
/// Depths closer than this, mm, are the same.
const FLAT: f64 = 1e-5;
/// Secants in a row that may fail to halve a line.
const SLOW: usize = 4;
/// Steps along a line at most.
const HALVINGS: usize = 24;

/// The three lines from a place, as steps right and up.
pub(super) const LINES: [[i64; 2]; 3] = [[1, 0], [0, 1], [1, 1]];

/// The grid.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub(super) across: usize,
    pub(super) up: usize,
    /// Strand seen at each place, none in gaps.
    pub(super) strand: Vec<Option<usize>>,
    /// For each place and line: where on it the strand changes.
    pub(super) crossing: Vec<[f64; 3]>,
}

impl Grid {
    pub(super) fn new(field: &Field) -> Self {
        let step = field.strands.diameter / CLOSE;
        let (girth, lift) = (field.round.girth(), field.strands.lift);
        let step = step.max((girth * lift / MOST).sqrt());
        let across = (girth / step).ceil().max(12.0) as usize;
        let up = (lift / step).ceil().max(3.0) as usize;
        let seen = field.sketch(across, up);
        let strand = |seen: &Option<Seen>| seen.map(|seen| field.strands.strand(seen.spot));
        let mut grid = Self {
            across,
            up,
            strand: seen.iter().map(strand).collect(),
            crossing: Vec::new(),
        };
        grid.crossing = (0..seen.len())
            .into_par_iter()
            .map(|at| LINES.map(|line| grid.cross(field, &seen, at, line)))
            .collect();
        grid
    }

    /// Where a line from a place crosses from one strand to another; the middle if it
    /// does not.
    fn cross(&self, field: &Field, seen: &[Option<Seen>], at: usize, line: [i64; 2]) -> f64 {
        let (i, j) = ((at % self.across) as i64, (at / self.across) as i64);
        let (right, above) = (i + line[0], j + line[1]);
        let level = (above / self.up as i64) as i32;
        let other = (above as usize % self.up) * self.across + right as usize % self.across;
        let one = seen[at];
        let two = seen[other].map(|mut seen| {
            seen.spot.level += level;
            seen
        });
        let strand = |seen: Option<Seen>| seen.map(|seen| field.strands.strand(seen.spot));
        if strand(one) == strand(two) {
            return 0.5;
        }
        let (mut one, mut two) = (one, two);
        root(|part| {
            let ray = self.ray(field, [i as f64, j as f64], line, part);
            lead(&field.strands, &ray, &mut one, &mut two)
        })
    }

    fn ray(&self, field: &Field, at: [f64; 2], line: [i64; 2], part: f64) -> Ray {
        let [i, j] = [0, 1].map(|d: usize| at[d] + part * line[d] as f64);
        let up = j / self.up as f64;
        let share = i / self.across as f64 + field.turn * up;
        field.round.ray(share, field.strands.lift * up)
    }
}

/// How far one strand lies above another on a ray, no farther than it reaches across the
/// ray, so that it falls through nothing also where the one ends and something far below
/// begins. Each is sought from where it was met last.
fn lead(strands: &Strands, ray: &Ray, one: &mut Option<Seen>, two: &mut Option<Seen>) -> f64 {
    let met = |seen: &mut Option<Seen>| {
        let (spot, along) = seen.map(|seen| (seen.spot, seen.hit.along))?;
        let met = strands.follow(ray, spot, along);
        *seen = met.ok().or(*seen);
        Some(met)
    };
    // From halves of chords to mm.
    let reach = |within: f64| within / strands.diameter;
    let first = match met(one) {
        Some(Ok(met)) => met.hit,
        Some(Err(missed)) => return reach(missed),
        None => {
            return match met(two) {
                Some(Ok(met)) => -reach(met.hit.within),
                Some(Err(missed)) => -reach(missed),
                None => 0.0,
            };
        }
    };
    let Some(Ok(second)) = met(two) else {
        return reach(first.within);
    };
    let above = first.depth - second.hit.depth;
    above.clamp(-reach(second.hit.within), reach(first.within))
}

/// Where a falling function passes nothing between 0 and 1: by secants through the last two
/// places (Dekker's rule), by halving where these lead out or are slow. Where it jumps, from
/// below it is led to the jump, which is then looked over.
fn root(mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    let mut last = [(low, value(low)), (high, value(high))];
    let mut narrowed = (0, 1.0);
    for step in 0..HALVINGS {
        let width = high - low;
        if width < EXACT {
            break;
        }
        if width < 0.5 * narrowed.1 {
            narrowed = (step, width);
        }
        let [(a, from), (b, to)] = last;
        let straight = (a * to - b * from) / (to - from);
        let is_sound = low < straight && straight < high && step - narrowed.0 < SLOW;
        let at = if is_sound {
            straight
        } else {
            0.5 * (low + high)
        };
        let mut here = (at, value(at));
        if here.1.abs() < FLAT {
            let other = at + EXACT * here.1.signum();
            let there = (other, value(other));
            if !(low..high).contains(&other) || (there.1 > 0.0) != (here.1 > 0.0) {
                return at;
            }
            here = there;
        }
        if here.1 > 0.0 {
            low = here.0;
        } else {
            high = here.0;
        }
        last = [last[1], here];
    }
    0.5 * (low + high)
}
