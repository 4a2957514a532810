//! Ribbon: a woven band lying flat, its edges a firmer line.

use super::super::look::Look;
use super::super::noise::Noise;
use super::super::vector::smooth_step;
use super::filament::{Streaks, leaning};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// Weft threads in a strand diameter.
const WEFT: f32 = 26.0;

/// A band with its warp along the strand.
pub(crate) fn band(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    let streaks = Streaks {
        angle: 2.0 * spot.aside,
        lay: look.lay,
        follow: 1.0,
        finest: 34.0,
        strength: 0.45,
        shift: 0.10,
        lines: 0.0,
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    let edge = spot.aside.abs();
    let weft = (spot.arc * WEFT * std::f32::consts::TAU).sin() * spot.shows(1.0 / WEFT);
    touch.normal += spot.along * (0.10 * weft);
    touch.tone *= 1.0 + 0.04 * weft;
    // The selvedge: a raised cord along the edge.
    let selvedge = smooth_step(0.80, 0.90, edge);
    touch.tone *= 1.0 - 0.10 * selvedge;
    touch.cavity = 1.0 - 0.30 * smooth_step(0.70, 0.80, edge) * (1.0 - selvedge);
    touch.normal = touch.normal.unit();
    touch.grain = leaning(spot.along, touch.normal, look.lay);
    touch
}
