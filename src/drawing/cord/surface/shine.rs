//! Light on a touched surface: diffuse, the room, highlights along filaments.
//!
//! Letters: `n` normal, `f` filament direction, `l` towards a light, `h`
//! halfway between light and eye. Filaments spread a highlight into a cone
//! about themselves (after Kajiya and Kay 1989, from memory): it is bright
//! where `f.h` is near nought, and only on the side that faces `h`.

use super::super::light::Studio;
use super::super::look::Look;
use super::super::vector::{Vec3, smooth_step};
use super::dye::{FIGURES, Reflex};
use super::sheath::mirrored;
use super::spots::{Lanes, MANY, Spots, Touches};
use super::{Spot, Touch, bead};
use crate::material::Weave;

/// What a spot sees of the room and of the lamp.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Openness {
    pub(crate) room: f32,
    pub(crate) lamp: f32,
}

/// The same of many spots.
#[derive(Debug, Clone)]
pub(crate) struct Openings {
    pub(crate) room: Lanes,
    pub(crate) lamp: Lanes,
}

impl Openings {
    pub(crate) const fn new() -> Self {
        Self {
            room: [0.0; MANY],
            lamp: [0.0; MANY],
        }
    }

    #[inline(always)]
    fn at(&self, i: usize) -> Openness {
        Openness {
            room: self.room[i],
            lamp: self.lamp[i],
        }
    }
}

/// Shares that differ from kind to kind. Tried.
struct Manner {
    /// How much the diffuse light is that of filaments, not of a plane.
    fibre: f32,
    /// How far light creeps past the edge of the shade.
    wrap: f32,
    /// Share of the diffuse light; the rest shines.
    diffuse: f32,
}

fn manner(look: &Look) -> Manner {
    let (fibre, wrap, diffuse) = match look.weave {
        Weave::Plied => (0.35, 0.22 + 0.25 * look.fuzz, 1.0),
        Weave::Sheath | Weave::Flat => (0.6, 0.22, 0.68),
        Weave::Pile => (0.0, 0.5, 1.0),
        Weave::Solid | Weave::Beads => (0.0, 0.08 + 0.35 * look.fuzz, 1.0),
        Weave::Foil => (0.0, 0.08, 0.25),
    };
    Manner {
        fibre,
        wrap,
        diffuse,
    }
}

/// A bell without exponentials.
#[inline(always)]
fn bell(x: f32) -> f32 {
    let y = 1.0 + 0.25 * x * x;
    1.0 / (y * y)
}

/// What comes back of the light from the first `count` spots.
#[inline(always)]
pub(crate) fn reflexes(
    studio: &Studio,
    look: &Look,
    (spots, touches): (&Spots, &Touches),
    open: &Openings,
    count: usize,
    out: &mut [Lanes; FIGURES],
) {
    let (look, manner) = (&{ *look }, manner(look));
    if look.weave == Weave::Beads {
        for i in 0..count.min(MANY) {
            let felt = (&spots.at(i), &touches.at(i));
            bead::reflex(studio, look, felt, open.at(i)).put(i, out);
        }
        return;
    }
    for i in 0..count.min(MANY) {
        let felt = (&spots.at(i), &touches.at(i));
        reflex(studio, look, &manner, felt, open.at(i)).put(i, out);
    }
}

/// What comes back from a spot.
#[inline(always)]
fn reflex(
    studio: &Studio,
    look: &Look,
    manner: &Manner,
    (spot, touch): (&Spot, &Touch),
    open: Openness,
) -> Reflex {
    let room = (open.room * touch.cavity).clamp(0.0, 1.0);
    let lamp = open.lamp * (0.45 + 0.55 * touch.cavity);
    let (dark, nap) = edges(look, spot, open.room);
    let (key, fill) = diffuse(studio, touch, manner, room, lamp);
    let base = manner.diffuse * dark;
    let (shine, flash) = shine(studio, look, touch, room, lamp);
    Reflex {
        tone: touch.tone,
        hue: touch.hue,
        up: studio.up(touch.normal),
        room,
        base,
        key: key * base,
        fill: fill * base,
        nap,
        shine: shine * dark,
        flash: flash * dark,
    }
}

/// Shares of the key and the fill light that a colour throws back.
#[inline(always)]
fn diffuse(studio: &Studio, touch: &Touch, manner: &Manner, room: f32, lamp: f32) -> (f32, f32) {
    let n = touch.normal;
    let (nl, fl) = (n.dot(studio.key), touch.grain.dot(studio.key));
    let plane = ((nl + manner.wrap) / (1.0 + manner.wrap)).max(0.0);
    let round = (1.0 - fl * fl).max(0.0).sqrt() * ((nl + 0.35) / 1.35).max(0.0);
    let key = (plane + (round - plane) * manner.fibre) * lamp;
    let fill = ((n.dot(studio.fill) + 0.3) / 1.3).max(0.0) * room;
    (key, fill)
}

/// Strength of the highlight, and of the flash of a facet.
#[inline(always)]
fn shine(studio: &Studio, look: &Look, touch: &Touch, room: f32, lamp: f32) -> (f32, f32) {
    if look.gloss <= 0.0 {
        return (0.0, 0.0);
    }
    let (key, fill) = if look.weave == Weave::Solid {
        (
            skin_lobe(look, touch, studio.key_half),
            0.25 * skin_lobe(look, touch, studio.fill_half),
        )
    } else {
        filament_lobes(studio, look, touch)
    };
    let lit = smooth_step(-0.05, 0.35, touch.normal.dot(studio.key));
    let strength = look.gloss * (key * studio.key_colour.y * lit * lamp + fill * room);
    if look.weave == Weave::Foil {
        return foil_shine(studio, touch, strength, room, lamp);
    }
    let away = 1.0 - touch.normal.z.clamp(0.0, 1.0);
    (0.80 * strength * (1.0 + 1.2 * away * away), 0.0)
}

/// A highlight of wax or polish; broad, as the lamp is a window.
#[inline(always)]
fn skin_lobe(look: &Look, touch: &Touch, half: Vec3) -> f32 {
    let a = touch.normal.dot(half).max(0.0);
    let off = half - touch.normal * a;
    let off = (off.x * off.x * 0.16 + off.y * off.y + off.z * off.z).sqrt() / look.spread;
    // A sharp line of polish on a soft one of wax.
    0.75 * bell(off) + 0.5 * bell(3.0 * off)
}

/// Highlights of both lights along filaments.
#[inline(always)]
fn filament_lobes(studio: &Studio, look: &Look, touch: &Touch) -> (f32, f32) {
    let facing = |half: Vec3| {
        let a = touch.normal.dot(half).max(0.0);
        let a4 = a * a * a * a;
        if matches!(look.weave, Weave::Sheath | Weave::Flat) {
            return 0.10 * a * a + 0.50 * a4 + 1.90 * a4 * a4 * a4;
        }
        a4
    };
    let key = touch.grain.dot(studio.key_half) + touch.shift;
    let fill = touch.grain.dot(studio.fill_half) + touch.shift;
    // Mirrored by the surface, and once more by the far side of the fibre.
    let lobe = bell((key - 0.05) / look.spread) + 0.35 * bell((key + 0.12) / (2.2 * look.spread));
    let weak = 0.28 * bell(fill / (1.5 * look.spread));
    (
        lobe * facing(studio.key_half),
        weak * facing(studio.fill_half),
    )
}

/// Foil mirrors the room; now and then a facet flashes.
#[inline(always)]
fn foil_shine(studio: &Studio, touch: &Touch, strength: f32, room: f32, lamp: f32) -> (f32, f32) {
    // Each strip is bright or dark as a whole, as it mirrors lamp or room.
    let mirror = (0.9 * mirrored(touch.normal) * room + 1.3 * strength) * touch.tone;
    let flash = smooth_step(0.55, 1.0, touch.facet) * 3.0;
    let flash = flash * bell((touch.normal.dot(studio.key_half) - 1.0) / 0.035) * lamp;
    (mirror, flash)
}

/// What the outline of a strand does: the share of the light that it leaves,
/// and what hairs that stand there add.
#[inline(always)]
fn edges(look: &Look, spot: &Spot, room: f32) -> (f32, f32) {
    let away = 1.0 - spot.normal.z.clamp(0.0, 1.0);
    let body = 1.0 - spot.body.z.clamp(0.0, 1.0);
    let dark = 1.0 - 0.42 * away * away * away * (1.0 - 0.8 * look.fuzz);
    match look.weave {
        Weave::Pile => (dark, 0.55 * away * away * room * dark),
        Weave::Solid => {
            let nap = 0.35 * look.fuzz * body * body * room;
            (dark * (1.0 - 0.38 * body * body * (1.0 - look.fuzz)), nap)
        }
        Weave::Plied => {
            let up = 0.4 + 0.6 * smooth_step(-0.6, 0.6, spot.body.y);
            (dark, 0.30 * look.fuzz * body * body * room * up)
        }
        _ => (dark, 0.0),
    }
}
