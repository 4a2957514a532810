//! The tape's end: how the cord is shown, how large, and the ways to change that.

use eframe::egui::{
    Align, Align2, Layout as Rows, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui, UiBuilder,
    WidgetInfo, vec2,
};

use super::measure::{self, Measuring};
use super::row::Row;
use super::scale::{self, Scale};
use super::{Layout, Strip, hand, show};
use crate::app::controls::{self, IconButton};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;

/// Room it takes, points: with the words of the state, and without.
const ROOM: (f32, f32) = (408.0, 312.0);
/// Strips narrower than this do without.
const NARROW: f32 = 880.0;

/// How much of a tape so wide it takes.
pub(super) fn room(tape: Rect) -> f32 {
    if tape.width() < NARROW {
        ROOM.1
    } else {
        ROOM.0
    }
}

/// Draws it, and takes up what is pressed.
pub(super) fn end_ui(
    ui: &mut Ui,
    layout: &Layout,
    rows: &[Row],
    strip: &mut Strip<'_>,
    theme: &Theme,
) {
    let tape = layout.tape;
    let end = tape.with_min_x(tape.right() - room(tape) + 12.0);
    let cut = [end.left_top(), end.left_bottom()];
    let stroke = Stroke::new(1.0, theme.line2);
    ui.painter()
        .extend(Shape::dashed_line(&cut, stroke, 4.0, 4.0));
    let builder = UiBuilder::new()
        .max_rect(end.shrink2(vec2(10.0, 0.0)))
        .id_salt("end")
        .layout(Rows::left_to_right(Align::Center));
    let mut inner = ui.new_child(builder);
    inner.spacing_mut().item_spacing.x = 6.0;
    let response = shown_as(&mut inner, tape.width() >= NARROW, strip, theme);
    show::show_ui(&response, strip);
    inner.add_space(6.0);
    scale_words(&mut inner, layout, theme);
    tools(&mut inner, layout, rows, strip);
}

/// The pill with the ground and the state, which opens what can be shown.
fn shown_as(ui: &mut Ui, with_words: bool, strip: &Strip<'_>, theme: &Theme) -> Response {
    let lying = strip.lying(ui);
    let state = strip.view.state.words();
    let font = Face::Semibold.at(13.5);
    let galley = ui
        .painter()
        .layout_no_wrap(state.to_owned(), font, theme.ink);
    let wide = if with_words {
        44.0 + galley.size().x
    } else {
        34.0
    };
    let (rect, response) = ui.allocate_exact_size(vec2(wide, 26.0), Sense::click());
    let name = format!("how the cord is shown: {state}, on {}", lying.words());
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, &name));
    let edge = if response.hovered() {
        theme.ink
    } else {
        theme.line2
    };
    let painter = ui.painter();
    let stroke = Stroke::new(1.0, edge);
    painter.rect(rect, 13.0, theme.paper, stroke, StrokeKind::Inside);
    let spot = rect.left_center() + vec2(16.0, 0.0);
    painter.circle(spot, 8.0, lying.colour(), Stroke::new(1.0, theme.line2));
    if with_words {
        let at = rect.left_center() + vec2(30.0, -0.5 * galley.size().y);
        painter.galley(at, galley, theme.ink);
    }
    if response.has_focus() && controls::keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect, 13.0, theme);
    }
    controls::tip(
        response,
        "How the cord is shown: on the disc or rested, on what",
    )
}

fn scale_words(ui: &mut Ui, layout: &Layout, theme: &Theme) {
    let words = scale::words(layout.times, layout.is_measured);
    let (rect, _) = ui.allocate_exact_size(vec2(104.0, 26.0), Sense::hover());
    let font = Role::Note.font();
    let at = rect.left_center();
    ui.painter()
        .text(at, Align2::LEFT_CENTER, &words, font, theme.ink2);
}

/// One float, the screen's size, life size.
fn tools(ui: &mut Ui, layout: &Layout, rows: &[Row], strip: &mut Strip<'_>) {
    let name = if strip.view.before.is_some() {
        "Back from close by"
    } else {
        "One float from close by"
    };
    let lens = IconButton::new(Icon::Lens, name).small();
    if ui.add(lens).clicked()
        && let Some(row) = rows.first()
    {
        hand::look_close(ui, layout, rows, row.rect.center(), strip);
    }
    let rule = IconButton::new(Icon::Rule, measure::QUESTION).small();
    let asks = ui.add(rule).clicked();
    let (words, next) = match strip.view.scale {
        Scale::Life => ("best size", Scale::Best),
        Scale::Best | Scale::Times(_) => ("life size", Scale::Life),
    };
    let turns = controls::link(ui, words).clicked();
    if turns {
        strip.view.scale = next;
        strip.view.before = None;
    }
    let first = turns && next == Scale::Life && !layout.is_measured;
    if asks || first {
        let begun = layout.per_mm / layout.times * ui.ctx().pixels_per_point();
        strip.view.measuring = Some(Measuring::from(begun));
    }
}
