//! What happened and was not put away yet, above the sheets and never over them.

use eframe::egui::{Align, Layout, Rect, ScrollArea, Ui, UiBuilder, vec2};

use super::command::Command;
use super::controls::{Button, IconButton, Notice, Tone};
use super::desk::Desk;
use super::icons::Icon;
use super::stage::Stage;
use super::view::{Message, Offers, View};
use super::window::MARGIN;

/// Most of the stage's height that messages may take.
const SHARE: f32 = 0.42;

/// Shows the messages at the top of `ui` and hands back what is left of it.
pub(super) fn messages_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut View,
    wants: &mut Vec<Command>,
) -> Rect {
    let stage = ui.max_rect();
    // On Look the disc has a line of its own for what is wrong with the moves.
    let is_said = view.stage == Stage::Look && !holds(desk);
    let error = desk.solver.solved().error().filter(|_| !is_said);
    let fault = error.map(no_cord);
    if view.messages.is_empty() && fault.is_none() {
        return stage;
    }
    let most = SHARE * stage.height();
    let room = stage
        .shrink2(vec2(MARGIN, 0.0))
        .with_max_y(stage.top() + most);
    let builder = UiBuilder::new().max_rect(room).id_salt("messages");
    let mut gone = None;
    let used = ui
        .scope_builder(builder, |ui| {
            ScrollArea::vertical().max_height(most).show(ui, |ui| {
                if let Some(fault) = &fault {
                    message_ui(ui, fault, wants);
                }
                for (place, message) in view.messages.iter().enumerate() {
                    if message_ui(ui, message, wants) {
                        gone = Some(place);
                    }
                }
                ui.min_rect().height()
            })
        })
        .inner
        .inner;
    if let Some(place) = gone {
        view.messages.remove(place);
    }
    stage.with_min_y(stage.top() + used.min(most) + 12.0)
}

/// Whether the moves make a cord that locks; not while that is not known.
fn holds(desk: &Desk<'_>) -> bool {
    let facts = desk.examiner.found().and_then(|it| it.facts());
    facts.is_some_and(|it| it.verdict.locks())
}

/// Why there is no cord; it goes when there is one.
fn no_cord(error: &str) -> Message {
    let mut words = error.trim_end_matches('.').to_owned();
    if let Some(first) = words.get(..1) {
        words.replace_range(..1, &first.to_uppercase());
    }
    Message {
        tone: Tone::Stop,
        happened: format!("{words}."),
        kept: "The design is kept as it is; the strip shows the last good cord.".to_owned(),
        advice: "Take the last change back, or change moves and strands until it holds.".to_owned(),
        offers: Offers::Undo,
    }
}

/// One message with its buttons; `true` when it is put away.
fn message_ui(ui: &mut Ui, message: &Message, wants: &mut Vec<Command>) -> bool {
    let mut gone = false;
    ui.horizontal(|ui| {
        let buttons = match message.offers {
            Offers::Nothing | Offers::Again => 40.0,
            Offers::Undo => 120.0,
            Offers::Recovery(_) => 360.0,
            Offers::Broken(_) => 190.0,
        };
        let width = (ui.available_width() - buttons).clamp(200.0, 720.0);
        ui.allocate_ui_with_layout(vec2(width, 0.0), Layout::top_down(Align::Min), |ui| {
            Notice {
                tone: message.tone,
                happened: &message.happened,
                kept: &message.kept,
                advice: &message.advice,
            }
            .show(ui);
        });
        for command in answers(message.offers) {
            if ui.add(Button::plain(command.words())).clicked() {
                wants.push(command);
            }
        }
        if message.offers == Offers::Undo {
            return;
        }
        let away = IconButton::new(Icon::Cross, "Put this notice away").small();
        gone = ui.add(away).clicked();
    });
    gone
}

fn answers(offers: Offers) -> Vec<Command> {
    match offers {
        Offers::Nothing | Offers::Again => Vec::new(),
        Offers::Undo => vec![Command::Undo],
        Offers::Recovery(place) => vec![Command::Recover(place), Command::Forget(place)],
        Offers::Broken(place) => vec![Command::Forget(place)],
    }
}
