//! Taking moves back: so many, to a mark, to a time, or to a look of the disc. Each comes
//! to a number of moves that shall be left; the hands go there step by step.

mod back;
mod looks_back;
mod marks_back;
mod times_back;

use eframe::egui::{Align, Layout, Rect, Sense, Ui, UiBuilder, WidgetInfo, vec2};

use super::little::LittleDisc;
use super::work::{Ask, Work};
use super::wrong::steps_ui;
use crate::app::controls::{Button, Notice, Tone, hairline, segments};
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::app::words;
use crate::bench::{Entry, Lying, Way};

/// By what it is said how far back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum By {
    /// So many moves.
    #[default]
    Number,
    /// To a mark that was set.
    Mark,
    /// To an hour of the clock.
    Time,
    /// To how the disc lay.
    Look,
}

/// How far back it shall go.
#[derive(Debug, Default)]
pub(super) struct Undoing {
    by: By,
    /// Moves that shall be left; none before that was said.
    lands: Option<u64>,
    /// Of the pictures, how many lie before those that are shown.
    page: u64,
}

/// The panel.
pub(super) fn undoing_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    now: u64,
    undoing: &mut Undoing,
    asks: &mut Vec<Ask>,
) {
    if let Some(sentence) = hindrance(work) {
        Notice {
            tone: Tone::Info,
            happened: sentence,
            kept: "",
            advice: "",
        }
        .show(ui);
        return;
    }
    Role::Text.label(ui, "How far shall it go back?");
    ui.add_space(4.0);
    let words = [
        (By::Number, "so many moves"),
        (By::Mark, "to a mark"),
        (By::Time, "to a time"),
        (By::Look, "to a look"),
    ];
    if segments(ui, "go back", &mut undoing.by, &words) {
        undoing.lands = None;
    }
    ui.add_space(8.0);
    let done = work.course.done;
    let lands = undoing.lands.filter(|lands| *lands < done);
    let chosen = match undoing.by {
        By::Number => back::number_ui(ui, work, lands),
        By::Mark => marks_back::marks_ui(ui, work, now, lands),
        By::Time => times_back::times_ui(ui, work, now, lands),
        By::Look => looks_back::looks_ui(ui, work, &mut undoing.page, lands),
    };
    undoing.lands = chosen.or(lands);
    if let Some(lands) = undoing.lands {
        ui.add_space(6.0);
        hairline(ui);
        result_ui(ui, work, lands, asks);
    }
}

/// Why nothing can be taken back now, one sentence.
fn hindrance(work: &Work<'_>) -> Option<&'static str> {
    if work.course.way.is_some() {
        return Some("You are on a way back: go it to its end first, or step back out of it.");
    }
    (work.course.done == 0).then_some("There is no move yet that could be taken back.")
}

/// What is left then, how it lies, and the button that begins it.
fn result_ui(ui: &mut Ui, work: &Work<'_>, lands: u64, asks: &mut Vec<Ask>) {
    let (roles, done) = (&work.course.roles, work.course.done);
    let way = Way::undo(work.braid, roles, done, lands);
    let many = done - way.lands;
    ui.horizontal_top(|ui| {
        let (spot, response) = ui.allocate_exact_size(vec2(120.0, 120.0), Sense::hover());
        let role = eframe::egui::Role::Image;
        let spoken = format!("how the disc lies after move {}", way.lands);
        response.widget_info(|| WidgetInfo::labeled(role, true, &spoken));
        disc(ui, spot, work, &Lying::after(work.braid, roles, way.lands));
        ui.add_space(10.0);
        let beside = Rect::from_min_max(spot.right_top() + vec2(16.0, 0.0), ui.max_rect().max);
        let down = Layout::top_down(Align::Min);
        ui.scope_builder(UiBuilder::new().max_rect(beside).layout(down), |ui| {
            let text = Role::Text.text(ui, moves_back(many));
            ui.label(text.font(Face::Semibold.at(16.0)));
            let left = match way.lands {
                0 => "Then no move is left: it lies as it was laid.".to_owned(),
                left => format!("Then you are after move {left}, and it lies like this."),
            };
            Role::Text.label(ui, left);
            ui.add_space(6.0);
            let words = if way.steps.len() == 1 {
                "Take it back"
            } else {
                "Take them back, step by step"
            };
            if ui.add(Button::main(words)).clicked() {
                asks.push(Ask::Tell(Entry::Out(way.clone())));
            }
        });
    });
    ui.add_space(8.0);
    steps_ui(ui, work, &way);
}

/// `Nine moves to take back`.
fn moves_back(many: u64) -> String {
    let many = usize::try_from(many).unwrap_or(usize::MAX);
    let counted = crate::app::act::sentence(&words::count(many));
    format!(
        "{counted} move{} to take back",
        if many == 1 { "" } else { "s" }
    )
}

/// How many moves back a place is, for the end of a row.
fn so_far_back(work: &Work<'_>, lands: u64) -> String {
    let many = work.course.done.saturating_sub(lands);
    format!("{many} move{} back", if many == 1 { "" } else { "s" })
}

fn disc(ui: &Ui, spot: Rect, work: &Work<'_>, lying: &Lying) {
    let list = work.braid.moves();
    let disc = LittleDisc {
        plate: list.plate,
        slots: list.slots,
        turn: work.turn,
        lying,
        colours: &work.colours(),
        arrows: &[],
    };
    disc.paint(ui.painter(), spot, &Theme::of(ui));
}
