//! The sheet "The piece": what it is, how long, how it closes and ends, and the cord
//! that comes of it.

use eframe::egui::Ui;

use super::fold::{FitState, Fold, fold_ui};
use super::{FitView, binding, closure, ends, many, measure, sum, worn};
use crate::app::controls::{chip, head, segments};
use crate::document::{Edit, PieceEdit};
use crate::plan::{Kind, Measure};

/// All of the sheet.
pub(super) fn piece_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let mut kept = FitState::of(ui);
    let state = &mut kept;
    ui.spacing_mut().item_spacing.y = 4.0;
    head(ui, "The piece", |_| ());
    kind_ui(ui, view, asks);
    ui.add_space(6.0);
    measure::measure_ui(ui, view, asks);
    ui.spacing_mut().item_spacing.y = 0.0;
    let usual = usual_words(view);
    fold_ui(ui, state, Fold::Measure, ["Usual", &usual, ""], |ui| {
        measure::usual_ui(ui, view, asks);
    });
    let [closes, adds] = closure::words(view);
    fold_ui(
        ui,
        state,
        Fold::Closure,
        ["Closure", &closes, &adds],
        |ui| {
            closure::closure_ui(ui, view, asks);
        },
    );
    let [how, more] = ends::words(view);
    fold_ui(ui, state, Fold::Ends, ["Ends", &how, &more], |ui| {
        ends::ends_ui(ui, view, asks);
    });
    let bound = binding::words(view);
    fold_ui(ui, state, Fold::Binding, ["Bound", &bound, ""], |ui| {
        binding::binding_ui(ui, view, asks);
    });
    let wears = worn::words(view);
    fold_ui(ui, state, Fold::Worn, ["Worn by", &wears, ""], |ui| {
        worn::worn_ui(ui, view, asks);
    });
    let count = many::words(view);
    fold_ui(ui, state, Fold::Many, ["How many", &count, ""], |ui| {
        many::many_ui(ui, view, asks);
    });
    sum::sum_ui(ui, view, state);
    kept.keep(ui);
}

/// The two kinds most asked for, and the others once that is pressed.
fn kind_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let kind = view.piece.kind;
    let group = |kind: Kind| match kind {
        Kind::Necklace => 0_u8,
        Kind::Bracelet => 1,
        _ => 2,
    };
    let mut chosen = group(kind);
    let words = [(0, "necklace"), (1, "bracelet"), (2, "other")];
    if segments(ui, "kind of piece", &mut chosen, &words) {
        let to = match chosen {
            0 => Kind::Necklace,
            1 => Kind::Bracelet,
            _ => Kind::Free,
        };
        asks.push(Edit::Piece(PieceEdit::Kind(to)));
    }
    if group(kind) != 2 {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for other in Kind::ALL.into_iter().filter(|kind| group(*kind) == 2) {
            if chip(ui, other.word(), other == kind).clicked() && other != kind {
                asks.push(Edit::Piece(PieceEdit::Kind(other)));
            }
        }
    });
}

/// Which of the usual measures it has, if any.
fn usual_words(view: &FitView<'_>) -> String {
    let piece = view.piece;
    let same = |measure: &Measure| *measure == piece.measure;
    let known = piece.kind.usual().iter().find(|usual| same(&usual.measure));
    known.map_or_else(
        || "my own measure".to_owned(),
        |usual| usual.name.to_owned(),
    )
}
