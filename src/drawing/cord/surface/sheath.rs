//! Braided sheaths: satin cord and metallic braid.
//!
//! Two families of yarns cross the strand at plus and minus the lay, each over
//! two and under two of the other, as on a braiding machine. Where a yarn is on
//! top it shows as a float: one yarn wide and two long.

use super::super::look::Look;
use super::super::noise::{Noise, hash};
use super::super::vector::{Vec3, smooth_step, split};
use super::filament::{Streaks, leaning};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// Width of a yarn of filaments, and of a strip of foil, strand diameters.
const YARN: f32 = 0.085;
const STRIP: f32 = 0.10;

/// The float on which a spot lies.
struct Float {
    /// Yarn of its own family, and the pair of the other that it crosses.
    number: (i32, i32),
    /// Place across the float and along it, -0.5 to 0.5.
    across: f32,
    along: f32,
    /// Whether it leans with the lay or against it.
    leans: f32,
}

impl Float {
    #[inline(always)]
    fn new(spot: &Spot, width: f32, lay: f32) -> Self {
        // An even number of yarns each way, or the pattern would not close.
        let around = 2.0
            * (std::f32::consts::PI * spot.radius / width)
                .round()
                .max(1.0);
        let u = spot.angle * std::f32::consts::FRAC_1_PI * 0.5 * around;
        let v = spot.arc / width * lay.abs().max(0.14).tan();
        let ((na, fa), (nb, fb)) = (split(u + v), split(u - v));
        let turn = na.wrapping_add(nb) & 3;
        let second = (turn & 1) as f32;
        if turn < 2 {
            return Self {
                number: (nb, na.wrapping_sub(turn)),
                across: fb - 0.5,
                along: 0.5 * (second + fa) - 0.5,
                leans: 1.0,
            };
        }
        Self {
            number: (na, nb.wrapping_sub(turn - 2)),
            across: fa - 0.5,
            along: 0.5 - 0.5 * (second + fb),
            leans: -1.0,
        }
    }

    /// How near the border, 0 to 1, rising late.
    #[inline(always)]
    fn border(&self) -> f32 {
        let (a, b) = (2.0 * self.across, 2.0 * self.along);
        let (a, b) = (a * a, b * b);
        (a * a).max(b * b * b)
    }

    /// 1 in the middle, 0 at the borders.
    #[inline(always)]
    fn middle(&self) -> f32 {
        let (a, b) = (self.across, self.along);
        (2.2 * (1.0 - 4.0 * a * a) * (1.0 - 4.0 * b * b)).min(1.0)
    }

    /// Lean of the filaments; fades to none at the borders, where a hard
    /// change would show as a jagged line.
    #[inline(always)]
    fn lay(&self, lay: f32) -> f32 {
        lay * self.leans * self.middle()
    }

    /// Slope of its round back, down to its sides and its ends.
    #[inline(always)]
    fn back(&self, spot: &Spot) -> Vec3 {
        spot.across() * -self.across + spot.along * (0.8 * self.along.powi(3))
    }
}

/// Satin cord: long floats of bright filaments.
#[inline(always)]
pub(crate) fn satin(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    let float = Float::new(spot, YARN, look.lay);
    let shows = spot.shows(YARN);
    let lay = float.lay(look.lay) * (0.35 + 0.65 * shows);
    touch.normal += float.back(spot) * (0.26 * shows);
    touch.cavity = 1.0 - 0.16 * shows * float.border();
    let streaks = Streaks {
        angle: spot.angle,
        lay,
        follow: 0.0,
        finest: 52.0,
        strength: 0.36,
        shift: 0.13,
        lines: 0.14 * spot.shows(1.0 / 16.0),
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    touch.normal = touch.normal.unit();
    touch.grain = leaning(spot.along, touch.normal, lay);
    touch
}

/// Metallic braid: flat strips, each tilted its own way.
#[inline(always)]
pub(crate) fn foil(look: &Look, spot: &Spot) -> Touch {
    let mut touch = spot.smooth();
    let float = Float::new(spot, STRIP, look.lay);
    let shows = spot.shows(STRIP / 1.2);
    let lay = float.lay(look.lay) * (0.35 + 0.65 * shows);
    let bits = facet_bits(&float, spot);
    let part = |shift: u32| (bits >> shift & 255) as f32 / 255.0;
    let keep = 0.35 + 0.65 * shows;
    let across = spot.across();
    let tilt = float.back(spot) * (0.60 * shows)
        + across * ((part(0) - 0.5) * 0.55 * keep)
        + spot.along * ((part(8) - 0.5) * 0.5 * keep);
    touch.normal = (touch.normal + tilt).unit();
    touch.facet = part(16);
    touch.tone = 0.50 + 0.85 * touch.facet;
    touch.cavity = 1.0 - 0.42 * shows * float.border();
    touch.grain = leaning(spot.along, touch.normal, lay);
    touch
}

#[inline(always)]
fn facet_bits(float: &Float, spot: &Spot) -> u32 {
    let (a, b) = float.number;
    let mixed = (a as u32).wrapping_mul(73_856_093) ^ (b as u32).wrapping_mul(19_349_663);
    hash(mixed ^ spot.seed as u32)
}

/// Light of a made-up room that foil mirrors, by the height it looks at.
#[inline(always)]
pub(crate) fn mirrored(normal: Vec3) -> f32 {
    let up = 2.0 * normal.z * normal.y;
    0.16 + 0.75 * smooth_step(0.05, 0.75, up) + 0.20 * smooth_step(-0.25, -0.8, up)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rod;
    use crate::drawing::cord::surface::Patch;
    use crate::drawing::cord::vector::vec3;

    fn spot(angle: f32, arc: f32) -> Spot {
        let tubes = rod(vec3(0.0, 0.0, 0.0), vec3(2.0, 0.0, 0.0), (0.5, 0.5));
        let patch = Patch::new(&tubes, &tubes.segments[0], 40.0);
        let spot = patch.spot(vec3(1.0, 0.1, 0.49));
        Spot { angle, arc, ..spot }
    }

    #[test]
    fn the_braid_closes_round_the_strand() {
        let pi = std::f32::consts::PI;
        for k in 0..50 {
            let arc = 0.031 * k as f32;
            let a = Float::new(&spot(-pi + 1e-4, arc), STRIP, 0.5);
            let b = Float::new(&spot(pi - 1e-4, arc), STRIP, 0.5);
            let near = (a.across - b.across).abs() < 0.02 && (a.along - b.along).abs() < 0.02;
            // A border may lie just at the seam.
            let at_border = a.border().max(b.border()) > 0.9;
            assert!(at_border || (near && a.leans == b.leans), "{arc}");
        }
    }

    #[test]
    fn both_families_lie_on_top_equally_often() {
        let spots = (0..4000).map(|k| spot(0.0015 * k as f32 - 3.0, 0.0137 * k as f32));
        let sum: f32 = spots.map(|s| Float::new(&s, YARN, 0.4).leans).sum();
        assert!(sum.abs() < 300.0, "{sum}");
    }
}
