//! From edges on the grid to floats: outlines in their places, holes, neighbours.

use std::collections::BTreeMap;

use super::floats::{Beside, Float, Surface};
use super::grid::Grid;
use super::outline::{Corner, Edge, Parts};
use super::polygon::{inner_place, is_inside, twice_area};

/// Turns edges on the grid into floats.
pub(super) struct Laying<'a> {
    surface: &'a Surface,
    parts: &'a Parts<'a>,
    /// Share of a round and mm of a step right, and of one up.
    steps: [[f64; 2]; 2],
    /// Places of the grid once round and in a repeat.
    sizes: [i64; 2],
    /// Whole rounds that the turn of a repeat is more than its reduced one.
    more: i64,
}

/// The edges of one part, as they were found.
#[derive(Default)]
struct Edges {
    closed: Vec<Edge>,
    winding: Vec<Edge>,
}

/// A float on the grid: its outline and holes, in their places.
struct Laid {
    part: usize,
    outline: Vec<Corner>,
    holes: Vec<Vec<Corner>>,
    /// Rounds and repeats after which it goes on in itself, and the corner of its first cut.
    endless: Option<([i64; 2], usize)>,
}

impl<'a> Laying<'a> {
    pub(super) fn new(surface: &'a Surface, grid: &Grid, parts: &'a Parts<'a>) -> Self {
        let unreduced = surface.field.turn * surface.cells as f64;
        let up = grid.up as f64;
        Self {
            surface,
            parts,
            steps: [
                [1.0 / grid.across as f64, 0.0],
                [surface.field.turn / up, surface.field.strands.lift / up],
            ],
            sizes: [grid.across as i64, parts.rows as i64],
            more: (unreduced - surface.repeat_turn).round() as i64,
        }
    }

    pub(super) fn floats(&self) -> Vec<Float> {
        let mut all: BTreeMap<usize, Edges> = BTreeMap::new();
        for (part, strand) in self.parts.strand.iter().enumerate() {
            if strand.is_some() {
                all.insert(part, Edges::default());
            }
        }
        for edge in self.parts.edges() {
            let edges = all.entry(edge.part).or_default();
            let kind = if edge.winds == [0, 0] {
                &mut edges.closed
            } else {
                &mut edges.winding
            };
            kind.push(edge);
        }
        let laid: Vec<Laid> = all
            .into_iter()
            .map(|(part, edges)| self.lay(part, edges))
            .collect();
        let number: BTreeMap<usize, usize> = laid
            .iter()
            .enumerate()
            .map(|(at, laid)| (laid.part, at))
            .collect();
        let mut frames = vec![[0_i64; 2]; self.parts.part.len() * 6];
        for corner in laid
            .iter()
            .flat_map(|l| l.outline.iter().chain(l.holes.iter().flatten()))
        {
            if let Some((side, frame)) = corner.side {
                frames[side] = frame;
            }
        }
        laid.iter()
            .map(|laid| self.float(laid, &number, &frames))
            .collect()
    }

    /// Grid coordinates to share of a round and mm.
    fn place(&self, at: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|d: usize| at[0] * self.steps[0][d] + at[1] * self.steps[1][d])
    }

    fn polygon(&self, corners: &[Corner]) -> Vec<[f64; 2]> {
        corners.iter().map(|corner| self.place(corner.at)).collect()
    }

    fn moved(&self, corners: &[Corner], by: [i64; 2]) -> Vec<Corner> {
        let moved = |corner: &Corner| Corner {
            at: [0, 1].map(|d: usize| corner.at[d] + (by[d] * self.sizes[d]) as f64),
            side: corner
                .side
                .map(|(side, frame)| (side, [0, 1].map(|d: usize| frame[d] + by[d]))),
        };
        corners.iter().map(moved).collect()
    }

    /// The outline of a part and its holes.
    fn lay(&self, part: usize, edges: Edges) -> Laid {
        let area = |edge: &Edge| twice_area(&self.polygon(&edge.corners));
        let (outer, inner): (Vec<_>, Vec<_>) =
            edges.closed.into_iter().partition(|edge| area(edge) > 0.0);
        let mut endless = None;
        let outline = match (&edges.winding[..], &outer[..]) {
            ([one, other, ..], _) => {
                endless = Some((one.winds, one.corners.len()));
                self.cut_open(one, other)
            }
            (_, [only, ..]) => only.corners.clone(),
            _ => self.everything(),
        };
        let shift = self.home(&self.polygon(&outline));
        let outline = self.moved(&outline, shift);
        let polygon = self.polygon(&outline);
        let holes = inner
            .iter()
            .map(|edge| self.placed(&edge.corners, &polygon))
            .collect();
        Laid {
            part,
            outline,
            holes,
            endless,
        }
    }

    /// All round and all the way up.
    fn everything(&self) -> Vec<Corner> {
        let [a, b] = self.sizes.map(|size| size as f64);
        let corner = |at| Corner { at, side: None };
        [[0.0, 0.0], [a, 0.0], [a, b], [0.0, b]]
            .map(corner)
            .to_vec()
    }

    /// Rounds and repeats by which the middle of a polygon comes into the first ones.
    fn home(&self, polygon: &[[f64; 2]]) -> [i64; 2] {
        let middle = inner_place(polygon, &[]);
        let up = (middle[1] / self.surface.repeat_mm).floor();
        let turn = self.surface.field.turn * self.surface.cells as f64;
        [-(middle[0] - up * turn).floor() as i64, -up as i64]
    }

    /// A hole moved to where its outline is.
    fn placed(&self, hole: &[Corner], outline: &[[f64; 2]]) -> Vec<Corner> {
        let near = || (-3..=3).flat_map(|up| (-3..=3).map(move |round| [round, up]));
        let fits = |by: &[i64; 2]| {
            let moved = self.polygon(&self.moved(hole, *by));
            is_inside(outline, moved[0])
        };
        let by = near().find(fits).unwrap_or([0, 0]);
        self.moved(hole, by)
    }

    /// A band that goes on in itself, cut across where its edges are near each other.
    fn cut_open(&self, one: &Edge, other: &Edge) -> Vec<Corner> {
        let winds = one.winds;
        let near = |at: [f64; 2], corners: &[Corner]| {
            let far = |corner: &Corner| {
                let [x, y] = self.place([corner.at[0] - at[0], corner.at[1] - at[1]]);
                (x * self.surface.girth_mm).hypot(y)
            };
            let far: Vec<f64> = corners.iter().map(far).collect();
            (0..far.len())
                .min_by(|&a, &b| far[a].total_cmp(&far[b]))
                .unwrap_or(0)
        };
        // Copies of the other edge side by side: the one to the left of the first is the
        // band's.
        let first = one.corners[0].at;
        let mut best: Option<(f64, Vec<Corner>)> = None;
        for by in (-4..=4).flat_map(|up| (-4..=4).map(move |round| [round, up])) {
            let copy = self.moved(&other.corners, by);
            let begin = near(first, &copy);
            let mut all = self.once_round(&one.corners, 0, winds);
            let back = winds.map(|w| -w);
            let end = self.moved(&self.once_round(&copy, begin, back), winds);
            all.extend(end);
            let area = twice_area(&self.polygon(&all));
            if area > 0.0 && best.as_ref().is_none_or(|(least, _)| area < *least) {
                best = Some((area, all));
            }
        }
        best.map_or_else(|| one.corners.clone(), |(_, all)| all)
    }

    /// A winding edge from one of its corners to that corner's next copy.
    fn once_round(&self, corners: &[Corner], begin: usize, winds: [i64; 2]) -> Vec<Corner> {
        let mut all = corners[begin..].to_vec();
        all.extend(self.moved(&corners[..=begin], winds));
        all
    }

    fn float(&self, laid: &Laid, number: &BTreeMap<usize, usize>, frames: &[[i64; 2]]) -> Float {
        let outline = self.polygon(&laid.outline);
        let holes: Vec<_> = laid.holes.iter().map(|hole| self.polygon(hole)).collect();
        let inner: f64 = holes.iter().map(|hole| twice_area(hole)).sum();
        Float {
            strand: self.parts.strand[laid.part].unwrap_or(0),
            middle: inner_place(&outline, &holes),
            area_mm2: 0.5 * (twice_area(&outline) + inner) * self.surface.girth_mm,
            outline,
            holes,
            endless: laid.endless.map(|(winds, _)| self.reduced(winds)),
            cut: laid.endless.map(|(_, cut)| cut),
            beside: self.beside(laid, number, frames),
        }
    }

    /// Rounds and repeats for the reduced turn of a repeat.
    fn reduced(&self, [rounds, repeats]: [i64; 2]) -> [i32; 2] {
        [(rounds + repeats * self.more) as i32, repeats as i32]
    }

    fn beside(
        &self,
        laid: &Laid,
        number: &BTreeMap<usize, usize>,
        frames: &[[i64; 2]],
    ) -> Vec<Beside> {
        let mut lengths: BTreeMap<(usize, [i32; 2]), f64> = BTreeMap::new();
        for corners in std::iter::once(&laid.outline).chain(&laid.holes) {
            let after = corners.iter().cycle().skip(1);
            for (one, two) in corners.iter().zip(after) {
                let Some((side, frame)) = one.side.or(two.side) else {
                    continue;
                };
                if self.is_cut(one, two) {
                    continue;
                }
                let Some(&float) = number.get(&self.parts.part_at(side ^ 1)) else {
                    continue;
                };
                let other = frames[side ^ 1];
                let away = self.reduced([0, 1].map(|d: usize| frame[d] - other[d]));
                let [x, y] = self.place([two.at[0] - one.at[0], two.at[1] - one.at[1]]);
                *lengths.entry((float, away)).or_default() += (x * self.surface.girth_mm).hypot(y);
            }
        }
        let beside = |((float, [rounds, repeats]), length_mm): ((usize, [i32; 2]), f64)| Beside {
            float,
            rounds,
            repeats,
            length_mm,
        };
        lengths.into_iter().map(beside).collect()
    }

    /// Whether an endless float is cut here: its edges never step farther than a triangle.
    fn is_cut(&self, one: &Corner, two: &Corner) -> bool {
        [0, 1]
            .iter()
            .any(|&d: &usize| (two.at[d] - one.at[d]).abs() > 1.0 + 1e-9)
    }
}
