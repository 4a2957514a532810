//! What is done with the whole list: mirror, other way up, turn, double, every
//! other strand out, a core, another disc or a square plate.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, Entered, Field, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::document::{Core, Edit};
use crate::structure::{MoveList, Plate, Rework};

/// Words of each change, what it does, and the change.
const CHANGES: [(&str, &str, Rework); 6] = [
    (
        "Mirror it",
        "The same moves for the other hand: an S lay becomes a Z lay",
        Rework::Mirror,
    ),
    (
        "Other way up",
        "The moves from the last to the first: the cord upside down",
        Rework::Reverse,
    ),
    (
        "Slot back",
        "The whole list one slot anticlockwise; the same cord",
        Rework::Turn(-2),
    ),
    (
        "Slot on",
        "The whole list one slot clockwise; the same cord",
        Rework::Turn(2),
    ),
    (
        "Double",
        "Two strands side by side for each; each pair lies as one",
        Rework::Double,
    ),
    (
        "Every other out",
        "Every other strand taken out, the rest worked as before",
        Rework::EveryOtherOut,
    ),
];

/// Why each change cannot be made to a list, found once for it.
#[derive(Debug, Default)]
pub(super) struct Hindrances {
    list: MoveList,
    reasons: [Option<String>; CHANGES.len()],
}

impl Hindrances {
    fn look(&mut self, list: &MoveList) {
        if self.list == *list {
            return;
        }
        self.list = list.clone();
        self.reasons = CHANGES.map(|(_, _, change)| match change.apply(list) {
            Ok(_) => None,
            Err(error) => Some(error.to_string()),
        });
    }
}

/// The changes as buttons.
pub(super) fn whole_ui(
    ui: &mut Ui,
    list: &MoveList,
    desk: &Desk<'_>,
    hindrances: &mut Hindrances,
    wants: &mut Vec<Command>,
) {
    hindrances.look(list);
    ui.add_space(8.0);
    Role::Section.label(ui, "The whole list");
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for ((words, tip, change), reason) in CHANGES.into_iter().zip(&hindrances.reasons) {
            let button = Button::plain(words).tip(tip).off_because(reason.as_deref());
            if ui.add(button).clicked() {
                wants.push(Command::Edit(Edit::Rework(change)));
            }
        }
        core_ui(ui, desk, wants);
    });
    spread_ui(ui, list, wants);
    plate_ui(ui, list, desk, wants);
}

/// Round or square; the places go round alike, so that it is the same braid.
fn plate_ui(ui: &mut Ui, list: &MoveList, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    if !list.slots.is_multiple_of(4) {
        return;
    }
    let mut plate = list.plate;
    let words = [(Plate::Disc, "round disc"), (Plate::Square, "square plate")];
    if segments(ui, "worked on", &mut plate, &words) {
        wants.push(Command::Edit(Edit::Moves {
            structure: desk
                .section()
                .map_or(String::new(), |it| it.structure.clone()),
            moves: MoveList {
                plate,
                ..list.clone()
            },
        }));
    }
}

/// A core of what the first strand is made of, or the core out.
fn core_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let has_core = !desk.design.cores().is_empty();
    let (words, tip) = if has_core {
        ("Core out", "Braid it without a core")
    } else {
        (
            "Add a core",
            "Braid it round a strand in the middle, of what the first strand is made of",
        )
    };
    if !ui.add(Button::plain(words).tip(tip)).clicked() {
        return;
    }
    let first = desk.design.strands.first().filter(|_| !has_core);
    let cores = first.map(|strand| Core {
        strand: strand.clone(),
    });
    wants.push(Command::Edit(Edit::Cores {
        cores: cores.into_iter().collect(),
        fibres: Vec::new(),
    }));
}

/// Another number of slots, every place in proportion.
fn spread_ui(ui: &mut Ui, list: &MoveList, wants: &mut Vec<Command>) {
    let in_line = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(ui.available_width(), 36.0), in_line, |ui| {
        Role::Note.label(ui, "spread to");
        let read = |text: &str| {
            let Ok(slots) = text.trim().parse::<u16>() else {
                return Err("a number of slots".to_owned());
            };
            let spread = Rework::Spread(slots).apply(list);
            spread.map(|_| slots).map_err(|error| error.to_string())
        };
        let field = Field::new("slots to spread to").unit("slots").width(104.0);
        let slots = list.slots.to_string();
        if let Some(Entered::Value(slots)) = field.show(ui, &slots, read)
            && slots != list.slots
        {
            wants.push(Command::Edit(Edit::Rework(Rework::Spread(slots))));
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    #[test]
    fn what_cannot_be_done_to_a_list_says_why_and_the_rest_can() {
        let mut hindrances = Hindrances::default();
        let plait = shelf().iter().find(|s| s.strands() == 3).expect("one of 3");
        hindrances.look(&plait.moves);
        let off: Vec<bool> = hindrances.reasons.iter().map(Option::is_some).collect();
        assert_eq!(off, [false, false, false, false, false, true]);
        let said = hindrances.reasons[5].as_deref();
        assert!(
            said.is_some_and(|said| said.contains("too few strands")),
            "{said:?}"
        );
    }
}
