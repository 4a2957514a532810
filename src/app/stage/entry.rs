//! Rows of a sheet with a field at their right: lengths, counts, shares, money, words.
//!
//! Every field says in one short sentence what it cannot read, keeps what was typed and
//! leaves the old value in use. Arrow keys step, with Shift ten steps.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::app::controls::{Entered, Field};
use crate::app::fonts::Role;
use crate::app::words;
use crate::plan::Prices;
use crate::quantity::{Length, Money, UnitSystem, read_number};

/// How fine a length is thought of; decides the unit a bare number has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::app) enum Grain {
    /// A cap or a thread: millimetres or inches.
    Fine,
    /// The thickness of a cord: the same, in finer steps.
    Cord,
    /// A wrist or a necklace: centimetres or inches.
    Long,
    /// What is on a reel: metres or yards.
    Reel,
}

impl Grain {
    /// The unit's short name.
    pub(in crate::app) fn unit(self, units: UnitSystem) -> &'static str {
        match (self, units) {
            (Self::Fine | Self::Cord, UnitSystem::Millimetres) => "mm",
            (Self::Long, UnitSystem::Millimetres) => "cm",
            (Self::Reel, UnitSystem::Millimetres) => "m",
            (Self::Reel, UnitSystem::Inches) => "yd",
            (_, UnitSystem::Inches) => "in",
        }
    }

    /// Millimetres in one of it.
    fn mm(self, units: UnitSystem) -> f64 {
        match self.unit(units) {
            "cm" => 10.0,
            "m" => 1000.0,
            "yd" => Length::from_inches(36.0).mm(),
            "in" => Length::from_inches(1.0).mm(),
            _ => 1.0,
        }
    }

    /// A step of the arrow keys, mm: a fine mark of a rule for this.
    fn step(self, units: UnitSystem) -> f64 {
        match (self, units) {
            (Self::Fine, UnitSystem::Millimetres) => 0.5,
            (Self::Cord, UnitSystem::Millimetres) => 0.1,
            (Self::Long, UnitSystem::Millimetres) => 1.0,
            (Self::Fine | Self::Cord, UnitSystem::Inches) => Length::from_inches(1.0 / 64.0).mm(),
            (Self::Long, UnitSystem::Inches) => Length::from_inches(1.0 / 16.0).mm(),
            (Self::Reel, _) => self.mm(units),
        }
    }

    /// A length without its unit, as it stands in a field.
    pub(in crate::app) fn bare(self, mm: f64, units: UnitSystem) -> String {
        if self.unit(units) != "in" {
            return words::number(mm / self.mm(units));
        }
        let written = Length::from_mm(mm).written(units);
        let bare = written
            .rsplit_once(' ')
            .map(|(number, _)| number.to_owned());
        bare.unwrap_or(written)
    }

    /// A length as one says it: `45 cm`, `17¾ in`.
    pub(in crate::app) fn said(self, mm: f64, units: UnitSystem) -> String {
        format!("{} {}", self.bare(mm, units), self.unit(units))
    }

    /// What was typed, mm: a bare number is in this unit, any other unit may stand with it.
    fn read(self, text: &str, units: UnitSystem) -> Option<f64> {
        let whole = read_number(text).ok().map(|number| number * self.mm(units));
        whole.or_else(|| Length::read(text, units).ok().map(Length::mm))
    }
}

/// A field for a length.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct LengthEntry<'a> {
    /// What it is, for the screen reader.
    pub name: &'a str,
    /// How fine it is thought of.
    pub grain: Grain,
    /// The length, mm.
    pub mm: f64,
    /// Least and most, mm.
    pub range: (f64, f64),
    /// The maker's units.
    pub units: UnitSystem,
    /// Width of the field, points.
    pub width: f32,
}

impl LengthEntry<'_> {
    /// Shows it; the length that was entered, mm, if it is another one.
    pub(in crate::app) fn show(self, ui: &mut Ui) -> Option<f64> {
        let (grain, units) = (self.grain, self.units);
        let field = Field::new(self.name)
            .unit(grain.unit(units))
            .width(self.width)
            .steps();
        let entered = field.show(ui, &grain.bare(self.mm, units), |text| self.read(text))?;
        let mm = match entered {
            Entered::Value(mm) => mm,
            Entered::Step(steps) => self.stepped(steps),
        };
        ((mm - self.mm).abs() > 1e-9).then_some(mm)
    }

    /// The same where no length need stand: it does if `there`, else `hint` stands for it and
    /// steps begin at the length it has. What was entered, mm, if it is another; nothing, if
    /// the field was emptied.
    pub(in crate::app) fn show_open(
        self,
        ui: &mut Ui,
        there: bool,
        hint: &str,
    ) -> Option<Option<f64>> {
        let before = there.then_some(self.mm);
        let shown = before.map_or_else(String::new, |mm| self.grain.bare(mm, self.units));
        let field = Field::new(self.name)
            .unit(self.grain.unit(self.units))
            .hint(hint)
            .width(self.width)
            .steps();
        let read = |text: &str| match text {
            "" => Ok(None),
            text => self.read(text).map(Some),
        };
        let mm = match field.show(ui, &shown, read)? {
            Entered::Value(mm) => mm,
            Entered::Step(steps) => Some(self.stepped(steps)),
        };
        (mm != before).then_some(mm)
    }

    fn stepped(&self, steps: i32) -> f64 {
        let to = self.mm + f64::from(steps) * self.grain.step(self.units);
        // Steps of 0.1 do not add up to whole numbers.
        (to.clamp(self.range.0, self.range.1) * 1e6).round() / 1e6
    }

    /// What was typed, mm.
    pub(in crate::app) fn read(&self, text: &str) -> Result<f64, String> {
        let Some(mm) = self.grain.read(text, self.units) else {
            return Err(format!("{} is not a length", short(text)));
        };
        let (least, most) = self.range;
        if !(least..=most).contains(&mm) {
            let [from, to] = [least, most].map(|mm| self.grain.said(mm, self.units));
            return Err(format!("from {from} to {to}, please"));
        }
        Ok(mm)
    }
}

/// A field for a plain number with a unit of its own.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct NumberEntry<'a> {
    /// What it is, for the screen reader.
    pub name: &'a str,
    /// Its unit.
    pub unit: &'a str,
    /// The number.
    pub value: f64,
    /// Least and most.
    pub range: (f64, f64),
    /// A step of the arrow keys.
    pub step: f64,
    /// Width of the field, points.
    pub width: f32,
}

impl NumberEntry<'_> {
    /// Shows it; the number that was entered, if it is another one.
    pub(in crate::app) fn show(self, ui: &mut Ui) -> Option<f64> {
        let field = Field::new(self.name)
            .unit(self.unit)
            .width(self.width)
            .steps();
        let entered = field.show(ui, &words::number(self.value), |text| self.read(text))?;
        let (least, most) = self.range;
        let value = match entered {
            Entered::Value(value) => value,
            Entered::Step(steps) => {
                let to = self.value + f64::from(steps) * self.step;
                (to.clamp(least, most) * 1e6).round() / 1e6
            }
        };
        ((value - self.value).abs() > 1e-9).then_some(value)
    }

    fn read(&self, text: &str) -> Result<f64, String> {
        let bare = text.trim_end_matches(self.unit).trim_end();
        let Ok(value) = read_number(bare) else {
            return Err(format!("{} is not a number", short(text)));
        };
        let (least, most) = self.range;
        if !(least..=most).contains(&value) {
            let [from, to] = [least, most].map(words::number);
            return Err(format!("from {from} to {to}, please"));
        }
        Ok(value)
    }
}

/// A field for a price that may not be known; what was entered, if it is another.
pub(in crate::app) fn money(
    ui: &mut Ui,
    name: &str,
    price: Option<Money>,
    prices: &Prices,
    width: f32,
) -> Option<Option<Money>> {
    let shown = price.map_or_else(String::new, |price| price.shown(prices.places));
    let field = Field::new(name)
        .unit(&prices.currency)
        .hint("–")
        .width(width);
    let read = |text: &str| match text.trim_end_matches(&prices.currency).trim() {
        "" => Ok(None),
        bare => Money::read(bare, prices.places)
            .map(Some)
            .map_err(|_reason| format!("{} is not a price", short(text))),
    };
    match field.show(ui, &shown, read)? {
        Entered::Value(entered) if entered != price => Some(entered),
        _ => None,
    }
}

/// A field for a name; what was entered, if it is another.
pub(in crate::app) fn name(
    ui: &mut Ui,
    name: &str,
    text: &str,
    hint: &str,
    width: f32,
) -> Option<String> {
    let field = Field::new(name).hint(hint).width(width);
    let read = |typed: &str| {
        let fits = typed.chars().count() <= MOST_LETTERS;
        fits.then(|| typed.to_owned())
            .ok_or_else(|| format!("{MOST_LETTERS} letters at most, please"))
    };
    match field.show(ui, text, read)? {
        Entered::Value(entered) if entered != text => Some(entered),
        _ => None,
    }
}

/// Longest name of a closure, a finding, a lot. Our guess, wide.
const MOST_LETTERS: usize = 80;

/// What was typed, cut where it would fill more than a narrow field.
fn short(text: &str) -> String {
    let mut letters = text.chars();
    let begin: String = letters.by_ref().take(14).collect();
    if letters.next().is_some() {
        return format!("{begin}…");
    }
    begin
}

/// A row: what it is at the left, with a note under it, and its field at the right.
pub(in crate::app) fn row<R>(
    ui: &mut Ui,
    label: &str,
    note: &str,
    field: impl FnOnce(&mut Ui) -> R,
) -> R {
    ui.horizontal_top(|ui| {
        ui.set_min_height(34.0);
        ui.vertical(|ui| {
            ui.set_max_width((ui.available_width() - 120.0).max(90.0));
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.add_space(if note.is_empty() { 8.0 } else { 1.0 });
            Role::Text.label(ui, label);
            if !note.is_empty() {
                Role::Note.label(ui, note);
            }
        });
        let right = Layout::right_to_left(Align::Min);
        let room = vec2(ui.available_width(), 34.0);
        ui.allocate_ui_with_layout(room, right, field).inner
    })
    .inner
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_is_in_the_unit_of_its_field_and_any_other_unit_is_taken() {
        let metric = UnitSystem::Millimetres;
        for (grain, text, mm) in [
            (Grain::Long, "45", 450.0),
            (Grain::Long, "450 mm", 450.0),
            (Grain::Reel, "1,5", 1500.0),
            (Grain::Fine, "1/4in", 6.35),
        ] {
            assert_eq!(grain.read(text, metric), Some(mm), "{text}");
        }
        assert_eq!(Grain::Long.read("1/2", UnitSystem::Inches), Some(12.7));
        assert_eq!(Grain::Reel.read("2", UnitSystem::Inches), Some(1828.8));
        assert_eq!(Grain::Long.read("wide", metric), None);
    }

    #[test]
    fn what_stands_in_a_field_reads_back() {
        for units in [UnitSystem::Millimetres, UnitSystem::Inches] {
            for grain in [Grain::Fine, Grain::Cord, Grain::Long, Grain::Reel] {
                let text = grain.bare(457.2, units);
                let back = grain.read(&text, units).unwrap();
                assert!((back - 457.2).abs() < 0.5, "{text}: {back}");
            }
        }
    }
}
