//! The other way round: how thick it should be, or into which cap it should go, and what
//! may change for it.
//!
//! The nearest cords stand under the question as they are found; a click tries one on, as
//! one change that Esc takes back. Nothing is changed unasked. What the answers are is
//! found beside the window (`search`) and decided in `plan::wish`.

mod answer;
mod question;
mod search;

use std::collections::BTreeSet;

use eframe::egui::Ui;

use crate::app::command::Command;
use crate::app::controls::{Button, head, link};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::Role;
use crate::app::stage::look::Trying;
use crate::document::{Design, Piece};
use crate::plan::wish::{Freedom, Wanted, Wish};
use question::{free_ui, question_ui, sizes_ui};
use search::Search;

/// How far from the wished thickness is near enough, mm: half of the last place shown.
const NEAR_ENOUGH: f64 = 0.05;
/// Answers at most.
const MOST: usize = 6;

/// What is asked for, and what was found.
#[derive(Debug)]
pub struct OtherWay {
    wanted: Wanted,
    /// The thickness wished for, mm.
    thickness: Option<f64>,
    /// The inner diameter of the cap wished for, mm.
    cap: Option<f64>,
    free: BTreeSet<Freedom>,
    trying: Trying,
    search: Option<Search>,
}

impl Default for OtherWay {
    /// Nothing asked; what leaves the structure as it is may change.
    fn default() -> Self {
        Self {
            wanted: Wanted::Thickness,
            thickness: None,
            cap: None,
            free: [Freedom::Ends, Freedom::Size, Freedom::Counterweight].into(),
            trying: Trying::default(),
            search: None,
        }
    }
}

impl OtherWay {
    /// Whether the last change is a try of an answer, which is then to be undone.
    pub fn takes_back(&mut self, design: &Design, undo: Option<&str>) -> bool {
        let is_on = self.trying.is_on(design, undo);
        if is_on {
            self.trying.keep();
        }
        is_on
    }

    fn wish(&self, piece: &Piece) -> Option<Wish> {
        match self.wanted {
            Wanted::Thickness => Wish::thickness(self.thickness?, NEAR_ENOUGH),
            Wanted::BoundEnd => Wish::cap(self.cap?, piece.glue_gap, piece.binding),
        }
    }

    /// Asks anew where the question is another one; while an answer is tried on, the
    /// question stays that of the cord before it.
    fn follow(&mut self, ui: &Ui, desk: &Desk<'_>) {
        let wish = self.wish(&desk.design.piece);
        if wish.is_none() {
            self.search = None;
        }
        let is_tried = self.trying.is_on(desk.design, desk.undo);
        if let Some(wish) = wish.filter(|_| !is_tried) {
            Search::follow(&mut self.search, ui, desk, wish, &self.free);
        }
        if let Some(search) = &mut self.search {
            search.hear();
        }
    }
}

/// The sheet's contents.
pub(super) fn other_way_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    other: &mut OtherWay,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    other.follow(ui, desk);
    head(ui, "The other way round", |ui| state_ui(ui, other));
    ui.add_space(4.0);
    question_ui(ui, desk, other);
    ui.add_space(8.0);
    free_ui(ui, other);
    ui.add_space(4.0);
    sizes_ui(ui, desk, wants);
    ui.add_space(6.0);
    answers_ui(ui, desk, other, easel, wants);
}

/// How far the search is, and the way to end it.
fn state_ui(ui: &mut Ui, other: &mut OtherWay) {
    let Some(search) = &mut other.search else {
        return;
    };
    if search.is_running() {
        if link(ui, "stop looking").clicked() {
            search.stop();
        }
    } else if search.is_stopped() {
        Role::Note.label(ui, "stopped");
    }
}

fn answers_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    other: &mut OtherWay,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let Some(search) = &other.search else {
        Role::Text.label(ui, waiting(desk, other));
        return;
    };
    if let Some(sentence) = search.hindrance(desk.units()) {
        Role::Text.label(ui, sentence);
        ui.add_space(4.0);
    }
    for (place, found) in search.found.iter().enumerate() {
        let is_tried = found.is_in(desk.design) && !found.is_as_it_is();
        let dearer = search.dearer(found, desk);
        if answer::answer_ui(ui, place, found, (is_tried, dearer), desk, easel) {
            let edit = search.edit(found);
            other.trying.try_on(edit, desk, wants);
        }
    }
    if search.found.is_empty() && search.is_running() {
        Role::Text.label(ui, "Looking\u{2026}");
    }
    tried_ui(ui, desk, other, wants);
}

/// Why nothing is looked for yet.
fn waiting(desk: &Desk<'_>, other: &OtherWay) -> &'static str {
    match other.wish(&desk.design.piece) {
        Some(_) => "The answers come with the cord.",
        None => {
            "Say how thick it should be, or into which cap it should go: the nearest ways stand here."
        }
    }
}

/// What to do with what is tried on.
fn tried_ui(ui: &mut Ui, desk: &Desk<'_>, other: &mut OtherWay, wants: &mut Vec<Command>) {
    if !other.trying.is_on(desk.design, desk.undo) {
        return;
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        if ui.add(Button::main("Keep it")).clicked() {
            other.trying.keep();
        }
        if ui.add(Button::plain("Take it back")).clicked() {
            other.trying.keep();
            wants.push(Command::Undo);
        }
    });
}
