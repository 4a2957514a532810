//! Strands given as polygons, of any size and shape, checked and measured.
//!
//! Only what is tied to what is taken from a polygon: `laying` then makes room
//! for the tubes.
//!
//! This module does not know what unit its lengths are in, nor how tight the
//! strands will lie.

use crate::mechanics::segments::{Nearest, Vector, between, cross, dot, minus, nearest, norm};
use crate::mechanics::tubes::{Hold, screwed};

/// Most points of all polygons together: every pair of edges is looked at.
const MOST_POINTS: usize = 10_000;

/// Most strands.
const MOST_STRANDS: usize = 64;

/// Most turn of a cell, radians, and most cells that its strands reach through: the
/// time to read crossings grows with both. Our guess, far beyond anything tight.
const MOST_TURN: f64 = 1e3;
/// See [`MOST_TURN`].
const MOST_CELLS: f64 = 1e3;

/// Largest ratio of two radii.
const MOST_RATIO: f64 = 100.0;

/// Edges nearer than this share of the whole extent count as meeting.
const MEETING: f64 = 1e-9;

/// Cells above and below in which neighbours are sought.
const LEVELS: usize = 6;

/// Chord over arc below which two places of one strand are neighbours across, not
/// along: a circle bent as tight as a tube allows comes back at 2/pi.
const ACROSS: f64 = 0.62;

/// How the polygons join.
#[derive(Debug, Clone, PartialEq)]
pub enum Joined {
    /// Every polygon closes on itself.
    Rings,
    /// Every polygon leads on into the beginning of the next, lifted and turned;
    /// its last point is that beginning.
    Screw {
        /// Strand in which each runs on.
        next: Vec<usize>,
        /// Rise of the cell.
        lift: f64,
        /// Whether it is found or stays.
        lift_hold: Hold,
        /// Turn of the cell, radians.
        turn: f64,
        /// Whether it is found or stays.
        turn_hold: Hold,
    },
}

/// Tubes given by the polygons in their middle.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygons {
    /// Corners of each strand.
    pub points: Vec<Vec<[f64; 3]>>,
    /// Radius of each strand, in the same unit.
    pub radius: Vec<f64>,
    /// How they join.
    pub joined: Joined,
    /// Pull along the axis, in pulls of one strand.
    pub weight: f64,
}

/// Why polygons cannot be tightened. Strands and points count from 1.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PolygonError {
    /// Something about one strand.
    #[error("strand {strand} {what}")]
    Strand {
        /// The strand.
        strand: usize,
        /// What is wrong.
        what: &'static str,
    },
    /// Something about the whole.
    #[error("{0}")]
    Whole(&'static str),
    /// Edges that meet.
    #[error("strand {strand} meets strand {other} at {at:.6?}: it is not said which passes over")]
    Meeting {
        /// One strand.
        strand: usize,
        /// The other, or the same.
        other: usize,
        /// Where.
        at: [f64; 3],
    },
}

/// One edge of a polygon, seen in some cell.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub strand: usize,
    pub number: usize,
    pub level: usize,
    pub ends: [Vector; 2],
    /// Length of strand before it.
    pub before: f64,
}

impl Edge {
    /// Its middle and half its length.
    fn ball(&self) -> (Vector, f64) {
        let [a, b] = self.ends;
        (between(a, b, 0.5), 0.5 * norm(minus(b, a)))
    }
}

impl Polygons {
    /// The same, without points given twice in a row, and checked.
    ///
    /// # Errors
    ///
    /// [`PolygonError`] says which strand is at fault and how.
    pub fn checked(mut self) -> Result<Self, PolygonError> {
        self.check_numbers()?;
        self.drop_doubles();
        for (strand, points) in self.points.iter().enumerate() {
            let fewest = if self.is_rings() { 3 } else { 2 };
            if points.len() < fewest {
                let what = "has too few different points";
                return Err(PolygonError::Strand {
                    strand: strand + 1,
                    what,
                });
            }
        }
        self.check_meetings()?;
        Ok(self)
    }

    pub(super) fn is_rings(&self) -> bool {
        self.joined == Joined::Rings
    }

    fn check_numbers(&self) -> Result<(), PolygonError> {
        let whole = |what| Err(PolygonError::Whole(what));
        if self.points.is_empty() || self.points.len() != self.radius.len() {
            return whole("there are no strands");
        }
        if self.points.len() > MOST_STRANDS {
            return whole("there are more than 64 strands");
        }
        if self.points.iter().map(Vec::len).sum::<usize>() > MOST_POINTS {
            return whole("there are more than 10000 points; every third or tenth will do");
        }
        for (number, (points, &radius)) in self.points.iter().zip(&self.radius).enumerate() {
            let strand = number + 1;
            let bad = |what| Err(PolygonError::Strand { strand, what });
            if !(radius.is_finite() && radius > 0.0) {
                return bad("has a radius that is not above zero");
            }
            // Squares of lengths must stay numbers.
            if points
                .iter()
                .flatten()
                .any(|x| x.is_nan() || x.abs() > 1e100)
            {
                return bad("has a point that is no place");
            }
        }
        let (thin, thick) = self.radii();
        if thick > MOST_RATIO * thin {
            return whole("one strand is more than a hundred times as thick as another");
        }
        if !self.weight.is_finite() || self.weight.abs() > 1e3 {
            return whole("the weight is not between -1000 and 1000 strand pulls");
        }
        self.check_screw()
    }

    fn check_screw(&self) -> Result<(), PolygonError> {
        let Joined::Screw {
            next, lift, turn, ..
        } = &self.joined
        else {
            return match self.weight {
                0.0 => Ok(()),
                _ => Err(PolygonError::Whole("closed strands cannot carry a weight")),
            };
        };
        let mut met = vec![false; self.points.len()];
        let is_new = |&to: &usize| to < met.len() && !std::mem::replace(&mut met[to], true);
        if next.len() != self.points.len() || !next.iter().all(is_new) {
            return Err(PolygonError::Whole(
                "\"next\" does not name every strand once, counted from 0",
            ));
        }
        if self.weight >= self.points.len() as f64 {
            return Err(PolygonError::Whole(
                "the weight is not less than the pulls of all strands together: nothing would rest",
            ));
        }
        if !(lift.is_finite() && *lift > 0.0 && turn.is_finite()) {
            return Err(PolygonError::Whole("the strands do not rise along z"));
        }
        if turn.abs() > MOST_TURN || self.extent() > MOST_CELLS * lift {
            return Err(PolygonError::Whole(
                "the cell turns more than a thousand radians, or its strands reach through more than a thousand cells",
            ));
        }
        Ok(())
    }

    /// Thinnest and thickest radius.
    pub(super) fn radii(&self) -> (f64, f64) {
        let thin = self.radius.iter().fold(f64::INFINITY, |a, &b| a.min(b));
        (thin, self.radius.iter().fold(0.0, |a, &b| a.max(b)))
    }

    /// Largest difference of two coordinates.
    pub(super) fn extent(&self) -> f64 {
        let along = |axis: usize| {
            let all = self.points.iter().flatten().map(|p| p[axis]);
            let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| {
                (l.min(x), h.max(x))
            });
            high - low
        };
        along(0).max(along(1)).max(along(2))
    }

    fn drop_doubles(&mut self) {
        let near = MEETING * self.extent();
        let rings = self.is_rings();
        for points in &mut self.points {
            points.dedup_by(|b, a| norm(minus(*a, *b)) <= near);
            while rings && points.len() > 1 {
                let last = points[points.len() - 1];
                if norm(minus(points[0], last)) > near {
                    break;
                }
                points.pop();
            }
        }
    }

    /// Edges of the cell, and of cells above it.
    pub(super) fn edges(&self, levels: usize) -> Vec<Edge> {
        let (lift, turn) = match self.joined {
            Joined::Rings => (0.0, 0.0),
            Joined::Screw { lift, turn, .. } => (lift, turn),
        };
        let mut edges = Vec::new();
        for level in 0..=levels {
            let up = level as f64;
            let seen = |p: Vector| screwed(p, up * lift, up * turn);
            for (strand, points) in self.points.iter().enumerate() {
                let count = points.len();
                let steps = if self.is_rings() { count } else { count - 1 };
                let mut before = 0.0;
                for number in 0..steps {
                    let ends = [seen(points[number]), seen(points[(number + 1) % count])];
                    edges.push(Edge {
                        strand,
                        number,
                        level,
                        ends,
                        before,
                    });
                    before += norm(minus(ends[1], ends[0]));
                }
            }
        }
        edges
    }

    /// Length of every strand.
    pub(super) fn lengths(&self) -> Vec<f64> {
        let mut lengths = vec![0.0; self.points.len()];
        for edge in self.edges(0) {
            lengths[edge.strand] += norm(minus(edge.ends[1], edge.ends[0]));
        }
        lengths
    }

    fn levels(&self) -> usize {
        if self.is_rings() { 0 } else { LEVELS }
    }

    /// Length of strand between the middles of two edges, if one leads to the other.
    fn arc(&self, own: &Edge, other: &Edge, lengths: &[f64]) -> Option<f64> {
        let middle = |e: &Edge| e.before + 0.5 * norm(minus(e.ends[1], e.ends[0]));
        let Joined::Screw { next, .. } = &self.joined else {
            let way = (middle(own) - middle(other)).abs();
            let same = own.strand == other.strand;
            return same.then(|| way.min(lengths[own.strand] - way));
        };
        let (mut strand, mut gone) = (own.strand, 0.0);
        for _ in 0..other.level {
            gone += lengths[strand];
            strand = next[strand];
        }
        (strand == other.strand).then(|| (gone + middle(other) - middle(own)).abs())
    }

    /// Shows two edges that do not follow one another, and where they are nearest:
    /// all that may lie within the reach that is handed back, infinite at first.
    fn for_pairs(&self, mut show: impl FnMut(&Edge, &Edge, &Nearest) -> f64) {
        let edges = self.edges(self.levels());
        let balls: Vec<(Vector, f64)> = edges.iter().map(Edge::ball).collect();
        let own = edges.iter().filter(|edge| edge.level == 0).count();
        let mut reach = f64::INFINITY;
        for first in 0..own {
            for second in first + 1..edges.len() {
                let ((p, far), (q, other)) = (balls[first], balls[second]);
                if norm(minus(q, p)) - far - other > reach {
                    continue;
                }
                let (a, b) = (&edges[first], &edges[second]);
                let joined = a.ends[1] == b.ends[0] || a.ends[0] == b.ends[1];
                if !joined && !self.follows(a, b) {
                    reach = show(a, b, &nearest(a.ends, b.ends));
                }
            }
        }
    }

    /// Whether `b`, one cell up, begins where `a` ends.
    fn follows(&self, a: &Edge, b: &Edge) -> bool {
        let Joined::Screw { next, .. } = &self.joined else {
            return false;
        };
        let last = a.number + 2 == self.points[a.strand].len();
        last && b.level == 1 && b.number == 0 && next[a.strand] == b.strand
    }

    fn check_meetings(&self) -> Result<(), PolygonError> {
        let near = MEETING * self.extent();
        let mut found = None;
        self.for_pairs(|a, b, nearest| {
            if found.is_none() && norm(nearest.way) <= near {
                found = Some(PolygonError::Meeting {
                    strand: a.strand + 1,
                    other: b.strand + 1,
                    at: between(a.ends[0], a.ends[1], nearest.own),
                });
            }
            near
        });
        found.map_or_else(|| self.check_folds(), Err)
    }

    /// An edge that runs straight back over the last one.
    fn check_folds(&self) -> Result<(), PolygonError> {
        let edges = self.edges(0);
        for pair in edges.windows(2) {
            let [a, b] = [0, 1].map(|i| minus(pair[i].ends[1], pair[i].ends[0]));
            let folded = norm(cross(a, b)) <= MEETING * norm(a) * norm(b);
            if pair[0].strand == pair[1].strand && folded && dot(a, b) < 0.0 {
                return Err(PolygonError::Strand {
                    strand: pair[0].strand + 1,
                    what: "runs straight back on itself at a corner",
                });
            }
        }
        Ok(())
    }

    /// Least distance of two edges that do not follow one another. As long as no corner
    /// moves by half of it, none can pass through another.
    pub(super) fn least_way(&self) -> f64 {
        let mut least = f64::INFINITY;
        self.for_pairs(|_, _, nearest| {
            least = least.min(norm(nearest.way));
            least
        });
        least
    }

    /// Least distance of two places across, over the sum of their radii.
    pub(super) fn clearance(&self) -> f64 {
        let lengths = self.lengths();
        let (_, thick) = self.radii();
        let mut least = f64::INFINITY;
        self.for_pairs(|a, b, nearest| {
            let apart = norm(nearest.way);
            let along = self
                .arc(a, b, &lengths)
                .is_some_and(|arc| apart > ACROSS * arc);
            if !along {
                least = least.min(apart / (self.radius[a.strand] + self.radius[b.strand]));
            }
            2.0 * thick * least
        });
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::Hold;

    #[test]
    fn a_cell_that_turns_or_reaches_beyond_measure_is_refused() {
        let checked = |lift: f64, turn: f64| {
            let polygons = Polygons {
                points: vec![vec![[0.0; 3], [0.5, 0.0, 0.5], [0.0, 0.0, 1.0]]],
                radius: vec![0.1],
                joined: Joined::Screw {
                    next: vec![0],
                    lift,
                    turn,
                    lift_hold: Hold::Held,
                    turn_hold: Hold::Held,
                },
                weight: 0.0,
            };
            polygons.checked().map(|_| ())
        };
        assert_eq!(checked(1.0, 0.0), Ok(()));
        for (lift, turn) in [(1.0, 1e9), (1.0, -2e3), (1e-6, 0.0)] {
            let found = checked(lift, turn);
            assert!(matches!(found, Err(PolygonError::Whole(_))), "{found:?}");
        }
    }

    fn ring(points: &[Vector]) -> Polygons {
        Polygons {
            points: vec![points.to_vec()],
            radius: vec![0.5],
            joined: Joined::Rings,
            weight: 0.0,
        }
    }

    const SQUARE: [Vector; 4] = [
        [0.0, 0.0, 0.0],
        [2.0, 0.0, 0.0],
        [2.0, 2.0, 1.0],
        [0.0, 2.0, 0.0],
    ];

    fn said(polygons: Polygons) -> String {
        polygons
            .checked()
            .map_or_else(|e| e.to_string(), |_| "sound".to_owned())
    }

    #[test]
    fn each_fault_of_a_polygon_has_its_sentence() {
        assert_eq!(said(ring(&SQUARE)), "sound");
        let [a, b, _, d] = SQUARE;
        assert!(said(ring(&[a, b, a, b])).contains("meets"));
        assert!(said(ring(&[a, a, b, b])).contains("too few"));
        assert!(said(ring(&[a, b, [0.5, 0.0, 0.0]])).contains("back"));
        assert!(said(ring(&[a, b, [f64::NAN, 0.0, 0.0], d])).contains("no place"));
        let thick = Polygons {
            radius: vec![f64::INFINITY],
            ..ring(&SQUARE)
        };
        assert!(said(thick).contains("radius"));
        let heavy = Polygons {
            weight: 1.0,
            ..ring(&SQUARE)
        };
        assert!(said(heavy).contains("weight"));
        let crowd = Polygons {
            points: vec![SQUARE.to_vec(); 65],
            radius: vec![1.0; 65],
            ..ring(&SQUARE)
        };
        assert!(said(crowd).contains("64"));
    }
}
