//! How the cord is braided: what holds the strands, what hangs on it, and how
//! the maker's disc is made and numbered.

use eframe::egui::{Align, Layout, Ui};

use crate::app::command::Command;
use crate::app::controls::{Entered, Field, Sheet, head, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::settings::PACE;
use crate::app::words;
use crate::cord::{Tension, Twist};
use crate::document::{Edit, MOST_SLOTS};
use crate::quantity::read_number;
use crate::structure::Numbering;

/// Pull on a strand 2 mm thick on a hand-held disc, newtons; our guess of a
/// common hand.
const HAND_PULL: f64 = 0.6;
/// Mass of a bobbin in grams; common practice, no source.
const BOBBIN: f64 = 70.0;

/// The sheet.
pub(super) fn sheet_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let width = ui.available_width();
    Sheet::new().size([width, 0.0]).show(ui, |ui| {
        head(ui, "Braiding", |_| ());
        tension_ui(ui, desk, wants);
        weight_ui(ui, desk, wants);
        twist_ui(ui, desk, wants);
        slots_ui(ui, desk, wants);
        numbering_ui(ui, desk, wants);
        pace_ui(ui, desk, wants);
    });
}

/// Held by the slots of a disc, or by bobbins on a stand.
fn tension_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let tension = desk.design.braiding.tension;
    let on_stand = matches!(tension, Tension::Bobbins(_));
    row(ui, "Braided on", "", |ui| {
        let mut stand = on_stand;
        let words = [(false, "a hand-held disc"), (true, "a stand")];
        if segments(ui, "braided on", &mut stand, &words) {
            wants.push(Command::Edit(Edit::Tension(match stand {
                true => Tension::Bobbins(BOBBIN),
                false => Tension::Slots(HAND_PULL),
            })));
        }
    });
    match tension {
        Tension::Slots(newtons) => row(ui, "Pull of the slots", "on a 2 mm strand", |ui| {
            let typed = number_field(ui, "pull of the slots", "N", newtons, 0.1);
            wants.extend(typed.map(|n| Command::Edit(Edit::Tension(Tension::Slots(n)))));
        }),
        Tension::Bobbins(grams) => row(ui, "Each bobbin", "with its thread", |ui| {
            let typed = number_field(ui, "each bobbin", "g", grams, 1.0);
            wants.extend(typed.map(|n| Command::Edit(Edit::Tension(Tension::Bobbins(n)))));
        }),
    }
}

fn weight_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let grams = desk.design.braiding.counterweight;
    row(
        ui,
        "Counterweight",
        "lighter: firmer, shorter, thicker",
        |ui| {
            let typed = number_field(ui, "counterweight", "g", grams, 1.0);
            wants.extend(typed.map(|n| Command::Edit(Edit::Counterweight(n))));
        },
    );
}

fn twist_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let mut twist = desk.design.braiding.twist;
    row(ui, "The cord", "while it hangs", |ui| {
        let words = [(Twist::Free, "spins freely"), (Twist::Held, "is held")];
        if segments(ui, "the cord", &mut twist, &words) {
            wants.push(Command::Edit(Edit::Twist(twist)));
        }
    });
}

fn slots_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let Some(slots) = desk.moves().map(|moves| moves.slots) else {
        return;
    };
    row(ui, "Slots of the disc", "an even number", |ui| {
        let field = Field::new("slots of the disc").width(92.0).steps();
        let entered = field.show(ui, &slots.to_string(), read_slots);
        let asked = match entered {
            Some(Entered::Value(slots)) => Some(slots),
            Some(Entered::Step(n)) => {
                let asked = i32::from(slots) + 2 * n;
                u16::try_from(asked)
                    .ok()
                    .filter(|s| (4..=MOST_SLOTS).contains(s))
            }
            None => None,
        };
        let changed = asked.filter(|&asked| asked != slots);
        wants.extend(changed.map(|slots| Command::Edit(Edit::Slots(slots))));
    });
}

fn read_slots(text: &str) -> Result<u16, String> {
    let slots = text.parse::<u16>().ok();
    slots
        .filter(|s| (4..=MOST_SLOTS).contains(s) && s % 2 == 0)
        .ok_or_else(|| format!("an even number, 4 to {MOST_SLOTS}"))
}

fn numbering_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let mut numbering = desk.numbering();
    row(ui, "Numbered", "seen from above", |ui| {
        let words = [
            (Numbering::Clockwise, "clockwise"),
            (Numbering::Anticlockwise, "the other way"),
        ];
        if segments(ui, "numbered", &mut numbering, &words) {
            wants.push(Command::Edit(Edit::Numbering(numbering)));
        }
    });
}

/// How fast the moves are played; remembered, not part of the design.
fn pace_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let pace = f64::from(desk.settings.pace);
    row(ui, "Playing", "moves a minute", |ui| {
        let typed = number_field(ui, "moves a minute", "", pace, 6.0);
        let typed = typed.map(|n| (n as f32).clamp(PACE.0, PACE.1));
        wants.extend(typed.map(Command::Pace));
    });
}

/// A label with a remark, and what it is about at the right.
fn row(ui: &mut Ui, label: &str, remark: &str, content: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.set_min_height(40.0);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.add_space(if remark.is_empty() { 8.0 } else { 2.0 });
            Role::Label.label(ui, label);
            if !remark.is_empty() {
                Role::Smallest.label(ui, remark);
            }
        });
        ui.with_layout(Layout::right_to_left(Align::Center), content);
    });
}

/// A figure of at least a hundredth; what was typed or stepped to.
fn number_field(ui: &mut Ui, name: &str, unit: &str, value: f64, step: f64) -> Option<f64> {
    let shown = words::number(value);
    let field = Field::new(name).unit(unit).width(92.0).steps();
    match field.show(ui, &shown, read_positive)? {
        Entered::Value(typed) => Some(typed),
        Entered::Step(n) => Some((value + step * f64::from(n)).max(step)),
    }
}

fn read_positive(text: &str) -> Result<f64, String> {
    let number = read_number(text).map_err(|error| error.to_string())?;
    if number > 0.0 {
        return Ok(number);
    }
    Err(format!("{text} is not above 0"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_taken_with_comma_or_point_and_never_below_zero() {
        assert_eq!(read_positive("0,6"), Ok(0.6), "comma");
        assert_eq!(read_positive("45.5"), Ok(45.5), "point");
        for refused in ["-3", "0", "heavy", "inf"] {
            assert!(read_positive(refused).is_err(), "{refused}");
        }
    }

    #[test]
    fn a_disc_has_an_even_number_of_slots() {
        assert_eq!(read_slots("32"), Ok(32));
        assert!(read_slots("31").is_err(), "odd");
        assert!(read_slots("2").is_err(), "too few");
    }
}
