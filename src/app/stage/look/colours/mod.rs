//! The colours page of the strands sheet: by name, from a photograph, from
//! palettes. A colour that is taken goes on the strands chosen and on the brush.

mod named;
mod palettes;
mod photograph;
mod row;

use eframe::egui::{Align, Key, TextEdit, Ui, WidgetInfo};

use crate::app::ask::typed_path;
use crate::app::command::Command;
use crate::app::controls::{Button, head, link, segments};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::photo::PhotoView;
use crate::document::Edit;
use crate::material::Colour;

use super::LookView;
use super::strands::chosen_head;

pub(super) use row::{Offered, offered, used};

/// Where colours are taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum From {
    /// Plain names.
    #[default]
    Names,
    /// A photograph.
    Photograph,
    /// Palettes.
    Palettes,
}

/// The page while it is open.
#[derive(Debug, Default)]
pub struct ColoursView {
    open: bool,
    /// It was opened in this frame: its head is brought into sight.
    comes: bool,
    from: From,
    search: String,
    path: String,
    /// The photograph on the table.
    pub photo: PhotoView,
}

impl ColoursView {
    /// Whether it is open.
    pub fn is_open(&self) -> bool {
        self.open
    }

    /// Opens it where it was left.
    pub fn open(&mut self) {
        self.open = true;
        self.comes = true;
    }

    /// Puts it away.
    pub fn shut(&mut self) {
        self.open = false;
    }

    pub(super) fn open_at(&mut self, from: From) {
        self.open();
        self.from = from;
    }
}

/// The page, in the strands sheet.
pub(super) fn page_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    if std::mem::take(&mut view.colours.comes) {
        ui.scroll_to_cursor(Some(Align::TOP));
    }
    let shuts = head(ui, "Colours", |ui| {
        link(ui, "back to the strands").clicked()
    });
    if shuts {
        view.colours.shut();
        return;
    }
    view.colours.photo.collect(ui.ctx());
    let strands = view.meant(desk.design);
    chosen_head(ui, view, &strands);
    ui.add_space(4.0);
    let words = [
        (From::Names, "by name"),
        (From::Photograph, "photograph"),
        (From::Palettes, "palettes"),
    ];
    segments(ui, "colours", &mut view.colours.from, &words);
    ui.add_space(4.0);
    let taken = match view.colours.from {
        From::Names => named::names_ui(ui, desk, &mut view.colours.search),
        From::Photograph => photograph::photograph_ui(ui, &mut view.colours, wants),
        From::Palettes => palettes::palettes_ui(ui, desk, &mut view.colours, wants),
    };
    if let Some(colour) = taken {
        take(colour, desk, view, wants);
    }
}

/// A colour goes on the strands chosen, or on all, and on the brush.
fn take(colour: Colour, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    view.brush = colour;
    wants.push(Command::Edit(Edit::Paint {
        strands: view.meant(desk.design),
        part: None,
        colour,
    }));
}

/// A box for the path of a photograph or palette, for systems without a dialog.
fn path_ui(ui: &mut Ui, path: &mut String, hint: &str, wants: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let edit = TextEdit::singleline(path)
            .hint_text(hint)
            .desired_width(ui.available_width() - 110.0);
        let response = ui.add(edit);
        let role = eframe::egui::Role::TextInput;
        response.widget_info(|| WidgetInfo::labeled(role, true, "Path of a picture or palette"));
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let typed = typed_path(path);
        let missing = typed.is_none().then_some("type a path first");
        let opens = ui
            .add(Button::plain("Open it").off_because(missing))
            .clicked();
        if let Some(typed) = typed.filter(|_| opens || entered) {
            wants.push(Command::OpenFile(typed));
        }
    });
}

/// A remark that wraps.
fn remark(ui: &mut Ui, words: impl Into<String>) {
    let text = Role::Note.text(ui, words);
    ui.add(eframe::egui::Label::new(text).wrap());
}
