//! What can be taken along of a design: files for other programs, printers and people.

use std::path::Path;

use super::cord::{TooLarge, large_picture};
use super::raster::{Raster, png};
use super::solid::{Solid, SolidError, finishes, solid};
use super::svg::{cord_svg, disc_svg};
use super::thread::threads;
use super::unrolled::unrolled;
use super::view::{Bend, Ground, View};
use crate::cord::Form;
use crate::document::{Design, WriteError, replace};
use crate::surface::Surface;

/// A kind of thing to take along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keepsake {
    /// The cord from its side in pixels.
    CordPng,
    /// The cord from its side in outlines.
    CordSvg,
    /// The surface of the cord, unrolled, in outlines.
    SurfaceSvg,
    /// The disc as it is set up, in outlines.
    DiscSvg,
    /// The cord as a body with its colours, glTF binary.
    SolidGlb,
    /// The same as Wavefront OBJ, its colours in a file beside it.
    SolidObj,
    /// The body alone, binary STL.
    SolidStl,
}

/// How the cord lies in a picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Pixels for a millimetre; none for as many as let the cord take a good half of the
    /// height.
    pub per_mm: Option<f64>,
    /// Height in the cord at the left edge, mm.
    pub start_mm: f64,
    /// Turn of the cord about its axis, radians.
    pub roll: f64,
    /// What it lies on.
    pub ground: Ground,
}

/// All that something is made of.
#[derive(Debug, Clone)]
pub struct Taking<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its cord.
    pub form: &'a Form,
    /// Thickness of the cord over all, or its wider side, mm.
    pub thickness_mm: f64,
    /// How a picture shows it.
    pub frame: Frame,
    /// Length of a solid, mm.
    pub length_mm: f64,
}

/// Something made, not yet in its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// The bytes of its file.
    pub bytes: Vec<u8>,
    /// What lies beside it: the end of its name, and its bytes.
    pub beside: Option<(&'static str, Vec<u8>)>,
}

/// Why nothing was made, in a sentence without its full stop.
#[derive(Debug, thiserror::Error)]
pub enum TakeError {
    /// No picture of that size.
    #[error(transparent)]
    Picture(#[from] TooLarge),
    /// The surface cannot be unrolled.
    #[error("the cord has no surface that repeats")]
    Surface,
    /// No solid.
    #[error(transparent)]
    Solid(#[from] SolidError),
    /// The picture was refused by the encoder.
    #[error("the picture could not be written as PNG: {0}")]
    Encoding(String),
}

/// Share of a picture's height that the cord takes.
const CORD_SHARE: f64 = 0.55;

impl Keepsake {
    /// All of them, as they are offered.
    pub const ALL: [Self; 7] = [
        Self::CordPng,
        Self::CordSvg,
        Self::SurfaceSvg,
        Self::DiscSvg,
        Self::SolidGlb,
        Self::SolidObj,
        Self::SolidStl,
    ];

    /// How a file of it ends.
    pub fn ending(self) -> &'static str {
        self.endings()[0]
    }

    /// The same for whoever takes a list.
    pub fn endings(self) -> &'static [&'static str; 1] {
        match self {
            Self::CordPng => &["png"],
            Self::CordSvg | Self::SurfaceSvg | Self::DiscSvg => &["svg"],
            Self::SolidGlb => &["glb"],
            Self::SolidObj => &["obj"],
            Self::SolidStl => &["stl"],
        }
    }

    /// Makes it; `name` is what its file will be called, without its end.
    ///
    /// # Errors
    ///
    /// See [`TakeError`].
    pub fn make(self, from: &Taking<'_>, name: &str) -> Result<Taken, TakeError> {
        let alone = |bytes| Taken {
            bytes,
            beside: None,
        };
        let title = &from.design.name;
        Ok(match self {
            Self::CordPng => {
                let raster = from.raster()?;
                let bytes = png(&raster, from.view().pixels_per_mm);
                alone(bytes.map_err(|error| TakeError::Encoding(error.to_string()))?)
            }
            Self::CordSvg => alone(from.outlines().into_bytes()),
            Self::SurfaceSvg => alone(from.surface()?.into_bytes()),
            Self::DiscSvg => alone(disc_svg(from.design).into_bytes()),
            Self::SolidGlb => alone(from.solid()?.glb(title)),
            Self::SolidStl => alone(from.solid()?.stl()),
            Self::SolidObj => {
                let solid = from.solid()?;
                Taken {
                    bytes: solid.obj(&format!("{name}.mtl")).into_bytes(),
                    beside: Some(("mtl", solid.mtl().into_bytes())),
                }
            }
        })
    }
}

impl Frame {
    /// The view of a cord so thick.
    pub fn view(&self, thickness_mm: f64) -> View {
        let height = self.height as f64;
        let filling = CORD_SHARE * height / thickness_mm.max(1e-3);
        View {
            width: self.width,
            height: self.height,
            pixels_per_mm: self.per_mm.unwrap_or(filling),
            start_mm: self.start_mm,
            roll: self.roll,
            centre_x: 0.0,
            // A shadow wants a little more room below.
            centre_y: height
                * if self.ground == Ground::Clear {
                    0.5
                } else {
                    0.48
                },
            bend: Bend::Straight,
        }
    }
}

impl Taking<'_> {
    fn view(&self) -> View {
        self.frame.view(self.thickness_mm)
    }

    /// The picture in pixels.
    ///
    /// # Errors
    ///
    /// When it is larger than pictures are made.
    pub fn raster(&self) -> Result<Raster, TooLarge> {
        let threads = threads(&self.design.drawn(), &self.design.fibres);
        large_picture(self.form, &threads, &self.view(), &self.frame.ground)
    }

    fn outlines(&self) -> String {
        let threads = threads(&self.design.drawn(), &self.design.fibres);
        cord_svg(&self.design.name, self.form, &threads, &self.view())
    }

    fn surface(&self) -> Result<String, TakeError> {
        let surface = Surface::new(self.form).ok_or(TakeError::Surface)?;
        let threads = threads(&self.design.drawn(), &self.design.fibres);
        Ok(unrolled(&surface, &threads, &self.design.name))
    }

    fn solid(&self) -> Result<Solid, SolidError> {
        let strands = self.design.drawn();
        let braided = self.design.strands.len();
        let finishes = finishes(&strands, braided, &self.design.fibres);
        solid(self.form, &finishes, self.length_mm)
    }
}

impl Taken {
    /// Writes it, whole or not at all; what lies beside it first, so that whoever opens
    /// the file finds it.
    ///
    /// # Errors
    ///
    /// When the system does not take it; older files are then as they were, but for one
    /// beside it.
    pub fn write(&self, out: &Path) -> Result<(), WriteError> {
        if let Some((ending, bytes)) = &self.beside {
            replace(&out.with_extension(ending), bytes)?;
        }
        replace(out, &self.bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::sample_design;
    use crate::drawing::cord::samples::rope;

    fn frame() -> Frame {
        Frame {
            width: 240,
            height: 60,
            per_mm: None,
            start_mm: 0.0,
            roll: 0.0,
            ground: Ground::Clear,
        }
    }

    #[test]
    fn everything_offered_is_made_and_begins_as_its_kind_does() {
        let (design, form) = (sample_design(), rope(4, 12, 2.0));
        let from = Taking {
            design: &design,
            form: &form,
            thickness_mm: 5.0,
            frame: frame(),
            length_mm: 10.0,
        };
        let folder = tempfile::tempdir().unwrap();
        for what in Keepsake::ALL {
            let head: &[u8] = match what.ending() {
                "png" => b"\x89PNG",
                "svg" => b"<?xml",
                "glb" => b"glTF",
                "obj" => b"# millimetres\nmtllib cord.mtl",
                _ => b"plaitwright",
            };
            let made = what.make(&from, "cord").unwrap();
            assert!(made.bytes.starts_with(head), "{what:?}");
            made.write(&folder.path().join(format!("{what:?}.{}", what.ending())))
                .unwrap();
        }
        let files = std::fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(files, Keepsake::ALL.len() + 1, "materials beside");
    }

    #[test]
    fn the_cord_fills_a_good_half_of_the_height_unless_told_otherwise() {
        let view = frame().view(5.0);
        assert!((view.pixels_per_mm - 6.6).abs() < 1e-9);
        let told = Frame {
            per_mm: Some(11.0),
            ..frame()
        };
        assert_eq!(told.view(5.0).pixels_per_mm, 11.0);
    }
}
