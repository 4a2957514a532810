//! Cut: the list, the shelf, prices and the way back.

use eframe::egui::{Key, Modifiers};

use super::{Window, home};

/// The window on its Cut stage with the list there.
fn at_the_table(home: &std::path::Path) -> Window {
    // High enough that nothing lies below the edge.
    let mut window = Window::sized(home, None, 1440.0, 2200.0);
    window.await_cord();
    window.press(Modifiers::COMMAND, Key::Num3);
    window.await_words("lengths for 8 strands");
    window
}

#[test]
fn the_list_says_how_many_how_long_of_what_and_for_which_slots() {
    let home = home();
    let mut window = at_the_table(home.path());
    let cut = window.label("cut 14 lengths of ");
    for words in [
        " m, sand, pearl cotton",
        "seven ends",
        "for ",
        "slots ",
        "left over at its end",
    ] {
        assert!(cut.contains(words), "{cut}: {words}");
    }
    window.click_like("how ");
    assert!(window.shows("out to the slot"), "the steps are written out");
    assert!(window.shows("so that 97.5 of 100 are long enough"));
    window.click_like("left over at its end");
    window.click("lengths: folded");
    let alone = "have no neighbour of their kind to be folded with";
    assert!(window.shows(alone), "no two alike lie side by side");
    window.press(Modifiers::COMMAND, Key::Z);
    assert!(!window.shows(alone), "undone");
}

#[test]
fn a_price_typed_on_the_shelf_changes_what_to_ask_and_is_kept_and_taken_back() {
    let home = home();
    let mut window = at_the_table(home.path());
    assert!(window.shows("Prices and stock are invented"));
    let before = window.label("Work, ");
    window.click("my prices");
    assert!(window.shows("An example, invented:"));
    window.enter("an hour of work, €", "30");
    window.click("back to the list");
    let after = window.label("Work, ");
    assert!(after.contains("at 30.00") && after != before, "{after}");
    let file = home.path().join("workshop.ron");
    let kept = std::fs::read_to_string(&file).unwrap();
    assert!(kept.contains("hour: Some((\"30\"))"), "{kept}");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.label("Work, "), before, "undone");
    window.press(Modifiers::COMMAND, Key::Y);
    assert_eq!(window.label("Work, "), after, "and brought again");
}

#[test]
fn an_empty_shelf_says_what_to_buy_and_stock_written_down_is_counted() {
    let home = home();
    let mut window = at_the_table(home.path());
    window.click_like("my shelf");
    window.click("Begin empty");
    assert!(window.shows("Nothing is written down yet."));
    window.click_like("write down white, pearl cotton");
    let there = window.label("white, pearl cotton no. 5: on the shelf");
    window.enter(&there, "4o");
    assert!(!window.shows("4o m there"), "nonsense is not taken");
    window.enter(&there, "40");
    window.click("back to the list");
    let need = window.label("to buy: white, pearl cotton");
    assert!(need.ends_with(" m, 40.0 m there"), "{need}");
    let other = window.label("to buy: sand, pearl cotton");
    assert!(other.contains(" m, buy "), "{other}");
}

#[test]
fn without_a_cord_the_stage_says_what_is_missing() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.press(Modifiers::COMMAND, Key::Num3);
    if !window.shows("lengths for") {
        assert!(window.shows("The list comes with the cord"));
    }
    window.await_words("lengths for 8 strands");
}

#[test]
fn the_work_sheet_and_the_lists_are_written_by_path() {
    let home = home();
    let mut window = at_the_table(home.path());
    window.click("cut list, CSV");
    let out = home.path().join("harbour");
    window.type_into("Path of the sheet", out.to_str().unwrap());
    window.click("Save here");
    window.await_words("harbour.csv is written.");
    let list = std::fs::read_to_string(out.with_extension("csv")).unwrap();
    assert!(
        list.starts_with("size,strands,fibre") && list.contains("pearl cotton"),
        "{list}"
    );
    window.click("PDF");
    window.click("paper: Letter");
    window.click("Save here");
    window.await_words("harbour.pdf is written.");
    let bytes = std::fs::read(out.with_extension("pdf")).unwrap();
    assert!(bytes.starts_with(b"%PDF-") && bytes.len() > 10_000);
}
