//! Rings drawn apart, so that thick tubes fit along them.
//!
//! First corners are left out whose triangle with their neighbours nothing passes
//! through: the move by which Reidemeister (*Knotentheorie*, 1932) defines when
//! two polygons are the same knot. Then the rest is moved downhill in the sum
//! of `|a| |b| R^2 / D^2` over all pairs of edges that do not meet, `D` their
//! distance and `R` their radii together (J. Simon, *J. Knot Theory Ramif.* 3
//! (1994) 299, for equal radii). It does not change with size, and no corner moves
//! so far in one step that its edges could meet any others.
//!
//! This module does not tighten: it stops as soon as a rope of moderate length
//! would do.

use super::polygons::Polygons;
use crate::mechanics::segments::{Nearest, Vector, between, dot, minus, nearest, norm, pierces};

/// Length over diameter of all rings and for each ring below which the polygons are
/// left as they are.
const ROOMY: f64 = 60.0;

/// Least corners of a ring while it is drawn apart.
const CORNERS: usize = 24;

/// Most corners of all rings together in that.
const MOST_CORNERS: usize = 400;

/// Share of the free way that a corner may move; two of them make less than all.
const SAFE_SHARE: f64 = 0.4;

/// Most steps.
const MOST_STEPS: usize = 100;

/// Times corners are left out and the rest drawn apart.
const MOST_ROUNDS: usize = 12;

/// Rings with the same knot and more room.
pub(super) fn loosen(rings: Polygons) -> Polygons {
    let mut best = rings;
    let mut room = roominess(&best);
    for _ in 0..MOST_ROUNDS {
        if room < ROOMY {
            break;
        }
        let next = drawn_apart(simplified(best.clone()));
        let now = roominess(&next);
        let gain = now < 0.95 * room;
        if now < room {
            (best, room) = (next, now);
        }
        if !gain {
            break;
        }
    }
    best
}

fn drawn_apart(mut rings: Polygons) -> Polygons {
    rings.points = refined(&rings.points);
    let mut walk = Walk::at(rings);
    for step in 0..MOST_STEPS {
        let settled = !walk.advance();
        if settled || (step % 10 == 9 && roominess(&walk.rings) < 0.6 * ROOMY) {
            break;
        }
    }
    walk.rings
}

/// Length of a ring, in the mean, over what its tube may measure across.
fn roominess(rings: &Polygons) -> f64 {
    let lengths = rings.lengths();
    let each = lengths
        .iter()
        .zip(&rings.radius)
        .map(|(l, r)| l / (2.0 * r));
    each.sum::<f64>() / rings.clearance() / lengths.len() as f64
}

/// Without the corners that the knot does not need.
fn simplified(mut rings: Polygons) -> Polygons {
    loop {
        let near = 0.4 * rings.clearance();
        let mut dropped = false;
        for ring in 0..rings.points.len() {
            let mut corner = 0;
            while corner < rings.points[ring].len() && rings.points[ring].len() > 5 {
                if is_needless(&rings, ring, corner, near) {
                    rings.points[ring].remove(corner);
                    dropped = true;
                }
                corner += 1;
            }
        }
        if !dropped {
            return rings;
        }
    }
}

fn is_needless(rings: &Polygons, ring: usize, corner: usize, near: f64) -> bool {
    let points = &rings.points[ring];
    let count = points.len();
    let before = (corner + count - 1) % count;
    let triangle = [points[before], points[corner], points[(corner + 1) % count]];
    let short = [triangle[0], triangle[2]];
    let radius = |strand: usize| rings.radius[ring] + rings.radius[strand];
    rings.edges(0).iter().all(|edge| {
        let touches = edge.ends.iter().any(|end| triangle.contains(end));
        if touches {
            let own = edge.number == before || edge.number == corner;
            // A neighbour may lie along the triangle, but not in it.
            return own || !folds_into(edge.ends, triangle);
        }
        !pierces(edge.ends, triangle)
            && norm(nearest(short, edge.ends).way) > near * radius(edge.strand)
    })
}

/// Whether an edge that begins at a corner of the triangle runs into it, or so
/// near its plane that one cannot tell.
fn folds_into(edge: [Vector; 2], triangle: [Vector; 3]) -> bool {
    let [inner, outer] = if triangle.contains(&edge[0]) {
        edge
    } else {
        [edge[1], edge[0]]
    };
    let far = triangle.iter().filter(|corner| **corner != inner);
    let [Some(a), Some(b)] = [far.clone().next(), far.clone().nth(1)] else {
        return true;
    };
    let reach = norm(minus(outer, inner));
    let across = norm(nearest([inner, outer], [*a, *b]).way);
    let tip = (0..=4).map(|i| between(*a, *b, f64::from(i) / 4.0));
    let way = minus(outer, inner);
    let aligned = tip.map(|t| {
        let to = minus(t, inner);
        dot(way, to) / (reach * norm(to)).max(f64::MIN_POSITIVE)
    });
    across < 1e-6 * reach || aligned.fold(-1.0, f64::max) > 0.999
}

/// Longest edges halved until every ring has corners enough.
fn refined(points: &[Vec<Vector>]) -> Vec<Vec<Vector>> {
    let most = MOST_CORNERS / points.len();
    let cut = |ring: &Vec<Vector>| {
        let mut ring = ring.clone();
        let wanted = CORNERS.max(2 * ring.len()).min(most);
        while ring.len() < wanted {
            let count = ring.len();
            let length = |i: &usize| norm(minus(ring[(i + 1) % count], ring[*i]));
            let longest = (0..count)
                .max_by(|a, b| length(a).total_cmp(&length(b)))
                .unwrap_or(0);
            let middle = between(ring[longest], ring[(longest + 1) % count], 0.5);
            ring.insert(longest + 1, middle);
        }
        ring
    };
    points.iter().map(cut).collect()
}

#[derive(Debug)]
struct Walk {
    rings: Polygons,
    look: Look,
    bold: f64,
}

/// Height, slope and room at some shape.
#[derive(Debug, Default)]
struct Look {
    height: f64,
    slope: Vec<Vector>,
    /// Distance from the edges of each corner to the nearest other.
    room: Vec<f64>,
}

impl Look {
    fn at(rings: &Polygons) -> Self {
        let edges = rings.edges(0);
        let mut look = Self {
            height: 0.0,
            slope: vec![[0.0; 3]; edges.len()],
            room: vec![f64::INFINITY; edges.len()],
        };
        let next = followers(rings);
        for first in 0..edges.len() {
            for second in first + 1..edges.len() {
                if next[first] == second || next[second] == first {
                    continue;
                }
                let (a, b) = (&edges[first], &edges[second]);
                let radii = rings.radius[a.strand] + rings.radius[b.strand];
                let near = nearest(a.ends, b.ends);
                look.add(
                    [first, next[first]],
                    [second, next[second]],
                    [a.ends, b.ends],
                    &near,
                    radii,
                );
            }
        }
        look
    }

    fn add(
        &mut self,
        a: [usize; 2],
        b: [usize; 2],
        ends: [[Vector; 2]; 2],
        near: &Nearest,
        radii: f64,
    ) {
        let apart = norm(near.way);
        let ways = ends.map(|[from, to]| minus(to, from));
        let lengths = ways.map(norm);
        let height = lengths[0] * lengths[1] * (radii / apart).powi(2);
        self.height += height;
        for corner in a.into_iter().chain(b) {
            self.room[corner] = self.room[corner].min(apart);
        }
        let push = 2.0 * height / (apart * apart);
        let shares = [1.0 - near.own, near.own, near.other - 1.0, -near.other];
        for (corner, share) in a.into_iter().chain(b).zip(shares) {
            for axis in 0..3 {
                self.slope[corner][axis] += push * share * near.way[axis];
            }
        }
        for (side, corners) in [a, b].into_iter().enumerate() {
            let pull = height / (lengths[side] * lengths[side]);
            for axis in 0..3 {
                self.slope[corners[0]][axis] -= pull * ways[side][axis];
                self.slope[corners[1]][axis] += pull * ways[side][axis];
            }
        }
    }
}

/// Corner after each, of all rings one after the other.
fn followers(rings: &Polygons) -> Vec<usize> {
    let mut next = Vec::new();
    for ring in &rings.points {
        let first = next.len();
        next.extend((0..ring.len()).map(|corner| first + (corner + 1) % ring.len()));
    }
    next
}

impl Walk {
    fn at(rings: Polygons) -> Self {
        let look = Look::at(&rings);
        Self {
            rings,
            look,
            bold: 1.0,
        }
    }

    /// One step down; false when nothing is gained any more.
    fn advance(&mut self) -> bool {
        let way = self.smooth_way();
        let scale = self.scale(&way);
        for _ in 0..12 {
            let next = self.moved(&way, self.bold * scale);
            let look = Look::at(&next);
            if look.height < self.look.height {
                let gain = 1.0 - look.height / self.look.height;
                (self.rings, self.look) = (next, look);
                self.bold = (1.6 * self.bold).min(64.0);
                return gain > 1e-5;
            }
            self.bold *= 0.4;
        }
        false
    }

    /// Slope averaged along the rings, so that stretches move together.
    fn smooth_way(&self) -> Vec<Vector> {
        let next = followers(&self.rings);
        let mut way = self.look.slope.clone();
        for _ in 0..6 {
            let mut sum = way.clone();
            for (corner, &after) in next.iter().enumerate() {
                for axis in 0..3 {
                    sum[corner][axis] += 0.5 * way[after][axis];
                    sum[after][axis] += 0.5 * way[corner][axis];
                }
            }
            way = sum.into_iter().map(|v| v.map(|x| 0.5 * x)).collect();
        }
        way
    }

    /// The multiple at which the first corner uses up its room.
    fn scale(&self, way: &[Vector]) -> f64 {
        let least = way
            .iter()
            .zip(&self.look.room)
            .map(|(v, room)| room / norm(*v));
        SAFE_SHARE * least.fold(f64::INFINITY, f64::min)
    }

    fn moved(&self, way: &[Vector], by: f64) -> Polygons {
        let mut rings = self.rings.clone();
        let corners = rings.points.iter_mut().flatten();
        for ((point, v), room) in corners.zip(way).zip(&self.look.room) {
            let far = by * norm(*v);
            let cut = (SAFE_SHARE * room / far.max(f64::MIN_POSITIVE)).min(1.0);
            for axis in 0..3 {
                point[axis] -= cut * by * v[axis];
            }
        }
        rings
    }
}

#[cfg(test)]
mod tests {
    use super::super::polygons::Joined;
    use super::*;
    use crate::mechanics::{Crossings, linking};

    fn tangle(rings: usize, corners: usize, dice: &mut fastrand::Rng) -> Polygons {
        let mut ring = || {
            let corner = |_| std::array::from_fn(|_| dice.f64());
            (0..corners).map(corner).collect()
        };
        Polygons {
            points: (0..rings).map(|_| ring()).collect(),
            radius: (1..=rings).map(|ring| 0.1 * ring as f64).collect(),
            joined: Joined::Rings,
            weight: 0.0,
        }
    }

    fn tied(rings: &Polygons) -> impl PartialEq + std::fmt::Debug {
        let (tubes, shape) = rings.laid(rings.corners());
        let knotting = Crossings::seen(&tubes, &shape).knotting();
        (linking(&tubes, &shape), knotting)
    }

    #[test]
    fn random_tangles_stay_tied_as_they_are_and_get_more_room() {
        let mut dice = fastrand::Rng::with_seed(11);
        for number in 0..40 {
            let given = tangle(1 + number % 3, 6 + number % 17, &mut dice);
            let before = roominess(&given);
            let loose = loosen(given.clone());
            let after = roominess(&loose);
            assert_eq!(tied(&given), tied(&loose), "tangle {number}");
            assert!(after < 0.5 * before || after < ROOMY, "{before} to {after}");
        }
    }

    #[test]
    fn the_slope_is_the_difference_of_heights() {
        let mut dice = fastrand::Rng::with_seed(12);
        let rings = tangle(2, 7, &mut dice);
        let slope = Look::at(&rings).slope;
        let steepest = slope.iter().map(|v| norm(*v)).fold(0.0, f64::max);
        for corner in 0..14 {
            for axis in 0..3 {
                let height = |by: f64| {
                    let mut moved = rings.clone();
                    moved.points[corner / 7][corner % 7][axis] += by;
                    Look::at(&moved).height
                };
                let difference = (height(1e-7) - height(-1e-7)) / 2e-7;
                let error = (difference - slope[corner][axis]).abs();
                assert!(error < 1e-5 * steepest, "{difference}");
            }
        }
    }

    /// A stick pulled through a loop: the corner that would free it stays.
    #[test]
    fn a_corner_with_a_strand_through_its_triangle_stays() {
        let square = vec![[0.0; 3], [4.0, 0.0, 0.0], [4.0, 4.0, 0.0], [0.0, 4.0, 0.1]];
        let through = |x: f64| vec![[x, x, -9.0], [x, x, 9.0], [20.0, 21.0, 0.0]];
        let rings = |x: f64| Polygons {
            points: vec![square.clone(), through(x)],
            radius: vec![0.1; 2],
            joined: Joined::Rings,
            weight: 0.0,
        };
        assert!(!is_needless(&rings(3.0), 0, 2, 0.0));
        assert!(is_needless(&rings(1.0), 0, 2, 0.0));
    }
}
