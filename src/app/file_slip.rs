//! The file slip: open, save, a box for a path, recent files, finished examples.
//!
//! The box is always there, since a system may have no file dialog at all.

use std::path::{Path, PathBuf};

use eframe::egui::{Key, TextEdit, Ui, WidgetInfo};

use crate::document::examples;

use super::ask::{typed_path, with_ending};
use super::button_slip::button_slip;
use super::command::Command;
use super::controls::{Button, IconButton, hairline, link, tip};
use super::desk::Desk;
use super::fonts::Role;
use super::icons::Icon;
use super::view::{FileSlip, View};

/// Width of the slip's content.
const WIDTH: f32 = 340.0;

/// The button that opens the slip, and the slip while it is open.
pub(super) fn file_slip_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut View,
    wants: &mut Vec<Command>,
) {
    let tip = Command::Files.tip();
    let button = IconButton::new(Icon::Dots, Command::Files.words()).tip(&tip);
    let response = ui.add(button);
    if response.clicked() {
        wants.push(Command::Files);
    }
    let slip = &mut view.files;
    let size = [WIDTH, 620.0];
    // What is shown may have shut it itself.
    let stays = button_slip(&response, "File", size, slip.open, |ui| {
        slip_ui(ui, desk, slip, wants);
    });
    slip.open &= stays;
}

fn slip_ui(ui: &mut Ui, desk: &Desk<'_>, slip: &mut FileSlip, wants: &mut Vec<Command>) {
    for (command, icon) in [
        (Command::New, Icon::Page),
        (Command::Open, Icon::Open),
        (Command::Save, Icon::Keep),
        (Command::SaveAs, Icon::Send),
    ] {
        command_ui(ui, command, icon, slip, wants);
    }
    hairline(ui);
    path_ui(ui, desk, slip, wants);
    recent_ui(ui, desk.recent, slip, wants);
    hairline(ui);
    Role::Label.label(ui, "Finished examples");
    for (place, example) in examples().iter().enumerate() {
        let response = tip(link(ui, &example.name), &example.note);
        if response.clicked() {
            wants.push(Command::Example(place));
            slip.open = false;
        }
    }
}

fn command_ui(
    ui: &mut Ui,
    command: Command,
    icon: Icon,
    slip: &mut FileSlip,
    wants: &mut Vec<Command>,
) {
    let keys = command.keys();
    let asks = matches!(command, Command::Open | Command::SaveAs);
    ui.horizontal(|ui| {
        let button = Button::bare(command.words()).icon(icon);
        if ui.add(button).clicked() {
            slip.open = asks;
            wants.push(command);
        }
        Role::Note.label(ui, keys);
    });
}

/// A box for a path, to open or to save at.
fn path_ui(ui: &mut Ui, desk: &Desk<'_>, slip: &mut FileSlip, wants: &mut Vec<Command>) {
    Role::Label.label(ui, "Or by its path");
    let edit = TextEdit::singleline(&mut slip.path)
        .hint_text("/home/…/cord.plait")
        .desired_width(WIDTH - 24.0);
    let response = ui.add(edit);
    response
        .widget_info(|| WidgetInfo::labeled(eframe::egui::Role::TextInput, true, "Path of a file"));
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let path = typed_path(&slip.path);
    let missing = path.is_none().then_some("type a path first");
    ui.horizontal(|ui| {
        let open = Button::plain("Open it").off_because(missing);
        let save = Button::plain(save_words(path.as_deref(), desk)).off_because(missing);
        let opens = ui.add(open).clicked() || entered;
        let saves = ui.add(save).clicked();
        if let Some(path) = path.filter(|_| opens || saves) {
            wants.push(if saves {
                Command::SaveTo(path)
            } else {
                Command::OpenFile(path)
            });
        }
    });
}

/// Another file that is there is not replaced without saying so.
fn save_words(path: Option<&Path>, desk: &Desk<'_>) -> &'static str {
    let there = path.map(|path| with_ending(path.to_path_buf()));
    let other = there.filter(|path| desk.file.path.as_ref() != Some(path));
    if other.is_some_and(|path| path.exists()) {
        return "Replace that file";
    }
    "Save here"
}

fn recent_ui(ui: &mut Ui, recent: &[PathBuf], slip: &mut FileSlip, wants: &mut Vec<Command>) {
    if recent.is_empty() {
        return;
    }
    hairline(ui);
    Role::Label.label(ui, "Recent files");
    for path in recent {
        let response = tip(link(ui, &short(path)), &path.display().to_string());
        if response.clicked() {
            wants.push(Command::OpenFile(path.clone()));
            slip.open = false;
        }
    }
}

/// The file's name with the folder it lies in.
fn short(path: &Path) -> String {
    let name = path
        .file_name()
        .unwrap_or(path.as_os_str())
        .to_string_lossy();
    match path.parent().and_then(Path::file_name) {
        Some(folder) => format!("{name} in {}", folder.to_string_lossy()),
        None => name.into_owned(),
    }
}
