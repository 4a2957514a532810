//! How the ends are bound.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{segments, stepper};
use crate::app::fonts::Role;
use crate::app::stage::entry::{Grain, LengthEntry, row};
use crate::document::{Edit, PieceEdit};
use crate::plan::{Binding, Round};

/// The binding in a few words.
pub(super) fn words(view: &FitView<'_>) -> String {
    let binding = view.piece.binding;
    let layers = match binding.layers {
        0 => return "only sealed".to_owned(),
        1 => "one layer".to_owned(),
        n => format!("{} layers", crate::app::words::count(n.into())),
    };
    let round = match binding.round {
        Round::Braid => "",
        Round::Tails => " round the tails",
    };
    format!("{layers} of {}{round}", view.length(binding.thread))
}

/// What it lies round, thread, layers, width, seal.
pub(super) fn binding_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let now = view.piece.binding;
    let mut ask = |binding: Binding| asks.push(Edit::Piece(PieceEdit::Binding(binding)));
    row(ui, "It lies round", "", |ui| {
        let mut round = now.round;
        let words = [(Round::Tails, "loose tails"), (Round::Braid, "the braid")];
        if segments(ui, "binding lies round", &mut round, &words) {
            ask(Binding { round, ..now });
        }
    });
    row(ui, "Layers", "over one another", |ui| {
        let mut layers = u16::from(now.layers);
        if stepper(ui, "layers of binding", &mut layers, 0..=20) {
            let layers = u8::try_from(layers).unwrap_or(now.layers);
            ask(Binding { layers, ..now });
        }
    });
    if let Some(thread) = field(ui, view, "Thread", "its thickness", now.thread, (0.01, 5.0)) {
        ask(Binding { thread, ..now });
    }
    if let Some(width) = field(ui, view, "Width", "along the cord", now.width, (0.0, 200.0)) {
        ask(Binding { width, ..now });
    }
    if let Some(seal) = field(
        ui,
        view,
        "Seal",
        "glue or melted skin, all round",
        now.seal,
        (0.0, 5.0),
    ) {
        ask(Binding { seal, ..now });
    }
    Role::Note.label(
        ui,
        "Round the braid is usual: it stays as it was braided under the thread.",
    );
}

fn field(
    ui: &mut Ui,
    view: &FitView<'_>,
    name: &str,
    note: &str,
    mm: f64,
    range: (f64, f64),
) -> Option<f64> {
    let said = format!("binding: {}", name.to_lowercase());
    let entry = LengthEntry {
        name: &said,
        grain: Grain::Fine,
        mm,
        range,
        units: view.units,
        width: 112.0,
    };
    row(ui, name, note, |ui| entry.show(ui))
}
