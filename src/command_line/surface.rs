//! The unrolled surface of the cord as an SVG.

use std::path::Path;

use super::{Failure, Source, opened, recipe, solved, taken, write};
use crate::cord::Quality;
use crate::drawing;
use crate::surface::Surface;

/// Writes the picture of the surface; the sentence says what is on it.
pub(super) fn run(source: &Source, out: &Path) -> Result<String, Failure> {
    taken(out, &["svg"])?;
    let design = opened(source)?;
    let cord = solved(&recipe(&design)?, Quality::Fine)
        .map_err(|error| Failure::Input(error.to_string()))?
        .0;
    let surface = Surface::new(&cord.form)
        .ok_or_else(|| Failure::Other("the cord has no surface that repeats".to_owned()))?;
    let threads = drawing::threads(&design.drawn(), &design.fibres);
    let picture = drawing::unrolled(&surface, &threads, &design.name);
    write(out, picture.as_bytes())?;
    Ok(format!(
        "{}: {} floats in a repeat of {:.2} mm, {:.2} mm round",
        out.display(),
        surface.floats.len(),
        surface.repeat_mm,
        surface.girth_mm,
    ))
}
