//! Chenille: pile that stands off all round and swallows light.

use super::super::noise::Noise;
use super::{Spot, Touch};

/// Tufts seen from above: tone and normal wander on two scales.
pub(crate) fn pile(noise: Noise, spot: &Spot) -> Touch {
    let mut touch = spot.smooth();
    let (s, seed) = (spot.arc, spot.seed);
    let a = noise.at(spot.angle * 2.6 + seed, s * 9.0);
    let b = noise.at(spot.angle * 5.1 + 9.3, s * 19.0 + seed);
    touch.tone = 1.0 + 0.42 * (0.6 * a + 0.5 * b);
    let tilt = spot.across() * (0.55 * b) + spot.along * (0.55 * a);
    touch.normal = (touch.normal + tilt).unit();
    touch
}
