//! Structures in the window: found, judged, mended.

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::cord::{Firmness, Hand, Section};
use plaitwright::document::{OWN_STRUCTURES, keep_structure};
use plaitwright::structure::{Braid, Structure, shelf};

use super::{PATIENCE, Window, home};

impl Window {
    /// What has the keyboard.
    fn focused(&self) -> String {
        let node = self.harness.get_by(|node| node.is_focused());
        let label = node.accesskit_node().label();
        label.unwrap_or_default().split(',').take(2).collect()
    }

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
    window.await_words("Nothing on either shelf is called");
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

#[test]
fn a_card_tells_hand_firmness_repeat_and_pace_of_a_cord_that_is_not_chosen() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.type_into("Search the structures", "straight across 8");
    window.await_words(" per cm");
    window.await_words(" lay, ");
    let said = window.label("Round, straight across, 8 strands");
    assert!(!said.contains("chosen"), "{said}");
    let solver = window.harness.state().solver();
    let firmness = solver.firmness("Round, straight across 8");
    let (word, longer) = firmness.expect("it was pulled");
    let firm = format!("{} {longer:.1} %", word.word());
    let sample = solver.sample("Round, straight across 8");
    let cord = sample.and_then(|it| it.as_ref()).expect("a cord");
    let (hand, other) = match cord.figures.hand {
        Hand::S => ("S lay", "Z lay"),
        Hand::Z => ("Z lay", "S lay"),
        Hand::None => panic!("it has a lay"),
    };
    let all = [hand, &firm, " round", " mm", " per cm", " to remember"];
    for told in all {
        assert!(said.contains(told), "{told:?} in {said}");
    }
    window.click("hand: the other");
    window.await_words(&format!(
        "Round, straight across, mirrored, 8 strands, locks, {other}"
    ));
}

#[test]
fn moves_a_centimetre_follow_the_makers_own_fibre() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.type_into("Search the structures", "square side");
    window.await_words(" per cm");
    let before = window.label("Square, side by side, 8 strands");
    window.click("from my fibre shelf");
    window.type_into("Search the fibre shelf", "leather 1 mm");
    window.click_like("fibre: ");
    window.await_cord();
    window.await_words(" per cm");
    let after = window.label("Square, side by side, 8 strands");
    assert_ne!(before, after, "thinner strands, more moves");
}

#[test]
fn only_springy_cords_are_listed_when_that_is_asked_for() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("more");
    window.click("springy");
    window.await_no_words("Being solved, ");
    let key = |one: &Structure| format!("{} {}", one.name, one.strands());
    let eights: Vec<&Structure> = shelf().iter().filter(|one| one.strands() == 8).collect();
    let mut springy = 0;
    for one in eights {
        let firmness = window.harness.state().solver().firmness(&key(one));
        let (word, _) = firmness.expect("it was pulled");
        let is_listed = window.shows(&format!("{}, 8 strands", one.name));
        assert_eq!(is_listed, word == Firmness::Springy, "{}", one.name);
        springy += usize::from(is_listed);
    }
    assert!(springy > 0, "some are");
}

#[test]
fn the_makers_own_structures_stand_in_a_group_of_their_own() {
    let home = home();
    let own = Structure {
        name: "Harbour rope".to_owned(),
        trade_name: String::new(),
        moves: spiral().moves.turned(2),
        ..spiral().clone()
    };
    keep_structure(&home.path().join(OWN_STRUCTURES), &own).expect("it is sound");
    let mut window = Window::open(home.path(), None);
    window.await_words("My own, 1");
    window.await_words("Harbour rope, 8 strands, on my shelf, locks");
    window.click_like("Harbour rope, 8 strands, on my shelf");
    assert_eq!(window.harness.state().design().sections[0].moves, own.moves);
    window.click("structure: make");
    window.reach("Slot on");
    let on = window.harness.state().design().sections[0].moves.clone();
    assert_eq!(on, own.moves.turned(2), "a slot further on");
    window.reach("structure: pick");
    window.await_words("My own, 2");
    assert!(
        window.shows("8 strands, chosen, in this design"),
        "it travels"
    );
}

#[test]
fn arrows_walk_all_cards_enter_lays_one_on_and_esc_takes_it_back() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.await_no_words("Being solved, ");
    let before = window.harness.state().design().clone();
    window.click("Search the structures");
    window.press(Modifiers::NONE, Key::ArrowDown);
    let mut walked = vec![window.focused()];
    loop {
        window.press(Modifiers::NONE, Key::ArrowDown);
        window.step(20);
        let now = window.focused();
        if walked.last() == Some(&now) {
            break;
        }
        assert!(!walked.contains(&now), "{now} twice");
        walked.push(now);
    }
    let eights = shelf().iter().filter(|one| one.strands() == 8).count();
    assert_eq!(walked.len(), eights, "{walked:?}");
    let rect = window.harness.get_by(|node| node.is_focused()).rect();
    assert!(
        rect.min.y > 0.0 && rect.max.y < 900.0,
        "the last is in sight"
    );
    window.press(Modifiers::NONE, Key::Enter);
    assert_ne!(*window.harness.state().design(), before, "laid on");
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(*window.harness.state().design(), before, "taken back");
    window.press(Modifiers::NONE, Key::Home);
    assert_eq!(window.focused(), walked[0], "and on from there");
}

#[test]
fn a_core_is_added_and_seen_on_disc_and_strip() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    assert!(!window.shows("core in the middle"));
    window.click("structure: make");
    window.reach("Add a core");
    assert!(window.shows("core in the middle, "), "on the disc");
    window.await_cord();
    window.await_words("inside the cord: core, ");
    window.press(Modifiers::COMMAND, Key::Z);
    window.await_cord();
    assert!(!window.shows("core in the middle"), "on the disc no more");
    assert!(!window.shows("inside the cord: core, "), "nor in the cord");
}

fn spiral() -> &'static Structure {
    let is_it = |one: &&Structure| one.name == "Round spiral" && one.strands() == 8;
    shelf().iter().find(is_it).expect("on the shelf")
}

#[test]
fn another_structure_is_laid_on_at_a_click() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click_like("Square, pairs in turn");
    window.await_cord();
    assert!(
        window.shows("Square, pairs in turn, 8 strands, chosen"),
        "it is chosen"
    );
    let design = window.harness.state().design();
    assert_eq!(design.sections[0].structure, "Square, pairs in turn");
}

#[test]
fn a_list_that_is_no_braid_is_said_and_the_design_is_kept() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.pull("slot 1, strand ", "slot 4, free");
    window.await_words("The design is kept as it is");
    assert!(
        window.shows("the cord, 8 strands"),
        "the last good cord stays"
    );
    assert!(
        window.shows("No figures: there is no such cord"),
        "not those of another cord"
    );
    window.press(Modifiers::COMMAND, Key::Z);
    window.await_cord();
    assert!(
        !window.shows("The design is kept as it is"),
        "the notice goes by itself"
    );
}
