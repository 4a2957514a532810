//! Painting on the unrolled surface, and taking what can be braided.

use eframe::egui::{Event, Key, Modifiers, PointerButton, Pos2, vec2};
use egui_kittest::kittest::Queryable;

use super::{Window, home};

/// A place in the painted surface, as shares of its width and height.
fn on_surface(window: &Window, share: [f32; 2]) -> Pos2 {
    let rect = window
        .harness
        .get_by_label_contains("the unrolled surface, stitch")
        .rect();
    rect.min + vec2(share[0] * rect.width(), share[1] * rect.height())
}

fn opened(home: &std::path::Path) -> Window {
    let mut window = Window::open(home, None);
    window.step_until_solved(|_| {});
    window.click("show: paint");
    window.await_words("the unrolled surface, stitch");
    window
}

fn press_at(window: &mut Window, at: Pos2) {
    window.harness.event(Event::PointerMoved(at));
    window.step(1);
    for pressed in [true, false] {
        window.harness.event(Event::PointerButton {
            pos: at,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        });
        window.step(1);
    }
}

#[test]
fn rings_are_painted_by_the_mouse_taken_and_put_back() {
    let home = home();
    let mut window = opened(home.path());
    let before = window.harness.state().design().clone();
    assert!(window.shows("What can be braided"));
    window.click("rings");
    window.await_words("stitches as you painted them");
    window.await_words("answer 1:");
    // The nearest so far may be the cord as it is: then there is nothing to take yet.
    window.until("another arrangement is laid on", |window| {
        if window.harness.query_by_label("Take it").is_some() {
            window.click("Take it");
        }
        *window.harness.state().design() != before
    });
    window.press(Modifiers::NONE, Key::Escape);
    window.step(3);
    assert_eq!(*window.harness.state().design(), before, "and put back");
    assert!(window.shows("What you painted"), "the page stays");
    window.press(Modifiers::NONE, Key::Escape);
    window.step(3);
    assert!(!window.shows("What you painted"), "until it is left");
}

#[test]
fn a_stitch_is_painted_by_a_click_and_its_stroke_taken_back() {
    let home = home();
    let mut window = opened(home.path());
    assert!(window.shows("Paint something"), "nothing is painted yet");
    let at = on_surface(&window, [0.4, 0.5]);
    press_at(&mut window, at);
    window.await_words("answer 1:");
    assert!(!window.shows("Paint something"));
    window.click("take the last stroke back");
    window.step(3);
    assert!(window.shows("Paint something"), "open again");
}

#[test]
fn the_surface_is_walked_and_painted_by_the_keyboard() {
    let home = home();
    let mut window = opened(home.path());
    window
        .harness
        .get_by_label_contains("the unrolled surface, stitch")
        .focus();
    window.step(2);
    assert!(
        window.shows(", open"),
        "the stitch under the keyboard is open"
    );
    let first = window.label("the unrolled surface, stitch");
    window.press(Modifiers::NONE, Key::ArrowUp);
    window.step(2);
    assert!(!window.shows(&first), "the next one");
    window.press(Modifiers::NONE, Key::Num1);
    window.press(Modifiers::NONE, Key::Space);
    window.await_words("the stitch as you painted it");
}
