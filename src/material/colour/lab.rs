//! Colour as the eye parts it: CIELAB (CIE 15, ISO/CIE 11664-4), white D65.

use super::Colour;
use super::matrix::{Matrix, inverse, times};

/// Light to tristimulus values, white has Y = 1.
///
/// # Source
///
/// IEC 61966-2-1, four digits.
const XYZ_OF_LIGHT: Matrix = [
    [0.4124, 0.3576, 0.1805],
    [0.2126, 0.7152, 0.0722],
    [0.0193, 0.1192, 0.9505],
];
const LIGHT_OF_XYZ: Matrix = inverse(&XYZ_OF_LIGHT);

/// White: the matrix times equal shares.
const WHITE: [f64; 3] = [0.9505, 1.0, 1.089];

/// Light outside 0 to 1 by less than this is inside: less than half a step of
/// an 8-bit colour near black, where steps are closest.
const SLACK: f64 = 1e-4;

/// A colour by lightness, green to red and blue to yellow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness, 0 black to 100 white.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

/// Tristimulus values of light.
pub(super) fn xyz(light: [f64; 3]) -> [f64; 3] {
    times(&XYZ_OF_LIGHT, light)
}

impl Lab {
    /// Lab of tristimulus values, white at Y = 1.
    pub(super) fn from_xyz(xyz: [f64; 3]) -> Self {
        let mut share = [0.0; 3];
        for place in 0..3 {
            share[place] = root(xyz[place] / WHITE[place]);
        }
        let [x, y, z] = share;
        Self {
            l: 116.0 * y - 16.0,
            a: 500.0 * (x - y),
            b: 200.0 * (y - z),
        }
    }

    /// Lab of shares of light.
    pub(super) fn from_light(light: [f64; 3]) -> Self {
        Self::from_xyz(xyz(light))
    }

    /// Shares of light, outside 0 to 1 where no screen can show it.
    fn light(self) -> [f64; 3] {
        let y = (self.l + 16.0) / 116.0;
        let [x, z] = [y + self.a / 500.0, y - self.b / 200.0];
        let share = [x, y, z].map(cube);
        let xyz = [
            share[0] * WHITE[0],
            share[1] * WHITE[1],
            share[2] * WHITE[2],
        ];
        times(&LIGHT_OF_XYZ, xyz)
    }

    /// The sRGB colour, if there is one.
    pub fn colour(self) -> Option<Colour> {
        let light = self.light();
        let inside = |share: &f64| (-SLACK..=1.0 + SLACK).contains(share);
        light.iter().all(inside).then(|| Colour::from_linear(light))
    }

    /// The sRGB colour of this lightness and hue, as vivid as it can be without
    /// being more vivid than this.
    pub fn clipped(self) -> Colour {
        if let Some(colour) = self.colour() {
            return colour;
        }
        let muted = |share: f64| Self {
            l: self.l.clamp(0.0, 100.0),
            a: share * self.a,
            b: share * self.b,
        };
        let (mut inside, mut outside) = (0.0, 1.0);
        for _ in 0..12 {
            let middle = 0.5 * (inside + outside);
            if muted(middle).colour().is_some() {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        Colour::from_linear(muted(inside).light())
    }
}

impl Colour {
    /// Lightness, green to red and blue to yellow.
    pub fn lab(self) -> Lab {
        Lab::from_light(self.linear())
    }
}

/// Where the cube root gives way to a straight line.
const KNEE: f64 = 6.0 / 29.0;

fn root(share: f64) -> f64 {
    if share > KNEE.powi(3) {
        return share.cbrt();
    }
    share / (3.0 * KNEE * KNEE) + 4.0 / 29.0
}

fn cube(root: f64) -> f64 {
    if root > KNEE {
        return root.powi(3);
    }
    3.0 * KNEE * KNEE * (root - 4.0 / 29.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Worked from IEC 61966-2-1 with its four-digit matrix.
    #[test]
    fn lightness_and_hue_are_those_of_the_standard() {
        for (rgb, wanted) in [
            ([255, 255, 255], [100.0, 0.0, 0.0]),
            ([0, 0, 0], [0.0, 0.0, 0.0]),
            ([255, 0, 0], [53.233, 80.105, 67.223]),
            ([0, 255, 0], [87.737, -86.188, 83.186]),
            ([0, 0, 255], [32.303, 79.194, -107.854]),
            ([0, 255, 255], [91.117, -48.084, -14.128]),
            ([255, 0, 255], [60.320, 98.250, -60.833]),
            ([255, 255, 0], [97.138, -21.561, 94.488]),
            ([119, 119, 119], [50.034, 0.0, 0.0]),
            ([128, 128, 128], [53.585, 0.0, 0.0]),
            ([255, 165, 0], [74.932, 23.932, 78.960]),
            ([0, 128, 128], [48.256, -28.844, -8.475]),
            ([165, 42, 42], [37.522, 49.697, 30.543]),
            ([0, 0, 128], [12.975, 47.506, -64.698]),
        ] {
            let lab = Colour(rgb).lab();
            for (got, wanted) in [lab.l, lab.a, lab.b].into_iter().zip(wanted) {
                assert!((got - wanted).abs() < 2e-3, "{rgb:?}: {got}, not {wanted}");
            }
        }
    }

    #[test]
    fn every_colour_comes_back_from_lab() {
        for value in (0..1 << 24).step_by(4093) {
            let [_, r, g, b] = u32::to_be_bytes(value);
            let colour = Colour([r, g, b]);
            assert_eq!(colour.lab().colour(), Some(colour));
            assert_eq!(colour.lab().clipped(), colour);
        }
    }

    #[test]
    fn a_colour_no_screen_has_keeps_lightness_and_hue() {
        let vivid = Lab {
            l: 60.0,
            a: -120.0,
            b: 40.0,
        };
        assert_eq!(vivid.colour(), None);
        let shown = vivid.clipped().lab();
        assert!((shown.l - vivid.l).abs() < 0.4, "{shown:?}");
        let turned = shown.b.atan2(shown.a) - vivid.b.atan2(vivid.a);
        assert!(turned.abs() < 0.02, "{shown:?}");
        assert!(shown.a < -40.0, "as vivid as can be: {shown:?}");
    }
}
