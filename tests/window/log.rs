//! The log of a cord and its pace.

use std::path::Path;

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use super::braid::{at_the_disc, at_the_stage, course, space};
use super::{Window, home};

/// What the log says, with a cord of three sittings at the disc.
#[test]
fn the_log_tells_the_sittings_and_offers_the_pace() {
    let home = home();
    let mut window = at_the_disc(home.path());
    window.press(Modifiers::NONE, Key::L);
    assert!(window.shows("Nothing yet. From the first move on"));
    assert!(window.shows("Yours alone: "));
    window.press(Modifiers::NONE, Key::L);
    space(&mut window, 3);
    window.press(Modifiers::NONE, Key::L);
    assert!(window.shows("One sitting, under a minute in all"));
    assert!(window.shows("3 moves made, no mistake found."));
    assert!(window.shows("is drawn from the second on."));
    window.press(Modifiers::NONE, Key::Space);
    assert_eq!(course(&window).done, 3, "steps wait while the log is read");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(window.shows("Done, go on"), "back at the next move");
}

/// The journal of a cord is written as if it was braided in three sittings.
#[test]
fn the_pace_of_the_log_is_walked_by_keys_and_taken_into_the_workshop() {
    let home = home();
    drop(at_the_disc(home.path()));
    three_sittings(home.path());
    let mut window = at_the_stage(home.path());
    if window.harness.state().at_disc().work().is_none() {
        window.click("Go on");
    }
    window.press(Modifiers::NONE, Key::L);
    assert!(window.shows("Three sittings, "));
    assert!(window.shows("120 moves made"));
    assert!(window.shows("Your pace of the last three sittings is 12 moves a minute"));
    let plot = "moves a minute from sitting to sitting";
    let value = |window: &Window| {
        let node = window.harness.get_by_label(plot);
        node.value().expect("the plot says where it is")
    };
    assert!(
        value(&window).ends_with("40 moves, 15 a minute"),
        "{}",
        value(&window)
    );
    window.harness.get_by_label(plot).focus();
    window.step(2);
    window.press(Modifiers::NONE, Key::ArrowLeft);
    window.step(2);
    assert!(
        value(&window).ends_with("40 moves, 12 a minute"),
        "{}",
        value(&window)
    );
    window.click("Take it into my workshop");
    window.step(2);
    assert!(window.shows("Your workshop goes by this pace."));
    window.press(Modifiers::COMMAND, Key::Z);
    window.step(2);
    assert!(window.shows("Take it into my workshop"), "taken back");
}

/// Forty moves with 6, then 5, then 4 seconds for each, days apart.
fn three_sittings(home: &Path) {
    use plaitwright::bench::{Entry, Stamped};
    use plaitwright::document::{Journal, PIECES, under_way};
    let found = under_way(&home.join(PIECES), None).expect("the folder can be read");
    let mut journal = Journal::open(&found[0].path).expect("nobody holds it");
    let mut at = 1_700_000_000_000;
    for (sitting, seconds) in [6, 5, 4].into_iter().enumerate() {
        at += 86_400_000;
        for done in 1..=40 {
            at += 1000 * seconds;
            let done = 40 * sitting as u64 + done;
            let entry = Entry::Done(done);
            let written = journal.write(&Stamped { at, entry });
            written.expect("there is room");
        }
    }
}
