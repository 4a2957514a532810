//! From where, how large and how carefully a cord is pictured.

use crate::material::Colour;

/// A window on the cord. A straight cord lies level, left to right along its
/// own rise; a bent one does so at the middle of its length. The eye is in
/// front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Pixels for a millimetre of cord.
    pub pixels_per_mm: f64,
    /// Height in the cord at the left edge, or at the first end of a bent
    /// cord, mm.
    pub start_mm: f64,
    /// Turn of the cord about its axis, radians.
    pub roll: f64,
    /// Pixels from the left to the middle of a bent cord; of no account for a
    /// straight one.
    pub centre_x: f64,
    /// Pixels from the top to the axis of a straight cord or the middle of a
    /// bent one.
    pub centre_y: f64,
    /// How the cord lies.
    pub bend: Bend,
}

/// How a pictured cord lies: its axis in the plane of the picture.
///
/// Cuts across the cord stay as they are and turn with the axis; that strands
/// slide a little when a cord is bent is left out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Bend {
    /// Straight on beyond both sides of the picture.
    #[default]
    Straight,
    /// A ring seen from above, its ends at the top with a small gap for the
    /// clasp.
    Loop {
        /// Diameter of the round that it just encloses, mm.
        inner_mm: f64,
    },
    /// Hanging from its two ends by its own weight: a catenary.
    Hanging {
        /// Length of the cord's axis between the ends, mm.
        worn_mm: f64,
        /// Distance of the ends, mm. A cord no longer than this hangs straight.
        span_mm: f64,
    },
}

/// How carefully a picture is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// For a moving picture: half the size, scaled up; the ground stays sharp.
    Moving,
    /// Rougher outlines, less detail of the surface, no hairs.
    Coarse,
    /// Smooth outlines, all detail, hairs.
    Fine,
}

/// What the cord lies on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ground {
    /// Nothing: the raster is clear round the cord, and there is no shadow.
    Clear,
    /// An even colour.
    Plain {
        /// The colour.
        colour: Colour,
        /// Strength of the cord's shadow, 0 to 1.
        shadow: f64,
    },
    /// Skin: nearly even, with a fine grain and softly mottled.
    Skin {
        /// The colour.
        colour: Colour,
        /// Size of the grain, pixels.
        grain: f64,
        /// Strength of the cord's shadow, 0 to 1.
        shadow: f64,
    },
    /// Woven linen.
    Linen {
        /// The colour of the cloth.
        colour: Colour,
        /// The colour of the threads that stand out.
        weave: Colour,
        /// Width of a thread, pixels.
        thread: f64,
        /// Strength of the cord's shadow, 0 to 1.
        shadow: f64,
    },
}

/// Most pixels along a side.
const MOST_SIDE: usize = 16_384;

/// Most pixels in all, 4096 by 2048: a fine picture of a cord that fills them
/// takes some 80 bytes for each while it is made.
const MOST_PIXELS: usize = 8_388_608;

impl View {
    /// The same view with every figure in a range that can be drawn: at least
    /// one pixel, at most 8 million, and no figure that is no number.
    pub(crate) fn bounded(self) -> Self {
        let width = self.width.clamp(1, MOST_SIDE);
        let height = self.height.clamp(1, (MOST_PIXELS / width).min(MOST_SIDE));
        let or = |v: f64, otherwise: f64| if v.is_finite() { v } else { otherwise };
        Self {
            width,
            height,
            pixels_per_mm: or(self.pixels_per_mm, 1.0).clamp(1e-6, 1e6),
            start_mm: or(self.start_mm, 0.0).clamp(-1e7, 1e7),
            roll: or(self.roll, 0.0) % std::f64::consts::TAU,
            centre_x: or(self.centre_x, width as f64 / 2.0).clamp(-1e6, 1e6),
            centre_y: or(self.centre_y, height as f64 / 2.0).clamp(-1e6, 1e6),
            bend: self.bend,
        }
    }

    /// The same place at half the size.
    pub(crate) fn halved(self) -> Self {
        Self {
            width: self.width.div_ceil(2),
            height: self.height.div_ceil(2),
            pixels_per_mm: self.pixels_per_mm / 2.0,
            centre_x: self.centre_x / 2.0,
            centre_y: self.centre_y / 2.0,
            ..self
        }
    }
}
