//! The maker's bobbins.

use eframe::egui::Ui;

use super::Shelf;
use super::table::{captions, cell, line};
use crate::app::controls::{Button, IconButton};
use crate::app::icons::Icon;
use crate::app::stage::entry::{Grain, LengthEntry, NumberEntry, name};
use crate::plan::Bobbin;

const GRAMS: f32 = 92.0;
const HOLDS: f32 = 112.0;
const THERE: f32 = 76.0;
const END: f32 = 26.0;

/// The list of bobbins.
pub(super) fn bobbins_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    let wide = GRAMS + HOLDS + THERE + END + 4.0 * 8.0;
    let wide = (ui.available_width() - wide).max(150.0);
    let columns = [
        ("", wide),
        ("empty", GRAMS),
        ("holds, of 2 mm", HOLDS),
        ("there", THERE),
    ];
    captions(ui, &columns);
    for at in 0..shelf.workshop().bobbins.len() {
        ui.push_id(("bobbin", at), |ui| {
            line(ui, |ui| bobbin_ui(ui, shelf, at, wide));
        });
    }
    ui.add_space(4.0);
    if ui
        .add(Button::plain("One more kind of bobbin").icon(Icon::Plus))
        .clicked()
    {
        let bobbin = Bobbin {
            name: format!("bobbin {}", shelf.workshop().bobbins.len() + 1),
            grams: 9.0,
            holds: 2.7,
            there: 8,
        };
        shelf.ask("one more kind of bobbin", |workshop| {
            workshop.bobbins.push(bobbin);
        });
    }
}

fn bobbin_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, wide: f32) {
    let bobbin = shelf.workshop().bobbins[at].clone();
    let called = &bobbin.name;
    if let Some(to) = name(ui, &format!("name of {called}"), called, "name", wide) {
        shelf.ask("name of a bobbin", |workshop| {
            workshop.bobbins[at].name = to;
        });
    }
    let weight = NumberEntry {
        name: &format!("{called}: weight"),
        unit: "g",
        value: bobbin.grams,
        range: (0.0, 10_000.0),
        step: 1.0,
        width: GRAMS,
    };
    if let Some(grams) = weight.show(ui) {
        let done = format!("weight of {called}");
        shelf.ask(&done, |workshop| workshop.bobbins[at].grams = grams);
    }
    let holds = LengthEntry {
        name: &format!("{called}: holds"),
        grain: Grain::Reel,
        mm: 1000.0 * bobbin.holds,
        range: (10.0, 1e6),
        units: shelf.units(),
        width: HOLDS,
    };
    if let Some(mm) = holds.show(ui) {
        let done = format!("what {called} holds");
        shelf.ask(&done, |workshop| workshop.bobbins[at].holds = mm / 1000.0);
    }
    let there = NumberEntry {
        name: &format!("{called}: there"),
        unit: "",
        value: f64::from(bobbin.there),
        range: (0.0, 1000.0),
        step: 1.0,
        width: THERE,
    };
    if let Some(count) = there.show(ui) {
        let done = format!("number of {called}");
        shelf.ask(&done, |workshop| workshop.bobbins[at].there = count as u16);
    }
    let words = format!("take {called} off the shelf");
    let away = cell(ui, END, 34.0, |ui| {
        ui.add(IconButton::new(Icon::Cross, &words).small())
    });
    if away.clicked() {
        shelf.ask(&words, |workshop| drop(workshop.bobbins.remove(at)));
    }
}
