//! The keyboard on the disc.

use eframe::egui::{EventFilter, Key, Modifiers, Response, Ui};

use super::hands;
use super::{DiscAsk, DiscMemory, DiscTool, DiscView};
use crate::structure::{self, Place};

/// Digits typed within this many seconds make one number.
const TYPING: f64 = 1.2;

/// Turns keys into what was asked for, while the disc has the keyboard.
pub(super) fn keyboard(
    ui: &Ui,
    view: &DiscView<'_>,
    memory: &mut DiscMemory,
    disc: &Response,
    asks: &mut Vec<DiscAsk>,
) {
    if disc.clicked() || disc.drag_started() {
        disc.request_focus();
    }
    if !disc.has_focus() {
        memory.carried = None;
        return;
    }
    keep_arrows(ui, disc);
    if memory.cursor == 0 || memory.cursor > view.slots {
        memory.cursor = first_slot(view);
    }
    walk(ui, view, memory);
    jump(ui, view, memory, asks);
    let here = Place::slot(memory.cursor);
    if taken(ui, Key::Enter) {
        enter(view, memory, here, asks);
    }
    if taken(ui, Key::Space) {
        let strand = view.strand_at(here);
        asks.extend(match view.tool {
            DiscTool::Mark => Some(DiscAsk::Mark(here)),
            DiscTool::Paint => strand.map(|strand| DiscAsk::Paint { strand }),
            DiscTool::Move => strand.map(|strand| DiscAsk::Choose { strand, add: true }),
        });
    }
    if ui.input(|input| input.key_pressed(Key::Escape)) && memory.carried.take().is_none() {
        asks.extend((!view.chosen.is_empty()).then_some(DiscAsk::LetGo));
    }
}

/// Where the keyboard first lands: on a strand, if there is one.
fn first_slot(view: &DiscView<'_>) -> u16 {
    (1..=view.slots)
        .find(|slot| view.strand_at(Place::slot(*slot)).is_some())
        .unwrap_or(1)
}

/// The arrows walk here and do not leave the disc; Tab does.
fn keep_arrows(ui: &Ui, disc: &Response) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        escape: true,
        ..EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(disc.id, filter));
}

fn taken(ui: &Ui, key: Key) -> bool {
    ui.input_mut(|input| input.consume_key(Modifiers::NONE, key))
}

/// One slot clockwise or back; with up and down to the next strand, Home to slot 1.
fn walk(ui: &Ui, view: &DiscView<'_>, memory: &mut DiscMemory) {
    let on = |slot: u16| slot % view.slots + 1;
    let back = |slot: u16| (slot + view.slots - 2) % view.slots + 1;
    let before = memory.cursor;
    if taken(ui, Key::ArrowRight) {
        memory.cursor = on(memory.cursor);
    }
    if taken(ui, Key::ArrowLeft) {
        memory.cursor = back(memory.cursor);
    }
    if taken(ui, Key::Home) {
        memory.cursor = 1;
    }
    let strand_is_there = |slot: &u16| view.strand_at(Place::slot(*slot)).is_some();
    let ways: [(Key, &dyn Fn(u16) -> u16); 2] = [(Key::ArrowDown, &on), (Key::ArrowUp, &back)];
    for (key, way) in ways {
        if !taken(ui, key) {
            continue;
        }
        let found = std::iter::successors(Some(way(memory.cursor)), |slot| Some(way(*slot)))
            .take(usize::from(view.slots))
            .find(strand_is_there);
        memory.cursor = found.unwrap_or(memory.cursor);
    }
    if memory.cursor != before {
        memory.typed.clear();
    }
}

/// Letters go to a strand, digits to a slot as the maker numbers them.
///
/// P takes the brush up and lays it down; where a strand is called P, only
/// the capital does.
fn jump(ui: &Ui, view: &DiscView<'_>, memory: &mut DiscMemory, asks: &mut Vec<DiscAsk>) {
    let now = ui.input(|input| input.time);
    let typed = ui.input(|input| {
        input
            .events
            .iter()
            .filter_map(typed_sign)
            .collect::<String>()
    });
    for sign in typed.chars() {
        if sign.is_ascii_digit() && view.tool == DiscTool::Mark {
            asks.extend(type_number(memory, sign, now));
            continue;
        }
        if sign.is_ascii_digit() {
            type_digit(view, memory, sign, now);
            continue;
        }
        let letter = sign.to_ascii_uppercase().to_string();
        let strand = view.strands.iter().find(|strand| strand.letter == letter);
        if view.tool == DiscTool::Mark {
            continue;
        }
        if sign == 'P' || (sign == 'p' && strand.is_none()) {
            asks.push(DiscAsk::Tool(other_tool(view.tool)));
            continue;
        }
        if let Some(Place::Rim(half)) = strand.map(|strand| strand.place) {
            memory.cursor = half / 2;
        }
    }
}

fn other_tool(tool: DiscTool) -> DiscTool {
    match tool {
        DiscTool::Move => DiscTool::Paint,
        DiscTool::Paint | DiscTool::Mark => DiscTool::Move,
    }
}

fn typed_sign(event: &eframe::egui::Event) -> Option<char> {
    let eframe::egui::Event::Text(text) = event else {
        return None;
    };
    text.chars().next().filter(char::is_ascii_alphanumeric)
}

fn type_digit(view: &DiscView<'_>, memory: &mut DiscMemory, digit: char, now: f64) {
    if now - memory.typed_at > TYPING {
        memory.typed.clear();
    }
    memory.typed_at = now;
    memory.typed.push(digit);
    if slot_called(view, &memory.typed, memory.cursor).is_none() {
        memory.typed = digit.to_string();
    }
    if let Some(slot) = slot_called(view, &memory.typed, memory.cursor) {
        memory.cursor = slot;
    }
}

/// A number typed on the slot where the keyboard stands, so far.
fn type_number(memory: &mut DiscMemory, digit: char, now: f64) -> Option<DiscAsk> {
    if now - memory.typed_at > TYPING {
        memory.typed.clear();
    }
    memory.typed_at = now;
    memory.typed.push(digit);
    let number = memory.typed.parse().ok()?;
    let place = Place::slot(memory.cursor);
    Some(DiscAsk::Number { place, number })
}

/// The slot with this number; on a square plate the one on the side where the
/// keyboard stands.
fn slot_called(view: &DiscView<'_>, number: &str, cursor: u16) -> Option<u16> {
    let a_side = match view.plate {
        structure::Plate::Disc => view.slots,
        structure::Plate::Square => view.slots / 4,
    };
    let side = cursor.saturating_sub(1) / a_side.max(1);
    let mut slots = side * a_side + 1..=((side + 1) * a_side).min(view.slots);
    let number = number.trim_start_matches('0');
    slots.find(|&slot| view.number(Place::slot(slot)) == number)
}

/// Takes up what lies here, or puts down what is in the hand.
fn enter(view: &DiscView<'_>, memory: &mut DiscMemory, here: Place, asks: &mut Vec<DiscAsk>) {
    if view.tool == DiscTool::Paint {
        asks.extend(view.strand_at(here).map(|strand| DiscAsk::Paint { strand }));
        return;
    }
    match memory.carried.take() {
        Some(strand) => hands::put_down(view, strand, here, asks),
        None => {
            memory.carried = view.strand_at(here);
            let chosen = memory.carried;
            asks.extend(chosen.map(|strand| DiscAsk::Choose { strand, add: false }));
        }
    }
}
