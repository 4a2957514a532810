//! What the crossings of curves say of how they are knotted.
//!
//! The group of the space around the curves has a loop round every line and,
//! for endless curves, one along the cell, so that what leaves through the upper
//! cut comes in through the lower one. Fox's differentials of its relations, each
//! loop replaced by a variable `t` of its strand and the way along the cell by
//! `s`, make a matrix whose determinant is, but for a factor of plus or minus
//! powers of the variables, the Alexander polynomial of the curves: together with
//! the axis they go round, if they are endless.
//!
//! Endless strands are followed through as many cells as it takes until all are
//! back in their places, so that each has a variable of its own; if that is too
//! far, strands of a cycle share some. Where all lines rise the polynomial is then
//! the characteristic one of Gassner's matrix; followed through one cell only it
//! would be that of Burau's. Nothing is lost by looking at several cells: a braid
//! has one root of a kind at most, but for the choice of the cut (González-Meneses).
//!
//! Evaluated at one place of a large prime field; multiplied by its value at the
//! inverse place the unknown powers go away.
//!
//! Other values: other curves, proved. Equal values: equal polynomials,
//! practically. Equal polynomials: curves that no known accident makes alike, but
//! no proof: Alexander's polynomial does not see every knot (it is 1 of some), not
//! the mirror image of a single knot, a braid read from its other end (two crossings
//! of a six-strand cord turned over make it its own reverse), and of two braids only up
//! to what their characteristic polynomials tell. Burau's matrix is known to miss some braids of
//! five strands and more (Bigelow); of Gassner's no such braid is known.
//!
//! # Source
//!
//! R. Fox, *Free differential calculus II*, Annals of Mathematics 59, 1954; for
//! braids with their axis H. Morton, *The multivariable Alexander polynomial for
//! a closed braid*, Contemporary Mathematics 233, 1999; J. Birman, *Braids, links,
//! and mapping class groups*, Princeton 1974, for Burau's and Gassner's matrices;
//! S. Bigelow, *The Burau representation is not faithful for n = 5*, Geometry &
//! Topology 3, 1999; J. González-Meneses, *The nth root of a braid is unique up
//! to conjugacy*, Algebraic & Geometric Topology 3, 2003. From memory.

use super::crossings::{Crossings, Event};
use super::linking::linking;
use super::residue::Residue;
use super::sweep::{Colours, Sweep, common};
use crate::mechanics::tubes::{Shape, Tubes};

/// Most cells that endless strands are followed through: as many as a round has
/// that is one strand of 32. More would only cost time, see [`Crossings::knotting`].
const MOST_CELLS: usize = 32;

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
    /// Takes, for each crossing, a few nanoseconds for each strand; of endless
    /// strands once for every cell until all are back, at most 32 times.
    pub fn knotting(&self) -> Knotting {
        let mut all = vec![self.polynomial(None)];
        if self.is_closed() && self.rounds.len() > 1 {
            all.extend((0..self.rounds.len()).map(|curve| self.polynomial(Some(curve))));
        }
        Knotting(all)
    }

    fn is_closed(&self) -> bool {
        self.joins.is_empty()
    }

    /// The polynomial of all curves, or of a single one, without its unknown
    /// powers.
    fn polynomial(&self, only: Option<usize>) -> Residue {
        let cells = cells_followed(&self.rounds);
        let there = Colours::new(&self.rounds, cells, Residue::scattered);
        let back = Colours::new(&self.rounds, cells, |n| Residue::scattered(n).inverse());
        self.at(&there, cells, only) * self.at(&back, cells, only)
    }

    /// The polynomial at a place, with unknown powers.
    fn at(&self, colours: &Colours, cells: usize, only: Option<usize>) -> Residue {
        let kept = |line: usize| only.is_none_or(|cycle| self.lines[line].cycle == cycle);
        let mut sweep = Sweep::new(self);
        for cell in 0..cells {
            sweep.pass(self, kept, |line| colours.of(self.lines[line], cell));
            sweep.go_on(&self.joins);
        }
        let found = sweep.closed(&self.joins, colours.along);
        // Of several closed curves the determinant has the curve of the column
        // that was left out as a factor too much.
        match self.left_out() {
            Some(first) if only.is_none() && self.rounds.len() > 1 => {
                let variable = colours.of(self.lines[first], 0).round;
                found * (variable - Residue::ONE).inverse()
            }
            _ => found,
        }
    }

    /// Of closed curves, the line in the lowest place.
    fn left_out(&self) -> Option<usize> {
        match self.events.first() {
            Some(&Event::Begin(line, _)) if self.is_closed() => Some(line),
            _ => None,
        }
    }
}

/// How many cells tell most strands apart: the fewest of those.
fn cells_followed(rounds: &[i64]) -> usize {
    let told = |cells: usize| {
        rounds
            .iter()
            .map(|&round| common(round, cells as i64))
            .sum()
    };
    let better = |best: (i64, usize), cells: usize| {
        let told: i64 = told(cells);
        if told > best.0 { (told, cells) } else { best }
    };
    (1..=MOST_CELLS).fold((0, 1), better).1
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::linking::tests::shape;
    use super::*;
    use crate::mechanics::Ends;
    use crate::mechanics::limp::limp;
    use crate::mechanics::spiral::round_spiral;
    use crate::mechanics::tubes::screwed;
    use std::f64::consts::TAU;

    /// The word once up, as curves that all have the same variable.
    pub(in super::super) fn of_one_colour(strands: usize, word: &[i32]) -> Crossings {
        let mut crossings = crossings(strands, word);
        crossings.lines.iter_mut().for_each(|line| line.cycle = 0);
        crossings.rounds = vec![1];
        crossings
    }

    fn crossings(strands: usize, word: &[i32]) -> Crossings {
        let order: Vec<usize> = (0..strands).collect();
        let mut ends = order.clone();
        for letter in word {
            let left = letter.unsigned_abs() as usize - 1;
            ends.swap(left, left + 1);
        }
        let mut continues = order.clone();
        for (place, &strand) in ends.iter().enumerate() {
            continues[strand] = place;
        }
        Crossings::of_word(&continues, &order, word).expect("strands stand where they go on")
    }

    fn knotting(strands: usize, word: &[i32]) -> Knotting {
        crossings(strands, word).knotting()
    }

    /// E. Artin, *Theory of braids*, Annals of Mathematics 48, 1947.
    #[test]
    fn words_that_are_the_same_braid_are_knotted_alike() {
        let same = |a: &[i32], b: &[i32]| {
            for tail in [&[3, -1, 2][..], &[-2, 3, 3], &[1, -2, 3, 1]] {
                let (a, b) = ([a, tail].concat(), [b, tail].concat());
                assert_eq!(knotting(4, &a), knotting(4, &b), "{a:?} {b:?}");
            }
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
        assert_ne!(knotting(3, &plait), knotting(3, &[]));
        let one = |word: &[i32]| of_one_colour(3, word).knotting();
        assert_ne!(one(&plait), one(&[]));
    }

    /// Burau's matrix of this braid of five strands is that of straight ones:
    /// S. Bigelow, *The Burau representation is not faithful for n = 5*,
    /// Geometry & Topology 3, 1999.
    #[test]
    fn a_braid_that_burau_misses_is_told_by_a_variable_for_each_strand() {
        let inverse = |word: &[i32]| -> Vec<i32> { word.iter().rev().map(|&l| -l).collect() };
        let by = |word: &[i32], middle: &[i32]| [&inverse(word), middle, word].concat();
        let one = by(&[-3, 2, 1, 1, 2, 4, 4, 4, 3, 2], &[4]);
        let other = by(
            &[-4, 3, 2, -1, -1, 2, 1, 1, 2, 2, 1, 4, 4, 4, 4, 4],
            &[4, 3, 2, 1, 1, 2, 3, 4],
        );
        let missed = [one.clone(), other.clone(), inverse(&one), inverse(&other)].concat();
        let alike = |word: &[i32]| of_one_colour(5, word).knotting();
        assert_eq!(alike(&missed), alike(&[]));
        assert_ne!(knotting(5, &missed), knotting(5, &[]));
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
        let falls = |crossings: &Crossings| crossings.lines.iter().any(|line| !line.rises);
        assert!(falls(&fell) && !falls(&straight));
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
        let closed = limp(strands, 60, Ends::Closed { cells: 1 });
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
        let closed = limp(1, 60, Ends::Closed { cells: 1 });
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
