//! Cut: what to cut, wind, buy and ask for it.
//!
//! Everything shown is in the plan that is handed in; the stage works out nothing but
//! where on the sheet a millimetre lies.

mod bars;
mod bobbins;
mod buy;
mod care;
mod named;
mod price;
mod saved;
mod sheet;
mod shelf;
mod tape;
mod thread_bar;

use std::collections::BTreeSet;

use eframe::egui::{Rect, ScrollArea, Ui, UiBuilder, Vec2, pos2, vec2};

use crate::app::command::Command;
use crate::app::controls::{Sheet, link};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::on_paper::OnPaper;
use crate::document::Design;
use crate::plan::{Plan, Workshop};
use crate::quantity::UnitSystem;

pub(super) use named::make as make_words;
pub(super) use price::amount;

/// Gap between sheets.
const GAP: f32 = 20.0;
/// Width of the right column, and least width of the left one.
const RIGHT: f32 = 400.0;
const LEFT: f32 = 660.0;
/// Least width of the left one with two sheets beside one another.
const PAIRED: f32 = 800.0;

/// What fills the stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CutPage {
    /// What to cut, buy and ask.
    #[default]
    List,
    /// What the maker has.
    Shelf,
}

/// How the stage is looked at.
#[derive(Debug, Default)]
pub struct CutState {
    /// What fills it.
    pub page: CutPage,
    /// The length whose steps are shown.
    opened: Option<usize>,
    /// Lengths that are cut already, by their words.
    done: BTreeSet<String>,
    /// How the work sheet is wanted.
    pub(in crate::app) on_paper: OnPaper,
    shelf: shelf::ShelfState,
}

impl CutState {
    /// Turns to a page.
    pub fn show(&mut self, page: CutPage) {
        self.page = page;
    }
}

/// All that the stage shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct CutView<'a> {
    plan: &'a Plan,
    design: &'a Design,
    workshop: &'a Workshop,
    units: UnitSystem,
    is_about: bool,
}

/// Draws the stage in `rect`.
pub(in crate::app) fn stage_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    let builder = UiBuilder::new()
        .max_rect(rect)
        .id_salt(("cut", state.page == CutPage::List));
    ui.scope_builder(builder, |ui| {
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| match (state.page, desk.plan) {
                (CutPage::Shelf, _) => shelf::page_ui(ui, rect.size(), desk, state, wants),
                (CutPage::List, None) => empty_ui(ui, rect.size(), desk, state),
                (CutPage::List, Some(planned)) => {
                    let view = CutView {
                        plan: &planned.plan,
                        design: desk.design,
                        workshop: desk.workshop,
                        units: desk.units(),
                        is_about: desk.known().is_about(),
                    };
                    sheets(ui, rect.size(), view, state, wants);
                }
            });
    });
}

/// No figures yet: what comes, and what can be done meanwhile.
fn empty_ui(ui: &mut Ui, room: Vec2, desk: &Desk<'_>, state: &mut CutState) {
    let at = Rect::from_min_size(
        ui.cursor().min + vec2(24.0, 4.0),
        vec2((room.x - 48.0).min(620.0), 220.0),
    );
    ui.scope_builder(UiBuilder::new().max_rect(at), |ui| {
        Sheet::new().size(at.size()).show(ui, |ui| {
            Role::Section.label(ui, "Cut");
            ui.add_space(6.0);
            let words = if desk.solver.solved().is_busy() {
                "The list comes with the cord, which is being worked out."
            } else {
                "These moves and strands make no cord, so there is nothing to cut yet. The Look \
                 stage says what is the matter; what was decided for the piece is kept."
            };
            Role::Text.label(ui, words);
            ui.add_space(6.0);
            if link(ui, "my shelf").clicked() {
                state.page = CutPage::Shelf;
            }
        });
    });
}

/// Two columns; under each other where they do not fit.
fn sheets(
    ui: &mut Ui,
    room: Vec2,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    let margin = 24.0;
    let top = ui.cursor().min + vec2(margin, 4.0);
    let width = room.x - 2.0 * margin;
    let column = |ui: &mut Ui, x: f32, y: f32, width: f32| {
        let rect = Rect::from_min_size(top + vec2(x, y), vec2(width, 8000.0));
        let builder = UiBuilder::new()
            .max_rect(rect)
            .id_salt((x as i32, y as i32));
        let mut child = ui.new_child(builder);
        child.spacing_mut().item_spacing.y = 0.0;
        child
    };
    let bottom = if width >= LEFT + RIGHT + GAP {
        let left_width = width - RIGHT - GAP;
        let mut left = column(ui, 0.0, 0.0, left_width);
        left_ui(&mut left, left_width, view, state, wants);
        let mut right = column(ui, left_width + GAP, 0.0, RIGHT);
        right_ui(&mut right, RIGHT, view, state, wants);
        left.min_rect().bottom().max(right.min_rect().bottom())
    } else {
        let mut only = column(ui, 0.0, 0.0, width);
        left_ui(&mut only, width, view, state, wants);
        only.add_space(GAP);
        right_ui(&mut only, width, view, state, wants);
        only.min_rect().bottom()
    };
    let whole = Rect::from_min_max(ui.cursor().min, pos2(top.x + width, bottom + 16.0));
    ui.allocate_rect(whole, eframe::egui::Sense::hover());
}

fn left_ui(
    ui: &mut Ui,
    width: f32,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    Sheet::new()
        .size(vec2(width, 0.0))
        .show(ui, |ui| bars::bars_ui(ui, view, state, wants));
    ui.add_space(GAP);
    if width < PAIRED {
        Sheet::new()
            .size(vec2(width, 0.0))
            .show(ui, |ui| buy::buy_ui(ui, view, state));
        ui.add_space(GAP);
        Sheet::new()
            .size(vec2(width, 0.0))
            .show(ui, |ui| bobbins::bobbins_ui(ui, view));
        ui.add_space(GAP);
        Sheet::new()
            .size(vec2(width, 0.0))
            .show(ui, |ui| care::care_ui(ui, view));
        ui.add_space(GAP);
        Sheet::new()
            .size(vec2(width, 0.0))
            .show(ui, |ui| care::label_ui(ui, view));
        return;
    }
    let half = (width - GAP) / 2.0;
    // The picture of the stand needs less than a list of wares.
    let first = (half - 20.0).max(320.0);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        Sheet::new()
            .size(vec2(first, 200.0))
            .show(ui, |ui| ui.vertical(|ui| bobbins::bobbins_ui(ui, view)));
        Sheet::new()
            .size(vec2(width - GAP - first, 200.0))
            .show(ui, |ui| ui.vertical(|ui| buy::buy_ui(ui, view, state)));
    });
    ui.add_space(GAP);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        Sheet::new()
            .size(vec2(width - GAP - first, 160.0))
            .show(ui, |ui| ui.vertical(|ui| care::care_ui(ui, view)));
        Sheet::new()
            .size(vec2(first, 160.0))
            .show(ui, |ui| ui.vertical(|ui| care::label_ui(ui, view)));
    });
}

fn right_ui(
    ui: &mut Ui,
    width: f32,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    Sheet::new()
        .size(vec2(width, 140.0))
        .show(ui, |ui| saved::saved_ui(ui, view));
    ui.add_space(GAP);
    Sheet::new()
        .size(vec2(width, 200.0))
        .show(ui, |ui| price::price_ui(ui, view, state, wants));
    ui.add_space(GAP);
    Sheet::new()
        .size(vec2(width, 0.0))
        .show(ui, |ui| sheet::sheet_ui(ui, view, state, wants));
}
