//! What strands are spun or made of.

use super::construction::Construction;
use super::fibre::{Known, Standing, rounded};

/// What a strand is spun or made of; decides its density until weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the names are the trade's own")]
pub enum Substance {
    Cotton,
    MercerisedCotton,
    Linen,
    Hemp,
    Silk,
    Wool,
    Alpaca,
    Viscose,
    Acetate,
    Polyester,
    Nylon,
    Acrylic,
    Polypropylene,
    MetallisedFilm,
    Leather,
    Pvc,
    Elastomer,
    Rubber,
    Paper,
    Glass,
}

use Standing::{CommonPractice, Source};

impl Substance {
    /// Every substance, by kind.
    pub const ALL: [Self; 20] = [
        Self::Cotton,
        Self::MercerisedCotton,
        Self::Linen,
        Self::Hemp,
        Self::Silk,
        Self::Wool,
        Self::Alpaca,
        Self::Viscose,
        Self::Acetate,
        Self::Polyester,
        Self::Nylon,
        Self::Acrylic,
        Self::Polypropylene,
        Self::MetallisedFilm,
        Self::Leather,
        Self::Pvc,
        Self::Elastomer,
        Self::Rubber,
        Self::Paper,
        Self::Glass,
    ];

    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cotton => "cotton",
            Self::MercerisedCotton => "mercerised cotton",
            Self::Linen => "linen",
            Self::Hemp => "hemp",
            Self::Silk => "silk",
            Self::Wool => "wool",
            Self::Alpaca => "alpaca",
            Self::Viscose => "viscose",
            Self::Acetate => "acetate",
            Self::Polyester => "polyester",
            Self::Nylon => "nylon",
            Self::Acrylic => "acrylic",
            Self::Polypropylene => "polypropylene",
            Self::MetallisedFilm => "metallised film",
            Self::Leather => "leather",
            Self::Pvc => "PVC",
            Self::Elastomer => "elastomer",
            Self::Rubber => "rubber",
            Self::Paper => "paper",
            Self::Glass => "glass",
        }
    }

    /// Density of the solid, g/cm3; of leather and paper with their pores.
    ///
    /// # Source
    ///
    /// Morton & Hearle, Physical Properties of Textile Fibres, table 5.1, at 65 %
    /// relative humidity, where it says source. The rest from memory of textbook
    /// tables or common practice; where those name one figure, the spread is ours.
    pub fn density(self) -> Known {
        let (value, low, high, standing) = match self {
            Self::Cotton => (1.52, 1.52, 1.55, Source),
            Self::MercerisedCotton => (1.54, 1.52, 1.55, CommonPractice),
            Self::Linen => (1.50, 1.48, 1.54, CommonPractice),
            Self::Hemp => (1.48, 1.45, 1.50, CommonPractice),
            Self::Silk => (1.34, 1.32, 1.34, Source),
            Self::Wool => (1.31, 1.30, 1.32, Source),
            Self::Alpaca => (1.30, 1.20, 1.32, CommonPractice),
            Self::Viscose => (1.49, 1.49, 1.52, Source),
            Self::Acetate => (1.32, 1.31, 1.33, Source),
            Self::Polyester => (1.39, 1.38, 1.40, Source),
            Self::Nylon => (1.14, 1.13, 1.15, Source),
            Self::Acrylic => (1.19, 1.17, 1.19, Source),
            Self::Polypropylene => (0.91, 0.90, 0.92, Source),
            Self::MetallisedFilm => (1.40, 1.38, 1.45, CommonPractice),
            Self::Leather => (0.92, 0.85, 1.02, CommonPractice),
            Self::Pvc => (1.28, 1.18, 1.36, CommonPractice),
            Self::Elastomer => (1.15, 1.10, 1.25, CommonPractice),
            Self::Rubber => (1.00, 0.93, 1.18, CommonPractice),
            Self::Paper => (0.75, 0.60, 0.95, CommonPractice),
            Self::Glass => (2.50, 2.40, 2.90, CommonPractice),
        };
        Known::new(value, low, high, standing)
    }

    /// Whether it comes as one piece and not as fibres.
    fn is_one_piece(self) -> bool {
        matches!(
            self,
            Self::Leather | Self::Pvc | Self::Elastomer | Self::Rubber | Self::Paper | Self::Glass
        )
    }
}

/// Density of beeswax and paraffin dressings, g/cm3 (from memory of textbook tables).
const WAX: f64 = 0.95;

/// Share of the bulk that is fibre in a synthetic suede (our guess).
const SUEDE_FIBRE: f64 = 0.4;

impl Construction {
    /// Whether strands built like this are made of it.
    ///
    /// One-piece substances have their pores in their density, so they need a
    /// construction that counts them as solid.
    pub fn takes(self, substance: Substance) -> bool {
        match self {
            Self::Leather => substance == Substance::Leather,
            Self::Suede => substance == Substance::Leather || !substance.is_one_piece(),
            Self::SolidCord => matches!(
                substance,
                Substance::Pvc | Substance::Elastomer | Substance::Rubber
            ),
            Self::PaperYarn => substance == Substance::Paper,
            Self::StrungBeads => substance == Substance::Glass,
            _ => !substance.is_one_piece(),
        }
    }

    /// What strands built like this can be made of.
    pub fn substances(self) -> impl Iterator<Item = Substance> {
        let all = Substance::ALL.into_iter();
        all.filter(move |&substance| self.takes(substance))
    }

    /// Share of the solid that is wax (common practice, no source).
    fn wax(self) -> f64 {
        match self {
            Self::WaxedCotton => 0.20 / 0.72,
            Self::WaxedLinen => 0.16 / 0.74,
            Self::WaxedPolyester => 0.25,
            _ => 0.0,
        }
    }

    /// Density of what counts as solid in a strand built like this of `substance`, g/cm3.
    ///
    /// Waxed strands count fibre and wax, suede laces count their pores; both our guess.
    pub fn density(self, substance: Substance) -> Known {
        let own = substance.density();
        let wax = self.wax();
        if wax > 0.0 {
            let both = own.value * (1.0 - wax) + WAX * wax;
            return Known::within(rounded(both), 0.04, Standing::Guess);
        }
        if self == Self::Suede && !substance.is_one_piece() {
            return Known::within(rounded(own.value * SUEDE_FIBRE), 0.2, Standing::Guess);
        }
        own
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_construction_can_be_made_of_something_and_every_substance_used() {
        for c in Construction::ALL {
            assert!(c.substances().count() > 0, "{}", c.name());
        }
        for s in Substance::ALL {
            assert!(Construction::ALL.iter().any(|c| c.takes(s)), "{}", s.name());
            let Known {
                value, low, high, ..
            } = s.density();
            assert!(low <= value && value <= high, "{}", s.name());
        }
    }

    #[test]
    fn wax_makes_cotton_lighter_for_its_bulk() {
        // Common practice: 0.52 of the volume is cotton and 0.20 wax.
        let waxed = Construction::WaxedCotton.density(Substance::Cotton).value;
        assert!((waxed - 1.362).abs() < 1e-3, "{waxed}");
        let plain = Construction::CrochetCotton.density(Substance::Cotton).value;
        assert_eq!(plain, 1.52);
    }
}
