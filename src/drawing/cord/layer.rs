//! A picture before it is laid on its ground.
//!
//! Four figures a pixel: light already there, and the share of the ground
//! behind that it hides (premultiplied, linear). A shadow hides ground and
//! gives no light, so shadows need no channel of their own.

use rayon::prelude::*;

use super::ground::Cloth;
use super::halo::{HairColour, Halo};
use super::light::Encoder;
use super::plane::between;
use super::vector::Vec3;
use crate::drawing::raster::Raster;

/// Light and cover of a pixel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Pixel {
    pub(crate) light: Vec3,
    pub(crate) cover: f32,
}

impl Pixel {
    fn towards(self, o: Self, t: f32) -> Self {
        Self {
            light: self.light.towards(o.light, t),
            cover: self.cover + (o.cover - self.cover) * t,
        }
    }
}

/// The rows of a picture that are more than ground.
#[derive(Debug, Clone)]
pub(crate) struct Layer {
    pub(crate) width: usize,
    pub(crate) top: usize,
    pub(crate) pixels: Vec<Pixel>,
}

impl Layer {
    fn rows(&self) -> usize {
        self.pixels.len() / self.width
    }

    /// Columns of these pixels, from the left, laid over the rows from `first`.
    pub(crate) fn lay(&mut self, first: usize, rows: usize, columns: &[(usize, Vec<Pixel>)]) {
        let body = self.pixels.par_chunks_mut(self.width);
        let body = body.skip(first).take(rows).enumerate();
        body.for_each(|(y, row)| {
            let mut rest = row;
            for (width, pixels) in columns {
                let (to, right) = rest.split_at_mut(*width);
                for (to, pixel) in to.iter_mut().zip(&pixels[y * width..]) {
                    if pixel.cover > 0.0 {
                        to.light = pixel.light;
                        to.cover = pixel.cover + to.cover * (1.0 - pixel.cover);
                    }
                }
                rest = right;
            }
        });
    }

    /// Hairs laid over.
    pub(crate) fn comb(&mut self, halos: &[Halo], colours: &[Vec<HairColour>]) {
        let top = self.top;
        let rows = self.pixels.par_chunks_mut(self.width).enumerate();
        rows.for_each(|(y, row)| {
            for halo in halos {
                halo.lay(top + y, &mut row[halo.x0..], colours);
            }
        });
    }

    /// Twice the size, smoothly, cut to a picture of `width` by `height`.
    pub(crate) fn doubled(&self, width: usize, height: usize) -> Self {
        let top = (2 * self.top).min(height);
        let rows = (2 * self.rows()).min(height - top);
        let mut pixels = vec![Pixel::default(); width * rows];
        pixels
            .par_chunks_mut(width)
            .enumerate()
            .for_each(|(y, row)| {
                let (a, b, t) = between(y, self.rows());
                let upper = &self.pixels[a * self.width..][..self.width];
                let lower = &self.pixels[b * self.width..][..self.width];
                let mixed: Vec<Pixel> = upper
                    .iter()
                    .zip(lower)
                    .map(|(a, b)| a.towards(*b, t))
                    .collect();
                for (x, to) in row.iter_mut().enumerate() {
                    let (l, r, s) = between(x, self.width);
                    *to = mixed[l].towards(mixed[r], s);
                }
            });
        Self { width, top, pixels }
    }

    /// The finished picture: this layer on its ground.
    pub(crate) fn onto(&self, cloth: &Cloth) -> Raster {
        let (width, height) = (cloth.width, cloth.height);
        let encoder = Encoder::new();
        let mut rgba = cloth.bytes.clone();
        let body = &mut rgba[4 * width * self.top..];
        body.par_chunks_mut(4 * width)
            .zip(self.pixels.par_chunks(width))
            .for_each(|(row, pixels)| {
                for (to, pixel) in row.chunks_exact_mut(4).zip(pixels) {
                    if pixel.cover >= 1.0 {
                        let [r, g, b] = encoder.bytes(pixel.light);
                        to.copy_from_slice(&[r, g, b, 255]);
                    } else if pixel.cover > 0.0 {
                        to.copy_from_slice(&cloth.behind(encoder, pixel, to));
                    }
                }
            });
        Raster {
            width,
            height,
            rgba,
        }
    }
}

/// Bytes of a pixel over nothing.
pub(crate) fn clear_bytes(encoder: Encoder, pixel: &Pixel) -> [u8; 4] {
    let cover = pixel.cover.clamp(0.0, 1.0);
    let own = pixel.light * (1.0 / cover.max(1e-6));
    let alpha = (cover * 255.0 + 0.5) as u8;
    let [r, g, b] = encoder.bytes(own);
    [r, g, b, alpha]
}

/// Bytes of a pixel over light of this colour.
#[inline]
pub(crate) fn solid_bytes(encoder: Encoder, pixel: &Pixel, behind: Vec3) -> [u8; 4] {
    let c = pixel.light + behind * (1.0 - pixel.cover);
    let [r, g, b] = encoder.bytes(c);
    [r, g, b, 255]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::vector::vec3;

    #[test]
    fn an_even_layer_stays_even_when_doubled() {
        let even = Pixel {
            light: vec3(0.2, 0.4, 0.6),
            cover: 0.5,
        };
        let layer = Layer {
            width: 5,
            top: 1,
            pixels: vec![even; 15],
        };
        let big = layer.doubled(9, 7);
        assert_eq!((big.width, big.top, big.pixels.len()), (9, 2, 45));
        for p in &big.pixels {
            assert!((p.light - even.light).length() < 1e-6);
        }
    }
}
