//! Plied yarn: plies as bodies seen closely, as ridges from afar.

use super::super::look::Look;
use super::super::noise::Noise;
use super::super::vector::{smooth_step, split};
use super::filament::{Streaks, leaning};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// A ply that is a body of its own.
#[inline(always)]
pub(crate) fn ply(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    if look.plies > 1.0 {
        touch.normal = spot.normal.towards(spot.body, 0.12);
        touch.cavity = 0.38 + 0.62 * smooth_step(0.62, 0.97, spot.height);
    }
    let streaks = Streaks {
        angle: spot.angle,
        lay: look.lay,
        follow: 0.6,
        finest: 44.0,
        strength: 1.0,
        shift: 0.22,
        lines: (0.42 - 0.30 * look.fuzz) * spot.shows(1.0 / 12.0),
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    if look.fuzz > 0.0 && detail == Detail::Fine {
        fluff(noise, look, spot, &mut touch);
    }
    finish(look, spot, touch)
}

/// All plies on one body: the normal swings over each ridge.
#[inline(always)]
pub(crate) fn ridges(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    let rate = spot.ridge_rate;
    let turns = (spot.angle - rate * spot.arc) * look.plies * std::f32::consts::FRAC_1_PI * 0.5;
    let ridge = split(turns + 0.5).1 - 0.5;
    let around = spot.along.cross(spot.normal);
    let slope = around * (1.0 / spot.size) - spot.along * rate;
    touch.normal += slope.unit() * (look.relief * 2.0 * ridge);
    let edge = 4.0 * ridge * ridge;
    touch.cavity = 1.0 - 0.62 * look.relief * edge * edge;
    touch.grain = (spot.along + around * look.lean).unit();
    let streaks = Streaks {
        angle: 3.0 * ridge,
        lay: look.lay,
        follow: 0.6,
        finest: 34.0,
        strength: 0.6,
        shift: 0.22,
        lines: 0.0,
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    let grain = touch.grain;
    let mut touch = finish(look, spot, touch);
    touch.grain = leaning(grain, touch.normal, look.lay);
    touch
}

/// Fibres that stand off and make the surface soft.
#[inline(always)]
fn fluff(noise: Noise, look: &Look, spot: &Spot, touch: &mut Touch) {
    let (s, seed) = (spot.arc, spot.seed);
    let a = noise.at(spot.angle * 4.0 + seed, s * 5.0);
    let b = noise.at(spot.angle * 7.0 - s * 6.0, s * 3.0 + seed);
    let tilt = spot.across() * (0.42 * b) + spot.along * (0.40 * a);
    touch.normal += tilt * look.fuzz;
    touch.tone *= 1.0 + 0.11 * look.fuzz * (a + b);
}

#[inline(always)]
fn finish(look: &Look, spot: &Spot, mut touch: Touch) -> Touch {
    touch.normal = touch.normal.unit();
    touch.grain = leaning(spot.along, touch.normal, look.lay);
    touch
}
