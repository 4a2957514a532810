//! Any list of moves, made on the disc by dragging strand after strand.

use eframe::egui::{Event, Modifiers, PointerButton, Pos2, vec2};
use egui_kittest::kittest::Queryable;
use plaitwright::document::{Design, Kept, save, strand_name};
use plaitwright::structure::{Braid, Move, MoveList, Numbering, Place, Shape, Step, Structure};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

use super::lists::{list_with_a_hold, sound_list};
use super::{Window, home};

/// Lists that are made; each takes about a second.
const LISTS: usize = 16;
/// Where a strand is let go and where its letter stands, in radii of the disc.
const LET_GO: f32 = 0.95;
const LETTER: f32 = 1.13;

/// The same strands in the same places, of which one is carried away and back.
fn there_and_back(list: &MoveList) -> MoveList {
    let here = list.start[0];
    let is_free = |place: &Place| !list.start.contains(place);
    let free = (2..=2 * list.slots + 1).map(Place::Rim).find(is_free);
    let there = free.expect("some place is free");
    MoveList {
        steps: vec![Step::one(here, there), Step::one(there, here)],
        ..list.clone()
    }
}

/// A window with a design of these moves.
fn with_moves(home: &std::path::Path, moves: MoveList) -> Window {
    let structure = Structure {
        name: "there and back".to_owned(),
        trade_name: String::new(),
        shape: Shape::Round,
        remark: String::new(),
        moves,
    };
    let file = home.join("moves.plait");
    let kept = Kept::new(Design::fresh(&structure), 1);
    save(&file, &kept).expect("a folder of the test");
    Window::open(home, Some(&file))
}

impl Window {
    /// Where the letter of a strand stands.
    fn letter(&self, strand: usize) -> Pos2 {
        let words = format!(", strand {},", strand_name(strand));
        let mut found = self.harness.query_all_by_label_contains(&words);
        let one = found
            .next()
            .unwrap_or_else(|| panic!("{words:?} is not shown"));
        assert!(found.next().is_none(), "{words:?} is shown twice");
        one.rect().center()
    }

    /// Where on the disc a strand is let go for a place.
    fn spot(&self, place: Place, slots: u16) -> Pos2 {
        let words = format!("disc, {slots} slots, ");
        let disc = self.harness.query_all_by_label_contains(&words).next();
        let rect = disc.expect("the disc is shown").rect();
        let Some(angle) = place.angle(slots) else {
            return rect.center();
        };
        let radius = (rect.width().min(rect.height()) / 2.0 - 15.0) / LETTER;
        let (sin, cos) = (angle as f32).sin_cos();
        rect.center() + LET_GO * radius * vec2(sin, -cos)
    }

    fn button(&self, pos: Pos2, pressed: bool, modifiers: Modifiers) {
        self.harness.event(Event::PointerButton {
            pos,
            button: PointerButton::Primary,
            pressed,
            modifiers,
        });
    }

    /// Drags a strand to a place, with Alt to one between two slots. A verdict that comes
    /// meanwhile may move the disc: where it is, is looked up anew for every step.
    fn carry(&mut self, strand: usize, to: Place, slots: u16) {
        let is_between = matches!(to, Place::Rim(half) if half % 2 == 1);
        let held = if is_between {
            Modifiers::ALT
        } else {
            Modifiers::NONE
        };
        self.harness.hover_at(self.letter(strand));
        self.step(1);
        let from = self.letter(strand);
        self.button(from, true, Modifiers::NONE);
        self.step(1);
        self.harness.hover_at(from.lerp(self.spot(to, slots), 0.5));
        self.step(1);
        self.harness.event(Event::ModifiersChanged(held));
        self.harness.hover_at(self.spot(to, slots));
        self.step(1);
        self.button(self.spot(to, slots), false, held);
        self.step(1);
        self.harness.event(Event::ModifiersChanged(Modifiers::NONE));
        self.step(1);
        let place = Numbering::Clockwise.phrase(to, slots);
        let there = format!("{place}, strand {},", strand_name(strand));
        assert!(self.shows(&there), "not carried: {there}");
    }
}

/// Which strand each move carries.
fn carried(list: &MoveList) -> Vec<(usize, Place)> {
    let mut at = list.start.clone();
    let carry = |(_, Move { from, to }): (usize, Move)| {
        let strand = at.iter().position(|&here| here == from).expect("sound");
        at[strand] = to;
        (strand, to)
    };
    list.moves().map(carry).collect()
}

#[test]
fn lists_recorded_by_dragging_equal_their_text() {
    let lists = prop_oneof![2 => sound_list(), 1 => list_with_a_hold()];
    let mut random = TestRunner::deterministic();
    let mut moves = 0;
    for number in 0..LISTS {
        let list =
            std::iter::repeat_with(|| lists.new_tree(&mut random).expect("a list").current())
                .find(|list| Braid::new(list).is_ok() && !list.steps.is_empty())
                .expect("endless");
        let home = home();
        let mut window = with_moves(home.path(), there_and_back(&list));
        window.await_cord();
        window.await_words("slide apart");
        window.click("tool: Record");
        for (strand, to) in carried(&list) {
            window.carry(strand, to, list.slots);
            moves += 1;
        }
        window.await_words("they come round");
        window.click("Keep these moves");
        assert!(!window.shows("Keep these moves"), "list {number} is kept");
        let recorded = window.harness.state().design().sections[0].moves.clone();
        assert_eq!(recorded.to_string(), list.to_string(), "list {number}");
        assert_eq!(list.to_string().parse(), Ok(recorded), "list {number}");
    }
    assert!(moves > 10 * LISTS, "{moves} moves");
}
