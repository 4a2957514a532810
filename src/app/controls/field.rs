//! A field that keeps what was typed until it can be read.
//!
//! While the keyboard is in it the field shows the draft, letter for letter; on
//! Enter or on leaving the draft is read. What can be read is handed back and
//! the field shows the value as the program writes it. What cannot stays as it
//! was typed, with a sentence under it, and the old value stays in use.

use eframe::egui::{
    self, Align2, Frame, Id, Key, Modifiers, Rect, Response, Sense, Stroke, StrokeKind, TextEdit,
    Ui, pos2, vec2,
};

use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;

const HEIGHT: f32 = 34.0;

/// What came out of a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Entered<T> {
    /// A value was typed and read.
    Value(T),
    /// So many steps up (or down) from what it is; ten with Shift.
    Step(i32),
}

/// A field of one line.
#[derive(Debug, Clone)]
#[must_use = "a field has to be shown"]
pub struct Field<'a> {
    name: &'a str,
    unit: &'a str,
    hint: &'a str,
    width: f32,
    steps: bool,
}

/// The draft of a field between frames.
#[derive(Debug, Clone, Default)]
struct Draft {
    text: String,
    fault: Option<String>,
}

impl<'a> Field<'a> {
    /// A field called `name`.
    pub fn new(name: &'a str) -> Self {
        Self {
            name,
            unit: "",
            hint: "",
            width: 112.0,
            steps: false,
        }
    }

    /// The unit at its right end.
    pub fn unit(mut self, unit: &'a str) -> Self {
        self.unit = unit;
        self
    }

    /// What stands in it while it is empty.
    pub fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    /// Its width, points; 112 if not said.
    pub fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }

    /// The arrow keys ask for steps.
    pub fn steps(mut self) -> Self {
        self.steps = true;
        self
    }

    /// Shows the field holding `shown`; hands back what was entered this frame.
    ///
    /// `read` turns a draft into a value or says in one short sentence why it
    /// is none.
    pub fn show<T>(
        self,
        ui: &mut Ui,
        shown: &str,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<Entered<T>> {
        let id = ui.make_persistent_id(("field", self.name));
        let draft = ui.data(|data| data.get_temp::<Draft>(id));
        let steps = self.steps_asked(ui, id);
        let mut text = draft
            .as_ref()
            .map_or_else(|| shown.to_owned(), |draft| draft.text.clone());
        let fault = draft.as_ref().and_then(|draft| draft.fault.clone());
        let response = self.edit(ui, id, &mut text, fault.as_deref());
        if steps != 0 {
            forget(ui, id);
            return Some(Entered::Step(steps));
        }
        if response.has_focus() && ui.input(|i| i.key_pressed(Key::Escape)) {
            forget(ui, id);
            return None;
        }
        if response.changed() {
            let draft = Draft {
                text: text.clone(),
                fault: None,
            };
            ui.data_mut(|data| data.insert_temp(id, draft));
        }
        let left = response.lost_focus() && (draft.is_some() || response.changed());
        if !left {
            return None;
        }
        keep_or_fault(ui, id, text, read)
    }

    /// The frame, the text in it and the fault under it.
    fn edit(&self, ui: &mut Ui, id: Id, text: &mut String, fault: Option<&str>) -> Response {
        let theme = Theme::of(ui);
        let fault_lines = fault.map(|fault| {
            let font = Role::Note.font();
            ui.painter()
                .layout(fault.to_owned(), font, theme.stop, self.width)
        });
        let below = fault_lines.as_ref().map_or(0.0, |it| it.size().y + 4.0);
        let (whole, _) = ui.allocate_exact_size(vec2(self.width, HEIGHT + below), Sense::hover());
        let rect = Rect::from_min_size(whole.min, vec2(self.width, HEIGHT));
        let typing = ui.memory(|memory| memory.has_focus(id));
        self.ground(ui, rect, typing, fault);
        let room = match fault {
            Some(_) => 26.0,
            None if self.unit.is_empty() => 0.0,
            None => 6.0 + super::button::words_width(ui, self.unit, &Role::Note.font()),
        };
        let inner = rect
            .shrink2(vec2(11.0, 5.0))
            .with_max_x(rect.right() - 11.0 - room);
        let edit = TextEdit::singleline(text)
            .id(id)
            .font(Face::Medium.at(if self.width < 100.0 { 15.0 } else { 16.0 }))
            .text_color(theme.ink)
            .hint_text(egui::RichText::new(self.hint).color(theme.ink3))
            .frame(Frame::NONE)
            .align(Align2::LEFT_CENTER)
            .desired_width(inner.width());
        // Not `Ui::put`: that would move the cursor of a row to the text's end.
        let response = ui
            .new_child(egui::UiBuilder::new().max_rect(inner))
            .add(edit);
        ui.ctx().accesskit_node_builder(id, |node| {
            let unit = if self.unit.is_empty() { "" } else { ", " };
            node.set_label(format!("{}{unit}{}", self.name, self.unit));
            if let Some(fault) = fault {
                node.set_description(fault.to_owned());
                node.set_invalid(egui::accesskit::Invalid::True);
            }
        });
        if let Some(lines) = fault_lines {
            let at = rect.left_bottom() + vec2(0.0, 3.0);
            ui.painter().galley(at, lines, theme.stop);
        }
        response
    }

    fn ground(&self, ui: &Ui, rect: Rect, typing: bool, fault: Option<&str>) {
        let theme = Theme::of(ui);
        let painter = ui.painter();
        let hovered = ui.rect_contains_pointer(rect);
        let (fill, edge) = match (fault, typing, hovered) {
            (Some(_), ..) => (theme.paper, Stroke::new(2.0, theme.stop)),
            (None, true, _) => (theme.paper, Stroke::new(2.0, theme.thread)),
            (None, false, true) => (theme.well, Stroke::new(1.0, theme.ink)),
            (None, false, false) => (theme.well, Stroke::new(1.0, theme.line2)),
        };
        painter.rect(rect, 5.0, fill, edge, StrokeKind::Inside);
        let end = pos2(rect.right() - 11.0, rect.center().y);
        if fault.is_some() {
            Icon::Broken.paint(painter, end - vec2(8.0, 0.0), 20.0, theme.stop);
            return;
        }
        painter.text(
            end,
            Align2::RIGHT_CENTER,
            self.unit,
            Role::Note.font(),
            theme.ink2,
        );
    }

    fn steps_asked(&self, ui: &Ui, id: Id) -> i32 {
        if !self.steps || !ui.memory(|memory| memory.has_focus(id)) {
            return 0;
        }
        let pressed = |modifiers, key| {
            ui.input_mut(|input| input.count_and_consume_key(modifiers, key) as i32)
        };
        let ten =
            pressed(Modifiers::SHIFT, Key::ArrowUp) - pressed(Modifiers::SHIFT, Key::ArrowDown);
        let one = pressed(Modifiers::NONE, Key::ArrowUp) - pressed(Modifiers::NONE, Key::ArrowDown);
        10 * ten + one
    }
}

fn forget(ui: &Ui, id: Id) {
    ui.data_mut(|data| data.remove::<Draft>(id));
}

fn keep_or_fault<T>(
    ui: &Ui,
    id: Id,
    text: String,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Option<Entered<T>> {
    match read(text.trim()) {
        Ok(value) => {
            forget(ui, id);
            Some(Entered::Value(value))
        }
        Err(fault) => {
            let draft = Draft {
                text,
                fault: Some(fault),
            };
            ui.data_mut(|data| data.insert_temp(id, draft));
            ui.ctx().request_repaint();
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use std::cell::{Cell, RefCell};

    use egui_kittest::kittest::{NodeT, Queryable};

    use super::*;
    use crate::app::controls::bench::window;

    fn whole(text: &str) -> Result<u32, String> {
        text.parse()
            .map_err(|_no_number| format!("{text} is not a number"))
    }

    fn type_into(harness: &mut egui_kittest::Harness<'_>, text: &str) {
        harness.get_by_label("worn length, cm").focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_by_label("worn length, cm").type_text(text);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
    }

    #[test]
    fn a_field_hands_back_what_was_typed_once_it_is_left() {
        let value = Cell::new(45);
        let mut harness = window([300.0, 200.0], |ui| {
            let shown = value.get().to_string();
            let field = Field::new("worn length").unit("cm");
            if let Some(Entered::Value(typed)) = field.show(ui, &shown, whole) {
                value.set(typed);
            }
        });
        type_into(&mut harness, "52");
        assert_eq!(value.get(), 52);
    }

    #[test]
    fn what_cannot_be_read_stays_and_the_old_value_is_kept() {
        let got = RefCell::new(Vec::new());
        let mut harness = window([300.0, 200.0], |ui| {
            let field = Field::new("worn length").unit("cm");
            got.borrow_mut().extend(field.show(ui, "45", whole));
        });
        type_into(&mut harness, "4o");
        assert!(got.borrow().is_empty());
        let node = harness.get_by_label("worn length, cm");
        assert_eq!(node.value().as_deref(), Some("4o"));
        let fault = node.accesskit_node().description();
        assert_eq!(fault.as_deref(), Some("4o is not a number"));
    }

    #[test]
    fn arrows_ask_for_steps_and_shift_for_ten() {
        let steps = Cell::new(0);
        let mut harness = window([300.0, 200.0], |ui| {
            let field = Field::new("worn length").unit("cm").steps();
            if let Some(Entered::Step(n)) = field.show(ui, "45", whole) {
                steps.set(steps.get() + n);
            }
        });
        harness.get_by_label("worn length, cm").focus();
        harness.run();
        harness.key_press(Key::ArrowUp);
        harness.run();
        harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
        harness.run();
        assert_eq!(steps.get(), -9);
    }
}
