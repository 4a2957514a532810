//! Colours of thread, and how they stand beside one another.
//!
//! Colours are sRGB (IEC 61966-2-1), white is D65.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// An sRGB colour, written `#rrggbb` in files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Colour(pub [u8; 3]);

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [r, g, b] = self.0;
        write!(f, "#{r:02x}{g:02x}{b:02x}")
    }
}

impl Colour {
    /// Black.
    pub const BLACK: Self = Self([0; 3]);
    /// White.
    pub const WHITE: Self = Self([255; 3]);

    /// The colour written as `#rrggbb`, if it is one.
    pub fn parse(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#')?;
        if digits.len() != 6 || !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let value = u32::from_str_radix(digits, 16).ok()?;
        let [_, r, g, b] = value.to_be_bytes();
        Some(Self([r, g, b]))
    }

    /// Red, green and blue as shares of light, 0 to 1.
    pub fn linear(self) -> [f64; 3] {
        self.0.map(|byte| {
            let share = f64::from(byte) / 255.0;
            if share <= 0.040_45 {
                return share / 12.92;
            }
            ((share + 0.055) / 1.055).powf(2.4)
        })
    }

    /// Relative luminance, 0 for black to 1 for white.
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.linear();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// How well two colours stand apart, 1 (not at all) to 21 (black and white).
    ///
    /// Text wants 4.5, large drawn shapes 3.
    ///
    /// # Source
    ///
    /// Contrast ratio of the Web Content Accessibility Guidelines 2.
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance() + 0.05, other.luminance() + 0.05);
        a.max(b) / a.min(b)
    }

    /// Black or white, whichever reads better on it; the contrast is never under 4.5.
    pub fn ink(self) -> Self {
        if self.contrast(Self::WHITE) > self.contrast(Self::BLACK) {
            return Self::WHITE;
        }
        Self::BLACK
    }

    /// Lightness, green to red and blue to yellow as the eye parts them (CIELAB).
    pub fn lab(self) -> [f64; 3] {
        let [r, g, b] = self.linear();
        let x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505;
        let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        let z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089;
        let [x, y, z] = [x, y, z].map(|t: f64| {
            if t > (6.0_f64 / 29.0).powi(3) {
                return t.cbrt();
            }
            t * (29.0_f64 / 6.0).powi(2) / 3.0 + 4.0 / 29.0
        });
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// How far two colours lie apart to the eye (CIE 1976); about 2 is just seen.
    pub fn difference(self, other: Self) -> f64 {
        let (a, b) = (self.lab(), other.lab());
        let squares = a.iter().zip(b).map(|(a, b)| (a - b).powi(2));
        squares.sum::<f64>().sqrt()
    }

    /// The plain name of the nearest colour of the [`PALETTE`].
    pub fn name(self) -> &'static str {
        let apart = |named: &&(&str, Self)| self.difference(named.1);
        let nearest = PALETTE
            .iter()
            .min_by(|a, b| apart(a).total_cmp(&apart(b)))
            .expect("the palette holds colours");
        nearest.0
    }
}

impl Serialize for Colour {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Colour {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text)
            .ok_or_else(|| de::Error::custom(format!("{text:?} is not a colour like \"#1f4e79\"")))
    }
}

/// Thread colours to begin with, with plain names, light to dark within a hue.
pub const PALETTE: [(&str, Colour); 29] = [
    ("white", Colour([0xf4, 0xf1, 0xea])),
    ("cream", Colour([0xea, 0xdb, 0xb8])),
    ("silver grey", Colour([0xb4, 0xb8, 0xbc])),
    ("slate", Colour([0x66, 0x6e, 0x78])),
    ("black", Colour([0x1e, 0x1c, 0x1d])),
    ("sand", Colour([0xc4, 0xa8, 0x7c])),
    ("chestnut", Colour([0x8a, 0x52, 0x30])),
    ("dark brown", Colour([0x4a, 0x30, 0x22])),
    ("straw", Colour([0xe6, 0xcb, 0x5a])),
    ("gold", Colour([0xc9, 0x98, 0x22])),
    ("orange", Colour([0xdf, 0x77, 0x2c])),
    ("rust", Colour([0xa8, 0x4a, 0x26])),
    ("salmon", Colour([0xe8, 0x96, 0x80])),
    ("red", Colour([0xc2, 0x2f, 0x2b])),
    ("wine", Colour([0x6d, 0x22, 0x30])),
    ("pink", Colour([0xdc, 0x8f, 0xae])),
    ("plum", Colour([0x7c, 0x3f, 0x6e])),
    ("lavender", Colour([0xa7, 0x98, 0xcc])),
    ("violet", Colour([0x55, 0x3c, 0x8e])),
    ("sky blue", Colour([0x7f, 0xb2, 0xd6])),
    ("blue", Colour([0x2c, 0x66, 0xa8])),
    ("navy", Colour([0x1f, 0x2e, 0x54])),
    ("pale green", Colour([0xae, 0xd8, 0xc4])),
    ("sea green", Colour([0x6f, 0xa8, 0x9e])),
    ("teal", Colour([0x1f, 0x7c, 0x7c])),
    ("leaf green", Colour([0x4f, 0x9e, 0x55])),
    ("moss green", Colour([0x7a, 0x85, 0x3a])),
    ("olive", Colour([0x52, 0x5c, 0x38])),
    ("bottle green", Colour([0x1f, 0x4c, 0x38])),
];

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(text: &str) -> Colour {
        Colour::parse(text).unwrap()
    }

    // Worked from the formula of the Web Content Accessibility Guidelines 2.
    #[test]
    fn contrasts_are_those_of_the_guidelines() {
        for (a, b, ratio) in [
            ("#ffffff", "#000000", 21.0),
            ("#ffffff", "#777777", 4.4781),
            ("#ffffff", "#767676", 4.5422),
            ("#ffffff", "#949494", 3.0335),
            ("#ffffff", "#959595", 2.9953),
            ("#ffffff", "#ff0000", 3.9985),
            ("#ffffff", "#0000ff", 8.5925),
            ("#ffffff", "#00ff00", 1.3722),
            ("#000000", "#ff0000", 5.2520),
            ("#000000", "#777777", 4.6895),
            ("#ffffff", "#595959", 7.0047),
            ("#ffffff", "#5a5a5a", 6.8969),
            ("#ffffff", "#008000", 5.1374),
        ] {
            let got = colour(a).contrast(colour(b));
            assert!((got - ratio).abs() < 5e-5, "{a} on {b}: {got}");
            assert_eq!(got, colour(b).contrast(colour(a)));
        }
    }

    // Worked from IEC 61966-2-1 with its four-digit matrix.
    #[test]
    fn lightness_and_hue_are_those_of_the_standard() {
        for (rgb, lab) in [
            ([255, 255, 255], [100.0, 0.0, 0.0]),
            ([255, 0, 0], [53.233, 80.105, 67.223]),
            ([0, 255, 0], [87.737, -86.188, 83.186]),
            ([0, 0, 255], [32.303, 79.194, -107.854]),
            ([128, 128, 128], [53.585, 0.0, 0.0]),
            ([165, 42, 42], [37.522, 49.697, 30.543]),
            ([0, 0, 128], [12.975, 47.506, -64.698]),
        ] {
            for (got, wanted) in Colour(rgb).lab().into_iter().zip(lab) {
                assert!(
                    (got - wanted).abs() < 0.02,
                    "{rgb:?}: {got} is not {wanted}"
                );
            }
        }
    }

    #[test]
    fn ink_is_readable_on_every_grey_and_thread() {
        let greys = (0..=255).map(|v| Colour([v; 3]));
        for ground in greys.chain(PALETTE.map(|(_, thread)| thread)) {
            assert!(ground.contrast(ground.ink()) >= 4.5, "{ground}");
        }
    }

    #[test]
    fn colours_of_the_palette_can_be_told_apart_and_name_themselves() {
        for (i, (name, one)) in PALETTE.iter().enumerate() {
            assert_eq!(one.name(), *name);
            for (other_name, other) in &PALETTE[i + 1..] {
                assert_ne!(name, other_name);
                assert!(one.difference(*other) > 14.0, "{name} and {other_name}");
            }
        }
        assert_eq!(colour("#c03028").name(), "red");
        assert_eq!(colour("#000000").name(), "black");
    }

    #[test]
    fn what_is_no_colour_is_not_read_as_one() {
        for text in ["", "#12345", "#1234567", "1f4e79", "#1f4e7g", "#+12345"] {
            assert_eq!(Colour::parse(text), None, "{text}");
        }
        assert_eq!(colour("#1f4e79").to_string(), "#1f4e79");
    }
}
