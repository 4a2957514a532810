//! The question: what is wished for, how much of it, and what may change for it.

use eframe::egui::{Align, Layout, Ui, vec2};

use super::OtherWay;
use crate::app::controls::{Entered, Field, chip, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::plan::wish::{Freedom, Wanted};
use crate::quantity::{Length, UnitSystem};

/// Smallest and largest thickness or cap there can be, mm. Our guess, wide.
const LEAST: f64 = 0.1;
const MOST: f64 = 100.0;

/// What is wished for, and how much of it.
pub(super) fn question_ui(ui: &mut Ui, desk: &Desk<'_>, other: &mut OtherWay) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 10.0;
        let words = [(Wanted::Thickness, "thickness"), (Wanted::BoundEnd, "cap")];
        segments(ui, "wished for", &mut other.wanted, &words);
        let units = desk.units();
        match other.wanted {
            Wanted::Thickness => {
                let now = desk.known().figures().map(|it| it.thickness_rested.value);
                length_ui(ui, "wanted thickness", &mut other.thickness, now, units);
            }
            Wanted::BoundEnd => {
                let cap = desk.design.piece.cap;
                length_ui(ui, "inside of the wanted cap", &mut other.cap, cap, units);
            }
        }
        if other.wish(&desk.design.piece).is_some() {
            let beside = vec2(ui.available_width(), 34.0);
            ui.allocate_ui_with_layout(beside, Layout::left_to_right(Align::Center), |ui| {
                Role::Note.label(ui, "with these colours");
            });
        }
    });
}

/// A field for a length that need not be there; `now` is where its steps begin.
fn length_ui(ui: &mut Ui, name: &str, mm: &mut Option<f64>, now: Option<f64>, units: UnitSystem) {
    let unit = match units {
        UnitSystem::Millimetres => "mm",
        UnitSystem::Inches => "in",
    };
    // As fine as it is shown.
    let now = now.map(|now| (now * 10.0).round() / 10.0);
    let hint = now.map_or_else(String::new, |now| bare(now, units));
    let shown = mm.map_or_else(String::new, |mm| bare(mm, units));
    let field = Field::new(name).unit(unit).hint(&hint).width(96.0).steps();
    let read = |text: &str| match text {
        "" => Ok(None),
        text => read(text, units).map(Some),
    };
    match field.show(ui, &shown, read) {
        Some(Entered::Value(value)) => *mm = value,
        Some(Entered::Step(steps)) => {
            let from = mm.or(now).unwrap_or(LEAST);
            *mm = Some(stepped(from, steps, units));
        }
        None => {}
    }
}

/// What may change: each is a word that is on or off.
pub(super) fn free_ui(ui: &mut Ui, other: &mut OtherWay) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        Role::Note.label(ui, "may change");
        for freedom in Freedom::ALL {
            let is_free = other.free.contains(&freedom);
            if !chip(ui, freedom.words(), is_free).clicked() {
                continue;
            }
            if is_free {
                other.free.remove(&freedom);
            } else {
                other.free.insert(freedom);
            }
        }
    });
}

/// So many tenths of a millimetre or sixty-fourths of an inch further.
fn stepped(mm: f64, steps: i32, units: UnitSystem) -> f64 {
    let step = match units {
        UnitSystem::Millimetres => 0.1,
        UnitSystem::Inches => Length::from_inches(1.0 / 64.0).mm(),
    };
    let to = mm + f64::from(steps) * step;
    // Steps of 0.1 do not add up to whole numbers.
    (to.clamp(LEAST, MOST) * 1e6).round() / 1e6
}

/// The length typed, mm. The faults are short: the field is narrow.
fn read(text: &str, units: UnitSystem) -> Result<f64, String> {
    let Ok(length) = Length::read(text, units) else {
        return Err(format!("{text} is not a length"));
    };
    if !(LEAST..=MOST).contains(&length.mm()) {
        let [least, most] = [LEAST, MOST].map(|mm| bare(mm, units));
        return Err(format!("from {least} to {most}, please"));
    }
    Ok(length.mm())
}

/// A length without its unit, as it stands in a field.
fn bare(mm: f64, units: UnitSystem) -> String {
    let written = Length::from_mm(mm).written(units);
    let number = written
        .rsplit_once(' ')
        .map(|(number, _)| number.to_owned());
    number.unwrap_or(written)
}
