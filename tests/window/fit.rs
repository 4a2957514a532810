//! Fit: a bracelet from nothing, a cap chosen, ends of all kinds, and the way back.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use super::{Window, home};

/// The window on its Fit stage with the cord there.
fn at_fit(home: &std::path::Path) -> Window {
    let mut window = Window::sized(home, None, 1440.0, 1500.0);
    window.await_cord();
    window.press(Modifiers::COMMAND, Key::Num2);
    window.await_words("Cord to braid, rested");
    window
}

#[test]
fn a_bracelet_is_planned_from_wrist_and_ease_with_its_sum_written_out() {
    let home = home();
    let mut window = at_fit(home.path());
    window.click("kind of piece: bracelet");
    window.enter("Wrist, cm", "16");
    window.enter("Ease, cm", "1,3");
    assert!(window.shows("the ring from its side, 17.3 cm round inside"));
    window.click("how?");
    for step in [
        "measured round",
        "ease",
        "bend",
        "π × thickness",
        "bayonet clasp, glued in",
    ] {
        assert!(window.shows(step), "{step} is a step of the sum");
    }
    window.press(Modifiers::COMMAND, Key::Num3);
    window.await_words("left over at");
    window.press(Modifiers::COMMAND, Key::Num2);
    for _ in 0..3 {
        window.press(Modifiers::COMMAND, Key::Z);
    }
    assert!(!window.shows("the ring from its side"), "all is undone");
}

#[test]
fn a_cap_is_chosen_and_what_it_costs_and_what_to_order_is_told() {
    let home = home();
    let mut window = at_fit(home.path());
    let other = window.label("cap 7.0 mm, gap ");
    assert!(other.contains(" there · "), "stock and price: {other}");
    window.click(&other);
    assert!(window.shows("in a cap 7.0 mm inside"));
    window.click_like("Ends: both: cap");
    window.enter("depth of the cap, mm", "900000000000");
    assert!(
        !window.shows("900000000000 mm deep"),
        "the old depth is kept"
    );
    window.enter("depth of the cap, mm", "10");
    assert!(window.shows("10.0 mm deep") || window.shows("7.0 mm inside, 10.0 mm deep"));
}

#[test]
fn every_way_to_finish_an_end_is_drawn_and_has_its_measure() {
    let home = home();
    let mut window = at_fit(home.path());
    window.click_like("Ends: both: cap");
    for (word, title, field) in [
        (
            "flat cap",
            "The bound end in its flat cap",
            "first end: width inside, mm",
        ),
        (
            "crimp",
            "The end in its crimp",
            "first end: width of its jaws, mm",
        ),
        ("knot", "The knot", "first end: cord in the knot, ×"),
        (
            "tassel",
            "The tassel",
            "first end: length of the tassel, mm",
        ),
        ("loop", "The loop", "first end: opening, laid flat, mm"),
        ("button", "The button", "first end: across the button, mm"),
    ] {
        let chip = window.harness.get_all_by_label(word).next();
        chip.expect("a word for it").click();
        window.step(3);
        assert!(window.shows(title), "{word} is drawn");
        window.harness.get_by_label(field);
    }
    window.click("end that is drawn: last end");
    assert!(window.shows("The bound end in its cap"));
    window.click("the last like the first");
    assert!(window.shows("both: button"));
}

#[test]
fn closure_pendant_wearer_and_sizes_are_told_in_words() {
    let home = home();
    let mut window = at_fit(home.path());
    window.click_like("Closure: ");
    window.click("toggle, glued in");
    assert!(window.shows("Closure: toggle, glued in adds 28.0 mm, caps included"));
    window.click_like("Worn by: ");
    window.click("a child, 3 to 14");
    assert!(window.shows("Worn by: a child, 3 to 14"));
    assert!(window.shows("EN 14682"), "the standard is named");
    window.click_like("How many: ");
    window.click("One more size");
    assert!(window.shows("How many: one, one more size"));
    window.enter("size 1: longer by, cm", "1e9");
    assert!(
        window.shows("How many: one, one more size"),
        "nonsense changes nothing"
    );
}
