//! Leather, suede and other skins of one piece.

use super::super::look::Look;
use super::super::noise::Noise;
use super::{Spot, Touch};

/// Grain: pores and creases on two scales. The coordinates are turned, or the
/// noise would show its grid.
pub(crate) fn solid(noise: Noise, look: &Look, spot: &Spot) -> Touch {
    let mut touch = spot.smooth();
    let shows = spot.shows(1.0 / 11.0);
    let (s, q) = (spot.arc, spot.angle * spot.size);
    let (u, v) = (q * 13.0 + s * 6.0 + spot.seed, s * 11.0 - q * 7.0);
    let grain = |du: f32, dv: f32| {
        let fine = noise.at((v + dv) * 1.9, (u + du) * 1.7 - (v + dv) * 0.8);
        noise.at(u + du, v + dv) + 0.6 * fine
    };
    let here = grain(0.0, 0.0);
    let tilt = spot.across() * (0.085 * (grain(0.7, 0.0) - here))
        + spot.along * (0.07 * (grain(0.0, 0.7) - here));
    touch.normal = (touch.normal + tilt * (shows * look.mottle)).unit();
    let patches = noise.at(q * 3.0 + spot.seed, s * 0.9);
    touch.tone = 1.0 + look.mottle * (0.07 * shows * here + 0.14 * patches);
    touch
}
