//! Make: the moves of the design, step by step, as the maker reads them.
//!
//! The step under the cursor is the one that the play bar stands before and the
//! disc shows as next.

mod words;

use std::collections::BTreeSet;

use eframe::egui::{Modifiers, ScrollArea, Ui};

use crate::app::command::Command;
use crate::app::controls::{Pick, head};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::document::Design;
use crate::structure::{Move, MoveList};

use super::LookView;
use super::play::Play;

/// Height of a row.
const ROW: f32 = 32.0;
/// Most of the column's height that the rows take before they scroll.
const ROWS: f32 = 330.0;

/// Which steps are looked at.
#[derive(Debug, Clone, Default)]
pub struct MakeView {
    /// The step under the cursor, from 0.
    at: usize,
    /// The steps chosen besides it.
    chosen: BTreeSet<usize>,
    /// How far the moves were played when the cursor was set.
    played: usize,
}

impl MakeView {
    /// Lets go of steps that another list does not have.
    pub(super) fn settle(&mut self, design: &Design) {
        let steps = design.sections.first().map_or(0, |s| s.moves.steps.len());
        self.at = self.at.min(steps.saturating_sub(1));
        self.chosen.retain(|&step| step < steps);
    }

    /// The cursor goes with the moves when they are played.
    fn follow(&mut self, list: &MoveList, play: &Play) {
        if self.played != play.done {
            self.played = play.done;
            self.at = step_of(list, play.done);
            self.chosen.clear();
        }
    }

    /// The cursor, and the moves played up to it.
    fn go_to(&mut self, list: &MoveList, step: usize, play: &mut Play) {
        self.at = step;
        play.rewind();
        play.done = list.steps[..step].iter().map(|one| one.moves.len()).sum();
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

    /// The moves that the disc shows as next.
    pub(super) fn lit<'a>(&self, list: &'a MoveList) -> &'a [Move] {
        list.steps.get(self.at).map_or(&[], |step| &step.moves)
    }
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

/// The steps of the design.
pub(super) fn make_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    _wants: &mut Vec<Command>,
) {
    let Some(list) = desk.moves() else { return };
    view.make.follow(list, &view.play);
    head(ui, "Steps", |ui| {
        let count = list.steps.len();
        let at = (view.make.at + 1).min(count);
        Role::Note.label(ui, format!("{at} of {count}"));
    });
    ScrollArea::vertical()
        .id_salt("steps")
        .max_height(ROWS)
        .show(ui, |ui| rows_ui(ui, list, desk, view));
}

fn rows_ui(ui: &mut Ui, list: &MoveList, desk: &Desk<'_>, view: &mut LookView) {
    ui.spacing_mut().item_spacing.y = 0.0;
    for (index, step) in list.steps.iter().enumerate() {
        let said = words::step(list, step, desk.numbering());
        let name = format!("step {}: {said}", index + 1);
        let is_on = view.make.at == index || view.make.chosen.contains(&index);
        let row = Pick::row(&name, is_on, ROW).show(ui, |ui| {
            ui.horizontal(|ui| {
                Role::Smallest.label(ui, format!("{:>2}", index + 1));
                Role::Text.label(ui, &said);
            });
        });
        if row.clicked() {
            let keys = ui.input(|input| input.modifiers);
            view.make.press(index, keys);
            view.make.go_to(list, index, &mut view.play);
        }
    }
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
        view.follow(list, &play);
        assert_eq!(view.at, 0);
    }
}
