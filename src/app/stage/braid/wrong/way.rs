//! The way back of an explanation, step by step, and what going on would make of the cord.

use eframe::egui::{Align2, Key, Modifiers, Rect, Sense, Ui, WidgetInfo, vec2};

use super::super::little::LittleDisc;
use super::super::work::{Ask, Work};
use crate::app::controls::Button;
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::bench::lost::Explanation;
use crate::bench::{Entry, Way};
use crate::structure::Move;

/// A step's picture with its words.
const STEP: eframe::egui::Vec2 = vec2(76.0, 94.0);
/// Steps that are drawn; the rest is counted.
const MOST: usize = 12;

/// The way back and the button that begins it.
pub(super) fn way_ui(ui: &mut Ui, work: &Work<'_>, found: &Explanation, asks: &mut Vec<Ask>) {
    let way = &found.way;
    let is_right_here = found.mistakes.is_empty() && way.lands == work.done;
    if way.steps.is_empty() && is_right_here && way.roles == work.course.roles {
        return;
    }
    steps_ui(ui, work, way);
    ui.add_space(6.0);
    if way.steps.is_empty() {
        let words = format!("Go on after move {}", way.lands);
        if ui.add(Button::main(&words)).clicked() {
            asks.extend([Entry::Out(way.clone()), Entry::Along(0)].map(Ask::Tell));
        }
    } else if ui.add(Button::main("Go this way back").tip("G")).clicked() | asked(ui) {
        asks.push(Ask::Tell(Entry::Out(way.clone())));
    }
}

/// Whether the key of the button was pressed: the hands have been on the disc, not here.
fn asked(ui: &Ui) -> bool {
    let typing = ui.ctx().text_edit_focused();
    ui.is_enabled() && !typing && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::G))
}

/// The steps of a way as small discs, each with its arrow.
pub(in super::super) fn steps_ui(ui: &mut Ui, work: &Work<'_>, way: &Way) {
    if way.steps.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for place in 0..way.steps.len().min(MOST) {
            step_ui(ui, work, way, place);
        }
        let more = way.steps.len().saturating_sub(MOST);
        if more > 0 {
            Role::Note.label(ui, format!("and {more} more"));
        }
    });
}

fn step_ui(ui: &mut Ui, work: &Work<'_>, way: &Way, place: usize) {
    let Ok(lying) = way.lying(place) else { return };
    let moves = &way.steps[place].moves;
    let Some((from, to)) = ends(moves) else {
        return;
    };
    let (rect, response) = ui.allocate_exact_size(STEP, Sense::hover());
    let words = format!("{} → {}", work.label(from), work.label(to));
    let (from_words, to_words) = (work.phrase(from), work.phrase(to));
    let spoken = format!(
        "step {} of the way: from {from_words} to {to_words}",
        place + 1
    );
    let role = eframe::egui::Role::Label;
    response.widget_info(|| WidgetInfo::labeled(role, true, &spoken));
    let theme = Theme::of(ui);
    let list = work.braid.moves();
    let spot = Rect::from_min_size(rect.min, vec2(STEP.x, STEP.x));
    LittleDisc {
        plate: list.plate,
        slots: list.slots,
        turn: work.turn,
        lying: &lying,
        colours: &work.colours(),
        arrows: &moves.iter().map(|it| (it.from, it.to)).collect::<Vec<_>>()[..1],
    }
    .paint(ui.painter(), spot, &theme);
    let at = rect.center_bottom() - vec2(0.0, 8.0);
    let font = Face::Semibold.at(Role::Note.font().size);
    ui.painter()
        .text(at, Align2::CENTER_CENTER, words, font, theme.ink);
}

/// From where to where a step leads: its move, or the two places of an exchange.
fn ends(moves: &[Move]) -> Option<(crate::structure::Place, crate::structure::Place)> {
    match moves {
        [] => None,
        [one] => Some((one.from, one.to)),
        [first, second, ..] => Some((first.from, second.from)),
    }
}
