//! Chenille: pile that stands off all round and swallows light.

use super::super::noise::Noise;
use super::super::vector::smooth_step;
use super::{Spot, Touch};

/// Tufts seen from above: tone and normal wander on two scales.
pub(crate) fn pile(noise: Noise, spot: &Spot) -> Touch {
    let mut touch = spot.smooth();
    let (s, seed) = (spot.arc, spot.seed);
    let a = noise.at(spot.angle * 2.6 + seed, s * 9.0);
    let b = noise.at(spot.angle * 5.1 + 9.3, s * 19.0 + seed);
    // Tufts part here and there and let one see down into the pile.
    let parting = noise.at(spot.angle * 1.1 + seed * 1.3, s * 3.1);
    touch.tone = 1.0 + 0.34 * (0.6 * a + 0.5 * b) + 0.14 * parting;
    touch.cavity = 1.0 - 0.35 * smooth_step(0.15, 0.7, -parting - 0.4 * a);
    let tilt = spot.across() * (0.45 * b) + spot.along * (0.45 * a + 0.30 * parting);
    touch.normal = (touch.normal + tilt).unit();
    touch
}
