//! Braid: stepping, the place that is kept, the disc dressed, the screen filled.

use std::path::Path;

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::bench::Course;

use super::{Window, home};

/// The window on its Braid stage, nothing begun.
pub(super) fn at_the_stage(home: &Path) -> Window {
    let mut window = Window::open(home, None);
    window.await_cord();
    window.press(Modifiers::COMMAND, Key::Num4);
    window
}

/// A cord begun and the disc dressed, before the first move.
pub(super) fn at_the_disc(home: &Path) -> Window {
    let mut window = at_the_stage(home);
    window.click("Begin this cord");
    dress(&mut window);
    window
}

fn dress(window: &mut Window) {
    for _ in 0..8 {
        window.press(Modifiers::NONE, Key::Space);
    }
    assert!(window.shows("Yours should look like this."));
    window.press(Modifiers::NONE, Key::Space);
}

pub(super) fn course(window: &Window) -> &Course {
    let work = window.harness.state().at_disc().work();
    work.expect("a cord is at the disc").course()
}

pub(super) fn space(window: &mut Window, times: usize) {
    for _ in 0..times {
        window.press(Modifiers::NONE, Key::Space);
    }
}

#[test]
fn the_disc_is_dressed_slot_by_slot_and_compared_with_its_picture() {
    let home = home();
    let mut window = at_the_stage(home.path());
    assert!(window.shows("None yet."), "nothing is under way");
    window.click("Begin this cord");
    assert!(window.shows("Dress the disc"));
    assert!(window.shows("into slot 1."));
    assert!(window.shows("0 of 8 strands lie on the disc."));
    space(&mut window, 3);
    assert!(window.shows("3 of 8 strands lie on the disc."));
    window.press(Modifiers::NONE, Key::Backspace);
    assert!(
        window.shows("2 of 8 strands lie on the disc."),
        "one too many"
    );
    space(&mut window, 6);
    assert!(window.shows("Yours should look like this."));
    assert!(window.shows(" in 1"), "colours are named with their slots");
    window.click("It does, begin");
    assert!(window.shows("Next, "));
    window.press(Modifiers::NONE, Key::Backspace);
    assert!(
        window.shows("Yours should look like this."),
        "looked at again"
    );
    window.press(Modifiers::NONE, Key::Backspace);
    assert!(window.shows("7 of 8 strands lie on the disc."));
}

#[test]
fn every_press_that_goes_on_makes_one_move_and_its_opposite_takes_it_back() {
    let home = home();
    let mut window = at_the_disc(home.path());
    let first = window.label("Lift strand ");
    for (nth, key) in [Key::Space, Key::Enter, Key::PageDown]
        .into_iter()
        .enumerate()
    {
        window.press(Modifiers::NONE, key);
        assert_eq!(course(&window).done, nth as u64 + 1, "{key:?}");
    }
    window.click("Done, go on");
    assert_eq!(course(&window).done, 4);
    let disc = window
        .harness
        .get_by_label_contains("disc, 32 slots")
        .rect();
    window.harness.hover_at(disc.center());
    window.harness.drag_at(disc.center());
    window.harness.drop_at(disc.center());
    window.step(3);
    assert_eq!(course(&window).done, 5, "a click on the disc");
    for (nth, key) in [Key::Backspace, Key::PageUp].into_iter().enumerate() {
        window.press(Modifiers::NONE, key);
        assert_eq!(course(&window).done, 4 - nth as u64, "{key:?}");
    }
    window.click("Back one");
    assert_eq!(course(&window).done, 2);
    window.press(Modifiers::NONE, Key::Backspace);
    window.press(Modifiers::NONE, Key::Backspace);
    assert_eq!(window.label("Lift strand "), first, "where it began");
}

#[test]
fn the_next_move_is_told_in_figures_in_a_sentence_and_to_a_reader() {
    let home = home();
    let mut window = at_the_disc(home.path());
    assert!(window.shows("17 to 31"));
    assert!(window.shows("out of slot 17, over everything, down into slot 31."));
    assert!(window.shows("Then 1 → 15, right hand."));
    assert!(window.shows("Next, left hand"));
    window.press(Modifiers::NONE, Key::Space);
    assert!(window.shows("Three above, one below: the first of the pair is done."));
    assert!(window.shows("so that 8 and 9 come to the top"));
    let heard = window.label("move 2 of about ");
    assert!(
        heard.contains("right hand, from 1 to 15, strand B, "),
        "{heard}"
    );
    let top = |window: &Window| window.label("disc, 32 slots");
    assert!(top(&window).ends_with("top is 32 and 1"));
    window.press(Modifiers::NONE, Key::Space);
    window.step(4);
    assert!(top(&window).ends_with("top is 8 and 9"), "{}", top(&window));
    window.click("How I work");
    window.click("the disc: stays, my hand goes round");
    window.click("to the next move");
    window.step(4);
    assert!(top(&window).ends_with("top is 32 and 1"), "it stays");
}

#[test]
fn a_cord_stands_where_it_stood_when_the_program_was_shut() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 13);
    let told = window.label("Lift strand ");
    // Dropped without a word, as by a crash.
    drop(window);
    let mut window = Window::open(home.path(), None);
    window.press(Modifiers::COMMAND, Key::Num1);
    window.press(Modifiers::COMMAND, Key::Num4);
    if window.harness.state().at_disc().work().is_none() {
        window.click("Go on");
    }
    assert_eq!(course(&window).done, 13);
    assert_eq!(window.label("Lift strand "), told);
}

#[test]
fn several_pieces_of_one_design_are_under_way_each_with_its_own_place() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 5);
    window.click("Cords under way");
    assert!(window.shows("after 5 moves"));
    window.click("Begin this cord");
    dress(&mut window);
    space(&mut window, 2);
    window.click("Cords under way");
    assert!(window.shows("after 2 moves") && window.shows("after 5 moves"));
    assert!(window.shows("no. 2"), "they are told apart");
    let row = |window: &Window, words: &str| {
        let row = window.harness.get_by_label_contains(words).rect();
        let buttons = window.harness.get_all_by_label("Go on");
        let near = |y: f32| (y - row.center().y).abs();
        let buttons: Vec<_> = buttons.collect();
        let nearest = buttons
            .iter()
            .min_by(|a, b| near(a.rect().center().y).total_cmp(&near(b.rect().center().y)));
        nearest.unwrap().click();
    };
    row(&window, "after 5 moves");
    window.step(3);
    assert_eq!(course(&window).done, 5, "each goes on from its own place");
}

#[test]
fn the_work_keeps_the_design_it_was_begun_with_and_offers_to_follow() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 3);
    let begun = window.harness.state().design().clone();
    window.press(Modifiers::COMMAND, Key::Num1);
    window.click_like("strand row: ");
    window.click("colour rust");
    window.press(Modifiers::COMMAND, Key::Num4);
    let kept = |window: &Window| {
        let work = window.harness.state().at_disc().work().unwrap();
        (work.design().clone(), work.course().done)
    };
    assert_eq!(kept(&window), (begun, 3));
    assert!(window.shows("keeps what it was begun with"));
    window.await_cord();
    window.click("Follow the design");
    let changed = window.harness.state().design().clone();
    assert_eq!(kept(&window), (changed, 3));
    assert!(!window.shows("keeps what it was begun with"));
    window.press(Modifiers::COMMAND, Key::Num1);
    window.pull("slot 1, strand ", "slot 2, free");
    window.press(Modifiers::COMMAND, Key::Num4);
    assert!(window.shows("would not go on from what lies on the disc"));
    assert!(
        !window.shows("Follow the design"),
        "other moves cannot be followed"
    );
    assert_eq!(kept(&window).1, 3);
}

#[test]
fn what_cannot_be_written_has_not_happened_and_is_said_at_once() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 2);
    let told = window.label("Lift strand ");
    let folder = home.path().join("pieces");
    let aside = home.path().join("aside");
    std::fs::rename(&folder, &aside).unwrap();
    window.press(Modifiers::NONE, Key::Space);
    assert!(window.shows("The place is not kept: "));
    assert!(window.shows("after 2 moves"));
    assert_eq!(course(&window).done, 2);
    assert_eq!(
        window.label("Lift strand "),
        told,
        "the picture stands still"
    );
    std::fs::rename(&aside, &folder).unwrap();
    window.press(Modifiers::NONE, Key::Space);
    assert_eq!(course(&window).done, 3);
    assert!(!window.shows("The place is not kept"), "it is again");
}

#[test]
fn the_stage_fills_the_window_and_leaves_it_again() {
    let home = home();
    let mut window = at_the_disc(home.path());
    let disc = |window: &Window| {
        let disc = window.harness.get_by_label_contains("disc, 32 slots");
        disc.rect().height()
    };
    let before = disc(&window);
    window.press(Modifiers::NONE, Key::F11);
    assert!(disc(&window) > before + 50.0, "the disc grows");
    assert!(!window.shows("the cord, 8 strands"), "no strip");
    space(&mut window, 1);
    assert_eq!(course(&window).done, 1, "steps go on");
    window.press(Modifiers::NONE, Key::W);
    assert!(!window.shows("Next, "), "something else stands there");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(window.shows("Next, "), "the panel is shut first");
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(disc(&window), before);
    assert!(window.shows("the cord, 8 strands"));
    assert!(window.shows("made so far "), "the strip says how far");
}

#[test]
fn a_key_of_her_own_goes_on_once_it_is_taught_and_pairs_are_stepped_together() {
    let home = home();
    let mut window = at_the_disc(home.path());
    window.press(Modifiers::NONE, Key::B);
    assert_eq!(course(&window).done, 0);
    window.click("How I work");
    window.click("Teach a key");
    window.press(Modifiers::NONE, Key::Space);
    assert!(
        window.shows("Press the pedal"),
        "Space has its work already"
    );
    window.press(Modifiers::NONE, Key::B);
    assert!(window.shows("My own key B goes on as well."));
    window.click("a press is: the pair");
    window.click("to the next move");
    window.press(Modifiers::NONE, Key::B);
    assert_eq!(course(&window).done, 2, "a pair");
    assert!(window.shows("then right hand") || window.shows("then left hand"));
    window.press(Modifiers::NONE, Key::Backspace);
    assert_eq!(course(&window).done, 0);
}

#[test]
fn a_key_held_down_is_one_press() {
    let home = home();
    let mut window = at_the_disc(home.path());
    for repeat in [false, true, true, true] {
        window.harness.event(eframe::egui::Event::Key {
            key: Key::Space,
            physical_key: None,
            pressed: true,
            repeat,
            modifiers: Modifiers::NONE,
        });
        window.step(2);
    }
    assert_eq!(course(&window).done, 1);
}

#[test]
fn a_cord_that_another_window_holds_is_not_gone_on_with_here() {
    let home = home();
    let first = at_the_disc(home.path());
    let mut second = Window::open(home.path(), None);
    second.press(Modifiers::COMMAND, Key::Num4);
    assert!(second.harness.state().at_disc().work().is_none());
    let go_on = second.harness.get_by_label("Go on");
    assert!(go_on.accesskit_node().is_disabled(), "it is held");
    drop(first);
    second.press(Modifiers::COMMAND, Key::Num1);
    second.press(Modifiers::COMMAND, Key::Num4);
    assert_eq!(course(&second).done, 0, "let go, it is taken up");
}

#[test]
fn a_damaged_file_stands_at_its_last_good_step_and_says_so() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 9);
    drop(window);
    let pieces = std::fs::read_dir(home.path().join("pieces")).unwrap();
    let is_place = |path: &std::path::PathBuf| path.extension().is_some_and(|it| it == "place");
    let file = pieces.map(|it| it.unwrap().path()).find(is_place).unwrap();
    let text = std::fs::read_to_string(&file).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let third_last = lines.len() - 3;
    lines[third_last] = lines[third_last].replace("Done", "Dome");
    std::fs::write(&file, lines.join("\n") + "\n").unwrap();
    let mut window = Window::open(home.path(), None);
    window.press(Modifiers::COMMAND, Key::Num4);
    assert!(window.shows("The file of this place was damaged."));
    assert_eq!(course(&window).done, 6, "the step before the damage");
    space(&mut window, 1);
    assert_eq!(course(&window).done, 7);
    assert!(!window.shows("was damaged"), "mended, the damaged one kept");
}
