//! The cord as a PNG, drawn by the same renderer as the window's strip.

use image::ImageError;

use super::arguments::Size;
use crate::cord::Cord;
use crate::document::Design;
use crate::drawing::{self, Bend, Detail, Ground, View};
use crate::material::Colour;

/// Share of the picture's height that the cord takes.
const CORD_SHARE: f64 = 0.55;

/// The cloth under the cord, as in the window by daylight.
const LINEN: Ground = Ground::Linen {
    colour: Colour([0xE3, 0xDA, 0xCA]),
    weave: Colour([0xD8, 0xCD, 0xBA]),
    thread: 1.0,
    shadow: 0.42,
};

/// The bytes of a PNG file.
pub(super) fn png(design: &Design, cord: &Cord, size: Size) -> Result<Vec<u8>, ImageError> {
    let thickness = cord
        .figures
        .thickness_on_disc
        .value
        .max(cord.figures.width_rested.value);
    let view = View {
        width: size.width,
        height: size.height,
        pixels_per_mm: CORD_SHARE * size.height as f64 / thickness,
        start_mm: 0.0,
        roll: 0.0,
        centre_x: 0.0,
        centre_y: 0.48 * size.height as f64,
        bend: Bend::Straight,
    };
    let threads = drawing::threads(&design.drawn(), &design.fibres);
    let raster = drawing::cord_picture(&cord.form, &threads, &view, &LINEN, Detail::Fine);
    drawing::png(&raster)
}
