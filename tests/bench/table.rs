//! The engine beside published values, as a table.

use super::checks::check::{Check, Goal};
use super::checks::{knots, packings, ropes, weaves};
use super::hard_limit::{EARLIER, at_the_hard_limit};
use super::start::{round_spiral, tubes, world_lines};

/// Starts of a bundle.
const STARTS: usize = 600;

/// Prints every check.
pub(super) fn print() {
    println!("\n### Beside published values\n");
    println!("| figure | source | published | found | worst miss | goal | |");
    println!("|---|---|---:|---:|---:|---:|---|");
    let rows = |checks: &[Check]| checks.iter().for_each(|check| println!("{}", check.row()));
    for knot in [knots::trefoil, knots::figure_eight, knots::hopf_link] {
        rows(&knot());
    }
    rows(&ropes::zero_twist());
    rows(&ropes::touching());
    rows(&weaves::jammed());
    rows(&weaves::by_clasps());
    rows(&weaves::free());
    rows(&hard_spiral());
    let every: Vec<usize> = (2..=32).collect();
    rows(&packings::of(&every, STARTS));
}

fn hard_spiral() -> Vec<Check> {
    let (tubes, loose) = tubes(&world_lines(&round_spiral(8)), 16);
    let found = at_the_hard_limit(&tubes, &loose);
    let names = ["circumscribed width", "rise of a round", "take-up"];
    let check = |i: usize| Check {
        name: format!("hard spiral of eight, {}", names[i]),
        source: "an earlier solver of this kind; a second, different one in `tests/reference.rs`",
        published: EARLIER[i],
        found: vec![found[i]],
        goal: Goal::Share(2e-3),
    };
    (0..3).map(check).collect()
}
