//! Repeatable unevenness: whole-number hashes and value noise made of them.
//!
//! Nothing here depends on time or on the order of calls, so a strand looks
//! the same in every picture.

use std::sync::LazyLock;

use super::vector::split;

const SIDE: usize = 256;

static TABLE: LazyLock<[f32; SIDE * SIDE]> =
    LazyLock::new(|| std::array::from_fn(|i| share(i as u32 ^ 0x51ab) * 2.0 - 1.0));

/// Scrambled bits (a multiply and xor-shift mixer, from memory).
#[inline(always)]
pub(crate) fn hash(mut x: u32) -> u32 {
    x ^= x >> 16;
    x = x.wrapping_mul(0x7feb_352d);
    x ^= x >> 15;
    x = x.wrapping_mul(0x846c_a68b);
    x ^ (x >> 16)
}

/// A number from 0 to 1 that belongs to `x`.
#[inline(always)]
pub(crate) fn share(x: u32) -> f32 {
    (hash(x) >> 8) as f32 / 16_777_216.0
}

/// Smooth noise along a line, -1 to 1, one wave in about two.
pub(crate) fn along(s: f32, seed: u32) -> f32 {
    let floor = s.floor();
    let f = s - floor;
    let i = floor as i64 as u32;
    let at = |i: u32| share(i.wrapping_mul(0x9E37_79B9) ^ seed);
    let (a, b) = (at(i), at(i.wrapping_add(1)));
    (a + (b - a) * f * f * (3.0 - 2.0 * f)) * 2.0 - 1.0
}

/// Smooth noise in a plane, -1 to 1, repeating after 256.
#[derive(Clone, Copy)]
pub(crate) struct Noise(&'static [f32; SIDE * SIDE]);

impl Noise {
    pub(crate) fn new() -> Self {
        Self(&TABLE)
    }

    #[inline(always)]
    pub(crate) fn at(self, u: f32, v: f32) -> f32 {
        let ((i, x), (j, y)) = (split(u), split(v));
        let ease = |t: f32| t * t * (3.0 - 2.0 * t);
        let (x, y) = (ease(x), ease(y));
        let (i, j) = (i as usize & 255, j as usize & 255);
        let (right, below) = ((i + 1) & 255, (j + 1) & 255);
        let table = &self.0;
        let row = |j: usize| {
            let (a, b) = (table[j << 8 | i], table[j << 8 | right]);
            a + (b - a) * x
        };
        let (a, b) = (row(j), row(below));
        a + (b - a) * y
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_stays_between_minus_one_and_one_and_repeats() {
        let noise = Noise::new();
        for i in 0..2000 {
            let (u, v) = (i as f32 * 0.37 - 300.0, i as f32 * 1.91);
            assert!(noise.at(u, v).abs() <= 1.0);
            assert!((noise.at(u, v) - noise.at(u + 256.0, v)).abs() < 0.02);
        }
    }

    #[test]
    fn noise_has_no_steps() {
        let noise = Noise::new();
        for i in 0..500 {
            let u = i as f32 * 0.1 - 20.0;
            assert!((noise.at(u, 3.3) - noise.at(u + 0.001, 3.3)).abs() < 0.01);
            assert!((along(u, 5) - along(u + 0.001, 5)).abs() < 0.01);
        }
    }
}
