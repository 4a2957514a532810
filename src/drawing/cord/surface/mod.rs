//! What the surface of a strand does with light, kind by kind.
//!
//! A [`Spot`] is where the eye meets a strand. Each kind of surface turns it
//! into a [`Touch`]: the small-scale normal, the way the filaments run, and
//! how tone and highlight wander. [`shine`] makes of that what comes back of the
//! light, and [`dye`] a colour.

mod band;
mod bead;
mod dye;
mod filament;
mod pile;
mod ply;
mod sheath;
mod shine;
mod solid;
mod spots;

pub(crate) use dye::{Dye, FIGURES, GROUP, Reflexes};
pub(crate) use shine::{Openings, reflexes};
pub(crate) use spots::{Lanes, Lanes3, MANY, Patch, Spots, Touches};

use super::look::Look;
use super::makeup::Skin;
use super::noise::Noise;
use super::vector::{Vec3, smooth_step};
use crate::drawing::view::Detail;

/// A place on a strand where the eye meets it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot {
    /// Normal of the member's smooth surface, and its direction.
    pub(crate) normal: Vec3,
    pub(crate) along: Vec3,
    /// Normal of the whole strand.
    pub(crate) body: Vec3,
    /// Distance from the strand's middle as a share of its radius.
    pub(crate) height: f32,
    /// Angle round the member.
    pub(crate) angle: f32,
    /// Across the member's width, -1 to 1, and the direction across it.
    pub(crate) aside: f32,
    pub(crate) sideways: Vec3,
    /// How the strand bends here over its radius: shortened on the inner side
    /// of a bend, where it is positive, stretched on the outer.
    pub(crate) bend: f32,
    /// Half the member's mean width.
    pub(crate) size: f32,
    pub(crate) radius: f32,
    pub(crate) arc: f32,
    pub(crate) ridge_rate: f32,
    /// A number that belongs to this member of this strand.
    pub(crate) seed: f32,
    /// Pixels for a strand diameter.
    pub(crate) zoom: f32,
}

/// What a surface does at a spot.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Touch {
    /// Normal with all that is smaller than the member.
    pub(crate) normal: Vec3,
    /// Direction of the filaments; of no use on skins without.
    pub(crate) grain: Vec3,
    /// Openness of the grooves within the strand, 0 to 1.
    pub(crate) cavity: f32,
    /// Brightness and warmth of the colour, 1 and 0 as it comes.
    pub(crate) tone: f32,
    pub(crate) hue: f32,
    /// Highlight pushed along the filaments.
    pub(crate) shift: f32,
    /// A number from 0 to 1 for the facet of foil.
    pub(crate) facet: f32,
}

impl Spot {
    /// 1 where a cell of this size is larger than four pixels, 0 below 1.4:
    /// what is smaller would only shimmer.
    #[inline(always)]
    fn shows(&self, cell: f32) -> f32 {
        smooth_step(1.4, 4.0, self.zoom * cell)
    }

    /// Square to the normal and to the member.
    #[inline(always)]
    fn across(&self) -> Vec3 {
        self.normal.cross(self.along)
    }

    /// Nothing but the smooth surface.
    #[inline(always)]
    fn smooth(&self) -> Touch {
        Touch {
            normal: self.normal,
            grain: self.along,
            cavity: 1.0,
            tone: 1.0,
            hue: 0.0,
            shift: 0.0,
            facet: 0.0,
        }
    }
}

/// What the strand's skin does at the first `count` spots.
#[inline(always)]
pub(crate) fn touches(
    noise: Noise,
    look: &Look,
    (skin, detail): (Skin, Detail),
    of: (&Spots, usize),
    touches: &mut Touches,
) {
    // The commonest by themselves, so that wide registers can be used.
    match (skin, detail) {
        (Skin::Ply, Detail::Fine) => felt(noise, look, (Detail::Fine, ply::ply), of, touches),
        (Skin::Ply, _) => felt(noise, look, (Detail::Coarse, ply::ply), of, touches),
        (Skin::Sheath, Detail::Fine) => {
            felt(noise, look, (Detail::Fine, sheath::satin), of, touches);
        }
        (Skin::Sheath, _) => felt(noise, look, (Detail::Coarse, sheath::satin), of, touches),
        _ => {
            for i in 0..of.1.min(MANY) {
                touches.set(i, &touch(noise, look, skin, &of.0.at(i), detail));
            }
        }
    }
}

/// What one kind of skin does at the first `count` spots.
#[inline(always)]
fn felt(
    noise: Noise,
    look: &Look,
    (detail, kind): (Detail, impl Fn(Noise, &Look, &Spot, Detail) -> Touch),
    (spots, count): (&Spots, usize),
    touches: &mut Touches,
) {
    let look = &{ *look };
    for i in 0..count.min(MANY) {
        let spot = spots.at(i);
        let mut touch = kind(noise, look, &spot, detail);
        if detail == Detail::Fine {
            touch = heathered(noise, look, &spot, touch);
        }
        touches.set(i, &touch);
    }
}

/// What the strand's skin does at the spot.
#[inline(never)]
fn touch(noise: Noise, look: &Look, skin: Skin, spot: &Spot, detail: Detail) -> Touch {
    let touch = match skin {
        Skin::Ply => ply::ply(noise, look, spot, detail),
        Skin::Ridges => ply::ridges(noise, look, spot, detail),
        Skin::Sheath => sheath::satin(noise, look, spot, detail),
        Skin::Foil => sheath::foil(look, spot),
        Skin::Pile => pile::pile(noise, spot),
        Skin::Band => band::band(noise, look, spot, detail),
        Skin::Solid => solid::solid(noise, look, spot, detail),
        Skin::Bead => return bead::bead(look, spot),
    };
    if detail == Detail::Fine {
        return heathered(noise, look, spot, touch);
    }
    touch
}

/// Slow change of colour along the strand.
#[inline(always)]
fn heathered(noise: Noise, look: &Look, spot: &Spot, mut touch: Touch) -> Touch {
    let (s, seed) = (spot.arc, spot.seed);
    let slow = noise.at(s * 0.35 + seed * 3.1, seed);
    let quick = noise.at(s * 1.3 + seed, spot.angle * 0.8 + seed * 2.0);
    touch.tone *= 1.0 + look.mottle * 0.10 * (slow + quick);
    touch.hue += look.mottle * 0.06 * noise.at(s * 0.8 + seed * 5.0, spot.angle * 1.1);
    touch
}
