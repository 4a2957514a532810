//! Buttons and links.

use eframe::egui::{
    self, Color32, FontId, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, Vec2, Widget,
    WidgetInfo, pos2, vec2,
};

use super::touch;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;

/// Height of a button.
const HEIGHT: f32 = 34.0;
/// Room left and right of what stands on it.
const PADDING: f32 = 16.0;
/// Icon on a button, and the gap after it.
const ICON: f32 = 18.0;
const ICON_GAP: f32 = 8.0;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Weight {
    Main,
    Plain,
    Bare,
}

/// A button with words on it.
#[derive(Debug, Clone)]
#[must_use = "a button has to be added to a ui"]
pub struct Button<'a> {
    words: &'a str,
    weight: Weight,
    icon: Option<Icon>,
    tip: &'a str,
    off: bool,
    width: f32,
}

impl<'a> Button<'a> {
    fn new(words: &'a str, weight: Weight) -> Self {
        Self {
            words,
            weight,
            icon: None,
            tip: "",
            off: false,
            width: 0.0,
        }
    }

    /// The one button of a sheet that matters.
    pub fn main(words: &'a str) -> Self {
        Self::new(words, Weight::Main)
    }

    /// Any other button.
    pub fn plain(words: &'a str) -> Self {
        Self::new(words, Weight::Plain)
    }

    /// A button without an edge, for tools and lists of commands.
    pub fn bare(words: &'a str) -> Self {
        Self::new(words, Weight::Bare)
    }

    /// An icon before the words.
    pub fn icon(mut self, icon: Icon) -> Self {
        self.icon = Some(icon);
        self
    }

    /// A short explanation.
    pub fn tip(mut self, tip: &'a str) -> Self {
        self.tip = tip;
        self
    }

    /// Switched off while there is a reason, which becomes the tip.
    pub fn off_because(mut self, reason: Option<&'a str>) -> Self {
        if let Some(reason) = reason {
            self.off = true;
            self.tip = reason;
        }
        self
    }

    /// At least this wide, points.
    pub fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }

    fn size(&self, ui: &Ui) -> Vec2 {
        let words = words_width(ui, self.words, &Role::Button.font());
        let icon = self.icon.map_or(0.0, |_| ICON + ICON_GAP);
        vec2((words + icon + 2.0 * PADDING).max(self.width), HEIGHT)
    }

    /// Draws ground and edge, and gives the colour for what stands on them.
    fn ground(&self, ui: &Ui, rect: Rect, response: &Response) -> Color32 {
        let theme = Theme::of(ui);
        let painter = ui.painter();
        let radius = HEIGHT / 2.0;
        if self.off {
            let edge = stitch::rounded_outline(rect.shrink(0.5), radius);
            painter.extend(stitch::dashed(&edge, stitch::OFF, theme.line2));
            return theme.ink3;
        }
        let (hovered, down) = (response.hovered(), response.is_pointer_button_down_on());
        let (fill, edge) = match (self.weight, hovered, down) {
            (Weight::Main, _, true) => (theme.thread_pressed(), None),
            (Weight::Main, true, _) => (theme.thread_hover(), None),
            (Weight::Main, ..) => (theme.thread, None),
            (Weight::Plain, _, true) => (theme.deep, Some(theme.ink)),
            (Weight::Plain, true, _) => (theme.well, Some(theme.ink)),
            (Weight::Plain, ..) => (theme.paper, Some(theme.line2)),
            (Weight::Bare, _, true) => (theme.deep, None),
            (Weight::Bare, true, _) => (theme.well, None),
            (Weight::Bare, ..) => (Color32::TRANSPARENT, None),
        };
        painter.rect_filled(rect, radius, fill);
        if let Some(edge) = edge {
            let stroke = Stroke::new(1.0, edge);
            painter.rect_stroke(rect, radius, stroke, egui::StrokeKind::Inside);
        }
        match self.weight {
            Weight::Main => theme.onthread,
            Weight::Plain | Weight::Bare => theme.ink,
        }
    }

    fn face(&self, ui: &Ui, rect: Rect, colour: Color32) {
        let words = words_width(ui, self.words, &Role::Button.font());
        let icon = self.icon.map_or(0.0, |_| ICON + ICON_GAP);
        let mut x = rect.center().x - (words + icon) / 2.0;
        if let Some(icon) = self.icon {
            icon.paint(
                ui.painter(),
                pos2(x + ICON / 2.0, rect.center().y),
                ICON,
                colour,
            );
            x += ICON + ICON_GAP;
        }
        ui.painter().text(
            pos2(x, rect.center().y),
            egui::Align2::LEFT_CENTER,
            self.words,
            Role::Button.font(),
            colour,
        );
    }
}

impl Widget for Button<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let size = self.size(ui);
        let sense = if self.off {
            Sense::hover()
        } else {
            Sense::click()
        };
        let (rect, response) = ui.allocate_exact_size(size, sense);
        let on = ui.is_enabled() && !self.off;
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, on, self.words));
        if ui.is_rect_visible(rect) {
            let sunk = response.is_pointer_button_down_on() && on;
            let rect = rect.translate(vec2(0.0, f32::from(sunk)));
            let colour = self.ground(ui, rect, &response);
            self.face(ui, rect, colour);
            touch::ring(ui, &response, rect, HEIGHT / 2.0);
        }
        touch::tip(response, self.tip)
    }
}

/// An icon alone; its name is its tip.
#[derive(Debug, Clone)]
#[must_use = "a button has to be added to a ui"]
pub struct IconButton<'a> {
    icon: Icon,
    name: &'a str,
    tip: &'a str,
    off: bool,
    size: f32,
}

impl<'a> IconButton<'a> {
    /// A button showing `icon`, called `name`.
    pub fn new(icon: Icon, name: &'a str) -> Self {
        Self {
            icon,
            name,
            tip: name,
            off: false,
            size: HEIGHT,
        }
    }

    /// More than the name under the pointer, such as its keys.
    pub fn tip(mut self, tip: &'a str) -> Self {
        self.tip = tip;
        self
    }

    /// Switched off while there is a reason, which becomes the tip.
    pub fn off_because(mut self, reason: Option<&'a str>) -> Self {
        if let Some(reason) = reason {
            self.off = true;
            self.tip = reason;
        }
        self
    }

    /// Smaller, in a row or on a card: the smallest target there is.
    pub fn small(mut self) -> Self {
        self.size = 26.0;
        self
    }
}

impl Widget for IconButton<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let sense = if self.off {
            Sense::hover()
        } else {
            Sense::click()
        };
        let (rect, response) = ui.allocate_exact_size(Vec2::splat(self.size), sense);
        let on = ui.is_enabled() && !self.off;
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, on, self.name));
        if ui.is_rect_visible(rect) {
            let theme = Theme::of(ui);
            let down = response.is_pointer_button_down_on() && on;
            if on && (response.hovered() || down) {
                let fill = if down { theme.deep } else { theme.well };
                ui.painter().rect_filled(rect, self.size / 2.0, fill);
            }
            let colour = if on { theme.ink } else { theme.ink3 };
            let centre = rect.center() + vec2(0.0, f32::from(down));
            let icon = if self.size < HEIGHT { 16.0 } else { 20.0 };
            self.icon.paint(ui.painter(), centre, icon, colour);
            touch::ring(ui, &response, rect, self.size / 2.0);
        }
        touch::tip(response, self.tip)
    }
}

/// Words to press in running text, with a stitched line under them.
pub fn link(ui: &mut Ui, words: &str) -> Response {
    let font = Face::Semibold.at(13.5);
    let size = vec2(words_width(ui, words, &font), 26.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let on = ui.is_enabled();
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Link, on, words));
    if ui.is_rect_visible(rect) {
        let theme = Theme::of(ui);
        let colour = if response.hovered() {
            theme.thread_hover()
        } else {
            theme.thread
        };
        let drawn = ui.painter().text(
            rect.left_center(),
            egui::Align2::LEFT_CENTER,
            words,
            font,
            colour,
        );
        let y = drawn.bottom() + 1.0;
        underline(
            ui,
            [pos2(drawn.left(), y), pos2(drawn.right(), y)],
            colour,
            response.hovered(),
        );
        touch::ring(ui, &response, drawn.expand(1.0), 4.0);
    }
    response
}

/// Stitched at rest, drawn through under the pointer.
fn underline(ui: &Ui, ends: [Pos2; 2], colour: Color32, solid: bool) {
    if solid {
        let stroke = Stroke::new(stitch::LINK.width, colour);
        ui.painter().add(Shape::line_segment(ends, stroke));
        return;
    }
    ui.painter()
        .extend(stitch::dashed(&ends, stitch::LINK, colour));
}

/// Width of one line of text.
pub(super) fn words_width(ui: &Ui, words: &str, font: &FontId) -> f32 {
    ui.painter()
        .layout_no_wrap(words.to_owned(), font.clone(), Color32::PLACEHOLDER)
        .size()
        .x
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use egui_kittest::kittest::{NodeT, Queryable};

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn a_button_is_pressed_by_its_words() {
        let pressed = Cell::new(0);
        let mut harness = window([300.0, 200.0], |ui| {
            if ui.add(Button::main("Keep")).clicked() {
                pressed.set(pressed.get() + 1);
            }
        });
        harness.get_by_label("Keep").click();
        harness.run();
        assert_eq!(pressed.get(), 1);
    }

    #[test]
    fn a_button_that_is_off_is_not_pressed_and_says_so() {
        let pressed = Cell::new(false);
        let mut harness = window([300.0, 200.0], |ui| {
            let button = Button::plain("Leave").off_because(Some("nothing to leave"));
            pressed.set(pressed.get() | ui.add(button).clicked());
        });
        harness.get_by_label("Leave").click();
        harness.run();
        assert!(!pressed.get());
        let node = harness.get_by_label("Leave");
        assert!(node.accesskit_node().is_disabled());
    }

    #[test]
    fn enter_presses_the_button_the_keyboard_is_on() {
        let pressed = Cell::new(false);
        let mut harness = window([300.0, 200.0], |ui| {
            ui.add(IconButton::new(Icon::Undo, "Undo"));
            pressed.set(pressed.get() | link(ui, "all 34").clicked());
        });
        harness.key_press(egui::Key::Tab);
        harness.run();
        harness.key_press(egui::Key::Tab);
        harness.run();
        harness.key_press(egui::Key::Enter);
        harness.run();
        assert!(pressed.get());
    }
}
