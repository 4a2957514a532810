//! The stitches a cord shows, round and round and up and up.
//!
//! A stitch is a float of the unrolled surface: what matters here are its strand, its
//! size, and what it borders on. Places are a share of a round, anticlockwise seen from above, and a height in mm.

use std::collections::BTreeMap;

use crate::surface::{Float, Surface};

/// Another stitch that a stitch borders on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neighbour {
    /// Which stitch of the repeat.
    pub stitch: usize,
    /// How many rounds further on it lies.
    pub rounds: i32,
    /// How many repeats further up it lies.
    pub repeats: i32,
    /// How long the border is, mm.
    pub length: f64,
}

/// A place where a strand shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Stitch {
    /// Its strand.
    pub strand: usize,
    /// Share of a round, and height in mm.
    pub middle: [f64; 2],
    /// Square millimetres.
    pub area: f64,
    /// What it borders on; both sides tell of a border.
    pub beside: Vec<Neighbour>,
}

/// The surface of a cord as stitches that border on one another, until all strands are
/// in their first place again.
#[derive(Debug, Clone, PartialEq)]
pub struct Mosaic {
    /// The stitches of the whole repeat.
    pub stitches: Vec<Stitch>,
    /// Way round the cord, mm.
    pub girth: f64,
    /// Height of the whole repeat, mm.
    pub repeat: f64,
    /// Turn of the whole repeat, share of a round anticlockwise seen from above.
    pub turn: f64,
}

impl Mosaic {
    /// The stitches of an unrolled surface, numbered as its floats.
    pub fn of(surface: &Surface) -> Self {
        let stitches = surface.floats.iter().enumerate();
        Self {
            stitches: stitches
                .map(|(number, float)| stitch(number, float))
                .collect(),
            girth: surface.girth_mm,
            repeat: surface.repeat_mm,
            turn: surface.repeat_turn,
        }
    }

    /// Area of all stitches, mm².
    pub fn area(&self) -> f64 {
        self.stitches.iter().map(|stitch| stitch.area).sum()
    }
}

fn stitch(number: usize, float: &Float) -> Stitch {
    let mut borders: BTreeMap<(usize, i32, i32), f64> = BTreeMap::new();
    for beside in &float.beside {
        let key = (beside.float, beside.rounds, beside.repeats);
        *borders.entry(key).or_default() += beside.length_mm;
    }
    let around = borders.into_iter().map(|(key, length)| Neighbour {
        stitch: key.0,
        rounds: key.1,
        repeats: key.2,
        length,
    });
    // What never ends borders on itself, as firmly as can be.
    let onward = float.endless.map(|[rounds, repeats]| Neighbour {
        stitch: number,
        rounds,
        repeats,
        length: f64::INFINITY,
    });
    Stitch {
        strand: float.strand,
        middle: float.middle,
        area: float.area_mm2,
        beside: around.chain(onward).collect(),
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Stitches in columns and rows, every second column half a row up; `strand` says
    /// which lies in a column and row, the whole is turned by `turn` after so many rows.
    pub(in crate::pattern) fn brickwork(
        [columns, rows]: [usize; 2],
        strand: impl Fn(usize, usize) -> usize,
        turn: f64,
    ) -> Mosaic {
        let (width, height) = (1.0, 2.0);
        let stitch = |column: usize, row: usize| {
            let near = |[right, up]: [i32; 2], length| {
                let (all, high) = (columns as i32, rows as i32);
                let (to, level) = (column as i32 + right, row as i32 + up);
                let stitch = level.rem_euclid(high) * all + to.rem_euclid(all);
                Neighbour {
                    stitch: stitch as usize,
                    rounds: to.div_euclid(all),
                    repeats: level.div_euclid(high),
                    length,
                }
            };
            let is_up = column % 2 == 1;
            let beside = if is_up { [0, 1] } else { [-1, 0] };
            let side = |up: i32| [near([1, up], height / 2.0), near([-1, up], height / 2.0)];
            let ends = [near([0, 1], width), near([0, -1], width)];
            Stitch {
                strand: strand(column, row),
                middle: [
                    column as f64 / columns as f64,
                    height * row as f64 + if is_up { height / 2.0 } else { 0.0 },
                ],
                area: width * height,
                beside: ends
                    .into_iter()
                    .chain(beside.into_iter().flat_map(side))
                    .collect(),
            }
        };
        let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
        Mosaic {
            stitches: places.map(|(column, row)| stitch(column, row)).collect(),
            girth: width * columns as f64,
            repeat: height * rows as f64,
            turn,
        }
    }
}
