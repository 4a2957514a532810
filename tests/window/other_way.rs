//! The other way round in the window: asked, tried, taken back, kept.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::document::Design;

use super::{Window, home};

impl Window {
    /// Fit, with a thickness asked for and all that was found.
    fn asked(home: &std::path::Path, wanted: &str) -> Self {
        // High enough for the answers to stand in sight.
        let mut window = Self::sized(home, None, 1440.0, 1500.0);
        window.await_cord();
        window.click("Fit");
        window.type_into("wanted thickness, mm", wanted);
        window.press(Modifiers::NONE, Key::Enter);
        window.await_words("answer 1: ");
        window.await_no_words("stop looking");
        window
    }

    fn is_now(&self) -> Design {
        self.harness.state().design().clone()
    }

    /// The thickness that the first answer tells, mm.
    fn told(&self) -> f64 {
        let first = self
            .harness
            .query_all_by_label_contains("answer 1: ")
            .next();
        let label = first.and_then(|node| node.accesskit_node().label());
        let label = label.expect("there is an answer");
        let figure = label
            .split("; ")
            .find_map(|part| part.split(" mm").next()?.parse().ok());
        figure.unwrap_or_else(|| panic!("no thickness in {label:?}"))
    }
}

#[test]
fn an_answer_is_tried_as_one_change_and_esc_takes_it_back() {
    let home = home();
    let mut window = Window::asked(home.path(), "6");
    let before = window.is_now();
    let told = window.told();
    assert!((told - 6.0).abs() < 0.5, "{told} mm for 6");
    window.click_like("answer 1: ");
    let tried = window.is_now();
    assert_ne!(tried.strands, before.strands, "tried at once");
    assert!(window.shows(", tried on"), "and it says so");
    window.await_cord();
    let cord = window.harness.state().solver().solved().cord().cloned();
    let found = cord.expect("it is a cord").figures.thickness_rested.value;
    assert!((found - told).abs() < 0.3, "{found} mm, told {told}");
    assert!(
        window.shows("answer 1: "),
        "the answers stay to choose from"
    );
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.is_now(), before);
    assert!(!window.shows(", tried on"));
}

#[test]
fn another_answer_takes_the_place_of_the_one_tried_and_one_undo_takes_all_back() {
    let home = home();
    let mut window = Window::asked(home.path(), "6");
    let before = window.is_now();
    window.click_like("answer 1: ");
    let first = window.is_now();
    window.click_like("answer 2: ");
    let second = window.is_now();
    assert!(second != first && second != before);
    window.click("Keep it");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.is_now(), before, "one entry of undo");
}

#[test]
fn what_may_not_change_is_no_answer_and_out_of_reach_is_said() {
    let home = home();
    let mut window = Window::asked(home.path(), "30");
    for word in ["size of the fibre", "ends in a strand", "counterweight"] {
        window.click(word);
    }
    window.await_words("Nothing is left free to change");
    window.click("ends in a strand");
    window.await_words("the nearest is");
    window.await_no_words("stop looking");
    assert!(window.shows("What may change makes no cord of 30.0 mm"));
}

#[test]
fn all_strands_are_one_size_thicker_at_a_click_and_back_at_another() {
    let home = home();
    let mut window = Window::sized(home.path(), None, 1440.0, 1500.0);
    window.await_cord();
    window.click("Fit");
    let before = window.is_now();
    window.click("one size thicker");
    let thicker = window.is_now();
    let fibres = |design: &Design| -> Vec<String> {
        let parts = design.strands.iter().flat_map(|it| &it.parts);
        parts.map(|it| it.fibre.clone()).collect()
    };
    assert!(fibres(&thicker).contains(&"satin cord 2.5 mm, polyester".to_owned()));
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.is_now(), before);
}
