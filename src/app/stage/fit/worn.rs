//! Who wears it, and what hangs on it.

use eframe::egui::Ui;

use super::FitView;
use super::closure::turn;
use crate::app::controls::chip;
use crate::app::fonts::Role;
use crate::app::stage::entry::{self, Grain, LengthEntry, NumberEntry, row};
use crate::document::{Edit, PieceEdit};
use crate::plan::{Pendant, Wearer};

/// Who, and what hangs on it, in a few words.
pub(super) fn words(view: &FitView<'_>) -> String {
    let who = wearer_word(view.piece.wearer);
    match &view.piece.pendant {
        None => who.to_owned(),
        Some(pendant) if pendant.name.is_empty() => format!("{who}, with a pendant"),
        Some(pendant) => format!("{who}, with {}", pendant.name),
    }
}

fn wearer_word(wearer: Wearer) -> &'static str {
    match wearer {
        Wearer::Grown => "grown up",
        Wearer::Child => "a child, 3 to 14",
        Wearer::Infant => "a child under 3",
    }
}

/// The wearer and the pendant.
pub(super) fn worn_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for wearer in [Wearer::Grown, Wearer::Child, Wearer::Infant] {
            if chip(ui, wearer_word(wearer), wearer == view.piece.wearer).clicked() {
                asks.push(Edit::Piece(PieceEdit::Wearer(wearer)));
            }
        }
    });
    Role::Note.label(ui, "for the cautions only");
    let pendant = view.piece.pendant.as_ref();
    turn(ui, "something hangs on it", pendant.is_some(), |on| {
        let usual = || Pendant {
            name: "pendant".to_owned(),
            bail: 6.0,
            grams: 10.0,
        };
        asks.push(hung(on.then(usual)));
    });
    if let Some(pendant) = pendant {
        pendant_ui(ui, view, pendant, asks);
    }
}

fn hung(pendant: Option<Pendant>) -> Edit {
    Edit::Piece(PieceEdit::Pendant(pendant))
}

fn pendant_ui(ui: &mut Ui, view: &FitView<'_>, now: &Pendant, asks: &mut Vec<Edit>) {
    row(ui, "Its name", "", |ui| {
        if let Some(name) = entry::name(ui, "name of the pendant", &now.name, "pendant", 132.0) {
            asks.push(hung(Some(Pendant {
                name,
                ..now.clone()
            })));
        }
    });
    row(ui, "Its bail", "open, across", |ui| {
        let entry = LengthEntry {
            name: "bail",
            grain: Grain::Fine,
            mm: now.bail,
            range: (0.1, 200.0),
            units: view.units,
            width: 112.0,
        };
        if let Some(bail) = entry.show(ui) {
            asks.push(hung(Some(Pendant {
                bail,
                ..now.clone()
            })));
        }
    });
    row(ui, "It weighs", "", |ui| {
        let entry = NumberEntry {
            name: "weight of the pendant",
            unit: "g",
            value: now.grams,
            range: (0.0, 5000.0),
            step: 1.0,
            width: 112.0,
        };
        if let Some(grams) = entry.show(ui) {
            asks.push(hung(Some(Pendant {
                grams,
                ..now.clone()
            })));
        }
    });
}
