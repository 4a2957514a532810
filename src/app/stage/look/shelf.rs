//! The fibre shelf: everything a strand can be made of, the maker's own first.

use eframe::egui::{Align, Layout, ScrollArea, TextEdit, Ui, WidgetInfo};

use crate::app::command::Command;
use crate::app::controls::{Button, Pick, hairline, head, link};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::words;
use crate::document::{Design, Edit};
use crate::material::{Fibre, Part, shelf};

use super::LookView;
use super::own_fibre::{self, OwnFibre};

/// What a fibre is taken from the shelf for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// The strands are made of it alone.
    MakeUp,
    /// It is held together with what is there.
    Add,
    /// It takes the place of a part, counted from 0.
    Swap(usize),
}

/// The shelf while it is open.
#[derive(Debug, Default)]
pub struct ShelfView {
    purpose: Option<Purpose>,
    search: String,
    own: Option<OwnFibre>,
    /// The fibre taken off the shelf last, to be put back.
    taken_off: Option<Box<Fibre>>,
}

impl ShelfView {
    /// Whether it is open.
    pub fn is_open(&self) -> bool {
        self.purpose.is_some()
    }

    /// Opens it.
    pub fn open(&mut self, purpose: Purpose) {
        self.purpose = Some(purpose);
        self.search.clear();
    }

    /// Puts it away.
    pub fn shut(&mut self) {
        *self = Self::default();
    }
}

/// The shelf, in the strands sheet.
pub(super) fn shelf_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let shuts = head(ui, "Fibre shelf", |ui| {
        link(ui, "back to the strands").clicked()
    });
    if shuts {
        view.shelf.shut();
        return;
    }
    if let Some(form) = &mut view.shelf.own {
        match own_fibre::form_ui(ui, form, desk) {
            own_fibre::Outcome::Typing => return,
            own_fibre::Outcome::Dropped => view.shelf.own = None,
            own_fibre::Outcome::Made(fibre) => {
                keep(fibre, desk, view, wants);
                return;
            }
        }
    }
    search_ui(ui, &mut view.shelf);
    let fibres = fibres(desk);
    let found: Vec<&Fibre> = fibres
        .iter()
        .filter(|f| matches(f, &view.shelf.search))
        .collect();
    let mut taken = None;
    ScrollArea::vertical()
        .max_height(360.0)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            ui.set_width(ui.available_width() - 12.0);
            for &fibre in &found {
                if row_ui(ui, fibre, desk) {
                    taken = Some(fibre);
                }
                if is_own(fibre, desk) {
                    own_ui(ui, fibre, &mut view.shelf, wants);
                }
            }
            if found.is_empty() {
                Role::Note.label(ui, "Nothing like it here. Add it as your own, below.");
            }
        });
    if let Some(fibre) = taken {
        take(fibre, desk, view, wants);
        return;
    }
    put_back_ui(ui, &mut view.shelf, wants);
    hairline(ui);
    if ui
        .add(Button::plain("A fibre of my own…").icon(Icon::Plus))
        .clicked()
    {
        view.shelf.own = Some(OwnFibre::default());
    }
}

/// A new fibre is kept and taken; a changed one is changed in the strands too.
fn keep(fibre: Box<Fibre>, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    let form = view.shelf.own.take();
    wants.push(Command::KeepFibre(fibre.clone()));
    let Some(name) = form.as_ref().and_then(OwnFibre::changes) else {
        take(&fibre, desk, view, wants);
        return;
    };
    if name != fibre.name {
        wants.push(Command::DropFibre(name.to_owned()));
    }
    if desk.design.fibre(name).is_some() {
        wants.push(Command::Edit(Edit::ReplaceFibre {
            name: name.to_owned(),
            fibre,
        }));
    }
}

fn is_own(fibre: &Fibre, desk: &Desk<'_>) -> bool {
    let mut own = desk.settings.own_fibres.iter();
    own.any(|known| known.name == fibre.name)
}

/// What can be done to a fibre of the maker's own.
fn own_ui(ui: &mut Ui, fibre: &Fibre, shelf: &mut ShelfView, wants: &mut Vec<Command>) {
    ui.push_id(&fibre.name, |ui| {
        ui.horizontal(|ui| {
            ui.add_space(12.0);
            Role::Note.label(ui, "your own");
            if link(ui, &format!("change {}", fibre.name)).clicked() {
                shelf.own = Some(OwnFibre::of(fibre));
            }
            if link(ui, "take off").clicked() {
                shelf.taken_off = Some(Box::new(fibre.clone()));
                wants.push(Command::DropFibre(fibre.name.clone()));
            }
        });
    });
}

/// The way back for what was taken off the shelf.
fn put_back_ui(ui: &mut Ui, shelf: &mut ShelfView, wants: &mut Vec<Command>) {
    let Some(fibre) = shelf.taken_off.take() else {
        return;
    };
    let mut back = false;
    ui.horizontal_wrapped(|ui| {
        let words = format!("{} is off the shelf; cords keep it.", fibre.name);
        Role::Note.label(ui, words);
        back = link(ui, "put it back").clicked();
    });
    if back {
        wants.push(Command::KeepFibre(fibre));
    } else {
        shelf.taken_off = Some(fibre);
    }
}

fn search_ui(ui: &mut Ui, shelf: &mut ShelfView) {
    let edit = TextEdit::singleline(&mut shelf.search)
        .hint_text("search: satin, wool, leather, 2 mm …")
        .desired_width(ui.available_width() - 8.0);
    let response = ui.add(edit);
    response.widget_info(|| {
        WidgetInfo::labeled(
            eframe::egui::Role::TextInput,
            true,
            "Search the fibre shelf",
        )
    });
}

/// The maker's own, those of the design, and the shelf everyone starts with.
fn fibres(desk: &Desk<'_>) -> Vec<Fibre> {
    let own = desk.settings.own_fibres.iter().rev();
    let all = own.chain(&desk.design.fibres).chain(shelf());
    let mut fibres: Vec<Fibre> = Vec::new();
    for fibre in all {
        if !fibres.iter().any(|known| known.name == fibre.name) {
            fibres.push(fibre.clone());
        }
    }
    fibres
}

/// Whether every word looked for stands in name, substance or construction.
fn matches(fibre: &Fibre, search: &str) -> bool {
    let text = format!(
        "{} {} {} {}",
        fibre.name,
        fibre.substance,
        fibre.construction.name(),
        fibre.note
    )
    .to_lowercase();
    search
        .to_lowercase()
        .split_whitespace()
        .all(|word| text.contains(word))
}

fn row_ui(ui: &mut Ui, fibre: &Fibre, desk: &Desk<'_>) -> bool {
    let size = words::length(fibre.diameter.value, desk.units());
    let standing = fibre.diameter.standing.name();
    let spoken = format!("fibre: {}, {size}, {standing}", fibre.name);
    let response = Pick::row(&spoken, false, 48.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                Role::Value.label(ui, size);
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    let name = Role::Name.text(ui, &fibre.name).size(14.0);
                    ui.add(eframe::egui::Label::new(name).truncate());
                });
            });
        });
        let words = format!(
            "{}, {}; {standing}",
            fibre.substance,
            fibre.construction.name()
        );
        let words = Role::Note.text(ui, words);
        ui.add(eframe::egui::Label::new(words).truncate());
    });
    let tip = figures(fibre);
    crate::app::controls::tip(response, &tip).clicked()
}

/// The unit of a fibre's figure, with a blank before it; shares have none.
pub(super) fn unit(figure: &str) -> &'static str {
    match figure {
        "diameter" => " mm",
        "tex" => " g/km",
        "density" => " g/cm3",
        "shortening" | "lengthening" => " %",
        _ => "",
    }
}

/// Every figure of a fibre with its range and how well it stands.
pub(super) fn figures(fibre: &Fibre) -> String {
    let mut text = fibre.name.clone();
    for (name, known) in fibre.figures() {
        let (low, high) = (words::number(known.low), words::number(known.high));
        let value = format!("{}{}", words::number(known.value), unit(name));
        text += &format!(
            "\n{name} {value} ({low} to {high}), {}",
            known.standing.name()
        );
    }
    if !fibre.note.is_empty() {
        text += "\n";
        text += &fibre.note;
    }
    text
}

/// Takes a fibre down for what the shelf was opened for.
fn take(fibre: &Fibre, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    let strands = view.meant(desk.design);
    let edit = match view.shelf.purpose {
        Some(Purpose::Add) => Edit::AddPart {
            strands,
            part: part_of(fibre),
            fibre: Box::new(fibre.clone()),
        },
        Some(Purpose::Swap(part)) => Edit::PartFibre {
            strands,
            part,
            fibre: Box::new(fibre.clone()),
        },
        Some(Purpose::MakeUp) | None => make_up(fibre, &strands, desk.design),
    };
    wants.push(Command::Edit(edit));
    view.shelf.shut();
}

/// Strands of this fibre alone, in the colour the first of them has.
fn make_up(fibre: &Fibre, strands: &[usize], design: &Design) -> Edit {
    let first = strands
        .first()
        .and_then(|&s| design.strands.get(s)?.parts.first());
    let mut part = part_of(fibre);
    if let Some(first) = first {
        part.colour = first.colour;
    }
    Edit::MakeUp {
        strands: strands.to_vec(),
        parts: vec![part],
        fibres: vec![fibre.clone()],
    }
}

fn part_of(fibre: &Fibre) -> Part {
    Part {
        fibre: fibre.name.clone(),
        ends: 1,
        colour: fibre.colour,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_with_a_unit_is_shown_with_it() {
        let text = figures(&shelf()[0]);
        for unit in [" mm (", " g/km (", " g/cm3 (", " % ("] {
            assert!(text.contains(unit), "{unit} in {text}");
        }
    }

    #[test]
    fn the_search_finds_by_name_substance_and_size() {
        let found = |search: &str| shelf().iter().filter(|f| matches(f, search)).count();
        assert_eq!(found(""), shelf().len(), "nothing typed shows all");
        assert!(found("satin 2 mm") > 0, "two words, both in the name");
        assert!(found("LEATHER") > 0, "capitals do not matter");
        assert_eq!(
            found("satin leather granite"),
            0,
            "every word must be there"
        );
    }
}
