//! What the cord lies on, and the cord's shadow there.

use rayon::prelude::*;

use super::layer::{Layer, Pixel, clear_bytes, solid_bytes};
use super::light::{Encoder, linear};
use super::noise::Noise;
use super::plane::Plane;
use super::vector::{Vec3, vec3};
use super::visibility::Sight;
use crate::drawing::view::Ground;
use crate::material::Colour;

/// The ground without the cord, made once for a size.
#[derive(Debug, Clone)]
pub(crate) struct Cloth {
    pub(crate) width: usize,
    pub(crate) height: usize,
    ground: Ground,
    /// Finished pixels; nought where the ground is clear.
    pub(crate) bytes: Vec<u8>,
}

/// Threads after which the weave repeats: two along, two across, each lying
/// on top for half its way.
const TILE: f32 = 6.0;

/// Share of the second colour in a thread that stands out.
const STANDS_OUT: f32 = 0.75;

impl Cloth {
    pub(crate) fn new(ground: &Ground, width: usize, height: usize) -> Self {
        let mut cloth = Self {
            width,
            height,
            ground: *ground,
            bytes: vec![0; 4 * width * height],
        };
        match *ground {
            Ground::Clear => {}
            Ground::Plain { colour, .. } => {
                let [r, g, b] = colour.0;
                for to in cloth.bytes.chunks_exact_mut(4) {
                    to.copy_from_slice(&[r, g, b, 255]);
                }
            }
            Ground::Skin { colour, grain, .. } => {
                let grain = if grain.is_finite() { grain } else { 1.0 };
                let skin = Skin {
                    noise: Noise::new(),
                    colour: linear(colour),
                    grain: grain.clamp(0.25, 64.0) as f32,
                };
                cover(width, &mut cloth.bytes, |x, y| skin.at(x, y));
            }
            Ground::Linen {
                colour,
                weave,
                thread,
                ..
            } => {
                let thread = if thread.is_finite() { thread } else { 1.0 };
                let linen = Linen {
                    noise: Noise::new(),
                    colour: linear(colour),
                    weave: linear(weave),
                    thread: thread.clamp(0.25, 64.0) as f32,
                };
                cover(width, &mut cloth.bytes, |x, y| linen.at(x, y));
            }
        }
        cloth
    }

    /// Whether this is that ground at that size.
    pub(crate) fn fits(&self, ground: &Ground, width: usize, height: usize) -> bool {
        self.ground == *ground && self.width == width && self.height == height
    }

    /// Bytes of a pixel of the cord, given those of the ground behind it.
    #[inline]
    pub(crate) fn behind(&self, encoder: Encoder, pixel: &Pixel, ground: &[u8]) -> [u8; 4] {
        if self.ground == Ground::Clear {
            return clear_bytes(encoder, pixel);
        }
        let colour = Colour([ground[0], ground[1], ground[2]]);
        solid_bytes(encoder, pixel, linear(colour))
    }
}

/// Pixels by the light that comes from each.
fn cover(width: usize, bytes: &mut [u8], at: impl Fn(f32, f32) -> Vec3 + Sync) {
    let encoder = Encoder::new();
    let rows = bytes.par_chunks_mut(4 * width).enumerate();
    rows.for_each(|(y, row)| {
        for (x, to) in row.chunks_exact_mut(4).enumerate() {
            let light = at(x as f32 + 0.5, y as f32 + 0.5);
            to.copy_from_slice(&solid_bytes(encoder, &Pixel::default(), light));
        }
    });
}

struct Skin {
    noise: Noise,
    colour: Vec3,
    grain: f32,
}

impl Skin {
    /// The shares are tried: less looks like paint, more like leather.
    fn at(&self, x: f32, y: f32) -> Vec3 {
        let (u, v) = (x / self.grain, y / self.grain);
        let grain = self.noise.at(0.8 * u + 0.3 * v, 0.8 * v - 0.3 * u);
        let pores = (self.noise.at(0.9 * v + 71.0, 0.9 * u - 19.0) - 0.45).max(0.0);
        let cloud = self.noise.at(0.013 * u, 0.017 * v);
        let blush = self.noise.at(0.021 * u + 40.0, 0.019 * v + 7.0);
        let light = 1.0 + 0.022 * grain - 0.09 * pores + 0.03 * cloud;
        let red = vec3(0.012, -0.008, -0.010) * blush;
        (self.colour
            + vec3(
                red.x * self.colour.x,
                red.y * self.colour.y,
                red.z * self.colour.z,
            ))
            * light
    }
}

struct Linen {
    noise: Noise,
    colour: Vec3,
    weave: Vec3,
    thread: f32,
}

impl Linen {
    fn at(&self, x: f32, y: f32) -> Vec3 {
        let (u, v) = (x / self.thread, y / self.thread);
        // Slubs: threads swell and shrink along their way.
        let along = 0.5 + 0.5 * self.noise.at(u * 0.07, (v / 3.0).floor() * 0.77);
        let across = 0.5 + 0.5 * self.noise.at((u / 3.0).floor() * 0.77 + 31.0, v * 0.07);
        let lifted =
            thread(u, v) * (0.55 + 0.6 * along) + thread(v + 3.0, u) * (0.55 + 0.6 * across);
        let slow = 1.0 + 0.015 * self.noise.at(u * 0.02, v * 0.03);
        self.colour
            .towards(self.weave, STANDS_OUT * lifted.min(1.0))
            * slow
    }
}

/// How much of a thread along `u` shows at a place: one thread wide in every
/// three, half the tile long, every other one shifted by half.
fn thread(u: f32, v: f32) -> f32 {
    let line = (v / 3.0).floor();
    let shift = if line.rem_euclid(2.0) < 1.0 { 0.0 } else { 3.0 };
    let across = (v - 3.0 * line - 1.5).abs();
    let along = ((u + shift).rem_euclid(TILE) - 1.5).abs();
    let cover = |d: f32, half: f32| (half + 0.5 - d).clamp(0.0, 1.0);
    cover(across, 0.5) * cover(along, 1.5)
}

/// The cord's shadow on the ground: its outline, blurred and moved down.
///
/// Two shades: one close by where the cord touches, one wide and soft. Their
/// sizes are shares of the cord's thickness; tried.
pub(crate) struct Shade {
    close: Plane,
    wide: Plane,
    close_down: isize,
    wide_down: isize,
    top: usize,
    cell: usize,
    strength: f32,
}

/// Strength of the shadow asked for, 0 to 1.
fn strength(ground: &Ground) -> f32 {
    match *ground {
        Ground::Clear => 0.0,
        Ground::Plain { shadow, .. }
        | Ground::Skin { shadow, .. }
        | Ground::Linen { shadow, .. } => {
            if shadow.is_finite() {
                shadow.clamp(0.0, 1.0) as f32
            } else {
                0.0
            }
        }
    }
}

impl Shade {
    /// The shade of a cord of this thickness, pixels; worked out on cells of
    /// several pixels.
    pub(crate) fn new(
        sight: &Sight,
        width: usize,
        height: usize,
        thick: f32,
        ground: &Ground,
    ) -> Option<Self> {
        let strength = strength(ground);
        if strength <= 0.0 || sight.rows() == 0 {
            return None;
        }
        let cell = ((thick / 24.0) as usize).clamp(1, 16);
        let reach = (0.5 * thick).ceil() as usize + cell;
        let top = sight.top.saturating_sub(reach);
        let bottom = (sight.bottom + reach + (0.25 * thick) as usize).min(height);
        let outline = outline(sight, width, (top, bottom), cell);
        let size = |share: f32| ((share * thick / cell as f32).round() as usize).clamp(1, 512);
        let soft = |share: f32| {
            let r = size(share);
            outline.blurred(r, 0.0).blurred(r, 0.0)
        };
        let down = |share: f32| (share * thick / cell as f32).round() as isize;
        Some(Self {
            close: soft(0.03),
            wide: soft(0.11),
            close_down: down(0.045),
            wide_down: down(0.14),
            top,
            cell,
            strength,
        })
    }

    /// First row with a shadow.
    pub(crate) fn top(&self) -> usize {
        self.top
    }

    /// Row after the last with a shadow.
    pub(crate) fn bottom(&self) -> usize {
        self.top + self.close.height * self.cell
    }

    /// Share of the ground's light that the shadow takes, along a row.
    fn row(&self, y: usize, row: &mut [Pixel]) {
        let f = 1.0 / self.cell as f32;
        let v = ((y - self.top) as f32 + 0.5) * f - 0.5;
        let close = row_between(&self.close, v - self.close_down as f32);
        let wide = row_between(&self.wide, v - self.wide_down as f32);
        let both = |(c, w): (f32, f32)| self.strength * (1.0 - (1.0 - 0.70 * c) * (1.0 - w));
        let cells: Vec<f32> = close.zip(wide).map(both).collect();
        let last = cells.len() - 1;
        for (x, to) in row.iter_mut().enumerate() {
            let u = ((x as f32 + 0.5) * f - 0.5).max(0.0);
            let i = (u as usize).min(last);
            let (a, b) = (cells[i], cells[(i + 1).min(last)]);
            to.cover = a + (b - a) * (u - i as f32);
        }
    }
}

/// A row between those of a plane; nothing lies above and below.
fn row_between(plane: &Plane, y: f32) -> impl Iterator<Item = f32> {
    let row = y.floor();
    let part = y - row;
    let value = move |x: usize, row: f32| {
        let inside = row >= 0.0 && row < plane.height as f32;
        if inside {
            plane.at(x, row as usize)
        } else {
            0.0
        }
    };
    (0..plane.width).map(move |x| value(x, row) * (1.0 - part) + value(x, row + 1.0) * part)
}

/// Where the cord covers the ground, in cells of pixels.
fn outline(sight: &Sight, width: usize, (top, bottom): (usize, usize), cell: usize) -> Plane {
    let across = width.div_ceil(cell);
    let mut plane = Plane::filled(across, (bottom - top).div_ceil(cell), 0.0);
    plane
        .values
        .par_chunks_mut(across)
        .enumerate()
        .for_each(|(j, row)| {
            let y = top + j * cell + cell / 2;
            if y < sight.top || y >= sight.bottom {
                return;
            }
            for (i, to) in row.iter_mut().enumerate() {
                let x = (i * cell + cell / 2).min(width - 1);
                *to = f32::from(u8::from(sight.covers(x, y)));
            }
        });
    plane
}

/// The rows of a layer for the cord and its shadow, the shadow already there.
pub(crate) fn shaded_layer(
    sight: &Sight,
    width: usize,
    height: usize,
    shade: Option<&Shade>,
    margin: usize,
) -> Layer {
    let mut top = sight.top.saturating_sub(margin);
    let mut bottom = (sight.bottom + margin).min(height);
    if let Some(shade) = shade {
        top = top.min(shade.top());
        bottom = bottom.max(shade.bottom().min(height));
    }
    let mut pixels = vec![Pixel::default(); width * (bottom - top)];
    if let Some(shade) = shade {
        pixels
            .par_chunks_mut(width)
            .enumerate()
            .for_each(|(j, row)| {
                let y = top + j;
                if y < shade.top() {
                    return;
                }
                shade.row(y, row);
            });
    }
    Layer { width, top, pixels }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINEN: Ground = Ground::Linen {
        colour: Colour([227, 218, 202]),
        weave: Colour([180, 160, 140]),
        thread: 2.0,
        shadow: 0.5,
    };

    #[test]
    fn linen_lies_between_its_two_colours_and_shows_both() {
        let cloth = Cloth::new(&LINEN, 120, 60);
        let green: Vec<u8> = cloth.bytes.chunks_exact(4).map(|p| p[1]).collect();
        let (low, high) = (green.iter().min().unwrap(), green.iter().max().unwrap());
        assert!(*low >= 160 && *low < 190, "{low}");
        assert!(*high <= 221 && *high > 212, "{high}");
    }

    #[test]
    fn skin_is_uneven_but_keeps_its_colour() {
        let skin = Ground::Skin {
            colour: Colour([165, 126, 103]),
            grain: 2.2,
            shadow: 0.4,
        };
        let cloth = Cloth::new(&skin, 400, 200);
        let of = |channel: usize| {
            cloth
                .bytes
                .chunks_exact(4)
                .map(move |p| f64::from(p[channel]))
        };
        for (channel, wanted) in [165.0, 126.0, 103.0].into_iter().enumerate() {
            let mean = of(channel).sum::<f64>() / 80_000.0;
            assert!((mean - wanted).abs() < 2.5, "{channel}: {mean}");
            let (low, high) =
                of(channel).fold((255.0, 0.0), |(a, b): (f64, f64), v| (a.min(v), b.max(v)));
            assert!(high - low > 3.0 && high - low < 30.0, "{low} to {high}");
        }
    }

    #[test]
    fn threads_of_linen_repeat_every_six() {
        for (u, v) in [(0.3, 1.2), (4.4, 1.5), (2.2, 5.0), (5.9, 4.1)] {
            let here = thread(u, v);
            assert!((here - thread(u + 6.0, v)).abs() < 1e-5);
            assert!((here - thread(u, v + 6.0)).abs() < 1e-5);
        }
        assert!(thread(1.5, 1.5) > thread(4.5, 1.5), "half its way below");
        assert!(thread(4.5, 4.5) > thread(1.5, 4.5), "the next one shifted");
    }

    #[test]
    fn a_clear_ground_has_no_bytes_and_no_shadow() {
        let cloth = Cloth::new(&Ground::Clear, 5, 5);
        assert!(cloth.bytes.iter().all(|&b| b == 0));
        assert_eq!(strength(&Ground::Clear), 0.0);
    }

    #[test]
    fn a_strange_thread_width_is_woven_all_the_same() {
        for thread in [0.0, -3.0, f64::NAN, 1e300] {
            let ground = Ground::Linen {
                colour: Colour([1; 3]),
                weave: Colour([9; 3]),
                thread,
                shadow: f64::NAN,
            };
            let cloth = Cloth::new(&ground, 8, 8);
            assert!(
                cloth
                    .bytes
                    .chunks_exact(4)
                    .all(|p| p[0] <= 9 && p[3] == 255)
            );
        }
    }
}
