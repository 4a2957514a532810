//! What is done with the steps chosen: in, out, up, down, and once more further
//! on.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, Entered, Field, IconButton, stepper};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::structure::{MoveList, On, Rework};

use super::super::LookView;
use super::rows::Draft;
use super::write;

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

/// The row of tools over the steps.
pub(super) fn tools_ui(
    ui: &mut Ui,
    list: &MoveList,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let none = list.steps.is_empty().then_some("no step yet");
    let tool = |icon, name, tip| IconButton::new(icon, name).tip(tip);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let more = tool(
            Icon::Plus,
            "One step more",
            "One step more, after this one  Insert",
        );
        if ui.add(more).clicked() {
            let after = (view.make.at + 1).min(list.steps.len());
            view.make.draft = Some(Draft::new(after));
        }
        let less = tool(
            Icon::Minus,
            "Take the step out",
            "Take the steps chosen out  Delete",
        );
        if ui.add(less.off_because(none)).clicked() {
            take_out(list, view, wants);
        }
        let up = tool(Icon::Up, "Step earlier", "Earlier  Alt ↑");
        if ui.add(up.off_because(none)).clicked() {
            move_up(list, view, wants);
        }
        let down = tool(Icon::Down, "Step later", "Later  Alt ↓");
        if ui.add(down.off_because(none)).clicked() {
            move_down(list, view, wants);
        }
    });
    again_ui(ui, list, view, wants);
}

/// Takes the steps chosen out.
pub(super) fn take_out(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let steps = list.steps_without(&view.make.meant());
    view.make.chosen.clear();
    if steps.len() < list.steps.len() {
        write("steps out", steps, wants);
    }
}

/// The steps chosen one earlier.
pub(super) fn move_up(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let (steps, places) = list.steps_earlier(&view.make.meant());
    view.make.at = view.make.at.saturating_sub(1);
    moved(list, steps, places, view, wants);
}

/// The steps chosen one later.
pub(super) fn move_down(list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let (steps, places) = list.steps_later(&view.make.meant());
    view.make.at = (view.make.at + 1).min(list.steps.len().saturating_sub(1));
    moved(list, steps, places, view, wants);
}

fn moved(
    list: &MoveList,
    steps: Vec<crate::structure::Step>,
    places: std::collections::BTreeSet<usize>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    if !view.make.chosen.is_empty() {
        view.make.chosen = places;
    }
    view.make.brings = true;
    if steps != list.steps {
        write("order of the steps", steps, wants);
    }
}

/// "The same at the next quarter", so many slots on, so often.
fn again_ui(ui: &mut Ui, list: &MoveList, view: &mut LookView, wants: &mut Vec<Command>) {
    let again = &mut view.make.again;
    let quarter = i32::from(list.slots) / 2;
    let on = again.half_slots.unwrap_or(quarter);
    let in_line = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(ui.available_width(), 36.0), in_line, |ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        Role::Note.label(ui, "on by");
        let read = |text: &str| read_slots(text, list.slots);
        let field = Field::new("slots further on").width(64.0);
        match field.show(ui, &halves(on), read) {
            Some(Entered::Value(half_slots)) => again.half_slots = Some(half_slots),
            Some(Entered::Step(_)) | None => {}
        }
        stepper(ui, "times", &mut again.times, 1..=31);
    });
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
    let list_again = change.apply(list).map_err(|error| error.to_string());
    let hindrance = list_again.as_ref().err().map(String::as_str);
    let button = Button::plain(&words)
        .tip("The steps chosen once more, behind them, so many slots further clockwise")
        .off_because(hindrance)
        .width(ui.available_width());
    if ui.add(button).clicked()
        && let Ok(longer) = &list_again
    {
        write("the same further on", longer.list.steps.clone(), wants);
        view.make.chosen = run.clone().map(|step| step + run.len() * times).collect();
        view.make.at = run.end + run.len() * (times - 1);
        view.make.brings = true;
    }
}

/// The steps from the first to the last of those chosen.
fn run(chosen: &std::collections::BTreeSet<usize>) -> std::ops::Range<usize> {
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
}
