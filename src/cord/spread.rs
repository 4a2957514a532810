//! Figures with the spread of what they rest on.
//!
//! Each input that is not certain is set to the ends of its range, the cord
//! solved again from where it was, and the changes added as squares, upwards
//! and downwards apart. Where so many fibres are mixed that this would take
//! minutes, the ends come by the virial of the one cord instead. To that comes what the model itself is known to be
//! off by. Never a flat percentage of a figure.

use super::changes::{Changes, Named};
use super::figures::Figures;
use super::measure::{self, Sizes};
use super::model::{Miss, model_error};
use super::passes::warm;
use super::recipe::Recipe;
use super::solved::{Quality, SolveError, Solved};
use crate::material::{Bound, Standing};
use crate::mechanics::Progress;

/// The strands' pull against the figure given: our guess, a new disc grips
/// more than twice as hard as a worn one.
const PULL_FACTORS: [f64; 2] = [0.5, 2.0];
/// Most nodes that are solved again for the spread, all ends of all inputs together:
/// some twenty seconds (tried).
const MOST_AGAIN: usize = 150_000;

/// The figures with their spread by solving again.
pub(super) fn figures(
    recipe: &Recipe,
    solved: &Solved,
    sizes: &Sizes,
    progress: &Progress,
) -> Result<Figures, SolveError> {
    let mut changes = Changes::of(sizes);
    add_standing(&mut changes, recipe, sizes, solved.doubt.both_ways());
    // Cords solved again have contacts that give: their changes count from such a one.
    let giving = solved.giving();
    let base = measure::sizes(recipe, &giving);
    for unsure in unsure(recipe) {
        let again = |end: &Recipe| {
            if unsure.changes_shape {
                return solve_again(end, &giving, progress);
            }
            Ok(Some(measure::sizes(end, &giving)))
        };
        let ends = unsure.ends.iter().flatten().map(again);
        let ends: Vec<_> = ends.collect::<Result<_, _>>()?;
        changes.add(&base, &ends.into_iter().flatten().collect::<Vec<_>>());
    }
    Ok(gathered(recipe, sizes, &changes))
}

/// Whether solving again for all that is not certain would take minutes.
pub(super) fn is_long(recipe: &Recipe, solved: &Solved) -> bool {
    let changing = unsure(recipe).filter(|unsure| unsure.changes_shape);
    let ends: usize = changing
        .map(|unsure| unsure.ends.iter().flatten().count())
        .sum();
    ends * solved.shape.points.len() > MOST_AGAIN
}

/// The figures with their spread by another way to the sizes of a recipe, which may
/// itself `miss` them; changes count from the `base` that it has for this one.
pub(super) fn figures_by(
    recipe: &Recipe,
    [sizes, base]: [&Sizes; 2],
    [doubt, miss]: [Miss; 2],
    other: impl Fn(&Recipe) -> Option<Sizes>,
) -> Figures {
    let mut changes = Changes::of(sizes);
    add_standing(&mut changes, recipe, sizes, doubt);
    changes.add_miss(miss);
    for unsure in unsure(recipe) {
        let ends: Vec<_> = unsure.ends.iter().flatten().filter_map(&other).collect();
        changes.add(base, &ends);
    }
    gathered(recipe, sizes, &changes)
}

/// One input at the ends of its range; an end that makes no cord is left out.
struct Ends {
    ends: [Option<Recipe>; 2],
    changes_shape: bool,
}

/// Every input that is not certain.
fn unsure(recipe: &Recipe) -> impl Iterator<Item = Ends> {
    let pull = Ends {
        ends: PULL_FACTORS.map(|factor| recipe.with_pull_times(factor)),
        changes_shape: true,
    };
    let of_fibre = move |fibre: usize| {
        let own = &recipe.fibres[fibre];
        own.unsure().map(move |unsure| Ends {
            ends: [Bound::Low, Bound::High].map(|b| recipe.with_fibre_at(fibre, unsure, b)),
            changes_shape: unsure.changes_shape(own.label),
        })
    };
    std::iter::once(pull).chain((0..recipe.fibres.len()).flat_map(of_fibre))
}

/// The figures with the model's own error alone; the inputs' spread is still to come.
pub(super) fn figures_without_inputs(recipe: &Recipe, solved: &Solved, sizes: &Sizes) -> Figures {
    let mut changes = Changes::of(sizes);
    add_standing(&mut changes, recipe, sizes, solved.doubt.both_ways());
    gathered(recipe, sizes, &changes)
}

/// What the model and the computation miss.
fn add_standing(changes: &mut Changes, recipe: &Recipe, sizes: &Sizes, doubt: Miss) {
    changes.add_miss(model_error(recipe, sizes));
    changes.add_miss(doubt);
}

/// An end of a range at which the cord does not hold tells nothing and is left out.
fn solve_again(
    recipe: &Recipe,
    solved: &Solved,
    progress: &Progress,
) -> Result<Option<Sizes>, SolveError> {
    match warm(recipe, solved, Quality::Full, progress) {
        Ok(other) => Ok(Some(measure::sizes(recipe, &other))),
        Err(SolveError::Stopped) => Err(SolveError::Stopped),
        Err(_) => Ok(None),
    }
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
        bundle: of(Named::Bundle),
        bundle_of_tails: of(Named::BundleOfTails),
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
