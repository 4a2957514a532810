//! Cords under way: several at a time, of this design and of others.

use eframe::egui::{Align, Layout, Ui};

use crate::app::at_disc::{Hands, is_of};
use crate::app::clock::{moment, now};
use crate::app::command::Command;
use crate::app::controls::{Button, IconButton, hairline};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::document::Found;

/// Draws the list.
pub(super) fn under_way_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    Role::Section.label(ui, "Cords under way");
    ui.add_space(4.0);
    let is_own = |found: &&Found| is_of(found, desk.file.id(), desk.design);
    let (own, others): (Vec<_>, Vec<_>) = desk.at_disc.found().iter().partition(is_own);
    if own.is_empty() && others.is_empty() {
        Role::Text.label(
            ui,
            "None yet. A cord that is begun stays here until it is off the disc, whatever \
             happens to the program or the machine; several can be under way.",
        );
        return;
    }
    for (place, found) in own.iter().enumerate() {
        let name = match own.len() {
            1 => "Of this design".to_owned(),
            _ => format!("Of this design, no. {}", place + 1),
        };
        row_ui(ui, &name, found, wants);
    }
    if !own.is_empty() && !others.is_empty() {
        hairline(ui);
    }
    for found in others {
        let name = found
            .told
            .as_ref()
            .map(|told| told.begun.design.name.as_str());
        row_ui(ui, name.unwrap_or("A cord"), found, wants);
    }
}

/// One of them, with its place.
fn row_ui(ui: &mut Ui, name: &str, found: &Found, wants: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.vertical(|ui| {
            ui.set_width((ui.available_width() - 150.0).max(120.0));
            ui.spacing_mut().item_spacing.y = 2.0;
            Role::Name.label(ui, name);
            Role::Note.label(ui, place_words(found));
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            asks_ui(ui, found, wants);
        });
    });
    ui.add_space(4.0);
}

fn asks_ui(ui: &mut Ui, found: &Found, wants: &mut Vec<Command>) {
    let held = found.is_held.then_some("another window has it at its disc");
    let hindrance = match &found.told {
        Ok(told) if told.course.finished => Some("it is off the disc"),
        Ok(_) => held,
        Err(_) => Some("its file cannot be read"),
    };
    if ui
        .add(Button::plain("Go on").off_because(hindrance))
        .clicked()
    {
        wants.push(Command::AtDisc(Hands::GoOn(found.path.clone())));
    }
    let tip = "Put it away: its file goes into the folder \"done\", nothing is deleted";
    let away = IconButton::new(Icon::Shelf, "Put it away")
        .tip(tip)
        .off_because(held);
    if ui.add(away).clicked() {
        wants.push(Command::AtDisc(Hands::PutAway(found.path.clone())));
    }
}

/// "after 214 moves; begun yesterday 20:10, last worked 14:20".
fn place_words(found: &Found) -> String {
    let told = match &found.told {
        Ok(told) => told,
        Err(error) => return error.to_string(),
    };
    let course = &told.course;
    let stands = match course.done {
        _ if course.finished => "off the disc".to_owned(),
        0 if !course.is_dressed() => "being set up".to_owned(),
        0 => "dressed, before the first move".to_owned(),
        1 => "after one move".to_owned(),
        done => format!("after {done} moves"),
    };
    let now = now();
    let (begun, last) = (moment(told.begun.began, now), moment(told.last, now));
    format!("{stands}; begun {begun}, last worked {last}")
}
