//! A slow model of the braiding itself, to check the quick one by.
//!
//! Strands are chains of nodes, the disc is a body that the weight draws
//! along, one strand at a time is carried over, and touching strands stick and
//! slip. Of the resting shapes that the quick model knows it makes the one that
//! hands would. `PLAIT_STUDY=all cargo test --test formation -- --nocapture`
//! prints the table of a longer study, some ten minutes.
#![expect(clippy::unwrap_used, reason = "a test may panic")]
#![expect(clippy::print_stdout, reason = "the study prints its table")]

#[path = "formation/braiding.rs"]
mod braiding;
#[path = "formation/chains.rs"]
mod chains;
#[path = "formation/contact.rs"]
mod contact;
#[path = "formation/disc.rs"]
mod disc;
#[path = "formation/gauge.rs"]
mod gauge;
#[path = "formation/post.rs"]
mod post;
#[path = "formation/quick.rs"]
mod quick;
#[path = "formation/study.rs"]
mod study;
#[path = "formation/vector.rs"]
mod vector;

use disc::Freedom;
use plaitwright::structure::{self, MoveList};

fn moves(name: &str, strands: usize) -> MoveList {
    structure::shelf()
        .iter()
        .find(|s| s.name == name && s.strands() == strands)
        .unwrap()
        .moves
        .clone()
}

/// Euler's rope round a post: the tensions are as exp(mu theta).
#[test]
fn a_strand_half_round_a_post_holds_as_its_friction_says() {
    for friction in [0.0, 0.3, 0.5] {
        let ratio = post::tension_ratio(friction);
        let euler = (friction * std::f64::consts::PI).exp();
        assert!((ratio / euler - 1.0).abs() < 0.025, "{ratio} for {euler}");
    }
}

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * b.abs()
}

#[test]
fn the_quick_model_has_the_shape_that_hands_make_of_eight_strands() {
    let list = moves("Round spiral", 8);
    for (friction, f) in [(0.3, 0.4), (0.0, 0.14)] {
        let formed = study::formed(&list, friction, f, Freedom::Spins, 6);
        let quick = quick::solved(&list, friction, f).unwrap();
        let both = format!("{formed:?} and {quick:?}");
        assert!(near(quick.height, formed.height, 0.04), "{both}");
        assert!(near(quick.take_up, formed.take_up, 0.04), "{both}");
        assert!(
            near(quick.section.width, formed.section.width, 0.02),
            "{both}"
        );
    }
}

#[test]
fn friction_keeps_a_cord_open_that_is_braided_under_little_weight() {
    let list = moves("Round spiral", 8);
    let open = study::formed(&list, 0.3, 0.14, Freedom::SpinsAndTilts, 9);
    assert!(
        open.section.bore > 0.8 && open.section.width > 5.0,
        "{open:?}"
    );
    let closed = quick::solved(&list, 0.3, 0.14).unwrap();
    assert!(open.height < 0.75 * closed.height, "{open:?} {closed:?}");
}

/// `PLAIT_STUDY=all` studies all cases, `PLAIT_STUDY=Flat` those of that name.
#[test]
fn the_longer_study_prints_its_table() {
    let Ok(wish) = std::env::var("PLAIT_STUDY") else {
        return;
    };
    for (name, strands, rounds, frictions, weights) in study::CASES {
        let label = format!("{name} {strands}");
        if wish != "all" && !label.contains(&wish) {
            continue;
        }
        let list = moves(name, strands);
        for &friction in frictions {
            for &f in weights {
                study::line(&label, &list, friction, f, Freedom::Spins, rounds);
            }
        }
    }
}
