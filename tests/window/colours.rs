//! Colours by name, from palettes and from photographs.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::material::Colour;
use plaitwright::material::colour::{Beside, Palette, Parting, Viewing, stand_apart};

use super::{Window, home};

const NAVY: Colour = Colour([0x1f, 0x2e, 0x54]);
const BLACK: Colour = Colour([0x1e, 0x1c, 0x1d]);

const PATH: &str = "Path of a picture or palette";

impl Window {
    fn colours(&self) -> Vec<Colour> {
        let strands = &self.harness.state().design().strands;
        strands
            .iter()
            .map(|strand| strand.parts[0].colour)
            .collect()
    }

    /// Opens the page of colours where they come from this.
    fn open_colours(&mut self, from: &str) {
        self.reach("More colours");
        self.step(30);
        self.reach(&format!("colours: {from}"));
    }

    fn write_into(&mut self, field: &str, text: &str) {
        self.reach(field);
        self.harness.get_by_label(field).type_text(text);
        self.step(2);
    }
}

#[test]
fn a_colour_is_found_by_its_name_and_laid_on_the_strands_chosen() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    let before = window.colours();
    window.click_like("strand row: ");
    window.open_colours("by name");
    window.write_into("Search colours by name", "violet");
    assert!(
        !window.shows("colour by name: teal"),
        "others are not listed"
    );
    window.reach("colour by name: violet");
    let violet = Colour([0x55, 0x3c, 0x8e]);
    let changed = window.colours();
    let painted = changed.iter().zip(&before).filter(|(is, was)| is != was);
    assert!(painted.clone().count() >= 2);
    assert!(painted.clone().all(|(is, _)| *is == violet));
    assert!(painted.count() < before.len(), "the others stay");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.colours(), before);
}

#[test]
fn a_palette_is_opened_offered_remembered_and_taken_off() {
    let home = home();
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/files/harbour.gpl");
    let mut window = Window::open(home.path(), None);
    window.open_colours("palettes");
    window.write_into(PATH, file);
    window.reach("Open it");
    assert!(window.shows("Harbour in November"));
    window.reach("back to the strands");
    window.reach("colour buoy red");
    assert!(window.colours().iter().all(|c| *c == Colour([194, 47, 43])));
    drop(window);
    let mut window = Window::open(home.path(), None);
    assert!(
        window.shows("colour net orange"),
        "offered at the next start"
    );
    window.open_colours("palettes");
    window.reach("take off");
    window.reach("back to the strands");
    assert!(!window.shows("colour net orange"));
    assert!(window.shows("colour plum"), "our dyes again");
}

#[test]
fn lines_of_a_palette_that_are_no_colours_are_told() {
    let home = home();
    let file = home.path().join("half.gpl");
    std::fs::write(
        &file,
        "GIMP Palette\nName: half\n1 2 3 night\n300 0 0 fire\n",
    )
    .unwrap();
    let mut window = Window::open(home.path(), None);
    window.open_colours("palettes");
    window.write_into(PATH, file.to_str().unwrap());
    window.reach("Open it");
    assert!(window.shows("not every line is a colour"));
    assert!(window.shows("line 4: red must be a number from 0 to 255, not \"300\""));
    assert!(window.shows("night of half"));
}

#[test]
fn colours_are_taken_from_a_photograph_and_kept_as_a_palette() {
    let home = home();
    let file = home.path().join("beach.png");
    let sea = image::Rgb([30, 90, 140]);
    let sand = image::Rgb([210, 190, 150]);
    let picture = image::RgbImage::from_fn(60, 40, |_, y| if y < 25 { sea } else { sand });
    picture.save(&file).unwrap();
    let mut window = Window::sized(home.path(), None, 1440.0, 1200.0);
    window.open_colours("photograph");
    window.write_into(PATH, file.to_str().unwrap());
    window.reach("Open it");
    window.await_words("main colour");
    // What rolls into sight has come to rest.
    window.step(40);
    // The middle of the picture is sea.
    window.click_like("photograph beach");
    assert!(window.colours().iter().all(|c| *c == Colour(sea.0)));
    window.click_like("main colour sand");
    assert!(
        window
            .colours()
            .iter()
            .all(|c| c.difference(Colour(sand.0)) < 1.0)
    );
    window.reach("Keep these as a palette");
    let kept = std::fs::read_to_string(home.path().join("palettes/beach.gpl")).unwrap();
    let palette = Palette::read(&kept).unwrap().palette;
    assert_eq!(palette.name, "beach");
    assert_eq!(palette.shades.len(), 2);
    window.reach("back to the strands");
    assert!(window.shows("colour blue"), "its colours are offered");
}

#[test]
fn what_is_no_picture_is_told_and_nothing_changes() {
    let home = home();
    let file = home.path().join("words.png");
    std::fs::write(&file, "no picture").unwrap();
    let mut window = Window::open(home.path(), None);
    let before = window.colours();
    window.press(Modifiers::NONE, Key::F10);
    window.type_into("Path of a file", file.to_str().unwrap());
    window.harness.get_by_label("Path of a file").focus();
    window.press(Modifiers::NONE, Key::Enter);
    window.await_words("Photographs are read as PNG or JPEG");
    assert_eq!(window.colours(), before);
}

#[test]
fn colours_that_run_together_are_told_and_mended_at_a_press() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.click_like("strand row: ");
    window.open_colours("by name");
    window.reach("colour by name: navy");
    window.reach("let go");
    window.reach("back to the strands");
    let rows = window.harness.query_all_by_label_contains("strand row: ");
    let other = rows
        .filter_map(|row| row.accesskit_node().label())
        .next_back();
    window.reach(&other.expect("two rows"));
    window.open_colours("by name");
    window.reach("colour by name: black");
    window.reach("back to the strands");
    window.await_words("neighbours");
    let before = window.colours();
    let pair = window.label("pair: ");
    assert!(
        pair.contains("black beside navy") || pair.contains("navy beside black"),
        "{pair}"
    );
    assert!(pair.contains("close"), "{pair}");
    window.reach(&pair);
    let mend = window.label("mend: ");
    window.reach(&mend);
    let after = window.colours();
    assert_ne!(after, before);
    let becomes = |dark| {
        before
            .iter()
            .position(|c| *c == dark)
            .map(|place| after[place])
    };
    let [navy, black] = [NAVY, BLACK].map(|dark| becomes(dark).unwrap());
    let beside = Beside {
        colours: [navy, black],
        length: 1.0,
        width: 1.8,
    };
    let apart = stand_apart(&[beside], Viewing::ARM)[0];
    assert_eq!(apart.worst(), Parting::StandApart, "{apart:?}");
    assert!(!window.shows(&pair), "the pair is told anew");
    window.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(window.colours(), before, "one change");
}

#[test]
fn marks_besides_colour_are_said_and_remembered() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    assert!(!window.shows("marked hatched"));
    window.reach("marks besides colour");
    assert!(window.shows("marked solid") && window.shows("marked hatched"));
    window.await_cord();
    drop(window);
    let window = Window::open(home.path(), None);
    assert!(window.shows("marked hatched"));
}

#[test]
fn the_cord_is_seen_with_other_eyes_and_the_design_stays() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_words("neighbours");
    let before = window.harness.state().design().clone();
    window.reach("seen by: red-blind");
    assert!(window.shows("as red-blind eyes see them"));
    assert_eq!(*window.harness.state().design(), before);
    window.reach("seen by: full colour");
    assert!(!window.shows("as red-blind eyes"));
}
