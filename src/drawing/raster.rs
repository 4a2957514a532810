//! Finished pictures: rows of pixels, and PNG files of them.

use std::io::Cursor;

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, ImageError};

/// A picture: sRGB with straight alpha, four bytes a pixel, row by row from
/// the upper left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raster {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// `4 * width * height` bytes.
    pub rgba: Vec<u8>,
}

/// The picture as the bytes of a PNG file.
///
/// # Errors
///
/// When the encoder refuses the picture, as it does one without pixels.
pub fn png(raster: &Raster) -> Result<Vec<u8>, ImageError> {
    let mut bytes = Cursor::new(Vec::new());
    PngEncoder::new(&mut bytes).write_image(
        &raster.rgba,
        raster.width as u32,
        raster.height as u32,
        ExtendedColorType::Rgba8,
    )?;
    Ok(bytes.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_png_read_back_is_the_same_picture() {
        let raster = Raster {
            width: 3,
            height: 2,
            rgba: (0..24).collect(),
        };
        let bytes = png(&raster).unwrap();
        let read = image::load_from_memory(&bytes).unwrap().to_rgba8();
        assert_eq!((read.width(), read.height()), (3, 2));
        assert_eq!(read.into_raw(), raster.rgba);
    }
}
