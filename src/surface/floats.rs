//! The floats of a cord's whole repeat.

use super::field::Field;
use super::grid::Grid;
use super::laying::Laying;
use super::outline::Parts;
use super::polygon::{bounds, is_inside, passes};
use super::strand::Strands;
use crate::cord::Form;

/// The unrolled surface of a cord: its whole repeat, after which every strand is back in its
/// place.
///
/// It repeats round after round, and every `repeat_mm` upwards, there turned by
/// `repeat_turn`.
#[derive(Debug, Clone)]
pub struct Surface {
    /// Number of strands, a core counted as one.
    pub strands: usize,
    /// Length once round, at the mean depth of what is seen, mm.
    pub girth_mm: f64,
    /// Height of the whole repeat, mm.
    pub repeat_mm: f64,
    /// Turn of the whole repeat, share of a round from over -½ to ½, anticlockwise.
    pub repeat_turn: f64,
    /// Smallest repeats, strands having changed places, in the whole one.
    pub cells: usize,
    /// All floats, by where they begin: first upwards, then round.
    pub floats: Vec<Float>,
    pub(super) field: Field,
}

/// A connected place of the surface where one strand is outermost.
#[derive(Debug, Clone, PartialEq)]
pub struct Float {
    /// Strand of the design.
    pub strand: usize,
    /// Its edge, a closed polygon against the clock: share of a round (unwrapped), and mm.
    /// An endless float is cut open.
    pub outline: Vec<[f64; 2]>,
    /// What is left out inside, closed polygons with the clock.
    pub holes: Vec<Vec<[f64; 2]>>,
    /// Whole rounds and repeats after which an endless float goes on in itself.
    pub endless: Option<[i32; 2]>,
    /// A place inside, in the first round and repeat.
    pub middle: [f64; 2],
    /// Area on the girth, mm².
    pub area_mm2: f64,
    /// Its neighbours.
    pub beside: Vec<Beside>,
    /// Corner of the outline up to which an endless float's first edge goes; after it, and
    /// after the last corner, it is cut.
    pub(super) cut: Option<usize>,
}

/// A copy of a float within a part of the unrolled surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Copy {
    /// Which float.
    pub float: usize,
    /// What is added to its outline: share of a round, mm.
    pub shift: [f64; 2],
}

/// A neighbour along a part of a float's edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// Which float.
    pub float: usize,
    /// The copy of it that is met lies so many whole rounds on,
    pub rounds: i32,
    /// and so many whole repeats up, each turned by `repeat_turn`.
    pub repeats: i32,
    /// Length of the common edge on the girth, mm.
    pub length_mm: f64,
}

/// Most smallest repeats that are put together; no cord met comes near.
const MOST_CELLS: usize = 2_000;

impl Surface {
    /// The surface of a solved cord; none when the form is no cord, or when its strands
    /// take absurdly long to come back.
    pub fn new(form: &Form) -> Option<Self> {
        let strands = Strands::new(form)?;
        let cells = order(&strands.continues)?;
        let field = Field::new(strands);
        let grid = Grid::new(&field);
        let parts = Parts::new(&grid, &field.strands.comes_from, cells);
        let unreduced = field.turn * cells as f64;
        let mut surface = Self {
            strands: form.strands,
            girth_mm: field.round.girth(),
            repeat_mm: form.lift * cells as f64,
            repeat_turn: unreduced - (unreduced - 0.5).ceil(),
            cells,
            floats: Vec::new(),
            field,
        };
        surface.floats = Laying::new(&surface, &grid, &parts).floats();
        Some(surface)
    }

    /// The strand that is outermost at a place.
    pub fn strand_at(&self, round: f64, height_mm: f64) -> Option<usize> {
        let sound = round.is_finite() && height_mm.is_finite();
        let seen = sound.then(|| self.field.seen(round, height_mm))?;
        seen.map(|seen| self.field.strands.strand(seen.spot))
    }

    /// The float at a place, by its outline.
    pub fn float_at(&self, round: f64, height_mm: f64) -> Option<usize> {
        self.floats
            .iter()
            .position(|float| self.covers(float, [round, height_mm]))
    }

    /// All copies of floats that may be seen between two shares of a round and two heights,
    /// mm, by the float.
    pub fn copies(&self, rounds: [f64; 2], heights: [f64; 2]) -> Vec<Copy> {
        let mut copies = Vec::new();
        for (number, float) in self.floats.iter().enumerate() {
            let [low, high] = bounds(&float.outline);
            for up in whole_between(
                (heights[0] - high[1]) / self.repeat_mm,
                (heights[1] - low[1]) / self.repeat_mm,
            ) {
                let turned = self.repeat_turn * up;
                for round in
                    whole_between(rounds[0] - high[0] - turned, rounds[1] - low[0] - turned)
                {
                    let shift = [round + turned, up * self.repeat_mm];
                    copies.push(Copy {
                        float: number,
                        shift,
                    });
                }
            }
        }
        copies
    }

    /// Share of a round and height of a point, mm, of the form.
    pub fn place_of(&self, point: [f64; 3]) -> [f64; 2] {
        [self.field.round.place(point).0, point[2]]
    }

    /// The outermost point of the form at a place, mm; none in a gap.
    pub fn point_at(&self, round: f64, height_mm: f64) -> Option<[f64; 3]> {
        let depth = self.field.seen(round, height_mm)?.hit.depth;
        let ray = self.field.round.ray(round, height_mm);
        Some([0, 1, 2].map(|d| ray.from[d] + depth * ray.way[d]))
    }

    /// Whether any copy of a float lies there.
    fn covers(&self, float: &Float, at: [f64; 2]) -> bool {
        let [low, high] = bounds(&float.outline);
        whole_between(
            (at[1] - high[1]) / self.repeat_mm,
            (at[1] - low[1]) / self.repeat_mm,
        )
        .any(|up| {
            let share = at[0] - self.repeat_turn * up;
            let height = at[1] - self.repeat_mm * up;
            whole_between(share - high[0], share - low[0])
                .any(|round| float.has([share - round, height]))
        })
    }
}

/// The whole numbers between two.
fn whole_between(low: f64, high: f64) -> impl Iterator<Item = f64> {
    let (first, last) = (low.ceil() as i64, high.floor() as i64);
    (first..=last).map(|whole| whole as f64)
}

impl Float {
    /// Its edges: lines that close, but for those of an endless float, which go on in their copies.
    pub fn edges(&self) -> Vec<&[[f64; 2]]> {
        let outer = match self.cut {
            Some(cut) => vec![&self.outline[..=cut], &self.outline[cut + 1..]],
            None => vec![&self.outline[..]],
        };
        outer
            .into_iter()
            .chain(self.holes.iter().map(Vec::as_slice))
            .collect()
    }

    /// Where its outline and holes pass a height.
    pub(super) fn passes(&self, height: f64) -> Vec<f64> {
        passes(
            std::iter::once(&self.outline)
                .chain(&self.holes)
                .map(Vec::as_slice),
            height,
        )
    }

    /// Whether a place lies within the outline and in no hole, as they stand.
    fn has(&self, at: [f64; 2]) -> bool {
        is_inside(&self.outline, at) && !self.holes.iter().any(|hole| is_inside(hole, at))
    }
}

/// After how many times a permutation comes back.
fn order(continues: &[usize]) -> Option<usize> {
    let mut order = 1;
    for first in 0..continues.len() {
        let (mut at, mut length) = (continues[first], 1);
        while at != first {
            at = continues[at];
            length += 1;
        }
        order = order / greatest_divisor(order, length) * length;
        if order > MOST_CELLS {
            return None;
        }
    }
    Some(order)
}

fn greatest_divisor(a: usize, b: usize) -> usize {
    if b == 0 {
        a
    } else {
        greatest_divisor(b, a % b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::f64::consts::{PI, TAU};

    /// `n` strands of 2 mm wound round one another, each after a repeat where the next one
    /// began, with the angle that they climb at on the girth.
    fn rope(n: usize, nodes: usize) -> Form {
        let off = 1.0 / (PI / n as f64).sin();
        let turn = 0.3;
        let advance = TAU / n as f64 + turn;
        let lift = off * advance * 1.4;
        let point = |i: usize, q: usize| {
            let part = q as f64 / nodes as f64;
            let a = TAU * i as f64 / n as f64 + advance * part;
            [off * a.cos(), off * a.sin(), lift * part]
        };
        Form {
            strands: n,
            nodes,
            continues: (0..n).map(|i| (i + 1) % n).collect(),
            points: (0..n * nodes)
                .map(|k| point(k / nodes, k % nodes))
                .collect(),
            radius: vec![1.0; n * nodes],
            wide: Vec::new(),
            lift,
            turn,
        }
    }

    #[test]
    fn a_rope_is_straight_bands_at_the_angle_of_its_helix() {
        for n in [3, 5, 8] {
            let form = rope(n, 24);
            let surface = Surface::new(&form).unwrap();
            assert_eq!(surface.floats.len(), n);
            // Shares of a round for each mm.
            let climbs = (1.0 / n as f64 + form.turn / TAU) / form.lift;
            for float in &surface.floats {
                assert!(float.endless.is_some());
                let level: Vec<f64> = float.outline.iter().map(|p| p[0] - climbs * p[1]).collect();
                let [low, high] = bounds(&level.iter().map(|&v| [v, 0.0]).collect::<Vec<_>>());
                assert!(
                    (high[0] - low[0] - 1.0 / n as f64).abs() < 1e-3,
                    "{low:?} {high:?}"
                );
                let off = |v: &f64| (v - low[0]).min(high[0] - v);
                let farthest = level.iter().map(off).fold(0.0, f64::max);
                assert!(farthest < 1e-3 / n as f64, "{n}: {farthest}");
                let share = surface.girth_mm * surface.repeat_mm / n as f64;
                assert!((float.area_mm2 / share - 1.0).abs() < 1e-3);
                let beside: BTreeSet<usize> = float.beside.iter().map(|b| b.float).collect();
                assert_eq!(beside.len(), 2);
            }
        }
    }
}
