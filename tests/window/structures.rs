//! Structures in the window: found, judged, mended.

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::cord::Section;
use plaitwright::structure::{Braid, Structure, shelf};

use super::{PATIENCE, Window, home};

impl Window {
    /// Letters of the strands that are marked where labels begin so.
    fn marked(&self, beginnings: &[&str]) -> BTreeSet<String> {
        let all = self.harness.query_all_by_label_contains(", marked ");
        let labels = all.filter_map(|node| node.accesskit_node().label().or(node.value()));
        labels
            .filter(|label| beginnings.iter().any(|it| label.starts_with(it)))
            .filter_map(|label| {
                let (_, rest) = label.split_once("strand ")?;
                Some(rest.split(',').next()?.to_owned())
            })
            .collect()
    }
}

#[test]
fn an_unsound_list_made_by_hand_says_its_kind_and_marks_its_strands() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("tool: Record");
    window.pull("slot 1, strand ", "slot 4, free");
    window.await_words("Not round yet");
    window.pull("slot 4, strand ", "slot 1, free");
    window.await_words("Slides apart. ");
    window.click("Keep these moves");
    window.await_words("Slides apart. ");
    window.await_words("on the cord: strand ");
    let disc = window.marked(&["slot "]);
    let strip = window.marked(&["on the cord: ", "inside the cord: "]);
    assert_eq!(disc.len(), 8, "nothing holds any of them: {disc:?}");
    assert_eq!(disc, strip, "marked on the disc and on the strip alike");
    window.press(Modifiers::COMMAND, Key::Z);
    window.await_words("The strands lock");
    assert!(window.marked(&[""]).is_empty(), "a sound cord has no marks");
}

#[test]
fn a_repair_mends_a_list_at_fault_and_undo_takes_it_back() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    let is_braid = |window: &Window| {
        let design = window.harness.state().design();
        Braid::new(&design.sections[0].moves).is_ok()
    };
    // Slot 1 is empty then, where the second step wants to lift a strand.
    window.pull("slot 1, strand ", "slot 2, free");
    window.await_words("take it back");
    assert!(!is_braid(&window));
    assert!(window.shows("slot 1, free, marked"), "the place is marked");
    window.click("show step 2");
    assert!(window.shows("slot 1, free, marked"), "at its step as well");
    let at_fault = window.harness.state().design().clone();
    window.click_like(" instead of ");
    window.await_words("The strands lock");
    assert!(is_braid(&window), "mended");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.harness.state().design(), at_fault, "taken back");
}

#[test]
fn structures_are_found_by_their_plain_and_by_their_trade_name() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.type_into("Search the structures", "kongo");
    assert!(window.shows("Round spiral, 8 strands"), "by its trade name");
    assert!(!window.shows("Square, pairs in turn"), "and nothing else");
    window.type_into("Search the structures", " gumi nowhere");
    window.click("list everything");
    assert!(window.shows("Round spiral, 32 strands"), "all are listed");
    window.type_into("Search the structures", "square side");
    assert!(window.shows("Square, side by side, 8 strands"), "plainly");
    assert!(!window.shows("Round spiral, "), "and nothing else");
}

#[test]
fn structures_stand_under_the_section_that_was_solved() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    let until = Instant::now() + PATIENCE;
    while window.shows("Being solved, ") {
        assert!(Instant::now() < until, "the samples were never solved");
        std::thread::sleep(Duration::from_millis(15));
        window.step(1);
    }
    let mut listed = 0;
    for section in Section::ALL {
        let solver = window.harness.state().solver();
        let has_it = |one: &&Structure| {
            let sample = solver.sample(&format!("{} {}", one.name, one.strands()));
            let cord = sample.and_then(|it| it.as_ref());
            one.strands() == 8 && cord.is_some_and(|it| it.figures.section == section)
        };
        let count = shelf().iter().filter(has_it).count();
        let mut word = section.word().to_owned();
        word[..1].make_ascii_uppercase();
        let heading = format!("{word}, {count}");
        assert_eq!(window.shows(&heading), count > 0, "{heading}");
        listed += count;
    }
    assert!(listed > 8, "{listed} of eight strands");
}
