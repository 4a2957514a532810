//! The unrolled surface as a picture: every float a soft cushion in its colour.
//!
//! Round from left to right, upwards from the last row to the first, begun at a height of
//! nought; above a whole repeat comes the next one, turned on as the cord is. How a float
//! is shaded follows from how far a place lies from its edge, so the shading is worked out
//! once for all colours. Which float lies where is the [`Map`]'s; no colour is decided here.

use rayon::prelude::*;

use super::cord::{Encoder, Vec3, linear};
use super::raster::Raster;
use crate::material::Colour;
use crate::surface::{Map, Surface};

/// How far a cushion falls off towards its edge, as a share of the widest float's half width.
/// Tried.
const EDGE: f32 = 0.75;
/// Light at the edge of a cushion, and how much more on its upper flank. Tried.
const DARK: f32 = 0.52;
const GLEAM: f32 = 0.34;
/// Width over which the ridge of a cushion is rounded, as a share of its half width. Tried.
const RIDGE: f32 = 0.22;
/// Light in a gap.
const GAP: f32 = 0.22;

/// The unrolled surface made ready to be coloured again and again.
#[derive(Debug, Clone)]
pub struct Relief {
    map: Map,
    /// Pixels down.
    height: usize,
    /// Pixels that a repeat above lies turned on.
    turn: i64,
    /// Pixels of the surface at the lower left corner.
    corner: [i64; 2],
    is_mirrored: bool,
    /// Share of a round a pixel is wide, mm it is high.
    pixel: [f64; 2],
    /// Light at each pixel of the repeat.
    light: Vec<f32>,
}

/// A place of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// The float there, none in a gap.
    pub float: Option<usize>,
    /// Share of a round, from 0 to 1.
    pub round: f64,
    /// Height from the foot of the picture, mm.
    pub height_mm: f64,
}

impl Relief {
    /// A picture of so many pixels across and down; a millimetre is as long both ways.
    /// `corner` is the place at its lower left, share of a round and mm; `is_mirrored` shows
    /// it from there on the other way round, as the cord in a mirror.
    pub fn new(
        surface: &Surface,
        [width, height]: [usize; 2],
        corner: [f64; 2],
        is_mirrored: bool,
    ) -> Self {
        let width = width.clamp(16, 2_048);
        let height = height.clamp(16, 4_096);
        let mm = surface.girth_mm / width as f64;
        let repeat = (surface.repeat_mm / mm).round().max(1.0) as usize;
        let map = Map::new(surface, width, repeat);
        let turn = (surface.repeat_turn * width as f64).round() as i64;
        let mut relief = Self {
            light: Vec::new(),
            pixel: [1.0 / width as f64, surface.repeat_mm / map.height as f64],
            corner: [corner[0] * width as f64, corner[1] / mm].map(|v| v.round() as i64),
            is_mirrored,
            map,
            height,
            turn,
        };
        relief.light = relief.shaded();
        relief
    }

    /// Pixels across and down.
    pub fn size(&self) -> [usize; 2] {
        [self.map.width, self.height]
    }

    /// What lies at a pixel, from the left and from the top.
    pub fn place(&self, x: usize, y: usize) -> Place {
        let (across, row) = self.folded(x as i64, y as i64);
        let float = self.float(across, row);
        Place {
            float,
            round: (x as f64 + 0.5) * self.pixel[0],
            height_mm: (self.height as f64 - y as f64 - 0.5) * self.pixel[1],
        }
    }

    /// The picture; `colour` tells the colour of a place, and none is left clear.
    pub fn picture(&self, colour: impl Fn(Place) -> Option<Colour> + Sync) -> Raster {
        let width = self.map.width;
        let encoder = Encoder::new();
        let mut rgba = vec![0; 4 * width * self.height];
        rgba.par_chunks_mut(4 * width)
            .enumerate()
            .for_each(|(y, row)| {
                let mut last = (Colour::BLACK, Vec3::ZERO);
                for (x, pixel) in row.chunks_exact_mut(4).enumerate() {
                    let Some(colour) = colour(self.place(x, y)) else {
                        continue;
                    };
                    if colour != last.0 {
                        last = (colour, linear(colour));
                    }
                    let (across, up) = self.folded(x as i64, y as i64);
                    let [r, g, b] = encoder.bytes(last.1 * self.light[up * width + across]);
                    pixel.copy_from_slice(&[r, g, b, 255]);
                }
            });
        Raster {
            width,
            height: self.height,
            rgba,
        }
    }

    fn float(&self, x: usize, row: usize) -> Option<usize> {
        self.map.float(x, row)
    }

    /// The pixel of the repeat that a pixel of the picture shows.
    fn folded(&self, x: i64, y: i64) -> (usize, usize) {
        let (width, repeat) = (self.map.width as i64, self.map.height as i64);
        let up = self.height as i64 - 1 - y + self.corner[1];
        let level = up.div_euclid(repeat);
        let row = repeat - 1 - up.rem_euclid(repeat);
        let x = if self.is_mirrored { -1 - x } else { x } + self.corner[0];
        (
            (x - self.turn * level).rem_euclid(width) as usize,
            row as usize,
        )
    }

    /// Light at every pixel of the repeat.
    fn shaded(&self) -> Vec<f32> {
        let (width, repeat) = (self.map.width, self.map.height);
        let away = self.to_the_edge();
        let most = away.iter().copied().fold(1.0, f32::max);
        // Without the sharp ridge that distances have in the middle.
        let away = (0..2).fold(away, |away, _| self.softened(&away, (most * RIDGE) as i64));
        let rise = |at: usize| (away[at] / (EDGE * most)).min(1.0);
        let light = |at: usize| {
            let (x, row) = (at % width, at / width);
            if self.map.float(x, row).is_none() {
                return GAP;
            }
            // The lamp stands at the upper left: the flank that falls that way gleams.
            let (left, under) = (self.next(x, row, -2, -2), self.next(x, row, 2, 2));
            let slope = (rise(under) - rise(left)) * most * 0.2;
            let round = (rise(at) * (2.0 - rise(at))).max(0.0);
            DARK + (1.0 - DARK) * round.sqrt() + GLEAM * slope.clamp(-0.6, 0.6) * round
        };
        (0..width * repeat).into_par_iter().map(light).collect()
    }

    /// Figures at the pixels, each the mean of those so far round about.
    fn softened(&self, values: &[f32], reach: i64) -> Vec<f32> {
        let across = self.mean(values, reach, |k| (k, 0));
        self.mean(&across, reach, |k| (0, k))
    }

    fn mean(&self, values: &[f32], reach: i64, way: impl Fn(i64) -> (i64, i64) + Sync) -> Vec<f32> {
        let width = self.map.width;
        let mean = |at: usize| {
            let near = (-reach..=reach).map(|k| {
                let (right, down) = way(k);
                values[self.next(at % width, at / width, right, down)]
            });
            near.sum::<f32>() / (2 * reach + 1) as f32
        };
        (0..values.len()).into_par_iter().map(mean).collect()
    }

    /// The pixel of the repeat some steps right and down.
    fn next(&self, x: usize, row: usize, right: i64, down: i64) -> usize {
        let (width, repeat) = (self.map.width as i64, self.map.height as i64);
        let up = repeat - 1 - row as i64 - down;
        let level = up.div_euclid(repeat);
        let row = repeat - 1 - up.rem_euclid(repeat);
        let x = (x as i64 + right - self.turn * level).rem_euclid(width);
        (row * width + x) as usize
    }

    /// How far each pixel lies from another float, pixels: distances along eight ways,
    /// carried from pixel to pixel until nothing grows shorter (after Borgefors 1986).
    fn to_the_edge(&self) -> Vec<f32> {
        const WAYS: [(i64, i64, f32); 4] =
            [(-1, 0, 1.0), (0, -1, 1.0), (-1, -1, 1.414), (1, -1, 1.414)];
        let (width, repeat) = (self.map.width, self.map.height);
        let mut away = vec![f32::MAX; width * repeat];
        // Twice round, for what lies over the seams.
        for pass in 0..4 {
            let back = pass % 2 == 1;
            for k in 0..away.len() {
                let at = if back { away.len() - 1 - k } else { k };
                let (x, row) = (at % width, at / width);
                for (right, down, far) in WAYS {
                    let sign = if back { -1 } else { 1 };
                    let other = self.next(x, row, sign * right, sign * down);
                    let is_same = self.map.floats[other] == self.map.floats[at];
                    let here = if is_same {
                        away[other] + far
                    } else {
                        0.5 * far
                    };
                    away[at] = away[at].min(here);
                }
            }
        }
        away
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    const SIZE: [usize; 2] = [90, 150];

    fn surface() -> Surface {
        Surface::new(&rope(4, 24, 2.0)).unwrap()
    }

    /// The float of the surface at a place of a relief, and whether nothing else is near.
    fn beneath(surface: &Surface, [round, height]: [f64; 2]) -> (Option<usize>, bool) {
        let float = |dx: f64, dy: f64| surface.float_at(round + dx / 90.0, height + dy * 0.1);
        let here = float(0.0, 0.0);
        let near = [(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];
        (here, near.iter().all(|&(x, y)| float(x, y) == here))
    }

    #[test]
    fn every_place_shows_the_float_of_the_surface_there_repeat_after_repeat() {
        let surface = surface();
        let relief = Relief::new(&surface, SIZE, [0.0; 2], false);
        let mut seen = 0;
        for (x, y) in (0..90).flat_map(|x| (0..150).map(move |y| (x, y))) {
            let place = relief.place(x, y);
            let (float, is_clear) = beneath(&surface, [place.round, place.height_mm]);
            if is_clear {
                assert_eq!(place.float, float, "{x}, {y}");
                seen += 1;
            }
        }
        assert!(seen > 9_000, "{seen}");
        assert!(relief.place(0, 0).height_mm > 1.5 * surface.repeat_mm);
    }

    #[test]
    fn in_a_mirror_the_surface_runs_the_other_way_from_its_corner() {
        let surface = surface();
        let relief = Relief::new(&surface, SIZE, [0.3, 1.0], true);
        for (x, y) in (0..90)
            .step_by(7)
            .flat_map(|x| (0..150).step_by(11).map(move |y| (x, y)))
        {
            let place = relief.place(x, y);
            let there = [0.3 - place.round, 1.0 + place.height_mm];
            let (float, is_clear) = beneath(&surface, there);
            assert!(!is_clear || place.float == float, "{x}, {y}");
        }
    }

    #[test]
    fn a_float_is_darker_at_its_edge_and_clear_where_no_colour_is_told() {
        let surface = surface();
        let relief = Relief::new(&surface, SIZE, [0.0; 2], false);
        let grey = Colour([200; 3]);
        let picture = relief.picture(|place| (place.float == Some(0)).then_some(grey));
        let levels: Vec<u8> = picture
            .rgba
            .chunks(4)
            .filter(|p| p[3] > 0)
            .map(|p| p[0])
            .collect();
        let all = picture.rgba.len() / 4;
        assert!(
            !levels.is_empty() && levels.len() < all,
            "{} of {all}",
            levels.len()
        );
        let (low, high) = (levels.iter().min().unwrap(), levels.iter().max().unwrap());
        assert!(*low < 180 && *high > 195, "{low} to {high}");
    }
}
