//! Colours of thread, and how they stand beside one another.
//!
//! Colours are sRGB (IEC 61966-2-1), white is D65. "Light" is red, green and
//! blue as shares of light, 0 to 1 (linear); "Lab" is CIELAB.
//!
//! Knows no cord: which strands lie side by side, and along which length, is
//! handed in.

mod apart;
mod blur;
mod difference;
mod lab;
mod matrix;
mod mend;
mod names;
mod neighbours;
mod palette;
mod photograph;
mod sight;

pub use apart::{Apart, Beside, Parting, Viewing, stand_apart};
pub use lab::Lab;
pub use mend::{Mend, Way, mends};
pub use names::NAMED;
pub use neighbours::colours_beside;
pub use palette::{BadLine, NotAPalette, Palette, Read, Shade, Wrong};
pub use photograph::{Main, Photograph, PhotographError};
pub use sight::Sight;

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

    /// The nearest colour to shares of light; what lies outside 0 to 1 is cut off.
    pub fn from_linear(light: [f64; 3]) -> Self {
        Self(light.map(|share| {
            let share = share.clamp(0.0, 1.0);
            let coded = if share <= 0.003_130_8 {
                12.92 * share
            } else {
                1.055 * share.powf(1.0 / 2.4) - 0.055
            };
            (255.0 * coded).round() as u8
        }))
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

    // Worked from the transfer function of IEC 61966-2-1.
    #[test]
    fn light_is_that_of_the_standard_and_back() {
        for (byte, share) in [
            (0, 0.0),
            (10, 0.003_035_3),
            (128, 0.215_860_5),
            (188, 0.502_886_5),
        ] {
            let got = Colour([byte; 3]).linear()[0];
            assert!((got - share).abs() < 5e-8, "{byte}: {got}");
        }
        assert_eq!(
            Colour::from_linear([0.5, 0.18, 2.0]),
            Colour([188, 118, 255])
        );
        for byte in 0..=255 {
            let grey = Colour([byte; 3]);
            assert_eq!(Colour::from_linear(grey.linear()), grey);
        }
    }

    #[test]
    fn ink_is_readable_on_every_grey_and_thread() {
        let greys = (0..=255).map(|v| Colour([v; 3]));
        for ground in greys.chain(NAMED.map(|(_, thread)| thread)) {
            assert!(ground.contrast(ground.ink()) >= 4.5, "{ground}");
        }
    }

    #[test]
    fn what_is_no_colour_is_not_read_as_one() {
        for text in ["", "#12345", "#1234567", "1f4e79", "#1f4e7g", "#+12345"] {
            assert_eq!(Colour::parse(text), None, "{text}");
        }
        assert_eq!(colour("#1f4e79").to_string(), "#1f4e79");
    }
}
