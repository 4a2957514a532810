//! Things to take along: pictures of the cord and of the disc, and solids.

use std::path::Path;

use super::{Failure, Size, Source, Stretch, opened, recipe, solved, taken, write};
use crate::cord::{Cord, Quality};
use crate::document::Design;
use crate::drawing::{Frame, Ground, Keepsake, TakeError, Taking, disc_svg};
use crate::material::Colour;

/// What a picture is to be.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Picture {
    /// Of what.
    pub of: Subject,
    /// Its size; none for the usual one.
    pub size: Option<Size>,
    /// Pixels for a millimetre of cord; none for as many as fill a good half of the
    /// height.
    pub per_mm: Option<f64>,
    /// What the cord lies on.
    pub ground: Under,
}

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Subject {
    /// The cord from its side.
    #[default]
    Cord,
    /// The disc with the strands as they are laid on.
    Disc,
}

/// What a pictured cord lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Under {
    /// Linen.
    #[default]
    Linen,
    /// Nothing: the picture is clear round it.
    Nothing,
}

impl Picture {
    /// The disc, of which there is only one picture.
    pub(super) fn disc() -> Self {
        Self {
            of: Subject::Disc,
            ..Self::default()
        }
    }
}

/// The usual size.
const SIZE: Size = Size {
    width: 1600,
    height: 300,
};

/// The cloth under the cord, as in the window by daylight.
const LINEN: Ground = Ground::Linen {
    colour: Colour([0xE3, 0xDA, 0xCA]),
    weave: Colour([0xD8, 0xCD, 0xBA]),
    thread: 1.0,
    shadow: 0.42,
};

/// Draws and writes a picture.
pub(super) fn draw(source: &Source, out: &Path, picture: &Picture) -> Result<(), Failure> {
    let what = match picture.of {
        Subject::Disc => kept_as(out, &[Keepsake::DiscSvg])?,
        Subject::Cord => kept_as(out, &[Keepsake::CordPng, Keepsake::CordSvg])?,
    };
    let design = opened(source)?;
    if picture.of == Subject::Disc {
        return write(out, disc_svg(&design).as_bytes());
    }
    take(&design, &cord(&design)?, what, out, (picture, 0.0))
}

/// Writes the solid of a cord; the sentence says how much there is of it.
pub(super) fn solid(source: &Source, out: &Path, stretch: Stretch) -> Result<String, Failure> {
    let kinds = [Keepsake::SolidGlb, Keepsake::SolidObj, Keepsake::SolidStl];
    let what = kept_as(out, &kinds)?;
    let design = opened(source)?;
    let cord = cord(&design)?;
    let length = match stretch {
        Stretch::Mm(length) => length,
        Stretch::Repeats(count) => f64::from(count) * cord.form.lift,
    };
    take(&design, &cord, what, out, (&Picture::default(), length))?;
    Ok(format!("{}: {length:.2} mm of cord", out.display()))
}

fn cord(design: &Design) -> Result<Cord, Failure> {
    let solved = solved(&recipe(design)?, Quality::Fine);
    Ok(solved.map_err(|error| Failure::Input(error.to_string()))?.0)
}

fn take(
    design: &Design,
    cord: &Cord,
    what: Keepsake,
    out: &Path,
    (picture, length_mm): (&Picture, f64),
) -> Result<(), Failure> {
    let size = picture.size.unwrap_or(SIZE);
    let figures = &cord.figures;
    let thickness = figures.thickness_on_disc.value;
    let from = Taking {
        design,
        form: &cord.form,
        thickness_mm: thickness.max(figures.width_rested.value),
        frame: Frame {
            width: size.width,
            height: size.height,
            per_mm: picture.per_mm,
            start_mm: 0.0,
            roll: 0.0,
            ground: match picture.ground {
                Under::Linen => LINEN,
                Under::Nothing => Ground::Clear,
            },
        },
        length_mm,
    };
    let name = out.file_stem().unwrap_or_default().to_string_lossy();
    let made = what.make(&from, &name).map_err(|error| match error {
        TakeError::Encoding(_) => Failure::Other(error.to_string()),
        _ => Failure::Input(error.to_string()),
    })?;
    let written = made.write(out);
    written.map_err(|error| Failure::Other(error.to_string()))
}

/// Which of these a file is to hold, by the end of its name.
fn kept_as(out: &Path, kinds: &[Keepsake]) -> Result<Keepsake, Failure> {
    let ends: Vec<&'static str> = kinds.iter().map(|kind| kind.ending()).collect();
    let end = taken(out, &ends)?;
    let place = ends.iter().position(|other| *other == end);
    Ok(kinds[place.unwrap_or(0)])
}
