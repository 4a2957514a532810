//! The slip "Take it along": what, how large, on what, how long, and where to.
//!
//! Like the file slip it has a box for a path, since a system may have no dialog.

use eframe::egui::{Key, TextEdit, Ui, WidgetInfo};

use crate::drawing::Keepsake;
use crate::quantity::{Length, UnitSystem};

use super::ask::typed_path;
use super::button_slip::button_slip;
use super::command::Command;
use super::controls::{Button, Entered, Field, IconButton, chip, hairline, segments};
use super::desk::Desk;
use super::fonts::Role;
use super::icons::Icon;
use super::taking::with_kind;
use super::view::View;

/// Width of the slip's content.
const WIDTH: f32 = 348.0;

/// Longest side of a picture, pixels, and longest solid, mm; what is too much for the
/// cord itself is said when it is made.
const MOST_SIDE: usize = 60_000;
const MOST_LENGTH: f64 = 100_000.0;

/// What a picture of the cord lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Under {
    /// What it lies on in the strip.
    #[default]
    AsSeen,
    /// Nothing.
    Nothing,
}

/// What is wished to be taken along.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeSlip {
    /// Whether the slip is shown.
    pub open: bool,
    /// What.
    pub what: Keepsake,
    /// Size of a picture, pixels.
    pub size: [usize; 2],
    /// What it lies on.
    pub under: Under,
    /// Length of a solid, mm.
    pub length_mm: f64,
    /// What is typed into the box.
    pub path: String,
}

impl Default for TakeSlip {
    fn default() -> Self {
        Self {
            open: false,
            what: Keepsake::CordPng,
            size: [2400, 450],
            under: Under::AsSeen,
            length_mm: 50.0,
            path: String::new(),
        }
    }
}

/// The button that opens the slip, and the slip while it is open.
pub(super) fn take_slip_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut View,
    wants: &mut Vec<Command>,
) {
    let tip = Command::TakeAlong.tip();
    let button = IconButton::new(Icon::Send, Command::TakeAlong.words()).tip(&tip);
    let response = ui.add(button);
    if response.clicked() {
        wants.push(Command::TakeAlong);
    }
    let slip = &mut view.take;
    let size = [WIDTH, 560.0];
    // What is shown may have shut it itself.
    let stays = button_slip(&response, "Take it along", size, slip.open, |ui| {
        slip_ui(ui, desk, slip, wants);
    });
    slip.open &= stays;
}

fn slip_ui(ui: &mut Ui, desk: &Desk<'_>, slip: &mut TakeSlip, wants: &mut Vec<Command>) {
    Role::Section.label(ui, "Take it along");
    kinds_ui(ui, slip);
    match slip.what {
        Keepsake::CordPng | Keepsake::CordSvg => picture_ui(ui, slip),
        Keepsake::SurfaceSvg | Keepsake::DiscSvg => {}
        Keepsake::SolidGlb | Keepsake::SolidObj | Keepsake::SolidStl => {
            length_ui(ui, slip, desk.units());
        }
    }
    let note = Role::Note.text(ui, remark(slip.what));
    ui.add(eframe::egui::Label::new(note).wrap());
    ui.add_space(6.0);
    let missing = hindrance(desk, slip.what);
    ui.horizontal(|ui| {
        let save = Button::main("Save…").off_because(missing);
        if ui.add(save).clicked() {
            wants.push(Command::AskTake);
        }
        let picture = hindrance(desk, Keepsake::CordPng);
        let copy = Button::plain(Command::CopyPicture.words()).off_because(picture);
        if slip.what == Keepsake::CordPng && ui.add(copy).clicked() {
            wants.push(Command::CopyPicture);
        }
    });
    hairline(ui);
    path_ui(ui, slip, missing, wants);
}

/// What there is, kind by kind.
fn kinds_ui(ui: &mut Ui, slip: &mut TakeSlip) {
    let kinds: [(&str, &[(Keepsake, &str)]); 3] = [
        (
            "The cord as a picture",
            &[
                (Keepsake::CordPng, "PNG, pixels"),
                (Keepsake::CordSvg, "SVG, outlines"),
            ],
        ),
        (
            "Its surface unrolled, or the disc as it is set up",
            &[
                (Keepsake::SurfaceSvg, "SVG of the surface"),
                (Keepsake::DiscSvg, "SVG of the disc"),
            ],
        ),
        (
            "The cord as a solid",
            &[
                (Keepsake::SolidGlb, "glTF"),
                (Keepsake::SolidObj, "OBJ"),
                (Keepsake::SolidStl, "STL"),
            ],
        ),
    ];
    for (label, some) in kinds {
        Role::Label.label(ui, label);
        ui.horizontal(|ui| {
            for &(what, words) in some {
                if chip(ui, words, slip.what == what).clicked() {
                    slip.what = what;
                }
            }
        });
    }
    ui.add_space(4.0);
}

/// What one should know of a kind, in a sentence.
fn remark(what: Keepsake) -> &'static str {
    match what {
        Keepsake::CordPng => "As it lies on the strip, printed in life size.",
        Keepsake::CordSvg => "As it lies on the strip, in life size, smooth and without a ground.",
        Keepsake::SurfaceSvg => "All floats laid flat, five times life size.",
        Keepsake::DiscSvg => "Slots, letters and colours, with a list below; 156 mm wide.",
        Keepsake::SolidGlb => "One closed tube a strand, with its colours.",
        Keepsake::SolidObj => {
            "One closed tube a strand, millimetres; its colours in a file beside it."
        }
        Keepsake::SolidStl => "One closed tube a strand, millimetres; without colours.",
    }
}

fn picture_ui(ui: &mut Ui, slip: &mut TakeSlip) {
    Role::Label.label(ui, "Size");
    ui.horizontal(|ui| {
        let names = ["width of the picture", "height of the picture"];
        for (name, side) in names.into_iter().zip(&mut slip.size) {
            let field = Field::new(name).unit("px").width(112.0);
            let read = |text: &str| read_side(text);
            if let Some(Entered::Value(pixels)) = field.show(ui, &side.to_string(), read) {
                *side = pixels;
            }
        }
    });
    if slip.what == Keepsake::CordPng {
        let words = [(Under::AsSeen, "ground as seen"), (Under::Nothing, "clear")];
        segments(ui, "what it lies on", &mut slip.under, &words);
    }
}

fn read_side(text: &str) -> Result<usize, String> {
    let pixels = text.trim().parse().ok();
    pixels
        .filter(|n| (1..=MOST_SIDE).contains(n))
        .ok_or_else(|| format!("{text:?} is not a number of pixels up to {MOST_SIDE}"))
}

fn length_ui(ui: &mut Ui, slip: &mut TakeSlip, units: UnitSystem) {
    Role::Label.label(ui, "Length of cord");
    let shown = Length::from_mm(slip.length_mm).written(units);
    let read = |text: &str| {
        let length = Length::read(text, units).map_err(|error| error.to_string())?;
        let mm = length.mm();
        let fits = (0.1..=MOST_LENGTH).contains(&mm);
        fits.then_some(mm)
            .ok_or_else(|| format!("{text} is no length of cord"))
    };
    let field = Field::new("length of the solid").width(132.0);
    if let Some(Entered::Value(mm)) = field.show(ui, &shown, read) {
        slip.length_mm = mm;
    }
}

/// Why a thing cannot be made now.
fn hindrance(desk: &Desk<'_>, what: Keepsake) -> Option<&'static str> {
    let solved = desk.solver.solved();
    match solved.cord() {
        _ if what == Keepsake::DiscSvg => None,
        None => Some("there is no cord yet"),
        Some(_) if solved.is_busy() => Some("the cord is being worked out"),
        Some(_) if solved.is_old() => Some("these moves and strands make no cord"),
        Some(_) => None,
    }
}

/// A box for a path to save at.
fn path_ui(
    ui: &mut Ui,
    slip: &mut TakeSlip,
    missing: Option<&'static str>,
    wants: &mut Vec<Command>,
) {
    Role::Label.label(ui, "Or by its path");
    let hint = format!("/home/…/cord.{}", slip.what.ending());
    let edit = TextEdit::singleline(&mut slip.path)
        .hint_text(hint)
        .desired_width(WIDTH - 24.0);
    let response = ui.add(edit);
    let role = eframe::egui::Role::TextInput;
    response.widget_info(|| WidgetInfo::labeled(role, true, "Path to save at"));
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let path = typed_path(&slip.path).map(|path| with_kind(path, slip.what));
    let there = path.as_ref().is_some_and(|path| path.exists());
    let words = if there {
        "Replace that file"
    } else {
        "Save here"
    };
    let missing = missing.or(path.is_none().then_some("type a path first"));
    let saves = ui.add(Button::plain(words).off_because(missing)).clicked();
    if let Some(path) = path.filter(|_| missing.is_none() && (saves || entered)) {
        wants.push(Command::TakeTo(path));
    }
}
