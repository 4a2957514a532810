//! The window does the maker's errands, found by its visible words.

#[path = "window/braid.rs"]
mod braid;
#[path = "window/colours.rs"]
mod colours;
#[path = "window/cut.rs"]
mod cut;
#[path = "window/fit.rs"]
mod fit;
#[path = "properties/lists.rs"]
mod lists;
#[path = "window/log.rs"]
mod log;
#[path = "window/looks.rs"]
mod looks;
#[path = "window/making.rs"]
mod making;
#[path = "window/other_way.rs"]
mod other_way;
#[path = "window/painting.rs"]
mod painting;
#[path = "window/recording.rs"]
mod recording;

use std::path::Path;
use std::time::{Duration, Instant};

use eframe::egui::{Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::app::App;
use plaitwright::app::settings::Settings;
use plaitwright::app::solver::Known;

/// Longest wait for a solve on a busy machine.
const PATIENCE: Duration = Duration::from_secs(90);

#[path = "window/strip.rs"]
mod strip;
#[path = "window/structures.rs"]
mod structures;
#[path = "window/taking.rs"]
mod taking;
#[path = "window/wrong.rs"]
mod wrong;

struct Window {
    harness: Harness<'static, App>,
}

impl Window {
    fn open(home: &Path, file: Option<&Path>) -> Self {
        Self::sized(home, file, 1440.0, 900.0)
    }

    fn sized(home: &Path, file: Option<&Path>, width: f32, height: f32) -> Self {
        let (home, file) = (home.to_path_buf(), file.map(Path::to_path_buf));
        let harness = Harness::builder()
            .with_size(vec2(width, height))
            .build_eframe(move |cc| {
                let settings = Settings::read(&home);
                App::new(&cc.egui_ctx, home, settings, file)
            });
        let mut window = Self { harness };
        window.step(3);
        window
    }

    fn step(&mut self, frames: usize) {
        self.harness.run_steps(frames);
    }

    fn shows(&self, words: &str) -> bool {
        self.harness
            .query_all_by_label_contains(words)
            .next()
            .is_some()
    }

    /// Steps on until something is so.
    fn until(&mut self, what: &str, mut is_so: impl FnMut(&mut Self) -> bool) {
        let until = Instant::now() + PATIENCE;
        while !is_so(self) {
            assert!(Instant::now() < until, "waited in vain: {what}");
            std::thread::sleep(Duration::from_millis(15));
            self.step(1);
        }
    }

    /// Steps on until these words are shown.
    fn await_words(&mut self, words: &str) {
        let until = Instant::now() + PATIENCE;
        while !self.shows(words) {
            assert!(Instant::now() < until, "{words:?} was never shown");
            std::thread::sleep(Duration::from_millis(15));
            self.step(1);
        }
    }

    /// Steps on until these words are not shown any more.
    fn await_no_words(&mut self, words: &str) {
        let until = Instant::now() + PATIENCE;
        while self.shows(words) {
            assert!(Instant::now() < until, "{words:?} never went");
            std::thread::sleep(Duration::from_millis(15));
            self.step(1);
        }
    }

    /// Steps on until the figures are those of a solve, and looks at every frame before.
    fn step_until_solved(&mut self, mut look: impl FnMut(&Self)) {
        let until = Instant::now() + PATIENCE;
        while !matches!(self.harness.state().solver().known(), Known::Solved(_)) {
            assert!(Instant::now() < until, "the cord was never solved");
            look(self);
            std::thread::sleep(Duration::from_millis(15));
            self.step(1);
        }
        self.step(1);
    }

    /// Steps on until the cord of the design as it is now is solved.
    fn await_cord(&mut self) {
        let until = Instant::now() + PATIENCE;
        while self.harness.state().solver().solved().is_busy() {
            assert!(Instant::now() < until, "the cord was never solved");
            std::thread::sleep(Duration::from_millis(15));
            self.step(1);
        }
        self.step(2);
    }

    fn click(&mut self, words: &str) {
        self.harness.get_by_label(words).click();
        self.step(3);
    }

    fn click_like(&mut self, words: &str) {
        let found = self.harness.query_all_by_label_contains(words).next();
        found
            .unwrap_or_else(|| panic!("{words:?} is not shown"))
            .click();
        self.step(3);
    }

    /// Pulls what is called so to what is called otherwise.
    fn pull(&mut self, from: &str, to: &str) {
        let middle = |words: &str| {
            let found = self.harness.query_all_by_label_contains(words).next();
            found
                .unwrap_or_else(|| panic!("{words:?} is not shown"))
                .rect()
                .center()
        };
        let (from, to) = (middle(from), middle(to));
        self.harness.drag_at(from);
        self.step(2);
        for share in [0.3, 0.7, 1.0] {
            self.harness.hover_at(from.lerp(to, share));
            self.step(1);
        }
        self.harness.drop_at(to);
        self.step(3);
    }

    fn press(&mut self, modifiers: Modifiers, key: Key) {
        self.harness.key_press_modifiers(modifiers, key);
        self.step(3);
    }

    fn type_into(&mut self, field: &str, text: &str) {
        self.click(field);
        self.harness.get_by_label(field).type_text(text);
        self.step(2);
    }

    /// Another text in place of the one in a field, taken with Enter.
    fn enter(&mut self, field: &str, text: &str) {
        self.click(field);
        self.press(Modifiers::COMMAND, Key::A);
        self.harness.get_by_label(field).type_text(text);
        self.step(2);
        self.press(Modifiers::NONE, Key::Enter);
    }

    /// The first label that begins with these words.
    fn label(&self, beginning: &str) -> String {
        let all = self.harness.query_all_by_label_contains(beginning);
        let mut labels = all.filter_map(|node| node.accesskit_node().label().or(node.value()));
        let found = labels.find(|label| label.starts_with(beginning));
        found.unwrap_or_else(|| panic!("no label begins with {beginning:?}"))
    }
}

fn home() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder for the test")
}

#[test]
fn a_first_start_shows_a_finished_example_with_its_figures() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    for beginning in [
        "On the disc: ",
        "Rested: ",
        "Length changes: ",
        "Bound end: ",
    ] {
        let figure = window.label(beginning);
        assert!(figure.contains(" to "), "{figure} has a spread");
    }
    assert!(window.shows("the cord, 8 strands"), "the strip is named");
    assert!(
        window.shows("disc, 32 slots, 8 strands"),
        "the disc is named"
    );
}

#[test]
fn another_fibre_from_the_shelf_changes_the_figures_and_undo_brings_them_back() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    let before = window.label("On the disc: ");
    window.click("from my fibre shelf");
    window.type_into("Search the fibre shelf", "leather 1 mm");
    window.click_like("fibre: ");
    window.await_cord();
    let thinner = window.label("On the disc: ");
    assert_ne!(thinner, before, "all strands are thinner now");
    window.press(Modifiers::COMMAND, Key::Z);
    window.await_cord();
    assert_eq!(window.label("On the disc: "), before, "undone");
}

/// Sixteen strands of three makes take long enough to be looked at meanwhile.
#[test]
fn a_first_answer_stands_for_the_figures_until_the_cord_is_solved() {
    let home = home();
    let designs = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/designs");
    let mut window = Window::open(home.path(), Some(&designs.join("lamp-quay.plait")));
    window.step_until_solved(|_| ());
    let names = ["On the disc: ", "Rested: ", "Bound end: "];
    let before = names.map(|name| window.label(name));
    window.click_like("strand row: ");
    window.click("from my fibre shelf");
    window.type_into("Search the fibre shelf", "leather 1 mm");
    window.click_like("fibre: ");
    let mut answered = 0;
    window.step_until_solved(|window| {
        let shown = names.map(|name| window.label(name));
        for (old, new) in before.iter().zip(&shown) {
            assert_ne!(old, new, "no figure of the cord before");
            assert!(new.contains(": about "), "{new}");
            assert!(new.contains("first answer"), "{new}");
        }
        answered += 1;
    });
    assert!(answered > 0, "it was shown");
    for name in names {
        let figure = window.label(name);
        assert!(!figure.contains("about"), "{figure} is the solved one");
    }
}

#[test]
fn strands_are_chosen_by_their_row_and_painted_together() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: ");
    assert!(
        window.shows("strands chosen"),
        "the row's strands are chosen"
    );
    let before = window.harness.state().design().clone();
    window.click("colour rust");
    let after = window.harness.state().design().clone();
    let painted = before
        .strands
        .iter()
        .zip(&after.strands)
        .filter(|(a, b)| a != b);
    assert!(painted.count() >= 2, "at least two strands have the colour");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.harness.state().design(), before, "undone");
}

#[test]
fn a_colour_never_waits_for_a_solve() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click_like("strand row: ");
    window.click("colour rust");
    assert!(
        !window.harness.state().solver().solved().is_busy(),
        "nothing is solved anew"
    );
}

#[test]
fn moves_are_played_and_the_disc_follows() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    let place = |window: &Window| {
        let strands = window.harness.query_all_by_label_contains(", strand ");
        let labels = strands.filter_map(|node| node.accesskit_node().label());
        labels
            .filter(|l| l.starts_with("slot "))
            .collect::<Vec<_>>()
    };
    let before = place(&window);
    window.click("One move on");
    assert_ne!(place(&window), before, "a strand was carried");
    window.click("One move back");
    assert_eq!(place(&window), before, "and came back");
}

#[test]
fn what_is_saved_by_its_path_opens_again() {
    let home = home();
    let file = home.path().join("first.plait");
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: ");
    window.click("colour plum");
    window.press(Modifiers::NONE, Key::F10);
    window.type_into("Path of a file", file.to_str().unwrap());
    window.click("Save here");
    assert!(file.is_file(), "the file is there");
    let saved = window.harness.state().design().clone();
    drop(window);
    let window = Window::open(home.path(), Some(&file));
    assert_eq!(*window.harness.state().design(), saved, "as it was saved");
    assert!(window.shows("first.plait"), "its name is shown");
}

#[test]
fn a_file_that_is_not_ours_is_said_and_nothing_is_lost() {
    let home = home();
    let file = home.path().join("letter.plait");
    std::fs::write(&file, "Dear all,").unwrap();
    let mut window = Window::open(home.path(), Some(&file));
    window.step(2);
    assert!(window.shows("not a plait file"), "what happened");
    assert!(
        window.shows("The cord on the table is unharmed"),
        "what was kept"
    );
    assert_eq!(
        window.harness.state().design().strands.len(),
        8,
        "the example"
    );
}

#[test]
fn unsaved_work_is_offered_at_the_next_start() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: ");
    window.click("colour plum");
    let lost = window.harness.state().design().clone();
    let copies = home.path().join("unsaved");
    let until = Instant::now() + PATIENCE;
    while !copies.is_dir() || copies.read_dir().unwrap().next().is_none() {
        assert!(Instant::now() < until, "no copy was written");
        std::thread::sleep(Duration::from_millis(50));
        window.step(1);
    }
    // Dropped without a word, as in a crash.
    drop(window);
    let mut window = Window::open(home.path(), None);
    window.click("Open what was found");
    assert_eq!(*window.harness.state().design(), lost, "it is back");
}

#[test]
fn a_cord_left_unsaved_for_a_new_one_is_offered_at_once() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: ");
    window.click("colour plum");
    let left = window.harness.state().design().clone();
    window.press(Modifiers::COMMAND, Key::N);
    assert_eq!(window.harness.state().design().name, "New cord");
    window.click("Open what was found");
    assert_eq!(*window.harness.state().design(), left, "it is back");
}

#[test]
fn another_file_is_not_replaced_without_saying_so() {
    let home = home();
    let file = home.path().join("there.plait");
    std::fs::write(&file, "something of value").unwrap();
    let mut window = Window::open(home.path(), None);
    window.press(Modifiers::NONE, Key::F10);
    window.type_into("Path of a file", file.to_str().unwrap());
    assert!(!window.shows("Save here"), "saving here would replace it");
    assert!(window.shows("Replace that file"), "and that is said");
}

#[test]
fn moves_of_ones_own_are_recorded_by_dragging() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click("tool: Record");
    let at = |window: &Window, words: &str| {
        let found = window.harness.query_all_by_label_contains(words).next();
        found
            .unwrap_or_else(|| panic!("{words:?} is not shown"))
            .rect()
            .center()
    };
    let (from, to) = (at(&window, "slot 1, strand "), at(&window, "slot 4, free"));
    window.harness.drag_at(from);
    window.step(2);
    for share in [0.3, 0.7, 1.0] {
        window.harness.hover_at(from.lerp(to, share));
        window.step(1);
    }
    window.harness.drop_at(to);
    window.step(3);
    assert!(window.shows("slot 4, strand "), "the strand was carried");
    let keep = window.harness.get_by_label("Keep these moves");
    assert!(
        keep.accesskit_node().is_disabled(),
        "they do not come round yet"
    );
    window.click("Leave");
    assert!(window.shows("slot 1, strand "), "nothing was changed");
}

#[test]
fn lengths_are_shown_in_inches_when_asked() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    assert!(
        window.label("On the disc: ").contains(" mm,"),
        "millimetres first"
    );
    window.click("unit: inch");
    assert!(
        window.label("On the disc: ").contains(" in,"),
        "then inches"
    );
}

#[test]
fn stages_to_come_are_named_and_cannot_be_entered() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    let swatch = window.harness.get_by_label("Swatch");
    assert!(swatch.accesskit_node().is_disabled(), "it is to come");
    window.press(Modifiers::COMMAND, Key::Num2);
    let fit = window.harness.get_by_label("Fit");
    let on = Some(eframe::egui::accesskit::Toggled::True);
    assert_eq!(fit.accesskit_node().toggled(), on, "Ctrl 2 is Fit");
}

#[test]
fn everything_stays_inside_windows_of_every_size() {
    for (width, height) in [
        (1920.0, 1080.0),
        (1280.0, 800.0),
        (1024.0, 640.0),
        (640.0, 400.0),
    ] {
        let home = home();
        let mut window = Window::sized(home.path(), None, width, height);
        window.await_words("life size");
        for words in [
            "Undo",
            "unit: inch",
            "Dark window",
            "life size",
            "Look",
            "Swatch",
        ] {
            let rect = window.harness.get_by_label(words).rect();
            let inside = rect.min.x >= 0.0
                && rect.min.y >= 0.0
                && rect.max.x <= width + 0.5
                && rect.max.y <= height + 0.5;
            assert!(inside, "{words} at {rect:?} in {width} by {height}");
        }
    }
}

#[test]
fn the_brush_paints_the_strand_that_is_pressed() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click("tool: Paint");
    window.click("brush plum");
    window.click_like("slot 1, strand ");
    let design = window.harness.state().design();
    let one = plaitwright::structure::Place::slot(1);
    let strand = &design.strands[design.strand_at(one).unwrap()];
    let colour = strand.parts[0].colour.to_string();
    assert_eq!(colour, "#6b4466", "the strand in slot 1");
}

fn put_lace_on_the_shelf(window: &mut Window) {
    window.click("from my fibre shelf");
    window.click("A fibre of my own…");
    window.type_into("Name of the fibre", "harbour lace");
    window.click("Put it on my shelf");
}

#[test]
fn a_fibre_of_ones_own_is_proposed_used_and_remembered() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    put_lace_on_the_shelf(&mut window);
    let design = window.harness.state().design();
    assert_eq!(design.strands_with("harbour lace").len(), 8, "all");
    drop(window);
    let mut window = Window::open(home.path(), None);
    window.click("from my fibre shelf");
    assert!(window.shows("fibre: harbour lace"), "it is on the shelf");
}

#[test]
fn two_fibres_are_held_together_in_the_strands_chosen() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: satin");
    window.click("Add a fibre to them");
    window.type_into("Search the fibre shelf", "metallic");
    window.click_like("fibre: ");
    let design = window.harness.state().design();
    let mixed = design
        .strands
        .iter()
        .filter(|strand| strand.parts.len() == 2);
    assert!(mixed.count() >= 2, "the chosen strands have two fibres");
    window.await_cord();
    assert!(window.shows("On the disc: "), "and make a cord");
}

#[test]
fn at_twice_the_size_the_panel_begins_under_the_disc() {
    let home = home();
    let window = Window::sized(home.path(), None, 640.0, 400.0);
    let disc = window.harness.get_by_label_contains("disc, 32 slots");
    let panel = window.harness.get_by_label("panel: Strands");
    assert!(disc.rect().bottom() <= panel.rect().top(), "no overlap");
}

#[test]
fn a_fibre_of_ones_own_is_changed_taken_off_and_put_back() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    put_lace_on_the_shelf(&mut window);
    window.await_cord();
    let before = window.label("On the disc: ");
    window.click("from my fibre shelf");
    for words in ["change harbour lace", "known by its: tex", "Keep it so"] {
        window.click(words);
    }
    window.await_cord();
    assert_ne!(window.label("On the disc: "), before, "the cord follows");
    window.click("take off");
    assert!(!window.shows("change harbour lace"), "it is off the shelf");
    window.click("put it back");
    assert!(window.shows("change harbour lace"), "it is back");
}
