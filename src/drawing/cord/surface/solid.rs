//! Leather, suede and other skins of one piece.

use super::super::look::Look;
use super::super::noise::Noise;
use super::super::vector::smooth_step;
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// A skin: grain and creases, or a nap where it is brushed.
pub(crate) fn solid(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    let q = spot.angle * spot.size;
    let patches = noise.at(q * 3.0 + spot.seed, spot.arc * 0.9);
    touch.tone = 1.0 + look.mottle * 0.14 * patches;
    grain(noise, look, spot, &mut touch);
    if detail == Detail::Fine {
        creases(noise, look, spot, &mut touch);
        nap(noise, look, spot, &mut touch);
    }
    touch.normal = touch.normal.unit();
    touch
}

/// Pores on two scales. The coordinates are turned, or the noise would show
/// its grid.
fn grain(noise: Noise, look: &Look, spot: &Spot, touch: &mut Touch) {
    let shows = spot.shows(1.0 / 11.0) * look.mottle * (1.0 - look.fuzz);
    let (s, q) = (spot.arc, spot.angle * spot.size);
    let (u, v) = (q * 17.0 + s * 8.0 + spot.seed, s * 14.0 - q * 9.0);
    let height = |du: f32, dv: f32| {
        let fine = noise.at((v + dv) * 2.3, (u + du) * 2.1 - (v + dv) * 0.8);
        noise.at(u + du, v + dv) + 0.6 * fine
    };
    let here = height(0.0, 0.0);
    touch.normal += spot.across() * (0.15 * shows * (height(0.5, 0.0) - here))
        + spot.along * (0.12 * shows * (height(0.0, 0.5) - here));
    // Dye gathers in the pores.
    touch.tone *= 1.0 + 0.16 * shows * here.min(0.3);
}

/// Creases across the strand: fine ones all round, as handling leaves them,
/// and deep ones on the inner side of a bend, where the skin is gathered. On
/// the outer side it is stretched and pales.
fn creases(noise: Noise, look: &Look, spot: &Spot, touch: &mut Touch) {
    let skin = look.mottle * (1.0 - look.fuzz);
    let gathered = smooth_step(0.06, 0.50, spot.bend);
    let stretched = smooth_step(0.10, 0.70, -spot.bend);
    let shows = spot.shows(1.0 / 18.0) * skin;
    let wander = 0.8 * noise.at(spot.arc * 3.0, spot.angle * 2.1 + spot.seed);
    let line = |d: f32| noise.at(spot.arc * 15.0 + wander + d, spot.angle * 0.9 + spot.seed);
    let slope = line(0.3) - line(-0.3);
    let deep = 1.0 + 3.0 * gathered;
    touch.normal += spot.along * (0.14 * shows * deep * slope);
    touch.tone *= 1.0 - 0.10 * shows * deep * (slope.abs() - 0.2).max(0.0);
    touch.tone *= 1.0 + skin * (0.30 * stretched - 0.28 * gathered);
}

/// Brushed fibres too short to be seen one by one: a matt speckle.
fn nap(noise: Noise, look: &Look, spot: &Spot, touch: &mut Touch) {
    let q = spot.angle * spot.size;
    let per_d = (0.45 * spot.zoom).min(42.0);
    let a = noise.at(q * per_d + spot.seed, spot.arc * per_d * 0.6);
    let b = noise.at(spot.arc * per_d * 0.9 - q * per_d * 0.7, q * per_d * 0.5);
    let brushed = noise.at(q * 2.0 + spot.seed * 2.0, spot.arc * 1.6);
    touch.tone *= 1.0 + look.fuzz * (0.30 * a * b + 0.22 * a + 0.25 * brushed);
    touch.normal += (spot.across() * a + spot.along * b) * (0.5 * look.fuzz);
}
