//! Colours given to what comes back of the light.
//!
//! Everything that costs much is the same whatever the colour. A [`Reflex`] is
//! that part, worked out once and kept; new colours take a few multiplications.

use std::ops::Range;

use super::super::light::Studio;
use super::super::look::Look;
use super::super::vector::{Vec3, vec3};
use super::spots::Lanes;
use crate::material::Weave;

/// What a spot throws back of the light, colour apart.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reflex {
    /// Brightness and warmth of the colour, 1 and 0 as it comes.
    pub(crate) tone: f32,
    pub(crate) hue: f32,
    /// Which light of the room, and how open it lies to it.
    pub(crate) up: f32,
    pub(crate) room: f32,
    /// Shares of that light, the key and the fill light that the colour throws
    /// back, and what hairs add.
    pub(crate) base: f32,
    pub(crate) key: f32,
    pub(crate) fill: f32,
    pub(crate) nap: f32,
    /// Highlight and flash.
    pub(crate) shine: f32,
    pub(crate) flash: f32,
}

/// Places come in full groups of this many.
pub(crate) const GROUP: usize = 8;

/// Figures of a [`Reflex`].
pub(crate) const FIGURES: usize = 10;

impl Reflex {
    /// Its figures as the `i`th of many.
    #[inline(always)]
    pub(super) fn put(&self, i: usize, lanes: &mut [Lanes; FIGURES]) {
        let [tone, hue, up, room, base, key, fill, nap, shine, flash] = lanes;
        (tone[i], hue[i], up[i], room[i]) = (self.tone, self.hue, self.up, self.room);
        (base[i], key[i], fill[i], nap[i]) = (self.base, self.key, self.fill, self.nap);
        (shine[i], flash[i]) = (self.shine, self.flash);
    }
}

/// Many of them, figure by figure.
#[derive(Debug, Clone, Default)]
pub(crate) struct Reflexes([Vec<f32>; FIGURES]);

impl Reflexes {
    /// The first `count` added.
    pub(crate) fn push(&mut self, figures: &[Lanes; FIGURES], count: usize) {
        for (list, lanes) in self.0.iter_mut().zip(figures) {
            list.extend_from_slice(&lanes[..count]);
        }
    }

    /// The light of whole groups of eight under a dye, group by group.
    #[inline(always)]
    pub(crate) fn dyed(
        &self,
        range: Range<usize>,
        (studio, dye): (&Studio, &Dye),
        mut give: impl FnMut(usize, &[Vec3; GROUP]),
    ) {
        for first in range.step_by(GROUP) {
            let figures: [[f32; GROUP]; FIGURES] =
                std::array::from_fn(|k| *self.0[k][first..].first_chunk().unwrap_or(&[0.0; GROUP]));
            let [tone, hue, up, room, base, key, fill, nap, shine, flash] = figures;
            let mut light = [[0.0; GROUP]; 3];
            for i in 0..GROUP {
                let reflex = Reflex {
                    tone: tone[i],
                    hue: hue[i],
                    up: up[i],
                    room: room[i],
                    base: base[i],
                    key: key[i],
                    fill: fill[i],
                    nap: nap[i],
                    shine: shine[i],
                    flash: flash[i],
                };
                let c = dye.light(studio, &reflex);
                (light[0][i], light[1][i], light[2][i]) = (c.x, c.y, c.z);
            }
            let [x, y, z] = light;
            give(first, &std::array::from_fn(|i| vec3(x[i], y[i], z[i])));
        }
    }
}

/// What a colour makes of the light.
pub(crate) struct Dye {
    colour: Vec3,
    /// Colours of its highlights and flashes.
    shine: Vec3,
    flash: Vec3,
}

/// What glass mirrors of lamp and sky, over its green.
const LAMP_WHITE: Vec3 = vec3(1.03, 1.0, 0.95);

/// How much of its own colour a highlight has. Tried.
fn own(weave: Weave) -> f32 {
    match weave {
        Weave::Plied => 0.45,
        Weave::Sheath | Weave::Flat => 0.75,
        Weave::Pile => 0.35,
        Weave::Solid | Weave::Beads => 0.12,
        Weave::Foil => 1.0,
    }
}

impl Dye {
    pub(crate) fn new(look: &Look) -> Self {
        let colour = look.colour;
        let through = (colour + Vec3::all(0.02)).map(|c| 0.38 + 0.62 * c.sqrt().min(1.0));
        let (shine, flash) = match look.weave {
            Weave::Foil => (colour, Vec3::all(0.5) + colour * 0.5),
            Weave::Beads => (LAMP_WHITE, colour.map(f32::sqrt)),
            _ => (look.glint(own(look.weave)).times(through), Vec3::ZERO),
        };
        Self {
            colour,
            shine,
            flash,
        }
    }

    /// The light that comes back, linear.
    #[inline(always)]
    pub(crate) fn light(&self, studio: &Studio, reflex: &Reflex) -> Vec3 {
        let tint = vec3(1.0 + reflex.hue, 1.0, 1.0 - reflex.hue);
        let albedo = self.colour.times(tint) * reflex.tone;
        let open = albedo.map(|c| bounced(reflex.room, c) * reflex.base);
        let light = studio.room(reflex.up).times(open)
            + studio.key_colour * reflex.key
            + studio.fill_colour * reflex.fill
            + Vec3::all(reflex.nap);
        albedo.times(light) + self.shine * reflex.shine + self.flash * reflex.flash
    }
}

/// Openness for a colour: light that bounces between threads of one colour
/// keeps their grooves coloured (cubic fit of Jimenez and others 2016, from
/// memory).
#[inline(always)]
fn bounced(open: f32, albedo: f32) -> f32 {
    let c = albedo.clamp(0.0, 0.95);
    let (a, b, d) = (
        2.0404 * c - 0.3324,
        -4.7951 * c + 0.6417,
        2.7552 * c + 0.6903,
    );
    open.max(((open * a + b) * open + d) * open)
}
