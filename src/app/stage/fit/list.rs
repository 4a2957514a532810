//! The end caps at hand.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{Entered, Field, IconButton};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::stage::entry::{Grain, LengthEntry};
use crate::document::Edit;

/// Smallest and largest cap there can be, mm. Our guess, wide.
const RANGE: (f64, f64) = (0.1, 100.0);

/// The list: their width inside, as measured or printed.
pub(super) fn list_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    Role::Note.label(ui, "their width inside, as measured or printed");
    ui.add_space(2.0);
    caps(ui, view, asks);
}

/// Two by two; the last field takes one more.
fn caps(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let caps = &view.piece.caps;
    // A field, a small gap and the cross, twice, with a gap between them.
    let field = (ui.available_width() - 2.0 * 30.0 - 10.0) / 2.0;
    for pair in 0..=caps.len() / 2 {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0;
            for k in 2 * pair..=(2 * pair + 1).min(caps.len()) {
                match caps.get(k) {
                    Some(cap) => one_cap(ui, view, k, *cap, field, asks),
                    None => new_cap(ui, view, field, asks),
                }
                if k == 2 * pair {
                    ui.add_space(10.0);
                }
            }
        });
    }
}

fn one_cap(ui: &mut Ui, view: &FitView<'_>, k: usize, cap: f64, width: f32, asks: &mut Vec<Edit>) {
    let name = format!("cap {}", k + 1);
    if let Some(to) = entry(view, &name, cap, width).show(ui) {
        asks.push(Edit::ChangeCap { from: cap, to });
    }
    let away = format!("take cap {} off the list", view.length(cap));
    let cross = ui.vertical(|ui| {
        // In the middle of the field beside it.
        ui.add_space(4.0);
        ui.add(IconButton::new(Icon::Cross, &away).small())
    });
    if cross.inner.clicked() {
        asks.push(Edit::RemoveCap(cap));
    }
}

fn new_cap(ui: &mut Ui, view: &FitView<'_>, width: f32, asks: &mut Vec<Edit>) {
    let field = Field::new("one more cap").hint("add one").width(width);
    let read = |text: &str| match text {
        "" => Ok(None),
        text => entry(view, "", 0.0, width).read(text).map(Some),
    };
    if let Some(Entered::Value(Some(mm))) = field.show(ui, "", read) {
        asks.push(Edit::AddCap(mm));
    }
}

/// The field for a cap, by its inner diameter, mm.
fn entry<'a>(view: &FitView<'_>, name: &'a str, mm: f64, width: f32) -> LengthEntry<'a> {
    LengthEntry {
        name,
        grain: Grain::Fine,
        mm,
        range: RANGE,
        units: view.units,
        width,
    }
}
