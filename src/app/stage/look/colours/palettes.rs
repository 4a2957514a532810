//! Palettes on the shelf: which row of colours is offered, opened, kept, saved.

use eframe::egui::{ScrollArea, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, chip, colour_square, hairline, link};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::painting::screen_colour;
use crate::app::words;
use crate::material::Colour;
use crate::material::colour::{Palette, Shade};

use super::row::DYES;
use super::{ColoursView, path_ui, used};

/// The page; the colour that was taken.
pub(super) fn palettes_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut ColoursView,
    wants: &mut Vec<Command>,
) -> Option<Colour> {
    Role::Note.label(ui, "The one chosen is offered under every strand.");
    let mut taken = None;
    ScrollArea::vertical()
        .max_height(300.0)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            ui.set_width(ui.available_width() - 12.0);
            let palettes = std::iter::once(&dyes())
                .chain(desk.palettes)
                .cloned()
                .collect::<Vec<_>>();
            for palette in &palettes {
                let colour = ui.push_id(&palette.name, |ui| palette_ui(ui, palette, desk, wants));
                taken = taken.or(colour.inner);
            }
        });
    hairline(ui);
    ui.horizontal_wrapped(|ui| {
        let asks = Command::AskPalette;
        if ui
            .add(Button::plain(asks.words()).icon(Icon::Open))
            .clicked()
        {
            wants.push(asks);
        }
        let keep = Button::plain("Keep this cord's colours").icon(Icon::Keep);
        if ui
            .add(keep.tip("Its colours become a palette with its name"))
            .clicked()
        {
            wants.push(Command::KeepPalette(Box::new(of_cord(desk))));
        }
    });
    path_ui(ui, &mut view.path, "/home/…/shades.gpl", wants);
    taken
}

/// Our dyes as a palette without a name, which is how they are offered.
fn dyes() -> Palette {
    palette_of(String::new(), &DYES.map(Colour))
}

fn of_cord(desk: &Desk<'_>) -> Palette {
    palette_of(desk.design.name.clone(), &used(desk.design))
}

fn palette_of(name: String, colours: &[Colour]) -> Palette {
    let shades = colours.iter().zip(words::colours(colours));
    let shades = shades.map(|(&colour, name)| Shade { colour, name });
    Palette {
        name,
        shades: shades.collect(),
        ..Palette::default()
    }
}

fn palette_ui(
    ui: &mut Ui,
    palette: &Palette,
    desk: &Desk<'_>,
    wants: &mut Vec<Command>,
) -> Option<Colour> {
    let is_own = !palette.name.is_empty();
    let name = if is_own {
        palette.name.as_str()
    } else {
        "Dyes"
    };
    ui.horizontal_wrapped(|ui| {
        let is_offered = desk.settings.offered == palette.name;
        if chip(ui, name, is_offered).clicked() {
            wants.push(Command::Offer(palette.name.clone()));
        }
        Role::Note.label(ui, format!("{} colours", palette.shades.len()));
        if link(ui, "save…").clicked() {
            let mut palette = palette.clone();
            name.clone_into(&mut palette.name);
            wants.push(Command::AskWherePalette(Box::new(palette)));
        }
        if is_own && link(ui, "take off").clicked() {
            wants.push(Command::DropPalette(palette.name.clone()));
        }
    });
    shades_ui(ui, name, &palette.shades)
}

fn shades_ui(ui: &mut Ui, of: &str, shades: &[Shade]) -> Option<Colour> {
    let mut taken = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(0.0, 0.0);
        for (place, shade) in shades.iter().enumerate() {
            let name = match shade.name.as_str() {
                "" => format!("{} {} of {of}", shade.colour.name(), place + 1),
                name => format!("{name} of {of}"),
            };
            if colour_square(ui, screen_colour(shade.colour), &name, false).clicked() {
                taken = Some(shade.colour);
            }
        }
    });
    taken
}
