//! How a fibre takes the light: its appearance in the figures of the shading.

use super::light::linear;
use super::makeup::{bounded, ply_lean};
use super::vector::Vec3;
use crate::drawing::thread::{Ends, Thread};
use crate::material::Weave;

/// The eye's figures for one end of a strand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    /// Colour in linear light.
    pub(crate) colour: Vec3,
    pub(crate) weave: Weave,
    pub(crate) plies: f32,
    /// Lean of the plies, a tangent.
    pub(crate) lean: f32,
    pub(crate) relief: f32,
    /// Filaments against the ply, radians.
    pub(crate) lay: f32,
    pub(crate) gloss: f32,
    pub(crate) spread: f32,
    pub(crate) fuzz: f32,
    pub(crate) mottle: f32,
}

impl Look {
    fn new(ends: &Ends) -> Self {
        let a = &ends.appearance;
        let plied = a.weave == Weave::Plied && a.plies > 1;
        Self {
            colour: linear(ends.colour),
            weave: a.weave,
            plies: if plied {
                f32::from(a.plies.min(12))
            } else {
                1.0
            },
            lean: if plied { ply_lean(a) } else { 0.0 },
            relief: bounded(a.relief, 0.0, 1.0),
            lay: bounded(a.lay, -80.0, 80.0).to_radians(),
            gloss: bounded(a.gloss, 0.0, 3.0),
            spread: bounded(a.spread, 0.05, 2.0),
            fuzz: bounded(a.fuzz, 0.0, 1.0),
            mottle: bounded(a.mottle, 0.0, 1.5),
        }
    }

    /// The looks of a strand's ends.
    pub(crate) fn all(thread: &Thread) -> Vec<Self> {
        thread.ends.iter().map(Self::new).collect()
    }

    /// A colour between white and the fibre's own, for highlights: filaments
    /// let some light through before they throw it back.
    pub(crate) fn glint(&self, own: f32) -> Vec3 {
        let tint = (self.colour + Vec3::all(0.02)).map(|c| c.sqrt().min(1.0));
        Vec3::all(0.62).towards(tint, own)
    }
}
