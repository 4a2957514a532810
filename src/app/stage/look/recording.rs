//! Moves of the maker's own, recorded by dragging on the disc and checked as
//! they are made.

use eframe::egui::{Align, Id, Layout, Rect, Ui, UiBuilder, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, IconButton};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::words;
use crate::document::Edit;
use crate::structure::{Braid, Move, MoveList, Place, Step};

use super::LookView;
use super::disc_column::paper_bar;
use super::standing::Standing;

/// What moves of one's own are called until the maker names the cord.
const NAME: &str = "moves of my own";

/// Moves made so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Recording {
    moves: MoveList,
    places: Vec<Place>,
}

impl Recording {
    /// On the plate of a list, from its start, without a move.
    pub fn new(list: &MoveList) -> Self {
        Self {
            moves: MoveList {
                steps: Vec::new(),
                turn: None,
                ..list.clone()
            },
            places: list.start.clone(),
        }
    }

    /// One more move.
    pub fn carry(&mut self, strand: usize, to: Place) {
        let Some(at) = self.places.get_mut(strand) else {
            return;
        };
        let moves = vec![Move { from: *at, to }];
        *at = to;
        self.moves.steps.push(Step { moves });
    }

    /// The same with other moves, as a repair has them.
    pub fn with(moves: MoveList) -> Self {
        let done = moves.moves().count();
        let places = Standing::walked(&moves, done).places;
        Self { moves, places }
    }

    /// The last move taken back.
    fn back(&mut self) {
        let Some(step) = self.moves.steps.pop() else {
            return;
        };
        for done in step.moves.into_iter().rev() {
            if let Some(at) = self.places.iter_mut().find(|at| **at == done.to) {
                *at = done.from;
            }
        }
    }

    /// The moves made so far, as a list that may not come round yet.
    pub fn moves(&self) -> &MoveList {
        &self.moves
    }

    /// What lies on the disc.
    pub(super) fn standing(&self) -> Standing {
        let last = self.moves.steps.last();
        Standing {
            places: self.places.clone(),
            next: Vec::new(),
            just_done: last.map_or(Vec::new(), |step| step.moves.clone()),
            order: Vec::new(),
        }
    }
}

/// What was recorded, what is still missing, and the ways out.
pub(super) fn bar_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let Some(recording) = &mut view.recording else {
        return;
    };
    let width = 560.0_f32.min(rect.width());
    let bar = Rect::from_center_size(rect.center(), vec2(width, rect.height() - 4.0));
    paper_bar(ui, bar, 0.5 * bar.height());
    let checked = Braid::new(&recording.moves);
    let made = recording.moves.steps.len();
    let hindrance = match &checked {
        Ok(_) => None,
        Err(_) if made == 0 => Some("Drag strands to slots: each drag is a move".to_owned()),
        Err(error) => Some(error.sentence(desk.numbering())),
    };
    let row = bar.shrink2(vec2(14.0, 4.0));
    let layout = Layout::left_to_right(Align::Center);
    let builder = UiBuilder::new()
        .max_rect(row)
        .layout(layout)
        // Its own name, whatever comes and goes on the stage: a press must not be lost.
        .scope_id(Id::unique("recording"));
    let mut ends = false;
    ui.scope_builder(builder, |ui| {
        let keep = Button::main("Keep these moves").off_because(hindrance.as_deref());
        if ui.add(keep).clicked() {
            wants.push(Command::Edit(Edit::Moves {
                structure: NAME.to_owned(),
                moves: recording.moves.clone(),
            }));
            ends = true;
        }
        let none = (made == 0).then_some("no move yet");
        let back = IconButton::new(Icon::Undo, "Back one").off_because(none);
        if ui.add(back).clicked() {
            recording.back();
        }
        ends |= ui.add(Button::plain("Leave")).clicked();
        let words = match (&hindrance, made) {
            (None, n) => format!("{}, they come round", moves_words(n)),
            (Some(_), 0) => "no move yet".to_owned(),
            (Some(_), n) => format!("{}, not round", moves_words(n)),
        };
        let text = Role::Note.text(ui, words);
        ui.add(eframe::egui::Label::new(text).truncate());
    });
    if ends {
        view.recording = None;
    }
}

fn moves_words(n: usize) -> String {
    let noun = if n == 1 { "move" } else { "moves" };
    format!("{} {noun}", words::count(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn started(start: &[Place]) -> MoveList {
        MoveList {
            slots: 32,
            start: start.to_vec(),
            ..MoveList::default()
        }
    }

    #[test]
    fn moves_that_come_back_to_their_start_can_be_kept() {
        let [a, b, c] = [2, 9, 16].map(Place::slot);
        let free = Place::slot(20);
        let mut recording = Recording::new(&started(&[a, b, c]));
        recording.carry(0, free);
        assert!(Braid::new(&recording.moves).is_err(), "not round yet");
        recording.carry(1, a);
        recording.carry(2, b);
        recording.carry(0, c);
        assert!(
            Braid::new(&recording.moves).is_ok(),
            "each sits where one sat"
        );
    }

    #[test]
    fn a_move_taken_back_leaves_the_disc_as_it_was() {
        let start = [2, 9, 16].map(Place::slot);
        let mut recording = Recording::new(&started(&start));
        let before = recording.clone();
        recording.carry(1, Place::slot(30));
        recording.back();
        assert_eq!(recording, before);
    }
}
