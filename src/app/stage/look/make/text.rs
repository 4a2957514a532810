//! The list as text, written by hand.
//!
//! What is written is kept until it is laid on or left; it is laid on only when
//! it is a list, and a line that is none says what is wrong with it.

use eframe::egui::{
    Align2, Frame, Key, Label, Margin, Modifiers, Rect, Stroke, StrokeKind, TextEdit, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{Button, link};
use crate::app::desk::Desk;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;
use crate::document::{Edit, changed_name};
use crate::structure::{MoveList, TextError};

/// Room for the number of a line.
const MARGIN: f32 = 30.0;
/// Longest text that is taken.
const LONGEST: usize = 200_000;

/// The text while it is open.
#[derive(Debug, Default)]
pub(super) struct TextView {
    is_open: bool,
    /// What was written, while it is not what is laid on.
    draft: Option<String>,
    /// Whether the design was just asked to take it.
    is_asked: bool,
}

impl TextView {
    /// Lets go of a text that the design took; one that it refused is kept.
    fn settle(&mut self, list: &MoveList) {
        let is_taken = |text: &mut String| text.parse().as_ref() == Ok(list);
        if std::mem::take(&mut self.is_asked) {
            self.draft.take_if(is_taken);
        }
    }
}

/// The text, opened and shut by its head.
pub(super) fn text_ui(
    ui: &mut Ui,
    list: &MoveList,
    desk: &Desk<'_>,
    view: &mut TextView,
    wants: &mut Vec<Command>,
) {
    ui.add_space(8.0);
    let words = if view.is_open {
        "Shut the text"
    } else {
        "Write it as text"
    };
    if link(ui, words).clicked() {
        view.is_open = !view.is_open;
    }
    if !view.is_open {
        return;
    }
    view.settle(list);
    let laid = list.to_string();
    let mut text = view.draft.clone().unwrap_or_else(|| laid.clone());
    let read: Result<MoveList, TextError> = text.parse();
    let wants_it = sheet_ui(ui, &mut text, read.as_ref().err());
    if let Err(error) = &read {
        let text = Role::Note
            .text(ui, error.to_string())
            .color(Theme::of(ui).stop);
        ui.add(Label::new(text).wrap());
    }
    Role::Note.label(ui, "Slots are numbered clockwise here");
    view.draft = (text != laid).then_some(text);
    let Some(draft) = view.draft.clone() else {
        return;
    };
    let hindrance = fault(&draft);
    let mut is_done = false;
    ui.horizontal(|ui| {
        let lay = Button::main("Lay it on")
            .tip("Take these moves for the design  Ctrl Enter")
            .off_because(hindrance.as_deref());
        is_done = ui.add(lay).clicked() || (wants_it && hindrance.is_none());
        if ui.add(Button::plain("Leave it")).clicked() {
            view.draft = None;
        }
    });
    if let Some(moves) = draft.parse().ok().filter(|_| is_done) {
        view.is_asked = true;
        let structure = desk.section().map_or("", |section| &section.structure);
        lay_on(structure, moves, list, wants);
    }
}

/// Steps alone are other steps; another start is another structure.
fn lay_on(structure: &str, moves: MoveList, list: &MoveList, wants: &mut Vec<Command>) {
    let steps_alone = MoveList {
        steps: list.steps.clone(),
        ..moves.clone()
    };
    wants.push(Command::Edit(if steps_alone == *list {
        Edit::Steps {
            done: "moves as text",
            steps: moves.steps,
        }
    } else {
        Edit::Moves {
            structure: changed_name(structure),
            moves,
        }
    }));
}

/// Why a text cannot be laid on.
fn fault(text: &str) -> Option<String> {
    match text.parse::<MoveList>() {
        Ok(list) if list.start.is_empty() => Some("no strand yet".to_owned()),
        Ok(_) => None,
        Err(error) => Some(error.to_string()),
    }
}

/// The sheet with the numbers of its lines; whether Ctrl Enter was pressed.
fn sheet_ui(ui: &mut Ui, text: &mut String, error: Option<&TextError>) -> bool {
    let theme = Theme::of(ui);
    let is_asked = ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
    let frame = Frame::NONE
        .fill(theme.well)
        .inner_margin(Margin::symmetric(6, 6));
    let rows = text.lines().count().clamp(6, 40);
    let output = frame.show(ui, |ui| {
        let width = ui.available_width();
        ui.horizontal_top(|ui| {
            ui.add_space(MARGIN - 8.0);
            TextEdit::multiline(text)
                .font(Face::Regular.at(14.0))
                .frame(Frame::NONE)
                .char_limit(LONGEST)
                .desired_rows(rows)
                .desired_width(width - MARGIN)
                .show(ui)
        })
        .inner
    });
    let edge = Stroke::new(1.0, theme.line2);
    let rect = output.response.rect;
    ui.painter()
        .rect_stroke(rect, 5.0, edge, StrokeKind::Inside);
    let edit = output.inner;
    let role = eframe::egui::Role::TextInput;
    edit.response
        .response
        .widget_info(|| WidgetInfo::labeled(role, true, "moves as text"));
    // A long line is broken: its number stands at its first row.
    let mut line = 1;
    let mut is_first = true;
    for row in &edit.galley.rows {
        if is_first {
            let y = edit.galley_pos.y + row.rect().center().y;
            number_ui(ui, rect, y, line, error);
        }
        is_first = row.ends_with_newline;
        line += usize::from(row.ends_with_newline);
    }
    is_asked && edit.response.response.has_focus()
}

fn number_ui(ui: &Ui, rect: Rect, y: f32, line: usize, error: Option<&TextError>) {
    let theme = Theme::of(ui);
    let is_wrong = error.is_some_and(|error| error.line == line);
    let at = pos2(rect.left() + MARGIN - 8.0, y);
    if is_wrong {
        let spot = rect
            .with_min_y(y - 9.0)
            .with_max_y(y + 9.0)
            .shrink2(vec2(2.0, 0.0));
        let fill = theme.stop.gamma_multiply(0.16);
        ui.painter().rect_filled(spot, 3.0, fill);
        Icon::Broken.paint(ui.painter(), at - vec2(8.0, 0.0), 14.0, theme.stop);
        return;
    }
    let (font, ink) = (Face::Figures.at(15.0), theme.ink2);
    ui.painter()
        .text(at, Align2::RIGHT_CENTER, line.to_string(), font, ink);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_steps_alone_do_not_make_another_structure() {
        let list: MoveList = "slots 8\nstart 1 3 5\n1 > 2\n2 > 1"
            .parse()
            .expect("a list");
        let longer: MoveList = "slots 8\nstart 1 3 5\n1 > 2\n2 > 1\nrest"
            .parse()
            .expect("a list");
        let wider: MoveList = "slots 10\nstart 1 3 5\n1 > 2\n2 > 1"
            .parse()
            .expect("a list");
        let mut wants = Vec::new();
        lay_on("spiral", longer, &list, &mut wants);
        lay_on("spiral", wider, &list, &mut wants);
        assert!(matches!(wants[0], Command::Edit(Edit::Steps { .. })));
        assert!(matches!(wants[1], Command::Edit(Edit::Moves { .. })));
    }

    #[test]
    fn a_text_that_is_no_list_names_line_and_column() {
        let said = fault("slots 32\nstart 1 9 17\n1 > ninety").expect("no list");
        assert!(said.starts_with("line 3, column 5"), "{said}");
        assert!(fault("").is_some(), "nothing is no list");
    }
}
