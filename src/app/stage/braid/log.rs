//! The log of a cord: sittings, pace, mistakes; the maker's alone.

mod plot;
mod told;

use eframe::egui::{ScrollArea, Ui};

use super::column::Column;
use super::{BraidScene, BraidState, glance};
use crate::app::clock;
use crate::app::command::Command;
use crate::app::controls::Button;
use crate::app::fonts::Role;
use crate::bench::{OwnPace, Sitting, own_pace, sittings};
use crate::plan::Workshop;

/// Whose it is.
const YOURS: &str = "Yours alone: it lies with the cord in this program's own folder, and \
    never leaves this machine.";

/// Draws it into `ui`, in the place of the next move.
pub(super) fn log_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let mut column = Column::new(ui);
    glance::head_of(&mut column, "The log of this cord", state);
    let rest = column.rest();
    column.controls(rest, "log", |ui| {
        ScrollArea::vertical().show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 5.0;
            contents_ui(ui, scene, wants);
            Role::Note.label(ui, YOURS);
        });
    });
}

fn contents_ui(ui: &mut Ui, scene: BraidScene<'_>, wants: &mut Vec<Command>) {
    let course = scene.work.course();
    let all = sittings(course);
    if all.is_empty() {
        Role::Text.label(
            ui,
            "Nothing yet. From the first move on it writes down when you braid, how long, how \
             many moves a minute, and the mistakes that were found.",
        );
        return;
    }
    Role::Text.label(ui, told::summary(&all));
    plot::pace_ui(ui, &all);
    offer_ui(ui, &all, scene.desk.workshop, wants);
    ui.add_space(4.0);
    Role::Label.label(ui, "Sittings, the latest first");
    for sitting in all.iter().rev() {
        let begun = clock::moment(sitting.begins, clock::now());
        Role::Name.label(ui, begun);
        Role::Text.label(ui, told::sitting(sitting));
    }
    if !course.mistakes.is_empty() {
        ui.add_space(4.0);
        Role::Label.label(ui, "Mistakes found");
        for (at, done, words) in course.mistakes.iter().rev() {
            let when = clock::moment(*at, clock::now());
            Role::Text.label(ui, format!("{when}, after move {done}: {words}"));
        }
    }
}

/// Her own pace, offered to her workshop; nothing is learned silently.
fn offer_ui(ui: &mut Ui, all: &[Sitting], workshop: &Workshop, wants: &mut Vec<Command>) {
    let Some(own) = own_pace(all).filter(OwnPace::is_enough) else {
        let words = "After some sixty moves your own pace can be taken into your workshop.";
        Role::Note.label(ui, words);
        return;
    };
    let Some(pace) = workshop.pace.told_by(own) else {
        let words = "Your workshop goes by this pace.";
        Role::Note.label(ui, words);
        return;
    };
    Role::Text.label(ui, told::offer(&own, &pace, &workshop.pace));
    let take = Button::plain("Take it into my workshop")
        .tip("Times of other cords are worked out with it; Undo takes it back");
    if ui.add(take).clicked() {
        let changed = Workshop {
            pace,
            ..workshop.clone()
        };
        let done = "Your own pace".to_owned();
        wants.push(Command::Workshop(Box::new(changed), done));
    }
}
