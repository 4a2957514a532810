//! What is known of a fibre, each figure with its standing.
//!
//! Diameter, tex and free packing of a fibre say only two things between them:
//! `tex = 1000 · density · packing · π/4 · diameter²`. Which two are known and
//! which follows is its [`Label`].

use serde::{Deserialize, Serialize};

use super::appearance::Appearance;
use super::construction::Construction;
use super::{Colour, count};
use crate::quantity::Estimate;

/// How well a figure stands, weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Standing {
    /// Our guess.
    Guess,
    /// Common practice of the trade, no source.
    CommonPractice,
    /// A published source, or computed from such.
    Source,
    /// Measured by the maker.
    Measured,
}

impl Standing {
    /// In words for the screen.
    pub fn name(self) -> &'static str {
        match self {
            Self::Guess => "our guess",
            Self::CommonPractice => "common practice",
            Self::Source => "source",
            Self::Measured => "measured",
        }
    }
}

/// A figure of a fibre with its range and standing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Known {
    /// Most likely figure.
    pub value: f64,
    /// Low end of the range.
    pub low: f64,
    /// High end of the range.
    pub high: f64,
    /// How well it stands.
    pub standing: Standing,
}

/// A number to four digits, as fine as anything here is known.
pub(super) fn rounded(number: f64) -> f64 {
    if number == 0.0 || !number.is_finite() {
        return number;
    }
    let places = 3 - number.abs().log10().floor() as i32;
    // Divide by whole powers of ten: their inverses are not exact.
    let power = 10_f64.powi(places.abs());
    if places >= 0 {
        return (number * power).round() / power;
    }
    (number / power).round() * power
}

impl Known {
    /// A figure with its range and standing.
    pub fn new(value: f64, low: f64, high: f64, standing: Standing) -> Self {
        Self {
            value,
            low,
            high,
            standing,
        }
    }

    /// A figure uncertain by this share of itself either way.
    pub fn within(value: f64, share: f64, standing: Standing) -> Self {
        let (low, high) = (value * (1.0 - share), value * (1.0 + share));
        Self::new(
            value,
            rounded(low).min(value),
            rounded(high).max(value),
            standing,
        )
    }

    /// A figure that was worked out, all three numbers to four digits.
    pub(super) fn worked_out(value: f64, low: f64, high: f64, standing: Standing) -> Self {
        Self::new(rounded(value), rounded(low), rounded(high), standing)
    }

    /// The figure with its spread alone.
    pub fn estimate(self) -> Estimate {
        Estimate {
            value: self.value,
            low: self.low,
            high: self.high,
        }
    }

    /// The figure moved here, its range widened if need be.
    pub(super) fn moved_to(self, value: f64) -> Self {
        Self {
            value,
            low: self.low.min(value),
            high: self.high.max(value),
            ..self
        }
    }
}

/// Share of the round envelope that is fibre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Packing {
    /// Lying free.
    pub free: Known,
    /// In a firm hand braid at the reference pressure; says how soft it is.
    pub in_braid: Known,
    /// The closest it can be squeezed.
    pub closest: Known,
}

/// Which of diameter and tex is known by itself; the third of diameter, tex
/// and free packing follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Label {
    /// Sold by diameter: tex follows from diameter and packing.
    #[default]
    Diameter,
    /// Sold by weight and length: diameter follows from tex and packing.
    Tex,
    /// Both are known: packing follows.
    Both,
}

/// A thing one can buy by the metre and what is known of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fibre {
    /// The trade's name, unique on a shelf and in a design.
    pub name: String,
    /// What it is spun or made of, in plain words.
    pub substance: String,
    /// How it is built.
    pub construction: Construction,
    /// Which of diameter and tex is known by itself.
    #[serde(default)]
    pub label: Label,
    /// Diameter lying free, mm; of a ribbon the round it gathers to.
    pub diameter: Known,
    /// Linear density, tex (g/km).
    pub tex: Known,
    /// Density of the solid, g/cm3.
    pub density: Known,
    /// Packing of the fibre in the strand.
    pub packing: Packing,
    /// Friction of strand on strand, dry.
    pub friction: Known,
    /// Shortening off the weight after a day's rest, per cent of the length on the disc.
    pub shortens: Known,
    /// Lengthening when worked supple and worn, per cent of the rested length.
    pub lengthens: Known,
    /// Stiffness against bending, 1 limp to 5 stiff.
    pub stiffness: u8,
    /// Width and thickness of a ribbon or flat lace, mm.
    #[serde(default)]
    pub flat: Option<(f64, f64)>,
    /// The colour proposed for it.
    pub colour: Colour,
    /// How it looks.
    pub appearance: Appearance,
    /// A remark.
    #[serde(default)]
    pub note: String,
}

impl Fibre {
    /// Area of the solid in a section, mm2.
    pub fn solid_area(&self) -> f64 {
        count::solid_area(self.tex.value, self.density.value)
    }

    /// Its figures, each with its name and unit in plain words.
    pub fn figures(&self) -> [(&'static str, Known); 9] {
        [
            ("diameter", self.diameter),
            ("tex", self.tex),
            ("density", self.density),
            ("packing", self.packing.free),
            ("packing in the braid", self.packing.in_braid),
            ("closest packing", self.packing.closest),
            ("friction", self.friction),
            ("shortening", self.shortens),
            ("lengthening", self.lengthens),
        ]
    }

    /// How well its weakest figure stands.
    pub fn standing(&self) -> Standing {
        let standings = self.figures().map(|(_, known)| known.standing);
        standings.into_iter().fold(Standing::Measured, Ord::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::shelf;

    #[test]
    fn every_fibre_written_reads_back_the_same() {
        for fibre in shelf() {
            let written = ron::to_string(fibre).unwrap();
            assert_eq!(ron::from_str::<Fibre>(&written).unwrap(), *fibre);
        }
    }

    #[test]
    fn numbers_are_rounded_to_four_digits_at_any_size() {
        for (number, wanted) in [
            (2270.699, 2271.0),
            (123_456.0, 123_500.0),
            (0.580_000_000_000_1, 0.58),
            (-0.012_345_6, -0.012_35),
            (0.0, 0.0),
        ] {
            assert_eq!(rounded(number), wanted);
        }
        assert!(rounded(f64::NAN).is_nan());
    }
}
