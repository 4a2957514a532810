//! One of a few: chips, segments, switches, steppers, colours.

use eframe::egui::{
    self, Align2, Color32, Key, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
    pos2, vec2,
};

use super::button::words_width;
use super::touch;
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::theme::Theme;

const CHIP: f32 = 26.0;
const SEGMENT: f32 = 30.0;

/// A word that is on or off.
pub fn chip(ui: &mut Ui, words: &str, on: bool) -> Response {
    // Measured bold, so that it does not grow when switched on.
    let width = words_width(ui, words, &Face::Bold.at(13.0)) + 22.0;
    let (rect, response) = ui.allocate_exact_size(vec2(width.max(CHIP), CHIP), Sense::click());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, enabled, on, words));
    if ui.is_rect_visible(rect) {
        let theme = Theme::of(ui);
        let (fill, edge) = match (on, response.hovered()) {
            (true, _) => (theme.soft, Stroke::new(1.4, theme.thread)),
            (false, true) => (theme.well, Stroke::new(1.0, theme.ink)),
            (false, false) => (Color32::TRANSPARENT, Stroke::new(1.0, theme.line2)),
        };
        let painter = ui.painter();
        painter.rect(rect, CHIP / 2.0, fill, edge, StrokeKind::Inside);
        let (face, colour) = if on {
            (Face::Bold, theme.ink)
        } else {
            (Face::Medium, theme.ink2)
        };
        painter.text(
            rect.center(),
            Align2::CENTER_CENTER,
            words,
            face.at(13.0),
            colour,
        );
        touch::ring(ui, &response, rect, CHIP / 2.0);
    }
    response
}

/// Two to four words in a trough, one of them chosen; whether that changed.
///
/// `name` is what the choice is about, for the screen reader.
pub fn segments<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    chosen: &mut T,
    words: &[(T, &str)],
) -> bool {
    let theme = Theme::of(ui);
    let before = *chosen;
    let widths: Vec<f32> = words
        .iter()
        .map(|(_, word)| words_width(ui, word, &Face::Bold.at(13.5)) + 28.0)
        .collect();
    let size = vec2(widths.iter().sum(), SEGMENT);
    let (trough, _) = ui.allocate_exact_size(size, Sense::hover());
    let edge = Stroke::new(1.0, theme.line2);
    ui.painter()
        .rect(trough, SEGMENT / 2.0, theme.well, edge, StrokeKind::Inside);
    let id = ui.scope_id().with(("segments", name));
    let mut left = trough.left();
    for (k, ((value, word), width)) in words.iter().zip(widths).enumerate() {
        let rect = Rect::from_min_size(pos2(left, trough.top()), vec2(width, SEGMENT));
        left += width;
        let response = ui.interact(rect, id.with(k), Sense::click());
        let on = *value == before;
        let enabled = ui.is_enabled();
        response.widget_info(|| {
            WidgetInfo::selected(
                egui::Role::RadioButton,
                enabled,
                on,
                format!("{name}: {word}"),
            )
        });
        if response.clicked() {
            *chosen = *value;
        }
        segment(ui, rect, word, on, &response);
    }
    *chosen != before
}

fn segment(ui: &Ui, rect: Rect, word: &str, on: bool, response: &Response) {
    let theme = Theme::of(ui);
    let painter = ui.painter();
    if on {
        let ring = Stroke::new(1.6, theme.ink2);
        let inner = rect.shrink(1.0);
        painter.rect(inner, SEGMENT / 2.0, theme.paper, ring, StrokeKind::Inside);
    }
    let (face, colour) = match (on, response.hovered()) {
        (true, _) => (Face::Bold, theme.ink),
        (false, true) => (Face::Semibold, theme.ink),
        (false, false) => (Face::Semibold, theme.ink2),
    };
    painter.text(
        rect.center(),
        Align2::CENTER_CENTER,
        word,
        face.at(13.5),
        colour,
    );
    touch::ring(ui, response, rect, SEGMENT / 2.0);
}

/// On or off; whether that changed.
pub fn switch(ui: &mut Ui, name: &str, on: &mut bool) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(36.0, CHIP), Sense::click());
    if response.clicked() {
        *on = !*on;
    }
    let (enabled, is_on) = (ui.is_enabled(), *on);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Switch, enabled, is_on, name));
    let theme = Theme::of(ui);
    let way = ui.ctx().animate_bool_with_time(response.id, is_on, 0.1);
    let body = Rect::from_center_size(rect.center(), vec2(36.0, 20.0));
    let fill = if is_on { theme.ink } else { theme.well };
    let edge = if is_on { theme.ink } else { theme.line2 };
    let painter = ui.painter();
    painter.rect(body, 10.0, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
    let knob = pos2(body.left() + 10.0 + 16.0 * way, body.center().y);
    let colour = if is_on { theme.paper } else { theme.ink2 };
    painter.circle_filled(knob, 7.0, colour);
    touch::ring(ui, &response, body, 10.0);
    response.clicked()
}

/// A whole number in a trough between minus and plus; whether it changed.
///
/// The arrow keys on it work as well; the wheel does not, for it rolls the panel, and a
/// number under the pointer must not change by that.
pub fn stepper(
    ui: &mut Ui,
    name: &str,
    value: &mut u16,
    range: std::ops::RangeInclusive<u16>,
) -> bool {
    let before = *value;
    let (trough, response) = ui.allocate_exact_size(vec2(86.0, SEGMENT), Sense::click());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo {
        label: Some(name.to_owned()),
        enabled,
        value: Some(f64::from(before)),
        ..WidgetInfo::new(egui::Role::SpinButton)
    });
    let theme = Theme::of(ui);
    let edge = Stroke::new(1.0, theme.line2);
    let painter = ui.painter();
    painter.rect(trough, SEGMENT / 2.0, theme.well, edge, StrokeKind::Inside);
    painter.text(
        trough.center(),
        Align2::CENTER_CENTER,
        before,
        Face::Semibold.at(16.0),
        theme.ink,
    );
    let third = vec2(28.0, SEGMENT);
    let less = Rect::from_min_size(trough.min, third);
    let more = Rect::from_min_size(trough.right_top() - vec2(28.0, 0.0), third);
    let mut steps = steps_asked(ui, &response);
    steps -= i32::from(step_end(
        ui,
        less,
        Icon::Minus,
        &format!("{name}: one less"),
    ));
    steps += i32::from(step_end(ui, more, Icon::Plus, &format!("{name}: one more")));
    touch::ring(ui, &response, trough, SEGMENT / 2.0);
    let asked = i32::from(before) + steps;
    let (low, high) = (i32::from(*range.start()), i32::from(*range.end()));
    *value = asked.clamp(low, high).try_into().unwrap_or(before);
    *value != before
}

/// Steps asked for by arrow keys.
fn steps_asked(ui: &Ui, response: &Response) -> i32 {
    let mut steps = 0;
    if response.has_focus() {
        ui.memory_mut(|memory| {
            let filter = egui::EventFilter {
                vertical_arrows: true,
                ..Default::default()
            };
            memory.set_focus_lock_filter(response.id, filter);
        });
        let pressed = |key| ui.input(|input| i32::from(input.key_pressed(key)));
        steps += pressed(Key::ArrowUp) - pressed(Key::ArrowDown);
    }
    steps
}

fn step_end(ui: &Ui, rect: Rect, icon: Icon, name: &str) -> bool {
    let response = ui.interact(rect, ui.scope_id().with(("step", name)), Sense::click());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, enabled, name));
    let theme = Theme::of(ui);
    if response.hovered() {
        ui.painter().circle_filled(rect.center(), 12.0, theme.deep);
    }
    icon.paint(ui.painter(), rect.center(), 15.0, theme.ink);
    touch::ring(ui, &response, rect.shrink(3.0), 10.0);
    response.clicked()
}

/// A colour to pick; framed in ink while chosen, so that nothing tints it.
pub fn colour_square(ui: &mut Ui, colour: Color32, name: &str, chosen: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::new(36.0, 32.0), Sense::click());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, enabled, chosen, name));
    if ui.is_rect_visible(rect) {
        let theme = Theme::of(ui);
        let square = Rect::from_center_size(rect.center(), vec2(28.0, 24.0));
        let rim = colour.lerp_to_gamma(Color32::BLACK, 0.4);
        let painter = ui.painter();
        let edge = Stroke::new(1.0, rim);
        painter.rect(square, 5.0, colour, edge, StrokeKind::Inside);
        if chosen || response.hovered() {
            let width = if chosen { 1.6 } else { 1.0 };
            let colour = if chosen { theme.ink } else { theme.line2 };
            let frame = Stroke::new(width, colour);
            painter.rect_stroke(square.expand(4.0), 8.0, frame, StrokeKind::Inside);
        }
        touch::ring(ui, &response, square.expand(3.0), 8.0);
    }
    touch::tip(response, name)
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use egui_kittest::kittest::Queryable;

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn a_segment_is_chosen_by_its_word() {
        let inch = Cell::new(false);
        let mut harness = window([300.0, 100.0], |ui| {
            let mut chosen = inch.get();
            segments(ui, "unit", &mut chosen, &[(false, "mm"), (true, "inch")]);
            inch.set(chosen);
        });
        harness.get_by_label("unit: inch").click();
        harness.run();
        assert!(inch.get());
    }

    #[test]
    fn a_stepper_goes_by_buttons_and_keys_and_stops_at_its_ends() {
        let ends = Cell::new(1);
        let mut harness = window([300.0, 100.0], |ui| {
            let mut value = ends.get();
            stepper(ui, "ends", &mut value, 1..=3);
            ends.set(value);
        });
        harness.get_by_label("ends: one less").click();
        harness.run();
        assert_eq!(ends.get(), 1);
        harness.get_by_label("ends: one more").click();
        harness.run();
        assert_eq!(ends.get(), 2);
        let over = harness.get_by_label("ends").rect().center();
        harness.hover_at(over);
        harness.event(egui::Event::MouseWheel {
            unit: egui::MouseWheelUnit::Line,
            delta: vec2(0.0, -1.0),
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Wheel,
            modifiers: egui::Modifiers::NONE,
        });
        harness.run();
        assert_eq!(ends.get(), 2, "the wheel rolls the panel");
        harness.get_by_label("ends").focus();
        harness.run();
        for _ in 0..3 {
            harness.key_press(Key::ArrowUp);
            harness.run();
        }
        assert_eq!(ends.get(), 3);
    }

    #[test]
    fn a_switch_turns_and_a_chip_is_pressed() {
        let state = Cell::new((false, false));
        let mut harness = window([300.0, 100.0], |ui| {
            let (mut on, chipped) = state.get();
            switch(ui, "life size", &mut on);
            let pressed = chip(ui, "round", chipped).clicked();
            state.set((on, chipped ^ pressed));
        });
        harness.get_by_label("life size").click();
        harness.run();
        harness.get_by_label("round").click();
        harness.run();
        assert_eq!(state.get(), (true, true));
    }

    #[test]
    fn a_colour_is_picked_by_its_name() {
        let picked = Cell::new(false);
        let mut harness = window([300.0, 100.0], |ui| {
            let square = colour_square(ui, Color32::from_rgb(90, 160, 150), "sea glass", false);
            picked.set(picked.get() | square.clicked());
        });
        harness.get_by_label("sea glass").click();
        harness.run();
        assert!(picked.get());
    }
}
