//! What a strand's tube is called and how it takes the light.

use crate::cord::strand_name;
use crate::material::{Colour, Fibre, Strand, Weave};

/// The look of a tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// Letter, colour and construction: "A teal satin cord".
    pub name: String,
    /// Red, green and blue as shares of light, 0 to 1; of several ends the mean by area.
    pub light: [f64; 3],
    /// Strength of the highlight, 0 matt.
    pub gloss: f64,
    /// Share of the strand that is metal, 0 to 1.
    pub metal: f64,
}

/// The finishes of a design's strands in the order of its form, of which the first
/// `braided` are braided and any further one is the core. A part whose fibre is not among
/// `fibres` counts for nothing.
pub fn finishes(strands: &[Strand], braided: usize, fibres: &[Fibre]) -> Vec<Finish> {
    let finish = |(i, strand): (usize, &Strand)| {
        let called = if i < braided {
            strand_name(i)
        } else {
            "core,".to_owned()
        };
        Finish::of(&called, strand, fibres)
    };
    strands.iter().enumerate().map(finish).collect()
}

impl Finish {
    /// Smooth grey, of no strand in particular.
    pub(super) fn plain() -> Self {
        Self {
            name: "strand".to_owned(),
            light: Colour([128, 128, 128]).linear(),
            gloss: 0.2,
            metal: 0.0,
        }
    }

    fn of(called: &str, strand: &Strand, fibres: &[Fibre]) -> Self {
        let parts: Vec<(&Fibre, Colour, f64)> = strand
            .parts
            .iter()
            .filter_map(|part| {
                let fibre = fibres.iter().find(|f| f.name == part.fibre)?;
                let area = f64::from(part.ends) * fibre.diameter.value.powi(2);
                Some((fibre, part.colour, area))
            })
            .collect();
        let whole: f64 = parts.iter().map(|(_, _, area)| area).sum();
        if whole.is_nan() || whole <= 0.0 {
            return Self {
                name: format!("{called} strand"),
                ..Self::plain()
            };
        }
        let mean = |of: &dyn Fn(&Fibre, Colour) -> f64| {
            let sum = parts.iter().map(|(f, c, area)| of(f, *c) * area);
            sum.sum::<f64>() / whole
        };
        let words = parts
            .iter()
            .map(|(f, c, _)| format!("{} {}", c.name(), f.construction.name()));
        Self {
            name: format!("{called} {}", words.collect::<Vec<_>>().join(" and ")),
            light: [0, 1, 2].map(|k| mean(&|_, colour| colour.linear()[k])),
            gloss: mean(&|fibre, _| fibre.appearance.gloss.clamp(0.0, 3.0)),
            metal: mean(&|fibre, _| f64::from(u8::from(fibre.appearance.weave == Weave::Foil))),
        }
    }

    /// Roughness of a microfacet surface, 0.35 for the glossiest thread to 1 for matt
    /// wool. Our guess: fibre throws a highlight wider than a varnished one.
    pub(super) fn roughness(&self) -> f64 {
        1.0 - 0.75 * self.gloss / (self.gloss + 0.45)
    }

    /// The colour as it is shown, sRGB shares from 0 to 1.
    pub(super) fn shown(&self) -> [f64; 3] {
        Colour::from_linear(self.light)
            .0
            .map(|byte| f64::from(byte) / 255.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Part, shelf};

    const TEAL: Colour = Colour([0x1f, 0x7c, 0x7c]);

    #[test]
    fn a_strand_is_called_by_letter_colour_and_make() {
        let strand = Strand::single("satin cord 2 mm, polyester", TEAL);
        let made = finishes(&[strand.clone(), strand], 1, shelf());
        assert_eq!(made[0].name, "A teal satin cord");
        assert_eq!(made[1].name, "core, teal satin cord");
        let back = made[0].shown().map(|v| (v * 255.0).round() as u8);
        assert_eq!(back, TEAL.0);
    }

    #[test]
    fn ends_of_two_colours_give_their_mean_light() {
        let part = |colour| Part {
            fibre: "satin cord 2 mm, polyester".to_owned(),
            ends: 1,
            colour,
        };
        let parts = vec![part(Colour::BLACK), part(Colour::WHITE)];
        let made = finishes(&[Strand { parts }], 1, shelf());
        for light in made[0].light {
            assert!((light - 0.5).abs() < 1e-9, "{light}");
        }
    }

    #[test]
    fn glossier_thread_is_less_rough_and_a_stranger_is_plain() {
        let rough = |gloss| {
            Finish {
                gloss,
                ..Finish::plain()
            }
            .roughness()
        };
        assert_eq!(rough(0.0), 1.0);
        assert!(rough(1.0) < rough(0.1) && rough(3.0) > 0.3);
        let stranger = finishes(&[Strand::single("moonlight", TEAL)], 1, shelf());
        assert_eq!(stranger[0].name, "A strand");
    }
}
