//! Times of the other way round: first answers, and the whole search.

use std::time::Instant;

use plaitwright::cord::{Progress, Quality, Tension, Twist, solve};
use plaitwright::material::{Colour, Strand, on_shelf};
use plaitwright::plan::wish::{Freedom, Makings, Question, Wish, ask};

use super::clock::{Times, print_head, print_row};
use super::start::round_spiral;

/// Wishes for each cord.
const WISHED: [f64; 3] = [4.0, 6.0, 9.0];

/// A round spiral of satin, and of pearl cotton by turns if it is mixed.
fn makings(strands: usize, of: &[(&str, u16)]) -> Makings {
    let strand = |k: usize| {
        let (fibre, ends) = of[k % of.len()];
        let mut strand = Strand::single(fibre, Colour([40, 60, 110]));
        strand.parts[0].ends = ends;
        strand
    };
    let fibres = of
        .iter()
        .map(|it| on_shelf(it.0).expect("on the shelf").clone());
    Makings {
        structure: "Round spiral".to_owned(),
        moves: round_spiral(strands),
        strands: (0..strands).map(strand).collect(),
        cores: Vec::new(),
        fibres: fibres.collect(),
        tension: Tension::Slots(0.6),
        counterweight: 70.0,
        twist: Twist::Free,
    }
}

/// First answers and all of it, everything left free, over three wishes each.
pub(super) fn searches() {
    print_head("The other way round: everything may change, the whole shelf");
    let (satin, pearl) = ("satin cord 2 mm, polyester", "pearl cotton no. 5");
    for (what, makings) in [
        ("8 strands of satin", makings(8, &[(satin, 1)])),
        ("16 strands of satin", makings(16, &[(satin, 1)])),
        (
            "8 strands of satin and pearl",
            makings(8, &[(satin, 1), (pearl, 3)]),
        ),
    ] {
        search(what, &makings);
    }
}

fn search(what: &str, makings: &Makings) {
    let recipe = makings.recipe().expect("it can be braided");
    let cord = solve(&recipe, None, Quality::Full, &Progress::new()).expect("it is a cord");
    let mut first = Vec::new();
    let mut wished = WISHED.iter().cycle();
    let mut whole = || {
        let mm = *wished.next().expect("it goes on");
        let question = Question {
            now: makings,
            cord: &cord,
            wish: Wish::thickness(mm, 0.05).expect("it can be wished for"),
            free: Freedom::ALL.into(),
            most: 6,
        };
        let begun = Instant::now();
        let mut told = None;
        let outcome = ask(&question, &Progress::new(), |_| {
            told = told.or(Some(begun.elapsed()));
        });
        first.extend(told.map(|it| it.as_secs_f64() * 1e3));
        outcome
    };
    let times = Times::without_a_first(WISHED.len(), &mut whole);
    print_row(
        &format!("{what}, first answers"),
        &Times::from(first),
        Some(200.0),
    );
    print_row(&format!("{what}, all"), &times, Some(2000.0));
}
