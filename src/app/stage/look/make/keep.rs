//! The name of the structure, and the maker's own shelf.

use eframe::egui::{Align, Label, Layout, Ui};

use crate::app::command::Command;
use crate::app::controls::{Button, Entered, Field, IconButton, Pick};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::document::{Edit, Origin};
use crate::structure::{Braid, Shape, Structure};

/// The name, and where else the moves are kept.
pub(super) fn name_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let Some(section) = desk.section() else {
        return;
    };
    let read = |text: &str| Ok::<String, String>(text.trim().to_owned());
    let field = Field::new("name of the structure")
        .hint("a name of your own")
        .width(ui.available_width());
    if let Some(Entered::Value(name)) = field.show(ui, &section.structure, read)
        && name != section.structure
    {
        wants.push(Command::Edit(Edit::NameStructure(name)));
    }
    let words = match section.origin(desk.own) {
        Origin::Ready => "comes with the program",
        Origin::Own => "on your shelf",
        Origin::HereOnly => "in this design alone",
    };
    Role::Note.label(ui, words);
}

/// Onto the shelf, and what lies there.
pub(super) fn shelf_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    ui.add_space(8.0);
    Role::Section.label(ui, "My shelf");
    keep_ui(ui, desk, wants);
    if desk.own.is_empty() {
        let words = "Nothing on it yet. What is on it can be laid on any design.";
        let text = Role::Note.text(ui, words);
        ui.add(Label::new(text).wrap());
    }
    for structure in desk.own {
        own_ui(ui, structure, desk, wants);
    }
}

fn keep_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let Some(section) = desk.section() else {
        return;
    };
    let fault = Braid::new(&section.moves).err();
    let hindrance = match section.origin(desk.own) {
        Origin::Ready => Some("it comes with the program".to_owned()),
        Origin::Own => Some("it is there already".to_owned()),
        Origin::HereOnly => fault.map(|error| error.sentence(desk.numbering())),
    };
    let button = Button::plain("Keep on my shelf")
        .icon(Icon::Shelf)
        .tip("Under its name; one of that name and as many strands makes room")
        .off_because(hindrance.as_deref());
    if ui.add(button).clicked() {
        let structure = desk.design.structure(shape(desk));
        wants.push(Command::KeepStructure(Box::new(structure)));
    }
}

/// The shape of the solved cord; round until it is solved.
fn shape(desk: &Desk<'_>) -> Shape {
    use crate::cord::Section;
    match desk.cord().map(|cord| cord.figures.section) {
        Some(Section::Square) => Shape::Square,
        Some(Section::Flat) => Shape::Flat,
        Some(Section::Hollow) => Shape::Hollow,
        Some(Section::Round) | None => Shape::Round,
    }
}

fn own_ui(ui: &mut Ui, structure: &Structure, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    let is_on = desk.moves() == Some(&structure.moves);
    let spoken = format!(
        "my structure: {}, {} strands",
        structure.name,
        structure.strands()
    );
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let off = format!("take {} off my shelf", structure.name);
            if ui.add(IconButton::new(Icon::Cross, &off).small()).clicked() {
                wants.push(Command::DropStructure(structure.name.clone()));
            }
            // The stitches stand out over the row.
            ui.add_space(8.0);
            let row = Pick::row(&spoken, is_on, 34.0).show(ui, |ui| {
                let words = format!("{}, {}", structure.name, structure.strands());
                let text = Role::Text.text(ui, words);
                ui.add(Label::new(text).truncate());
            });
            if row.clicked() && !is_on {
                wants.push(Command::Edit(Edit::Moves {
                    structure: structure.name.clone(),
                    moves: structure.moves.clone(),
                }));
            }
        });
    });
}
