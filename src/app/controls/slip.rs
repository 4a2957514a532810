//! The undo slip: what was done, and the way back while its stitches last.

use eframe::egui::{
    self, Align2, Area, Id, Key, Order, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui,
    Vec2, WidgetInfo, pos2, vec2,
};

use super::button::words_width;
use super::touch;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::{Theme, slip_shadow};

/// How long a slip stays, seconds.
const LASTS: f32 = 8.0;
const SIZE: Vec2 = vec2(462.0, 52.0);

/// A slip that says what was done and offers the way back.
#[derive(Debug, Clone, PartialEq)]
pub struct UndoSlip {
    words: String,
    keys: String,
    left: f32,
}

/// How a slip fared this frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlipEnd {
    /// It still lies there.
    Stays,
    /// Undo was asked for.
    Undo,
    /// Its time is over, or it was shut.
    Gone,
}

impl UndoSlip {
    /// A fresh slip; `keys` are those that undo.
    pub fn new(words: impl Into<String>, keys: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            keys: keys.into(),
            left: LASTS,
        }
    }

    /// Lays it down with its lower left corner at `corner`; time passes while
    /// the pointer is elsewhere.
    pub fn show(&mut self, ui: &Ui, corner: Pos2) -> SlipEnd {
        let theme = Theme::of(ui);
        let area = Area::new(Id::unique("undo slip"))
            .order(Order::Foreground)
            .fixed_pos(corner - vec2(0.0, SIZE.y));
        let undo = area.show(ui.ctx(), |ui| self.draw(ui, &theme)).inner;
        let held = ui.rect_contains_pointer(Rect::from_min_size(corner - vec2(0.0, SIZE.y), SIZE));
        if undo.clicked() {
            return SlipEnd::Undo;
        }
        if ui.input(|input| input.key_pressed(Key::Escape)) || self.left <= 0.0 {
            return SlipEnd::Gone;
        }
        if !held {
            self.left -= ui.input(|input| input.stable_dt.min(0.5));
            ui.ctx().request_repaint_after_secs(0.1);
        }
        SlipEnd::Stays
    }

    fn draw(&self, ui: &mut Ui, theme: &Theme) -> Response {
        let width = words_width(ui, &self.words, &Role::Text.font()) + 200.0;
        let size = vec2(SIZE.x.max(width), SIZE.y);
        let (rect, card) = ui.allocate_exact_size(size, Sense::hover());
        card.widget_info(|| WidgetInfo::labeled(egui::Role::Status, true, &self.words));
        let painter = ui.painter();
        painter.add(slip_shadow(theme).as_shape(rect, 10));
        painter.rect_filled(rect, 10.0, theme.ink);
        let middle = rect.center().y - 3.0;
        painter.text(
            pos2(rect.left() + 20.0, middle),
            Align2::LEFT_CENTER,
            &self.words,
            Role::Text.font(),
            theme.paper,
        );
        let line = [rect.left_bottom(), rect.right_bottom()];
        let line = [line[0] + vec2(20.0, -7.0), line[1] + vec2(-20.0, -7.0)];
        self.seam(ui, line, theme);
        self.undo(ui, rect, middle, theme)
    }

    /// Stitches for the time left, needle holes for what is over.
    fn seam(&self, ui: &Ui, line: [Pos2; 2], theme: &Theme) {
        let way = line[0].lerp(line[1], (self.left / LASTS).clamp(0.0, 1.0));
        let thread = if theme.is_night() {
            theme.paper
        } else {
            theme.soft
        };
        let dashes = stitch::Dashes {
            width: 1.6,
            dash: 7.0,
            gap: 5.0,
        };
        ui.painter()
            .extend(stitch::dashed(&[line[0], way], dashes, thread));
        let holes = theme.paper.gamma_multiply(0.6);
        ui.painter()
            .extend(stitch::dotted(&[way, line[1]], 1.4, 5.0, holes));
    }

    fn undo(&self, ui: &Ui, card: Rect, middle: f32, theme: &Theme) -> Response {
        let font = Face::Bold.at(14.0);
        let keys = words_width(ui, &self.keys, &Face::Semibold.at(12.5)) + 20.0;
        let word = words_width(ui, "Undo", &font);
        let right = card.right() - 20.0;
        let rect = Rect::from_min_max(
            pos2(right - keys - word - 18.0, middle - 14.0),
            pos2(right + 6.0, middle + 14.0),
        );
        let response = ui.interact(rect, Id::unique("undo slip undo"), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, "Undo"));
        let painter = ui.painter();
        if response.hovered() {
            painter.rect_filled(rect, 14.0, theme.ink2);
        }
        painter.text(
            pos2(rect.left() + 8.0, middle),
            Align2::LEFT_CENTER,
            "Undo",
            font,
            theme.paper,
        );
        let cap = Rect::from_min_max(
            pos2(right - keys, middle - 10.0),
            pos2(right, middle + 10.0),
        );
        let edge = Stroke::new(1.2, theme.paper);
        painter.add(Shape::rect_stroke(cap, 4.0, edge, StrokeKind::Inside));
        painter.text(
            cap.center(),
            Align2::CENTER_CENTER,
            &self.keys,
            Face::Semibold.at(12.5),
            theme.paper,
        );
        touch::ring(ui, &response, rect, 14.0);
        response
    }
}

#[cfg(test)]
mod tests {
    use std::cell::{Cell, RefCell};

    use egui_kittest::kittest::Queryable;

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn the_slip_gives_the_way_back() {
        let slip = RefCell::new(UndoSlip::new("Strand E moved to slot 8.", "Ctrl Z"));
        let undone = Cell::new(false);
        let mut harness = window([600.0, 300.0], |ui| {
            let end = slip.borrow_mut().show(ui, pos2(20.0, 280.0));
            undone.set(undone.get() || end == SlipEnd::Undo);
        });
        harness.get_by_label("Strand E moved to slot 8.");
        harness.get_by_label("Undo").click();
        harness.step();
        harness.step();
        assert!(undone.get());
    }

    #[test]
    fn the_slip_goes_when_its_time_is_over() {
        let slip = RefCell::new(UndoSlip::new("Colour changed.", "Ctrl Z"));
        let gone = Cell::new(false);
        let mut harness = window([600.0, 300.0], |ui| {
            let end = slip.borrow_mut().show(ui, pos2(20.0, 280.0));
            gone.set(gone.get() || end == SlipEnd::Gone);
        });
        // A step of the harness is a quarter of a second.
        harness.run_steps(20);
        assert!(!gone.get());
        harness.run_steps(20);
        assert!(gone.get());
    }
}
