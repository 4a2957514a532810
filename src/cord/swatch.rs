//! A swatch against what the values of its fibre can give.
//!
//! Two measures of one swatch pin two values: the shortening off the weight is one
//! of them, the packing in the braid follows from the rested thickness, since a cord
//! gets thinner the closer its strands pack. Both are sought within what the fibre
//! says of itself; a swatch outside of that is said to be so, with what to look at.
//!
//! Knows no files; nothing is learned here, only told.

use super::recipe::Recipe;
use super::solve::{Cord, solve};
use super::solved::{Quality, SolveError};
use crate::material::{Known, Unsure};
use crate::mechanics::Progress;

/// Rested thickness is met as well as this, as a share: finer than a calliper.
const CLOSE: f64 = 1e-3;
/// Halvings of the range of packings, at most.
const MOST_HALVINGS: usize = 20;

/// What was measured on a cord of one fibre, off the weight and rested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swatch {
    /// Thickness over the crests, mm.
    pub thickness: f64,
    /// How much shorter than on the disc, per cent.
    pub shorter: f64,
}

/// The values that give a swatch.
#[derive(Debug, Clone)]
pub struct Met {
    /// Packing in a firm hand braid.
    pub in_braid: f64,
    /// Shortening off the weight, per cent.
    pub shortens: f64,
    /// The cord with these values.
    pub cord: Cord,
}

/// Why no values give a swatch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SwatchError {
    /// A swatch says nothing of one fibre when it is of several.
    #[error("a swatch tells of one fibre; this cord is of {0}")]
    Fibres(usize),
    /// A measure is none.
    #[error("{0} is not a measure of a swatch")]
    Measure(f64),
    /// The thickness is out of reach.
    #[error(
        "{measured:.2} mm was measured, but these strands make a cord of {least:.2} to {most:.2} mm, whatever their packing in the braid ({loose} to {dense}). Check how thick a strand is lying free ({diameter:.2} mm is said; about {fitting:.2} mm would fit), how hard it was pulled while braiding, and weigh a metre of strand and of cord"
    )]
    Thickness {
        /// As measured, mm.
        measured: f64,
        /// Thinnest that can be, mm.
        least: f64,
        /// Thickest that can be, mm.
        most: f64,
        /// Least packing in the braid.
        loose: f64,
        /// Closest packing in the braid.
        dense: f64,
        /// Free diameter as said, mm.
        diameter: f64,
        /// Free diameter that would bring the nearest end to the swatch, mm.
        fitting: f64,
    },
    /// The shortening is out of reach.
    #[error(
        "{measured:.1} % shorter was measured, where {least:.1} to {most:.1} % is said of this fibre. Check that it was measured under the weight first, then lay it down without pull for a day and measure again"
    )]
    Length {
        /// As measured, per cent.
        measured: f64,
        /// Least, per cent.
        least: f64,
        /// Most, per cent.
        most: f64,
    },
    /// The cord cannot be solved.
    #[error(transparent)]
    Solve(#[from] SolveError),
}

/// Rested thickness of the recipe's cord, mm, with its one fibre packed in the braid as
/// loosely and as closely as is said of it: `[thinnest, thickest]`.
///
/// # Errors
///
/// [`SwatchError::Fibres`] and [`SwatchError::Solve`].
pub fn reach(recipe: &Recipe, progress: &Progress) -> Result<[f64; 2], SwatchError> {
    let packing = one_fibre(recipe)?.packing.in_braid;
    let [loose, dense] = ends(recipe, packing, progress)?;
    Ok([rested(&dense), rested(&loose)])
}

/// The values of the recipe's one fibre that give the swatch.
///
/// # Errors
///
/// See [`SwatchError`]; each says what was measured, what can be, and what to check.
pub fn meet(recipe: &Recipe, swatch: Swatch, progress: &Progress) -> Result<Met, SwatchError> {
    let fibre = one_fibre(recipe)?;
    let (packing, diameter) = (fibre.packing.in_braid, fibre.diameter.value);
    check(swatch, fibre.shortens)?;
    let recipe = with(recipe, Unsure::Shortens, swatch.shorter)?;
    let [loose, dense] = ends(&recipe, packing, progress)?;
    let (most, least) = (rested(&loose), rested(&dense));
    let nearest = swatch.thickness.clamp(least, most);
    if nearest != swatch.thickness {
        return Err(SwatchError::Thickness {
            measured: swatch.thickness,
            least,
            most,
            loose: packing.low,
            dense: packing.high,
            diameter,
            fitting: diameter * swatch.thickness / nearest,
        });
    }
    halved(
        &recipe,
        swatch,
        [packing.low, packing.high],
        loose,
        progress,
    )
}

/// Between two packings that make the cord too thick and too thin, from the first.
fn halved(
    recipe: &Recipe,
    swatch: Swatch,
    [mut loose, mut dense]: [f64; 2],
    mut cord: Cord,
    progress: &Progress,
) -> Result<Met, SwatchError> {
    let mut in_braid = loose;
    for _ in 0..MOST_HALVINGS {
        let over = rested(&cord) / swatch.thickness - 1.0;
        if over.abs() < CLOSE {
            break;
        }
        *(if over > 0.0 { &mut loose } else { &mut dense }) = in_braid;
        in_braid = f64::midpoint(loose, dense);
        cord = packed(recipe, in_braid, Some(&cord), progress)?;
    }
    Ok(Met {
        in_braid,
        shortens: swatch.shorter,
        cord,
    })
}

fn check(swatch: Swatch, shortens: Known) -> Result<(), SwatchError> {
    for measure in [swatch.thickness, 100.0 - swatch.shorter] {
        if !(measure.is_finite() && measure > 0.0) {
            return Err(SwatchError::Measure(measure));
        }
    }
    if (shortens.low..=shortens.high).contains(&swatch.shorter) {
        return Ok(());
    }
    Err(SwatchError::Length {
        measured: swatch.shorter,
        least: shortens.low,
        most: shortens.high,
    })
}

fn one_fibre(recipe: &Recipe) -> Result<&crate::material::Fibre, SwatchError> {
    match &recipe.fibres[..] {
        [fibre] => Ok(fibre),
        several => Err(SwatchError::Fibres(several.len())),
    }
}

/// The cord at the loosest and at the closest packing.
fn ends(recipe: &Recipe, packing: Known, progress: &Progress) -> Result<[Cord; 2], SwatchError> {
    let loose = packed(recipe, packing.low, None, progress)?;
    let dense = packed(recipe, packing.high, Some(&loose), progress)?;
    Ok([loose, dense])
}

fn packed(
    recipe: &Recipe,
    in_braid: f64,
    before: Option<&Cord>,
    progress: &Progress,
) -> Result<Cord, SwatchError> {
    let recipe = with(recipe, Unsure::PackingInBraid, in_braid)?;
    Ok(solve(&recipe, before, Quality::Fine, progress)?)
}

/// The same question with one value of its fibre; of these two none can be refused
/// that the fibre itself allows.
fn with(recipe: &Recipe, unsure: Unsure, value: f64) -> Result<Recipe, SwatchError> {
    let refused = || SwatchError::Measure(value);
    recipe.with_fibre(0, unsure, value).ok_or_else(refused)
}

fn rested(cord: &Cord) -> f64 {
    cord.figures.thickness_rested.value
}

#[cfg(test)]
mod tests {
    use super::super::{Tension, Twist};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::structure::shelf;

    const SATIN: &str = "satin cord 2 mm, polyester";

    fn spiral(in_braid: [f64; 2]) -> Recipe {
        let mut satin = on_shelf(SATIN).unwrap().clone();
        let packing = &mut satin.packing.in_braid;
        [packing.low, packing.high] = in_braid;
        packing.value = packing.value.clamp(packing.low, packing.high);
        let list = shelf()
            .iter()
            .find(|s| s.name == "Round spiral" && s.strands() == 8)
            .unwrap();
        let strands = vec![Strand::single(SATIN, Colour([0; 3])); 8];
        let pull = Tension::Slots(0.6);
        Recipe::new(&list.moves, &strands, &[satin], pull, 70.0, Twist::Free).unwrap()
    }

    fn of_the_shelf() -> Recipe {
        let packing = on_shelf(SATIN).unwrap().packing.in_braid;
        spiral([packing.low, packing.high])
    }

    fn measured(thickness: f64, shorter: f64) -> Swatch {
        Swatch { thickness, shorter }
    }

    /// Prints which rested thicknesses can be reached; `-- --nocapture` shows it.
    #[test]
    fn closer_packing_makes_a_thinner_cord_all_over_its_range() {
        println!("packing in the braid | rested, 2 % off | 3.5 % off | 5 % off");
        let mut before = f64::INFINITY;
        for in_braid in [0.53, 0.55, 0.58, 0.61, 0.64, 0.67, 0.69, 0.72, 0.739] {
            let of = |shorter| {
                let recipe = with(&spiral([0.52, 0.74]), Unsure::Shortens, shorter).unwrap();
                rested(&packed(&recipe, in_braid, None, &Progress::new()).unwrap())
            };
            let [few, some, many] = [2.0, 3.5, 5.0].map(of);
            println!("{in_braid:.3} | {few:.2} | {some:.2} | {many:.2}");
            assert!(few < some && some < many && some < before, "{in_braid}");
            before = some;
        }
    }

    #[test]
    fn both_measures_of_a_swatch_are_met_anywhere_within_reach() {
        let recipe = of_the_shelf();
        for shorter in [2.0, 3.4, 5.0] {
            let off = with(&recipe, Unsure::Shortens, shorter).unwrap();
            let [least, most] = reach(&off, &Progress::new()).unwrap();
            for share in [0.02, 0.5, 0.98] {
                let thickness = least + share * (most - least);
                let met = meet(&recipe, measured(thickness, shorter), &Progress::new()).unwrap();
                let found = met.cord.figures;
                let near = |a: f64, b: f64| (a / b - 1.0).abs() < 2.0 * CLOSE;
                assert!(near(found.thickness_rested.value, thickness), "{found:?}");
                assert!(near(-found.off_weight.value, shorter), "{found:?}");
            }
        }
    }

    #[test]
    fn a_swatch_out_of_reach_is_told_with_what_was_measured_can_be_and_is_to_be_checked() {
        let recipe = of_the_shelf();
        let off = with(&recipe, Unsure::Shortens, 3.0).unwrap();
        let [least, most] = reach(&off, &Progress::new()).unwrap();
        for (thickness, fits) in [(0.9 * least, 0.9), (1.1 * most, 1.1)] {
            let error = meet(&recipe, measured(thickness, 3.0), &Progress::new()).unwrap_err();
            let words = error.to_string();
            for part in [
                format!("{thickness:.2} mm was measured"),
                format!("{least:.2} to {most:.2} mm"),
                format!("about {:.2} mm would fit", 2.0 * fits),
                "how hard it was pulled".to_owned(),
                "weigh a metre".to_owned(),
            ] {
                assert!(words.contains(&part), "{part:?} is not in {words:?}");
            }
        }
        let error = meet(&recipe, measured(least, 9.0), &Progress::new()).unwrap_err();
        assert!(
            error.to_string().starts_with("9.0 % shorter was measured"),
            "{error}"
        );
    }

    #[test]
    fn no_measure_and_no_single_fibre_are_refused() {
        let recipe = of_the_shelf();
        for thickness in [0.0, -1.0, f64::NAN] {
            let end = meet(&recipe, measured(thickness, 3.0), &Progress::new());
            assert!(matches!(end, Err(SwatchError::Measure(_))), "{thickness}");
        }
    }
}
