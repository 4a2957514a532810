//! Yarn counts and what they say about thickness.
//!
//! Tex is the weight in grams of a kilometre. Indirect counts (Nm, Ne) say how
//! many lengths make a weight, so a higher count is a finer yarn. Nothing here
//! checks its input: zero gives infinity and a negative count a negative one.
//!
//! Letters: `phi` packing (share of the round envelope that is fibre), `rho`
//! density of the solid in g/cm3.

use std::f64::consts::PI;

use crate::quantity::MM_PER_INCH;

/// Hanks of 840 yards in a pound for one tex: 453.59237 g / (840 · 0.9144 m) · 1000.
///
/// # Source
///
/// Exact, from the yard of 0.9144 m and the pound of 453.59237 g.
const COTTON_COUNT_TEX: f64 = 453.592_37 / (840.0 * 0.9144) * 1000.0;

/// Tex of a weight in decitex.
pub fn tex_from_dtex(dtex: f64) -> f64 {
    dtex / 10.0
}

/// Decitex of a weight in tex.
pub fn dtex_from_tex(tex: f64) -> f64 {
    tex * 10.0
}

/// Tex of a weight in denier, grams of nine kilometres.
pub fn tex_from_denier(denier: f64) -> f64 {
    denier / 9.0
}

/// Denier of a weight in tex.
pub fn denier_from_tex(tex: f64) -> f64 {
    tex * 9.0
}

/// Tex of a metric count, metres to the gram.
pub fn tex_from_nm(nm: f64) -> f64 {
    1000.0 / nm
}

/// Metric count of a weight in tex.
pub fn nm_from_tex(tex: f64) -> f64 {
    1000.0 / tex
}

/// Tex of an English cotton count, hanks of 840 yards to the pound.
pub fn tex_from_ne(ne: f64) -> f64 {
    COTTON_COUNT_TEX / ne
}

/// English cotton count of a weight in tex.
pub fn ne_from_tex(tex: f64) -> f64 {
    COTTON_COUNT_TEX / tex
}

/// Diameter in mm of a yarn that lies so many times side by side in an inch.
pub fn diameter_from_wraps(wraps_per_inch: f64) -> f64 {
    MM_PER_INCH / wraps_per_inch
}

/// Wraps per inch of a yarn of this diameter in mm.
pub fn wraps_from_diameter(diameter: f64) -> f64 {
    MM_PER_INCH / diameter
}

/// Diameter in mm of a ring-spun cotton yarn of this English count, `1 / (28 √Ne)` inch.
///
/// # Source
///
/// Peirce, The geometry of cloth structure, Journal of the Textile Institute 28
/// (1937) T45–T96; the 28 stands for a specific volume of about 1.1 cm3/g.
pub fn peirce_diameter(ne: f64) -> f64 {
    MM_PER_INCH / (28.0 * ne.sqrt())
}

/// Area in mm2 of the solid in a section of a yarn of `tex`.
pub fn solid_area(tex: f64, rho: f64) -> f64 {
    tex / (1000.0 * rho)
}

/// Diameter in mm of the round envelope: `0.0356825 √(tex / (phi rho))`.
pub fn diameter_from_tex(tex: f64, phi: f64, rho: f64) -> f64 {
    (4.0 * solid_area(tex, rho) / (PI * phi)).sqrt()
}

/// Tex of a yarn of this diameter in mm.
pub fn tex_from_diameter(diameter: f64, phi: f64, rho: f64) -> f64 {
    1000.0 * rho * phi * PI / 4.0 * diameter * diameter
}

/// Packing of a yarn of this diameter in mm and this weight.
pub fn packing(diameter: f64, tex: f64, rho: f64) -> f64 {
    4.0 * solid_area(tex, rho) / (PI * diameter * diameter)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, wanted: f64, tolerance: f64) {
        assert!((got - wanted).abs() <= tolerance, "{got} is not {wanted}");
    }

    // ISO 1144:2016 and Denton & Daniels, Textile Terms and Definitions.
    #[test]
    fn direct_counts_are_weights_of_a_length() {
        near(tex_from_denier(100.0), 11.1111, 1e-4);
        near(denier_from_tex(tex_from_dtex(940.0)), 846.0, 1e-9);
        near(dtex_from_tex(20.0), 200.0, 1e-12);
    }

    // Same definitions; the constant is exact from yard and pound.
    #[test]
    fn indirect_counts_are_lengths_of_a_weight() {
        near(tex_from_nm(34.0), 29.4118, 1e-4);
        near(nm_from_tex(tex_from_nm(34.0)), 34.0, 1e-12);
        near(tex_from_ne(1.0), 590.541_247, 1e-6);
        near(tex_from_ne(20.0), 29.5271, 1e-4);
        near(tex_from_ne(15.0), 39.3694, 1e-4);
        near(ne_from_tex(tex_from_ne(60.0)), 60.0, 1e-12);
        // Denier times cotton count, 5315 in the conversion tables of the trade.
        near(denier_from_tex(tex_from_ne(1.0)), 5315.0, 0.2);
    }

    // Peirce 1937, as cited at the function.
    #[test]
    fn cotton_diameters_are_those_of_peirce() {
        for (ne, mm) in [
            (1.0, 0.907_14),
            (16.0, 0.226_79),
            (20.0, 0.202_84),
            (30.0, 0.165_62),
            (36.0, 0.151_19),
            (40.0, 0.143_43),
            (60.0, 0.117_11),
        ] {
            near(peirce_diameter(ne), mm, 1e-5);
        }
        // His own specific volume of 1.1 cm3/g, that is phi rho = 1 / 1.1.
        near(
            diameter_from_tex(tex_from_ne(20.0), 1.0, 1.0 / 1.1),
            0.203_36,
            1e-5,
        );
    }

    // Geometry; densities of Morton & Hearle, Physical Properties of Textile Fibres.
    #[test]
    fn diameters_follow_from_weight_density_and_packing() {
        for (tex, phi, rho, mm) in [
            (1000.0, 0.70, 1.38, 1.148_07),
            (210.0, 0.65, 1.14, 0.600_70),
            (100.0, 0.65, 1.38, 0.376_75),
            (20.0, 0.60, 1.52, 0.167_10),
            (30.0, 0.65, 1.34, 0.209_41),
            (30.0, 0.65, 1.52, 0.196_62),
            (50.0, 0.60, 1.31, 0.284_60),
        ] {
            near(diameter_from_tex(tex, phi, rho), mm, 1e-5);
            near(
                tex_from_diameter(diameter_from_tex(tex, phi, rho), phi, rho),
                tex,
                1e-9,
            );
            near(
                packing(diameter_from_tex(tex, phi, rho), tex, rho),
                phi,
                1e-12,
            );
        }
        near(diameter_from_tex(1.0, 1.0, 1.0), 0.035_682_482, 1e-9);
    }

    // The Standard Yarn Weight System: 11 to 15 wraps are weight 3.
    #[test]
    fn wraps_lie_side_by_side() {
        near(diameter_from_wraps(11.0), 2.309, 1e-3);
        near(diameter_from_wraps(15.0), 1.693, 1e-3);
        near(wraps_from_diameter(2.54), 10.0, 1e-12);
    }
}
