//! The end caps at hand.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{Entered, Field, IconButton};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::document::Edit;
use crate::quantity::{Length, UnitSystem};

/// A step of the arrow keys in a field, mm: half a millimetre or a
/// sixty-fourth of an inch.
fn step(units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Millimetres => 0.5,
        UnitSystem::Inches => Length::from_inches(1.0 / 64.0).mm(),
    }
}

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
    let shown = bare(cap, view.units);
    let field = Field::new(&name).unit(view.unit()).width(width).steps();
    let entered = field.show(ui, &shown, |text| read(text, view.units));
    if let Some(to) = value(entered, cap, view.units) {
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
        text => read(text, view.units).map(Some),
    };
    if let Some(Entered::Value(Some(mm))) = field.show(ui, "", read) {
        asks.push(Edit::AddCap(mm));
    }
}

/// The value that was entered, if it is another one.
fn value(entered: Option<Entered<f64>>, before: f64, units: UnitSystem) -> Option<f64> {
    let mm = match entered? {
        Entered::Value(mm) => mm,
        // A quarter of a micrometre off is what steps of 0.1 add up to.
        Entered::Step(steps) => {
            let to = before + f64::from(steps) * step(units);
            (to.clamp(LEAST, MOST) * 1e6).round() / 1e6
        }
    };
    ((mm - before).abs() > 1e-9).then_some(mm)
}

/// Smallest and largest cap or depth there can be, mm. Our guess, wide.
const LEAST: f64 = 0.1;
const MOST: f64 = 100.0;

/// The length typed, mm. The faults are short: the field is narrow.
fn read(text: &str, units: UnitSystem) -> Result<f64, String> {
    let Ok(length) = Length::read(text, units) else {
        return Err(format!("{text} is not a length"));
    };
    if !(LEAST..=MOST).contains(&length.mm()) {
        let [least, most] = [LEAST, MOST].map(|mm| bare(mm, units));
        return Err(format!("between {least} and {most}, please"));
    }
    Ok(length.mm())
}

/// A length without its unit, as it stands in a field.
fn bare(mm: f64, units: UnitSystem) -> String {
    let written = Length::from_mm(mm).written(units);
    written
        .rsplit_once(' ')
        .map_or(written.clone(), |(number, _)| number.to_owned())
}
