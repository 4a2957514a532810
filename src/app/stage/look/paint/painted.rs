//! What you painted: the surface to paint on, the brush, and patterns to begin with.

use eframe::egui::{Align2, EventFilter, Key, PointerButton, Rect, Response, Ui, WidgetInfo, vec2};

use crate::app::controls::{
    IconButton, chip, colour_square, head, keyboard_leads, link, segments, stepper,
};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::painting::{colour as plain_colour, screen_colour};
use crate::app::theme::Theme;
use crate::app::words;
use crate::document::strand_name;
use crate::drawing::Place;
use crate::material::Colour;
use crate::pattern::Wish;

use super::{PaintView, Reach};

/// Narrower than this the patterns stand in two rows.
const TWO_ROWS: f32 = 560.0;

/// Half the width of the free brush, as a share of the girth.
const DAB: f64 = 0.035;

/// The left sheet; `height` is the room for all of it.
pub(super) fn painted_ui(ui: &mut Ui, height: f32, desk: &Desk<'_>, view: &mut PaintView) {
    if head(ui, "What you painted", |ui| {
        link(ui, "photograph").clicked()
    }) {
        view.wants_photograph = true;
    }
    let rect = view.place(ui, height - foot(ui.available_width()));
    canvas_ui(ui, rect, desk, view);
    ui.add_space(10.0);
    brush_ui(ui, view);
    wishes_ui(ui, view);
}

/// Height of what stands under the surface.
pub(super) fn foot(width: f32) -> f32 {
    if width < TWO_ROWS { 172.0 } else { 138.0 }
}

fn canvas_ui(ui: &mut Ui, rect: Rect, desk: &Desk<'_>, view: &mut PaintView) {
    let theme = Theme::of(ui);
    ui.painter().rect_filled(rect, 6.0, theme.well);
    let Some(response) = view.show_painted(ui, rect) else {
        waiting_ui(ui, rect, desk, &theme);
        return;
    };
    pointer_ui(ui, rect, &response, view, &theme);
    if !response.dragged() {
        view.lift();
    }
    keys_ui(ui, rect, &response, desk, view, &theme);
    if view.is_unpainted() {
        let words = "Click or drag to paint what you want to see.\nThe rest stays open: any colour may come there.";
        let galley = ui.painter().layout(
            words.to_owned(),
            Role::Note.font(),
            theme.ink,
            rect.width() - 40.0,
        );
        let slip = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
        ui.painter()
            .rect_filled(slip.expand2(vec2(12.0, 8.0)), 6.0, theme.paper);
        ui.painter().galley(slip.min, galley, theme.ink);
    }
}

fn waiting_ui(ui: &Ui, rect: Rect, desk: &Desk<'_>, theme: &Theme) {
    let words = match desk.solver.solved().error() {
        Some(_) => "no cord to paint on",
        None => "the surface is being worked out",
    };
    let (at, font) = (rect.center(), Role::Note.font());
    ui.painter()
        .text(at, Align2::CENTER_CENTER, words, font, theme.ink2);
}

/// Paints under the pointer; with the hand its strand is chosen.
fn pointer_ui(ui: &Ui, rect: Rect, response: &Response, view: &mut PaintView, theme: &Theme) {
    let Some(at) = response.hover_pos().and_then(|at| view.under(rect, at)) else {
        return;
    };
    if let Some(float) = at.float.filter(|_| view.reach != Reach::Free) {
        view.outline(ui, rect, float, theme.ink);
    }
    if view.has_photograph() && view.reach == Reach::Hand {
        let wheel = ui.input(|input| input.smooth_scroll_delta.y);
        view.move_photograph(response.drag_delta() / rect.size(), wheel);
    }
    if response.clicked_by(PointerButton::Primary) || response.dragged_by(PointerButton::Primary) {
        let begins = response.drag_started() || response.clicked();
        view.stroke(at, begins);
    }
}

/// Arrows walk the floats, Space paints, digits pick a colour.
fn keys_ui(
    ui: &Ui,
    rect: Rect,
    response: &Response,
    desk: &Desk<'_>,
    view: &mut PaintView,
    theme: &Theme,
) {
    let spoken = spoken(desk, view);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Image, true, &spoken));
    if !response.has_focus() {
        return;
    }
    ui.memory_mut(|memory| {
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        memory.set_focus_lock_filter(response.id, filter);
    });
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    for (key, way) in [
        (Key::ArrowLeft, vec2(-1.0, 0.0)),
        (Key::ArrowRight, vec2(1.0, 0.0)),
        (Key::ArrowUp, vec2(0.0, 1.0)),
        (Key::ArrowDown, vec2(0.0, -1.0)),
    ] {
        if pressed(key) {
            view.walk(way);
        }
    }
    if pressed(Key::Space) || pressed(Key::Enter) {
        view.paint_walked();
    }
    let digits = [
        Key::Num1,
        Key::Num2,
        Key::Num3,
        Key::Num4,
        Key::Num5,
        Key::Num6,
        Key::Num7,
        Key::Num8,
        Key::Num9,
    ];
    if let Some(at) = digits.into_iter().position(pressed) {
        view.take_colour(at);
    }
    if keyboard_leads(ui.ctx()) {
        view.outline(ui, rect, view.walked, theme.thread);
    }
}

fn spoken(desk: &Desk<'_>, view: &PaintView) -> String {
    let Some(float) = view.walked_float() else {
        return "the unrolled surface".to_owned();
    };
    let colour = view
        .painted_at(float.middle)
        .map_or("open", |colour| colour.name());
    let strand = strand_name(float.strand);
    let height = words::length(float.middle[1], desk.units());
    format!(
        "the unrolled surface, stitch of strand {strand}, {:.0} per cent round, {height} up, {colour}",
        100.0 * float.middle[0].rem_euclid(1.0)
    )
}

/// Colours, what is open, and how far a stroke reaches.
fn brush_ui(ui: &mut Ui, view: &mut PaintView) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(10.0, 6.0);
        for (at, colour) in view.colours.clone().into_iter().enumerate() {
            let name = format!("paint {}", colour.name());
            let is_on = view.brush.map(usize::from) == Some(at);
            if colour_square(ui, screen_colour(colour), &name, is_on).clicked() {
                view.take_colour(at);
            }
        }
        if chip(ui, "leave open", view.brush.is_none()).clicked() {
            view.brush = None;
        }
    });
    ui.horizontal_wrapped(|ui| {
        let words = [
            (Reach::Stitch, "one stitch"),
            (Reach::Free, "freely"),
            (Reach::Hand, "point"),
        ];
        segments(ui, "how the brush paints", &mut view.reach, &words);
        ui.add_space(6.0);
        let reason = (!view.can_go_back()).then_some("nothing was painted yet");
        let back = IconButton::new(Icon::Undo, "take the last stroke back").off_because(reason);
        if ui.add(back).clicked() {
            view.go_back();
        }
        if !view.is_unpainted() && link(ui, "wipe").clicked() {
            view.wipe();
        }
    });
}

/// Patterns to begin with, and a photograph.
fn wishes_ui(ui: &mut Ui, view: &mut PaintView) {
    let is_narrow = ui.available_width() < TWO_ROWS;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 6.0);
        for wish in Wish::ALL {
            if chip(ui, wish.word(), view.wish == Some(wish)).clicked() {
                view.wish(wish);
            }
        }
        if !is_narrow {
            figures_ui(ui, view);
        }
    });
    if is_narrow {
        ui.horizontal(|ui| figures_ui(ui, view));
    }
}

/// How many colours a pattern has, and how often each comes.
fn figures_ui(ui: &mut Ui, view: &mut PaintView) {
    ui.spacing_mut().item_spacing.x = 6.0;
    let most = view.colours.len().clamp(2, 12) as u16;
    if stepper(ui, "colours of a pattern", &mut view.of_colours, 2..=most) {
        view.again();
    }
    Role::Note.label(ui, "colours, each");
    if stepper(ui, "how often each colour comes", &mut view.times, 1..=12) {
        view.again();
    }
    Role::Note.label(ui, "times");
}

/// The colour of a place on the painted side: paper where it is open.
pub(super) fn tone(place: Place, painted: Option<Colour>, theme: &Theme) -> Option<Colour> {
    place.float?;
    // By night paper is too dark for a relief.
    let open = if theme.is_night() {
        theme.linen
    } else {
        theme.paper
    };
    Some(painted.unwrap_or_else(|| plain_colour(open)))
}

/// Half the width of the free brush on a girth, mm.
pub(super) fn dab_mm(girth_mm: f64) -> f64 {
    DAB * girth_mm
}
