//! The disc as a maker works it: by pointer and by keyboard, by visible words.

use std::cell::RefCell;

use eframe::egui::{CursorIcon, Key, Modifiers, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::*;
use crate::app::controls::bench;
use crate::material::Construction;

fn strands(places: &[(&str, u16)]) -> Vec<DiscStrand> {
    places
        .iter()
        .map(|(letter, slot)| DiscStrand {
            letter: (*letter).to_owned(),
            place: Place::slot(*slot),
            colours: vec![Colour([40, 60, 90])],
            ends: 1,
            thickness_mm: 2.0,
            appearance: Construction::SatinCord.appearance(),
            filling: None,
            words: "ink".to_owned(),
        })
        .collect()
}

/// A maker with a disc of eight strands, on which asks are carried out.
struct Table {
    strands: Vec<DiscStrand>,
    chosen: BTreeSet<usize>,
    tool: DiscTool,
    numbering: Numbering,
    plate: structure::Plate,
    memory: DiscMemory,
    asked: Vec<DiscAsk>,
}

impl Table {
    fn new() -> RefCell<Self> {
        let places = [
            ("A", 32),
            ("B", 1),
            ("C", 16),
            ("D", 17),
            ("E", 8),
            ("F", 9),
            ("G", 24),
            ("H", 25),
        ];
        RefCell::new(Self {
            strands: strands(&places),
            chosen: BTreeSet::new(),
            tool: DiscTool::Move,
            numbering: Numbering::Clockwise,
            plate: structure::Plate::Disc,
            memory: DiscMemory::default(),
            asked: Vec::new(),
        })
    }

    fn show(&mut self, ui: &mut Ui) {
        let view = DiscView {
            tool: self.tool,
            numbering: self.numbering,
            plate: self.plate,
            glides: false,
            ..DiscView::new(32, &self.strands, &self.chosen)
        };
        let asks = disc_ui(ui, &view, &mut self.memory);
        for ask in &asks {
            match ask {
                DiscAsk::Choose { strand, add } => {
                    if !add {
                        self.chosen.clear();
                    }
                    self.chosen.insert(*strand);
                }
                DiscAsk::ChooseMany(many) => self.chosen = many.iter().copied().collect(),
                DiscAsk::LetGo => self.chosen.clear(),
                DiscAsk::Carry { strand, to } => self.strands[*strand].place = *to,
                DiscAsk::Tool(tool) => self.tool = *tool,
                DiscAsk::Swap { .. }
                | DiscAsk::Paint { .. }
                | DiscAsk::Mark(_)
                | DiscAsk::Number { .. } => {}
            }
        }
        self.asked.extend(asks);
    }
}

fn window(table: &RefCell<Table>) -> Harness<'_> {
    bench::window([640.0, 640.0], |ui| table.borrow_mut().show(ui))
}

fn middle(harness: &Harness<'_>, label: &str) -> Pos2 {
    harness.get_by_label(label).rect().center()
}

fn pull(harness: &mut Harness<'_>, from: Pos2, to: Pos2) {
    harness.drag_at(from);
    harness.run();
    for k in 1..=4 {
        harness.hover_at(from.lerp(to, k as f32 / 4.0));
        harness.run();
    }
    harness.drop_at(to);
    harness.run();
}

#[test]
fn every_strand_slot_and_mark_has_a_name() {
    let table = Table::new();
    table.borrow_mut().chosen.insert(4);
    let harness = window(&table);
    harness.get_by_label("disc, 32 slots, 8 strands, top is 32 and 1");
    harness.get_by_label("slot 8, strand E, ink, chosen");
    harness.get_by_label("slot 7, free");
    harness.get_by_label("mark, between 8 and 9");
    harness.get_by_label("mark, between 32 and 1");
}

#[test]
fn names_follow_the_makers_numbering() {
    let table = Table::new();
    table.borrow_mut().numbering = Numbering::Anticlockwise;
    let harness = window(&table);
    harness.get_by_label("slot 25, strand E, ink");
    harness.get_by_label("disc, 32 slots, 8 strands, top is 1 and 32");
}

#[test]
fn a_square_plate_has_sides_with_places_of_their_own_and_strands_go_there() {
    let table = Table::new();
    table.borrow_mut().plate = structure::Plate::Square;
    let mut harness = window(&table);
    harness.get_by_label("square plate, 32 places, 8 strands, side N at the top");
    assert!(harness.query_by_label_contains("mark, ").is_none());
    let at = |harness: &Harness<'_>, label: &str| middle(harness, label);
    let (first, last) = (
        at(&harness, "place N2, free"),
        at(&harness, "place N7, free"),
    );
    assert!((first.y - last.y).abs() < 0.5, "on one straight side");
    let (from, to) = (
        at(&harness, "place N8, strand E, ink"),
        at(&harness, "place S4, free"),
    );
    pull(&mut harness, from, to);
    let carried = DiscAsk::Carry {
        strand: 4,
        to: Place::slot(20),
    };
    assert!(table.borrow().asked.contains(&carried));
    harness.get_by_label("place S4, strand E, ink");
}

#[test]
fn digits_go_to_a_place_of_the_side_where_the_keyboard_stands() {
    let table = Table::new();
    table.borrow_mut().plate = structure::Plate::Square;
    let mut harness = window(&table);
    let plate = "square plate, 32 places, 8 strands, side N at the top";
    harness.get_by_label(plate).focus();
    harness.run();
    for sign in ["g", "5"] {
        harness.get_by_label(plate).type_text(sign);
        harness.run();
    }
    let value = harness.get_by_label(plate).accesskit_node().value();
    assert_eq!(value.as_deref(), Some("place S5, free"));
}

#[test]
fn pressing_a_strand_chooses_it_and_ctrl_adds_another() {
    let table = Table::new();
    let mut harness = window(&table);
    harness.get_by_label("slot 8, strand E, ink").click();
    harness.run();
    let other = harness.get_by_label("slot 24, strand G, ink");
    other.click_modifiers(Modifiers::COMMAND);
    harness.run();
    let chosen = table.borrow().chosen.clone();
    assert_eq!(chosen, BTreeSet::from([4, 6]));
}

#[test]
fn a_strand_is_pulled_to_a_free_slot() {
    let table = Table::new();
    let mut harness = window(&table);
    let from = middle(&harness, "slot 8, strand E, ink");
    let to = middle(&harness, "slot 12, free");
    pull(&mut harness, from, to);
    let carried = DiscAsk::Carry {
        strand: 4,
        to: Place::slot(12),
    };
    assert_eq!(table.borrow().asked, [carried]);
    harness.get_by_label("slot 12, strand E, ink");
}

#[test]
fn the_pointer_is_an_open_hand_over_a_strand_and_closes_when_it_pulls() {
    let table = Table::new();
    let mut harness = window(&table);
    let at = middle(&harness, "slot 8, strand E, ink");
    let icon = |harness: &Harness<'_>| harness.output().platform_output.cursor_icon;
    harness.hover_at(at);
    harness.run();
    assert_eq!(icon(&harness), CursorIcon::Grab);
    harness.drag_at(at);
    harness.run();
    harness.hover_at(at + eframe::egui::vec2(-60.0, 60.0));
    harness.run();
    assert_eq!(icon(&harness), CursorIcon::Grabbing);
}

#[test]
fn pulled_onto_another_the_two_change_places() {
    let table = Table::new();
    let mut harness = window(&table);
    let from = middle(&harness, "slot 8, strand E, ink");
    let to = middle(&harness, "slot 24, strand G, ink");
    pull(&mut harness, from, to);
    let swapped = DiscAsk::Swap { strand: 4, with: 6 };
    assert_eq!(table.borrow().asked, [swapped]);
}

#[test]
fn a_pull_given_up_with_escape_asks_nothing() {
    let table = Table::new();
    let mut harness = window(&table);
    let from = middle(&harness, "slot 8, strand E, ink");
    let to = middle(&harness, "slot 12, free");
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from.lerp(to, 0.5));
    harness.run();
    harness.key_press(Key::Escape);
    harness.run();
    harness.drop_at(to);
    harness.run();
    assert!(table.borrow().asked.is_empty());
}

#[test]
fn the_one_chosen_strand_goes_to_the_slot_that_is_pressed() {
    let table = Table::new();
    table.borrow_mut().chosen.insert(4);
    let mut harness = window(&table);
    harness.get_by_label("slot 12, free").click();
    harness.run();
    harness.get_by_label("slot 12, strand E, ink, chosen");
}

#[test]
fn a_band_chooses_all_it_reaches() {
    let table = Table::new();
    let mut harness = window(&table);
    // Across the right half, clear of what stands above and below.
    let from = middle(&harness, "slot 6, free");
    let to = middle(&harness, "slot 11, free");
    let from = Pos2::new(to.x.max(from.x) - 60.0, from.y);
    let to = Pos2::new(from.x + 90.0, to.y);
    pull(&mut harness, from, to);
    assert_eq!(table.borrow().chosen, BTreeSet::from([4, 5]));
}

#[test]
fn the_brush_paints_each_strand_once_on_its_way() {
    let table = Table::new();
    table.borrow_mut().tool = DiscTool::Paint;
    let mut harness = window(&table);
    let from = middle(&harness, "slot 8, strand E, ink");
    let to = middle(&harness, "slot 9, strand F, ink");
    pull(&mut harness, from, to);
    let painted = [DiscAsk::Paint { strand: 4 }, DiscAsk::Paint { strand: 5 }];
    assert_eq!(table.borrow().asked, painted);
}

#[test]
fn the_keyboard_takes_a_strand_to_another_slot() {
    let table = Table::new();
    let mut harness = window(&table);
    harness.key_press(Key::Tab);
    harness.run();
    harness.event(eframe::egui::Event::Text("e".to_owned()));
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label("slot 10, strand E, ink, chosen");
}

#[test]
fn digits_go_to_a_slot_and_space_adds_what_is_there() {
    let table = Table::new();
    let mut harness = window(&table);
    harness.key_press(Key::Tab);
    harness.run();
    for digit in ["2", "4"] {
        harness.event(eframe::egui::Event::Text(digit.to_owned()));
        harness.step();
    }
    harness.key_press(Key::Space);
    harness.run();
    assert_eq!(table.borrow().chosen, BTreeSet::from([6]));
    let disc = harness.get_by_label("disc, 32 slots, 8 strands, top is 32 and 1");
    let here = disc.accesskit_node().value();
    assert_eq!(here.as_deref(), Some("slot 24, strand G, ink, chosen"));
}

#[test]
fn discs_of_any_even_number_of_slots_are_drawn() {
    for slots in [4, 6, 10, 16, 64, 128] {
        let two = strands(&[("A", 1), ("B", slots / 2)]);
        let chosen = BTreeSet::from([0]);
        let mut memory = DiscMemory::default();
        let harness = bench::window([500.0, 400.0], |ui| {
            let steps = [Move {
                from: Place::slot(1),
                to: Place::slot(slots),
            }];
            let view = DiscView {
                next: &steps,
                just_done: &steps,
                ..DiscView::new(slots, &two, &chosen)
            };
            let _asks = disc_ui(ui, &view, &mut memory);
        });
        harness.get_by_label("slot 1, strand A, ink, chosen");
        harness.get_by_label(&format!("slot {slots}, free"));
    }
}

#[test]
fn the_key_p_takes_the_brush_up_and_lays_it_down() {
    let table = Table::new();
    let mut harness = window(&table);
    harness.key_press(Key::Tab);
    harness.run();
    for tool in [DiscTool::Paint, DiscTool::Move] {
        harness.event(eframe::egui::Event::Text("p".to_owned()));
        harness.run();
        assert_eq!(table.borrow().tool, tool);
    }
}

#[test]
fn where_a_strand_is_called_p_only_the_capital_takes_the_brush() {
    let table = Table::new();
    table.borrow_mut().strands[3].letter = "P".to_owned();
    let mut harness = window(&table);
    harness.key_press(Key::Tab);
    harness.run();
    harness.event(eframe::egui::Event::Text("p".to_owned()));
    harness.run();
    assert_eq!(table.borrow().tool, DiscTool::Move, "went to the strand");
    harness.event(eframe::egui::Event::Text("P".to_owned()));
    harness.run();
    assert_eq!(table.borrow().tool, DiscTool::Paint);
}

#[test]
fn what_is_seen_is_marked_by_a_press_by_space_and_by_numbers() {
    let table = Table::new();
    table.borrow_mut().tool = DiscTool::Mark;
    let mut harness = window(&table);
    harness.get_by_label("slot 7, free").click();
    harness.run();
    for chosen in ["", ", chosen"] {
        let strand = format!("slot 8, strand E, ink{chosen}");
        harness.get_by_label(&strand).click();
        harness.run();
    }
    let chosen = DiscAsk::Choose {
        strand: 4,
        add: false,
    };
    assert_eq!(table.borrow_mut().asked.remove(1), chosen);
    let marked = [7, 8].map(|slot| DiscAsk::Mark(Place::slot(slot)));
    assert_eq!(table.borrow().asked, marked);
    table.borrow_mut().asked.clear();
    let disc = harness.get_by_label("disc, 32 slots, 8 strands, top is 32 and 1");
    disc.focus();
    harness.run();
    harness.key_press(Key::Space);
    harness.run();
    for digit in ["1", "2"] {
        harness.event(eframe::egui::Event::Text(digit.to_owned()));
        harness.run();
    }
    let place = Place::slot(1);
    let number = |number| DiscAsk::Number { place, number };
    let asked = [DiscAsk::Mark(place), number(1), number(12)];
    assert_eq!(table.borrow().asked, asked);
}
