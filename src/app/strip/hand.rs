//! What hands do on the strip: slide, turn, scale, choose, look close.

use eframe::egui::{CursorIcon, Event, Id, InputState, Key, Pos2, Response, Sense, Ui, WidgetInfo};

use super::row::Row;
use super::scale::{self, Scale};
use super::{Layout, MARGIN, Strip, StripView};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::cord::{Cord, Hand, strand_name};
use crate::drawing::{View, close_up, strand_seen};

/// Share of the linen that a float fills from close by.
const FILLS: f32 = 0.86;

/// Where the cord lay before it was looked at from close by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Before {
    along: f64,
    turn: f64,
    scale: Scale,
}

/// Drags, wheel, clicks and keys on the linen.
pub(super) fn handle(
    ui: &Ui,
    layout: &Layout,
    cord: &Cord,
    rows: &[Row],
    strip: &mut Strip<'_>,
) -> Response {
    let id = ui.scope_id().with("cord");
    let response = ui.interact(layout.linen, id, Sense::click_and_drag());
    let name = spoken(cord, layout, strip);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Image, true, &name));
    let view = &mut *strip.view;
    if response.dragged() {
        let way = response.drag_delta();
        slide(view, cord, -f64::from(way.x / layout.per_mm));
        // A quarter turn for the height of the linen, so that it rolls
        // under the finger like a cord on a table.
        let thickness = cord.figures.thickness_on_disc.value as f32 * layout.per_mm;
        turn(view, f64::from(way.y / (0.5 * thickness.max(8.0))));
    }
    let steps = notches(ui, &response);
    if steps != 0 {
        view.scale = Scale::stepped(layout.times, steps);
    }
    if response.has_focus() {
        keys(ui, &response, cord, view, layout.times);
        typed(ui, layout, rows, strip);
    }
    if let Some(at) = response.interact_pointer_pos() {
        if response.double_clicked() {
            take_back(ui, id, strip);
            look_close(ui, layout, rows, at, strip);
        } else if response.clicked()
            && let Some(strand) = choose(ui, layout, rows, at, strip)
        {
            let now = ui.input(|input| input.time);
            ui.data_mut(|data| data.insert_temp(id, (strand, now)));
        }
    }
    let cursor = if response.dragged() {
        CursorIcon::Grabbing
    } else {
        CursorIcon::Grab
    };
    response.on_hover_cursor(cursor)
}

/// The first click of a double one was for nothing, if it came in a frame of its own.
fn take_back(ui: &Ui, id: Id, strip: &mut Strip<'_>) {
    let now = ui.input(|input| input.time);
    let delay = ui
        .ctx()
        .options(|options| options.input_options.max_double_click_delay);
    let last = ui.data_mut(|data| data.remove_temp::<(usize, f64)>(id));
    if let Some((strand, _)) = last.filter(|(_, then)| now - then <= delay) {
        strip.toggle(strand);
    }
}

/// Chooses the strand seen there, or lets go of it; which one it is.
fn choose(
    ui: &Ui,
    layout: &Layout,
    rows: &[Row],
    at: Pos2,
    strip: &mut Strip<'_>,
) -> Option<usize> {
    let row = rows.iter().find(|row| row.rect.contains(at))?;
    let seen = row.scene(ui, layout, strip.view, strip.lying(ui)).view;
    choose_in(ui, row, &seen, at, strip)
}

/// The same in a view of a cord.
pub(super) fn choose_in(
    ui: &Ui,
    row: &Row,
    seen: &View,
    at: Pos2,
    strip: &mut Strip<'_>,
) -> Option<usize> {
    let strand = strand_seen(&row.sitter, strip.threads, seen, row.pixel(ui, at))?;
    strip.toggle(strand);
    Some(strand)
}

/// To the float there, as large as the linen lets it be, or back from it.
pub(super) fn look_close(ui: &Ui, layout: &Layout, rows: &[Row], at: Pos2, strip: &mut Strip<'_>) {
    if let Some(before) = strip.view.before.take() {
        strip.view.along = before.along;
        strip.view.turn = before.turn;
        strip.view.scale = before.scale;
        return;
    }
    let Some(row) = rows.iter().find(|row| row.rect.contains(at)) else {
        return;
    };
    let seen = row.scene(ui, layout, strip.view, strip.lying(ui)).view;
    let Some(close) = close_up(&row.sitter, &seen, row.pixel(ui, at)) else {
        return;
    };
    let [along, across] = close.size_mm.map(|mm| mm as f32);
    let room = FILLS * row.rect.size();
    let per_mm = (room.x / along).min(room.y / across);
    let life = layout.per_mm / layout.times;
    let times = scale::whole(per_mm / life);
    let half = 0.5 * row.rect.width() - MARGIN;
    let view = &mut *strip.view;
    view.before = Some(Before {
        along: view.along,
        turn: view.turn,
        scale: view.scale,
    });
    view.scale = Scale::Times(times);
    view.turn = close.roll.rem_euclid(std::f64::consts::TAU);
    view.along = close.along_mm - f64::from(half / (times * life));
}

/// Enter looks close at the middle, Space chooses the strand there, a letter its strand.
fn typed(ui: &Ui, layout: &Layout, rows: &[Row], strip: &mut Strip<'_>) {
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    let Some(middle) = rows.first().map(|row| row.rect.center()) else {
        return;
    };
    if pressed(Key::Enter) {
        look_close(ui, layout, rows, middle, strip);
    }
    if pressed(Key::Space) {
        choose(ui, layout, rows, middle, strip);
    }
    let strands = strip.desk.design.strands.len();
    let letters: Vec<String> = ui.input(|input| input.events.iter().filter_map(letter).collect());
    for strand in 0..strands {
        if letters.contains(&strand_name(strand)) {
            strip.toggle(strand);
        }
    }
}

/// A letter that was typed, as strands are named.
fn letter(event: &Event) -> Option<String> {
    match event {
        Event::Text(text) if text.chars().all(char::is_alphabetic) => Some(text.to_uppercase()),
        _ => None,
    }
}

fn slide(view: &mut StripView, cord: &Cord, mm: f64) {
    // Endless: after a whole number of repeats and colours it is the same.
    let strands = cord.form.strands.max(1) as f64;
    let round = cord.form.lift.max(1e-3) * strands;
    view.along = (view.along + mm).rem_euclid(round * 12.0);
}

pub(super) fn turn(view: &mut StripView, radians: f64) {
    view.turn = (view.turn + radians).rem_euclid(std::f64::consts::TAU);
}

/// Notches of the wheel and of a pinch over the cord; each is one scale.
fn notches(ui: &Ui, response: &Response) -> i32 {
    if !response.contains_pointer() {
        return 0;
    }
    let (wheel, pinch) = ui.input(|input| (wheel(input), input.zoom_delta()));
    let id = response.id.with("pinch");
    let pinched = ui.data_mut(|data| {
        let sum = data.get_temp_mut_or_default::<f32>(id);
        *sum += 4.0 * pinch.ln();
        let whole = sum.trunc();
        *sum -= whole;
        whole as i32
    });
    wheel + pinched
}

fn wheel(input: &InputState) -> i32 {
    let turned = input.events.iter().map(|event| match event {
        Event::MouseWheel { delta, .. } => delta.y,
        _ => 0.0,
    });
    let turned: f32 = turned.sum();
    if turned == 0.0 {
        return 0;
    }
    turned.signum() as i32
}

fn keys(ui: &Ui, response: &Response, cord: &Cord, view: &mut StripView, times: f32) {
    let pressed = |key| ui.input(|input| i32::from(input.key_pressed(key)));
    let along = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    slide(view, cord, f64::from(along));
    turn(view, keyed_turn(ui, response));
    let larger = pressed(Key::Plus) + pressed(Key::Equals) - pressed(Key::Minus);
    if larger != 0 {
        view.scale = Scale::stepped(times, larger);
    }
}

/// The turn that the arrow keys ask for while the keyboard is on a cord; the ring round it.
pub(super) fn keyed_turn(ui: &Ui, response: &Response) -> f64 {
    if !response.has_focus() {
        return 0.0;
    }
    ui.memory_mut(|memory| {
        let filter = eframe::egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..Default::default()
        };
        memory.set_focus_lock_filter(response.id, filter);
    });
    stitch::focus_ring(ui.painter(), response.rect.shrink(5.0), 2.0, &Theme::of(ui));
    let pressed = |key| ui.input(|input| i32::from(input.key_pressed(key)));
    let round = pressed(Key::ArrowUp) - pressed(Key::ArrowDown);
    f64::from(round) * std::f64::consts::PI / 12.0
}

fn spoken(cord: &Cord, layout: &Layout, strip: &Strip<'_>) -> String {
    let hand = match cord.figures.hand {
        Hand::S => ", S lay",
        Hand::Z => ", Z lay",
        Hand::None => "",
    };
    let scale = scale::words(layout.times, layout.is_measured);
    let strands = cord.figures.take_up.len();
    let state = strip.view.state.words();
    let chosen: Vec<String> = strip.chosen.iter().copied().map(strand_name).collect();
    let chosen = match chosen.as_slice() {
        [] => String::new(),
        names => format!(", chosen {}", names.join(" ")),
    };
    format!("the cord, {strands} strands{hand}, {state}, {scale}{chosen}")
}
