//! The round body that the fibres of a strand make together.
//!
//! Letters: `phi` packing, the share of the envelope that is fibre; `u` squeeze,
//! the logarithm by which the radius falls, so that `phi = phi0 e^{2u}`; `T` pull
//! on the strand, `d` its free diameter, `p` pressure, `M` squeeze modulus.
//!
//! **Solid.** Areas of solid fibre add: `S = Σ ends · tex / (1000 rho)`.
//!
//! **Envelope.** One end is its own round. Several ends held together fill the
//! thread that one could wind round them to 0.87: two, three, seven and many
//! equal rounds fill it to 0.880, 0.867, 0.862 and 0.907 (geometry). Ends of
//! unequal size leave less of it empty, a thin one sits in the groove beside a
//! thick one; see [`voids`]. When the ends are squeezed to a packing `phi` they
//! mould to one another and the empty share falls as `phi_free / phi`: our
//! guess. Beside common practice it gives six loose strands of floss a packing of
//! 0.495 in a braid where 0.50 is usual, and 0.365 lying free where 0.33 is.
//!
//! **Squeezing.** A mass of fibre resists as `p = M (phi³ - phi0³)` (van Wyk, Note
//! on the compressibility of wool, Journal of the Textile Institute 37 (1946)
//! T285–T292, whose `K E` is our `M`). Nobody lists `M` for braiding cords; what
//! is said of them is how closely they pack in a firm hand braid. So `M` is
//! found from that packing at the pressure of such a braid; see
//! [`squeeze_modulus`].
//!
//! This module does not know where in a cord the strand lies or how hard it is
//! pulled.

use std::f64::consts::PI;

use super::fibre::Fibre;

/// The round body that a strand's fibres make together; follows from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Diameter lying free, mm.
    pub diameter: f64,
    /// Solid fibre in the section, mm2.
    pub solid_area: f64,
    /// Linear density, tex.
    pub tex: f64,
    /// Packing lying free.
    pub packing_free: f64,
    /// Packing in a firm hand braid.
    pub packing_in_braid: f64,
    /// Closest packing.
    pub packing_closest: f64,
    /// Resistance to squeezing (van Wyk's `K E`), N/mm2; infinite for what cannot be squeezed.
    pub squeeze_modulus: f64,
    /// Bending stiffness as a share of pull times diameter squared.
    pub bending: f64,
    /// How wide it lies where it is pressed flat, over its diameter; at least 1.
    pub widens: f64,
    /// How wide it lies by itself, over its diameter: 1 but for ribbons and flat laces.
    pub lies: f64,
    /// Friction of strand on strand.
    pub friction: f64,
    /// Shortening off the weight, per cent.
    pub shortens: f64,
    /// Lengthening when worked, per cent.
    pub lengthens: f64,
}

/// Pull over squared free diameter at which `packing.in_braid` is meant, N/mm2.
///
/// Our guess: 0.6 N on a strand 2 mm thick, what the slots of a hand-held disc
/// and a tug give. Half of it makes every soft fibre half as stiff.
const REFERENCE_PULL: f64 = 0.6 / (2.0 * 2.0);

/// Energy of the round shape over strand length, in pulls, of a round cord.
///
/// Tried: pull on the strands less the work of the weight is about 0.7 of the
/// pull for every length of strand in an eight-strand spiral.
const SHAPE_ENERGY: f64 = 0.7;

/// Width of two equal ends side by side over the round of the thread wound round them
/// (geometry, at [`LOOSE_VOIDS`]).
const SIDE_BY_SIDE: f64 = 1.31;

/// Share of the thread wound round several equal ends that stays empty.
const LOOSE_VOIDS: f64 = 0.13;

/// Bending of limp yarn as a share of pull times diameter squared (our guess).
///
/// Too high, and tight braids open at the bends; under 0.005 nothing changes (tried).
const LIMP_BENDING: f64 = 0.05;

/// Bending for stiffness classes 1 to 5, shares as at [`LIMP_BENDING`] (our guess).
const BENDING: [f64; 5] = [LIMP_BENDING, LIMP_BENDING, 0.10, 0.15, 0.20];

/// Squeeze that is no more than figures rounded to four digits.
const ROUNDING: f64 = 1e-3;

impl Body {
    /// The body of these fibres held together, each with its number of ends.
    ///
    /// There is at least one end, and the fibres pass [`Fibre::check`].
    pub(super) fn of(parts: &[(&Fibre, u16)]) -> Self {
        let sum = |f: fn(&Fibre) -> f64| -> f64 {
            parts
                .iter()
                .map(|&(fibre, n)| f64::from(n) * f(fibre))
                .sum()
        };
        let solid = sum(Fibre::solid_area);
        let mean = |f: fn(&Fibre) -> f64| -> f64 {
            let weighed =
                |&(fibre, n): &(&Fibre, u16)| f64::from(n) * fibre.solid_area() * f(fibre);
            parts.iter().map(weighed).sum::<f64>() / solid
        };
        // Envelopes of the ends add, so packings are means of their inverses.
        let ends_free = solid / sum(Fibre::envelope);
        let ends_packed = |f: fn(&Fibre) -> f64| 1.0 / mean(f);
        let voids = voids(parts);
        let moulded = |packing: f64| packing * (1.0 - voids * (ends_free / packing).min(1.0));
        let free = moulded(ends_free);
        let in_braid = moulded(ends_packed(|f| 1.0 / f.packing.in_braid.value)).max(free);
        let closest = moulded(ends_packed(|f| 1.0 / f.packing.closest.value)).max(in_braid);
        Self {
            diameter: (4.0 * solid / (PI * free)).sqrt(),
            solid_area: solid,
            tex: sum(|f| f.tex.value),
            packing_free: free,
            packing_in_braid: in_braid,
            packing_closest: closest,
            squeeze_modulus: squeeze_modulus(free, in_braid),
            bending: LIMP_BENDING + (mean(Fibre::bending) - LIMP_BENDING) / like_ends(parts),
            widens: widens(parts, mean(Fibre::widens)),
            lies: 1.0 + (mean(Fibre::lies) - 1.0) / like_ends(parts),
            friction: mean(|f| f.friction.value),
            shortens: mean(|f| f.shortens.value),
            lengthens: mean(|f| f.lengthens.value),
        }
    }

    /// Van Wyk's resistance in the solver's terms: `kappa = M phi0³ d² / T` for a pull in N.
    ///
    /// Infinite for what cannot be squeezed.
    pub fn kappa(&self, pull: f64) -> f64 {
        self.squeeze_modulus * self.packing_free.powi(3) * self.diameter * self.diameter / pull
    }

    /// Squeeze `u` at which the fibre is packed as closely as it goes.
    pub fn squeeze_limit(&self) -> f64 {
        squeeze(self.packing_free, self.packing_closest)
    }

    /// Whether it gives at all when squeezed.
    pub fn is_hard(&self) -> bool {
        self.squeeze_modulus.is_infinite()
    }
}

impl Fibre {
    /// Area of the round envelope lying free, mm2.
    fn envelope(&self) -> f64 {
        PI / 4.0 * self.diameter.value * self.diameter.value
    }

    /// How wide one end lies by itself, over its diameter.
    fn lies(&self) -> f64 {
        let wide = |(width, _): (f64, f64)| width / self.diameter.value;
        self.flat.map_or(1.0, wide).max(1.0)
    }

    /// How wide one end lies where it is pressed flat, over its diameter.
    fn widens(&self) -> f64 {
        match self.flat {
            Some(_) => self.lies(),
            None => self.construction.widens(),
        }
    }

    /// Bending of one end as a share of pull times diameter squared (our guess).
    fn bending(&self) -> f64 {
        BENDING[usize::from(self.stiffness.clamp(1, 5)) - 1]
    }
}

/// How many ends of one size make a bundle as uneven as this one.
///
/// `(Σ a)² / Σ a²` over the envelopes `a` of the ends: `n` for `n` equal ends,
/// near 1 for one thick end with thin ones beside it. Ends slide past one
/// another, so a bundle bends that many times more easily than a single end of
/// its thickness.
fn like_ends(parts: &[(&Fibre, u16)]) -> f64 {
    let power = |k: i32| -> f64 {
        let ends = parts.iter();
        ends.map(|&(fibre, n)| f64::from(n) * fibre.envelope().powi(k))
            .sum()
    };
    power(1).powi(2) / power(2)
}

/// Several ends lie side by side as far as two do, at least.
fn widens(parts: &[(&Fibre, u16)], one: f64) -> f64 {
    let beside = (like_ends(parts) - 1.0).clamp(0.0, 1.0);
    one.max(1.0 + beside * (SIDE_BY_SIDE - 1.0))
}

/// Empty share of the thread wound round the ends as they lie free.
///
/// The root in the number of like ends fits a thin round beside a thick one: at
/// 0.4 and 0.2 of its thickness the empty share is 0.081 and 0.041 by geometry,
/// 0.073 and 0.037 here.
fn voids(parts: &[(&Fibre, u16)]) -> f64 {
    LOOSE_VOIDS * (like_ends(parts) - 1.0).clamp(0.0, 1.0).sqrt()
}

/// Squeeze that takes one packing to another.
fn squeeze(from: f64, to: f64) -> f64 {
    0.5 * (to / from).ln()
}

/// Modulus `M`, N/mm2, of fibre that packs from `free` to `in_braid` in a firm hand braid.
///
/// The energy of a strand squeezed by `u`, in pulls for every length, is `U(u) =
/// (π/2) kappa [(e^{4u} - 1)/4 + (e^{-2u} - 1)/2]` with `kappa = M phi0³ d² / T`. A
/// cord of strands squeezed alike has the shape of the round ones, smaller by
/// `e^{-u}`, so its energy `e^{-u} (E + L U)` is least where `U' - U = E / L`,
/// which [`SHAPE_ENERGY`] names.
///
/// Infinite when the packing in the braid is no closer than lying free, but for
/// the rounding of the figures.
fn squeeze_modulus(free: f64, in_braid: f64) -> f64 {
    let u = squeeze(free, in_braid);
    if u <= ROUNDING {
        return f64::INFINITY;
    }
    let energy = 0.25 * ((4.0 * u).exp() - 1.0) + 0.5 * ((-2.0 * u).exp() - 1.0);
    let slope = (4.0 * u).exp() - (-2.0 * u).exp();
    let kappa = SHAPE_ENERGY / (PI / 2.0 * (slope - energy));
    kappa * REFERENCE_PULL / free.powi(3)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::material::{Colour, Part, Strand, on_shelf, shelf};

    fn body(parts: &[(&str, u16)]) -> Body {
        let part = |&(fibre, ends): &(&str, u16)| Part {
            fibre: fibre.to_owned(),
            ends,
            colour: Colour([0, 0, 0]),
        };
        let parts = parts.iter().map(part).collect();
        Strand { parts }.body(shelf()).unwrap()
    }

    fn near(got: f64, wanted: f64, share: f64) {
        assert!((got / wanted - 1.0).abs() <= share, "{got} is not {wanted}");
    }

    #[test]
    fn one_end_has_its_own_thickness_weight_and_packing() {
        for fibre in shelf() {
            let b = body(&[(&fibre.name, 1)]);
            near(b.diameter, fibre.diameter.value, 1e-9);
            near(b.tex, fibre.tex.value, 1e-9);
            near(b.packing_free, fibre.packing.free.value, 0.01);
            near(b.packing_in_braid, fibre.packing.in_braid.value, 0.01);
        }
    }

    /// The balance solved by bisection, as whoever tightens a cord meets it.
    fn packing_at(b: &Body, pull: f64) -> f64 {
        let k = PI / 2.0 * b.kappa(pull);
        let lacks = |u: f64| {
            let energy = 0.25 * ((4.0 * u).exp() - 1.0) + 0.5 * ((-2.0 * u).exp() - 1.0);
            k * ((4.0 * u).exp() - (-2.0 * u).exp() - energy) < SHAPE_ENERGY
        };
        let (mut low, mut high) = (0.0, 5.0);
        for _ in 0..60 {
            let u = f64::midpoint(low, high);
            *(if lacks(u) { &mut low } else { &mut high }) = u;
        }
        b.packing_free * (2.0 * low).exp()
    }

    #[test]
    fn a_soft_strand_packs_as_in_a_hand_braid_at_the_pull_of_one() {
        for fibre in shelf() {
            let b = body(&[(&fibre.name, 1)]);
            if b.is_hard() {
                near(b.packing_in_braid, b.packing_free, 1e-3);
                continue;
            }
            let pull = 0.15 * b.diameter * b.diameter;
            near(packing_at(&b, pull), b.packing_in_braid, 1e-9);
            assert!(packing_at(&b, 2.0 * pull) > b.packing_in_braid);
            assert!(b.squeeze_limit() > squeeze(b.packing_free, b.packing_in_braid));
        }
    }

    #[test]
    fn rubber_is_hard_and_wool_the_softest_of_the_common_strands() {
        let rubber = body(&[("rubber cord 2 mm, solid", 1)]);
        assert!(rubber.is_hard() && rubber.squeeze_limit() < 1e-3);
        let kappa = |name| {
            let b = body(&[(name, 1)]);
            b.kappa(0.15 * b.diameter * b.diameter)
        };
        let wool = kappa("knitting yarn light (weight 3), wool");
        let satin = kappa("satin cord 2 mm, polyester");
        let leather = kappa("leather lace 2 mm, round");
        assert!(wool < satin && satin < leather, "{wool} {satin} {leather}");
    }

    #[test]
    fn solid_areas_and_weights_of_ends_add() {
        let both = body(&[("pearl cotton no. 5", 2), ("metallised braid 0.4 mm", 3)]);
        let one = body(&[("pearl cotton no. 5", 1)]);
        let other = body(&[("metallised braid 0.4 mm", 1)]);
        near(both.tex, 2.0 * one.tex + 3.0 * other.tex, 1e-12);
        near(
            both.solid_area,
            2.0 * one.solid_area + 3.0 * other.solid_area,
            1e-12,
        );
        assert!(both.friction > other.friction && both.friction < one.friction);
    }

    #[test]
    fn six_single_strands_of_floss_are_about_the_floss_as_sold() {
        // Common practice, no source, for both rows of the shelf.
        let six = body(&[("embroidery floss, one strand of six", 6)]);
        let sold = body(&[("embroidery floss, all six strands", 1)]);
        near(six.tex, sold.tex, 1e-9);
        near(six.diameter, sold.diameter, 0.06);
        near(six.packing_in_braid, sold.packing_in_braid, 0.03);
    }

    #[test]
    fn hard_ends_keep_the_room_between_them_and_soft_ones_give_it_up() {
        let leather = body(&[("leather lace 1 mm, round", 3)]);
        near(leather.packing_free, 0.87, 1e-3);
        assert!(leather.packing_closest < 1.0);
        let wool = "knitting yarn light (weight 3), wool";
        let (one, three) = (body(&[(wool, 1)]), body(&[(wool, 3)]));
        assert!(three.packing_closest > 0.96 * one.packing_closest);
        assert!(three.packing_free < 0.88 * one.packing_free);
    }

    #[test]
    fn a_thin_thread_beside_a_thick_one_hardly_widens_it() {
        let satin = on_shelf("satin cord 2 mm, polyester").unwrap();
        let thread = on_shelf("metallised braid 0.4 mm").unwrap();
        // Two rounds, 0.2 to 1, in a taut thread: the empty share is 0.041 (geometry).
        let got = voids(&[(satin, 1), (thread, 1)]);
        assert!((got - 0.041).abs() < 0.01, "{got}");
    }

    #[test]
    fn several_stiff_ends_bend_more_easily_than_one_as_thick() {
        let one = body(&[("waxed cotton cord 2 mm", 1)]);
        let four = body(&[("waxed cotton cord 1 mm", 4)]);
        assert!(four.bending < one.bending && four.bending > LIMP_BENDING);
    }

    fn any_strand() -> impl Strategy<Value = Strand> {
        let part = (0..shelf().len(), 1_u16..12).prop_map(|(at, ends)| Part {
            fibre: shelf()[at].name.clone(),
            ends,
            colour: Colour::BLACK,
        });
        proptest::collection::vec(part, 1..5).prop_map(|parts| Strand { parts })
    }

    proptest! {
        #[test]
        fn whatever_is_held_together_has_a_body(strand in any_strand()) {
            let b = strand.body(shelf()).unwrap();
            let packings = [0.0, b.packing_free, b.packing_in_braid, b.packing_closest];
            prop_assert!(packings.is_sorted(), "{packings:?}");
            prop_assert!(b.squeeze_modulus > 0.0 && b.bending > LIMP_BENDING - 1e-9);
            let made_of = strand.made_of(shelf()).unwrap();
            let thickest = made_of.iter().map(|(f, _)| f.diameter.value).fold(0.0, f64::max);
            let room: f64 = made_of.iter().map(|(f, n)| f64::from(*n) * f.envelope()).sum();
            let envelope = PI / 4.0 * b.diameter * b.diameter;
            prop_assert!(b.diameter >= thickest * 0.999);
            prop_assert!(envelope >= 0.999 * room && envelope <= room / (1.0 - LOOSE_VOIDS) * 1.001);
        }

        #[test]
        fn the_order_of_the_fibres_does_not_matter(strand in any_strand()) {
            let mut turned = strand.clone();
            turned.parts.reverse();
            let (a, b) = (strand.body(shelf()).unwrap(), turned.body(shelf()).unwrap());
            prop_assert!((a.diameter - b.diameter).abs() < 1e-9 * a.diameter);
            prop_assert!((a.packing_closest - b.packing_closest).abs() < 1e-9);
        }
    }
}
