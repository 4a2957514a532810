//! Mixes that are long or uneven: an answer or a reason, in bounded work.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use plaitwright::cord::{Cord, Progress, Quality, Recipe, SolveError, Tension, Twist, solve};
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

/// The round spiral of strands so many times as thick as satin cord, each of a fibre
/// of its own.
fn spiral(times: &[f64], grams: f64) -> Recipe {
    let name = |strand: usize| format!("fibre {}", times[strand]);
    let fibres: Vec<Fibre> = (0..times.len())
        .map(|strand| satin(&name(strand), times[strand]))
        .collect();
    let strands: Vec<Strand> = (0..times.len())
        .map(|strand| Strand::single(&name(strand), Colour([0; 3])))
        .collect();
    let list = structure::shelf()
        .iter()
        .find(|s| s.name == "Round spiral" && s.strands() == times.len())
        .unwrap();
    Recipe::new(
        &list.moves,
        &strands,
        &fibres,
        Tension::Slots(0.6),
        grams,
        Twist::Free,
    )
    .unwrap()
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

/// Fifty times as thick is no cord that anybody makes, but may be asked.
#[test]
fn strands_fifty_times_as_thick_as_others_end_with_a_cord_or_a_reason() {
    for thick in [0b0101_0101_u32, 0b0000_0001, 0b0110_1100] {
        let times: Vec<f64> = (0..8)
            .map(|strand| [0.1, 5.0][(thick >> strand & 1) as usize])
            .collect();
        match fine(&spiral(&times, 80.0)) {
            Ok(cord) => assert!(cord.report.crossings_kept),
            Err(error) => assert!(error.to_string().contains("strands"), "{error}"),
        }
    }
}
