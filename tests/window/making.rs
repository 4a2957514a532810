//! Structures made step by step, written as text, changed, kept and found.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::document::{Design, strand_name};
use plaitwright::structure::{MoveList, Place, Plate};

use super::{Window, home};

impl Window {
    /// Clicks what may have to be scrolled to first.
    pub(super) fn reach(&mut self, words: &str) {
        // Twice: a cord that comes meanwhile moves what stands below it.
        for _ in 0..2 {
            self.harness.get_by_label(words).scroll_to_me();
            self.step(30);
        }
        self.click(words);
    }

    fn moves(&self) -> MoveList {
        self.design().sections[0].moves.clone()
    }

    fn design(&self) -> Design {
        self.harness.state().design().clone()
    }

    /// Drags what the first words name to what the others name.
    fn drag(&mut self, from: &str, to: &str) {
        let place = |words: &str| {
            let found = self.harness.query_all_by_label_contains(words).next();
            let found = found.unwrap_or_else(|| panic!("{words:?} is not shown"));
            found.rect().center()
        };
        let (from, to) = (place(from), place(to));
        self.harness.hover_at(from);
        self.step(1);
        self.harness.drag_at(from);
        self.step(1);
        self.harness.hover_at(from.lerp(to, 0.5));
        self.step(1);
        self.harness.hover_at(to);
        self.step(1);
        self.harness.drop_at(to);
        self.step(3);
    }

    /// A row of the list, as it is read out.
    fn row(&self, step: usize) -> String {
        self.label(&format!("step {step}: "))
    }

    /// The text sheet with this in it.
    fn write_text(&mut self, text: &str) {
        self.reach("moves as text");
        self.press(Modifiers::COMMAND, Key::A);
        self.harness.get_by_label("moves as text").type_text(text);
        self.step(3);
    }
}

/// The window with the steps of its first example, the round spiral of eight.
fn making(home: &std::path::Path) -> Window {
    let mut window = Window::open(home, None);
    window.click("structure: make");
    window
}

#[test]
fn a_list_recorded_by_dragging_equals_its_text() {
    let home = home();
    let mut window = making(home.path());
    let start = window.moves().start;
    let text = window.moves().to_string();
    assert!(text.contains("17 > 31\n1 > 15\n"), "the spiral: {text}");
    window.click("tool: Record");
    window.click("begin anew");
    assert!(window.moves().steps.is_empty());
    window.drag("slot 17, strand ", "slot 31, free");
    window.drag("slot 1, strand ", "slot 15, free");
    window.drag("slot 25, strand ", "slot 7, free");
    window.drag("slot 9, strand ", "slot 23, free");
    window.click("done");
    let recorded = window.moves();
    assert_eq!(
        (recorded.start.clone(), recorded.to_string()),
        (start, text)
    );
    assert_eq!(window.row(1), "step 1: 17 to 31");
}

#[test]
fn a_drag_goes_in_where_the_cursor_stands_and_undo_takes_both_back() {
    let home = home();
    let mut window = making(home.path());
    let before = window.moves();
    let third = before.steps[2].clone();
    window.click("drag to record");
    window.click("step 3: 25 to 7");
    assert!(window.shows("slot 31, strand "), "two moves are made");
    window.drag("slot 25, strand ", "slot 27, free");
    assert_eq!(window.row(3), "step 3: 25 to 27");
    window.drag("slot 27, strand ", "slot 25, free");
    let rows = [window.row(4), window.row(5)].map(|row| row.split('.').next().map(str::to_owned));
    let said = ["step 4: 27 to 25", "step 5: 25 to 7"].map(|row| Some(row.to_owned()));
    assert_eq!(rows, said, "one behind the other");
    assert_eq!(window.moves().steps[4], third, "what was there comes after");
    window.press(Modifiers::COMMAND, Key::Z);
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.moves(), before);
    assert!(window.shows("slot 25, strand "), "the strand is back");
    window.drag("slot 25, strand ", "slot 26, free");
    assert_eq!(window.row(3), "step 3: 25 to 26", "at the same place");
}

#[test]
fn a_block_of_two_drags_comes_again_at_the_next_quarter_and_says_whom_it_carries() {
    let home = home();
    let mut window = making(home.path());
    let text = window.moves().to_string();
    window.click("drag to record");
    window.click("begin anew");
    window.drag("slot 17, strand ", "slot 31, free");
    window.drag("slot 1, strand ", "slot 15, free");
    let design = window.design();
    let strand = |slot| design.strand_at(Place::slot(slot)).map(strand_name);
    let (one, other) = (strand(9).expect("one"), strand(25).expect("one"));
    let (one, other) = (one.clone().min(other.clone()), other.max(one));
    assert!(window.shows(&format!("That carries {one} and {other}")));
    window.click("The same at the next quarter");
    assert_eq!(window.moves().to_string(), text, "the whole spiral");
    window.click("slots further on");
    window.press(Modifiers::COMMAND, Key::A);
    let field = window.harness.get_by_label("slots further on");
    field.type_text("5");
    window.press(Modifiers::NONE, Key::Enter);
    assert!(
        window.shows("places are empty then"),
        "five slots do not fit"
    );
}

#[test]
fn what_was_recorded_is_played_back_and_gone_through_step_by_step() {
    let home = home();
    let mut window = making(home.path());
    window.click("drag to record");
    window.click("go to the end");
    assert!(window.shows("slot 23, strand "), "all four are made");
    window.drag("slot 31, strand ", "slot 30, free");
    assert_eq!(window.row(5), "step 5: 31 to 30", "at the end");
    for _ in 0..5 {
        window.click("One move back");
    }
    assert!(window.shows("slot 17, strand "), "as at the start");
    window.click("One move on");
    assert!(window.shows("slot 31, strand ") && window.shows("slot 17, free"));
    window.drag("slot 31, strand ", "slot 30, free");
    assert_eq!(window.row(2), "step 2: 31 to 30", "where it was played to");
}

#[test]
fn a_step_written_anew_changes_the_cord_and_undo_brings_it_back() {
    let home = home();
    let mut window = making(home.path());
    window.await_cord();
    let before = window.design();
    window.press(Modifiers::NONE, Key::ArrowDown);
    window.press(Modifiers::NONE, Key::Enter);
    window.press(Modifiers::COMMAND, Key::A);
    window
        .harness
        .get_by_label("write step 2")
        .type_text("1 to 14");
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.row(2).split('.').next(), Some("step 2: 1 to 14"));
    let changed = window.design();
    assert_ne!(changed.sections[0].moves, before.sections[0].moves);
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.design(), before, "undone in one");
    window.await_cord();
    assert!(window.harness.state().solver().solved().error().is_none());
}

#[test]
fn steps_go_in_and_out_up_and_down_by_keys() {
    let home = home();
    let mut window = making(home.path());
    let before = window.moves();
    window.press(Modifiers::ALT, Key::ArrowDown);
    assert_eq!(window.row(1), "step 1: 1 to 15".to_owned());
    window.press(Modifiers::ALT, Key::ArrowUp);
    assert_eq!(window.moves().steps, before.steps, "up again");
    window.press(Modifiers::NONE, Key::Delete);
    assert_eq!(window.moves().steps.len(), before.steps.len() - 1);
    window.press(Modifiers::COMMAND, Key::Z);
    window.click("One step more");
    window
        .harness
        .get_by_label("write step 2")
        .type_text("32 to 30");
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.moves().steps.len(), before.steps.len() + 1);
    assert!(window.row(2).starts_with("step 2: 32 to 30"));
}

#[test]
fn what_is_no_step_is_said_and_nothing_is_changed() {
    let home = home();
    let mut window = making(home.path());
    let before = window.design();
    window.press(Modifiers::NONE, Key::Enter);
    window.press(Modifiers::COMMAND, Key::A);
    window
        .harness
        .get_by_label("write step 1")
        .type_text("somewhere");
    window.press(Modifiers::NONE, Key::Enter);
    assert!(window.shows("somewhere"), "it says what it does not know");
    assert_eq!(window.design(), before);
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.row(1), "step 1: 17 to 31");
}

#[test]
fn a_text_with_an_error_names_line_and_column_and_keeps_the_moves() {
    let home = home();
    let mut window = making(home.path());
    let before = window.design();
    window.reach("Write it as text");
    window.write_text("slots 32\nstart 1 9 17\n1 > ninety\n");
    assert!(window.shows("line 3, column 5: "), "beside the sheet");
    let lay = window.harness.get_by_label("Lay it on");
    assert!(lay.accesskit_node().is_disabled(), "no list, not laid on");
    assert_eq!(window.design(), before);
    let text = "slots 32\nstart 1 11 21\n1 > 30\n11 > 1\n21 > 11\n30 > 21\n";
    window.write_text(text);
    window.reach("Lay it on");
    assert_eq!(window.moves().to_string(), text, "as it was written");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.design(), before, "undone in one");
}

#[test]
fn a_text_that_the_design_refuses_stays_on_the_sheet() {
    let home = home();
    let mut window = making(home.path());
    let before = window.design();
    window.reach("Write it as text");
    let odd = "slots 31\nstart 1 9 17\n1 > 2\n2 > 1\n";
    window.write_text(odd);
    window.reach("Lay it on");
    assert!(window.shows("The design is as it was before"));
    assert_eq!(window.design(), before);
    let sheet = window.harness.get_by_label("moves as text");
    assert_eq!(
        sheet.value().as_deref(),
        Some(odd),
        "nothing written is lost"
    );
}

#[test]
fn mirror_twice_is_the_design_again() {
    let home = home();
    let mut window = making(home.path());
    let before = window.design();
    window.reach("Mirror it");
    assert_ne!(window.moves(), before.sections[0].moves);
    window.reach("Mirror it");
    assert_eq!(window.design(), before);
    window.reach("Double");
    assert_eq!(window.design().strands.len(), 2 * before.strands.len());
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.design(), before);
}

#[test]
fn the_mirror_of_a_structure_is_told_beside_it_and_where_it_undoes_it() {
    let home = home();
    let mut window = making(home.path());
    window.reach("Mirror it");
    window.reach("beside");
    window.click("Round spiral");
    window.await_words("It is the same cord in the mirror");
    assert!(window.shows("strand 3: undoes the join"));
    assert!(window.shows("strand 1: keeps the join tight, 97 % kept"));
}

#[test]
fn a_structure_of_ones_own_is_kept_and_there_at_the_next_start() {
    let home = home();
    let mut window = making(home.path());
    window.reach("Mirror it");
    let kept = window.moves();
    window.reach("Keep on my shelf");
    window.await_words("on your shelf");
    drop(window);
    let mut window = making(home.path());
    assert_ne!(window.moves(), kept, "another design");
    window.reach("my structure: Round spiral, mirrored, 8 strands");
    assert_eq!(window.moves(), kept);
}

#[test]
fn a_search_finds_the_spiral_as_known_and_something_new() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    let before = window.design();
    window.click("structure: find");
    window.reach("Search 24 lists");
    window.await_words("All of eight strands looked at");
    assert!(window.shows("24 lists tried, 4 sound, 2 different, 0 new"));
    assert!(window.shows("Round spiral, known") || window.shows("Round spiral, mirrored, known"));
    window.click("lifts of a block: one more");
    window.reach("Search 576 lists");
    window.await_words("found ");
    window.await_words("All of eight strands looked at");
    assert!(window.shows("576 lists tried, 162 sound"));
    window.reach("only new");
    window.click_like(", new, ");
    let taken = window.design();
    assert!(taken.sections[0].structure.starts_with("found "));
    assert_ne!(taken.sections[0].moves, before.sections[0].moves);
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.design(), before, "Esc leaves the old one");
}

#[test]
fn leaving_the_search_stops_it() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click("structure: find");
    window.click("lifts of a block: one more");
    window.reach("Search 576 lists");
    window.click("structure: pick");
    window.click("structure: find");
    assert!(window.shows("Stopped before the end."));
}

#[test]
fn a_square_plate_is_drawn_with_sides_and_a_strand_is_laid_on_one() {
    let home = home();
    let mut window = making(home.path());
    window.reach("worked on: square plate");
    assert_eq!(window.moves().plate, Plate::Square);
    assert!(window.shows("square plate, 32 places, 8 strands"));
    let middle = |window: &Window, words: &str| {
        let found = window.harness.query_all_by_label_contains(words).next();
        found.expect(words).rect().center()
    };
    let side: Vec<f32> = ["N2", "N4", "N7"]
        .iter()
        .map(|place| middle(&window, &format!("place {place}, free")).y)
        .collect();
    assert!(side.iter().all(|y| (y - side[0]).abs() < 0.5), "{side:?}");
    window.drag("place N1, strand ", "place S4, free");
    let laid = window.moves().start;
    assert!(laid.contains(&Place::slot(20)), "{laid:?}");
    window.press(Modifiers::COMMAND, Key::Z);
    window.press(Modifiers::COMMAND, Key::Z);
    assert!(window.shows("disc, 32 slots, 8 strands"), "round again");
}
