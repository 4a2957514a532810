//! Look: which braid, and which colours where.
//!
//! Structures, picked or made, at the left, the disc in the middle, strands at the right. In a
//! narrow window structures, strands and settings share one panel, which goes
//! under the disc when there is no room beside it.

mod apart;
mod braiding;
mod colours;
mod disc_column;
pub mod find;
mod left;
mod looks;
mod make;
mod own_fibre;
mod page;
mod paint;
mod play;
mod recording;
mod shelf;
mod standing;
mod strands;
mod structures;
mod trying;
mod verdict;

use std::collections::BTreeSet;

use eframe::egui::{Align, Id, Layout, Rect, ScrollArea, Ui, UiBuilder, Vec2, pos2, vec2};

use crate::app::command::Command;
use crate::app::controls::{link, segments};
use crate::app::desk::Desk;
use crate::app::disc::{DiscMemory, DiscTool};
use crate::app::easel::Easel;
use crate::app::window::MARGIN;
use crate::document::Design;
use crate::material::Colour;
use crate::material::colour::Sight;
use crate::structure::MoveList;
use disc_column::disc_column;
pub(in crate::app::stage) use disc_column::{core_of, drawn as drawn_on_disc, strands_at};
use left::left_ui;
pub use page::{Escape, LookPage};
use recording::Recording;
pub use structures::make_of;
pub(super) use structures::{
    dotted as sample_dots, ground as sample_ground, order as sample_order,
};
pub use trying::Trying;
pub use verdict::flags;

/// Gap between the columns.
const GAP: f32 = 24.0;
/// Width of the structures column.
const STRUCTURES: f32 = 248.0;
/// Width of the strands column.
const STRANDS: f32 = 460.0;

/// What is shown in the one panel of a narrow window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Panel {
    /// The list of structures.
    Structures,
    /// The strands sheet.
    #[default]
    Strands,
    /// What the colours can give.
    Looks,
    /// How it is braided.
    Braiding,
}

/// What the maker looks at on this stage.
#[derive(Debug)]
pub struct LookView {
    /// What fills the stage.
    pub page: LookPage,
    /// What is tried on, if anything.
    pub trying: Trying,
    /// What is wished for on the unrolled surface.
    pub paint: paint::PaintView,
    /// The looks that the colours can give.
    pub looks: looks::LooksView,
    /// The panel of a narrow window.
    pub panel: Panel,
    /// The strands chosen.
    pub chosen: BTreeSet<usize>,
    /// The fibre shelf, while it is open.
    pub shelf: shelf::ShelfView,
    /// The page of colours, while it is open.
    pub colours: colours::ColoursView,
    /// How its colours stand apart.
    pub apart: apart::ApartView,
    /// Which structures are listed.
    pub structures: structures::Filter,
    /// The label of the edit that laid one of them on.
    pub picked: Option<String>,
    /// The card that the keyboard went to, to be brought into sight.
    pub brings: Option<Id>,
    /// Whether structures are picked or made.
    pub left: left::Left,
    /// The list of moves, while it is worked on.
    pub make: make::MakeView,
    /// The search for others.
    pub find: find::FindView,
    /// The moves being played.
    pub play: play::Play,
    /// What the pointer does on the disc.
    pub tool: DiscTool,
    /// The colour on the brush.
    pub brush: Colour,
    /// Moves of the maker's own, while they are recorded.
    pub recording: Option<Recording>,
    /// Which of several faults is shown, counted from 0.
    pub fault: usize,
    /// What the disc remembers.
    pub disc: DiscMemory,
    /// Sample cords that were looked for in this frame, with their moves.
    pub samples: Vec<(String, MoveList)>,
    /// The same, to be solved in the maker's own fibre.
    pub own_samples: Vec<(String, MoveList)>,
}

impl Default for LookView {
    fn default() -> Self {
        Self {
            page: LookPage::default(),
            trying: Trying::default(),
            paint: paint::PaintView::default(),
            looks: looks::LooksView::default(),
            panel: Panel::default(),
            chosen: BTreeSet::new(),
            shelf: shelf::ShelfView::default(),
            colours: colours::ColoursView::default(),
            apart: apart::ApartView::default(),
            structures: structures::Filter::default(),
            picked: None,
            brings: None,
            left: left::Left::default(),
            make: make::MakeView::default(),
            find: find::FindView::default(),
            play: play::Play::default(),
            tool: DiscTool::default(),
            brush: Colour([0xb9, 0x62, 0x36]),
            recording: None,
            fault: 0,
            disc: DiscMemory::default(),
            samples: Vec::new(),
            own_samples: Vec::new(),
        }
    }
}

impl LookView {
    /// Another design is on the table: its kind of structures is listed.
    pub fn turn_to(&mut self, design: &Design) {
        self.turn_page(LookPage::Disc);
        self.paint.turn_to();
        self.chosen.clear();
        self.play.rewind();
        self.structures.list_like(design);
        self.make.turn_to();
        self.settle(design);
    }

    /// Lets go of what another design does not have.
    pub fn settle(&mut self, design: &Design) {
        let strands = design.strands.len();
        self.chosen.retain(|&strand| strand < strands);
        self.play.settle(design);
        self.make.settle(design);
        self.recording = None;
        self.fault = 0;
    }

    /// With whose eyes disc and strip are seen.
    pub fn sight(&self) -> Sight {
        match self.page {
            LookPage::Disc => self.apart.sight(),
            LookPage::Looks | LookPage::Paint => Sight::Full,
        }
    }

    /// Shows where colours are taken from a photograph.
    pub fn show_photograph(&mut self) {
        if self.page == LookPage::Paint {
            self.paint.await_photograph();
            return;
        }
        self.show_colours(colours::From::Photograph);
    }

    /// Shows the palettes.
    pub fn show_palettes(&mut self) {
        self.show_colours(colours::From::Palettes);
    }

    fn show_colours(&mut self, from: colours::From) {
        self.shelf.shut();
        self.panel = Panel::Strands;
        self.colours.open_at(from);
    }

    /// Whether drags on the disc become steps of the design's list.
    fn records_into(&self) -> bool {
        self.left == left::Left::Make && self.make.is_by_hand()
    }

    /// Whether a drag on the disc is a move and not another start.
    fn records(&self) -> bool {
        self.recording.is_some() || self.records_into()
    }

    /// After a frame: a search goes on only while it is looked at.
    pub fn rest(&mut self) {
        self.find.rest();
        self.looks.rest();
    }

    /// The strands that a change is meant for: those chosen, or all.
    pub fn meant(&self, design: &Design) -> Vec<usize> {
        if self.chosen.is_empty() {
            return (0..design.strands.len()).collect();
        }
        self.chosen.iter().copied().collect()
    }
}

/// How the stage is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Width {
    /// Three columns.
    Wide,
    /// Disc and panel side by side.
    Narrow,
    /// The panel under the disc.
    Slim,
}

impl Width {
    /// For a stage of this width, the rail already taken off.
    fn of(stage: f32) -> Self {
        match stage {
            w if w >= 1088.0 => Self::Wide,
            w if w >= 800.0 => Self::Narrow,
            _ => Self::Slim,
        }
    }
}

/// Draws the stage into `rect`.
pub fn look_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let inner = rect.shrink2(vec2(MARGIN, 0.0));
    match view.page {
        LookPage::Disc => disc_page_ui(ui, rect.width(), inner, desk, view, easel, wants),
        LookPage::Looks => looks::page_ui(ui, inner, desk, view, easel, wants),
        LookPage::Paint => paint::page_ui(ui, inner, desk, view, easel, wants),
    }
}

fn disc_page_ui(
    ui: &mut Ui,
    width: f32,
    inner: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    match Width::of(width) {
        Width::Wide => wide_ui(ui, inner, desk, view, easel, wants),
        Width::Narrow => narrow_ui(ui, inner, desk, view, easel, wants),
        Width::Slim => slim_ui(ui, inner, desk, view, easel, wants),
    }
}

fn wide_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let left = rect.with_max_x(rect.left() + STRUCTURES);
    let right = rect.with_min_x(rect.right() - STRANDS.min(0.36 * rect.width()));
    let middle = Rect::from_min_max(
        pos2(left.right() + GAP, rect.top()),
        pos2(right.left() - GAP, rect.bottom()),
    );
    column(ui, "structures", left, |ui| {
        left_ui(ui, desk, view, easel, wants);
    });
    disc_column(ui, middle, desk, view, wants);
    column(ui, "strands", right, |ui| {
        page::words_ui(ui, view);
        strands::sheet_ui(ui, desk, view, wants);
        ui.add_space(16.0);
        looks::section_ui(ui, desk, view, easel, wants);
        ui.add_space(16.0);
        apart::sheet_ui(ui, desk, view, wants);
        ui.add_space(16.0);
        braiding::sheet_ui(ui, desk, wants);
    });
}

fn narrow_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let panel = rect.with_min_x(rect.right() - (0.46 * rect.width()).clamp(372.0, STRANDS));
    let disc = rect.with_max_x(panel.left() - GAP);
    disc_column(ui, disc, desk, view, wants);
    column(ui, "panel", panel, |ui| {
        panel_ui(ui, desk, view, easel, wants);
    });
}

fn slim_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    column(ui, "slim", rect, |ui| {
        let width = ui.available_width();
        // Disc and play bar are seen together, as long as there is room for them.
        let height = (0.86 * width).min((rect.height() - 8.0).max(200.0));
        let (spot, _) =
            ui.allocate_exact_size(Vec2::new(width, height), eframe::egui::Sense::hover());
        // In a room of its own, so that the panel begins under all of it.
        let mut own = ui.new_child(UiBuilder::new().max_rect(spot).id_salt("disc and bar"));
        disc_column(&mut own, spot, desk, view, wants);
        ui.add_space(12.0);
        panel_ui(ui, desk, view, easel, wants);
    });
}

/// The one panel of a narrow window, with its words.
fn panel_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let words = [
        (Panel::Structures, "Structures"),
        (Panel::Strands, "Strands"),
        (Panel::Looks, "Looks"),
        (Panel::Braiding, "Braiding"),
    ];
    segments(ui, "panel", &mut view.panel, &words);
    ui.add_space(4.0);
    match view.panel {
        Panel::Structures => left_ui(ui, desk, view, easel, wants),
        Panel::Strands => {
            strands::sheet_ui(ui, desk, view, wants);
            ui.add_space(16.0);
            apart::sheet_ui(ui, desk, view, wants);
        }
        Panel::Looks => {
            looks::section_ui(ui, desk, view, easel, wants);
            if link(ui, "paint what you want to see").clicked() {
                view.turn_page(LookPage::Paint);
            }
        }
        Panel::Braiding => braiding::sheet_ui(ui, desk, wants),
    }
}

/// A column that scrolls when its sheets are taller than the stage.
fn column(ui: &mut Ui, name: &str, rect: Rect, content: impl FnOnce(&mut Ui)) {
    // Room for stitches and shadows, which stand out over the sheets.
    let out = 14.0;
    let outer = rect.expand2(vec2(out, 0.0));
    let builder = UiBuilder::new()
        .max_rect(outer)
        .id_salt(name)
        .layout(Layout::top_down(Align::Min));
    ui.scope_builder(builder, |ui| {
        ScrollArea::vertical()
            .auto_shrink(false)
            .id_salt(name)
            .show(ui, |ui| {
                let inner = vec2(rect.width(), ui.available_height());
                let at = ui.cursor().min + vec2(out, 4.0);
                let content_rect = Rect::from_min_size(at, inner);
                let builder = UiBuilder::new().max_rect(content_rect);
                let used = ui.scope_builder(builder, |ui| {
                    ui.set_width(rect.width());
                    content(ui);
                    ui.add_space(24.0);
                });
                ui.advance_cursor_after_rect(used.response.rect);
            });
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_columns_need_a_window_of_1180() {
        assert_eq!(Width::of(1440.0 - 92.0), Width::Wide);
        assert_eq!(Width::of(1179.0 - 92.0), Width::Narrow);
        assert_eq!(Width::of(1024.0 - 72.0), Width::Narrow);
        assert_eq!(Width::of(640.0 - 72.0), Width::Slim);
    }

    #[test]
    fn without_a_choice_a_change_is_meant_for_every_strand() {
        let design = crate::app::fresh::plain();
        let mut view = LookView::default();
        assert_eq!(view.meant(&design).len(), design.strands.len(), "all");
        view.chosen.insert(1);
        assert_eq!(view.meant(&design), [1], "the one chosen");
    }
}
