//! Mixes that are long or uneven: an answer or a reason, in bounded work.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

#[path = "mixes/extremes.rs"]
mod extremes;

use plaitwright::cord::{
    Cord, Progress, Quality, Recipe, RecipeError, SolveError, Tension, Twist, solve,
};
use plaitwright::material::{self, Colour, Fibre, Strand};
use plaitwright::structure;

/// Satin cord so many times as thick, as dense.
fn satin(name: &str, times: f64) -> Fibre {
    let mut fibre = material::on_shelf("satin cord 2 mm, polyester")
        .unwrap()
        .clone();
    fibre.name = name.to_owned();
    for (figure, times) in [
        (&mut fibre.diameter, times),
        (&mut fibre.tex, times * times),
    ] {
        for end in [&mut figure.value, &mut figure.low, &mut figure.high] {
            *end *= times;
        }
    }
    fibre
}

/// A list of the shelf with strands so many times as thick as satin cord, each of a
/// fibre of its own, pulled with so many N for 2 mm of thickness.
fn question(name: &str, times: &[f64], pull: f64, grams: f64) -> Result<Recipe, RecipeError> {
    let of_fibre = |times: &f64| format!("fibre {times}");
    let fibres: Vec<Fibre> = times.iter().map(|t| satin(&of_fibre(t), *t)).collect();
    let strands: Vec<Strand> = times
        .iter()
        .map(|t| Strand::single(&of_fibre(t), Colour([0; 3])))
        .collect();
    let mut lists = structure::shelf().iter();
    let list = lists.find(|s| s.name == name && s.strands() == times.len());
    let moves = &list.unwrap().moves;
    let pull = Tension::Slots(pull);
    Recipe::new(moves, &strands, &fibres, pull, grams, Twist::Free)
}

fn spiral(times: &[f64], grams: f64) -> Recipe {
    question("Round spiral", times, 0.6, grams).unwrap()
}

fn fine(recipe: &Recipe) -> Result<Cord, SolveError> {
    solve(recipe, None, Quality::Fine, &Progress::new())
}

fn is_said_to_be_coarse(cord: &Cord) -> bool {
    let mut remarks = cord.remarks.iter();
    remarks.any(|words| words.starts_with("Solved coarsely"))
}

#[test]
fn thirty_two_strands_all_different_are_solved_coarsely_and_it_is_said() {
    let times: Vec<f64> = (0..32).map(|k| 0.75 + 0.5 * f64::from(k) / 32.0).collect();
    let cord = fine(&spiral(&times, 256.0)).unwrap();
    assert!(cord.report.crossings_kept && is_said_to_be_coarse(&cord));
    let lies_between = |width: f64| (14.0..20.0).contains(&width);
    let thickness = cord.figures.thickness_on_disc;
    assert!(lies_between(thickness.value), "{thickness:?}");
    let thick: Vec<f64> = cord
        .form
        .radius
        .chunks(cord.form.nodes)
        .map(|r| r[0])
        .collect();
    assert!(thick[31] > 1.4 * thick[0], "{} {}", thick[0], thick[31]);
}

#[test]
fn eight_strands_all_different_are_solved_finely() {
    let times: Vec<f64> = (0..8).map(|k| 0.75 + 0.5 * f64::from(k) / 8.0).collect();
    let cord = fine(&spiral(&times, 70.0)).unwrap();
    assert!(cord.report.crossings_kept && !is_said_to_be_coarse(&cord));
}
