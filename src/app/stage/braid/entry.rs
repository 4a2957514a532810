//! Before a cord is at the disc: what would be begun, and what is under way.

use eframe::egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use super::under_way;
use crate::app::at_disc::Hands;
use crate::app::command::Command;
use crate::app::controls::{Button, Notice, Sheet, Tone};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::planned::Planned;
use crate::app::stage::cautions::cautions_ui;
use crate::app::stage::entry::Grain;
use crate::app::words;
use crate::plan::Where;

/// Gap between sheets.
const GAP: f32 = 20.0;
/// Least width of two sheets side by side.
const PAIRED: f32 = 820.0;

/// Draws it in `rect`.
pub(super) fn entry_ui(ui: &mut Ui, rect: Rect, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let builder = UiBuilder::new().max_rect(rect).id_salt("entry");
    ui.scope_builder(builder, |ui| {
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| sheets(ui, rect.width(), desk, wants));
    });
}

/// What would be begun at the left, what is under way at the right or under it.
fn sheets(ui: &mut Ui, width: f32, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let top = ui.cursor().min + vec2(24.0, 4.0);
    let width = width - 48.0;
    let is_paired = width >= PAIRED;
    let wide = if is_paired {
        0.5 * (width - GAP)
    } else {
        width
    };
    let column = |ui: &mut Ui, x: f32, y: f32| {
        let rect = Rect::from_min_size(top + vec2(x, y), vec2(wide, 8000.0));
        let builder = UiBuilder::new().max_rect(rect).id_salt((x as i32, "entry"));
        ui.new_child(builder)
    };
    let mut left = column(ui, 0.0, 0.0);
    Sheet::new()
        .size(vec2(wide, 260.0))
        .show(&mut left, |ui| begin_ui(ui, desk, wants));
    let bottom = left.min_rect().bottom();
    let (x, y) = if is_paired {
        (wide + GAP, 0.0)
    } else {
        (0.0, bottom - top.y + GAP)
    };
    let mut right = column(ui, x, y);
    Sheet::new()
        .size(vec2(wide, 260.0))
        .show(&mut right, |ui| under_way::under_way_ui(ui, desk, wants));
    let bottom = bottom.max(right.min_rect().bottom());
    let whole = Rect::from_min_max(ui.cursor().min, pos2(top.x + width, bottom + 16.0));
    ui.allocate_rect(whole, eframe::egui::Sense::hover());
}

fn begin_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    Role::Section.label(ui, "Begin a cord");
    ui.add_space(4.0);
    Role::Title.label(ui, &desk.design.name);
    let hindrance = match desk.plan {
        Some(planned) => {
            facts_ui(ui, desk, planned);
            cautions_ui(ui, &planned.plan.cautions, Where::Work);
            None
        }
        None if desk.solver.solved().is_busy() => {
            Some("how long it takes comes with the cord, which is being worked out")
        }
        None => Some("these moves and strands make no cord; the Look stage says why"),
    };
    if let Some(words) = hindrance {
        Role::Text.label(ui, super::super::super::act::sentence(words) + ".");
    }
    if let Some(trouble) = desk.at_disc.trouble() {
        ui.add_space(6.0);
        Notice {
            tone: Tone::Stop,
            happened: &format!("Not begun, for its place could not be kept: {trouble}."),
            kept: "Nothing was changed.",
            advice: "See that there is room on the disk and that its folder can be written to.",
        }
        .show(ui);
    }
    ui.add_space(12.0);
    let words = Hands::Begin.words();
    let button = Button::main(words).off_because(hindrance);
    if ui.add(button).clicked() {
        wants.push(Command::AtDisc(Hands::Begin));
    }
}

/// So many strands, moves, and so long.
fn facts_ui(ui: &mut Ui, desk: &Desk<'_>, planned: &Planned) {
    let list = &planned.plan.cut;
    let strands = words::count(desk.design.strands.len());
    let structure = desk.section().map_or("", |section| &section.structure);
    let made = match structure {
        "" => format!("{strands} strands"),
        name => format!("{name}, {strands} strands"),
    };
    Role::Text.label(ui, made);
    let run = list.runs.first();
    let (moves, on_disc) = run.map_or((list.moves, list.on_disc), |run| (run.moves, run.on_disc));
    let long = |mm: f64| Grain::Long.said(mm.round(), desk.units());
    Role::Text.label(
        ui,
        format!(
            "About {:.0} moves ({:.0} to {:.0}) for {} on the disc ({} to {}).",
            moves.value,
            moves.low,
            moves.high,
            long(on_disc.value),
            long(on_disc.low),
            long(on_disc.high)
        ),
    );
    if desk.known().is_about() {
        Role::Note.label(
            ui,
            "About so: a first answer, the solved figures are on their way.",
        );
    }
    Role::Note.label(
        ui,
        "The cord keeps what it is begun with: the design can be changed meanwhile.",
    );
}
