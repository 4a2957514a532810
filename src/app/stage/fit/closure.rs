//! What closes the piece.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{chip, switch};
use crate::app::fonts::Role;
use crate::app::stage::entry::{self, Grain, LengthEntry, row};
use crate::document::{Edit, PieceEdit};
use crate::plan::{Closure, FindingKind, closures};

/// What it is called, and what it adds.
pub(super) fn words(view: &FitView<'_>) -> [String; 2] {
    let closure = &view.piece.closure;
    if closure.name.is_empty() && closure.adds == 0.0 {
        return ["none".to_owned(), String::new()];
    }
    let name = if closure.name.is_empty() {
        "closure"
    } else {
        &closure.name
    };
    let adds = view.length(closure.adds);
    let with = if closure.with_ends {
        ", caps included"
    } else {
        ""
    };
    [name.to_owned(), format!("adds {adds}{with}")]
}

/// Known ones to pick, and its own figures.
pub(super) fn closure_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let now = &view.piece.closure;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        if chip(ui, "none", *now == Closure::default()).clicked() {
            asks.push(closed(Closure::default()));
        }
        for closure in own(view).into_iter().chain(closures()) {
            if chip(ui, &closure.name, closure.name == now.name).clicked() {
                asks.push(closed(closure));
            }
        }
    });
    Role::Note.label(ui, "what they add: common practice; measure yours");
    row(ui, "Its name", "", |ui| {
        if let Some(name) = entry::name(ui, "name of the closure", &now.name, "none", 132.0) {
            asks.push(closed(Closure {
                name,
                ..now.clone()
            }));
        }
    });
    row(ui, "Adds", "to the length, closed", |ui| {
        let entry = LengthEntry {
            name: "closure adds",
            grain: Grain::Fine,
            mm: now.adds,
            range: (0.0, 1000.0),
            units: view.units,
            width: 112.0,
        };
        if let Some(adds) = entry.show(ui) {
            asks.push(closed(Closure {
                adds,
                ..now.clone()
            }));
        }
    });
    turn(ui, "that includes the caps", now.with_ends, |with_ends| {
        asks.push(closed(Closure {
            with_ends,
            ..now.clone()
        }));
    });
    turn(ui, "gives way under a pull", now.breakaway, |breakaway| {
        asks.push(closed(Closure {
            breakaway,
            ..now.clone()
        }));
    });
    turn(ui, "magnetic", now.magnetic, |magnetic| {
        asks.push(closed(Closure {
            magnetic,
            ..now.clone()
        }));
    });
}

fn closed(closure: Closure) -> Edit {
    Edit::Piece(PieceEdit::Closure(closure))
}

/// The maker's own clasps.
fn own(view: &FitView<'_>) -> Vec<Closure> {
    let clasps = view.workshop.findings.iter();
    let clasps = clasps.filter(|finding| finding.kind == FindingKind::Clasp);
    let known = closures();
    clasps
        .filter(|finding| known.iter().all(|closure| closure.name != finding.name))
        .map(|finding| Closure {
            name: finding.name.clone(),
            adds: finding.adds,
            with_ends: finding.inner.is_some(),
            ..Closure::default()
        })
        .collect()
}

/// A switch with its words.
pub(super) fn turn(ui: &mut Ui, words: &str, on: bool, mut ask: impl FnMut(bool)) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let mut now = on;
        if switch(ui, words, &mut now) {
            ask(now);
        }
        Role::Text.label(ui, words);
    });
}
