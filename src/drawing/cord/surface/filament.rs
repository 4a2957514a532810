//! Filaments: long thin streaks of tone and highlight along a yarn.

use std::f32::consts::FRAC_PI_2;

use super::super::look::Look;
use super::super::noise::Noise;
use super::super::vector::{Vec3, sine, smooth_step};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// Streaks along a direction on a member.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Streaks {
    /// Angle round the member in which the filaments are counted.
    pub(crate) angle: f32,
    /// Their lean against the member, radians.
    pub(crate) lay: f32,
    /// Share of the lean that the streaks follow; less than all where the
    /// lean is not the same everywhere.
    pub(crate) follow: f32,
    /// Most streaks in a strand diameter.
    pub(crate) finest: f32,
    /// Strength on tone and normal, and on the highlight's place.
    pub(crate) strength: f32,
    pub(crate) shift: f32,
    /// Darkness of the lines between bundles.
    pub(crate) lines: f32,
}

impl Streaks {
    /// Adds the streaks to a touch.
    #[inline(always)]
    pub(crate) fn mark(
        &self,
        noise: Noise,
        look: &Look,
        spot: &Spot,
        detail: Detail,
        touch: &mut Touch,
    ) {
        let (sin, cos) = (sine(self.lay), sine(self.lay + FRAC_PI_2));
        let seed = spot.seed;
        let mut q = self.angle * spot.size * cos - spot.arc * sin * self.follow;
        if look.fuzz > 0.0 && detail == Detail::Fine {
            q += look.fuzz * crimp(noise, spot);
        }
        let v = spot.arc * cos;
        // Never finer than two and a half pixels, or it shimmers.
        let per_d = (0.40 * spot.zoom).min(self.finest);
        let a = noise.at(q * per_d + seed, v * 1.2 + seed);
        let (b, c) = if detail == Detail::Fine {
            (
                noise.at(q * per_d * 0.5 + seed * 1.7, v * 1.1),
                noise.at(q * 9.0 + seed * 2.3, v * 0.8 + 9.0),
            )
        } else {
            (0.5 * a, 0.3 * a)
        };
        let k = 0.42 * a + 0.40 * b + 0.40 * c;
        let w = self.strength;
        // Thin dark lines between bundles of filaments, where noise changes
        // sign; without them thread looks cast, not spun.
        let line = 1.0 - smooth_step(0.0, 0.30, (a + 0.4 * b).abs());
        touch.tone *= 1.0 - self.lines * line;
        touch.cavity *= 1.0 - 0.6 * self.lines * line;
        touch.tone *= 1.0 + w * k * (0.46 - 0.16 * look.fuzz) * (1.0 - 0.35 * look.gloss.min(1.0));
        touch.shift += k * self.shift;
        let tilt = w * (0.34 * a + 0.30 * b + 0.20 * c) * (0.9 + 0.5 * look.fuzz);
        touch.normal += spot.across() * tilt;
    }
}

/// How far crimped fibres wander aside.
#[inline(always)]
fn crimp(noise: Noise, spot: &Spot) -> f32 {
    let long = noise.at(spot.arc * 2.4 + spot.seed, spot.angle * 1.3);
    let short = noise.at(spot.arc * 6.3, spot.angle * 3.1 + spot.seed);
    0.085 * long + 0.045 * short
}

/// The direction that leans by `lay` from `along` on a surface.
#[inline(always)]
pub(crate) fn leaning(along: Vec3, normal: Vec3, lay: f32) -> Vec3 {
    let along = along.square_to(normal).near_unit();
    along * sine(lay + FRAC_PI_2) + normal.cross(along) * sine(lay)
}
