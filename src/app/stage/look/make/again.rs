//! The steps chosen once more, further on round the rim.
//!
//! Offered are the distances at which the strands at the start stand as before:
//! only there does the same block find strands where it looks for them. What it
//! would carry is said before it is done.

use std::collections::BTreeSet;
use std::ops::Range;

use eframe::egui::{Align, Label, Layout, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, Entered, Field, chip, stepper};
use crate::app::fonts::Role;
use crate::app::theme::Theme;
use crate::app::words;
use crate::document::strand_name;
use crate::structure::{MoveList, On, Rework};

use super::super::LookView;
use super::write;

/// Most distances that are offered; others are typed.
const MOST_CHIPS: usize = 5;
/// Most strands that are called by their letters.
const MOST_LETTERS: usize = 8;

/// How steps come again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Again {
    /// Half slots further clockwise; none for a quarter.
    half_slots: Option<i32>,
    /// How often.
    times: u16,
}

impl Default for Again {
    fn default() -> Self {
        Self {
            half_slots: None,
            times: 1,
        }
    }
}

/// "The same at the next quarter", so many slots on, so often.
pub(super) fn again_ui(
    ui: &mut Ui,
    list: &MoveList,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let again = &mut view.make.again;
    let quarter = i32::from(list.slots) / 2;
    let on = again.half_slots.unwrap_or(quarter);
    distance_ui(ui, list, on, again);
    let words = if on == quarter {
        "The same at the next quarter".to_owned()
    } else {
        format!("The same {} slots on", halves(on))
    };
    let (times, run) = (usize::from(again.times), run(&view.make.meant()));
    let change = Rework::Again {
        steps: run.clone(),
        on: On::HalfSlots(on),
        times,
    };
    let longer = change.apply(list).map_err(|error| error.to_string());
    let hindrance = longer.as_ref().err().map(String::as_str);
    let button = Button::plain(&words)
        .tip("The steps chosen once more, behind them, so many slots further clockwise")
        .off_because(hindrance)
        .width(ui.available_width());
    let asked = ui.add(button).clicked();
    let Ok(longer) = longer else { return };
    carried_ui(ui, &longer.list, run.end..run.end + run.len() * times);
    if asked {
        repeat(&longer.list, &run, times, view, wants);
    }
}

/// Whom the new steps carry; a caution where a place is empty then.
fn carried_ui(ui: &mut Ui, longer: &MoveList, more: Range<usize>) {
    let carried = longer.lifted(&more);
    let theme = Theme::of(ui);
    let ink = if carried.contains(&None) {
        theme.caution
    } else {
        theme.ink2
    };
    let text = Role::Note.text(ui, carried_words(&carried));
    ui.add(Label::new(text.color(ink)).wrap());
}

/// The longer list is asked for; the last of the new blocks is chosen.
fn repeat(
    longer: &MoveList,
    run: &Range<usize>,
    times: usize,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    write("the same further on", longer.steps.clone(), wants);
    let begins = run.end + run.len() * (times - 1);
    let at = if view.make.by_hand {
        begins + run.len()
    } else {
        begins
    };
    view.make.go_to(longer, at, &mut view.play);
    view.make.counted = longer.steps.len();
    view.make.chosen = (begins..begins + run.len()).collect();
}

/// The distances that fit, another one typed, and how often.
fn distance_ui(ui: &mut Ui, list: &MoveList, on: i32, again: &mut Again) {
    let fitting = list.alike_on();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        Role::Note.label(ui, "on by");
        for &half_slots in fitting.iter().take(MOST_CHIPS) {
            let half_slots = i32::from(half_slots);
            let name = halves(half_slots);
            if chip(ui, &name, on == half_slots).clicked() {
                again.half_slots = Some(half_slots);
            }
        }
    });
    let in_line = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(ui.available_width(), 36.0), in_line, |ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        let read = |text: &str| read_slots(text, list.slots);
        let field = Field::new("slots further on").width(56.0);
        match field.show(ui, &halves(on), read) {
            Some(Entered::Value(half_slots)) => again.half_slots = Some(half_slots),
            Some(Entered::Step(_)) | None => {}
        }
        Role::Note.label(ui, "slots,");
        stepper(ui, "times", &mut again.times, 1..=31);
        Role::Note.label(ui, "times");
    });
}

/// Which strands the new steps carry, and whether any finds none.
fn carried_words(carried: &[Option<usize>]) -> String {
    let empty = carried.iter().filter(|one| one.is_none()).count();
    let letters: BTreeSet<usize> = carried.iter().flatten().copied().collect();
    let names: Vec<String> = letters.iter().map(|&strand| strand_name(strand)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let carries = match names.len() {
        0 => "That would carry no strand".to_owned(),
        n if n > MOST_LETTERS => format!("That carries {} strands", words::count(n)),
        _ => format!("That carries {}", words::list(&names)),
    };
    match empty {
        0 => carries,
        1 => format!("{carries}; one place is empty then"),
        n => format!("{carries}; {} places are empty then", words::count(n)),
    }
}

/// The steps from the first to the last of those chosen.
fn run(chosen: &BTreeSet<usize>) -> Range<usize> {
    match (chosen.first(), chosen.last()) {
        (Some(&first), Some(&last)) => first..last + 1,
        _ => 0..0,
    }
}

/// `8`, `8.5`, `−8`.
fn halves(half_slots: i32) -> String {
    let sign = if half_slots < 0 { "−" } else { "" };
    let half = if half_slots % 2 == 0 { "" } else { ".5" };
    format!("{sign}{}{half}", half_slots.abs() / 2)
}

/// Slots clockwise, below a round either way.
fn read_slots(text: &str, slots: u16) -> Result<i32, String> {
    let text = text.trim().replace('−', "-").replace(',', ".");
    let Ok(value) = text.parse::<f64>() else {
        return Err("a number of slots".to_owned());
    };
    let half_slots = 2.0 * value;
    let round = f64::from(2 * slots);
    if half_slots.fract() != 0.0 || half_slots.abs() >= round {
        return Err(format!("whole or half slots, below {slots}"));
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a whole number, below a round"
    )]
    Ok(half_slots as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slots_further_on_are_read_as_they_are_written() {
        for half_slots in [16, 17, -16, -1, 0] {
            assert_eq!(read_slots(&halves(half_slots), 32), Ok(half_slots));
        }
        assert_eq!(read_slots("-4,5", 32), Ok(-9));
        for wrong in ["", "eight", "0.3", "32", "1e9", "NaN", "inf"] {
            assert!(read_slots(wrong, 32).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_run_goes_from_the_first_to_the_last() {
        assert_eq!(run(&[2, 5].into()), 2..6);
    }

    #[test]
    fn what_comes_again_is_told_by_the_letters_of_its_strands() {
        assert_eq!(carried_words(&[Some(2), Some(0)]), "That carries A and C");
        let said = carried_words(&[Some(2), None]);
        assert_eq!(said, "That carries C; one place is empty then");
        assert_eq!(
            carried_words(&[None, None]),
            "That would carry no strand; two places are empty then"
        );
    }
}
