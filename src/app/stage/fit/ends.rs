//! How the two ends are finished.

use eframe::egui::Ui;

use super::{FitView, list};
use crate::app::controls::{chip, link};
use crate::app::fonts::Role;
use crate::app::stage::entry::{Grain, LengthEntry, NumberEntry, row};
use crate::document::{Edit, Piece, PieceEdit};
use crate::plan::End;

/// Least and most of any measure of an end, mm.
const RANGE: (f64, f64) = (0.5, 500.0);

/// The word for how an end is finished.
pub(super) fn word(end: End) -> &'static str {
    match end {
        End::Cap => "cap",
        End::FlatCap { .. } => "flat cap",
        End::Crimp { .. } => "crimp",
        End::Knot { .. } => "knot",
        End::Tassel { .. } => "tassel",
        End::Loop { .. } => "loop",
        End::Button { .. } => "button",
        End::Bare => "bare",
    }
}

/// Whether an end goes into a round cap.
pub(super) fn has_cap(piece: &Piece) -> bool {
    piece.ends.contains(&End::Cap)
}

/// Both ends in words.
pub(super) fn words(view: &FitView<'_>) -> [String; 2] {
    let [first, last] = view.piece.ends;
    let how = if first == last {
        format!("both: {}", word(first))
    } else {
        format!("{} and {}", word(first), word(last))
    };
    let more = match (has_cap(view.piece), view.cap()) {
        (true, Some(cap)) => {
            let depth = view.length(view.piece.cap_depth);
            format!("{} inside, {depth} deep", view.length(cap))
        }
        _ => String::new(),
    };
    [how, more]
}

/// What an end starts with when its word is pressed. Common practice, no source.
fn usual(view: &FitView<'_>) -> [End; 8] {
    let thick = view
        .figures
        .map_or(6.0, |figures| figures.thickness_rested.value);
    let wide = view
        .figures
        .map_or(thick, |figures| figures.width_rested.value);
    let half = |mm: f64| (2.0 * mm).ceil() / 2.0;
    [
        End::Cap,
        End::FlatCap {
            width: half(wide + 0.5),
            thickness: half(thick + 0.5),
        },
        End::Crimp { width: half(wide) },
        End::Knot { thicknesses: 10.0 },
        End::Tassel { length: 40.0 },
        End::Loop { opening: 15.0 },
        End::Button { across: 15.0 },
        End::Bare,
    ]
}

/// Both ends, one under the other.
pub(super) fn ends_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    for (at, name) in ["First end", "Last end"].into_iter().enumerate() {
        ui.push_id(at, |ui| end_ui(ui, view, at, name, asks));
    }
    let [first, last] = view.piece.ends;
    if first != last && link(ui, "the last like the first").clicked() {
        asks.push(finished(1, first));
    }
    if view
        .piece
        .ends
        .iter()
        .any(|end| matches!(end, End::Cap | End::FlatCap { .. } | End::Crimp { .. }))
    {
        depth_ui(ui, view, asks);
    }
    if has_cap(view.piece) {
        Role::Label.label(ui, "Caps at hand");
        list::list_ui(ui, view, asks);
    }
}

fn finished(at: usize, end: End) -> Edit {
    Edit::Piece(PieceEdit::End { at, end })
}

fn end_ui(ui: &mut Ui, view: &FitView<'_>, at: usize, name: &str, asks: &mut Vec<Edit>) {
    let now = view.piece.ends[at];
    Role::Label.label(ui, name);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for end in usual(view) {
            let is_now = word(end) == word(now);
            if chip(ui, word(end), is_now).clicked() && !is_now {
                asks.push(finished(at, end));
            }
        }
    });
    let name = name.to_lowercase();
    match now {
        End::Cap | End::Bare => {}
        End::FlatCap { width, thickness } => {
            if let Some(width) = length(ui, view, &name, "width inside", width) {
                asks.push(finished(at, End::FlatCap { width, thickness }));
            }
            if let Some(thickness) = length(ui, view, &name, "thickness inside", thickness) {
                asks.push(finished(at, End::FlatCap { width, thickness }));
            }
        }
        End::Crimp { width } => {
            if let Some(width) = length(ui, view, &name, "width of its jaws", width) {
                asks.push(finished(at, End::Crimp { width }));
            }
        }
        End::Knot { thicknesses } => knot_ui(ui, &name, at, thicknesses, asks),
        End::Tassel { length: now } => {
            if let Some(length) = length(ui, view, &name, "length of the tassel", now) {
                asks.push(finished(at, End::Tassel { length }));
            }
        }
        End::Loop { opening } => {
            if let Some(opening) = length(ui, view, &name, "opening, laid flat", opening) {
                asks.push(finished(at, End::Loop { opening }));
            }
        }
        End::Button { across } => {
            if let Some(across) = length(ui, view, &name, "across the button", across) {
                asks.push(finished(at, End::Button { across }));
            }
        }
    }
}

fn length(ui: &mut Ui, view: &FitView<'_>, whose: &str, what: &str, mm: f64) -> Option<f64> {
    let name = format!("{whose}: {what}");
    let entry = LengthEntry {
        name: &name,
        grain: Grain::Fine,
        mm,
        range: RANGE,
        units: view.units,
        width: 112.0,
    };
    row(ui, &capital(what), "", |ui| entry.show(ui))
}

fn knot_ui(ui: &mut Ui, whose: &str, at: usize, thicknesses: f64, asks: &mut Vec<Edit>) {
    let name = format!("{whose}: cord in the knot");
    row(ui, "Cord in it", "in thicknesses of the cord", |ui| {
        let entry = NumberEntry {
            name: &name,
            unit: "×",
            value: thicknesses,
            range: (1.0, 100.0),
            step: 0.5,
            width: 112.0,
        };
        if let Some(thicknesses) = entry.show(ui) {
            asks.push(finished(at, End::Knot { thicknesses }));
        }
    });
}

/// Depth of what the end goes into, and the gap for glue.
fn depth_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let depth = LengthEntry {
        name: "depth of the cap",
        grain: Grain::Fine,
        mm: view.piece.cap_depth,
        range: (0.1, 100.0),
        units: view.units,
        width: 112.0,
    };
    if let Some(mm) = row(ui, "Depth of the cap", "", |ui| depth.show(ui)) {
        asks.push(Edit::CapDepth(mm));
    }
    let gap = LengthEntry {
        name: "gap for glue",
        grain: Grain::Fine,
        mm: view.piece.glue_gap,
        range: (0.0, 10.0),
        units: view.units,
        width: 112.0,
    };
    if let Some(mm) = row(ui, "Gap for glue", "across", |ui| gap.show(ui)) {
        asks.push(Edit::Piece(PieceEdit::GlueGap(mm)));
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
