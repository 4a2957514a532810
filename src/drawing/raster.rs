//! Finished pictures: rows of pixels, and PNG files of them.

use png::{
    BitDepth, ColorType, Encoder, EncodingError, PixelDimensions, SrgbRenderingIntent, Unit,
};

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

/// The bytes of a PNG file of a picture with so many pixels to a millimetre: printed at
/// its own size, the cord is as large as the real one.
///
/// # Errors
///
/// When the encoder refuses the picture, as it does one without pixels.
pub fn png(raster: &Raster, pixels_per_mm: f64) -> Result<Vec<u8>, EncodingError> {
    let per_metre = (1000.0 * pixels_per_mm).round().clamp(1.0, 1e9) as u32;
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, raster.width as u32, raster.height as u32);
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    encoder.set_pixel_dims(Some(PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&raster.rgba)?;
    writer.finish()?;
    Ok(bytes)
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
        let bytes = png(&raster, 20.0).unwrap();
        let read = image::load_from_memory(&bytes).unwrap().to_rgba8();
        assert_eq!((read.width(), read.height()), (3, 2));
        assert_eq!(read.into_raw(), raster.rgba);
    }

    #[test]
    fn a_png_says_how_many_pixels_a_metre_has() {
        let raster = Raster {
            width: 1,
            height: 1,
            rgba: vec![9; 4],
        };
        let bytes = png(&raster, 11.811).unwrap();
        let at = bytes.windows(4).position(|w| w == b"pHYs").unwrap();
        // Twice 11811 to the metre: 300 to the inch.
        assert_eq!(bytes[at + 4..at + 13], [0, 0, 46, 35, 0, 0, 46, 35, 1]);
        let none = Raster { width: 0, ..raster };
        assert!(png(&none, 1.0).is_err());
    }
}
