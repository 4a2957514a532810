//! How the cord is shown: in which state, on which ground.

use eframe::egui::{Label, Popup, PopupCloseBehavior, Response, Ui};

use super::Strip;
use super::worn::shapes_ui;
use crate::app::command::Command;
use crate::app::controls::{colour_square, segments};
use crate::app::fonts::Role;
use crate::app::grounds::Lying;

/// Width of the slip.
const WIDTH: f32 = 300.0;

/// In which state the cord is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum State {
    /// On the disc, under the weight.
    #[default]
    OnDisc,
    /// Off the weight and rested.
    Rested,
    /// One above the other.
    Both,
}

impl State {
    /// How it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::OnDisc => "on the disc",
            Self::Rested => "rested",
            Self::Both => "both",
        }
    }
}

/// The slip, opened and shut by what `response` is of.
pub(super) fn show_ui(response: &Response, strip: &mut Strip<'_>) {
    Popup::from_toggle_button_response(response)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .accessible_name("How the cord is shown")
        .show(|ui| {
            ui.set_width(WIDTH);
            state_ui(ui, strip);
            ui.add_space(6.0);
            ground_ui(ui, strip);
            ui.add_space(6.0);
            Role::Label.label(ui, "Also worn, over the strip");
            shapes_ui(ui, "also", &mut strip.view.worn);
        });
}

fn state_ui(ui: &mut Ui, strip: &mut Strip<'_>) {
    let words = [State::OnDisc, State::Rested, State::Both].map(|it| (it, it.words()));
    segments(ui, "cord", &mut strip.view.state, &words);
    if strip.view.state == State::OnDisc {
        return;
    }
    let asked = strip.desk.cord().is_some();
    let words = strip.desk.solver.rested().hindrance(asked).unwrap_or(
        "Rested is solved anew: as much shorter as the figures say, every strand as long \
         as on the disc. No picture is stretched.",
    );
    let text = Role::Note.text(ui, words);
    ui.add(Label::new(text).wrap());
}

fn ground_ui(ui: &mut Ui, strip: &mut Strip<'_>) {
    let now = strip.lying(ui);
    Role::Label.label(ui, "What it lies on");
    ui.spacing_mut().item_spacing = eframe::egui::vec2(4.0, 4.0);
    let (cloth, skin) = Lying::ALL.split_at(5);
    for some in [cloth, skin] {
        ui.horizontal(|ui| {
            for &lying in some {
                let square = colour_square(ui, lying.colour(), lying.words(), lying == now);
                if square.clicked() {
                    strip.wants.push(Command::LayOn(lying));
                }
            }
        });
    }
    Role::Note.label(ui, now.words());
}
