//! Connected parts of the grid of the whole repeat, and their edges.
//!
//! The whole repeat is so many repeats of the grid, each with the strands that have come
//! there. A part's edge is followed from triangle to triangle with the part on its left,
//! in unwrapped grid coordinates.

use super::grid::{Grid, LINES};

/// A line of the grid of the whole repeat: three times its place, and which; twice that, and
/// which of its ends is meant, is a *side*: the edge as the part at that end has it.
type Line = usize;

/// The grid of the whole repeat.
#[derive(Debug)]
pub(super) struct Parts<'a> {
    grid: &'a Grid,
    /// Rows in all.
    pub(super) rows: usize,
    /// Part of each place.
    pub(super) part: Vec<usize>,
    /// Strand of each part, none in gaps.
    pub(super) strand: Vec<Option<usize>>,
}

/// Where an edge goes on from a side: over which line, and in which triangle.
#[derive(Debug, Clone, Copy)]
struct Step {
    /// [`NO_LINE`] where no edge is.
    line: u32,
    triangle: u32,
    /// Three parts meet in the triangle.
    is_joint: bool,
}

/// Stands for no line.
const NO_LINE: u32 = u32::MAX;

/// A place of an edge, in unwrapped grid coordinates.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    pub(super) at: [f64; 2],
    /// The side, and the whole rounds and repeats that it lies from its own place.
    pub(super) side: Option<(usize, [i64; 2])>,
}

/// An edge all along.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub(super) part: usize,
    pub(super) corners: Vec<Corner>,
    /// Rounds and repeats from its beginning to its end.
    pub(super) winds: [i64; 2],
}

/// Corners of the two triangles of a place, anticlockwise, as steps right and up.
const TRIANGLES: [[[i64; 2]; 3]; 2] = [[[0, 0], [1, 0], [1, 1]], [[0, 0], [1, 1], [0, 1]]];

impl<'a> Parts<'a> {
    /// So many repeats of a grid; a strand that lies in piece `i` of one lies in the next
    /// where `comes_from[i]` lay.
    pub(super) fn new(grid: &'a Grid, comes_from: &[usize], repeats: usize) -> Self {
        let rows = grid.up * repeats;
        let mut strands: Vec<Option<usize>> = Vec::with_capacity(rows * grid.across);
        let mut now: Vec<usize> = (0..comes_from.len()).collect();
        for _ in 0..repeats {
            strands.extend(grid.strand.iter().map(|s| s.map(|s| now[s])));
            now = now.iter().map(|&s| comes_from[s]).collect();
        }
        let mut parts = Self {
            grid,
            rows,
            part: Vec::new(),
            strand: Vec::new(),
        };
        parts.join(&strands);
        parts
    }

    /// Numbers the connected parts.
    fn join(&mut self, strands: &[Option<usize>]) {
        let mut root: Vec<u32> = (0..strands.len() as u32).collect();
        for at in 0..strands.len() {
            for line in LINES {
                let other = self.beside(at, line);
                if strands[at] == strands[other] {
                    let (a, b) = (find(&mut root, at), find(&mut root, other));
                    root[a.max(b)] = a.min(b) as u32;
                }
            }
        }
        let mut number = vec![usize::MAX; strands.len()];
        self.part = vec![0; strands.len()];
        for at in 0..strands.len() {
            let top = find(&mut root, at);
            if number[top] == usize::MAX {
                number[top] = self.strand.len();
                self.strand.push(strands[at]);
            }
            self.part[at] = number[top];
        }
    }

    fn spread(&self, at: usize) -> [i64; 2] {
        [
            (at % self.grid.across) as i64,
            (at / self.grid.across) as i64,
        ]
    }

    /// The place at the other end of one of a place's lines.
    fn beside(&self, at: usize, [right, up]: [i64; 2]) -> usize {
        let across = self.grid.across;
        let ends_row = right == 1 && (at + 1).is_multiple_of(across);
        let other = at + right as usize - if ends_row { across } else { 0 };
        let above = other + across * up as usize;
        if above < across * self.rows {
            above
        } else {
            above - across * self.rows
        }
    }

    /// The place at some steps from another, and the rounds and repeats it is away.
    fn wrapped(&self, from: [i64; 2], by: [i64; 2]) -> (usize, [i64; 2]) {
        let sizes = [self.grid.across as i64, self.rows as i64];
        let to = [from[0] + by[0], from[1] + by[1]];
        let place = to[0].rem_euclid(sizes[0]) + to[1].rem_euclid(sizes[1]) * sizes[0];
        (
            place as usize,
            [to[0].div_euclid(sizes[0]), to[1].div_euclid(sizes[1])],
        )
    }

    /// Line from corner `k` of a triangle to the next: its number, the step from the
    /// triangle's place to the line's, and whether it is followed from its own place.
    fn line(&self, place: [i64; 2], kind: usize, k: usize) -> (Line, [i64; 2], bool) {
        let (a, b) = (TRIANGLES[kind][k], TRIANGLES[kind][(k + 1) % 3]);
        let ahead = b[0] >= a[0] && b[1] >= a[1];
        let (low, high) = if ahead { (a, b) } else { (b, a) };
        let way = [high[0] - low[0], high[1] - low[1]];
        let which = LINES.iter().position(|&line| line == way).unwrap_or(0);
        (self.wrapped(place, low).0 * 3 + which, low, ahead)
    }

    /// For each side, where the edge goes on.
    fn steps(&self) -> Vec<Step> {
        let none = Step {
            line: NO_LINE,
            triangle: 0,
            is_joint: false,
        };
        let mut steps = vec![none; self.part.len() * 6];
        for at in 0..self.part.len() {
            let around = LINES.map(|by| self.part[self.beside(at, by)]);
            if around == [self.part[at]; 3] {
                continue;
            }
            let place = self.spread(at);
            for kind in 0..2 {
                let parts = [self.part[at], around[[0, 2][kind]], around[[2, 1][kind]]];
                if parts[0] == parts[1] && parts[1] == parts[2] {
                    continue;
                }
                let is_joint = parts[0] != parts[1] && parts[1] != parts[2] && parts[0] != parts[2];
                for k in 0..3 {
                    if parts[k] == parts[(k + 1) % 3] {
                        continue;
                    }
                    // Back to where this part is entered, against the clock.
                    let mut enters = (k + 2) % 3;
                    if parts[enters] == parts[k] {
                        enters = (k + 1) % 3;
                    }
                    let (line, _, ahead) = self.line(place, kind, k);
                    let side = 2 * line + usize::from(!ahead);
                    steps[side] = Step {
                        line: self.line(place, kind, enters).0 as u32,
                        triangle: (2 * at + kind) as u32,
                        is_joint,
                    };
                }
            }
        }
        steps
    }

    /// The part on a side.
    pub(super) fn part_at(&self, side: usize) -> usize {
        let (place, which) = (side / 6, side / 2 % 3);
        let by = if side.is_multiple_of(2) {
            [0, 0]
        } else {
            LINES[which]
        };
        self.part[self.wrapped(self.spread(place), by).0]
    }

    /// All edges of all parts but gaps.
    pub(super) fn edges(&self) -> Vec<Edge> {
        let steps = self.steps();
        let mut met = vec![false; steps.len()];
        let mut edges = Vec::new();
        for side in 0..steps.len() {
            if met[side] || steps[side].line == NO_LINE {
                continue;
            }
            let part = self.part_at(side);
            let edge = self.follow(&steps, &mut met, side);
            if self.strand[part].is_some() {
                edges.push(edge);
            }
        }
        edges
    }

    fn follow(&self, steps: &[Step], met: &mut [bool], first: usize) -> Edge {
        let part = self.part_at(first);
        let mut edge = Edge {
            part,
            corners: Vec::new(),
            winds: [0; 2],
        };
        let mut side = first;
        // Unwrapped place of the line that is crossed.
        let mut place = self.spread(side / 6);
        let begun = place;
        loop {
            met[side] = true;
            edge.corners.push(self.corner(side, place));
            let step = steps[side];
            let (triangle, kind) = (step.triangle as usize / 2, step.triangle as usize % 2);
            let (here, there) = (side / 2, step.line as usize);
            let at = self.spread(triangle);
            let from = self.offset(at, kind, here);
            let base = [place[0] - from[0], place[1] - from[1]];
            if step.is_joint {
                edge.corners.push(self.joint(base, at, kind));
            }
            let to = self.offset(at, kind, there);
            place = [base[0] + to[0], base[1] + to[1]];
            side = 2 * there + usize::from(self.part_at(2 * there) != part);
            if side == first {
                break;
            }
        }
        let sizes = [self.grid.across as i64, self.rows as i64];
        edge.winds = [0, 1].map(|d: usize| (place[d] - begun[d]) / sizes[d]);
        edge
    }

    /// Step from a triangle's place to that of one of its lines.
    fn offset(&self, at: [i64; 2], kind: usize, line: Line) -> [i64; 2] {
        let found = (0..3).map(|k| self.line(at, kind, k)).find(|l| l.0 == line);
        found.map_or([0, 0], |line| line.1)
    }

    /// How far along a line is crossed.
    fn crossed(&self, line: Line) -> f64 {
        let place = line / 3;
        let [i, j] = self.spread(place);
        let inside = i as usize + (j as usize % self.grid.up) * self.grid.across;
        self.grid.crossing[inside][line % 3]
    }

    fn corner(&self, side: usize, place: [i64; 2]) -> Corner {
        let along = self.crossed(side / 2);
        let way = LINES[side / 2 % 3];
        let at = [0, 1].map(|d: usize| place[d] as f64 + along * way[d] as f64);
        Corner {
            at,
            side: Some((side, self.wrapped(place, [0, 0]).1)),
        }
    }

    /// Where three parts meet: in the middle of their crossings.
    fn joint(&self, base: [i64; 2], at: [i64; 2], kind: usize) -> Corner {
        let mut middle = [0.0; 2];
        for k in 0..3 {
            let (line, low, _) = self.line(at, kind, k);
            let (along, way) = (self.crossed(line), LINES[line % 3]);
            for d in 0..2 {
                middle[d] += ((base[d] + low[d]) as f64 + along * way[d] as f64) / 3.0;
            }
        }
        Corner {
            at: middle,
            side: None,
        }
    }
}

fn find(root: &mut [u32], mut at: usize) -> usize {
    while root[at] as usize != at {
        root[at] = root[root[at] as usize];
        at = root[at] as usize;
    }
    at
}
