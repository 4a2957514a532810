//! The lamp, the window and the room, and colours in linear light.
//!
//! A warm key light from the upper left, a cool fill from the right, sky above
//! and table below. Their sum on the lightest thread stays just under white;
//! there is no tone curve. Tried.

use std::sync::LazyLock;

use super::noise::Noise;
use super::vector::{Vec3, vec3};
use crate::material::Colour;

/// Everything that lights a picture.
#[derive(Clone)]
pub(crate) struct Studio {
    pub(crate) noise: Noise,
    /// Towards the key light, and its colour.
    pub(crate) key: Vec3,
    pub(crate) key_colour: Vec3,
    /// Towards the fill light, and its colour.
    pub(crate) fill: Vec3,
    pub(crate) fill_colour: Vec3,
    /// Halfway between the lights and the eye.
    pub(crate) key_half: Vec3,
    pub(crate) fill_half: Vec3,
    sky: Vec3,
    table: Vec3,
}

/// Towards the eye.
pub(crate) const EYE: Vec3 = vec3(0.0, 0.0, 1.0);

impl Studio {
    pub(crate) fn new() -> Self {
        let key = vec3(-0.38, 0.60, 0.72).unit();
        let fill = vec3(0.72, 0.05, 0.62).unit();
        Self {
            noise: Noise::new(),
            key,
            key_colour: vec3(0.84, 0.80, 0.745),
            fill,
            fill_colour: vec3(0.13, 0.14, 0.155),
            key_half: (key + EYE).unit(),
            fill_half: (fill + EYE).unit(),
            sky: vec3(0.40, 0.42, 0.45),
            table: vec3(0.17, 0.155, 0.14),
        }
    }

    /// How far from the table's light to the sky's a surface sees that faces
    /// `normal`.
    #[inline(always)]
    pub(crate) fn up(&self, normal: Vec3) -> f32 {
        0.5 + 0.4 * normal.y + 0.1 * normal.z
    }

    /// Light of the room so far up.
    #[inline(always)]
    pub(crate) fn room(&self, up: f32) -> Vec3 {
        self.table.towards(self.sky, up)
    }

    /// Middle brightness of the sky.
    pub(crate) fn sky(&self) -> Vec3 {
        self.sky
    }
}

/// Steps of the way from linear light to bytes; fine enough for the darkest.
const STEPS: usize = 8192;

static BYTES: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let byte = |i| (from_linear(i as f32 / (STEPS - 1) as f32) * 255.0 + 0.5) as u8;
    (0..STEPS).map(byte).collect()
});

static LIGHTS: LazyLock<[f32; 256]> =
    LazyLock::new(|| std::array::from_fn(|i| to_linear(i as f32 / 255.0)));

/// The sRGB curve, IEC 61966-2-1.
fn from_linear(v: f32) -> f32 {
    if v <= 0.003_130_8 {
        return 12.92 * v;
    }
    1.055 * v.powf(1.0 / 2.4) - 0.055
}

fn to_linear(v: f32) -> f32 {
    if v <= 0.040_45 {
        return v / 12.92;
    }
    ((v + 0.055) / 1.055).powf(2.4)
}

/// A colour in linear light.
pub(crate) fn linear(colour: Colour) -> Vec3 {
    let lights = &*LIGHTS;
    let [r, g, b] = colour.0;
    let light = |v: u8| lights[usize::from(v)];
    vec3(light(r), light(g), light(b))
}

/// From linear light to bytes.
#[derive(Clone, Copy)]
pub(crate) struct Encoder(&'static [u8]);

impl Encoder {
    pub(crate) fn new() -> Self {
        Self(&BYTES)
    }

    #[inline]
    pub(crate) fn bytes(self, c: Vec3) -> [u8; 3] {
        [self.byte(c.x), self.byte(c.y), self.byte(c.z)]
    }

    #[inline]
    pub(crate) fn byte(self, v: f32) -> u8 {
        self.0[(v.clamp(0.0, 1.0) * (STEPS - 1) as f32) as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_colour_survives_the_way_to_linear_light_and_back() {
        let encoder = Encoder::new();
        for v in 0..=255_u8 {
            let light = linear(Colour([v; 3])).x;
            assert!(encoder.byte(light).abs_diff(v) <= 1, "{v}");
        }
    }

    #[test]
    fn what_is_no_number_becomes_a_byte_all_the_same() {
        assert_eq!(Encoder::new().byte(f32::NAN), 0);
        assert_eq!(Encoder::new().byte(7.0), 255);
    }
}
