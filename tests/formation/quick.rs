//! The quick model's answer to the same question.

use super::gauge::{Section, outline};
use super::vector::Vector;
use plaitwright::cord::{Cord, Form, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::material::{self, Colour, Known, Standing, Strand};
use plaitwright::structure::MoveList;

/// Pull of every strand, N; its size does not matter to hard strands.
const PULL: f64 = 0.3;
const GRAVITY: f64 = 9.806_65;

/// Measures of the solved cord, strand diameters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Quick {
    pub(crate) height: f64,
    pub(crate) take_up: f64,
    pub(crate) turn: f64,
    pub(crate) section: Section,
    /// The effective share of weight it was solved at.
    pub(crate) share: f64,
}

/// Hard limp strands one millimetre thick, with this friction and this weight
/// over the pull of all strands.
pub(crate) fn recipe(moves: &MoveList, friction: f64, f: f64) -> Recipe {
    let sure = |value: f64| Known::new(value, value, value, Standing::Guess);
    let mut fibre = material::on_shelf("leather lace 1 mm, round")
        .unwrap()
        .clone();
    fibre.packing.in_braid = fibre.packing.free;
    fibre.packing.closest = fibre.packing.free;
    fibre.friction = sure(friction);
    (fibre.shortens, fibre.lengthens) = (sure(0.0), sure(0.0));
    fibre.stiffness = 1;
    let strands = vec![Strand::single(&fibre.name, Colour([0; 3])); moves.start.len()];
    let grams = f * moves.start.len() as f64 * PULL / GRAVITY * 1e3;
    let slots = Tension::Slots(2.0 * PULL);
    Recipe::new(moves, &strands, &[fibre], slots, grams, Twist::Free).unwrap()
}

/// The quick model's cord.
pub(crate) fn solved(moves: &MoveList, friction: f64, f: f64) -> Result<Quick, String> {
    let recipe = recipe(moves, friction, f);
    let cord = solve(&recipe, None, Quality::Fine, &Progress::new()).map_err(|e| e.to_string())?;
    let (low, high) = (0.0, cord.form.lift);
    Ok(Quick {
        height: cord.form.lift / cord.rounds_per_repeat,
        take_up: take_up(&cord),
        turn: (cord.form.turn / cord.rounds_per_repeat).to_degrees(),
        section: outline(&balls(&cord.form), low, high),
        share: recipe.effective_share(),
    })
}

fn take_up(cord: &Cord) -> f64 {
    let all = &cord.figures.take_up;
    all.iter().map(|t| t.value).sum::<f64>() / all.len() as f64
}

/// Balls along the strands of a repeat, of the one below and of the one above.
fn balls(form: &Form) -> Vec<Vector> {
    let shifted = |p: &Vector, cells: f64| {
        let (s, c) = (form.turn * cells).sin_cos();
        let z = p[2] + form.lift * cells;
        [c * p[0] - s * p[1], s * p[0] + c * p[1], z]
    };
    let cells = [-2.0, -1.0, 0.0, 1.0, 2.0];
    let all = cells
        .iter()
        .flat_map(|&k| form.points.iter().map(move |p| shifted(p, k)));
    all.collect()
}
