//! The shortest of several rests of one knot.
//!
//! Tight rings rest in more than one shape: a loop may lie on either side of the
//! rest, at a cost of a per cent or two. So the shortest found is bent out of shape
//! and pulled tight again, and again from there when that came out shorter (Wales
//! and Doye, *J. Phys. Chem. A* 101 (1997) 5111, for clusters of atoms). It is bent by
//! shears `x + b sin(k·x + p)` with `b` square to `k`: they are maps of all space, one
//! to one however large, so that the knot stays what it is. Straight edges do not bend
//! with them; so they are gone in steps too short for an edge to meet another.
//!
//! That no shorter rest is left is not proved: none was found in so many trials.

use std::f64::consts::TAU;

use super::polygons::{Joined, Polygons};
use crate::mechanics::segments::{Vector, cross, dot, norm};
use crate::mechanics::tubes::{Shape, Tubes};

/// Trials without a shorter rest after which it is left at that. Tried on the 35
/// knots of up to 8 crossings: after 16 four were more than half a per cent longer
/// than the shortest known, after 40 none or one, by the braid that they were given as.
const PATIENCE: usize = 48;

/// Nodes of rings times trials without a shorter rest.
const MOST_WORK: usize = 40_000;

/// Shears of one trial.
const SHEARS: usize = 3;

/// Wave number, in waves over the extent of the rings.
const WAVES: [f64; 2] = [0.5, 2.0];

/// Largest way of a shear, as a share of the extent.
const WAY: [f64; 2] = [0.5, 1.5];

/// Nodes for each corner of what is bent.
const NODES_A_CORNER: usize = 2;

/// Steps of a shear at most, and the share of the free way of one: half would do.
const MOST_STEPS: usize = 100;
/// See [`MOST_STEPS`].
const FREE_SHARE: f64 = 0.45;

/// How much longer than the shortest a rest may be from which the next trial begins,
/// relative.
const NEAR: f64 = 0.03;

/// Shortest step worth taking, as a share of the shear.
const LEAST_STEP: f64 = 1e-3;

/// Gain below which two rests are the same, relative.
const SAME: f64 = 3e-4;

/// Rings at rest, and what they cost.
#[derive(Debug, Clone)]
pub(super) struct Rest {
    pub tubes: Tubes,
    pub shape: Shape,
    /// Energy of the cell at the same stiffness and spacing for all rests.
    pub energy: f64,
}

impl Rest {
    fn is_shorter_than(&self, other: &Self) -> bool {
        self.energy < (1.0 - SAME) * other.energy
    }

    /// The polygons through every other node or so.
    fn polygons(&self, radius: &[f64]) -> Polygons {
        let rings = self.shape.points.chunks(self.tubes.nodes);
        let corners = |ring: &[Vector]| ring.iter().copied().step_by(NODES_A_CORNER).collect();
        Polygons {
            points: rings.map(corners).collect(),
            radius: radius.to_vec(),
            joined: Joined::Rings,
            weight: 0.0,
        }
    }
}

/// The shortest rest found from `first` on, each trial tightened by `tightened`;
/// `stays` tells whether a rest is still the same knot.
///
/// # Errors
///
/// Those of `tightened`, which hands back nothing where a trial finds no rest.
pub(super) fn shortest<E>(
    first: Rest,
    radius: &[f64],
    tightened: impl Fn(&Polygons) -> Result<Option<Rest>, E>,
    stays: impl Fn(&Rest) -> bool,
) -> Result<Rest, E> {
    let patience = PATIENCE.min(MOST_WORK / first.tubes.count());
    let mut chance = fastrand::Rng::with_seed(1);
    let (mut best, mut last) = (first.clone(), first);
    let mut tried = 0;
    while tried < patience {
        tried += 1;
        let from = if tried % 2 == 0 { &best } else { &last };
        let mut rings = from.polygons(radius);
        for _ in 0..SHEARS {
            Shear::any(rings.extent(), &mut chance).bend(&mut rings);
        }
        let Some(rest) = tightened(&rings)? else {
            continue;
        };
        if rest.is_shorter_than(&best) && stays(&rest) {
            (best, tried) = (rest.clone(), 0);
        }
        let near = rest.energy < (1.0 + NEAR) * best.energy;
        last = if near { rest } else { best.clone() };
    }
    Ok(best)
}

/// `x + b sin(k·x + p)`.
#[derive(Debug)]
struct Shear {
    k: Vector,
    b: Vector,
    phase: f64,
}

impl Shear {
    fn any(extent: f64, chance: &mut fastrand::Rng) -> Self {
        let mut within = |[low, high]: [f64; 2]| low + (high - low) * chance.f64();
        let waves = TAU * within(WAVES) / extent;
        let way = extent * within(WAY);
        let phase = within([0.0, TAU]);
        let k = direction(chance);
        let b = loop {
            let b = cross(k, direction(chance));
            if norm(b) > 0.1 {
                break b.map(|x| x * way / norm(b));
            }
        };
        Self {
            k: k.map(|x| x * waves),
            b,
            phase,
        }
    }

    /// Bends the rings as far as the shear goes, or as many steps allow.
    fn bend(&self, rings: &mut Polygons) {
        let way = norm(self.b);
        let mut left = 1.0;
        for _ in 0..MOST_STEPS {
            let share = (FREE_SHARE * rings.least_way() / way).min(left);
            // Edges about to meet, which a curve would not.
            if share < LEAST_STEP.min(left) {
                return;
            }
            for point in rings.points.iter_mut().flatten() {
                *point = self.moved(*point, share);
            }
            left -= share;
            if left <= 0.0 {
                return;
            }
        }
    }

    /// Every point keeps its `k·x` on the way, so that the way is straight.
    fn moved(&self, point: Vector, share: f64) -> Vector {
        let by = share * (dot(self.k, point) + self.phase).sin();
        [0, 1, 2].map(|axis| point[axis] + by * self.b[axis])
    }
}

/// Any direction, all alike.
fn direction(chance: &mut fastrand::Rng) -> Vector {
    loop {
        let v = [0; 3].map(|_| 2.0 * chance.f64() - 1.0);
        let length = norm(v);
        if length > 0.1 && length < 1.0 {
            return v.map(|x| x / length);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shear_can_be_taken_back() {
        let mut chance = fastrand::Rng::with_seed(7);
        for _ in 0..100 {
            let shear = Shear::any(3.0, &mut chance);
            let back = Shear {
                k: shear.k,
                b: shear.b.map(|x| -x),
                phase: shear.phase,
            };
            let point = [0; 3].map(|_| chance.f64());
            let there = shear.moved(point, 1.0);
            let again = back.moved(there, 1.0);
            let off = [0, 1, 2].map(|i| (again[i] - point[i]).abs());
            assert!(off.iter().all(|x| *x < 1e-12), "{off:?}");
            assert!(norm(shear.b) > 0.5, "it moves: {:?}", shear.b);
        }
    }
}
