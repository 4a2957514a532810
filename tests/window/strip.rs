//! What a maker does with the cord on the strip.

use std::time::Instant;

use eframe::egui::{Key, Modifiers, pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use super::{PATIENCE, Window, home};

/// What the reader hears of the cord.
fn cord(window: &Window) -> String {
    window.label("the cord, ")
}

fn await_rested(window: &mut Window) {
    let until = Instant::now() + PATIENCE;
    let is_there = |window: &Window| window.harness.state().solver().rested().form().is_some();
    while !is_there(window) {
        assert!(Instant::now() < until, "no rested cord");
        std::thread::sleep(std::time::Duration::from_millis(15));
        window.step(1);
    }
    window.step(2);
}

/// Steps on until this is so.
fn await_that(window: &mut Window, words: &str, is_so: impl Fn(&Window) -> bool) {
    let until = Instant::now() + PATIENCE;
    while !is_so(window) {
        assert!(Instant::now() < until, "{words}");
        std::thread::sleep(std::time::Duration::from_millis(15));
        window.step(1);
    }
}

#[test]
fn life_size_is_about_until_a_card_has_told_how_large_the_screen_is() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("life size");
    assert!(cord(&window).contains("about life size"), "a guess");
    assert!(window.shows("outline of a bank card"), "asked at once");
    for _ in 0..17 {
        window.press(Modifiers::SHIFT, Key::ArrowRight);
    }
    window.click("They are the same size");
    assert!(!window.shows("outline of a bank card"), "put away");
    let said = cord(&window);
    assert!(
        said.contains("life size") && !said.contains("about"),
        "{said}"
    );
    window.click("best size");
    window.click("life size");
    assert!(!window.shows("outline of a bank card"), "asked once only");
    window.click("How large is this screen?");
    assert!(
        window.shows("outline of a bank card, 494 pixels"),
        "as told"
    );
    drop(window);
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("life size");
    assert!(!cord(&window).contains("about"), "remembered");
}

#[test]
fn a_click_on_a_float_chooses_its_strand_on_the_disc_as_well() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    let rect = window.harness.get_by_label_contains("the cord, ").rect();
    let at = pos2(rect.center().x - 200.0, rect.center().y);
    let click = |window: &mut Window| {
        window.harness.drag_at(at);
        window.step(1);
        window.harness.drop_at(at);
        window.step(3);
    };
    click(&mut window);
    let said = cord(&window);
    let chosen = said.rsplit_once(", chosen ").expect("one is chosen").1;
    let on_disc = format!("strand {chosen}, ");
    let is_chosen = {
        let slots = window.harness.query_all_by_label_contains(&on_disc);
        let mut labels = slots.filter_map(|node| node.accesskit_node().label());
        labels.any(|it| it.contains("chosen"))
    };
    assert!(is_chosen, "{on_disc} on the disc");
    let tag = format!("on the cord: strand {chosen}, chosen");
    await_that(&mut window, "its letter on the cord", |it| it.shows(&tag));
    // A second click is not the second half of a double one.
    window.step(8);
    click(&mut window);
    assert!(!cord(&window).contains("chosen"), "let go again");
}

#[test]
fn the_rested_cord_lies_under_the_one_on_the_disc_once_it_is_solved() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("how the cord is shown");
    window.click("cord: both");
    assert!(cord(&window).contains("both"), "said");
    await_rested(&mut window);
    assert!(!window.shows("is being worked out"), "nothing is missing");
    let solver = window.harness.state().solver();
    let (cord, rested) = (solver.solved().cord(), solver.rested().form());
    let (cord, rested) = (cord.expect("a cord"), rested.expect("rested"));
    let share = rested.lift / cord.form.lift;
    assert!((0.9..0.99).contains(&share), "shorter: {share}");
}

#[test]
fn the_ground_is_chosen_by_its_name_and_remembered() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    assert!(window.shows("on the disc, on light linen"), "to begin with");
    window.click_like("how the cord is shown");
    window.click("brown skin");
    assert!(window.shows("on the disc, on brown skin"), "laid on");
    drop(window);
    let window = Window::open(home.path(), None);
    assert!(window.shows("on the disc, on brown skin"), "remembered");
}

#[test]
fn enter_goes_to_one_float_and_back() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    let before = cord(&window);
    window.harness.get_by_label_contains("the cord, ").focus();
    window.step(2);
    window.press(Modifiers::NONE, Key::Enter);
    let close = cord(&window);
    assert_ne!(close, before, "nearer");
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(cord(&window), before, "and back");
}

#[test]
fn a_loop_unfolds_over_the_sheets_and_esc_folds_it_up() {
    let home = home();
    for (width, height) in [(1440.0, 900.0), (1024.0, 700.0), (512.0, 350.0)] {
        let mut window = Window::sized(home.path(), None, width, height);
        await_rested(&mut window);
        window.click_like("how the cord is shown");
        window.click("also: a loop");
        window.press(Modifiers::NONE, Key::Escape);
        await_that(&mut window, "the loop", |it| it.shows("the cord as a loop"));
        let loop_at = window.harness.get_by_label_contains("the cord as a loop");
        let rect = loop_at.rect();
        let strip = window.harness.get_by_label_contains("the cord, ").rect();
        assert!(rect.height() > 60.0, "{rect:?} in {width} by {height}");
        assert!(
            rect.top() >= 0.0 && rect.bottom() <= strip.top(),
            "{rect:?}"
        );
        assert_eq!(rect.size().max(vec2(1.0, 1.0)).x, strip.width());
        window.press(Modifiers::NONE, Key::Escape);
        assert!(!window.shows("the cord as a loop"), "folded up");
    }
}

#[test]
fn what_a_loop_encloses_is_a_guess_until_it_is_typed() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    await_rested(&mut window);
    window.click_like("how the cord is shown");
    window.click("also: a loop");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(window.shows("guess: type yours"), "said to be one");
    let before = window.label("the cord as a loop");
    window.harness.get_by_label("inside across, mm").focus();
    window.step(2);
    window.press(Modifiers::COMMAND, Key::A);
    window
        .harness
        .get_by_label("inside across, mm")
        .type_text("70");
    window.step(1);
    window.press(Modifiers::NONE, Key::Enter);
    assert!(!window.shows("guess: type yours"), "it was typed");
    assert_ne!(window.label("the cord as a loop"), before, "and is longer");
}
