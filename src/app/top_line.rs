//! The top line: whose cord this is, where it is kept, the way back, the unit.

use eframe::egui::{Align, Key, Layout, Rect, TextEdit, Ui, UiBuilder, pos2};

use crate::document::Edit;
use crate::quantity::UnitSystem;

use super::command::Command;
use super::controls::{IconButton, segments, tip};
use super::desk::Desk;
use super::file_slip;
use super::fonts::Role;
use super::icons::Icon;

use super::view::View;
use super::window::MARGIN;

/// Draws the top line into all of `ui`.
pub(super) fn top_line_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut View, wants: &mut Vec<Command>) {
    let line = ui.max_rect();
    let middle = line.top() + 0.5 * line.height().min(64.0);
    let right = if line.width() < 760.0 { 356.0 } else { 420.0 };
    let split = line.right() - right;
    let left = Rect::from_min_max(
        pos2(line.left() + MARGIN, middle - 20.0),
        pos2(split - 12.0, middle + 20.0),
    );
    let tools = Rect::from_min_max(
        pos2(split, middle - 17.0),
        pos2(line.right() - MARGIN, middle + 17.0),
    );
    let row = Layout::left_to_right(Align::Center);
    ui.scope_builder(UiBuilder::new().max_rect(left).layout(row), |ui| {
        ui.set_clip_rect(left.expand(4.0).intersect(ui.clip_rect()));
        name_ui(ui, desk, view, wants);
    });
    let row = Layout::right_to_left(Align::Center);
    ui.scope_builder(UiBuilder::new().max_rect(tools).layout(row), |ui| {
        tools_ui(ui, desk, view, wants);
    });
}

/// The name, which can be clicked and typed over, and where it is kept.
fn name_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut View, wants: &mut Vec<Command>) {
    match view.naming.take() {
        Some(typed) => view.naming = typing_ui(ui, typed, wants),
        None => view.naming = resting_name_ui(ui, desk),
    }
    ui.add_space(8.0);
    let words = desk.file.saved_words(desk.is_unsaved);
    let mark = if desk.is_unsaved { " ·" } else { "" };
    let text = Role::Note.text(ui, format!("{words}{mark}"));
    ui.add(eframe::egui::Label::new(text).truncate());
}

fn resting_name_ui(ui: &mut Ui, desk: &Desk<'_>) -> Option<String> {
    let name = if desk.design.name.is_empty() {
        "A cord without a name"
    } else {
        &desk.design.name
    };
    let text = Role::Title.text(ui, name);
    let label = eframe::egui::Label::new(text)
        .sense(eframe::egui::Sense::click())
        .truncate();
    let response = ui.add(label);
    let response = tip(response, "Click to rename the cord");
    response.clicked().then(|| desk.design.name.clone())
}

/// The name while it is typed; `None` once that is over.
fn typing_ui(ui: &mut Ui, mut typed: String, wants: &mut Vec<Command>) -> Option<String> {
    let theme = super::theme::Theme::of(ui);
    let edit = TextEdit::singleline(&mut typed)
        .font(Role::Title.font())
        .text_color(theme.ink)
        .char_limit(80)
        .desired_width(260.0);
    let response = ui.add(edit);
    response.widget_info(|| {
        eframe::egui::WidgetInfo::labeled(eframe::egui::Role::TextInput, true, "Name of the cord")
    });
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        return None;
    }
    if response.lost_focus() {
        wants.push(Command::Edit(Edit::Rename(typed.trim().to_owned())));
        return None;
    }
    if !response.has_focus() {
        response.request_focus();
    }
    Some(typed)
}

/// From the right: unit, file, redo, undo.
fn tools_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut View, wants: &mut Vec<Command>) {
    let mut units = desk.units();
    let words = [
        (UnitSystem::Millimetres, "mm"),
        (UnitSystem::Inches, "inch"),
    ];
    if segments(ui, "unit", &mut units, &words) {
        wants.push(Command::Units(units));
    }
    ui.add_space(8.0);
    file_slip::file_slip_ui(ui, desk, view, wants);
    for (command, icon) in [(Command::Save, Icon::Keep), (Command::Open, Icon::Open)] {
        icon_ui(ui, command, icon, "", desk, wants);
    }
    ui.add_space(8.0);
    let redo = desk.redo.unwrap_or_default();
    icon_ui(ui, Command::Redo, Icon::Redo, redo, desk, wants);
    let undo = desk.undo.unwrap_or_default();
    icon_ui(ui, Command::Undo, Icon::Undo, undo, desk, wants);
}

/// A command as an icon; `what` says on what it would work.
fn icon_ui(
    ui: &mut Ui,
    command: Command,
    icon: Icon,
    what: &str,
    desk: &Desk<'_>,
    wants: &mut Vec<Command>,
) {
    let tip = match (what, command.keys()) {
        ("", keys) => format!("{}  {keys}", command.words()),
        (what, keys) => format!("{}: {what}  {keys}", command.words()),
    };
    let button = IconButton::new(icon, command.words())
        .tip(&tip)
        .off_because(command.hindrance(desk));
    if ui.add(button).clicked() {
        wants.push(command);
    }
}
