//! Figures with the spread of what they rest on.
//!
//! Each input that is not certain is set to the ends of its range, the cord
//! solved again from where it was, and the changes added as squares, upwards
//! and downwards apart. To that comes what the model itself is known to be
//! off by. Never a flat percentage of a figure.

use super::changes::{Changes, Named};
use super::doubt::Doubt;
use super::figures::Figures;
use super::measure::{self, Sizes};
use super::model::model_error;
use super::passes::warm;
use super::recipe::Recipe;
use super::solved::{SolveError, Solved};
use crate::material::{Bound, Standing};
use crate::mechanics::Progress;

/// The strands' pull against the figure given: our guess, a new disc grips
/// more than twice as hard as a worn one.
const PULL_FACTORS: [f64; 2] = [0.5, 2.0];
/// What the binding thread adds, mm either way of the middle. Common practice, no source.
const BINDING_SPREAD_MM: f64 = 0.2;

/// The figures with their spread by solving again.
pub(super) fn figures(
    recipe: &Recipe,
    solved: &Solved,
    sizes: &Sizes,
    progress: &Progress,
) -> Result<Figures, SolveError> {
    let mut changes = Changes::of(sizes);
    add_standing(&mut changes, recipe, sizes, solved.doubt);
    // Cords solved again have contacts that give: their changes count from such a one.
    let giving = solved.giving();
    let base = measure::sizes(recipe, &giving);
    let pulled = PULL_FACTORS.map(|factor| recipe.with_pull_times(factor));
    changes.add(&base, &solve_again(pulled, &giving, progress)?);
    for fibre in 0..recipe.fibres.len() {
        for unsure in recipe.fibres[fibre].unsure() {
            let ends = [Bound::Low, Bound::High].map(|b| recipe.with_fibre_at(fibre, unsure, b));
            let sizes = if unsure.changes_shape(recipe.fibres[fibre].label) {
                solve_again(ends, &giving, progress)?
            } else {
                let measured = |r: &Recipe| measure::sizes(r, &giving);
                ends.iter().flatten().map(measured).collect()
            };
            changes.add(&base, &sizes);
        }
    }
    Ok(gathered(recipe, sizes, &changes))
}

/// The figures with the model's own error alone; the inputs' spread is still to come.
pub(super) fn figures_without_inputs(recipe: &Recipe, solved: &Solved, sizes: &Sizes) -> Figures {
    let mut changes = Changes::of(sizes);
    add_standing(&mut changes, recipe, sizes, solved.doubt);
    gathered(recipe, sizes, &changes)
}

/// What the model and the computation miss, and what a binding thread adds.
fn add_standing(changes: &mut Changes, recipe: &Recipe, sizes: &Sizes, doubt: Doubt) {
    changes.add_miss(model_error(recipe, sizes));
    changes.add_miss(doubt.both_ways());
    changes.add_both_ways(Named::BoundEnd, BINDING_SPREAD_MM);
}

/// An end of a range at which the cord does not hold tells nothing and is left out.
fn solve_again(
    ends: [Option<Recipe>; 2],
    solved: &Solved,
    progress: &Progress,
) -> Result<Vec<Sizes>, SolveError> {
    let mut all = Vec::new();
    for recipe in ends.into_iter().flatten() {
        match warm(&recipe, solved, progress) {
            Ok(other) => all.push(measure::sizes(&recipe, &other)),
            Err(SolveError::Stopped) => return Err(SolveError::Stopped),
            Err(_) => {}
        }
    }
    Ok(all)
}

fn gathered(recipe: &Recipe, sizes: &Sizes, changes: &Changes) -> Figures {
    let of = |name: Named| changes.estimate(name);
    let standings = recipe.strands.iter().map(|s| s.standing(&recipe.fibres));
    let mut guesses: Vec<String> = recipe
        .strands
        .iter()
        .flat_map(|s| s.guesses(&recipe.fibres))
        .collect();
    guesses.push("how hard the slots or bobbins pull: our guess".to_owned());
    if recipe.core.is_some() {
        guesses.push("how hard the core is pulled: our guess".to_owned());
    }
    guesses.sort();
    guesses.dedup();
    Figures {
        thickness_on_disc: of(Named::OnDisc),
        pressed_on_disc: of(Named::PressedOnDisc),
        thickness_rested: of(Named::Rested),
        pressed_rested: of(Named::PressedRested),
        width_rested: of(Named::WidthRested),
        off_weight: of(Named::OffWeight),
        worked: of(Named::Worked),
        lengthening: of(Named::Lengthening),
        bound_end: of(Named::BoundEnd),
        pitch: of(Named::Pitch),
        moves_per_cm: of(Named::MovesPerCm),
        mass: of(Named::Mass),
        take_up: changes.take_ups(),
        section: sizes.section,
        bore: sizes.bore_mm,
        hand: sizes.hand,
        standing: standings.min().unwrap_or(Standing::Guess),
        guesses,
    }
}
