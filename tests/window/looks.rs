//! Looks in the window: counted, tried, taken back, kept, filtered.

use std::collections::BTreeSet;

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::document::Design;
use plaitwright::pattern::{Alike, Group, Worn, count_beside};
use plaitwright::structure::Braid;

use super::{Window, home};

/// How many looks the colours of a design give.
fn counted(design: &Design) -> String {
    let worn = Worn::of(&design.strands);
    let braid = Braid::new(&design.sections[0].moves).expect("a braid");
    let kept = worn.kept();
    let labels: Vec<_> = worn.makes.iter().zip(&kept).collect();
    let group = Group::of_braid(&braid, Alike::UpsideDown).expect("small");
    let group = group.keeping(&labels);
    let count = count_beside(&group, &worn.choice(), &kept).expect("kept apart");
    count.to_string()
}

impl Window {
    fn worn_now(&self) -> Design {
        self.harness.state().design().clone()
    }

    /// The window with the page of looks open.
    fn with_looks(home: &std::path::Path) -> Self {
        // High enough for the looks to stand in sight under the strands.
        let mut window = Self::sized(home, None, 1440.0, 1300.0);
        window.await_cord();
        let all = format!("all {}", counted(&window.worn_now()));
        window.await_words(&all);
        window.click(&all);
        window.await_words(" that look different");
        window.await_words("look 1 of ");
        window
    }

    /// What the looks in sight are called.
    fn looks(&self) -> Vec<String> {
        let all = self.harness.query_all_by_label_contains("look ");
        let labels = all.filter_map(|node| node.accesskit_node().label());
        labels.filter(|label| label.contains(" of ")).collect()
    }
}

#[test]
fn as_many_looks_are_shown_as_are_counted_and_walking_meets_each_once() {
    let home = home();
    let mut window = Window::with_looks(home.path());
    let before = window.worn_now();
    let count = counted(&before);
    assert!(window.shows(&format!("{count} that look different")));
    let seen = window.looks();
    assert_eq!(seen.iter().collect::<BTreeSet<_>>().len(), seen.len());
    window.click_like("look 1 of ");
    let mut worn = vec![window.worn_now().strands];
    let all: usize = count.parse().expect("a number");
    for place in 2..=all {
        window.press(Modifiers::NONE, Key::ArrowRight);
        let name = format!("look {place} of {count}: ");
        assert!(window.shows(&name), "{name} is brought into sight");
        let strands = window.worn_now().strands;
        assert!(!worn.contains(&strands), "{name} was there before");
        worn.push(strands);
    }
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.worn_now(), before, "all of it was one try");
    assert!(window.shows(" that look different"), "and the page stays");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(
        !window.shows(" that look different"),
        "the second Esc leaves"
    );
}

#[test]
fn a_click_tries_esc_takes_back_and_enter_keeps() {
    let home = home();
    let mut window = Window::with_looks(home.path());
    let before = window.worn_now();
    window.click_like("look 2 of ");
    let second = window.worn_now();
    assert_ne!(second, before, "tried at once");
    assert!(window.shows("chosen"), "and it says so");
    window.click_like("look 3 of ");
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.worn_now(), before);
    window.click_like("look 2 of ");
    window.press(Modifiers::NONE, Key::Enter);
    window.click_like("look 3 of ");
    assert_ne!(window.worn_now(), second);
    window.click("Take it back");
    assert_eq!(window.worn_now(), second, "what was kept stays");
    window.click_like("look 3 of ");
    window.click("Keep it");
    let third = window.worn_now();
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.worn_now(), second, "one entry each");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.worn_now(), before);
    let makes = |design: &Design| Worn::of(&design.strands).makes;
    assert_eq!(makes(&third), makes(&before), "fibres stay where they are");
}

#[test]
fn filters_leave_what_is_wished_and_say_of_how_many() {
    let home = home();
    let mut window = Window::with_looks(home.path());
    let count = counted(&window.worn_now());
    let kept = window.worn_now().strands[1].clone();
    window.click("strand B stays");
    window.await_words(&format!(" as wished, of {count} that look different"));
    window.await_words("look 1 of ");
    for look in window.looks().iter().take(3) {
        window.click(look);
        assert_eq!(window.worn_now().strands[1], kept, "{look}");
    }
    window.press(Modifiers::NONE, Key::Escape);
    window.click("strand B stays");
    window.await_words(&format!("{count} that look different"));
    window.click("back to the disc");
    assert!(window.shows(&format!("all {count}")), "as before");
}

#[test]
fn another_number_of_a_colour_is_counted_at_once() {
    let home = home();
    let mut window = Window::with_looks(home.path());
    let before = window.label("look 1 of ");
    window.click_like(": one more");
    let until = std::time::Instant::now() + super::PATIENCE;
    while window.looks().contains(&before) {
        assert!(std::time::Instant::now() < until, "nothing changed");
        std::thread::sleep(std::time::Duration::from_millis(15));
        window.step(1);
    }
    window.await_words("look 1 of ");
    window.click_like("look 1 of ");
    let count = counted(&window.worn_now());
    assert!(window.shows(&format!("{count} that look different")));
}
