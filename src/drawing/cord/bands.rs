//! Pictures too large to be made at once: band after band from the left, each with as
//! much of its neighbours as its light and shadows need.

use rayon::prelude::*;

use super::ground::Cloth;
use super::light::Encoder;
use super::run::Run;
use super::stage::{Stage, cord_picture};
use crate::cord::Form;
use crate::drawing::raster::Raster;
use crate::drawing::thread::Thread;
use crate::drawing::view::{Bend, Detail, Ground, View};

/// Most pixels of a picture, along a side and in all: 480 MB of them.
const MOST_SIDE: usize = 60_000;
const MOST_PIXELS: usize = 120_000_000;

/// Pixels of a band with its margins: as many as a picture made at once, or more where
/// the margins are wide, at 80 bytes each.
const BAND: usize = 8_388_608;
const MOST_BAND: usize = 25_000_000;

/// Bands begin on whole cells of the shadow, the largest of which have this side.
const CELL: usize = 16;

/// Why a picture is not made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum TooLarge {
    /// More than a picture may have.
    #[error("a picture has at most {MOST_PIXELS} pixels, and no side over {MOST_SIDE}")]
    Pixels,
    /// A bent cord cannot be cut into bands.
    #[error("a bent cord is drawn with at most 8 million pixels")]
    Bent,
    /// Nor one of which a band alone is too large.
    #[error("the cord is drawn too large; ask for fewer pixels to a millimetre")]
    Scale,
}

/// The finest picture of a cord, as [`cord_picture`] but of any size up to 120 million
/// pixels.
///
/// # Errors
///
/// See [`TooLarge`].
pub fn large_picture(
    form: &Form,
    threads: &[Thread],
    view: &View,
    ground: &Ground,
) -> Result<Raster, TooLarge> {
    let bounded = view.bounded();
    if (bounded.width, bounded.height) == (view.width, view.height) {
        return Ok(cord_picture(form, threads, view, ground, Detail::Fine));
    }
    let pixels = view.width.saturating_mul(view.height);
    if pixels > MOST_PIXELS || view.width.max(view.height) > MOST_SIDE {
        return Err(TooLarge::Pixels);
    }
    if view.bend != Bend::Straight {
        return Err(TooLarge::Bent);
    }
    let margin = Run::new(form).map_or(0, |run| margin(&run, view));
    let band = (BAND / view.height)
        .saturating_sub(2 * margin)
        .max(2 * margin)
        .next_multiple_of(CELL);
    if (band + 2 * margin).saturating_mul(view.height) > MOST_BAND {
        return Err(TooLarge::Scale);
    }
    Ok(in_bands(form, threads, view, ground, (band, margin)))
}

/// Pixels beside a band that its light needs to know: shadows of the cord fall a quarter
/// of its thickness aside, those among strands and hairs under two strand diameters.
fn margin(run: &Run, view: &View) -> usize {
    let zoom = view.pixels_per_mm * run.unit;
    let thick = 2.0 * f64::from(run.reach);
    let pixels = zoom * (0.25 * thick + 2.2);
    (pixels.clamp(0.0, 1e6) as usize + 1).next_multiple_of(CELL)
}

fn in_bands(
    form: &Form,
    threads: &[Thread],
    view: &View,
    ground: &Ground,
    (band, margin): (usize, usize),
) -> Raster {
    let cloth = Cloth::new(ground, view.width, view.height);
    let mut picture = Raster {
        width: view.width,
        height: view.height,
        rgba: cloth.bytes.clone(),
    };
    let mut stage = Stage::new(form);
    for begin in (0..view.width).step_by(band) {
        let width = band.min(view.width - begin);
        let left = begin as f64 - margin as f64;
        let part = View {
            width: width + 2 * margin,
            start_mm: view.start_mm + left / view.pixels_per_mm,
            ..*view
        };
        let Some(layer) = stage.layer(threads, &part, ground, Detail::Fine) else {
            break;
        };
        let encoder = Encoder::new();
        picture
            .rgba
            .par_chunks_mut(4 * view.width)
            .skip(layer.top)
            .zip(layer.pixels.par_chunks(layer.width))
            .for_each(|(row, pixels)| {
                let to = row[4 * begin..][..4 * width].chunks_exact_mut(4);
                for (to, pixel) in to.zip(&pixels[margin..]) {
                    if pixel.cover > 0.0 {
                        to.copy_from_slice(&cloth.behind(encoder, pixel, to));
                    }
                }
            });
    }
    picture
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::{rope, satin, wool};
    use crate::material::Colour;

    fn view(width: usize, height: usize) -> View {
        View {
            width,
            height,
            pixels_per_mm: 10.0,
            start_mm: -2.0,
            roll: 0.4,
            centre_x: 0.0,
            centre_y: 0.48 * height as f64,
            bend: Bend::Straight,
        }
    }

    #[test]
    fn a_picture_made_in_bands_is_the_picture_made_at_once() {
        let form = rope(4, 16, 1.2);
        let threads = [satin(), wool()].map(|look| Thread::single(look, Colour([160, 90, 50])));
        let ground = Ground::Linen {
            colour: Colour([227, 218, 202]),
            weave: Colour([216, 205, 186]),
            thread: 1.0,
            shadow: 0.42,
        };
        let view = view(500, 90);
        let once = cord_picture(&form, &threads, &view, &ground, Detail::Fine);
        let margin = margin(&Run::new(&form).unwrap(), &view);
        let bands = in_bands(&form, &threads, &view, &ground, (112, margin));
        let off = |(a, b): (&u8, &u8)| usize::from(a.abs_diff(*b) > 6);
        let differ: usize = once.rgba.iter().zip(&bands.rgba).map(off).sum();
        let share = differ as f64 / once.rgba.len() as f64;
        assert!(share < 2e-3, "{share}");
    }

    #[test]
    fn what_is_too_large_is_said() {
        let form = rope(3, 8, 1.0);
        let refused = |view: &View| large_picture(&form, &[], view, &Ground::Clear).unwrap_err();
        assert_eq!(refused(&view(60_000, 60_000)), TooLarge::Pixels);
        assert_eq!(refused(&view(usize::MAX, 2)), TooLarge::Pixels);
        let bent = View {
            bend: Bend::Loop { inner_mm: 60.0 },
            ..view(9000, 1000)
        };
        assert_eq!(refused(&bent), TooLarge::Bent);
        let close = View {
            pixels_per_mm: 3000.0,
            ..view(9000, 9000)
        };
        assert_eq!(refused(&close), TooLarge::Scale);
    }
}
