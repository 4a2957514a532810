//! Curves cut into straight pieces, ready to be looked at.
//!
//! Endless strands are cut at every rise of the cell, and each piece is brought
//! back to the own cell; straight pieces stay straight.

use super::crossings::{Event, Line};
use super::residue::scatter;
use crate::mechanics::layout::{Layout, cycles_of};
use crate::mechanics::tubes::{Shape, Tubes, screwed};

/// Direction one looks from: none that anything laid out evenly would have.
const ASKEW: f64 = 0.61;
/// How much further over closed curves are tipped, so that no plane one is seen
/// edge on, radians.
const TIPPED: f64 = 0.63;
/// Where endless strands are cut, as a share of the cell. Without meaning.
const CUT: f64 = 0.2371;
/// How far nodes are moved, as a share of the whole.
const NOISE: f64 = 1e-9;

/// One curve: a strand cycle, or a closed strand.
#[derive(Debug, Clone)]
pub(super) struct Curve {
    /// Straight ways, one after another, the last one leading to the first.
    ways: Vec<Way>,
    /// Cells until an endless curve is back in its place; 0 if closed.
    cells: i64,
}

/// A straight way between two cuts, and which rise of the cell it was brought
/// back from.
#[derive(Debug, Clone, Copy)]
struct Way {
    from: [f64; 3],
    to: [f64; 3],
    window: i64,
}

impl Way {
    fn rises(&self) -> bool {
        self.to[2] > self.from[2]
    }

    /// Its ends, the lower one first.
    fn upwards(&self) -> [[f64; 3]; 2] {
        if self.rises() {
            [self.from, self.to]
        } else {
            [self.to, self.from]
        }
    }
}

/// A straight piece of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    /// Its ends, the lower one first.
    ends: [[f64; 3]; 2],
    line: usize,
    number: usize,
    next: usize,
}

impl Piece {
    pub(super) fn low(&self) -> f64 {
        self.ends[0][2]
    }

    pub(super) fn high(&self) -> f64 {
        self.ends[1][2]
    }

    /// Whether one goes on in the other.
    pub(super) fn is_next_to(&self, other: &Self) -> bool {
        self.next == other.number || other.next == self.number
    }

    /// Where and how the two cross as seen along y.
    pub(super) fn crossing(&self, other: &Self) -> Option<(f64, Event)> {
        let ([a, b], [c, d]) = (self.ends, other.ends);
        if a[0].max(b[0]) < c[0].min(d[0]) || c[0].max(d[0]) < a[0].min(b[0]) {
            return None;
        }
        let (ax, az) = (b[0] - a[0], b[2] - a[2]);
        let (cx, cz) = (d[0] - c[0], d[2] - c[2]);
        let (ex, ez) = (c[0] - a[0], c[2] - a[2]);
        let angle = ax * cz - az * cx;
        let (s, t) = ((ex * cz - ez * cx) / angle, (ex * az - ez * ax) / angle);
        if !((0.0..1.0).contains(&s) && (0.0..1.0).contains(&t)) {
            return None;
        }
        let own_in_front = a[1] + s * (b[1] - a[1]) < c[1] + t * (d[1] - c[1]);
        let (front, back) = if own_in_front {
            (self.line, other.line)
        } else {
            (other.line, self.line)
        };
        let right = (angle > 0.0) == own_in_front;
        Some((a[2] + s * az, Event::Cross { front, back, right }))
    }
}

/// Curves as lines.
#[derive(Debug, Default)]
pub(super) struct Runs {
    pub(super) lines: Vec<Line>,
    pub(super) pieces: Vec<Piece>,
    /// Lowest and highest places with their heights.
    pub(super) turns: Vec<(f64, Event)>,
    pub(super) joins: Vec<Join>,
}

/// Where a curve passes from one rise of the cell to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Join {
    pub(super) above: usize,
    pub(super) below: usize,
    /// Where, in the upper cut.
    pub(super) at: [f64; 3],
}

/// Strand cycles, cut at every rise.
pub(super) fn pieces_of_endless(tubes: &Tubes, shape: &Shape) -> Vec<Curve> {
    let seen = Shape {
        points: in_sight(shape),
        ..shape.clone()
    };
    let layout = Layout::new(tubes);
    let cut = seen.points[0][2] + CUT * shape.lift;
    let window = |z: f64| ((z - cut) / shape.lift).floor() as i64;
    let curve = |cycle: &Vec<usize>| {
        let mut ways = Vec::new();
        for (level, &strand) in cycle.iter().enumerate() {
            for node in strand * tubes.nodes..(strand + 1) * tubes.nodes {
                let (from, to) = (seen.points[node], layout.seen(&seen, layout.next[node]));
                let rises = Rises {
                    cut,
                    from: window(from[2]),
                    to: window(to[2]),
                };
                ways.extend(rises.cut_up(from, to, shape, level as i64));
            }
        }
        Curve {
            ways,
            cells: cycle.len() as i64,
        }
    };
    tubes.cycles().iter().map(curve).collect()
}

/// The rises of the cell that a straight way passes.
struct Rises {
    cut: f64,
    from: i64,
    to: i64,
}

impl Rises {
    fn cut_up(
        self,
        from: [f64; 3],
        to: [f64; 3],
        shape: &Shape,
        level: i64,
    ) -> impl Iterator<Item = Way> {
        let step = (self.to - self.from).signum();
        let count = (self.to - self.from).abs();
        let at_cut = move |window: i64| {
            let edge = window.max(window + step) as f64 * shape.lift + self.cut;
            let part = (edge - from[2]) / (to[2] - from[2]);
            let between = |d: usize| from[d] + part * (to[d] - from[d]);
            [between(0), between(1), edge]
        };
        (0..=count).map(move |passed| {
            let window = self.from + step * passed;
            let begin = if passed == 0 {
                from
            } else {
                at_cut(window - step)
            };
            let end = if passed == count { to } else { at_cut(window) };
            let back = -window as f64;
            let own = |p: [f64; 3]| screwed(p, back * shape.lift, back * shape.turn);
            Way {
                from: own(begin),
                to: own(end),
                window: level + window,
            }
        })
    }
}

/// Closed strands: the pieces each runs through, cell by cell.
///
/// Piece `i` of cell `c` has the number `c * strands + i`.
pub(super) fn closed_curves(tubes: &Tubes, cells: usize) -> Vec<Vec<usize>> {
    let go_on: Vec<usize> = (0..cells * tubes.strands)
        .map(|at| {
            let (cell, strand) = (at / tubes.strands, at % tubes.strands);
            (cell + 1) % cells * tubes.strands + tubes.continues[strand]
        })
        .collect();
    cycles_of(&go_on)
}

/// Closed strands, tipped over.
pub(super) fn pieces_of_closed(tubes: &Tubes, shape: &Shape, cells: usize) -> Vec<Curve> {
    let points = in_sight(shape);
    let place = |strand: usize, cell: usize, node: usize| {
        let point = points[strand * tubes.nodes + node];
        let [x, y, z] = screwed(point, 0.0, shape.turn * cell as f64);
        let [y, z, _] = screwed([y, z, 0.0], 0.0, TIPPED);
        [x, y, z]
    };
    let curve = |cycle: &Vec<usize>| {
        let nodes = cycle.iter().flat_map(|&at| {
            let (cell, strand) = (at / tubes.strands, at % tubes.strands);
            (0..tubes.nodes).map(move |node| place(strand, cell, node))
        });
        let nodes: Vec<[f64; 3]> = nodes.collect();
        let way = |at: usize| Way {
            from: nodes[at],
            to: nodes[(at + 1) % nodes.len()],
            window: 0,
        };
        Curve {
            ways: (0..nodes.len()).map(way).collect(),
            cells: 0,
        }
    };
    closed_curves(tubes, cells).iter().map(curve).collect()
}

/// The nodes as looked at, each moved by next to nothing.
fn in_sight(shape: &Shape) -> Vec<[f64; 3]> {
    let size = shape
        .points
        .iter()
        .flatten()
        .fold(0.0_f64, |s, x| s.max(x.abs()));
    let noise = |number: usize| {
        let part = scatter(number as u64) as f64 / u64::MAX as f64;
        NOISE * size * (2.0 * part - 1.0)
    };
    let moved = |(node, &point): (usize, &[f64; 3])| {
        let [x, y, z] = screwed(point, 0.0, ASKEW);
        [
            x + noise(3 * node),
            y + noise(3 * node + 1),
            z + noise(3 * node + 2),
        ]
    };
    shape.points.iter().enumerate().map(moved).collect()
}

/// All lines of the curves, with what joins them.
pub(super) fn runs(curves: &[Curve]) -> Runs {
    let mut runs = Runs::default();
    for (cycle, curve) in curves.iter().enumerate() {
        runs.add(cycle, curve);
    }
    runs
}

impl Curve {
    /// Cells until it is back in its place; 1 if closed.
    pub(super) fn cells(&self) -> i64 {
        self.cells.max(1)
    }

    /// Where a new line begins: ways before which the curve turns or is cut.
    fn breaks(&self) -> Vec<usize> {
        let count = self.ways.len();
        let is_break = |&at: &usize| {
            let (before, way) = (&self.ways[(at + count - 1) % count], &self.ways[at]);
            let round = if at == 0 { self.cells } else { 0 };
            before.window != way.window + round || before.rises() != way.rises()
        };
        (0..count).filter(is_break).collect()
    }
}

impl Runs {
    fn add(&mut self, cycle: usize, curve: &Curve) {
        let (count, breaks) = (curve.ways.len(), curve.breaks());
        let (first_line, first_piece) = (self.lines.len(), self.pieces.len());
        for (number, &begin) in breaks.iter().enumerate() {
            let next = (number + 1) % breaks.len();
            let length = (breaks[next] + count - begin - 1) % count + 1;
            let way = curve.ways[begin];
            self.lines.push(Line {
                cycle,
                copy: way.window.rem_euclid(curve.cells()),
                rises: way.rises(),
            });
            let line = first_line + number;
            for at in (begin..begin + length).map(|at| at % count) {
                self.pieces.push(Piece {
                    ends: curve.ways[at].upwards(),
                    line,
                    number: first_piece + at,
                    next: first_piece + (at + 1) % count,
                });
            }
            let last = curve.ways[(begin + length - 1) % count];
            self.join(
                (&last, line),
                (&curve.ways[breaks[next]], first_line + next),
            );
        }
    }

    fn join(&mut self, (before, line): (&Way, usize), (after, next): (&Way, usize)) {
        match (before.rises(), after.rises()) {
            (true, false) => self.turns.push((before.to[2], Event::End(line, next))),
            (false, true) => self.turns.push((before.to[2], Event::Begin(line, next))),
            (true, true) => self.joins.push(Join {
                above: line,
                below: next,
                at: before.to,
            }),
            (false, false) => self.joins.push(Join {
                above: next,
                below: line,
                at: after.from,
            }),
        }
    }
}
