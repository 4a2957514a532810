//! Pictures of one figure a pixel: depths, occlusion, shadow.

use rayon::prelude::*;

/// A figure for every pixel, row by row.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) values: Vec<f32>,
}

/// Columns summed together when blurring up and down.
const STRIP: usize = 128;

impl Plane {
    pub(crate) fn filled(width: usize, height: usize, value: f32) -> Self {
        Self {
            width,
            height,
            values: vec![value; width * height],
        }
    }

    #[inline]
    pub(crate) fn at(&self, x: usize, y: usize) -> f32 {
        self.values[y * self.width + x]
    }

    /// Half the size, each value the mean of four.
    pub(crate) fn halved(&self) -> Self {
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        let mut half = Self::filled(width, height, 0.0);
        half.values
            .par_chunks_mut(width.max(1))
            .enumerate()
            .for_each(|(y, row)| {
                let (a, b) = (2 * y, (2 * y + 1).min(self.height - 1));
                for (x, v) in row.iter_mut().enumerate() {
                    let (l, r) = (2 * x, (2 * x + 1).min(self.width - 1));
                    *v = 0.25 * (self.at(l, a) + self.at(r, a) + self.at(l, b) + self.at(r, b));
                }
            });
        half
    }

    /// Twice the size, smoothly, cut to `width` by `height`.
    pub(crate) fn doubled(&self, width: usize, height: usize) -> Self {
        let mut big = Self::filled(width, height, 0.0);
        big.values
            .par_chunks_mut(width.max(1))
            .enumerate()
            .for_each(|(y, row)| {
                let (a, b, t) = between(y, self.height);
                for (x, v) in row.iter_mut().enumerate() {
                    let (l, r, s) = between(x, self.width);
                    let upper = self.at(l, a) + (self.at(r, a) - self.at(l, a)) * s;
                    let lower = self.at(l, b) + (self.at(r, b) - self.at(l, b)) * s;
                    *v = upper + (lower - upper) * t;
                }
            });
        big
    }

    /// Mean over a square of `2 r + 1` pixels; beyond the sides the edge goes
    /// on, above and below lies `outside`.
    pub(crate) fn blurred(&self, r: usize, outside: f32) -> Self {
        let mut across = self.clone();
        across
            .values
            .par_chunks_mut(self.width.max(1))
            .zip(self.values.par_chunks(self.width.max(1)))
            .for_each(|(to, from)| blur_row(from, to, r));
        across.blurred_down(r, outside)
    }

    fn blurred_down(&self, r: usize, outside: f32) -> Self {
        let strips: Vec<Vec<f32>> = (0..self.width.div_ceil(STRIP))
            .into_par_iter()
            .map(|i| self.blurred_strip(i * STRIP, r, outside))
            .collect();
        let mut out = self.clone();
        out.values
            .par_chunks_mut(self.width.max(1))
            .enumerate()
            .for_each(|(y, row)| {
                for (to, strip) in row.chunks_mut(STRIP).zip(&strips) {
                    let n = to.len();
                    to.copy_from_slice(&strip[y * n..(y + 1) * n]);
                }
            });
        out
    }

    fn blurred_strip(&self, x0: usize, r: usize, outside: f32) -> Vec<f32> {
        let n = STRIP.min(self.width - x0);
        let edge = vec![outside; n];
        let row = |y: isize| match usize::try_from(y) {
            Ok(y) if y < self.height => &self.values[y * self.width + x0..][..n],
            _ => &edge[..],
        };
        let mut sum = vec![0.0; n];
        let add = |sum: &mut [f32], y: isize, sign: f32| {
            for (s, v) in sum.iter_mut().zip(row(y)) {
                *s += sign * v;
            }
        };
        let r = r as isize;
        for y in -r..=r {
            add(&mut sum, y, 1.0);
        }
        let scale = 1.0 / (2 * r + 1) as f32;
        let mut out = Vec::with_capacity(n * self.height);
        for y in 0..self.height as isize {
            out.extend(sum.iter().map(|s| s * scale));
            add(&mut sum, y + r + 1, 1.0);
            add(&mut sum, y - r, -1.0);
        }
        out
    }
}

/// The two places of a picture half the size between which `x` lies, and how
/// far towards the second.
pub(crate) fn between(x: usize, size: usize) -> (usize, usize, f32) {
    let f = (x as f32 - 0.5) * 0.5;
    let a = (f.max(0.0) as usize).min(size - 1);
    (a, (a + 1).min(size - 1), (f - a as f32).clamp(0.0, 1.0))
}

fn blur_row(from: &[f32], to: &mut [f32], r: usize) {
    let last = from.len() as isize - 1;
    let at = |x: isize| from[x.clamp(0, last) as usize];
    let r = r as isize;
    let mut sum: f32 = (-r..=r).map(at).sum();
    let scale = 1.0 / (2 * r + 1) as f32;
    for (x, v) in to.iter_mut().enumerate() {
        let x = x as isize;
        *v = sum * scale;
        sum += at(x + r + 1) - at(x - r);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_picture_stays_even() {
        let even = Plane::filled(37, 21, 2.5);
        let blurred = even.blurred(6, 2.5);
        let again = even.halved().doubled(37, 21);
        for v in blurred.values.iter().chain(&again.values) {
            assert!((v - 2.5).abs() < 1e-4, "{v}");
        }
    }

    #[test]
    fn blurring_agrees_with_the_plain_mean() {
        let (w, h, r) = (150, 9, 2_isize);
        let mut plane = Plane::filled(w, h, 0.0);
        for (i, v) in plane.values.iter_mut().enumerate() {
            *v = ((i * 7919) % 101) as f32;
        }
        let blurred = plane.blurred(r as usize, -3.0);
        for (x, y) in [(0, 0), (149, 8), (70, 4), (128, 1)] {
            let mut sum = 0.0;
            for (dy, dx) in (-r..=r).flat_map(|a| (-r..=r).map(move |b| (a, b))) {
                let yy = y as isize + dy;
                let xx = (x as isize + dx).clamp(0, w as isize - 1) as usize;
                let inside = (0..h as isize).contains(&yy);
                sum += if inside {
                    plane.at(xx, yy as usize)
                } else {
                    -3.0
                };
            }
            let mean = sum / 25.0;
            assert!((blurred.at(x, y) - mean).abs() < 1e-2, "{x} {y}");
        }
    }
}
