//! Whether the figures of a fibre can be.

use super::count;
use super::fibre::{Fibre, Known};

/// Why a fibre cannot be. Every sentence names the fibre and the figure.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FibreError {
    /// No name.
    #[error("a fibre needs a name")]
    NoName,
    /// A name too long for a list.
    #[error("the name of a fibre may have {limit} letters; this one has {letters}")]
    LongName {
        /// Letters it has.
        letters: usize,
        /// Letters it may have.
        limit: usize,
    },
    /// A figure out of the range that makes sense.
    #[error("{fibre}: {figure} is {value}; it must lie between {low} and {high}")]
    OutOfRange {
        /// Name of the fibre.
        fibre: String,
        /// Name of the figure.
        figure: &'static str,
        /// What it is.
        value: f64,
        /// The least that makes sense.
        low: f64,
        /// The most that makes sense.
        high: f64,
    },
    /// A figure outside its own spread.
    #[error("{fibre}: {figure} is {value}, outside its own spread of {low} to {high}")]
    OutsideSpread {
        /// Name of the fibre.
        fibre: String,
        /// Name of the figure.
        figure: &'static str,
        /// What it is.
        value: f64,
        /// Low end of the spread.
        low: f64,
        /// High end of the spread.
        high: f64,
    },
    /// Packings that do not rise from lying free to the closest.
    #[error(
        "{fibre}: packing must rise from lying free ({free}) over in the braid ({in_braid}) \
         to closest ({closest})"
    )]
    PackingOrder {
        /// Name of the fibre.
        fibre: String,
        /// Packing lying free.
        free: f64,
        /// Packing in the braid.
        in_braid: f64,
        /// Closest packing.
        closest: f64,
    },
    /// Diameter, tex and packing that contradict one another.
    #[error(
        "{fibre}: {diameter} mm and {tex} tex make a packing of {implied:.3}, not {packing}; \
         one of the three is wrong"
    )]
    Contradiction {
        /// Name of the fibre.
        fibre: String,
        /// Diameter, mm.
        diameter: f64,
        /// Linear density, tex.
        tex: f64,
        /// Packing that follows from both.
        implied: f64,
        /// Packing as stated.
        packing: f64,
    },
    /// A substance that this is not made of.
    #[error("{fibre}: {construction} is not made of {substance}")]
    NotMadeOf {
        /// Name of the fibre.
        fibre: String,
        /// How it should be built.
        construction: &'static str,
        /// What it should be made of.
        substance: &'static str,
    },
}

/// Letters in the name of a fibre.
const LONGEST_NAME: usize = 120;

/// Share by which diameter, tex and packing may disagree: rounding and hand-set figures.
const AGREEMENT: f64 = 0.1;

/// Least and most of each of [`Fibre::figures`], in its order.
///
/// Generous: from a single filament to a rope, from silk to lead wire.
const LIMITS: [(f64, f64); 9] = [
    (0.02, 60.0),
    (0.005, 5_000_000.0),
    (0.05, 25.0),
    (0.001, 1.5),
    (0.001, 1.5),
    (0.001, 1.5),
    (0.0, 3.0),
    (0.0, 60.0),
    (0.0, 60.0),
];

impl Fibre {
    /// Whether its figures can be: finite, within reason, within their own
    /// spread, packings rising, and diameter, tex and packing in agreement.
    ///
    /// # Errors
    ///
    /// [`FibreError`] naming the first figure at fault.
    pub fn check(&self) -> Result<(), FibreError> {
        check_name(&self.name)?;
        for ((figure, known), limits) in self.figures().into_iter().zip(LIMITS) {
            self.check_figure(figure, known, limits)?;
        }
        self.check_number("stiffness", f64::from(self.stiffness), (1.0, 5.0))?;
        if let Some((width, thickness)) = self.flat {
            self.check_number("width", width, (0.02, 200.0))?;
            self.check_number("thickness", thickness, (0.005, LIMITS[0].1))?;
        }
        self.check_appearance()?;
        self.check_packing()
    }

    fn check_number(
        &self,
        figure: &'static str,
        value: f64,
        (low, high): (f64, f64),
    ) -> Result<(), FibreError> {
        if (low..=high).contains(&value) {
            return Ok(());
        }
        let fibre = self.name.clone();
        Err(FibreError::OutOfRange {
            fibre,
            figure,
            value,
            low,
            high,
        })
    }

    fn check_figure(
        &self,
        figure: &'static str,
        known: Known,
        limits: (f64, f64),
    ) -> Result<(), FibreError> {
        let Known {
            value, low, high, ..
        } = known;
        for number in [value, low, high] {
            self.check_number(figure, number, limits)?;
        }
        if (low..=high).contains(&value) {
            return Ok(());
        }
        let fibre = self.name.clone();
        Err(FibreError::OutsideSpread {
            fibre,
            figure,
            value,
            low,
            high,
        })
    }

    fn check_appearance(&self) -> Result<(), FibreError> {
        let look = self.appearance;
        for (figure, value, limits) in [
            ("plies", f64::from(look.plies), (1.0, 12.0)),
            ("twist", look.twist, (-80.0, 80.0)),
            ("relief", look.relief, (0.0, 1.0)),
            ("lay", look.lay, (-90.0, 90.0)),
            ("gloss", look.gloss, (0.0, 3.0)),
            ("width of the highlight", look.spread, (0.01, 2.0)),
            ("fuzz", look.fuzz, (0.0, 1.0)),
            ("mottle", look.mottle, (0.0, 1.0)),
        ] {
            self.check_number(figure, value, limits)?;
        }
        Ok(())
    }

    fn check_packing(&self) -> Result<(), FibreError> {
        let [free, in_braid, closest] = [
            self.packing.free.value,
            self.packing.in_braid.value,
            self.packing.closest.value,
        ];
        let fibre = self.name.clone();
        if free > in_braid || in_braid > closest {
            return Err(FibreError::PackingOrder {
                fibre,
                free,
                in_braid,
                closest,
            });
        }
        let (diameter, tex) = (self.diameter.value, self.tex.value);
        let implied = count::packing(diameter, tex, self.density.value);
        if (implied / free - 1.0).abs() <= AGREEMENT {
            return Ok(());
        }
        Err(FibreError::Contradiction {
            fibre,
            diameter,
            tex,
            implied,
            packing: free,
        })
    }
}

/// Whether this can name a fibre.
fn check_name(name: &str) -> Result<(), FibreError> {
    let letters = name.chars().count();
    if name.trim().is_empty() {
        return Err(FibreError::NoName);
    }
    if letters > LONGEST_NAME {
        let limit = LONGEST_NAME;
        return Err(FibreError::LongName { letters, limit });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::on_shelf;

    fn satin() -> Fibre {
        on_shelf("satin cord 2 mm, polyester").unwrap().clone()
    }

    #[test]
    fn figures_that_are_no_numbers_are_refused_by_name() {
        for bad in [f64::NAN, f64::INFINITY, -0.2] {
            let mut fibre = satin();
            fibre.friction.high = bad;
            let said = fibre.check().unwrap_err().to_string();
            assert!(
                said.starts_with("satin cord 2 mm, polyester: friction is"),
                "{said}"
            );
            let mut fibre = satin();
            fibre.appearance.gloss = bad;
            assert!(fibre.check().unwrap_err().to_string().contains("gloss"));
        }
    }

    #[test]
    fn a_figure_outside_its_own_spread_is_refused() {
        let mut fibre = satin();
        fibre.shortens.low = 4.0;
        let said = fibre.check().unwrap_err().to_string();
        assert_eq!(
            said,
            "satin cord 2 mm, polyester: shortening is 3.5, outside its own spread of 4 to 5"
        );
    }

    #[test]
    fn packing_that_falls_when_squeezed_is_refused() {
        let mut fibre = satin();
        fibre.packing.in_braid = Known::within(0.5, 0.1, fibre.packing.in_braid.standing);
        assert!(matches!(
            fibre.check(),
            Err(FibreError::PackingOrder { .. })
        ));
    }

    #[test]
    fn thickness_and_weight_that_contradict_packing_are_refused() {
        let mut fibre = satin();
        fibre.tex = Known::within(4000.0, 0.1, fibre.tex.standing);
        let said = fibre.check().unwrap_err().to_string();
        assert!(said.contains("make a packing of 0.916, not 0.52"), "{said}");
    }

    #[test]
    fn a_fibre_without_a_name_is_refused() {
        let mut fibre = satin();
        fibre.name = "  ".to_owned();
        assert_eq!(fibre.check(), Err(FibreError::NoName));
    }
}
