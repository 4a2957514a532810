//! What the maker has: thread, findings, bobbins, the table, the hand, prices.
//!
//! It belongs to no design. Every field asks for the workshop with that one thing
//! changed, and Undo takes it back.

mod bobbins;
mod findings;
mod hand;
mod table;
mod thread;

use eframe::egui::{Rect, Sense, Ui, UiBuilder, Vec2, pos2, vec2};

use super::{CutPage, CutState};
use crate::app::command::Command;
use crate::app::controls::{Button, Sheet, link, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::document::example_workshop;
use crate::plan::Workshop;
use crate::quantity::UnitSystem;

/// Gap between sheets, width of the right one, least width of the left one.
const GAP: f32 = 20.0;
const RIGHT: f32 = 380.0;
const LEFT: f32 = 660.0;

/// What of the goods is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Goods {
    #[default]
    Thread,
    Findings,
    Bobbins,
}

/// What of the hand is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Ways {
    #[default]
    Prices,
    Cutting,
    Pace,
}

/// How the shelf is looked at.
#[derive(Debug, Default)]
pub(super) struct ShelfState {
    goods: Goods,
    ways: Ways,
    /// The finding whose measures are shown.
    opened: Option<usize>,
}

/// What the sheets of the shelf read and ask.
struct Shelf<'a, 'b> {
    desk: &'a Desk<'a>,
    wants: &'b mut Vec<Command>,
}

impl Shelf<'_, '_> {
    fn workshop(&self) -> &Workshop {
        self.desk.workshop
    }

    fn units(&self) -> UnitSystem {
        self.desk.units()
    }

    /// Asks for the workshop with one thing changed.
    fn ask(&mut self, done: &str, change: impl FnOnce(&mut Workshop)) {
        let mut workshop = self.desk.workshop.clone();
        change(&mut workshop);
        let command = Command::Workshop(Box::new(workshop), done.to_owned());
        self.wants.push(command);
    }
}

/// The page "My shelf".
pub(super) fn page_ui(
    ui: &mut Ui,
    room: Vec2,
    desk: &Desk<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    let top = ui.cursor().min + vec2(24.0, 0.0);
    let width = room.x - 48.0;
    let whole = Rect::from_min_size(top, vec2(width, 8000.0));
    let mut page = ui.new_child(UiBuilder::new().max_rect(whole).id_salt("shelf"));
    page.horizontal(|ui| {
        if link(ui, "back to the list").clicked() {
            state.show(CutPage::List);
        }
        ui.add_space(12.0);
        Role::Note.label(
            ui,
            "yours, whatever cord lies on the table; kept on this computer only",
        );
    });
    let mut shelf = Shelf { desk, wants };
    example_ui(&mut page, &mut shelf);
    page.add_space(6.0);
    let state = &mut state.shelf;
    if width >= LEFT + RIGHT + GAP {
        page.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            ui.vertical(|ui| goods_ui(ui, width - RIGHT - GAP, &mut shelf, state));
            ui.vertical(|ui| ways_ui(ui, RIGHT, &mut shelf, state));
        });
    } else {
        goods_ui(&mut page, width, &mut shelf, state);
        page.add_space(GAP);
        ways_ui(&mut page, width, &mut shelf, state);
    }
    let bottom = page.min_rect().bottom() + 16.0;
    let used = Rect::from_min_max(ui.cursor().min, pos2(top.x + width, bottom));
    ui.allocate_rect(used, Sense::hover());
}

/// Invented figures say so until they are the maker's own; an empty shelf offers them.
fn example_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    let workshop = shelf.workshop();
    if workshop.stock.is_empty() && workshop.findings.is_empty() {
        ui.horizontal_wrapped(|ui| {
            Role::Text.label(ui, "Nothing is written down yet.");
            if link(ui, "Show me an invented shelf").clicked() {
                shelf.ask("an invented shelf", |w| w.clone_from(example_workshop()));
            }
        });
        return;
    }
    if !workshop.example {
        return;
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        Role::Name.label(ui, "An example, invented:");
        Role::Text.label(
            ui,
            "its stock and prices are nobody's. Change what is yours, or",
        );
        if ui.add(Button::plain("Begin empty")).clicked() {
            shelf.ask("begin with an empty shelf", |workshop| {
                *workshop = Workshop::default();
            });
        }
        if ui.add(Button::plain("It is mine now")).clicked() {
            shelf.ask("the shelf is mine", |workshop| workshop.example = false);
        }
    });
}

fn goods_ui(ui: &mut Ui, width: f32, shelf: &mut Shelf<'_, '_>, state: &mut ShelfState) {
    Sheet::new().size(vec2(width, 300.0)).show(ui, |ui| {
        ui.horizontal(|ui| {
            Role::Section.label(ui, "My shelf");
            ui.add_space(12.0);
            let words = [
                (Goods::Thread, "thread"),
                (Goods::Findings, "findings"),
                (Goods::Bobbins, "bobbins"),
            ];
            segments(ui, "on the shelf", &mut state.goods, &words);
        });
        ui.add_space(8.0);
        ui.spacing_mut().item_spacing.y = 6.0;
        match state.goods {
            Goods::Thread => thread::thread_ui(ui, shelf),
            Goods::Findings => findings::findings_ui(ui, shelf, &mut state.opened),
            Goods::Bobbins => bobbins::bobbins_ui(ui, shelf),
        }
    });
}

fn ways_ui(ui: &mut Ui, width: f32, shelf: &mut Shelf<'_, '_>, state: &mut ShelfState) {
    Sheet::new().size(vec2(width, 300.0)).show(ui, |ui| {
        ui.horizontal(|ui| {
            Role::Section.label(ui, "My way");
            ui.add_space(6.0);
            let words = [
                (Ways::Prices, "prices"),
                (Ways::Cutting, "cutting"),
                (Ways::Pace, "pace"),
            ];
            segments(ui, "my way", &mut state.ways, &words);
        });
        ui.add_space(8.0);
        ui.spacing_mut().item_spacing.y = 6.0;
        match state.ways {
            Ways::Prices => hand::prices_ui(ui, shelf),
            Ways::Cutting => hand::cutting_ui(ui, shelf),
            Ways::Pace => hand::pace_ui(ui, shelf),
        }
    });
}
