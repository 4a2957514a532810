//! How the maker works: prices, what is cut off and kept in hand, the pace.

use eframe::egui::Ui;

use super::Shelf;
use crate::app::controls::segments;
use crate::app::fonts::Role;
use crate::app::stage::entry::{Grain, LengthEntry, NumberEntry, money, name, row};
use crate::plan::{Table, Workshop};

/// Width of the fields.
const FIELD: f32 = 116.0;

/// A number of the workshop: its words, a note, unit, least and most, step.
struct Number {
    label: &'static str,
    note: &'static str,
    unit: &'static str,
    range: (f64, f64),
    step: f64,
    /// What one of the shown unit is in the workshop's.
    one: f64,
    place: fn(&mut Workshop) -> &mut f64,
}

fn number_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, number: &Number) {
    let now = *(number.place)(&mut shelf.workshop().clone());
    row(ui, number.label, number.note, |ui| {
        let entry = NumberEntry {
            name: number.label,
            unit: number.unit,
            value: (now / number.one * 1e9).round() / 1e9,
            range: number.range,
            step: number.step,
            width: FIELD,
        };
        if let Some(value) = entry.show(ui) {
            let done = number.label.to_lowercase();
            shelf.ask(&done, |workshop| {
                *(number.place)(workshop) = value * number.one;
            });
        }
    });
}

fn length_ui(
    ui: &mut Ui,
    shelf: &mut Shelf<'_, '_>,
    (label, note): (&'static str, &'static str),
    range: (f64, f64),
    place: fn(&mut Workshop) -> Option<&mut f64>,
) {
    let mut copy = shelf.workshop().clone();
    let Some(now) = place(&mut copy).map(|now| *now) else {
        return;
    };
    row(ui, label, note, |ui| {
        let entry = LengthEntry {
            name: label,
            grain: Grain::Fine,
            mm: now,
            range,
            units: shelf.units(),
            width: FIELD,
        };
        if let Some(mm) = entry.show(ui) {
            shelf.ask(&label.to_lowercase(), |workshop| {
                if let Some(place) = place(workshop) {
                    *place = mm;
                }
            });
        }
    });
}

/// What the maker asks for it.
pub(super) fn prices_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    let prices = shelf.workshop().prices.clone();
    row(
        ui,
        "Currency",
        "a word of yours, nothing is converted",
        |ui| {
            if let Some(word) = name(ui, "currency", &prices.currency, "–", FIELD) {
                shelf.ask("currency", |workshop| workshop.prices.currency = word);
            }
        },
    );
    row(ui, "Decimal places", "of its smallest unit", |ui| {
        let mut places = u16::from(prices.places);
        if crate::app::controls::stepper(ui, "decimal places", &mut places, 0..=4) {
            shelf.ask("decimal places", |workshop| {
                workshop.prices.places = places as u8;
            });
        }
    });
    row(ui, "An hour of work", "", |ui| {
        if let Some(hour) = money(ui, "an hour of work", prices.hour, &prices, FIELD) {
            shelf.ask("price of an hour", |workshop| workshop.prices.hour = hour);
        }
    });
    row(
        ui,
        "Small things",
        "binding thread, glue, wear; a piece",
        |ui| {
            if let Some(sum) = money(ui, "small things", prices.small_things, &prices, FIELD) {
                shelf.ask("price of small things", |workshop| {
                    workshop.prices.small_things = sum;
                });
            }
        },
    );
    Role::Note.label(ui, "Margin and tax stand with the price.");
}

/// Where it is braided, and what is cut off and kept in hand.
pub(super) fn cutting_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    let table = shelf.workshop().table;
    let mut stand = matches!(table, Table::Stand { .. });
    row(ui, "Braided on", "", |ui| {
        if segments(
            ui,
            "braided on",
            &mut stand,
            &[(true, "a stand"), (false, "a disc")],
        ) {
            let to = match table {
                Table::Disc { .. } => Table::Stand { reach: 250.0 },
                Table::Stand { .. } => Table::Disc { radius: 75.0 },
            };
            shelf.ask("where it is braided", |workshop| workshop.table = to);
        }
    });
    let reach = if stand {
        (
            "Reach",
            "from the point of braiding to a bobbin that still moves",
        )
    } else {
        ("Radius", "from the hole's middle to the slot")
    };
    length_ui(ui, shelf, reach, (5.0, 2000.0), |w| match &mut w.table {
        Table::Disc { radius } => Some(radius),
        Table::Stand { reach } => Some(reach),
    });
    length_ui(
        ui,
        shelf,
        ("Start", "knot and tail, a strand"),
        (0.0, 2000.0),
        |w| Some(&mut w.cutting.start),
    );
    length_ui(
        ui,
        shelf,
        ("In the hand", "beyond the slot"),
        (0.0, 2000.0),
        |w| Some(&mut w.cutting.hand),
    );
    length_ui(
        ui,
        shelf,
        ("Uneven", "cord at each end that is cut away"),
        (0.0, 500.0),
        |w| Some(&mut w.cutting.uneven),
    );
    length_ui(
        ui,
        shelf,
        ("Marks of my rule", "cuts are rounded up to them"),
        (0.1, 1000.0),
        |w| Some(&mut w.cutting.mark),
    );
    for number in &CUTTING {
        number_ui(ui, shelf, number);
    }
}

const CUTTING: [Number; 2] = [
    Number {
        label: "Long enough",
        note: "how many times in 100",
        unit: "%",
        range: (50.0, 99.9),
        step: 0.5,
        one: 0.01,
        place: |w| &mut w.cutting.sure,
    },
    Number {
        label: "Spare",
        note: "bought beyond what is cut",
        unit: "%",
        range: (0.0, 100.0),
        step: 1.0,
        one: 0.01,
        place: |w| &mut w.cutting.waste,
    },
];

/// The pace of the hands.
pub(super) fn pace_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    Role::Note.label(ui, "Hours come of it; what you measured on a cord is best.");
    for number in &PACE {
        number_ui(ui, shelf, number);
    }
}

const PACE: [Number; 4] = [
    Number {
        label: "Moves a minute",
        note: "while the hands move",
        unit: "",
        range: (1.0, 200.0),
        step: 1.0,
        one: 1.0,
        place: |w| &mut w.pace.moves_a_minute,
    },
    Number {
        label: "At work",
        note: "share of a sitting in which they do",
        unit: "%",
        range: (5.0, 100.0),
        step: 5.0,
        one: 0.01,
        place: |w| &mut w.pace.at_work,
    },
    Number {
        label: "Setting up",
        note: "cut, tie and wind; a strand",
        unit: "min",
        range: (0.0, 1000.0),
        step: 0.5,
        one: 1.0,
        place: |w| &mut w.pace.set_up,
    },
    Number {
        label: "Finishing",
        note: "bind, glue and close; a piece",
        unit: "min",
        range: (0.0, 10_000.0),
        step: 1.0,
        one: 1.0,
        place: |w| &mut w.pace.finish,
    },
];
