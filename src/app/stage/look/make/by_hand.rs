//! Steps recorded by dragging: every drag on the disc is a step more, before the
//! one under the cursor.
//!
//! The design's own list is what grows, so that rows, tools, the play bar and Undo
//! work on it meanwhile. Drags that follow one another stay chosen, for a block is
//! often what is wanted again further on.

use eframe::egui::{Label, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::app::command::Command;
use crate::app::controls::link;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::Edit;
use crate::structure::{Move, MoveList, Rework, Step};

use super::super::LookView;
use super::super::play::{self, Play};
use super::{MakeView, moves_before, write};

/// Height of the mark between two rows.
const MARK: f32 = 22.0;

impl MakeView {
    /// Begins or ends with recording; the strands lie as before the step under the
    /// cursor.
    pub(in super::super) fn toggle_by_hand(&mut self, list: &MoveList, play: &mut Play) {
        self.by_hand = !self.by_hand;
        self.draft = None;
        self.chosen.clear();
        let at = self.at.min(list.steps.len());
        self.go_to(list, at, play);
    }

    /// Whether drags on the disc become steps.
    pub(in super::super) fn is_by_hand(&self) -> bool {
        self.by_hand
    }

    /// A strand was dragged: one step more, and the cursor after it.
    pub(in super::super) fn dragged(
        &mut self,
        list: &MoveList,
        one: Move,
        play: &mut Play,
        wants: &mut Vec<Command>,
    ) {
        let at = self.at.min(list.steps.len());
        let is_next = self.chosen.last().is_some_and(|&last| last + 1 == at);
        if !is_next {
            self.chosen.clear();
        }
        self.chosen.insert(at);
        let insert = Rework::Insert {
            at,
            step: Step::one(one.from, one.to),
        };
        if let Ok(longer) = insert.apply(list) {
            self.go_to(&longer.list, at + 1, play);
            self.counted = longer.list.steps.len();
        }
        wants.push(Command::Edit(Edit::Rework(insert)));
    }

    /// Keeps cursor and moves played together when steps came or went, as by Undo.
    pub(super) fn keep_place(&mut self, list: &MoveList, play: &mut Play) {
        let (was, now) = (self.counted, list.steps.len());
        self.counted = now;
        if !self.by_hand || was == now {
            return;
        }
        self.chosen.clear();
        self.at = (self.at + now).saturating_sub(was).min(now);
        let at = self.at;
        self.go_to(list, at, play);
    }

    /// Within the first round, whose places are those of the list.
    pub(super) fn first_round(&self, list: &MoveList, play: &mut Play) {
        let round = play::count(list);
        if self.by_hand && play.done > round {
            play.go_to((play.done - 1) % round.max(1) + 1);
        }
    }
}

/// Begins recording, or ends it.
pub(super) fn begin_ui(ui: &mut Ui, list: &MoveList, view: &mut LookView) {
    let words = if view.make.by_hand {
        "done"
    } else {
        "drag to record"
    };
    if link(ui, words).clicked() {
        view.make.toggle_by_hand(list, &mut view.play);
    }
}

/// What recording does, and how to begin anew.
pub(super) fn words_ui(
    ui: &mut Ui,
    list: &MoveList,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    if !view.make.by_hand {
        return;
    }
    let words = "Drag a strand on the disc: it becomes a step where the stitches are.";
    let text = Role::Note.text(ui, words);
    ui.add(Label::new(text).wrap());
    if !list.steps.is_empty() && link(ui, "begin anew").clicked() {
        view.make.chosen.clear();
        view.make.at = 0;
        view.play.rewind();
        write("all steps out", Vec::new(), wants);
    }
}

/// Where the next drag goes: a line of stitches between two rows.
pub(super) fn mark_ui(ui: &mut Ui, index: usize, list: &MoveList, view: &mut LookView) {
    let is_here = view.make.at.min(list.steps.len()) == index;
    let is_end = index == list.steps.len();
    if !view.make.by_hand || !(is_here || is_end) {
        return;
    }
    let size = vec2(ui.available_width(), MARK);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let words = match (is_here, is_end) {
        (true, false) => "the next drag goes here",
        (true, true) => "the next drag goes to the end",
        (false, _) => "go to the end",
    };
    let role = eframe::egui::Role::Button;
    response.widget_info(|| WidgetInfo::selected(role, true, is_here, words));
    let theme = Theme::of(ui);
    let (colour, face) = if is_here {
        (theme.thread, Face::Semibold)
    } else {
        (theme.ink2, Face::Medium)
    };
    let font = face.at(12.5);
    let words = ui.painter().layout_no_wrap(words.to_owned(), font, colour);
    let y = rect.center().y;
    let left = rect.right() - words.size().x;
    if is_here {
        let line = [pos2(rect.left(), y), pos2(left - 8.0, y)];
        let stitches = stitch::dashed(&line, stitch::CHOSEN, theme.thread);
        ui.painter().extend(stitches);
    }
    let at = pos2(left, y - 0.5 * words.size().y);
    ui.painter().galley(at, words, colour);
    if is_here && view.make.brings {
        response.scroll_to_me(None);
    }
    if response.clicked() && !is_here {
        view.make.chosen.clear();
        view.make.go_to(list, index, &mut view.play);
    }
}

/// The move of a drag that was made after the moves played, if a strand lies there.
pub(in super::super) fn move_of(
    list: &MoveList,
    view: &LookView,
    strand: usize,
    to: crate::structure::Place,
) -> Option<Move> {
    let before = moves_before(list, view.make.at);
    let places = super::super::standing::Standing::walked(list, before).places;
    let from = *places.get(strand)?;
    (from != to).then_some(Move { from, to })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Place;

    fn list() -> MoveList {
        let text = "slots 8\nstart 1 3 5\n1 > 2\n3 > 4\n5 > 6";
        text.parse().expect("a list")
    }

    fn inserted(wants: &[Command]) -> MoveList {
        let mut list = list();
        for want in wants {
            if let Command::Edit(Edit::Rework(change)) = want {
                list = change.apply(&list).expect("it can be made").list;
            }
        }
        list
    }

    #[test]
    fn drags_go_in_at_the_cursor_one_behind_the_other_and_stay_chosen() {
        let (mut view, mut play) = (MakeView::default(), Play::default());
        view.toggle_by_hand(&list(), &mut play);
        view.go_to(&list(), 1, &mut play);
        let one = |from, to| Move {
            from: Place::slot(from),
            to: Place::slot(to),
        };
        let mut wants = Vec::new();
        view.dragged(&list(), one(5, 8), &mut play, &mut wants);
        assert_eq!((view.at, play.done), (2, 2), "after it");
        let longer = inserted(&wants);
        view.keep_place(&longer, &mut play);
        view.dragged(&longer, one(8, 7), &mut play, &mut wants);
        let text = inserted(&wants).to_string();
        let steps: Vec<&str> = text.lines().skip(2).collect();
        assert_eq!(steps, ["1 > 2", "5 > 8", "8 > 7", "3 > 4", "5 > 6"]);
        assert_eq!(view.meant(), [1, 2].into(), "a block");
    }

    #[test]
    fn undo_brings_the_cursor_back_with_the_strands() {
        let (mut view, mut play) = (MakeView::default(), Play::default());
        view.toggle_by_hand(&list(), &mut play);
        view.go_to(&list(), 3, &mut play);
        assert_eq!(play.done, 3, "the end is a place too");
        let mut wants = Vec::new();
        let carried = Move {
            from: Place::slot(2),
            to: Place::slot(8),
        };
        view.dragged(&list(), carried, &mut play, &mut wants);
        assert_eq!((view.at, play.done), (4, 4));
        view.keep_place(&list(), &mut play);
        assert_eq!((view.at, play.done), (3, 3), "taken back");
    }
}
