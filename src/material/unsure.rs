//! What a fibre would be if one of its figures stood at an end of its spread.
//!
//! Diameter, tex, density and free packing say one thing less than they are
//! many. Which three vary by themselves is decided by the fibre's [`Label`], so
//! that no uncertainty counts twice:
//!
//! * sold by diameter: diameter, packing and density vary, tex follows;
//! * sold by weight: tex, packing and density vary, diameter follows;
//! * both known: diameter, tex and density vary, packing follows.

use super::count;
use super::fibre::{Fibre, Known, Label};

/// A figure of a fibre that varies by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unsure {
    /// Diameter lying free.
    Diameter,
    /// Linear density.
    Tex,
    /// Density of the solid.
    Density,
    /// Packing lying free.
    PackingFree,
    /// Packing in a firm hand braid.
    PackingInBraid,
    /// Closest packing.
    PackingClosest,
    /// Friction of strand on strand.
    Friction,
    /// Shortening off the weight.
    Shortens,
    /// Lengthening when worked.
    Lengthens,
}

/// An end of a spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Bound {
    /// The lower one.
    Low,
    /// The upper one.
    High,
}

impl Unsure {
    /// Every figure that may vary.
    pub const ALL: [Self; 9] = [
        Self::Diameter,
        Self::Tex,
        Self::Density,
        Self::PackingFree,
        Self::PackingInBraid,
        Self::PackingClosest,
        Self::Friction,
        Self::Shortens,
        Self::Lengthens,
    ];

    /// Whether the tight cord's shape can change with it; the others change
    /// only what is said of its length and weight.
    pub fn changes_shape(self, label: Label) -> bool {
        match self {
            Self::Shortens | Self::Lengthens => false,
            Self::Density => label != Label::Diameter,
            _ => true,
        }
    }

    /// Whether another figure takes up the slack under this label.
    fn follows(self, label: Label) -> bool {
        matches!(
            (self, label),
            (Self::Tex, Label::Diameter)
                | (Self::Diameter, Label::Tex)
                | (Self::PackingFree, Label::Both)
        )
    }

    fn of(self, fibre: &Fibre) -> Known {
        match self {
            Self::Diameter => fibre.diameter,
            Self::Tex => fibre.tex,
            Self::Density => fibre.density,
            Self::PackingFree => fibre.packing.free,
            Self::PackingInBraid => fibre.packing.in_braid,
            Self::PackingClosest => fibre.packing.closest,
            Self::Friction => fibre.friction,
            Self::Shortens => fibre.shortens,
            Self::Lengthens => fibre.lengthens,
        }
    }

    fn of_mut(self, fibre: &mut Fibre) -> &mut Known {
        match self {
            Self::Diameter => &mut fibre.diameter,
            Self::Tex => &mut fibre.tex,
            Self::Density => &mut fibre.density,
            Self::PackingFree => &mut fibre.packing.free,
            Self::PackingInBraid => &mut fibre.packing.in_braid,
            Self::PackingClosest => &mut fibre.packing.closest,
            Self::Friction => &mut fibre.friction,
            Self::Shortens => &mut fibre.shortens,
            Self::Lengthens => &mut fibre.lengthens,
        }
    }
}

impl Fibre {
    /// The figures that vary by themselves and have a spread.
    pub fn unsure(&self) -> impl Iterator<Item = Unsure> {
        Unsure::ALL.into_iter().filter(|&which| {
            let known = which.of(self);
            known.low < known.high && !which.follows(self.label)
        })
    }

    /// This fibre with one figure at an end of its spread.
    ///
    /// What follows from it moves along, as the module says; packings that it
    /// would overtake are pushed ahead of it. A figure that follows may be asked
    /// for as well: then packing gives way to diameter or tex, and tex to packing.
    pub fn at(&self, which: Unsure, bound: Bound) -> Self {
        let known = which.of(self);
        let end = match bound {
            Bound::Low => known.low,
            Bound::High => known.high,
        };
        self.with(which, end)
    }

    /// This fibre with one figure set to `value`, the rest following as in [`Self::at`].
    pub fn with(&self, which: Unsure, value: f64) -> Self {
        let mut fibre = self.clone();
        let known = which.of_mut(&mut fibre);
        *known = known.moved_to(value);
        let gives_way = match (which, self.label) {
            (Unsure::Diameter, Label::Diameter) => Unsure::Tex,
            (Unsure::Tex, Label::Tex) => Unsure::Diameter,
            (Unsure::Diameter | Unsure::Tex, _) | (Unsure::Density, Label::Both) => {
                Unsure::PackingFree
            }
            (Unsure::PackingFree | Unsure::Density, Label::Tex) => Unsure::Diameter,
            (Unsure::PackingFree | Unsure::Density, _) => Unsure::Tex,
            _ => return fibre.with_packing_in_order(),
        };
        fibre.follow(gives_way, self.disagreement());
        fibre.with_packing_in_order()
    }

    /// What the stated packing has to be multiplied with to be that of diameter and tex.
    ///
    /// Near 1; figures set by hand need not agree to the last digit, and a small
    /// step in one of them must not mend that.
    fn disagreement(&self) -> f64 {
        count::packing(self.diameter.value, self.tex.value, self.density.value)
            / self.packing.free.value
    }

    fn follow(&mut self, which: Unsure, disagreement: f64) {
        let (diameter, tex, rho) = (self.diameter.value, self.tex.value, self.density.value);
        let phi = self.packing.free.value * disagreement;
        let value = match which {
            Unsure::Diameter => count::diameter_from_tex(tex, phi, rho),
            Unsure::Tex => count::tex_from_diameter(diameter, phi, rho),
            _ => count::packing(diameter, tex, rho) / disagreement,
        };
        let known = which.of_mut(self);
        *known = known.moved_to(value);
    }

    fn with_packing_in_order(mut self) -> Self {
        let packing = &mut self.packing;
        let in_braid = packing.in_braid.value.max(packing.free.value);
        packing.in_braid = packing.in_braid.moved_to(in_braid);
        let closest = packing.closest.value.max(in_braid);
        packing.closest = packing.closest.moved_to(closest);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{on_shelf, shelf};

    fn near(got: f64, wanted: f64) {
        assert!((got / wanted - 1.0).abs() < 1e-9, "{got} is not {wanted}");
    }

    #[test]
    fn every_fibre_can_still_be_with_any_figure_at_either_end() {
        for fibre in shelf() {
            for which in fibre.unsure() {
                for bound in [Bound::Low, Bound::High] {
                    let moved = fibre.at(which, bound);
                    assert_eq!(moved.check(), Ok(()), "{} {which:?} {bound:?}", fibre.name);
                    let Known { low, high, .. } = which.of(fibre);
                    let end = if bound == Bound::Low { low } else { high };
                    assert_eq!(which.of(&moved).value, end);
                }
            }
        }
    }

    #[test]
    fn thicker_satin_cord_is_heavier_and_as_dense() {
        let satin = on_shelf("satin cord 2 mm, polyester").unwrap();
        let thick = satin.at(Unsure::Diameter, Bound::High);
        near(thick.diameter.value, 2.1);
        near(thick.tex.value, satin.tex.value * 1.05 * 1.05);
        near(thick.packing.free.value, satin.packing.free.value);
        let loose = satin.at(Unsure::PackingFree, Bound::Low);
        near(loose.diameter.value, 2.0);
        near(loose.tex.value, satin.tex.value * 0.45 / 0.52);
    }

    #[test]
    fn looser_pearl_cotton_is_thicker_and_weighs_the_same() {
        let pearl = on_shelf("pearl cotton no. 5").unwrap();
        let loose = pearl.at(Unsure::PackingFree, Bound::Low);
        near(loose.tex.value, 200.0);
        assert!(loose.diameter.value > pearl.diameter.value);
        assert!(!pearl.unsure().any(|which| which == Unsure::Diameter));
    }

    #[test]
    fn thinner_wool_of_the_same_weight_is_packed_closer() {
        let wool = on_shelf("knitting yarn light (weight 3), wool").unwrap();
        let thin = wool.at(Unsure::Diameter, Bound::Low);
        near(thin.tex.value, wool.tex.value);
        assert!(thin.packing.free.value > 1.3 * wool.packing.free.value);
    }

    #[test]
    fn a_small_step_leaves_hand_set_figures_as_they_disagree() {
        let mut fibre = on_shelf("satin cord 2 mm, polyester").unwrap().clone();
        fibre.tex.value *= 1.05;
        near(fibre.with(Unsure::Diameter, 2.0).tex.value, fibre.tex.value);
    }
}
