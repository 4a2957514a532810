//! A raster of the unrolled surface.

use rayon::prelude::*;

use super::floats::Surface;

/// One whole repeat of a surface as a raster: round from left to right, upwards from the
/// last row to the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Map {
    /// Pixels once round.
    pub width: usize,
    /// Pixels from the bottom to the top of the repeat.
    pub height: usize,
    /// The float at each pixel's middle, row by row from the top; [`Map::GAP`] in gaps.
    pub floats: Vec<u32>,
}

/// Most pixels along a side.
const MOST_SIDE: usize = 8_192;

impl Map {
    /// What stands for no float.
    pub const GAP: u32 = u32::MAX;

    /// The floats of the whole repeat at this size, by their outlines.
    pub fn new(surface: &Surface, width: usize, height: usize) -> Self {
        let (width, height) = (width.clamp(1, MOST_SIDE), height.clamp(1, MOST_SIDE));
        let row = |y: usize| {
            let up = (height - 1 - y) as f64 + 0.5;
            surface.scan(width, surface.repeat_mm * up / height as f64)
        };
        let rows: Vec<Vec<u32>> = (0..height).into_par_iter().map(row).collect();
        Self {
            width,
            height,
            floats: rows.concat(),
        }
    }

    /// The float at a pixel, from the left and from the top.
    pub fn float(&self, x: usize, y: usize) -> Option<usize> {
        let at = self
            .floats
            .get(y * self.width + x)
            .filter(|_| x < self.width)?;
        (*at != Self::GAP).then_some(*at as usize)
    }
}

impl Surface {
    /// The floats along a height, at the middles of pixels once round.
    fn scan(&self, width: usize, height_mm: f64) -> Vec<u32> {
        let mut row = vec![Map::GAP; width];
        for (number, float) in self.floats.iter().enumerate() {
            let low = float.outline.iter().map(|p| p[1]).fold(f64::MAX, f64::min);
            let high = float.outline.iter().map(|p| p[1]).fold(f64::MIN, f64::max);
            let first = ((height_mm - high) / self.repeat_mm).ceil() as i64;
            let last = ((height_mm - low) / self.repeat_mm).floor() as i64;
            for up in first..=last {
                let height = height_mm - self.repeat_mm * up as f64;
                let mut passes = float.passes(height);
                passes.sort_by(f64::total_cmp);
                for pair in passes.chunks_exact(2) {
                    let begin = |share: f64| {
                        ((share + self.repeat_turn * up as f64) * width as f64 - 0.5).ceil() as i64
                    };
                    for x in begin(pair[0])..begin(pair[1]) {
                        row[x.rem_euclid(width as i64) as usize] = number as u32;
                    }
                }
            }
        }
        row
    }
}
