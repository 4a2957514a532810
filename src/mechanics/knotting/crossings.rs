//! The crossings of curves as seen from one side.
//!
//! `x` to the right, `z` up, and one looks along `y`: what has less `y` is in
//! front. Of endless strands one sees the stretch between two level cuts, one
//! rise of the cell apart; above it the points of the cut are turned back by
//! the turn of the cell, as whole, and so meet the points of the lower cut.
//! Closed strands are seen whole.
//!
//! A *line* is a piece of a curve that only rises or only falls, between the
//! cuts. Curves may fall as they please; where none does, neighbours change places,
//! as in a [word](Crossings::of_word).
//!
//! Curves lie in general position for a random direction. Every node is
//! therefore moved by a billionth of the whole, always by the same: far less
//! than any tube is thick, far more than the rounding.

use std::f64::consts::{FRAC_PI_2, PI};

use super::pieces::{Curve, Join, Piece, pieces_of_closed, pieces_of_endless, runs};
use crate::mechanics::layout::cycles_of;
use crate::mechanics::tubes::{Ends, Shape, Tubes};

/// A piece of a curve that only rises or only falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Line {
    /// Which strand cycle, or which closed strand.
    pub(super) cycle: usize,
    /// Which strand of its cycle, counted as they continue.
    pub(super) copy: i64,
    pub(super) rises: bool,
}

/// What happens at a height; lines by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Event {
    /// One line passes in front of another; `right` if, both followed upwards,
    /// the front one passes to the right.
    Cross {
        front: usize,
        back: usize,
        right: bool,
    },
    /// Two lines begin in a lowest place.
    Begin(usize, usize),
    /// Two lines end in a highest place.
    End(usize, usize),
}

/// Signed crossings of curves, from the bottom to the top.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Crossings {
    pub(super) lines: Vec<Line>,
    /// Cells until the strands of each cycle are back; 1 of closed ones.
    pub(super) rounds: Vec<i64>,
    pub(super) events: Vec<Event>,
    /// Lines in the upper cut and those that they go on in, in the lower cut.
    pub(super) joins: Vec<(usize, usize)>,
}

impl Crossings {
    /// The crossings of a shape; none are looked for in a lattice.
    ///
    /// Takes about a third of a microsecond for each node.
    pub fn seen(tubes: &Tubes, shape: &Shape) -> Self {
        let curves = match tubes.ends {
            Ends::Screw { .. } => pieces_of_endless(tubes, shape),
            Ends::Closed { cells } => pieces_of_closed(tubes, shape, cells),
            Ends::Lattice { .. } => Vec::new(),
        };
        let runs = runs(&curves);
        let mut events: Vec<(f64, Event)> = runs.turns.clone();
        crossings_of(&runs.pieces, &mut events);
        events.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut events: Vec<Event> = events.into_iter().map(|(_, event)| event).collect();
        events.extend(turned_back(&runs.joins, shape.turn));
        Self {
            joins: runs.joins.iter().map(|j| (j.above, j.below)).collect(),
            lines: runs.lines,
            rounds: curves.iter().map(Curve::cells).collect(),
            events,
        }
    }

    /// The crossings of curves that only rise while neighbours change places.
    ///
    /// `order` tells for each place, from left to right, the strand that stands
    /// there at the bottom; at the top it stands in the place of the strand it
    /// continues. `letters` are the changes upwards: `k` if of the places `k` and
    /// `k + 1`, counted from 1, the left one passes in front, `-k` if the right one
    /// does.
    ///
    /// `None` if a letter names a place that is not there, or the strands do not
    /// come to stand where they continue.
    pub fn of_word(continues: &[usize], order: &[usize], letters: &[i32]) -> Option<Self> {
        let mut places: Vec<usize> = (0..order.len()).collect();
        let mut events = Vec::with_capacity(letters.len());
        for &letter in letters {
            let left = (letter.unsigned_abs() as usize).checked_sub(1)?;
            let (a, b) = (*places.get(left)?, *places.get(left + 1)?);
            let right = letter > 0;
            let (front, back) = if right { (a, b) } else { (b, a) };
            events.push(Event::Cross { front, back, right });
            places.swap(left, left + 1);
        }
        let stands = |(&line, strand): (&usize, &usize)| continues.get(order[line]) == Some(strand);
        if !places.iter().zip(order).all(stands) {
            return None;
        }
        let cycles = cycles_of(continues);
        let lines: Option<Vec<Line>> = order.iter().map(|&s| line_of(&cycles, s)).collect();
        Some(Self {
            lines: lines?,
            rounds: cycles.iter().map(|cycle| cycle.len() as i64).collect(),
            events,
            joins: places.iter().copied().zip(0..order.len()).collect(),
        })
    }

    /// Right-handed crossings of different strands less left-handed ones.
    ///
    /// What a strand crosses itself counts nothing, so that no kink does.
    pub fn writhe(&self) -> i32 {
        let sign = |(a, b, sign): (Line, Line, i32)| {
            i32::from((a.cycle, a.copy) != (b.cycle, b.copy)) * sign
        };
        self.signed().map(sign).sum()
    }

    /// The two lines of every crossing, and 1 if it is right-handed, -1 if not.
    pub(super) fn signed(&self) -> impl Iterator<Item = (Line, Line, i32)> {
        self.events.iter().filter_map(|event| match *event {
            Event::Cross { front, back, right } => {
                let (a, b) = (self.lines[front], self.lines[back]);
                let along = a.rises == b.rises;
                Some((a, b, if right == along { 1 } else { -1 }))
            }
            Event::Begin(..) | Event::End(..) => None,
        })
    }

    /// Number of strands that pass a cut, one up and one down counting nothing.
    pub fn strands(&self) -> usize {
        let up = |&&(above, _): &&(usize, usize)| self.lines[above].rises;
        let ups = self.joins.iter().filter(up).count();
        (2 * ups).saturating_sub(self.joins.len())
    }
}

/// A strand that rises all the way.
fn line_of(cycles: &[Vec<usize>], strand: usize) -> Option<Line> {
    let place = |cycle: &Vec<usize>| cycle.iter().position(|&other| other == strand);
    cycles.iter().enumerate().find_map(|(cycle, strands)| {
        place(strands).map(|copy| Line {
            cycle,
            copy: copy as i64,
            rises: true,
        })
    })
}

/// The crossings of the points of the upper cut as they are turned back about
/// the z axis.
fn turned_back(joins: &[Join], turn: f64) -> Vec<Event> {
    let mut events = Vec::new();
    // Turned clockwise, whatever is in front passes to the left.
    let right = turn < 0.0;
    for (number, one) in joins.iter().enumerate() {
        for other in &joins[..number] {
            let angle = (other.at[1] - one.at[1]).atan2(other.at[0] - one.at[0]);
            let sense = if right { 1.0 } else { -1.0 };
            // How far until one stands before the other, then every half turn.
            let mut way = (sense * (FRAC_PI_2 - angle)).rem_euclid(PI);
            while way < turn.abs() {
                let behind = (angle + sense * way).sin() > 0.0;
                let (front, back) = if behind { (one, other) } else { (other, one) };
                let (front, back) = (front.above, back.above);
                events.push((way, Event::Cross { front, back, right }));
                way += PI;
            }
        }
    }
    events.sort_by(|a, b| a.0.total_cmp(&b.0));
    events.into_iter().map(|(_, event)| event).collect()
}

/// Every crossing of two pieces. By height, since only pieces at about the same
/// height can cross.
fn crossings_of(pieces: &[Piece], events: &mut Vec<(f64, Event)>) {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|&a, &b| pieces[a].low().total_cmp(&pieces[b].low()));
    let mut near: Vec<usize> = Vec::new();
    for &number in &order {
        let piece = &pieces[number];
        let low = piece.low();
        near.retain(|&other| pieces[other].high() > low);
        for &other in &near {
            if !pieces[other].is_next_to(piece) {
                events.extend(piece.crossing(&pieces[other]));
            }
        }
        near.push(number);
    }
}
