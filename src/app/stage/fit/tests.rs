//! The stage by its visible words.

use std::cell::RefCell;

use eframe::egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::*;
use crate::app::controls::bench;
use crate::cord::{Hand, PullPoint};
use crate::material::Standing;
use crate::plan::{Binding, Pendant};
use crate::quantity::Estimate;

fn spread(low: f64, value: f64, high: f64) -> Estimate {
    Estimate { value, low, high }
}

fn figures() -> Figures {
    Figures {
        thickness_on_disc: spread(6.2, 6.7, 7.3),
        thickness_rested: spread(5.9, 6.4, 7.0),
        pressed_on_disc: spread(5.6, 6.0, 6.5),
        pressed_rested: spread(5.4, 5.8, 6.3),
        width_rested: spread(5.9, 6.4, 7.0),
        section: crate::cord::Section::Round,
        bore: 0.0,
        off_weight: spread(-5.0, -3.5, -2.0),
        worked: spread(1.0, 2.0, 3.0),
        lengthening: spread(-3.5, -1.5, 0.5),
        bundle: spread(5.55, 5.7, 5.85),
        bundle_of_tails: spread(5.0, 5.2, 5.4),
        pitch: spread(20.0, 22.0, 24.0),
        hand: Hand::Z,
        moves_per_cm: spread(9.0, 10.0, 11.0),
        mass: spread(12.0, 13.0, 14.0),
        take_up: Vec::new(),
        standing: Standing::Guess,
        guesses: vec!["friction of satin cord".to_owned()],
    }
}

/// A rested cord; fresh it is thicker, worked thinner.
fn pull() -> Pulled {
    let points = |thicker: f64| (0..5).map(|k| point(k, thicker)).collect();
    Pulled::from([0.2, 0.0, -0.1].map(points))
}

fn point(k: u8, thicker: f64) -> PullPoint {
    let k = f64::from(k);
    PullPoint {
        grams: 50.0 * k,
        thickness: spread(5.8, 6.4 + thicker - 0.1 * k, 6.8),
        longer: Estimate::exact(0.5 * k),
    }
}

struct Table {
    piece: Piece,
    units: UnitSystem,
    workshop: Workshop,
    asked: Vec<Edit>,
}

impl Table {
    fn new() -> RefCell<Self> {
        RefCell::new(Self {
            piece: Piece {
                caps: vec![5.0, 6.0, 7.0],
                cap: None,
                cap_depth: 9.0,
                binding: Binding {
                    layers: 0,
                    ..Binding::default()
                },
                ..Piece::default()
            },
            units: UnitSystem::Millimetres,
            workshop: Workshop::default(),
            asked: Vec::new(),
        })
    }
}

fn window<'a>(table: &'a RefCell<Table>, size: [f32; 2]) -> Harness<'a> {
    let (figures, pull) = (figures(), pull());
    bench::window(size, move |ui| {
        let mut table = table.borrow_mut();
        let view = FitView {
            piece: &table.piece,
            figures: Some(&figures),
            is_about: false,
            pull: &pull,
            section: &[],
            picture: None,
            units: table.units,
            planned: None,
            workshop: &table.workshop,
        };
        let asks = fit_ui(ui, ui.max_rect(), &view, &mut |_| ());
        table.asked.extend(asks);
    })
}

#[test]
fn the_end_is_shown_in_the_cap_that_fits() {
    let table = Table::new();
    let harness = window(&table, [1300.0, 640.0]);
    harness.get_by_label("bound end 5.7 mm in a cap 6.0 mm inside, gap 0.30 mm across, fits");
    harness.get_by_label("cap 5.0 mm, gap −0.70 mm, too small, none on the shelf");
    harness.get_by_label("cap 6.0 mm, gap 0.30 mm, fits, none on the shelf");
    harness.get_by_label("cap 7.0 mm, gap 1.3 mm, loose, none on the shelf");
}

#[test]
fn a_cap_that_is_too_small_says_by_how_much() {
    let table = Table::new();
    table.borrow_mut().piece.cap = Some(5.0);
    let harness = window(&table, [1300.0, 640.0]);
    harness
        .get_by_label("bound end 5.7 mm before a cap 5.0 mm inside, 0.70 mm too thick, too small");
}

#[test]
fn a_card_is_pressed_to_look_at_its_cap() {
    let table = Table::new();
    let mut harness = window(&table, [1300.0, 640.0]);
    harness
        .get_by_label("cap 7.0 mm, gap 1.3 mm, loose, none on the shelf")
        .click();
    harness.run();
    assert_eq!(table.borrow().asked, [Edit::ChooseCap(Some(7.0))]);
}

fn unfold_ends(harness: &mut Harness<'_>) {
    harness.get_by_label_contains("Ends: both: cap").focus();
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

fn enter(harness: &mut Harness<'_>, field: &str, text: &str) {
    harness.get_by_label(field).focus();
    harness.run();
    harness.key_press_modifiers(eframe::egui::Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_label(field).type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn caps_are_changed_added_and_taken_off_in_either_unit() {
    let table = Table::new();
    let mut harness = window(&table, [1300.0, 1200.0]);
    unfold_ends(&mut harness);
    enter(&mut harness, "cap 2, mm", "1/4in");
    enter(&mut harness, "one more cap", "5,5");
    enter(&mut harness, "depth of the cap, mm", "10");
    harness.get_by_label("take cap 7.0 mm off the list").click();
    harness.run();
    let asked = [
        Edit::ChangeCap {
            from: 6.0,
            to: 6.35,
        },
        Edit::AddCap(5.5),
        Edit::CapDepth(10.0),
        Edit::RemoveCap(7.0),
    ];
    assert_eq!(table.borrow().asked, asked);
}

#[test]
fn what_is_no_length_is_kept_in_the_field_and_asks_nothing() {
    let table = Table::new();
    let mut harness = window(&table, [1300.0, 640.0]);
    unfold_ends(&mut harness);
    enter(&mut harness, "cap 2, mm", "wide");
    assert!(table.borrow().asked.is_empty());
    let field = harness.get_by_label("cap 2, mm");
    assert_eq!(field.value().as_deref(), Some("wide"));
}

#[test]
fn the_arrow_keys_walk_the_points_of_the_plot() {
    let table = Table::new();
    let mut harness = window(&table, [1300.0, 640.0]);
    harness
        .get_by_label("thickness and length under pull")
        .focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    let plot = harness.get_by_label("thickness and length under pull");
    let value = plot.accesskit_node().value();
    assert_eq!(
        value.as_deref(),
        Some("at 50 g: 6.3 mm, 5.8 to 6.8; length +0.5 %")
    );
}

#[test]
fn inches_are_shown_everywhere_when_the_maker_likes_them() {
    let table = Table::new();
    table.borrow_mut().units = UnitSystem::Inches;
    let mut harness = window(&table, [1300.0, 640.0]);
    unfold_ends(&mut harness);
    harness.get_by_label("cap 2, in");
    harness.get_by_label_contains("A yard on the disc is 35.5 in");
}

#[test]
fn narrow_and_low_windows_show_the_same_sheets() {
    for size in [[1000.0, 500.0], [560.0, 420.0]] {
        let table = Table::new();
        let mut harness = window(&table, size);
        unfold_ends(&mut harness);
        harness.get_by_label("cap 6.0 mm, gap 0.30 mm, fits, none on the shelf");
        harness.get_by_label("one more cap");
    }
}

#[test]
fn the_plot_shows_the_cord_in_the_state_that_was_chosen() {
    let table = Table::new();
    let mut harness = window(&table, [1300.0, 640.0]);
    harness.get_by_label("state of the cord: fresh").click();
    harness.run();
    let plot = harness.get_by_label("thickness and length under pull");
    let value = plot.accesskit_node().value();
    assert_eq!(
        value.as_deref(),
        Some("at 0 g: 6.6 mm, 5.8 to 6.8; length 0.0 %")
    );
}

#[test]
fn the_weight_of_a_pendant_is_marked_on_the_plot() {
    let table = Table::new();
    table.borrow_mut().piece.pendant = Some(Pendant {
        name: "drop".to_owned(),
        bail: 5.0,
        grams: 75.0,
    });
    let harness = window(&table, [1300.0, 640.0]);
    let plot = harness.get_by_label_contains("under pull with drop, 75 g");
    let value = plot.accesskit_node().value();
    assert_eq!(
        value.as_deref(),
        Some("at 0 g: 6.4 mm, 5.8 to 6.8; length 0.0 %")
    );
}
