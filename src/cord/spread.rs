//! Figures with the spread of what they rest on.
//!
//! Each input that is not certain is set to the ends of its range, the cord
//! solved again from where it was, and the changes added as squares, upwards
//! and downwards apart. To that comes what the model itself is known to be
//! off by. Never a flat percentage of a figure.

use super::doubt::Doubt;
use super::figures::Figures;
use super::measure::{self, Sizes};
use super::model::{Shares, model_error};
use super::passes::warm;
use super::recipe::Recipe;
use super::solved::{SolveError, Solved};
use crate::material::{Bound, Standing};
use crate::mechanics::Progress;
use crate::quantity::Estimate;

/// The strands' pull against the figure given: our guess, a new disc grips
/// more than twice as hard as a worn one.
const PULL_FACTORS: [f64; 2] = [0.5, 2.0];
/// What the binding thread adds, mm either way of the middle. Common practice, no source.
const BINDING_SPREAD_MM: f64 = 0.2;

/// Numbers of a cord in a fixed order, so that changes can be added up.
fn numbers(sizes: &Sizes) -> Vec<f64> {
    let mut all = vec![
        sizes.on_disc,
        sizes.pressed_on_disc,
        sizes.rested,
        sizes.pressed_rested,
        sizes.width_rested,
        sizes.off_weight,
        sizes.worked,
        sizes.lengthening,
        sizes.bound_end,
        sizes.pitch,
        sizes.moves_per_cm,
        sizes.mass,
    ];
    all.extend(&sizes.take_up);
    all
}

/// Squares of the changes downwards and upwards.
struct Changes {
    middle: Vec<f64>,
    down: Vec<f64>,
    up: Vec<f64>,
}

impl Changes {
    fn of(sizes: &Sizes) -> Self {
        let middle = numbers(sizes);
        Self {
            down: vec![0.0; middle.len()],
            up: vec![0.0; middle.len()],
            middle,
        }
    }

    /// One input set to its ends: the outer changes from `base` either way count once.
    fn add(&mut self, base: &Sizes, ends: &[Sizes]) {
        let (base, ends): (_, Vec<_>) = (numbers(base), ends.iter().map(numbers).collect());
        for at in 0..self.middle.len() {
            let change = |end: &Vec<f64>| end[at] - base[at];
            let (mut down, mut up) = (0.0_f64, 0.0_f64);
            for change in ends.iter().map(change).filter(|c| c.is_finite()) {
                down = down.min(change);
                up = up.max(change);
            }
            self.down[at] += down * down;
            self.up[at] += up * up;
        }
    }

    fn add_both_ways(&mut self, at: usize, change: f64) {
        self.down[at] += change * change;
        self.up[at] += change * change;
    }

    /// Shares of the figure, downwards and upwards.
    fn add_shares(&mut self, at: usize, [down, up]: Shares) {
        let value = self.middle[at];
        if value.is_finite() {
            self.down[at] += (down * value).powi(2);
            self.up[at] += (up * value).powi(2);
        }
    }

    fn add_model(&mut self, recipe: &Recipe, sizes: &Sizes, doubt: Doubt) {
        let error = model_error(recipe, sizes);
        for at in [0, 1, 2, 3, 4] {
            self.add_shares(at, error.width);
            self.add_shares(at, [doubt.width; 2]);
        }
        // A shorter cord has more moves in a length.
        let [shorter, longer] = error.height;
        for (at, shares) in [(9, [shorter, longer]), (10, [longer, shorter])] {
            self.add_shares(at, shares);
            self.add_shares(at, [doubt.height; 2]);
        }
        for at in 11..self.middle.len() {
            self.add_shares(at, error.take_up);
            self.add_shares(at, [doubt.take_up; 2]);
        }
        // A bound end grows with the root of the strands' length in it.
        self.add_shares(8, error.take_up.map(|share| 0.5 * share));
        self.add_both_ways(8, BINDING_SPREAD_MM);
    }

    fn estimate(&self, at: usize) -> Estimate {
        let value = self.middle[at];
        if !value.is_finite() {
            return Estimate::exact(value);
        }
        Estimate {
            value,
            low: value - self.down[at].sqrt(),
            high: value + self.up[at].sqrt(),
        }
    }
}

/// The figures with their spread by solving again.
pub(super) fn figures(
    recipe: &Recipe,
    solved: &Solved,
    sizes: &Sizes,
    progress: &Progress,
) -> Result<Figures, SolveError> {
    let mut changes = Changes::of(sizes);
    changes.add_model(recipe, sizes, solved.doubt);
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
    changes.add_model(recipe, sizes, solved.doubt);
    gathered(recipe, sizes, &changes)
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
    let at = |at: usize| changes.estimate(at);
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
        thickness_on_disc: at(0),
        pressed_on_disc: at(1),
        thickness_rested: at(2),
        pressed_rested: at(3),
        width_rested: at(4),
        off_weight: at(5),
        worked: at(6),
        lengthening: at(7),
        bound_end: at(8),
        pitch: at(9),
        moves_per_cm: at(10),
        mass: at(11),
        take_up: (12..changes.middle.len()).map(at).collect(),
        flat: sizes.flat,
        hand: sizes.hand,
        standing: standings.min().unwrap_or(Standing::Guess),
        guesses,
    }
}
