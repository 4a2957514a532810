//! Beside makers' experience: rested thickness of the eight-strand round
//! spiral. Common practice, no source; nothing is fitted to it, every miss is
//! printed with its size. What is asserted is that solid and room agree.
//!
//! `cargo test makers -- --nocapture` prints the table.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::f64::consts::PI;

use plaitwright::cord::{Cord, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::material::{self, Colour, Strand};
use plaitwright::structure;

/// Fibre on the shelf, counterweight in g, and the range makers quote, mm.
const QUOTED: [(&str, f64, [f64; 2]); 7] = [
    ("satin cord 1 mm, polyester", 70.0, [3.0, 3.5]),
    ("satin cord 1.5 mm, polyester", 70.0, [4.5, 5.5]),
    ("satin cord 2 mm, polyester", 70.0, [6.0, 7.0]),
    ("leather lace 1 mm, round", 70.0, [3.5, 4.0]),
    ("braided knotting cord 0.8 mm, nylon", 70.0, [2.5, 3.0]),
    ("pearl cotton no. 5", 30.0, [1.8, 2.2]),
    ("knitting yarn light (weight 3), wool", 70.0, [4.5, 6.0]),
];

/// Closest packing of parallel round fibres, `pi / sqrt(12)` (Thue 1910).
const CLOSEST: f64 = 0.9069;

fn spiral_of(fibre: &str, counterweight: f64) -> (Recipe, Cord) {
    let spiral = structure::shelf()
        .iter()
        .find(|s| s.strands() == 8 && s.name.to_lowercase().contains("spiral"))
        .unwrap();
    let fibre = material::on_shelf(fibre).unwrap_or_else(|| panic!("{fibre} is not on the shelf"));
    let strands = vec![Strand::single(&fibre.name, Colour([0; 3])); 8];
    let recipe = Recipe::new(
        &spiral.moves,
        &strands,
        std::slice::from_ref(fibre),
        Tension::Slots(0.6),
        counterweight,
        Twist::Free,
    )
    .unwrap();
    let cord = solve(&recipe, None, Quality::Full, &Progress::new()).unwrap();
    (recipe, cord)
}

/// Share of the pressed round that is fibre, on the disc.
fn packing(recipe: &Recipe, cord: &Cord) -> f64 {
    let shortened = 1.0 + cord.figures.off_weight.value / 100.0;
    let solid: f64 = recipe
        .bodies()
        .iter()
        .zip(&cord.figures.take_up)
        .map(|(body, take_up)| body.solid_area * take_up.value * shortened)
        .sum();
    solid / (PI / 4.0 * cord.figures.pressed_on_disc.value.powi(2))
}

#[test]
fn cords_of_the_shelf_hold_no_more_fibre_than_there_is_room_for() {
    println!(
        "8-strand round spiral, rested, mm            computed (spread)        makers     miss"
    );
    for (fibre, counterweight, [low, high]) in QUOTED {
        let (recipe, cord) = spiral_of(fibre, counterweight);
        let rested = cord.figures.thickness_rested;
        let miss = if rested.value < low {
            format!("{:+.2}", rested.value - low)
        } else if rested.value > high {
            format!("{:+.2}", rested.value - high)
        } else {
            "inside".to_owned()
        };
        println!(
            "{fibre:<42} {:>5.2} ({:.2} to {:.2})   {low:.1} to {high:.1}   {miss}",
            rested.value, rested.low, rested.high
        );
        let body = recipe.bodies()[0];
        let packed = packing(&recipe, &cord);
        let most = body
            .packing_closest
            .max(CLOSEST * body.packing_free)
            .min(1.1);
        assert!(packed < most, "{fibre}: packed {packed} of at most {most}");
        assert!(
            packed > 0.6 * body.packing_free,
            "{fibre}: packed {packed}, looser than the strand itself {}",
            body.packing_free
        );
    }
}
