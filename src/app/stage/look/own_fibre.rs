//! A fibre of the maker's own: name, substance, construction and size typed,
//! the rest proposed and shown with how well it stands.

use eframe::egui::{ComboBox, Grid, Label, TextEdit, Ui, WidgetInfo, vec2};

use crate::app::controls::{Button, Entered, Field, colour_square, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::marks::standing_ui;
use crate::app::painting::screen_colour;
use crate::app::words;
use crate::material::{Colour, Construction, Fibre, Label as SoldBy, Size, Substance};
use crate::quantity::{Length, UnitSystem, read_number};

use super::colours::offered;
use super::shelf::unit;
use super::strands::any_colour;

/// What a maker's label says of the thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Said {
    Diameter,
    Tex,
}

/// The form while it is filled in.
#[derive(Debug)]
pub(super) struct OwnFibre {
    name: String,
    construction: Construction,
    substance: Substance,
    said: Said,
    diameter: f64,
    tex: f64,
    colour: Colour,
    /// The fibre that is changed, if it is not a new one.
    changes: Option<String>,
}

impl Default for OwnFibre {
    fn default() -> Self {
        Self {
            name: String::new(),
            construction: Construction::SatinCord,
            substance: Substance::Polyester,
            said: Said::Diameter,
            diameter: 2.0,
            tex: 500.0,
            colour: Colour([0x6f, 0xa8, 0x9e]),
            changes: None,
        }
    }
}

/// How the form fared in a frame.
#[derive(Debug)]
pub(super) enum Outcome {
    /// It is still being filled in.
    Typing,
    /// It was put away.
    Dropped,
    /// A fibre came of it.
    Made(Box<Fibre>),
}

impl OwnFibre {
    /// The form filled in as a fibre was; what was proposed is proposed anew.
    pub(super) fn of(fibre: &Fibre) -> Self {
        let of_name = |substance: &Substance| substance.name() == fibre.substance;
        let substance = Substance::ALL.into_iter().find(of_name);
        let said = match fibre.label {
            SoldBy::Tex => Said::Tex,
            SoldBy::Diameter | SoldBy::Both => Said::Diameter,
        };
        Self {
            name: fibre.name.clone(),
            construction: fibre.construction,
            substance: substance.unwrap_or(Substance::Polyester),
            said,
            diameter: fibre.diameter.value,
            tex: fibre.tex.value,
            colour: fibre.colour,
            changes: Some(fibre.name.clone()),
        }
    }

    /// The name of the fibre that is changed, if it is not a new one.
    pub(super) fn changes(&self) -> Option<&str> {
        self.changes.as_deref()
    }

    fn fibre(&self) -> Result<Fibre, String> {
        self.named(&self.name)
    }

    fn named(&self, name: &str) -> Result<Fibre, String> {
        let size = match self.said {
            Said::Diameter => Size::Diameter(self.diameter),
            Said::Tex => Size::Tex(self.tex),
        };
        Fibre::proposed(
            name.trim(),
            self.substance,
            self.construction,
            size,
            self.colour,
        )
        .map_err(|error| error.to_string())
    }
}

/// The form; it takes the place of the shelf.
pub(super) fn form_ui(ui: &mut Ui, form: &mut OwnFibre, desk: &Desk<'_>) -> Outcome {
    match form.changes() {
        Some(name) => Role::Name.label(ui, format!("{name}, changed")),
        None => Role::Name.label(ui, "A fibre of my own"),
    };
    name_ui(ui, form);
    kind_ui(ui, form);
    size_ui(ui, form, desk.units());
    colour_ui(ui, form, desk);
    let fibre = form.fibre();
    let mut outcome = Outcome::Typing;
    ui.horizontal(|ui| {
        let hindrance = fibre.as_ref().err().map(String::as_str);
        let keep = form
            .changes()
            .map_or("Put it on my shelf", |_| "Keep it so");
        let keep = Button::main(keep).off_because(hindrance);
        if ui.add(keep).clicked()
            && let Ok(fibre) = fibre
        {
            outcome = Outcome::Made(Box::new(fibre));
        } else if ui.add(Button::plain("Leave it")).clicked() {
            outcome = Outcome::Dropped;
        }
    });
    // What is proposed does not wait for a name.
    match form.named("a fibre of my own") {
        Ok(proposed) => proposed_ui(ui, &proposed),
        Err(error) => {
            let text = Role::Note.text(ui, error);
            ui.add(Label::new(text).wrap());
        }
    }
    outcome
}

fn name_ui(ui: &mut Ui, form: &mut OwnFibre) {
    Role::Label.label(ui, "Name");
    let edit = TextEdit::singleline(&mut form.name)
        .hint_text("what you call it, such as lace 2 mm, harbour")
        .char_limit(80)
        .desired_width(ui.available_width() - 8.0);
    let response = ui.add(edit);
    let role = eframe::egui::Role::TextInput;
    response.widget_info(|| WidgetInfo::labeled(role, true, "Name of the fibre"));
}

/// Construction first; it decides what it can be made of.
fn kind_ui(ui: &mut Ui, form: &mut OwnFibre) {
    ui.horizontal_wrapped(|ui| {
        Role::Label.label(ui, "Built like");
        let chosen = ComboBox::from_id_salt("construction")
            .selected_text(form.construction.name())
            .show_ui(ui, |ui| {
                for construction in Construction::ALL {
                    let name = construction.name();
                    ui.selectable_value(&mut form.construction, construction, name);
                }
            });
        name_combo(&chosen.response, "Built like");
        Role::Label.label(ui, "of");
        let chosen = ComboBox::from_id_salt("substance")
            .selected_text(form.substance.name())
            .show_ui(ui, |ui| {
                for substance in form.construction.substances() {
                    ui.selectable_value(&mut form.substance, substance, substance.name());
                }
            });
        name_combo(&chosen.response, "Made of");
    });
    if !form.construction.takes(form.substance)
        && let Some(first) = form.construction.substances().next()
    {
        form.substance = first;
    }
}

fn name_combo(response: &eframe::egui::Response, name: &str) {
    let role = eframe::egui::Role::ComboBox;
    response.widget_info(|| WidgetInfo::labeled(role, true, name));
}

fn size_ui(ui: &mut Ui, form: &mut OwnFibre, units: UnitSystem) {
    ui.horizontal_wrapped(|ui| {
        let words = [(Said::Diameter, "thickness"), (Said::Tex, "tex")];
        segments(ui, "known by its", &mut form.said, &words);
        match form.said {
            Said::Diameter => {
                let shown = Length::from_mm(form.diameter).written(units);
                let read = |text: &str| Length::read(text, units).map_err(|e| e.to_string());
                let field = Field::new("thickness of the fibre").width(120.0);
                if let Some(Entered::Value(length)) = field.show(ui, &shown, read) {
                    form.diameter = length.mm();
                }
            }
            Said::Tex => {
                let shown = words::number(form.tex);
                let read = |text: &str| read_number(text).map_err(|e| e.to_string());
                let field = Field::new("tex of the fibre").unit("g/km").width(132.0);
                if let Some(Entered::Value(tex)) = field.show(ui, &shown, read) {
                    form.tex = tex;
                }
            }
        }
    });
}

fn colour_ui(ui: &mut Ui, form: &mut OwnFibre, desk: &Desk<'_>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(2.0, 2.0);
        for (colour, name) in offered(desk) {
            let name = format!("colour of the fibre: {name}");
            let chosen = form.colour == colour;
            if colour_square(ui, screen_colour(colour), &name, chosen).clicked() {
                form.colour = colour;
            }
        }
        if let Some(colour) = any_colour(ui, form.colour) {
            form.colour = colour;
        }
    });
}

/// Every figure with its range, and how well it stands.
fn proposed_ui(ui: &mut Ui, fibre: &Fibre) {
    Role::Label.label(ui, "The rest is proposed");
    let spacing = vec2(12.0, 2.0);
    Grid::new("proposed")
        .num_columns(4)
        .spacing(spacing)
        .show(ui, |ui| {
            for (name, known) in fibre.figures() {
                Role::Note.label(ui, name);
                Role::Value.label(ui, format!("{}{}", words::number(known.value), unit(name)));
                let range = format!(
                    "{} to {}",
                    words::number(known.low),
                    words::number(known.high)
                );
                Role::Note.label(ui, range);
                standing_ui(ui, known.standing, "");
                ui.end_row();
            }
        });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fibre_of_ones_own_needs_a_name_and_the_rest_is_proposed() {
        let mut form = OwnFibre::default();
        assert!(form.fibre().is_err(), "no name yet");
        form.name = "lace of my own".to_owned();
        let fibre = form.fibre().unwrap();
        assert_eq!(fibre.check(), Ok(()), "every figure can be");
        assert!((fibre.diameter.value - 2.0).abs() < 1e-9, "as typed");
    }
}
