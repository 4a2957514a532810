//! How strands are built, and what that says about them before anything is measured.
//!
//! Packing is the share of the round envelope that is fibre. Where it says so
//! at [`Construction::packing`] the figures are common practice, no source; the
//! spreads of the packing in the braid and of the closest packing are our guess.

use serde::{Deserialize, Serialize};

use super::fibre::{Known, Packing, Standing, rounded};

/// How a strand is built; decides packing, softness and look until measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[expect(missing_docs, reason = "the names are the trade's own")]
pub enum Construction {
    SatinCord,
    PearlCotton,
    CrochetCotton,
    Floss,
    KnittingWool,
    KnittingAcrylic,
    KnittingCotton,
    Ribbon,
    Leather,
    Suede,
    WaxedCotton,
    WaxedLinen,
    WaxedPolyester,
    TwistedCord,
    KnottingCord,
    KernmantleCord,
    SilkCord,
    MetallicBraid,
    Chenille,
    Twine,
    SolidCord,
    PaperYarn,
    StrungBeads,
}

/// One line of the table.
struct Habit {
    /// Packing free, its low and high end, in the braid, closest.
    packing: [f64; 5],
    stiffness: u8,
    /// Low and high end of friction, of shortening and of lengthening.
    ranges: [f64; 6],
}

const fn row(packing: [f64; 5], stiffness: u8, ranges: [f64; 6]) -> Habit {
    Habit {
        packing,
        stiffness,
        ranges,
    }
}

/// A figure between two ends, taken in the middle.
fn between(low: f64, high: f64) -> Known {
    Known {
        value: rounded(f64::midpoint(low, high)),
        low,
        high,
        standing: Standing::CommonPractice,
    }
}

impl Construction {
    /// Every construction, softer and commoner ones first.
    pub const ALL: [Self; 23] = [
        Self::SatinCord,
        Self::PearlCotton,
        Self::CrochetCotton,
        Self::Floss,
        Self::KnittingWool,
        Self::KnittingAcrylic,
        Self::KnittingCotton,
        Self::SilkCord,
        Self::Chenille,
        Self::Ribbon,
        Self::Leather,
        Self::Suede,
        Self::WaxedCotton,
        Self::WaxedLinen,
        Self::WaxedPolyester,
        Self::TwistedCord,
        Self::KnottingCord,
        Self::KernmantleCord,
        Self::MetallicBraid,
        Self::Twine,
        Self::SolidCord,
        Self::PaperYarn,
        Self::StrungBeads,
    ];

    /// The trade's word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::SatinCord => "satin cord",
            Self::PearlCotton => "pearl cotton",
            Self::CrochetCotton => "crochet cotton",
            Self::Floss => "embroidery floss",
            Self::KnittingWool => "knitting wool",
            Self::KnittingAcrylic => "acrylic knitting yarn",
            Self::KnittingCotton => "cotton knitting yarn",
            Self::Ribbon => "woven ribbon",
            Self::Leather => "leather lace",
            Self::Suede => "suede lace",
            Self::WaxedCotton => "waxed cotton cord",
            Self::WaxedLinen => "waxed linen thread",
            Self::WaxedPolyester => "waxed polyester thread",
            Self::TwistedCord => "twisted cord",
            Self::KnottingCord => "braided knotting cord",
            Self::KernmantleCord => "sheath and core cord",
            Self::SilkCord => "silk cord",
            Self::MetallicBraid => "metallic braid",
            Self::Chenille => "chenille",
            Self::Twine => "twine",
            Self::SolidCord => "solid cord",
            Self::PaperYarn => "paper yarn",
            Self::StrungBeads => "strung beads",
        }
    }

    fn habit(self) -> Habit {
        match self {
            Self::SatinCord => SATIN_CORD,
            Self::PearlCotton => PEARL_COTTON,
            Self::CrochetCotton => CROCHET_COTTON,
            Self::Floss => FLOSS,
            Self::KnittingWool => KNITTING_WOOL,
            Self::KnittingAcrylic => KNITTING_ACRYLIC,
            Self::KnittingCotton => KNITTING_COTTON,
            Self::Ribbon => RIBBON,
            Self::Leather => LEATHER,
            Self::Suede => SUEDE,
            Self::WaxedCotton => WAXED_COTTON,
            Self::WaxedLinen => WAXED_LINEN,
            Self::WaxedPolyester => WAXED_POLYESTER,
            Self::TwistedCord => TWISTED_CORD,
            Self::KnottingCord => KNOTTING_CORD,
            Self::KernmantleCord => KERNMANTLE_CORD,
            Self::SilkCord => SILK_CORD,
            Self::MetallicBraid => METALLIC_BRAID,
            Self::Chenille => CHENILLE,
            Self::Twine => TWINE,
            Self::SolidCord => SOLID_CORD,
            Self::PaperYarn => PAPER_YARN,
            Self::StrungBeads => STRUNG_BEADS,
        }
    }

    /// Packing proposed for it.
    ///
    /// Free: common practice, no source; of knitting wool and acrylic computed
    /// from wraps per inch and weight per length of the yarn classes. In the
    /// braid and closest: our guess, the spread reaching half-way to the next.
    pub fn packing(self) -> Packing {
        let [free, low, high, braid, tightest] = self.habit().packing;
        Packing {
            free: Known::new(free, low, high, Standing::CommonPractice),
            in_braid: in_braid(free, braid, tightest),
            closest: closest(braid, tightest),
        }
    }

    /// How wide a strand lies where another crosses it, over its free diameter; as much
    /// thinner, its area kept.
    ///
    /// Leather, crochet cotton, satin cord, soft yarn and floss: common practice, no
    /// source; the rest put beside them: our guess. Ribbons and laces know their own.
    pub(super) fn widens(self) -> f64 {
        match self {
            Self::Leather | Self::Suede | Self::WaxedLinen | Self::WaxedPolyester => 1.0,
            Self::SolidCord | Self::StrungBeads => 1.0,
            Self::WaxedCotton | Self::Twine | Self::KnottingCord => 1.1,
            Self::TwistedCord | Self::KernmantleCord | Self::PaperYarn => 1.2,
            Self::CrochetCotton | Self::PearlCotton | Self::MetallicBraid => 1.2,
            Self::SatinCord | Self::SilkCord => 1.35,
            Self::Floss | Self::KnittingWool | Self::KnittingAcrylic => 1.65,
            Self::KnittingCotton | Self::Chenille => 1.65,
            Self::Ribbon => 2.0,
        }
    }

    /// Stiffness against bending, 1 limp to 5 stiff (common practice, no source).
    pub fn stiffness(self) -> u8 {
        self.habit().stiffness
    }

    /// Friction of strand on strand, dry (common practice, no source).
    pub fn friction(self) -> Known {
        let [low, high, ..] = self.habit().ranges;
        between(low, high)
    }

    /// Shortening off the weight after a day, per cent (common practice, no source).
    pub fn shortens(self) -> Known {
        let [_, _, low, high, ..] = self.habit().ranges;
        between(low, high)
    }

    /// Lengthening when worked supple and worn, per cent (common practice, no source).
    pub fn lengthens(self) -> Known {
        let [.., low, high] = self.habit().ranges;
        between(low, high)
    }
}

/// Packing in the braid, with ends half-way to the free and to the closest one.
fn in_braid(free: f64, value: f64, closest: f64) -> Known {
    let low = f64::midpoint(free, value);
    Known::worked_out(value, low, f64::midpoint(value, closest), Standing::Guess)
}

/// Closest packing, uncertain by a share of its distance from the braid's.
fn closest(in_braid: f64, value: f64) -> Known {
    let reach = value - in_braid;
    Known::worked_out(
        value,
        value - 0.4 * reach,
        value + 0.25 * reach,
        Standing::Guess,
    )
}

// Packing free, low, high | in the braid, closest | stiffness | friction |
// shortens % | lengthens %. Common practice, no source, but for what is said at
// `packing`.
const SATIN_CORD: Habit = row(
    [0.52, 0.45, 0.58, 0.64, 0.74],
    2,
    [0.15, 0.3, 2.0, 5.0, 1.0, 3.0],
);
const PEARL_COTTON: Habit = row(
    [0.42, 0.35, 0.5, 0.55, 0.7],
    2,
    [0.25, 0.4, 3.0, 7.0, 1.0, 3.0],
);
const CROCHET_COTTON: Habit = row(
    [0.5, 0.44, 0.56, 0.6, 0.72],
    2,
    [0.3, 0.45, 2.0, 6.0, 1.0, 3.0],
);
const FLOSS: Habit = row(
    [0.33, 0.26, 0.4, 0.5, 0.7],
    1,
    [0.25, 0.4, 3.0, 8.0, 1.0, 3.0],
);
const KNITTING_WOOL: Habit = row(
    [0.11, 0.08, 0.23, 0.28, 0.55],
    1,
    [0.25, 0.45, 8.0, 20.0, 3.0, 10.0],
);
const KNITTING_ACRYLIC: Habit = row(
    [0.11, 0.08, 0.2, 0.28, 0.5],
    1,
    [0.25, 0.4, 6.0, 15.0, 3.0, 8.0],
);
const KNITTING_COTTON: Habit = row(
    [0.24, 0.16, 0.34, 0.42, 0.62],
    2,
    [0.3, 0.5, 4.0, 10.0, 2.0, 5.0],
);
const RIBBON: Habit = row(
    [0.27, 0.2, 0.34, 0.36, 0.5],
    2,
    [0.2, 0.35, 2.0, 6.0, 1.0, 3.0],
);
const LEATHER: Habit = row(
    [1.0, 1.0, 1.0, 1.03, 1.08],
    4,
    [0.35, 0.6, 0.5, 2.0, 1.0, 4.0],
);
const SUEDE: Habit = row(
    [1.0, 1.0, 1.0, 1.1, 1.25],
    3,
    [0.4, 0.7, 1.0, 3.0, 1.0, 3.0],
);
const WAXED_COTTON: Habit = row(
    [0.72, 0.65, 0.8, 0.76, 0.84],
    4,
    [0.4, 0.7, 1.0, 3.0, 0.5, 1.5],
);
const WAXED_LINEN: Habit = row(
    [0.74, 0.68, 0.8, 0.78, 0.85],
    4,
    [0.4, 0.7, 1.0, 2.5, 0.5, 1.0],
);
const WAXED_POLYESTER: Habit = row(
    [0.72, 0.65, 0.8, 0.76, 0.85],
    3,
    [0.4, 0.6, 1.0, 2.5, 0.5, 1.0],
);
const TWISTED_CORD: Habit = row(
    [0.58, 0.5, 0.65, 0.66, 0.8],
    3,
    [0.2, 0.35, 2.0, 4.0, 1.0, 2.0],
);
const KNOTTING_CORD: Habit = row(
    [0.62, 0.55, 0.68, 0.68, 0.8],
    3,
    [0.2, 0.35, 2.0, 4.0, 1.0, 2.0],
);
const KERNMANTLE_CORD: Habit = row(
    [0.5, 0.42, 0.56, 0.6, 0.72],
    3,
    [0.2, 0.35, 2.0, 5.0, 1.0, 3.0],
);
const SILK_CORD: Habit = row(
    [0.55, 0.48, 0.62, 0.65, 0.78],
    2,
    [0.2, 0.4, 3.0, 6.0, 1.0, 2.0],
);
const METALLIC_BRAID: Habit = row(
    [0.48, 0.4, 0.55, 0.58, 0.7],
    3,
    [0.2, 0.35, 1.0, 4.0, 0.5, 1.5],
);
const CHENILLE: Habit = row(
    [0.045, 0.03, 0.08, 0.15, 0.35],
    1,
    [0.4, 0.7, 5.0, 12.0, 2.0, 6.0],
);
const TWINE: Habit = row(
    [0.48, 0.4, 0.55, 0.56, 0.68],
    4,
    [0.4, 0.6, 1.5, 4.0, 0.5, 2.0],
);
const SOLID_CORD: Habit = row(
    [1.0, 1.0, 1.0, 1.0, 1.0],
    3,
    [0.6, 1.2, 3.0, 15.0, 0.0, 5.0],
);
const PAPER_YARN: Habit = row(
    [1.0, 1.0, 1.0, 1.05, 1.2],
    5,
    [0.35, 0.55, 1.0, 2.0, 0.0, 1.0],
);
// Glass gives nowhere: one packing, that of beads touching on their thread.
const STRUNG_BEADS: Habit = row(
    [0.72, 0.62, 0.82, 0.72, 0.72],
    2,
    [0.2, 0.35, 0.0, 1.0, 0.0, 2.0],
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_construction_packs_closer_the_harder_it_is_squeezed() {
        for c in Construction::ALL {
            let p = c.packing();
            let rising = [
                p.free.value,
                p.in_braid.low,
                p.in_braid.value,
                p.in_braid.high,
                p.closest.value,
                p.closest.high,
            ];
            assert!(rising.is_sorted(), "{}: {rising:?}", c.name());
            assert!((1..=5).contains(&c.stiffness()), "{}", c.name());
        }
    }

    #[test]
    fn no_two_constructions_share_a_name() {
        let mut names: Vec<_> = Construction::ALL.iter().map(|c| c.name()).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Construction::ALL.len());
    }
}
