//! The cord as a solid, written for the program that its file name says.

use std::path::Path;

use super::{Failure, Source, Stretch, Taken, opened, recipe, solved, taken, write};
use crate::cord::Quality;
use crate::document::Design;
use crate::drawing::{self, Solid};

/// What a solid may be written as.
const KINDS: [&str; 3] = ["glb", "obj", "stl"];

/// Writes the solid of a cord; the sentence says what was made.
pub(super) fn run(source: &Source, out: &Path, stretch: Stretch) -> Result<String, Failure> {
    let kind = taken(out, &KINDS)?;
    let design = opened(source)?;
    let cord = solved(&recipe(&design)?, Quality::Fine)
        .map_err(|error| Failure::Input(error.to_string()))?
        .0;
    let length = match stretch {
        Stretch::Mm(length) => length,
        Stretch::Repeats(count) => f64::from(count) * cord.form.lift,
    };
    let strands = design.drawn();
    let finishes = drawing::finishes(&strands, design.strands.len(), &design.fibres);
    let solid = drawing::solid(&cord.form, &finishes, length)
        .map_err(|error| Failure::Input(error.to_string()))?;
    save(&solid, &design, out, kind)?;
    let triangles: usize = solid.tubes.iter().map(|t| t.triangles().count()).sum();
    Ok(format!(
        "{}: {:.2} mm of cord, {} strands, {triangles} triangles",
        out.display(),
        solid.length_mm,
        solid.tubes.len(),
    ))
}

fn save(solid: &Solid, design: &Design, out: &Path, kind: Taken) -> Result<(), Failure> {
    match kind {
        "glb" => write(out, &solid.glb(&design.name)),
        "stl" => write(out, &solid.stl()),
        _ => {
            // The materials first: whoever opens the solid at once finds them.
            let beside = out.with_extension("mtl");
            write(&beside, solid.mtl().as_bytes())?;
            let name = beside.file_name().unwrap_or_default().to_string_lossy();
            write(out, solid.obj(&name).as_bytes())
        }
    }
}
