//! Looks: all that the colours of a cord can give, as small cords.
//!
//! A few stand under the strands, all on a page of their own, kin beside kin under the
//! words they share. Counted and listed on a thread (`search`), painted by the easel;
//! what is clicked is tried on at once, for colours never wait for a solve.

mod card;
mod grid;
mod listed;
mod search;
mod section;
mod toolbar;
mod walk;
mod wish;

use std::sync::Arc;

use eframe::egui::{Align, Layout, Rect, Ui, UiBuilder};

use crate::app::command::Command;
use crate::app::controls::{Button, link};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::errand::Errand;
use crate::app::fonts::Role;
use crate::document::Edit;
use crate::pattern::{Arrangement, Worn};

use super::LookView;
use super::page;
use listed::Listed;
use search::{News, Question};
pub(super) use section::section_ui;
use wish::{Wish, worn};

/// What of the looks is looked at, and what was found.
#[derive(Debug, Default)]
pub struct LooksView {
    /// What is wanted on the page; none before it is opened.
    wish: Option<Wish>,
    errand: Option<Errand<News>>,
    /// What the errand was sent for.
    asked: Option<Question>,
    /// The last answer, shown until there is a new one.
    listed: Option<Arc<Listed>>,
    /// Why there is none.
    none: Option<String>,
    /// Whether looks were drawn in this frame.
    is_seen: bool,
    /// Whether the search was stopped.
    is_stopped: bool,
    /// The look that the keyboard goes to, to be brought into sight.
    brings: Option<Arrangement>,
}

impl LooksView {
    /// After a frame: looks are only looked for while somebody looks at them.
    pub(super) fn rest(&mut self) {
        if !std::mem::take(&mut self.is_seen) {
            self.errand = None;
            self.asked = None;
        }
    }

    /// From now on looks of the colours that are worn are wanted.
    pub(super) fn wish_anew(&mut self) {
        self.wish = None;
    }

    /// Asks, unless it was asked already, and listens.
    fn follow(&mut self, ui: &Ui, question: Option<Question>) {
        self.is_seen = true;
        let Some(question) = question else { return };
        if !self.asked.as_ref().is_some_and(|asked| asked.is(&question)) {
            let is_shown = |listed: &Arc<Listed>| {
                listed.question.makes == question.makes && listed.question.sets == question.sets
            };
            if !self.listed.as_ref().is_some_and(is_shown) {
                self.listed = None;
            }
            let is_answered =
                |listed: &Arc<Listed>| listed.is_done && listed.question.is(&question);
            let is_there = self.listed.as_ref().is_some_and(is_answered);
            self.errand = (!is_there).then(|| search::send(ui.ctx(), question.clone()));
            self.asked = Some(question);
            self.is_stopped = false;
            self.none = None;
        }
        self.listen();
    }

    fn listen(&mut self) {
        let news = self.errand.as_ref().map(Errand::heard);
        for news in news.into_iter().flatten() {
            match news {
                News::Listed(listed) => {
                    if listed.is_done {
                        self.errand = None;
                    }
                    self.listed = Some(Arc::new(*listed));
                }
                News::None(why) => {
                    self.listed = None;
                    self.errand = None;
                    self.none = Some(why);
                }
            }
        }
    }

    /// What is found stays.
    fn stop(&mut self) {
        self.errand = None;
        self.is_stopped = true;
    }
}

/// A page lower than this is short.
const SHORT: f32 = 380.0;

/// Tries a look on.
fn try_on(
    arrangement: &Arrangement,
    worn: &Worn,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let colours = worn.colours(arrangement, &desk.design.strands);
    view.trying.try_on(Edit::Look(colours), desk, wants);
}

/// The page with all looks.
pub(super) fn page_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let worn = worn(desk.design);
    let mut wish = view.looks.wish.take();
    let mut wish = wish
        .take_if(|wish| wish.is_for(&worn))
        .unwrap_or_else(|| Wish::of(&worn));
    let rect = page::head_ui(ui, rect, view, |ui, view| {
        ui.set_min_height(34.0);
        Role::Section.label(ui, "Looks");
        number_ui(ui, view, &mut wish);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if !tried_ui(ui, desk, view, wants) {
                Role::Note.label(ui, "click one to try it on");
            }
        });
    });
    let builder = UiBuilder::new().max_rect(rect).id_salt("looks");
    ui.scope_builder(builder, |ui| {
        view.looks.follow(ui, wish.question(desk, &worn));
        let among = worn.among(&wish.sets);
        let mut toolbar = |ui: &mut Ui| toolbar::toolbar_ui(ui, desk, &worn, &mut wish);
        // Where height is short it rolls away with the looks.
        if rect.height() >= SHORT || view.looks.listed.is_none() {
            toolbar(ui);
            grid::grid_ui(ui, |_| {}, &among, desk, view, easel, wants);
        } else {
            grid::grid_ui(ui, toolbar, &among, desk, view, easel, wants);
        }
    });
    view.looks.wish = Some(wish);
}

/// What to do with what is tried on; whether anything is.
fn tried_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) -> bool {
    let is_on = view.trying.is_on(desk.design, desk.undo);
    if !is_on {
        return false;
    }
    ui.horizontal(|ui| {
        if ui.add(Button::main("Keep it")).clicked() {
            view.trying.keep();
        }
        if ui.add(Button::plain("Take it back")).clicked() {
            view.trying.keep();
            wants.push(Command::Undo);
        }
    });
    true
}

/// How many there are, exactly, and how many are shown.
fn number_ui(ui: &mut Ui, view: &mut LookView, wish: &mut Wish) {
    let looks = &mut view.looks;
    let Some(listed) = looks.listed.clone() else {
        let waits = "Counting and listing\u{2026}".to_owned();
        Role::Note.label(ui, looks.none.clone().unwrap_or(waits));
        return;
    };
    Role::Name.label(ui, listed.number());
    if looks.errand.is_some() && !listed.is_done && link(ui, "stop looking").clicked() {
        looks.stop();
    }
    if listed.is_drawn && listed.is_done && link(ui, "draw others").clicked() {
        wish.seed += 1;
    }
    if looks.is_stopped {
        Role::Note.label(ui, "stopped");
    }
}
