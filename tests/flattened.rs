//! Flat sections beside round ones: what cords of few strands and of ribbon come to.
//! No real cord was measured.
//!
//! `cargo test --test flattened -- --nocapture` prints the table.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use plaitwright::cord::{Cord, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::material::{Colour, Construction, Fibre, Strand, on_shelf};
use plaitwright::structure::{Structure, shelf};

/// Lists of few strands.
const LISTS: [(&str, usize); 7] = [
    ("Plait", 3),
    ("Round, alternate crossing", 4),
    ("Flat, one over one", 4),
    ("Flat, one over one", 5),
    ("Flat, outer strand to the middle", 5),
    ("Round spiral", 6),
    ("Hollow, one over one", 6),
];

const FIBRES: [&str; 4] = [
    "satin cord 2 mm, polyester",
    "embroidery floss, all six strands",
    "pearl cotton no. 5",
    "woven satin ribbon 3 mm",
];

/// What hangs on the cord, as a share of the strands' pull: a hand-held disc.
const HANGS: f64 = 0.15;

fn list(name: &str, strands: usize) -> &'static Structure {
    let is_it = |s: &&Structure| s.name == name && s.strands() == strands;
    shelf().iter().find(is_it).unwrap()
}

/// The same fibre as one that keeps its section: a construction that is not pressed flat.
fn rounded(fibre: &Fibre) -> Fibre {
    Fibre {
        construction: Construction::SolidCord,
        flat: None,
        ..fibre.clone()
    }
}

/// The cord, and the diameter of its strands, mm.
fn solved(list: &Structure, fibre: &Fibre) -> (Cord, f64) {
    let strands = vec![Strand::single(&fibre.name, Colour([0; 3])); list.strands()];
    let recipe = |grams: f64| {
        let fibres = std::slice::from_ref(fibre);
        let slots = Tension::Slots(0.6);
        Recipe::new(&list.moves, &strands, fibres, slots, grams, Twist::Free).unwrap()
    };
    let one_gram = recipe(1.0);
    let recipe = recipe(HANGS / one_gram.weight_share());
    let cord = solve(&recipe, None, Quality::Fine, &Progress::new()).unwrap();
    (cord, recipe.bodies()[0].diameter)
}

/// Thickness, width, pressed thickness in strand diameters, and take-up, on the disc.
fn figures((cord, diameter): &(Cord, f64)) -> [f64; 4] {
    let f = &cord.figures;
    let wide = f.width_rested.value / f.thickness_rested.value;
    let thick = f.thickness_on_disc.value / diameter;
    let pressed = f.pressed_on_disc.value / diameter;
    let take_up = f.take_up[0].value * (1.0 + f.off_weight.value / 100.0);
    [thick, thick * wide, pressed, take_up]
}

#[test]
fn flat_strands_make_no_cord_that_takes_more_room() {
    println!("| cord | fibre | thickness | width | pressed | take-up | thinner |");
    println!("|---|---|---|---|---|---|---:|");
    for (name, strands) in LISTS {
        for fibre in FIBRES.map(|name| on_shelf(name).unwrap()) {
            let list = list(name, strands);
            let (round, flat) = (solved(list, &rounded(fibre)), solved(list, fibre));
            let ([t, w, p, u], [thick, wide, pressed, take_up]) = (figures(&round), figures(&flat));
            let kept = flat
                .0
                .remarks
                .iter()
                .any(|r| r.starts_with("Sections kept"));
            let thinner = if kept {
                "kept round".to_owned()
            } else {
                format!("{:+.0} %", 100.0 * (thick / t - 1.0))
            };
            println!(
                "| {name}, {strands} | {} | {t:.2}, {thick:.2} | {w:.2}, {wide:.2} | {p:.2}, {pressed:.2} | {u:.2}, {take_up:.2} | {thinner} |",
                fibre.name
            );
            let report = flat.0.report;
            assert!(
                report.crossings_kept && report.residual < 1e-2,
                "{report:?}"
            );
            assert!(
                pressed < 1.02 * p,
                "{name}, {}: {pressed} of {p}",
                fibre.name
            );
            assert_eq!(kept, flat.0.form.wide.is_empty(), "{name}, {}", fibre.name);
        }
    }
}
