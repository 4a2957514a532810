//! Ribbon: a woven band lying flat, its edges a firmer line.

use super::super::look::Look;
use super::super::noise::Noise;
use super::super::vector::{Vec3, smooth_step};
use super::filament::{Streaks, leaning};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// Weft threads in a strand diameter.
const WEFT: f32 = 26.0;

/// Share of the width over which a fold turns, and how far it tilts the two
/// halves, as a slope. Tried.
const FOLD: f32 = 0.07;
const TILT: f32 = 0.42;

/// A band with its warp along the strand.
pub(crate) fn band(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    touch.normal = flat(spot);
    let folded = folds(noise, spot);
    touch.normal += spot.sideways * folded.0;
    touch.tone = 1.0 + 0.10 * folded.1;
    let streaks = Streaks {
        angle: 2.0 * spot.aside,
        lay: look.lay,
        follow: 1.0,
        finest: 44.0,
        strength: 0.26,
        shift: 0.10,
        lines: 0.0,
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    let edge = spot.aside.abs();
    let weft = (spot.arc * WEFT * std::f32::consts::TAU).sin() * spot.shows(1.0 / WEFT);
    touch.normal += spot.along * (0.035 * weft);
    touch.tone *= 1.0 + 0.015 * weft;
    // The selvedge: a raised cord along the edge.
    let selvedge = smooth_step(0.84, 0.92, edge);
    touch.tone *= 1.0 - 0.08 * selvedge;
    touch.cavity = 1.0 - 0.20 * smooth_step(0.74, 0.84, edge) * (1.0 - selvedge);
    touch.normal = touch.normal.unit();
    touch.grain = leaning(spot.along, touch.normal, look.lay);
    touch
}

/// Normal of a band that lies flat and turns only near its edges.
fn flat(spot: &Spot) -> Vec3 {
    let p = spot.aside.clamp(-1.0, 1.0);
    let lean = spot.normal.dot(spot.sideways);
    let face = (spot.normal - spot.sideways * lean).unit();
    // At the very edge there is no face to tell.
    let edge = smooth_step(0.80, 0.97, p.abs());
    (face + spot.sideways * (1.1 * p * p * p)).towards(spot.normal, edge)
}

/// Slope and crest of the folds that run along the band and wander across it.
fn folds(noise: Noise, spot: &Spot) -> (f32, f32) {
    let (mut slope, mut crest) = (0.0, 0.0);
    for (middle, seed) in [(-0.42, 3.7), (0.36, 41.3)] {
        let way = middle + 0.40 * noise.at(spot.arc * 0.5 + spot.seed, spot.seed * 1.7 + seed);
        let depth = 0.5 + 0.5 * noise.at(spot.arc * 0.7 + seed, spot.seed * 2.9 + 40.0);
        let off = spot.aside - way;
        let far = 1.0 - off.abs() * 1.3;
        slope += TILT * depth * (off / FOLD).clamp(-1.0, 1.0) * far.max(0.0);
        crest += depth * (1.0 - off.abs() / FOLD).max(0.0);
    }
    (slope, crest)
}
