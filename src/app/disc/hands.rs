//! The pointer on the disc.

use std::collections::BTreeSet;

use eframe::egui::{CursorIcon, Key, Pos2, Rect, Ui};

use super::names::{self, Part, Pressed};
use super::plate::Plate;
use super::{DiscAsk, DiscMemory, DiscTool, DiscView, Pull};
use crate::structure::Place;

/// Turns what the pointer did into what was asked for.
pub(super) fn pointer(
    ui: &Ui,
    view: &DiscView<'_>,
    plate: &Plate,
    memory: &mut DiscMemory,
    pressed: &Pressed,
    asks: &mut Vec<DiscAsk>,
) {
    if let Some(part) = pressed.clicked {
        click(ui, view, part, asks);
    }
    if let Some((part, at)) = pressed.pulled {
        memory.pull = match (view.tool, part) {
            (DiscTool::Paint, Part::Strand(strand)) => {
                asks.push(DiscAsk::Paint { strand });
                Some(Pull::Brush(BTreeSet::from([strand])))
            }
            (DiscTool::Paint, _) => Some(Pull::Brush(BTreeSet::new())),
            (_, Part::Strand(strand)) => Some(Pull::Strand(strand)),
            (DiscTool::Move, _) => Some(Pull::Band(at)),
            (DiscTool::Mark, _) => None,
        };
    }
    let at = ui.input(|input| input.pointer.latest_pos());
    if let Some((pull, at)) = memory.pull.take().zip(at) {
        let held = ui.input(|input| input.pointer.any_down());
        memory.pull = follow(ui, view, plate, pull, at, held, asks);
    }
    if let Some(at) = at.filter(|at| plate.is_near(*at) && ui.rect_contains_pointer(ui.min_rect()))
    {
        show_hand(ui, view, plate, memory, at);
    }
}

/// An open hand over a strand, a closed one while it is pulled.
fn show_hand(ui: &Ui, view: &DiscView<'_>, plate: &Plate, memory: &DiscMemory, at: Pos2) {
    let over = names::strand_under(view, plate, at).is_some();
    let icon = match (&memory.pull, view.tool) {
        (Some(Pull::Strand(_)), _) => CursorIcon::Grabbing,
        (Some(_), _) | (None, DiscTool::Paint) => CursorIcon::Crosshair,
        (None, DiscTool::Move | DiscTool::Mark) if over => CursorIcon::Grab,
        (None, DiscTool::Move | DiscTool::Mark) => return,
    };
    ui.ctx().set_cursor_icon(icon);
}

fn click(ui: &Ui, view: &DiscView<'_>, part: Part, asks: &mut Vec<DiscAsk>) {
    let add = ui.input(|input| input.modifiers.shift || input.modifiers.command);
    if view.tool == DiscTool::Mark {
        asks.extend(marked(view, part));
        return;
    }
    match part {
        Part::Strand(strand) if view.tool == DiscTool::Paint => {
            asks.push(DiscAsk::Paint { strand });
        }
        Part::Strand(strand) => asks.push(DiscAsk::Choose { strand, add }),
        Part::Slot(slot) if view.tool == DiscTool::Move => match only_one(view.chosen) {
            Some(strand) => asks.push(DiscAsk::Carry {
                strand,
                to: Place::slot(slot),
            }),
            None => let_go(view, asks),
        },
        Part::Slot(_) | Part::Ground => let_go(view, asks),
    }
}

/// What a press asks for while it is marked what is seen: a strand is chosen first and
/// marked when it is pressed again.
fn marked(view: &DiscView<'_>, part: Part) -> Option<DiscAsk> {
    match part {
        Part::Strand(strand) if view.chosen.contains(&strand) => {
            let place = view.strands.get(strand).map(|strand| strand.place);
            place.map(DiscAsk::Mark)
        }
        Part::Strand(strand) => Some(DiscAsk::Choose { strand, add: false }),
        Part::Slot(slot) => Some(DiscAsk::Mark(Place::slot(slot))),
        Part::Ground => None,
    }
}

fn let_go(view: &DiscView<'_>, asks: &mut Vec<DiscAsk>) {
    if !view.chosen.is_empty() {
        asks.push(DiscAsk::LetGo);
    }
}

fn only_one(chosen: &BTreeSet<usize>) -> Option<usize> {
    let mut strands = chosen.iter();
    let first = strands.next().copied();
    first.filter(|_| strands.next().is_none())
}

/// A pull in progress: what it asks for now, and whether it goes on.
fn follow(
    ui: &Ui,
    view: &DiscView<'_>,
    plate: &Plate,
    pull: Pull,
    at: Pos2,
    held: bool,
    asks: &mut Vec<DiscAsk>,
) -> Option<Pull> {
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        return None;
    }
    match pull {
        Pull::Brush(mut painted) => {
            let strand = names::strand_under(view, plate, at);
            if let Some(strand) = strand.filter(|strand| painted.insert(*strand)) {
                asks.push(DiscAsk::Paint { strand });
            }
            held.then_some(Pull::Brush(painted))
        }
        _ if held => Some(pull),
        Pull::Band(from) => {
            let band = Rect::from_two_pos(from, at);
            asks.push(DiscAsk::ChooseMany(banded(view, plate, band)));
            None
        }
        Pull::Strand(strand) => {
            if let Some(to) = landing(ui, view, plate, at) {
                put_down(view, strand, to, asks);
            }
            None
        }
    }
}

/// The strands a band reaches: those of which it holds a part outside the hole.
pub(super) fn banded(view: &DiscView<'_>, plate: &Plate, band: Rect) -> Vec<usize> {
    (0..view.strands.len())
        .filter(|strand| {
            let tip = plate.tip(view.strands[*strand].place, *strand);
            let tag = plate.tag(tip);
            (0..=24)
                .map(|k| 0.25 + 0.75 * k as f32 / 24.0)
                .any(|share| band.contains(plate.centre.lerp(tag, share)))
        })
        .collect()
}

/// Where a strand would come to lie if it were let go here; with Alt also
/// between two slots.
pub(super) fn landing(ui: &Ui, view: &DiscView<'_>, plate: &Plate, at: Pos2) -> Option<Place> {
    if view.hand && plate.is_middle(at) {
        return Some(Place::Hand);
    }
    let slot = plate.slot_at(at)?;
    if !ui.input(|input| input.modifiers.alt) {
        return Some(Place::slot(slot));
    }
    let slots = view.slots;
    let before = Place::slot(slot).turned(-1, slots);
    let after = Place::slot(slot).turned(1, slots);
    [before, after].into_iter().min_by(|a, b| {
        plate
            .tip(*a, 0)
            .distance(at)
            .total_cmp(&plate.tip(*b, 0).distance(at))
    })
}

/// Carries a strand to a place, or puts it where another sits.
pub(super) fn put_down(view: &DiscView<'_>, strand: usize, to: Place, asks: &mut Vec<DiscAsk>) {
    let Some(it) = view.strands.get(strand) else {
        return;
    };
    if it.place == to {
        return;
    }
    let taken = view.strand_at(to).filter(|_| to != Place::Hand);
    asks.push(match taken {
        Some(with) => DiscAsk::Swap { strand, with },
        None => DiscAsk::Carry { strand, to },
    });
}
