//! A fibre of the maker's own: a size and a name, all the rest proposed.
//!
//! What is proposed follows from substance and construction and stands as well
//! as those tables do. A size read off a label is common practice; weighing and
//! wrapping it makes it a measured one.

use std::f64::consts::PI;

use super::construction::Construction;
use super::fibre::{Fibre, Known, Label, Packing, Standing, rounded};
use super::substance::Substance;
use super::{Colour, FibreError, count};

/// How thick a fibre is, as its seller says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// Diameter lying free, mm.
    Diameter(f64),
    /// Linear density, g/km.
    Tex(f64),
    /// A ribbon or flat lace, mm.
    Flat {
        /// How wide.
        width: f64,
        /// How thick.
        thickness: f64,
    },
}

/// Least and most diameter of a strand to braid with, mm (our guess).
const DIAMETERS: (f64, f64) = (0.05, 30.0);

/// Least and most tex of a strand to braid with (our guess).
const TEX: (f64, f64) = (0.01, 2_000_000.0);

/// Share by which a size read off a label may be wrong (our guess).
const LABEL: f64 = 0.05;

/// Share by which a ribbon's weight may differ from what its size makes it (our guess).
const RIBBON_WEIGHT: f64 = 0.25;

/// Share of a round that a ribbon gathered into it fills, low, usual and high
/// (common practice, no source).
const GATHERED: [f64; 3] = [0.5, 0.6, 0.7];

/// Thickness of a woven ribbon, mm (common practice, no source).
const RIBBON_THICKNESS: f64 = 0.25;

/// What a size settles.
struct Sized {
    label: Label,
    diameter: Known,
    tex: Known,
    free: Known,
    flat: Option<(f64, f64)>,
}

impl Fibre {
    /// A fibre of this name and size, everything else proposed from substance and construction.
    ///
    /// # Errors
    ///
    /// [`FibreError`] when there is no name, the size is not a number between
    /// sensible limits (0.05 to 30 mm, 0.01 to 2 000 000 tex), or the
    /// construction is not made of the substance.
    pub fn proposed(
        name: &str,
        substance: Substance,
        construction: Construction,
        size: Size,
        colour: Colour,
    ) -> Result<Self, FibreError> {
        let name = name.trim().to_owned();
        if name.is_empty() {
            return Err(FibreError::NoName);
        }
        if !construction.takes(substance) {
            return Err(FibreError::NotMadeOf {
                fibre: name,
                construction: construction.name(),
                substance: substance.name(),
            });
        }
        size.check(&name)?;
        let density = construction.density(substance);
        let usual = construction.packing();
        let sized = size.settle(construction, density, usual.free);
        check_number(&name, "diameter", sized.diameter.value, DIAMETERS)?;
        check_number(&name, "tex", sized.tex.value, TEX)?;
        let fibre = Self {
            substance: substance.name().to_owned(),
            construction,
            label: sized.label,
            diameter: sized.diameter,
            tex: sized.tex,
            density,
            packing: Packing {
                free: sized.free,
                ..usual
            },
            friction: construction.friction(),
            shortens: construction.shortens(),
            lengthens: construction.lengthens(),
            stiffness: construction.stiffness(),
            flat: sized.flat,
            colour,
            appearance: construction.appearance(),
            note: String::new(),
            name,
        };
        fibre.check()?;
        Ok(fibre)
    }
}

impl Size {
    fn check(self, fibre: &str) -> Result<(), FibreError> {
        match self {
            Self::Diameter(mm) => check_number(fibre, "diameter", mm, DIAMETERS),
            Self::Tex(tex) => check_number(fibre, "tex", tex, TEX),
            Self::Flat { width, thickness } => {
                check_number(fibre, "width", width, DIAMETERS)?;
                check_number(fibre, "thickness", thickness, (0.01, width))
            }
        }
    }

    fn settle(self, construction: Construction, density: Known, free: Known) -> Sized {
        match self {
            Self::Diameter(mm) => by_diameter(mm, construction, density, free),
            Self::Tex(tex) => by_tex(tex, density, free),
            Self::Flat { width, thickness } => {
                let flat = Some((width, thickness));
                if construction != Construction::Ribbon {
                    let mm = (4.0 * width * thickness / PI).sqrt();
                    return Sized {
                        flat,
                        ..by_diameter(mm, construction, density, free)
                    };
                }
                ribbon(width, thickness, density, free)
            }
        }
    }
}

fn by_diameter(mm: f64, construction: Construction, density: Known, free: Known) -> Sized {
    let tex = |phi| count::tex_from_diameter(mm, phi, density.value);
    let standing = free.standing.min(Standing::CommonPractice);
    let (value, low, high) = (tex(free.value), tex(free.low), tex(free.high));
    Sized {
        label: Label::Diameter,
        diameter: Known::within(mm, LABEL, Standing::CommonPractice),
        tex: Known::worked_out(value, low, high, standing),
        free,
        flat: (construction == Construction::Ribbon).then(|| ungathered(mm)),
    }
}

fn by_tex(tex: f64, density: Known, free: Known) -> Sized {
    let mm = |phi| count::diameter_from_tex(tex, phi, density.value);
    let standing = free.standing.min(Standing::CommonPractice);
    let (value, low, high) = (mm(free.value), mm(free.high), mm(free.low));
    Sized {
        label: Label::Tex,
        diameter: Known::worked_out(value, low, high, standing),
        tex: Known::within(tex, LABEL, Standing::CommonPractice),
        free,
        flat: None,
    }
}

/// A ribbon gathered to a round that it fills by [`GATHERED`].
fn ribbon(width: f64, thickness: f64, density: Known, free: Known) -> Sized {
    let round = |filled: f64| (4.0 * width * thickness / (PI * filled)).sqrt();
    let [high, value, low] = GATHERED.map(round);
    let tex = rounded(count::tex_from_diameter(value, free.value, density.value));
    let packing = |mm| count::packing(mm, tex, density.value);
    Sized {
        label: Label::Both,
        diameter: Known::worked_out(value, low, high, Standing::CommonPractice),
        tex: Known::within(tex, RIBBON_WEIGHT, Standing::Guess),
        free: Known::worked_out(packing(value), packing(high), packing(low), free.standing),
        flat: Some((width, thickness)),
    }
}

/// Width and thickness of a woven ribbon that gathers to a round of `mm`.
///
/// Of the usual thickness, but never forty times as wide as thick or less than
/// four times (our guess).
fn ungathered(mm: f64) -> (f64, f64) {
    let area = PI / 4.0 * GATHERED[1] * mm * mm;
    let thickness = RIBBON_THICKNESS.clamp((area / 40.0).sqrt(), (area / 4.0).sqrt());
    (rounded(area / thickness), rounded(thickness))
}

fn check_number(
    fibre: &str,
    figure: &'static str,
    value: f64,
    (low, high): (f64, f64),
) -> Result<(), FibreError> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    Err(FibreError::OutOfRange {
        fibre: fibre.to_owned(),
        figure,
        value,
        low,
        high,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Bound, on_shelf};

    const RED: Colour = Colour([180, 40, 40]);

    fn propose(s: Substance, c: Construction, size: Size) -> Result<Fibre, FibreError> {
        Fibre::proposed("surf yarn", s, c, size, RED)
    }

    #[test]
    fn anything_that_can_be_proposed_can_be_at_every_end_too() {
        for c in Construction::ALL {
            for s in c.substances() {
                for size in [
                    Size::Diameter(0.05),
                    Size::Diameter(30.0),
                    Size::Tex(300.0),
                    Size::Flat {
                        width: 4.0,
                        thickness: 0.3,
                    },
                ] {
                    let fibre = propose(s, c, size).unwrap();
                    for which in fibre.unsure() {
                        assert_eq!(fibre.at(which, Bound::Low).check(), Ok(()));
                        assert_eq!(fibre.at(which, Bound::High).check(), Ok(()));
                    }
                }
            }
        }
    }

    #[test]
    fn what_is_proposed_for_a_shelf_fibre_is_what_the_shelf_says() {
        let satin = on_shelf("satin cord 2 mm, polyester").unwrap();
        let own = propose(
            Substance::Polyester,
            Construction::SatinCord,
            Size::Diameter(2.0),
        );
        let own = own.unwrap();
        assert!((own.tex.value / satin.tex.value - 1.0).abs() < 1e-3);
        assert_eq!(own.packing, satin.packing);
        assert_eq!(own.friction, satin.friction);
        let pearl = on_shelf("pearl cotton no. 5").unwrap();
        let own = propose(
            Substance::MercerisedCotton,
            Construction::PearlCotton,
            Size::Tex(200.0),
        );
        assert!((own.unwrap().diameter.value / pearl.diameter.value - 1.0).abs() < 1e-3);
    }

    #[test]
    fn a_ribbon_gathers_to_the_round_of_the_shelf() {
        let shelf = on_shelf("woven satin ribbon 6 mm").unwrap();
        let size = Size::Flat {
            width: 6.0,
            thickness: 0.25,
        };
        let own = propose(Substance::Polyester, Construction::Ribbon, size).unwrap();
        assert!((own.diameter.value / shelf.diameter.value - 1.0).abs() < 0.01);
        assert!((own.tex.value / shelf.tex.value - 1.0).abs() < 0.02);
        assert_eq!(own.flat, Some((6.0, 0.25)));
    }

    #[test]
    fn sizes_that_cannot_be_braided_are_refused_in_one_sentence() {
        for (size, wanted) in [
            (
                Size::Diameter(f64::NAN),
                "surf yarn: diameter is NaN; it must lie between 0.05 and 30",
            ),
            (
                Size::Diameter(-1.0),
                "surf yarn: diameter is -1; it must lie between 0.05 and 30",
            ),
            (
                Size::Tex(0.0),
                "surf yarn: tex is 0; it must lie between 0.01 and 2000000",
            ),
            (
                Size::Flat {
                    width: 3.0,
                    thickness: 4.0,
                },
                "surf yarn: thickness is 4; it must lie between 0.01 and 3",
            ),
        ] {
            let refused = propose(Substance::Wool, Construction::KnittingWool, size).unwrap_err();
            assert_eq!(refused.to_string(), wanted);
        }
        let odd = propose(
            Substance::Cotton,
            Construction::PaperYarn,
            Size::Diameter(2.0),
        );
        let said = odd.unwrap_err().to_string();
        assert_eq!(said, "surf yarn: paper yarn is not made of cotton");
        let nameless = Fibre::proposed(
            " ",
            Substance::Silk,
            Construction::SilkCord,
            Size::Tex(50.0),
            RED,
        );
        assert_eq!(nameless, Err(FibreError::NoName));
    }
}
