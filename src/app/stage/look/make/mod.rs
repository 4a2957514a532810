//! Make: the moves of the design, step by step, as the maker reads them.
//!
//! The step under the cursor is the one that the play bar stands before and the
//! disc shows as next. Every change is one edit of the design; a list that is no
//! braid meanwhile is said to be none, and the last good cord stays in sight.

mod again;
mod beside;
mod by_hand;
mod keep;
mod rows;
mod text;
mod tools;
mod whole;
mod words;

use std::collections::BTreeSet;

use eframe::egui::{Modifiers, ScrollArea, Ui};

use crate::app::command::Command;
use crate::app::controls::head;
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::document::{Design, Edit};
use crate::structure::{Move, MoveList, Step};

use super::LookView;
use super::play::Play;

pub(super) use by_hand::move_of;

/// Share of the window's height that the rows take before they scroll, and their
/// least room, points.
const ROWS: (f32, f32) = (0.32, 224.0);

/// Which steps are looked at, and what is being written.
#[derive(Debug, Default)]
pub struct MakeView {
    /// The step under the cursor, from 0.
    at: usize,
    /// The steps chosen besides it.
    chosen: BTreeSet<usize>,
    /// How far the moves were played when the cursor was set.
    played: usize,
    /// How many steps there were then.
    counted: usize,
    /// Whether drags on the disc become steps.
    by_hand: bool,
    /// A step being written.
    draft: Option<rows::Draft>,
    /// How the steps chosen come again.
    again: again::Again,
    /// The whole list being written.
    text: text::TextView,
    /// Why each change of the whole list cannot be made.
    whole: whole::Hindrances,
    /// Another structure looked at beside this one.
    beside: beside::BesideView,
    /// The cursor moved: its row is to be seen.
    brings: bool,
}

impl MakeView {
    /// Lets go of steps that another list does not have.
    pub(super) fn settle(&mut self, design: &Design) {
        let steps = design.sections.first().map_or(0, |s| s.moves.steps.len());
        if !self.by_hand {
            self.at = self.at.min(steps.saturating_sub(1));
        }
        self.chosen.retain(|&step| step < steps);
        self.draft = None;
    }

    /// Another design is on the table.
    pub(super) fn turn_to(&mut self) {
        self.by_hand = false;
        self.at = 0;
    }

    /// The last place the cursor may stand: while drags are recorded, after all
    /// steps.
    fn last(&self, list: &MoveList) -> usize {
        let spare = usize::from(!self.by_hand);
        list.steps.len().saturating_sub(spare)
    }

    /// The cursor goes with the moves when they are played.
    fn follow(&mut self, list: &MoveList, play: &mut Play) {
        self.keep_place(list, play);
        self.first_round(list, play);
        if self.played != play.done {
            self.played = play.done;
            self.at = step_of(list, play.done);
            if self.by_hand && self.at == 0 && play.done > 0 {
                self.at = list.steps.len();
            }
            self.chosen.clear();
            self.brings = true;
        }
        let last = self.last(list);
        self.at = self.at.min(last);
        self.chosen.retain(|&step| step < list.steps.len());
    }

    /// The cursor, and the moves played up to it.
    fn go_to(&mut self, list: &MoveList, step: usize, play: &mut Play) {
        self.at = step;
        self.brings = true;
        play.go_to(moves_before(list, step));
        self.played = play.done;
    }

    /// A row pressed: alone, one more or less, or all up to it.
    fn press(&mut self, step: usize, keys: Modifiers) {
        if keys.shift {
            let (first, last) = (self.at.min(step), self.at.max(step));
            self.chosen.extend(first..=last);
        } else if keys.command {
            self.chosen.insert(self.at);
            if !self.chosen.remove(&step) {
                self.chosen.insert(step);
            }
        } else {
            self.chosen.clear();
        }
    }

    /// The steps that a change is meant for: those chosen, or the one under the
    /// cursor.
    fn meant(&self) -> BTreeSet<usize> {
        if self.chosen.is_empty() {
            // After all steps it is the last that is meant.
            let last = self.counted.saturating_sub(1);
            let at = if self.by_hand {
                self.at.min(last)
            } else {
                self.at
            };
            return [at].into();
        }
        self.chosen.clone()
    }

    /// The moves that the disc shows as next.
    pub(super) fn lit<'a>(&self, list: &'a MoveList) -> &'a [Move] {
        list.steps.get(self.at).map_or(&[], |step| &step.moves)
    }
}

/// The moves of all steps before one.
fn moves_before(list: &MoveList, step: usize) -> usize {
    let before = list.steps.iter().take(step);
    before.map(|one| one.moves.len()).sum()
}

/// The step that comes after so many moves.
fn step_of(list: &MoveList, done: usize) -> usize {
    let ends = list.steps.iter().scan(0, |moves, step| {
        *moves += step.moves.len();
        Some(*moves)
    });
    let ends: Vec<usize> = ends.collect();
    let round = ends.last().copied().unwrap_or(0);
    let done = done.checked_rem(round).unwrap_or(0);
    ends.iter().position(|&end| end > done).unwrap_or(0)
}

/// Asks for other steps.
fn write(done: &'static str, steps: Vec<Step>, wants: &mut Vec<Command>) {
    wants.push(Command::Edit(Edit::Steps { done, steps }));
}

/// The steps of the design, and what can be done with them.
pub(super) fn make_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    let Some(list) = desk.moves() else { return };
    view.make.follow(list, &mut view.play);
    keep::name_ui(ui, desk, wants);
    steps_ui(ui, list, desk, view, wants);
    whole::whole_ui(ui, list, desk, &mut view.make.whole, wants);
    text::text_ui(ui, list, desk, &mut view.make.text, wants);
    beside::beside_ui(ui, list, desk, &mut view.make.beside);
    keep::shelf_ui(ui, desk, wants);
}

fn steps_ui(
    ui: &mut Ui,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    head(ui, "Steps", |ui| {
        let count = list.steps.len();
        let words = match view.make.at + 1 {
            at if at > count => format!("{count}, at the end"),
            at => format!("{at} of {count}"),
        };
        Role::Note.label(ui, words);
    });
    if view.recording.is_some() {
        Role::Note.label(
            ui,
            "Recording: keep the moves, or leave them, under the disc",
        );
        return;
    }
    tools::tools_ui(ui, list, view, wants);
    by_hand::words_ui(ui, list, view, wants);
    let rows_height = (ROWS.0 * ui.ctx().content_rect().height()).max(ROWS.1);
    ScrollArea::vertical()
        .id_salt("steps")
        .max_height(rows_height)
        .show(ui, |ui| rows::rows_ui(ui, list, desk, view, wants));
    ui.add_space(4.0);
    again::again_ui(ui, list, view, wants);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    #[test]
    fn the_cursor_goes_with_the_moves_that_are_played() {
        let list: MoveList = "slots 8\nstart 1 3 5\n1 > 2 & 5 > 6\nrest\n3 > 4"
            .parse()
            .expect("a list");
        let steps: Vec<usize> = (0..5).map(|done| step_of(&list, done)).collect();
        assert_eq!(steps, [0, 0, 2, 0, 0], "three moves in a round");
        assert_eq!(step_of(&MoveList::default(), 7), 0);
    }

    #[test]
    fn the_cursor_set_on_a_step_plays_the_moves_before_it() {
        let list = &shelf()[0].moves;
        let (mut view, mut play) = (MakeView::default(), Play::default());
        view.go_to(list, 1, &mut play);
        assert_eq!(play.done, 1);
        assert_eq!(view.lit(list), list.steps[1].moves);
        play.done = 0;
        view.follow(list, &mut play);
        assert_eq!(view.at, 0);
    }

    #[test]
    fn steps_are_chosen_one_more_or_all_up_to_one() {
        let mut view = MakeView {
            at: 2,
            ..MakeView::default()
        };
        assert_eq!(view.meant(), [2].into());
        view.press(4, Modifiers::SHIFT);
        assert_eq!(view.meant(), [2, 3, 4].into());
        view.press(3, Modifiers::COMMAND);
        assert_eq!(view.meant(), [2, 4].into());
        view.press(1, Modifiers::NONE);
        assert!(view.chosen.is_empty());
    }
}
