//! What the crossings of curves say of how they are knotted.
//!
//! The group of the space around the curves has a loop round every line and,
//! for endless curves, one along the cell, so that what leaves through the upper
//! cut comes in through the lower one. Fox's differentials of its relations, each
//! loop replaced by a variable `t` of its strand cycle and the way along the cell
//! by `s`, make a matrix whose determinant is, but for a factor of plus or minus
//! powers of the variables, the Alexander polynomial of the curves: together with
//! the axis they go round, if they are endless. Where all lines rise it is the
//! characteristic polynomial of the Burau matrix, coloured by strand cycles.
//!
//! Worked from bottom to top: every line is a row of as many entries as there
//! are lines in the lower cut and lowest places. Going behind a line of `t`
//! a row becomes `(row + (u - 1) front) / t` or `t row + (1 - u) front`.
//! Evaluated at one place of a large prime field; multiplied by its value at the
//! inverse place the unknown powers go away.
//!
//! Equal values: equal polynomials, practically. Equal polynomials: curves that
//! no known accident makes alike, but not a proof. Alexander's polynomial does
//! not see every knot (it is 1 of some), not the mirror image of a single knot,
//! and Burau's matrix misses some braids of five strands and more.
//!
//! # Source
//!
//! R. Fox, *Free differential calculus II*, Annals of Mathematics 59, 1954; for
//! braids with their axis H. Morton, *The multivariable Alexander polynomial for
//! a closed braid*, Contemporary Mathematics 233, 1999; what Burau misses:
//! S. Bigelow, *The Burau representation is not faithful for n = 5*, Geometry &
//! Topology 3, 1999.

use super::crossings::{Crossings, Event};
use super::linking::linking;
use super::residue::{Residue, determinant};
use super::tubes::{Shape, Tubes};

/// Whether two shapes of the same tubes have the same crossings, as far as
/// linking and the Alexander polynomials of all curves together and of every
/// closed one by itself can tell.
///
/// Different is proved; the same is not (see the head of the module). Of endless
/// strands the turns must be told apart by whole turns: with one more it is
/// another shape.
pub fn same_crossings(tubes: &Tubes, one: &Shape, other: &Shape) -> bool {
    linking(tubes, one) == linking(tubes, other)
        && Crossings::seen(tubes, one).knotting() == Crossings::seen(tubes, other).knotting()
}

/// A value that says how curves are knotted; see the head of the module.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Knotting(Vec<Residue>);

impl Crossings {
    /// How the curves are knotted: the same for shapes that can be moved into
    /// each other.
    ///
    /// Takes, for each crossing, a few nanoseconds for each strand.
    pub fn knotting(&self) -> Knotting {
        let mut all = vec![self.polynomial(None)];
        if self.joins.is_empty() && self.curves() > 1 {
            all.extend((0..self.curves()).map(|curve| self.polynomial(Some(curve))));
        }
        Knotting(all)
    }

    /// The polynomial of all curves, or of a single one, without its unknown
    /// powers.
    fn polynomial(&self, only: Option<usize>) -> Residue {
        let there = Residue::scattered;
        let back = |number| Residue::scattered(number).inverse();
        self.at(there, only) * self.at(back, only)
    }

    /// The polynomial at a place, with unknown powers: `variable(0)` goes along
    /// the cell, `variable(k + 1)` round strand cycle `k`.
    fn at(&self, variable: impl Fn(u64) -> Residue, only: Option<usize>) -> Residue {
        let kept = |line: &usize| only.is_none_or(|cycle| self.lines[*line].cycle == cycle);
        let mut sweep = Sweep::new(self, variable, kept);
        for event in &self.events {
            match *event {
                Event::Cross { front, back, right } if kept(&front) && kept(&back) => {
                    sweep.cross(front, back, right == self.lines[front].rises);
                }
                Event::Begin(a, b) if kept(&a) => sweep.begin(a, b),
                Event::End(a, b) if kept(&a) => sweep.end(a, b),
                _ => {}
            }
        }
        let joins = self.joins.iter().filter(|(above, _)| kept(above));
        let first = sweep.first;
        let found = sweep.determinant(joins);
        // Of several closed curves the determinant has the curve of the column
        // that was left out as a factor too much.
        if self.joins.is_empty() && only.is_none() && self.curves() > 1 {
            return found * (first - Residue::ONE).inverse();
        }
        found
    }

    fn curves(&self) -> usize {
        let numbers = self.lines.iter().map(|line| line.cycle + 1);
        numbers.max().unwrap_or(0)
    }
}

/// Rows of the matrix while it is worked from bottom to top.
struct Sweep {
    /// Variable along the cell.
    along: Residue,
    /// Variable of each line, and one over it.
    round: Vec<(Residue, Residue)>,
    /// Row of each line that has begun.
    rows: Vec<Vec<Residue>>,
    /// Equations of the highest places.
    ends: Vec<Vec<Residue>>,
    columns: usize,
    /// Columns taken, and the variable of the first.
    begun: usize,
    first: Residue,
}

impl Sweep {
    fn new(
        crossings: &Crossings,
        variable: impl Fn(u64) -> Residue,
        kept: impl Fn(&usize) -> bool,
    ) -> Self {
        let begins = |event: &&Event| matches!(event, Event::Begin(line, _) if kept(line));
        let cuts = crossings.joins.iter().filter(|(line, _)| kept(line));
        let columns = cuts.clone().count() + crossings.events.iter().filter(begins).count();
        let of_cycle: Vec<(Residue, Residue)> = (1..=crossings.curves() as u64)
            .map(|number| (variable(number), variable(number).inverse()))
            .collect();
        let mut sweep = Self {
            along: variable(0),
            round: crossings.lines.iter().map(|l| of_cycle[l.cycle]).collect(),
            rows: vec![Vec::new(); crossings.lines.len()],
            ends: Vec::new(),
            columns,
            begun: 0,
            first: Residue::ONE,
        };
        for &(_, below) in cuts {
            sweep.rows[below] = sweep.unit(below);
        }
        sweep
    }

    fn unit(&mut self, line: usize) -> Vec<Residue> {
        let mut row = vec![Residue::ZERO; self.columns];
        row[self.begun] = Residue::ONE;
        if self.begun == 0 {
            self.first = self.round[line].0;
        }
        self.begun += 1;
        row
    }

    /// `back` goes behind `front`; `out` if to the left of the front line's own
    /// direction.
    fn cross(&mut self, front: usize, back: usize, out: bool) {
        let (own, (t, over)) = (self.round[back].0, self.round[front]);
        let of_front = std::mem::take(&mut self.rows[front]);
        let (keep, add) = if out {
            (over, (own - Residue::ONE) * over)
        } else {
            (t, Residue::ONE - own)
        };
        for (entry, &of_front) in self.rows[back].iter_mut().zip(&of_front) {
            *entry = keep * *entry + add * of_front;
        }
        self.rows[front] = of_front;
    }

    fn begin(&mut self, a: usize, b: usize) {
        self.rows[a] = self.unit(a);
        self.rows[b] = self.rows[a].clone();
    }

    fn end(&mut self, a: usize, b: usize) {
        let ends = self.rows[a].iter().zip(&self.rows[b]);
        self.ends.push(ends.map(|(&a, &b)| a - b).collect());
    }

    fn determinant<'a>(mut self, joins: impl Iterator<Item = &'a (usize, usize)>) -> Residue {
        let mut rows = std::mem::take(&mut self.ends);
        let closed = rows.len() == self.columns;
        for (column, &(above, _)) in joins.enumerate() {
            let mut row = std::mem::take(&mut self.rows[above]);
            row[column] = row[column] - self.along;
            rows.push(row);
        }
        if closed {
            return minor(&rows);
        }
        determinant(rows)
    }
}

/// Without the first row and column: of closed curves one equation follows from
/// the others.
fn minor(rows: &[Vec<Residue>]) -> Residue {
    determinant(rows.iter().skip(1).map(|row| row[1..].to_vec()).collect())
}

#[cfg(test)]
mod tests {
    use super::super::Ends;
    use super::super::linking::tests::{shape, tubes};
    use super::super::spiral::round_spiral;
    use super::super::tubes::screwed;
    use super::*;
    use std::f64::consts::TAU;

    /// A polynomial by its coefficients, at a place and at the inverse place.
    fn both(coefficients: &[i32]) -> Residue {
        let at = |t: Residue| {
            let one = |sum: Residue, &c: &i32| {
                let size = (0..c.abs()).fold(Residue::ZERO, |s, _| s + Residue::ONE);
                sum * t + if c < 0 { -size } else { size }
            };
            coefficients.iter().fold(Residue::ZERO, one)
        };
        at(Residue::scattered(7)) * at(Residue::scattered(7).inverse())
    }

    /// The polynomial in one variable of a closed word, without its powers.
    fn of_closure(strands: usize, word: &[i32]) -> Residue {
        let crossings = Crossings::of_word(&vec![0; strands], word);
        let at = |t: Residue| {
            let variable = |number| if number == 0 { Residue::ONE } else { t };
            let mut sweep = Sweep::new(&crossings, variable, |_| true);
            for event in &crossings.events {
                if let Event::Cross { front, back, right } = *event {
                    sweep.cross(front, back, right);
                }
            }
            let mut rows = Vec::new();
            for (column, &(above, _)) in crossings.joins.iter().enumerate() {
                let mut row = sweep.rows[above].clone();
                row[column] = row[column] - Residue::ONE;
                rows.push(row);
            }
            minor(&rows)
        };
        at(Residue::scattered(7)) * at(Residue::scattered(7).inverse())
    }

    /// C. Livingston, A. Moore, tables of knots and links (2026).
    #[test]
    fn closed_words_have_the_published_alexander_polynomials() {
        let published: [(usize, &[i32], &[i32]); 13] = [
            (2, &[1, 1], &[1, -1]),
            (2, &[1, 1, 1], &[1, -1, 1]),
            (2, &[1; 4], &[1, -1, 1, -1]),
            (2, &[1; 5], &[1, -1, 1, -1, 1]),
            (3, &[1, 2], &[1]),
            (3, &[1, -2, 1, -2], &[1, -3, 1]),
            (3, &[1, -2, 1, -2, 1, -2], &[1, -4, 6, -4, 1]),
            (3, &[1, 2, 1, 2, 1, 2], &[1, -1, 0, -1, 1]),
            (3, &[1, 2, 1, 2, 1, 2, 1, 2], &[1, -1, 0, 1, 0, -1, 1]),
            (3, &[1, 1, 1, 2, -1, 2], &[2, -3, 2]),
            (3, &[-1, -1, -1, 2, -1, 2], &[1, -3, 3, -3, 1]),
            (3, &[-1, -1, 2, -1, 2, 2], &[1, -3, 5, -3, 1]),
            (4, &[1, 3, -2, 1, 3, -2], &[1, -5, 5, -1]),
        ];
        for (strands, word, polynomial) in published {
            assert_eq!(of_closure(strands, word), both(polynomial), "{word:?}");
        }
    }

    fn knotting(cycles: &[usize], word: &[i32]) -> Knotting {
        Crossings::of_word(cycles, word).knotting()
    }

    /// E. Artin, *Theory of braids*, Annals of Mathematics 48, 1947.
    #[test]
    fn words_that_are_the_same_braid_are_knotted_alike() {
        let same = |a: &[i32], b: &[i32]| {
            let tail = [3, -1, 2];
            let (a, b) = ([a, &tail].concat(), [b, &tail].concat());
            assert_eq!(knotting(&[0; 4], &a), knotting(&[0; 4], &b), "{a:?} {b:?}");
        };
        same(&[1, 2, 1], &[2, 1, 2]);
        same(&[1, 3], &[3, 1]);
        same(&[2, -2], &[]);
        let round = [1, 2, 3].repeat(4);
        same(
            &[&round[..], &[1, -2]].concat(),
            &[&[1, -2], &round[..]].concat(),
        );
    }

    /// Every pair of the three strands crosses as often each way: linking counts
    /// do not tell the plait from three straight strands.
    #[test]
    fn a_plait_is_told_from_straight_strands_that_link_alike() {
        let plait = [1, -2].repeat(3);
        assert_ne!(knotting(&[0, 1, 2], &plait), knotting(&[0, 1, 2], &[]));
        assert_ne!(knotting(&[0, 0, 0], &plait), knotting(&[0, 0, 0], &[]));
    }

    #[test]
    fn a_spiral_is_knotted_alike_from_all_sides_and_cut_anywhere() {
        let (tubes, shape) = round_spiral(12);
        let wanted = Crossings::seen(&tubes, &shape).knotting();
        for step in 1..40 {
            let step = f64::from(step);
            let moved = Shape {
                points: shape
                    .points
                    .iter()
                    .map(|&p| screwed(p, 0.13 * step, 0.37 * step))
                    .collect(),
                ..shape.clone()
            };
            let crossings = Crossings::seen(&tubes, &moved);
            assert_eq!(crossings.knotting(), wanted, "step {step}");
            let (cycles, word) = crossings.word().expect("all strands rise");
            assert_eq!(Crossings::of_word(&cycles, &word).knotting(), wanted);
        }
    }

    /// The cut runs through places where strands fall.
    #[test]
    fn strands_that_fall_in_between_are_read_from_all_sides() {
        let (tubes, mut shape) = round_spiral(31);
        let straight = Crossings::seen(&tubes, &shape);
        for (node, point) in shape.points.iter_mut().enumerate() {
            // A wave that reaches far up and down, the same for all.
            let wave = (3.0 * TAU * (node % 31) as f64 / 31.0).sin();
            point[2] += 0.7 * wave;
        }
        let fell = Crossings::seen(&tubes, &shape);
        assert!(fell.word().is_none() && straight.word().is_some());
        let wanted = fell.knotting();
        for step in 1..20 {
            let step = f64::from(step);
            let moved = Shape {
                points: shape
                    .points
                    .iter()
                    .map(|&p| screwed(p, 0.13 * step, 0.37 * step))
                    .collect(),
                ..shape.clone()
            };
            let seen = Crossings::seen(&tubes, &moved);
            assert_eq!((seen.knotting(), seen.strands()), (wanted.clone(), 8));
            assert_eq!(seen.writhe(), fell.writhe());
        }
    }

    /// Closed strands tipped this way and that.
    fn seen_from(angle: f64, at: impl Fn(usize, f64) -> [f64; 3], strands: usize) -> Crossings {
        let tip = |[x, y, z]: [f64; 3]| {
            let [y, z, _] = screwed([y, z, 0.0], 0.0, angle);
            screwed([x, y, z], 0.0, 1.7 * angle)
        };
        let closed = tubes(strands, 60, Ends::Closed { cells: 1 });
        let shape = shape(strands, 60, 0.0, |strand, part| tip(at(strand, part)));
        Crossings::seen(&closed, &shape)
    }

    fn torus(p: f64, q: f64) -> impl Fn(usize, f64) -> [f64; 3] {
        move |_, part| {
            let ((sin, cos), (up, out)) = ((p * TAU * part).sin_cos(), (q * TAU * part).sin_cos());
            [(2.0 + out) * cos, (2.0 + out) * sin, up]
        }
    }

    #[test]
    fn closed_knots_are_told_apart_from_every_side() {
        let knots = [
            (torus(1.0, 5.0), &[1][..]),
            (torus(2.0, 3.0), &[1, -1, 1]),
            (torus(2.0, 5.0), &[1, -1, 1, -1, 1]),
            (torus(3.0, 4.0), &[1, -1, 0, 1, 0, -1, 1]),
        ];
        let seen = |angle| {
            let all = knots
                .iter()
                .map(|(knot, _)| seen_from(angle, knot, 1).knotting());
            all.collect::<Vec<_>>()
        };
        let wanted = seen(0.0);
        for step in 1..30 {
            assert_eq!(seen(0.211 * f64::from(step)), wanted, "side {step}");
        }
        for (number, knotting) in wanted.iter().enumerate() {
            assert!(!wanted[..number].contains(knotting), "knot {number}");
        }
    }

    /// Three ellipses in three planes: no two are linked, all three are.
    #[test]
    fn borromean_rings_are_told_from_rings_apart_and_from_all_sides() {
        let rings = |apart: f64| {
            move |ring: usize, part: f64| {
                let (sin, cos) = (TAU * part).sin_cos();
                let shift = apart * ring as f64;
                let mut point = [2.0 * cos, sin, 0.0];
                point.rotate_right(ring);
                point[0] += shift;
                point
            }
        };
        let borromean = seen_from(0.0, rings(0.0), 3).knotting();
        assert_ne!(borromean, seen_from(0.0, rings(9.0), 3).knotting());
        for step in 1..30 {
            let seen = seen_from(0.211 * f64::from(step), rings(0.0), 3);
            assert_eq!(seen.knotting(), borromean, "side {step}");
        }
    }

    #[test]
    fn a_crossing_turned_over_is_noticed_and_the_same_shape_is_not() {
        let closed = tubes(1, 60, Ends::Closed { cells: 1 });
        let trefoil = shape(1, 60, 0.0, torus(2.0, 3.0));
        let mut loose = trefoil.clone();
        for point in &mut loose.points {
            *point = screwed(*point, 0.3, 0.7);
        }
        assert!(same_crossings(&closed, &trefoil, &loose));
        assert!(!same_crossings(
            &closed,
            &trefoil,
            &shape(1, 60, 0.0, torus(1.0, 3.0))
        ));
    }
}
