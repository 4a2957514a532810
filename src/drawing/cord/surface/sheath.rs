//! Braided sheaths: satin cord and metallic braid.
//!
//! Two families of floats cross the strand at plus and minus the lay, two
//! over two under; on a chequerboard of cells now one, now the other is on
//! top.

use super::super::look::Look;
use super::super::noise::{Noise, hash};
use super::super::vector::{Vec3, smooth_step, split};
use super::filament::{Streaks, leaning};
use super::{Spot, Touch};
use crate::drawing::view::Detail;

/// Width of a float of filaments, and of a strip of foil, strand diameters.
const FLOAT: f32 = 0.115;
const STRIP: f32 = 0.13;

/// Where in the sheath a spot lies.
struct Cell {
    /// Which cell, along both families.
    number: (i32, i32),
    /// Place in the cell, -0.5 to 0.5 across each family.
    place: (f32, f32),
    /// Whether the first family is on top.
    first: bool,
    /// 1 in the middle, 0 at the borders.
    middle: f32,
}

impl Cell {
    fn new(spot: &Spot, width: f32, lay: f32) -> Self {
        let around = (std::f32::consts::TAU * spot.radius / width)
            .round()
            .max(2.0);
        let u = spot.angle * std::f32::consts::FRAC_1_PI * 0.5 * around;
        let v = spot.arc / width * lay.abs().max(0.14).tan();
        let (a, b) = (0.5 * (u + v), 0.5 * (u - v));
        let ((na, fa), (nb, fb)) = (split(a), split(b));
        let (fa, fb) = (fa - 0.5, fb - 0.5);
        let number = (na, nb);
        let middle = 2.2 * (1.0 - 4.0 * fa * fa) * (1.0 - 4.0 * fb * fb);
        Self {
            number,
            place: (fa, fb),
            first: (na ^ nb) & 1 == 0,
            middle: middle.min(1.0),
        }
    }

    /// How near the border, 0 to 1, rising late.
    fn border(&self) -> f32 {
        let e = 2.0 * self.place.0.abs().max(self.place.1.abs());
        e * e * e * e
    }

    /// Lay of the family on top; fades to none at the borders, where a hard
    /// change would show as a jagged line.
    fn lay(&self, lay: f32) -> f32 {
        let lay = lay * self.middle;
        if self.first { lay } else { -lay }
    }

    /// Slope of the float's round back across the strand.
    fn back(&self) -> f32 {
        let (place, sign) = if self.first {
            (self.place.1, -1.0)
        } else {
            (self.place.0, 1.0)
        };
        place * sign * self.middle
    }
}

/// Satin cord: long floats of bright filaments.
pub(crate) fn satin(noise: Noise, look: &Look, spot: &Spot, detail: Detail) -> Touch {
    let mut touch = spot.smooth();
    let cell = Cell::new(spot, FLOAT, look.lay);
    let shows = spot.shows(1.0 / 8.0);
    let lay = cell.lay(look.lay) * (0.35 + 0.65 * shows);
    touch.normal += spot.across() * (0.30 * shows * cell.back());
    touch.cavity = 1.0 - 0.24 * shows * cell.border();
    let streaks = Streaks {
        angle: spot.angle,
        lay,
        follow: 0.0,
        finest: 52.0,
        strength: 0.27,
        shift: 0.10,
        lines: 0.14 * spot.shows(1.0 / 24.0),
    };
    streaks.mark(noise, look, spot, detail, &mut touch);
    touch.normal = touch.normal.unit();
    touch.grain = leaning(spot.along, touch.normal, lay);
    touch
}

/// Metallic braid: flat strips, each tilted its own way.
pub(crate) fn foil(look: &Look, spot: &Spot) -> Touch {
    let mut touch = spot.smooth();
    let cell = Cell::new(spot, STRIP, look.lay);
    let shows = spot.shows(STRIP / 1.2);
    let lay = cell.lay(look.lay) * (0.35 + 0.65 * shows);
    let bits = facet_bits(&cell, spot);
    let part = |shift: u32| (bits >> shift & 255) as f32 / 255.0;
    let keep = 0.35 + 0.65 * shows;
    let across = spot.across();
    let tilt = across * (0.60 * shows * cell.back())
        + across * ((part(0) - 0.5) * 0.55 * keep)
        + spot.along * ((part(8) - 0.5) * 0.5 * keep);
    touch.normal = (touch.normal + tilt).unit();
    touch.facet = part(16);
    touch.tone = 0.8 + 0.4 * touch.facet;
    touch.cavity = 1.0 - 0.42 * shows * cell.border();
    touch.grain = leaning(spot.along, touch.normal, lay);
    touch
}

fn facet_bits(cell: &Cell, spot: &Spot) -> u32 {
    let (a, b) = cell.number;
    let mixed = (a as u32).wrapping_mul(73_856_093) ^ (b as u32).wrapping_mul(19_349_663);
    hash(mixed ^ spot.seed as u32)
}

/// Light of a made-up room that foil mirrors, by the height it looks at.
pub(crate) fn mirrored(normal: Vec3) -> f32 {
    let up = 2.0 * normal.z * normal.y;
    0.16 + 0.75 * smooth_step(0.05, 0.75, up) + 0.20 * smooth_step(-0.25, -0.8, up)
}
