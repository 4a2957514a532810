//! What a screen reader hears of the disc, and the parts it can press.

use eframe::egui::{Id, PointerButton, Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};

use super::plate::{NUMBER, Plate};
use super::{DiscMemory, DiscView};
use crate::structure::{self, Place};

/// Side of the target of a letter or a slot, whatever is drawn.
const TARGET: f32 = 28.0;

/// A part of the disc under the pointer or a reader's finger.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// A strand.
    Strand(usize),
    /// A free slot, clockwise.
    Slot(u16),
    /// The middle, and what is beside everything.
    Ground,
}

/// What was pressed or pulled this frame.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Pressed {
    /// Pressed and let go on the spot.
    pub(super) clicked: Option<Part>,
    /// A pull began here.
    pub(super) pulled: Option<(Part, Pos2)>,
}

/// The disc as a whole: how many slots and strands, and which slot is on top.
pub(super) fn name_disc(view: &DiscView<'_>, memory: &DiscMemory, response: &Response) {
    let (slots, strands) = (view.slots, view.strands.len());
    let name = match view.plate {
        structure::Plate::Square => {
            let side = sides_upwards(view);
            format!("square plate, {slots} places, {strands} strands, side {side} at the top")
        }
        structure::Plate::Disc => {
            let [left, right] = top(view).map(|place| view.number(place));
            format!("disc, {slots} slots, {strands} strands, top is {left} and {right}")
        }
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Group, view.enabled, &name));
    if memory.cursor == 0 {
        return;
    }
    let here = place_words(view, Place::slot(memory.cursor));
    let carried = memory.carried.and_then(|strand| view.strands.get(strand));
    let held = carried.map_or(String::new(), |s| format!(", strand {} in hand", s.letter));
    response.ctx.accesskit_node_builder(response.id, |node| {
        node.set_value(format!("{here}{held}"));
    });
}

/// The slots on either side of the top, as the disc is turned now, in the order of
/// their numbers round the mark.
fn top(view: &DiscView<'_>) -> [Place; 2] {
    let back = -(half_slots_turned(view));
    let before = Place::slot(view.slots).turned(back, view.slots);
    let after = Place::slot(1).turned(back, view.slots);
    [before, after]
}

/// How far the disc is turned clockwise, half slots.
fn half_slots_turned(view: &DiscView<'_>) -> i32 {
    (view.turn / std::f32::consts::TAU * 2.0 * f32::from(view.slots)).round() as i32
}

/// The letter of the side of a square plate that is at the top.
fn sides_upwards(view: &DiscView<'_>) -> char {
    let quarters = (view.turn / std::f32::consts::FRAC_PI_2).round() as i32;
    ['N', 'W', 'S', 'E'][quarters.rem_euclid(4) as usize]
}

/// What is at a place: the strand with what it is made of, or that it is free.
pub(super) fn place_words(view: &DiscView<'_>, place: Place) -> String {
    let phrase = view.phrase(place);
    if view.unsure.contains(&place) {
        return format!("{phrase}, cannot tell");
    }
    let Some(strand) = view.strand_at(place) else {
        let marked = if view.flags.places.contains(&place) {
            ", marked"
        } else {
            ""
        };
        return format!("{phrase}, free{marked}");
    };
    strand_words(view, strand)
}

/// A strand with its place: "slot 8, strand E, sea glass, chosen".
pub(super) fn strand_words(view: &DiscView<'_>, strand: usize) -> String {
    let it = &view.strands[strand];
    let phrase = view.phrase(it.place);
    let comma = if it.words.is_empty() { "" } else { ", " };
    let chosen = if view.chosen.contains(&strand) {
        ", chosen"
    } else {
        ""
    };
    let marked = view
        .flags
        .on(strand)
        .map_or(String::new(), |flag| format!(", marked {}", flag.words()));
    format!(
        "{phrase}, strand {}{comma}{}{chosen}{marked}",
        it.letter, it.words
    )
}

/// Makes every strand, slot and mark known, and gathers what was pressed.
pub(super) fn parts(ui: &Ui, view: &DiscView<'_>, plate: &Plate, disc: &Response) -> Pressed {
    let mut pressed = Pressed::default();
    // Enter on the disc counts as a click for egui; `keys` has its own mind.
    if !disc.has_focus() || disc.clicked_by(PointerButton::Primary) || disc.drag_started() {
        gather(&mut pressed, ui, disc, |at| part_at(view, plate, at));
    }
    for slot in 1..=view.slots {
        let place = Place::slot(slot);
        if view.strand_at(place).is_some() {
            continue;
        }
        let Some(centre) = plate.at(place, NUMBER) else {
            continue;
        };
        let rect = target(centre, plate.number_size() + 4.0);
        let words = place_words(view, place);
        let response = part(ui, view, disc.id.with(("slot", slot)), rect, &words);
        gather(&mut pressed, ui, &response, |_| Part::Slot(slot));
    }
    for strand in view.upwards() {
        let tip = plate.tip(view.strands[strand].place, strand);
        let rect = target(plate.tag(tip), TARGET);
        let words = strand_words(view, strand);
        let response = part(ui, view, disc.id.with(("strand", strand)), rect, &words);
        gather(&mut pressed, ui, &response, |_| Part::Strand(strand));
    }
    if view.plate.is_disc() {
        name_marks(ui, view, plate, disc.id);
    }
    pressed
}

/// A small target: pressed and pulled, but no stop of the Tab key, which has
/// the disc as one.
fn part(ui: &Ui, view: &DiscView<'_>, id: Id, rect: Rect, words: &str) -> Response {
    let sense = if view.enabled {
        Sense::CLICK | Sense::DRAG
    } else {
        Sense::hover()
    };
    let response = ui.interact(rect, id, sense);
    response.widget_info(|| WidgetInfo::labeled(Role::ListItem, view.enabled, words));
    response
}

fn gather(pressed: &mut Pressed, ui: &Ui, response: &Response, part: impl Fn(Pos2) -> Part) {
    let press = ui.input(|input| input.pointer.press_origin());
    let at = press
        .or_else(|| response.interact_pointer_pos())
        .unwrap_or(response.rect.center());
    if response.clicked() {
        let at = response.interact_pointer_pos().unwrap_or(at);
        pressed.clicked = Some(part(at));
    }
    if response.drag_started() {
        pressed.pulled = Some((part(at), at));
    }
}

/// What lies under a point: strands first, then slots.
pub(super) fn part_at(view: &DiscView<'_>, plate: &Plate, at: Pos2) -> Part {
    if let Some(strand) = strand_under(view, plate, at) {
        return Part::Strand(strand);
    }
    match plate.slot_at(at) {
        Some(slot) if view.strand_at(Place::slot(slot)).is_none() => Part::Slot(slot),
        _ => Part::Ground,
    }
}

/// The strand under a point, the nearest when several are near.
pub(super) fn strand_under(view: &DiscView<'_>, plate: &Plate, at: Pos2) -> Option<usize> {
    let near = |strand: usize| {
        let it = &view.strands[strand];
        let tip = plate.tip(it.place, strand);
        let line = plate.distance(at, tip) - plate.strand_width(it.thickness_mm) / 2.0;
        let tag = plate.tag(tip).distance(at) - TARGET / 2.0;
        (line - 4.0).min(tag)
    };
    (0..view.strands.len())
        .map(|strand| (strand, near(strand)))
        .filter(|(_, distance)| *distance <= 0.0)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(strand, _)| strand)
}

fn target(centre: Pos2, side: f32) -> Rect {
    Rect::from_center_size(centre, Vec2::splat(side))
}

/// The slots on either side of each mark, clockwise.
pub(super) fn marks(slots: u16) -> impl Iterator<Item = Place> {
    let quarters = if slots.is_multiple_of(4) { 4 } else { 2 };
    (0..quarters).map(move |quarter| {
        Place::Rim(2 * slots + 1).turned(quarter * 2 * i32::from(slots) / quarters, slots)
    })
}

/// The middle of each side of a square plate with its letter, clockwise.
pub(super) fn sides(slots: u16) -> impl Iterator<Item = (char, Place)> {
    let a_side = i32::from(slots) / 2;
    let before_first = Place::Rim(2 * slots + 1);
    "NESW".chars().zip(0..).map(move |(letter, side)| {
        let middle = side * a_side + a_side / 2;
        (letter, before_first.turned(middle, slots))
    })
}

fn name_marks(ui: &Ui, view: &DiscView<'_>, plate: &Plate, id: Id) {
    for place in marks(view.slots) {
        let Place::Rim(half) = place else { continue };
        let Some(centre) = plate.at(place, 0.725) else {
            continue;
        };
        let rect = target(centre, 12.0);
        let before = view.numbering.label(Place::Rim(half - 1), view.slots);
        let after = Place::Rim(half - 1).turned(2, view.slots);
        let after = view.numbering.label(after, view.slots);
        let words = format!("mark, between {before} and {after}");
        let response = ui.interact(rect, id.with(("mark", half)), Sense::empty());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &words));
    }
}
