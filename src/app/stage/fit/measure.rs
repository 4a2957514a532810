//! How long it is: along its axis, or round a wrist with ease.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{chip, link};
use crate::app::fonts::Role;
use crate::app::stage::entry::{Grain, LengthEntry, row};
use crate::document::{Edit, PieceEdit};
use crate::plan::{EASES, Kind, Measure};

/// Shortest and longest measure, mm: a ring, a hundred metres.
const RANGE: (f64, f64) = (10.0, 100_000.0);
/// Least and most ease, mm; below nought where it sits tight.
const EASE: (f64, f64) = (-100.0, 1000.0);

/// The field or fields for it.
pub(super) fn measure_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    match view.piece.measure {
        Measure::Length(length) => {
            let (name, note) = length_words(view.piece.kind);
            if let Some(length) = field(ui, view, (name, note), length, RANGE) {
                asks.push(measured(Measure::Length(length)));
            }
        }
        Measure::Round { girth, ease } => {
            let name = girth_word(view.piece.kind);
            let note = "measured round, close";
            if let Some(girth) = field(ui, view, (name, note), girth, RANGE) {
                asks.push(measured(Measure::Round { girth, ease }));
            }
            if let Some(ease) = field(ui, view, ("Ease", "room for comfort"), ease, EASE) {
                asks.push(measured(Measure::Round { girth, ease }));
            }
        }
    }
}

fn measured(measure: Measure) -> Edit {
    Edit::Piece(PieceEdit::Measure(measure))
}

fn length_words(kind: Kind) -> (&'static str, &'static str) {
    match kind {
        Kind::Necklace => ("Worn length", "round the neck, closed"),
        Kind::Bracelet | Kind::Anklet => ("Length", "closed, along its middle"),
        Kind::Lanyard | Kind::SpectacleCord => ("Length", "all round, closed"),
        _ => ("Length", "finished, findings included"),
    }
}

fn girth_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Bracelet => "Wrist",
        Kind::Anklet => "Ankle",
        Kind::Necklace | Kind::Lanyard => "Neck",
        _ => "Girth",
    }
}

fn field(
    ui: &mut Ui,
    view: &FitView<'_>,
    (name, note): (&str, &str),
    mm: f64,
    range: (f64, f64),
) -> Option<f64> {
    let entry = LengthEntry {
        name,
        grain: Grain::Long,
        mm,
        range,
        units: view.units,
        width: 112.0,
    };
    row(ui, name, note, |ui| entry.show(ui))
}

/// Measures to start from, where they come from, and the other way of measuring.
pub(super) fn usual_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let piece = view.piece;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for usual in piece.kind.usual() {
            let words = match usual.measure {
                Measure::Length(length) => format!("{} {}", usual.name, view.long(length)),
                Measure::Round { girth, .. } => format!("{} {}", usual.name, view.long(girth)),
            };
            if chip(ui, &words, usual.measure == piece.measure).clicked() {
                asks.push(measured(usual.measure));
            }
        }
    });
    if let Some(usual) = piece.kind.usual().first() {
        Role::Note.label(ui, usual.source);
    }
    match piece.measure {
        Measure::Round { girth, ease } => {
            eases_ui(ui, view, girth, ease, asks);
            if link(ui, "measure its length instead").clicked() {
                asks.push(measured(Measure::Length(girth + ease)));
            }
        }
        Measure::Length(length) => {
            if link(ui, "measure it round, with ease").clicked() {
                let ease = EASES[1].1;
                asks.push(measured(Measure::Round {
                    girth: (length - ease).max(RANGE.0),
                    ease,
                }));
            }
        }
    }
    longer_ui(ui, view, asks);
}

fn eases_ui(ui: &mut Ui, view: &FitView<'_>, girth: f64, now: f64, asks: &mut Vec<Edit>) {
    Role::Label.label(ui, "Ease");
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for (name, ease) in EASES {
            let words = format!("{name} {}", view.long(ease));
            if chip(ui, &words, ease == now).clicked() {
                asks.push(measured(Measure::Round { girth, ease }));
            }
        }
    });
}

/// The same, longer or shorter by a step.
fn longer_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    ui.horizontal(|ui| {
        for (words, by) in [("5 cm longer", 50.0), ("5 cm shorter", -50.0)] {
            let words = if view.is_inches() {
                words.replace("5 cm", "2 in")
            } else {
                words.to_owned()
            };
            let by = if view.is_inches() {
                by * 50.8 / 50.0
            } else {
                by
            };
            if link(ui, &words).clicked() {
                asks.push(measured(view.piece.measure.longer(by)));
            }
            ui.add_space(6.0);
        }
    });
}
