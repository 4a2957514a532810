//! The way onto paper: the work sheet, and lists for other programs.

use eframe::egui::{Key, TextEdit, Ui, WidgetInfo};

use super::{CutState, CutView};
use crate::app::ask::typed_path;
use crate::app::command::Command;
use crate::app::controls::{Button, chip, head, segments, switch};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::on_paper::{Leaf, with_ending};
use crate::drawing::Paper;

/// The sheet "On paper".
pub(super) fn sheet_ui(
    ui: &mut Ui,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    ui.spacing_mut().item_spacing.y = 8.0;
    let wanted = &mut state.on_paper;
    head(ui, "On paper", |ui| {
        let words = [(Paper::A4, "A4"), (Paper::Letter, "Letter")];
        segments(ui, "paper", &mut wanted.paper, &words);
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        let kinds = [
            (Leaf::Pdf, "PDF"),
            (Leaf::Svg, "SVG"),
            (Leaf::CutList, "cut list, CSV"),
            (Leaf::Shopping, "shopping, CSV"),
        ];
        for (leaf, words) in kinds {
            if chip(ui, words, wanted.leaf == leaf).clicked() {
                wanted.leaf = leaf;
            }
        }
    });
    let is_sheet = matches!(wanted.leaf, Leaf::Pdf | Leaf::Svg);
    if is_sheet && !view.design.piece.sizes.is_empty() {
        ui.horizontal(|ui| {
            switch(ui, "a sheet for every size", &mut wanted.all_sizes);
            Role::Text.label(ui, "a sheet for every size");
        });
    }
    let words = if is_sheet {
        "Work sheet…"
    } else {
        "Save the list…"
    };
    // The figures of a first answer are not for paper.
    let hindrance = view.is_about.then_some("the cord is being worked out");
    let button = Button::main(words).icon(Icon::Print).off_because(hindrance);
    let free = ui.memory(|memory| memory.focused().is_none());
    let key = free && hindrance.is_none() && ui.input(|input| input.key_pressed(Key::P));
    if ui.add(button).clicked() || key {
        wants.push(Command::AskLeaf);
    }
    path_ui(ui, state, hindrance, wants);
}

/// A box for a path, where there is no dialog.
fn path_ui(
    ui: &mut Ui,
    state: &mut CutState,
    hindrance: Option<&'static str>,
    wants: &mut Vec<Command>,
) {
    let wanted = &mut state.on_paper;
    Role::Label.label(ui, "Or by its path");
    let hint = format!("/home/…/cord.{}", wanted.leaf.ending());
    let edit = TextEdit::singleline(&mut wanted.path)
        .hint_text(hint)
        .desired_width(ui.available_width() - 20.0);
    let response = ui.add(edit);
    let role = eframe::egui::Role::TextInput;
    response.widget_info(|| WidgetInfo::labeled(role, true, "Path of the sheet"));
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let path = typed_path(&wanted.path).map(|path| with_ending(path, wanted.leaf.ending()));
    let there = path.as_ref().is_some_and(|path| path.exists());
    let words = if there {
        "Replace that file"
    } else {
        "Save here"
    };
    let missing = hindrance.or(path.is_none().then_some("type a path first"));
    let saves = ui.add(Button::plain(words).off_because(missing)).clicked();
    if let Some(path) = path.filter(|_| missing.is_none() && (saves || entered)) {
        wants.push(Command::LeafTo(path));
    }
}
