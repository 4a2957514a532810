//! Which values of its fibre give a cord that was made and measured.
//!
//! Nothing is written back: the answer is told, or why there is none.

use super::{Failure, Source, opened, recipe};
use crate::cord::{Met, Swatch, SwatchError, meet};
use crate::mechanics::Progress;

/// The answer in a sentence or two. That a swatch is out of reach is an answer, too.
pub(super) fn run(source: &Source, thickness: f64, shorter: f64) -> Result<String, Failure> {
    let recipe = recipe(&opened(source)?)?;
    let swatch = Swatch { thickness, shorter };
    match meet(&recipe, swatch, &Progress::new()) {
        Ok(met) => Ok(told(&met)),
        Err(error @ (SwatchError::Thickness { .. } | SwatchError::Length { .. })) => {
            Ok(format!("out of reach: {error}."))
        }
        Err(error) => Err(Failure::Input(error.to_string())),
    }
}

fn told(met: &Met) -> String {
    format!(
        "met by a packing in the braid of {:.3} and {:.1} % off the weight; the cord is then {:.2} mm on the disc and {:.2} mm rested",
        met.in_braid,
        met.shortens,
        met.cord.figures.thickness_on_disc.value,
        met.cord.figures.thickness_rested.value,
    )
}
