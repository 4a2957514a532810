//! Colours as others see them: the three deficiencies of colour vision.
//!
//! # Source
//!
//! Machado, Oliveira & Fernandes, A physiologically-based model for simulation
//! of color vision deficiency, IEEE Transactions on Visualization and Computer
//! Graphics 15 (2009) 1291–1298: the matrices for full severity, which act on
//! light. Greys stay grey.

use super::Colour;
use super::matrix::{Matrix, times};

/// A kind of colour vision.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sight {
    /// All three kinds of cone.
    Full,
    /// Without the cones for long waves: reds are dark and look like greens.
    Protan,
    /// Without the cones for middle waves: greens look like reds. The most
    /// common of the three.
    Deutan,
    /// Without the cones for short waves: blues look like greens. Rare.
    Tritan,
}

const PROTAN: Matrix = [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
];
const DEUTAN: Matrix = [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.011820, 0.042940, 0.968881],
];
const TRITAN: Matrix = [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.303900],
];

impl Sight {
    /// Every kind, full sight first.
    pub const ALL: [Self; 4] = [Self::Full, Self::Protan, Self::Deutan, Self::Tritan];

    /// Light that full sight takes for what this sight sees. Of very vivid
    /// light a share may lie outside 0 to 1.
    pub fn light(self, light: [f64; 3]) -> [f64; 3] {
        match self {
            Self::Full => light,
            Self::Protan => times(&PROTAN, light),
            Self::Deutan => times(&DEUTAN, light),
            Self::Tritan => times(&TRITAN, light),
        }
    }

    /// The colour that full sight takes for what this sight sees.
    pub fn of(self, colour: Colour) -> Colour {
        match self {
            Self::Full => colour,
            _ => Colour::from_linear(self.light(colour.linear())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn greys_stay_grey_for_every_sight() {
        for sight in Sight::ALL {
            for byte in 0..=255 {
                let grey = Colour([byte; 3]);
                assert_eq!(sight.of(grey), grey, "{sight:?}");
            }
        }
    }

    // Columns of the published matrices: pure red, green and blue light.
    #[test]
    fn pure_light_is_seen_as_the_published_columns() {
        let red = Sight::Protan.light([1.0, 0.0, 0.0]);
        assert_eq!(red, [0.152286, 0.114503, -0.003882]);
        let green = Sight::Deutan.light([0.0, 1.0, 0.0]);
        assert_eq!(green, [0.860646, 0.672501, 0.042940]);
        let blue = Sight::Tritan.light([0.0, 0.0, 1.0]);
        assert_eq!(blue, [-0.178779, 0.147602, 0.303900]);
    }

    #[test]
    fn each_sight_confuses_what_it_is_known_to_confuse() {
        let colour = |text| Colour::parse(text).unwrap();
        let seen = |sight: Sight, a, b| sight.of(colour(a)).difference(sight.of(colour(b)));
        // Red and green of one lightness; blue and green likewise.
        let (red, green) = ("#c04830", "#5c7a1c");
        assert!(seen(Sight::Full, red, green) > 40.0);
        assert!(seen(Sight::Deutan, red, green) < 15.0);
        assert!(seen(Sight::Tritan, red, green) > 35.0);
        let (blue, green) = ("#2f6fa0", "#1f7c6c");
        assert!(seen(Sight::Full, blue, green) > 20.0);
        assert!(seen(Sight::Tritan, blue, green) < 8.0);
    }
}
