//! The rows: a step each, chosen by pointer or keys and written in place.

use eframe::egui::{Event, Id, Key, Label, Modifiers, Response, TextEdit, Ui, WidgetInfo, vec2};

use crate::app::command::Command;
use crate::app::controls::{Pick, tip};
use crate::app::desk::Desk;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;
use crate::structure::{Braid, MoveList, Step};

use super::super::LookView;
use super::{by_hand, tools, words, write};

/// Height of a row.
const ROW: f32 = 32.0;

/// A step being written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Draft {
    /// Where it stands, or will stand.
    at: usize,
    /// Whether it is one more.
    is_new: bool,
    text: String,
    fault: Option<String>,
    /// The keyboard is still to go there.
    is_fresh: bool,
}

impl Draft {
    /// A step that is there.
    fn of(list: &MoveList, at: usize, desk: &Desk<'_>) -> Self {
        let step = list.steps.get(at).cloned().unwrap_or_default();
        Self {
            text: words::typed(list, &step, desk.numbering()),
            is_new: false,
            ..Self::new(at)
        }
    }

    /// One more.
    pub(super) fn new(at: usize) -> Self {
        Self {
            at,
            is_new: true,
            text: String::new(),
            fault: None,
            is_fresh: true,
        }
    }
}

/// All rows, and the keys that work on them.
pub(super) fn rows_ui(
    ui: &mut Ui,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    ui.spacing_mut().item_spacing.y = 0.0;
    let fault = Braid::new(list).err();
    let faulty = fault.as_ref().and_then(|error| error.fault.step());
    let sentence = fault.map(|error| error.sentence(desk.numbering()));
    let mut is_among = false;
    for (index, step) in list.steps.iter().enumerate() {
        draft_ui(ui, index, list, desk, view, wants);
        by_hand::mark_ui(ui, index, list, view);
        let is_written =
            matches!(&view.make.draft, Some(draft) if draft.at == index && !draft.is_new);
        if is_written {
            continue;
        }
        let wrong = sentence.as_deref().filter(|_| faulty == Some(index + 1));
        let row = row_ui(ui, index, step, wrong, list, desk, view);
        is_among |= row.has_focus();
        pressed(ui, &row, index, list, desk, view);
    }
    draft_ui(ui, list.steps.len(), list, desk, view, wants);
    by_hand::mark_ui(ui, list.steps.len(), list, view);
    view.make.brings = false;
    if list.steps.is_empty() && view.make.draft.is_none() {
        Role::Note.label(ui, "No step yet: drag to record one, or write it");
    }
    if is_among || ui.memory(|memory| memory.focused().is_none()) {
        keys(ui, list, desk, view, wants);
    }
}

fn row_ui(
    ui: &mut Ui,
    index: usize,
    step: &Step,
    wrong: Option<&str>,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &LookView,
) -> Response {
    let said = words::step(list, step, desk.numbering());
    let name = match wrong {
        None => format!("step {}: {said}", index + 1),
        Some(wrong) => format!("step {}: {said}. {wrong}", index + 1),
    };
    let is_at = view.make.at == index && !view.make.by_hand;
    let is_on = is_at || view.make.chosen.contains(&index);
    let row = Pick::row(&name, is_on, ROW).show(ui, |ui| {
        ui.set_height(ROW - 20.0);
        ui.horizontal_centered(|ui| {
            number_ui(ui, index);
            if wrong.is_some() {
                let (rect, _) =
                    ui.allocate_exact_size(vec2(18.0, 16.0), eframe::egui::Sense::hover());
                Icon::Broken.paint(ui.painter(), rect.center(), 16.0, Theme::of(ui).stop);
            }
            let text = Role::Text.text(ui, &said);
            ui.add(Label::new(text).truncate());
        });
    });
    if view.make.brings && view.make.at == index {
        row.scroll_to_me(None);
    }
    match wrong {
        Some(wrong) => tip(row, wrong),
        None => row,
    }
}

/// The number of a step, right-aligned in a column of its own.
fn number_ui(ui: &mut Ui, index: usize) {
    let (rect, _) = ui.allocate_exact_size(vec2(22.0, 16.0), eframe::egui::Sense::hover());
    let (font, ink) = (Face::Figures.at(15.0), Theme::of(ui).ink2);
    let at = eframe::egui::Align2::RIGHT_CENTER;
    ui.painter()
        .text(rect.right_center(), at, (index + 1).to_string(), font, ink);
}

fn pressed(
    ui: &Ui,
    row: &Response,
    index: usize,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut LookView,
) {
    if row.double_clicked() {
        view.make.draft = Some(Draft::of(list, index, desk));
    } else if row.clicked() {
        let keys = ui.input(|input| input.modifiers);
        view.make.press(index, keys);
        view.make.go_to(list, index, &mut view.play);
    }
}

/// The step being written, if it stands here.
fn draft_ui(
    ui: &mut Ui,
    index: usize,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let Some(draft) = view.make.draft.as_mut().filter(|draft| draft.at == index) else {
        return;
    };
    let id = Id::unique("step being written");
    let edit = TextEdit::singleline(&mut draft.text)
        .id(id)
        .font(Role::Text.font())
        .hint_text("17 to 31")
        .char_limit(400)
        .desired_width(ui.available_width() - 12.0);
    let response = ui.add(edit);
    let role = eframe::egui::Role::TextInput;
    let name = format!("write step {}", index + 1);
    response.widget_info(|| WidgetInfo::labeled(role, true, &name));
    if std::mem::take(&mut draft.is_fresh) {
        response.request_focus();
        response.scroll_to_me(None);
    }
    if let Some(fault) = &draft.fault {
        let text = Role::Note.text(ui, fault).color(Theme::of(ui).stop);
        ui.add(Label::new(text).wrap());
    }
    // Taken away, or the same press would open the next row.
    let key = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if key(Key::Escape) {
        view.make.draft = None;
    } else if response.lost_focus() {
        let (is_asked, draft) = (key(Key::Enter), draft.clone());
        finish(draft, is_asked, list, desk, view, wants);
    }
}

/// What was written is laid on; an empty row of one more is forgotten.
fn finish(
    mut draft: Draft,
    is_asked: bool,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    view.make.draft = None;
    if draft.text.trim().is_empty() {
        return;
    }
    match words::read(list, &draft.text, desk.numbering()) {
        Ok(step) => {
            let mut steps = list.steps.clone();
            if draft.is_new {
                steps.insert(draft.at.min(steps.len()), step);
                write("one step more", steps, wants);
                view.make.at = draft.at;
            } else if let Some(old) = steps.get_mut(draft.at).filter(|old| **old != step) {
                *old = step;
                write("a step", steps, wants);
            }
        }
        Err(fault) => {
            draft.fault = Some(fault);
            draft.is_fresh = is_asked;
            view.make.draft = Some(draft);
        }
    }
}

/// Arrows walk, Enter and digits write, Delete takes out, Insert puts in,
/// Alt with an arrow moves.
fn keys(ui: &Ui, list: &MoveList, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    if view.make.draft.is_some() {
        return;
    }
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    let last = view.make.last(list);
    let at = view.make.at;
    let plain = Modifiers::NONE;
    if pressed(Modifiers::ALT, Key::ArrowUp) {
        tools::move_up(list, view, wants);
    } else if pressed(Modifiers::ALT, Key::ArrowDown) {
        tools::move_down(list, view, wants);
    } else if pressed(plain, Key::ArrowUp) {
        view.make.chosen.clear();
        view.make.go_to(list, at.saturating_sub(1), &mut view.play);
    } else if pressed(plain, Key::ArrowDown) {
        view.make.chosen.clear();
        view.make.go_to(list, (at + 1).min(last), &mut view.play);
    } else if pressed(plain, Key::Delete) {
        tools::take_out(list, view, wants);
    } else if pressed(plain, Key::Insert) {
        view.make.draft = Some(Draft::new((at + 1).min(list.steps.len())));
    } else if pressed(plain, Key::Enter) && at < list.steps.len() {
        view.make.draft = Some(Draft::of(list, at, desk));
    } else if let Some(digit) = digit(ui) {
        let written = Draft::of(list, at, desk);
        view.make.draft = Some(Draft {
            text: digit,
            ..written
        });
    }
}

/// A digit that was typed in this frame.
fn digit(ui: &Ui) -> Option<String> {
    ui.input(|input| {
        input.events.iter().find_map(|event| match event {
            Event::Text(text) if text.chars().all(|c| c.is_ascii_digit()) => Some(text.clone()),
            _ => None,
        })
    })
}
