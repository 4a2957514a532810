//! A cord made ready for drawing: checked, in single precision, in strand
//! diameters.
//!
//! The unit `d` is the mean diameter of the cord's strands, so that every
//! figure of the surfaces holds for fine and thick cords alike.

use super::vector::{Vec3, vec3};
use crate::cord::Form;

/// One repeat of a cord in units of its mean strand diameter.
#[derive(Debug, Clone)]
pub(crate) struct Run {
    pub(crate) strands: usize,
    pub(crate) nodes: usize,
    /// Piece in which each piece goes on, and the other way round.
    continues: Vec<usize>,
    comes_from: Vec<usize>,
    centres: Vec<Vec3>,
    radius: Vec<f32>,
    /// Wider side of the section of each node, square to the strand; see [`Run::axis`].
    axes: Vec<Vec3>,
    pub(crate) lift: f32,
    pub(crate) turn: f64,
    /// Millimetres in a unit.
    pub(crate) unit: f64,
    /// Distance of the farthest surface from the axis.
    pub(crate) reach: f32,
    /// Height over the axis below which nothing of the cord can be seen.
    pub(crate) hidden: f32,
    /// Pieces that one strand runs through, cycle by cycle.
    cycles: Vec<Vec<usize>>,
    /// Cycle of each piece and its place in it.
    place: Vec<(usize, usize)>,
    /// Mean radius of each piece's cycle.
    pub(crate) girth: Vec<f32>,
}

/// Whether lengths, numbers and permutation of the form can be drawn.
fn is_sound(form: &Form) -> bool {
    let count = form.strands.saturating_mul(form.nodes);
    let mut met = vec![false; form.strands];
    for &next in &form.continues {
        if next < form.strands {
            met[next] = true;
        }
    }
    count > 0
        && form.points.len() == count
        && form.radius.len() == count
        && [0, count].contains(&form.wide.len())
        && form.wide.iter().flatten().all(|v| v.is_finite())
        && form.continues.len() == form.strands
        && met.iter().all(|&m| m)
        && form.lift.is_finite()
        && form.turn.is_finite()
        && form.points.iter().flatten().all(|v| v.is_finite())
        && form.radius.iter().all(|r| r.is_finite())
}

/// From half the wider side and the radius of the round to what [`Run::axis`] gives.
fn axis((wide, radius): (&[f64; 3], &f64)) -> Vec3 {
    let long = wide.iter().map(|v| v * v).sum::<f64>().sqrt();
    let wider = (long / radius.max(SMALLEST)).clamp(0.0, 10.0);
    let length = (wider * wider - 1.0 / (wider * wider).max(1e-9))
        .max(0.0)
        .sqrt();
    let scale = length / long.max(1e-12);
    let [x, y, z] = wide.map(|v| (v * scale) as f32);
    vec3(x, y, z)
}

/// How many times as wide as its round a section is whose axis has this squared length.
pub(crate) fn widest(square: f32) -> f32 {
    (0.5 * (0.5 * square).asinh()).exp()
}

/// Least share of its width that a cord is thick, if its front is to hide its
/// back; a square one has 0.71. Tried.
const ROUND: f32 = 0.62;

/// Smallest unit, mm: below it all strands count as having no thickness.
const SMALLEST: f64 = 1e-4;

impl Run {
    /// The form made ready, or nothing when it cannot be drawn: no strands, no
    /// thickness, figures that are not numbers, or strands that do not go on.
    pub(crate) fn new(form: &Form) -> Option<Self> {
        if !is_sound(form) {
            return None;
        }
        let unit = 2.0 * form.radius.iter().sum::<f64>() / form.radius.len() as f64;
        if unit < SMALLEST {
            return None;
        }
        let scaled = |v: f64| (v / unit).clamp(-1e5, 1e5) as f32;
        let centre = |p: &[f64; 3]| vec3(scaled(p[0]), scaled(p[1]), scaled(p[2]));
        let mut run = Self {
            strands: form.strands,
            nodes: form.nodes,
            continues: form.continues.clone(),
            comes_from: vec![0; form.strands],
            centres: form.points.iter().map(centre).collect(),
            radius: form.radius.iter().map(|&r| scaled(r).max(1e-3)).collect(),
            axes: form.wide.iter().zip(&form.radius).map(axis).collect(),
            lift: scaled(form.lift),
            turn: form.turn % std::f64::consts::TAU,
            unit,
            reach: 0.0,
            hidden: 0.0,
            cycles: Vec::new(),
            place: vec![(0, 0); form.strands],
            girth: vec![0.0; form.strands],
        };
        run.find_cycles();
        run.reach = run.farthest();
        run.hidden = if run.is_round() {
            -0.5 * run.reach
        } else {
            -2.0 * run.reach
        };
        Some(run)
    }

    fn farthest(&self) -> f32 {
        let out = |(at, c): (usize, &Vec3)| {
            let away = vec3(c.x, c.y, 0.0);
            let off = away.length();
            let outward = if off > 0.0 { away * (1.0 / off) } else { away };
            off + self.radius[at] * self.widening(at, outward)
        };
        let all = self.centres.iter().enumerate().map(out);
        all.fold(0.0, f32::max)
    }

    /// How far the cord's surface lies above its axis when turned by `roll`,
    /// as it lies in view.
    pub(crate) fn inward(&self, roll: f64) -> f32 {
        let turns = self.turn.sin().abs() > 1e-3 || self.turn.cos() < 0.0;
        if turns {
            return self.reach;
        }
        let (sin, cos) = roll.sin_cos();
        let up = vec3(cos as f32, -sin as f32, 0.0);
        let all = self.centres.iter().enumerate();
        let high = |(at, c): (usize, &Vec3)| c.dot(up) + self.radius[at] * self.widening(at, up);
        all.map(high).fold(0.0, f32::max)
    }

    /// Whether the front of the cord hides its back from every side. A flat
    /// cord seen nearly on edge does not.
    fn is_round(&self) -> bool {
        let thick = |k: usize| {
            let (sin, cos) = (k as f32 * std::f32::consts::PI / 12.0).sin_cos();
            let way = vec3(cos, sin, 0.0);
            let all = self.centres.iter().zip(&self.radius);
            all.map(|(c, r)| c.dot(way).abs() + r).fold(0.0, f32::max)
        };
        (0..12).all(|k| thick(k) > ROUND * self.reach)
    }

    /// Whether any strand has a flat section.
    pub(crate) fn is_flat(&self) -> bool {
        !self.axes.is_empty()
    }

    /// How wide the section of a node is along a direction, over its round.
    fn widening(&self, at: usize, way: Vec3) -> f32 {
        let Some(axis) = self.axes.get(at) else {
            return 1.0;
        };
        let wide = widest(axis.dot(*axis));
        (1.0 / (wide * wide) + axis.dot(way).powi(2)).sqrt()
    }

    fn find_cycles(&mut self) {
        let mut seen = vec![false; self.strands];
        for first in 0..self.strands {
            self.comes_from[self.continues[first]] = first;
            let mut cycle = Vec::new();
            let mut piece = first;
            while !seen[piece] {
                seen[piece] = true;
                self.place[piece] = (self.cycles.len(), cycle.len());
                cycle.push(piece);
                piece = self.continues[piece];
            }
            if !cycle.is_empty() {
                self.weigh(&cycle);
                self.cycles.push(cycle);
            }
        }
    }

    fn weigh(&mut self, cycle: &[usize]) {
        let nodes = self.nodes;
        let sum: f32 = cycle
            .iter()
            .map(|&i| self.radius[i * nodes..(i + 1) * nodes].iter().sum::<f32>())
            .sum();
        for &i in cycle {
            self.girth[i] = sum / (cycle.len() * nodes) as f32;
        }
    }

    /// The piece in which `piece` goes on.
    pub(crate) fn next(&self, piece: usize) -> usize {
        self.continues[piece]
    }

    /// Centre and radius of node `q` of a piece; beyond its ends, of the
    /// pieces before and after, lifted and turned to where they join.
    pub(crate) fn node(&self, mut piece: usize, q: isize) -> (Vec3, f32) {
        let nodes = self.nodes as isize;
        let (level, q) = (q.div_euclid(nodes), q.rem_euclid(nodes));
        for _ in 0..level.unsigned_abs() {
            piece = if level > 0 {
                self.continues[piece]
            } else {
                self.comes_from[piece]
            };
        }
        let at = piece * self.nodes + q as usize;
        (self.raised(self.centres[at], level as i64), self.radius[at])
    }

    /// Wider side of the section of node `q` of a piece, beyond its ends as
    /// [`Self::node`] has it. Its squared length is `w² - 1/w²` for a section `w` times as
    /// wide as its round, so that it goes to nothing as the section becomes round.
    pub(crate) fn axis(&self, mut piece: usize, q: usize) -> Option<Vec3> {
        let (level, q) = (q / self.nodes, q % self.nodes);
        for _ in 0..level {
            piece = self.continues[piece];
        }
        let axis = *self.axes.get(piece * self.nodes + q)?;
        let (sin, cos) = (self.turn * level as f64).sin_cos();
        Some(axis.turned((sin as f32, cos as f32)))
    }

    fn raised(&self, p: Vec3, level: i64) -> Vec3 {
        if level == 0 {
            return p;
        }
        let (sin, cos) = (self.turn * level as f64).sin_cos();
        p.turned((sin as f32, cos as f32)) + vec3(0.0, 0.0, self.lift * level as f32)
    }

    /// The piece in which a strand of the design lies at `level`.
    pub(crate) fn piece_at(&self, strand: usize, level: i64) -> usize {
        let (cycle, place) = self.place[strand];
        let cycle = &self.cycles[cycle];
        cycle[(place as i64 + level).rem_euclid(cycle.len() as i64) as usize]
    }

    /// Which strand of the design lies in `piece` at `level`, and its length
    /// up to there from level 0, given the length of each piece.
    pub(crate) fn strand_at(&self, level: i64, piece: usize, lengths: &[f32]) -> (usize, f64) {
        let (cycle, place) = self.place[piece];
        let cycle = &self.cycles[cycle];
        let (count, here) = (cycle.len() as i64, place as i64);
        let begun = here - level;
        let strand = cycle[begun.rem_euclid(count) as usize];
        let up_to = |j: i64| {
            let whole: f64 = cycle.iter().map(|&i| f64::from(lengths[i])).sum();
            let rest = &cycle[..j.rem_euclid(count) as usize];
            let part: f64 = rest.iter().map(|&i| f64::from(lengths[i])).sum();
            j.div_euclid(count) as f64 * whole + part
        };
        (strand, up_to(here) - up_to(begun))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    #[test]
    fn the_unit_is_the_mean_strand_diameter() {
        let run = Run::new(&rope(3, 12, 2.0)).unwrap();
        assert!((run.unit - 2.0).abs() < 1e-9);
        assert!((run.girth[0] - 0.5).abs() < 1e-6);
    }

    #[test]
    fn a_form_that_is_no_cord_is_not_drawn() {
        let good = rope(3, 12, 1.0);
        assert!(Run::new(&good).is_some());
        let broken: [fn(&mut Form); 6] = [
            |f| f.points[3][1] = f64::NAN,
            |f| f.lift = f64::INFINITY,
            |f| f.continues = vec![0, 0, 1],
            |f| f.radius.fill(0.0),
            |f| f.strands = 0,
            |f| f.nodes += 1,
        ];
        for spoil in broken {
            let mut form = good.clone();
            spoil(&mut form);
            assert!(Run::new(&form).is_none());
        }
    }

    #[test]
    fn a_node_past_the_end_is_the_first_of_the_next_piece() {
        let run = Run::new(&rope(4, 10, 1.0)).unwrap();
        let (past, _) = run.node(1, 10);
        let (first, _) = run.node(run.next(1), 0);
        assert!((past - run.raised(first, 1)).length() < 1e-5);
        let (before, _) = run.node(run.next(1), -1);
        let (last, _) = run.node(1, 9);
        assert!((before - run.raised(last, -1)).length() < 1e-5);
    }

    #[test]
    fn a_strand_keeps_its_length_from_repeat_to_repeat() {
        let run = Run::new(&rope(3, 8, 1.0)).unwrap();
        let lengths = [1.0, 2.0, 4.0];
        for level in -7..7 {
            for piece in 0..3 {
                let (strand, arc) = run.strand_at(level, piece, &lengths);
                let (same, later) = run.strand_at(level + 1, run.next(piece), &lengths);
                assert_eq!(strand, same);
                assert_eq!(run.piece_at(strand, level), piece);
                assert!((later - arc - f64::from(lengths[piece])).abs() < 1e-9);
            }
        }
    }
}
