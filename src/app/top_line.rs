//! The top line: whose cord this is, where it is kept, the way back, the unit.

use eframe::egui::{
    Align, Key, Label, Layout, Rect, Sense, TextEdit, Ui, UiBuilder, WidgetInfo, pos2,
};

use crate::document::Edit;
use crate::quantity::UnitSystem;

use super::command::Command;
use super::controls::{IconButton, keyboard_leads, segments, tip};
use super::desk::Desk;
use super::file_slip;
use super::fonts::Role;
use super::icons::Icon;
use super::stitch;
use super::take_slip;
use super::theme::Theme;

use super::view::{Typing, View};
use super::window::MARGIN;

/// Draws the top line into all of `ui`.
pub(super) fn top_line_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut View, wants: &mut Vec<Command>) {
    let line = ui.max_rect();
    let middle = line.top() + 0.5 * line.height().min(64.0);
    let right = if line.width() < 760.0 { 396.0 } else { 460.0 };
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
    if let Some(typing) = view.naming.take() {
        view.naming = typing_ui(ui, typing, wants);
        return;
    }
    let (name, note) = (&desk.design.name, &desk.design.note);
    let shown = or_else(name, "A cord without a name");
    let words = desk.file.saved_words(desk.is_unsaved);
    // A long name leaves room to say where the design is kept.
    let room = ui.available_width() - 8.0 * words.chars().count() as f32 - 40.0;
    ui.scope(|ui| {
        let all = ui.available_width();
        ui.set_max_width(if all < 320.0 {
            all
        } else {
            room.max(0.6 * all)
        });
        if words_ui(ui, Role::Title, shown, "Click to rename the cord") {
            view.naming = Some(Typing::Name(name.clone()));
        }
    });
    // The remark gives way to where the design is kept.
    let room = ui.available_width() - 8.0 * words.chars().count() as f32 - 40.0;
    if room > 90.0 {
        ui.add_space(8.0);
        ui.scope(|ui| {
            ui.set_max_width(room);
            let shown = or_else(note, "add a remark");
            if words_ui(ui, Role::Text, shown, "Click to change the remark") {
                view.naming = Some(Typing::Note(note.clone()));
            }
        });
    }
    ui.add_space(8.0);
    if ui.available_width() < 48.0 {
        return;
    }
    let mark = if desk.is_unsaved { " ·" } else { "" };
    let text = Role::Note.text(ui, format!("{words}{mark}"));
    ui.add(Label::new(text).truncate());
}

fn or_else<'a>(words: &'a str, empty: &'a str) -> &'a str {
    if words.is_empty() { empty } else { words }
}

/// Words that can be clicked to be changed.
fn words_ui(ui: &mut Ui, role: Role, words: &str, what: &str) -> bool {
    let theme = Theme::of(ui);
    let colour = if role == Role::Text {
        theme.ink2
    } else {
        theme.ink
    };
    let text = role.text(ui, words).color(colour);
    let response = ui.add(Label::new(text).sense(Sense::click()).truncate());
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(ui.painter(), response.rect, 4.0, &theme);
    }
    // Long words may be cut off on the line.
    let whole = if words.chars().count() > 24 {
        format!("{words}\n{what}")
    } else {
        what.to_owned()
    };
    tip(response, &whole).clicked()
}

/// Name or remark while it is typed; `None` once that is over.
fn typing_ui(ui: &mut Ui, mut typing: Typing, wants: &mut Vec<Command>) -> Option<Typing> {
    let (text, role, most, name) = match &mut typing {
        Typing::Name(text) => (text, Role::Title, 80, "Name of the cord"),
        Typing::Note(text) => (text, Role::Text, 400, "Remark"),
    };
    let edit = TextEdit::singleline(text)
        .font(role.font())
        .text_color(Theme::of(ui).ink)
        .char_limit(most)
        .desired_width(ui.available_width() - 40.0);
    let response = ui.add(edit);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::TextInput, true, name));
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        return None;
    }
    if response.lost_focus() {
        let edit = match typing {
            Typing::Name(text) => Edit::Rename(text.trim().to_owned()),
            Typing::Note(text) => Edit::Note(text.trim().to_owned()),
        };
        wants.push(Command::Edit(edit));
        return None;
    }
    if !response.has_focus() {
        response.request_focus();
    }
    Some(typing)
}

/// From the right: unit, file, what can be taken along, save, open, redo, undo.
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
    take_slip::take_slip_ui(ui, desk, view, wants);
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
