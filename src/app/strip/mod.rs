//! The strip: the cord itself, edge to edge on linen, with a tape beside it.
//!
//! It shows only what was solved. Dragging slides the cord along and turns it,
//! the wheel changes the scale. The tape always has the scale of the cord.

mod core;
mod flags;
mod measure;
mod scale;
mod tape;

use std::sync::Arc;

use eframe::egui::{
    Align2, CursorIcon, Event, InputState, Key, Painter, Pos2, Rect, Response, Sense, Stroke, Ui,
    Vec2, WidgetInfo, pos2, vec2,
};

use crate::cord::{Cord, Hand};
use crate::drawing::{Bend, Thread, View};
use crate::quantity::UnitSystem;

use super::command::Command;
use super::controls::{self, IconButton};
use super::desk::Desk;
use super::easel::{Age, Easel, Order};
use super::flags::Flags;
use super::fonts::{Face, Role};
use super::icons::Icon;
use super::painting::{Scene, linen};
use super::screen::LifeSize;

use super::solver::{Known, Solved};
use super::stitch;
use super::theme::Theme;
use super::words;

pub(super) use measure::Measuring;
pub(super) use scale::Scale;

/// Height of the tape in a full and in a compact strip.
const TAPE: (f32, f32) = (34.0, 26.0);

/// Where the tape's zero stands, points from the left.
const MARGIN: f32 = 24.0;

/// Room for scale and switch at the tape's right end.
const TAPE_END: f32 = 240.0;

/// How the maker has laid the cord.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StripView {
    /// Place along the cord under the tape's zero, mm.
    pub along: f64,
    /// Turn about its axis, radians.
    pub turn: f64,
    /// How large it is shown.
    pub scale: Scale,
    /// The sheet on which the screen is measured, while it is open.
    pub measuring: Option<Measuring>,
}

/// How the strip is laid out in its rectangle.
#[derive(Debug, Clone, Copy)]
struct Layout {
    linen: Rect,
    tape: Rect,
    /// Points to a millimetre.
    per_mm: f32,
    /// Times life size.
    times: f32,
    /// Whether the screen is measured, so that life size is true.
    is_measured: bool,
}

impl Layout {
    fn new(rect: Rect, thickness: f64, scale: Scale, life: LifeSize) -> Self {
        let tape = if rect.height() < 120.0 {
            TAPE.1
        } else {
            TAPE.0
        };
        let split = rect.bottom() - tape;
        let times = scale.times(thickness, split - rect.top(), life.per_mm);
        Self {
            linen: rect.with_max_y(split),
            tape: rect.with_min_y(split),
            per_mm: times * life.per_mm,
            times,
            is_measured: life.is_measured,
        }
    }

    fn zero(&self) -> f32 {
        self.linen.left() + MARGIN
    }
}

/// Draws the strip into all of `ui` and takes up drags, wheel and keys.
pub(super) fn strip_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    threads: &Arc<[Thread]>,
    marked: &Flags,
    view: &mut StripView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let theme = Theme::of(ui);
    let rect = ui.max_rect();
    let solved = desk.solver.solved();
    let life = LifeSize::under(ui.ctx(), &desk.settings.screens);
    let Some(cord) = solved.cord() else {
        let layout = Layout::new(rect, 6.0, view.scale, life);
        empty(ui, &layout, solved, desk.units(), &theme);
        return;
    };
    // A flat cord may lie on its edge or on its side.
    let thickness = cord
        .figures
        .thickness_on_disc
        .value
        .max(cord.figures.width_rested.value);
    let layout = Layout::new(rect, thickness, view.scale, life);
    let response = handle(ui, &layout, cord, view);
    let layout = Layout::new(rect, thickness, view.scale, life);
    let is_old = desk.solver.shows_old();
    let age = if is_old { Age::Old } else { Age::Now };
    // Another cord's strands have other letters.
    let is_same = cord.figures.take_up.len() == desk.design.strands.len();
    let marked = Some(marked).filter(|it| is_same && !it.strands.is_empty());
    easel.order(Order {
        cord: Arc::clone(cord),
        threads: Arc::clone(threads),
        scene: scene(ui, &layout, view, &theme),
        age,
        traced: marked.is_some(),
    });
    picture(ui.painter(), &layout, view, easel, &theme);
    if is_old {
        old_mark(ui, &layout, solved.is_busy(), &theme);
    }
    if matches!(desk.known(), Known::Solved(_)) {
        // Until then its repeat is another cord's.
        bracket(ui, &layout, cord, view, desk.units(), &theme);
    }
    if let Some(marked) = marked {
        let marked = (marked, desk.design.strands.len());
        flags::flags_ui(ui, &layout, view, easel, marked, &theme);
    }
    let units = desk.units();
    core::core_ui(ui, &layout, cord, units, &theme);
    tape::draw(
        ui.painter(),
        layout.tape,
        layout.zero(),
        layout.per_mm,
        units,
        TAPE_END,
        &theme,
    );
    tape_end(ui, &layout, view, &theme);
    measure::measure_ui(ui, &mut view.measuring, units, wants);
    let words = Role::Note.text(ui, tip_words(cord));
    response.on_hover_text_at_pointer(words);
}

fn tip_words(cord: &Cord) -> String {
    let lay = match cord.figures.hand {
        Hand::S => "S lay: the floats lean like a slash here. ",
        Hand::Z => "Z lay: the floats lean like a backslash here. ",
        Hand::None => "",
    };
    format!("{lay}Drag to slide and turn the cord, scroll to change its scale")
}

/// The part of the cord under the linen, in pixels.
fn scene(ui: &Ui, layout: &Layout, view: &StripView, theme: &Theme) -> Scene {
    let pixels = ui.ctx().pixels_per_point();
    let size = (layout.linen.size() * pixels).round().max(Vec2::splat(1.0));
    let per_mm = f64::from(layout.per_mm);
    Scene {
        view: View {
            width: size.x as usize,
            height: size.y as usize,
            pixels_per_mm: per_mm * f64::from(pixels),
            start_mm: view.along - f64::from(MARGIN) / per_mm,
            roll: view.turn,
            centre_x: 0.0,
            centre_y: f64::from(size.y) / 2.0,
            bend: Bend::Straight,
        },
        ground: linen(theme, 1.5 * pixels),
    }
}

/// The newest picture, where the cord has been slid meanwhile and at the scale
/// of the tape, which may have changed since it was painted.
fn picture(painter: &Painter, layout: &Layout, view: &StripView, easel: &Easel, theme: &Theme) {
    painter.rect_filled(layout.linen, 0.0, theme.linen);
    let Some(shown) = easel.shown() else { return };
    let painted = &shown.scene.view;
    let scale = layout.per_mm / painted.pixels_per_mm as f32;
    let size = vec2(painted.width as f32, painted.height as f32) * scale;
    let offset = vec2(
        slid(painted, layout, view),
        (layout.linen.height() - size.y) / 2.0,
    );
    let at = Rect::from_min_size(layout.linen.min + offset, size);
    let uv = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
    let painter = painter.with_clip_rect(layout.linen.intersect(painter.clip_rect()));
    painter.image(shown.texture.id(), at, uv, eframe::egui::Color32::WHITE);
}

/// How far to the right of the linen's left edge a picture begins, points.
fn slid(painted: &View, layout: &Layout, view: &StripView) -> f32 {
    let wanted = view.along - f64::from(MARGIN / layout.per_mm);
    (painted.start_mm - wanted) as f32 * layout.per_mm
}

/// Drags, wheel and keys on the linen.
fn handle(ui: &Ui, layout: &Layout, cord: &Cord, view: &mut StripView) -> Response {
    let id = ui.scope_id().with("cord");
    let response = ui.interact(layout.linen, id, Sense::click_and_drag());
    let name = spoken(cord, layout);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Image, true, &name));
    if response.dragged() {
        let way = response.drag_delta();
        slide(view, cord, -f64::from(way.x / layout.per_mm));
        // A quarter turn for the height of the linen, so that it rolls
        // under the finger like a cord on a table.
        let thickness = cord.figures.thickness_on_disc.value as f32 * layout.per_mm;
        turn(view, f64::from(way.y / (0.5 * thickness.max(8.0))));
    }
    let cursor = if response.dragged() {
        CursorIcon::Grabbing
    } else {
        CursorIcon::Grab
    };
    let steps = notches(ui, &response);
    if steps != 0 {
        view.scale = Scale::stepped(layout.times, steps);
    }
    if response.has_focus() {
        keys(ui, &response, cord, view, layout.times);
    }
    response.on_hover_cursor(cursor)
}

fn slide(view: &mut StripView, cord: &Cord, mm: f64) {
    // Endless: after a whole number of repeats and colours it is the same.
    let strands = cord.form.strands.max(1) as f64;
    let round = cord.form.lift.max(1e-3) * strands;
    view.along = (view.along + mm).rem_euclid(round * 12.0);
}

fn turn(view: &mut StripView, radians: f64) {
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
    ui.memory_mut(|memory| {
        let filter = eframe::egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..Default::default()
        };
        memory.set_focus_lock_filter(response.id, filter);
    });
    let pressed = |key| ui.input(|input| i32::from(input.key_pressed(key)));
    let along = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    let round = pressed(Key::ArrowUp) - pressed(Key::ArrowDown);
    slide(view, cord, f64::from(along));
    turn(view, f64::from(round) * std::f64::consts::PI / 12.0);
    let larger = pressed(Key::Plus) + pressed(Key::Equals) - pressed(Key::Minus);
    if larger != 0 {
        view.scale = Scale::stepped(times, larger);
    }
    stitch::focus_ring(ui.painter(), response.rect.shrink(5.0), 2.0, &Theme::of(ui));
}

fn spoken(cord: &Cord, layout: &Layout) -> String {
    let hand = match cord.figures.hand {
        Hand::S => ", S lay",
        Hand::Z => ", Z lay",
        Hand::None => "",
    };
    let scale = scale::words(layout.times, layout.is_measured);
    format!(
        "the cord, {} strands{hand}, {scale}",
        cord.figures.take_up.len()
    )
}

/// The bracket over one repeat, with its length.
fn bracket(
    ui: &Ui,
    layout: &Layout,
    cord: &Cord,
    view: &StripView,
    units: UnitSystem,
    theme: &Theme,
) {
    let lift = cord.form.lift * cycle(cord);
    let wide = lift as f32 * layout.per_mm;
    if wide < 12.0 || layout.linen.height() < 90.0 {
        return;
    }
    // The first whole repeat right of the margin and half a fold on.
    let start = layout.zero() - (view.along * f64::from(layout.per_mm)) as f32;
    let first = layout.linen.left() + 140.0;
    let left = start + ((first - start) / wide).ceil() * wide;
    let right = left + wide;
    let y = layout.linen.top() + 9.0;
    let painter = ui.painter().with_clip_rect(layout.linen);
    let ends = [
        pos2(left, y + 7.0),
        pos2(left, y),
        pos2(right, y),
        pos2(right, y + 7.0),
    ];
    painter.extend(stitch::thread(ends.to_vec(), 5.0, theme.linen));
    painter.extend(stitch::thread(ends.to_vec(), 2.0, theme.thread));
    let words = format!("one repeat, {}", words::length(lift, units));
    label(&painter, pos2(right + 8.0, y + 1.0), &words, theme);
}

/// Repeats of the form until every strand stands as at the start.
fn cycle(cord: &Cord) -> f64 {
    let form = &cord.form;
    let mut at: Vec<usize> = (0..form.strands).collect();
    for turns in 1..=64 {
        for place in &mut at {
            *place = form.continues.get(*place).copied().unwrap_or(*place);
        }
        if at.iter().enumerate().all(|(i, &p)| i == p) {
            return f64::from(turns);
        }
    }
    1.0
}

/// Words on linen, on a slip of paper so that they can be read over a cord.
fn label(painter: &Painter, left_centre: Pos2, words: &str, theme: &Theme) {
    let font = Face::Semibold.at(13.0);
    let galley = painter.layout_no_wrap(words.to_owned(), font, theme.ink);
    let size = galley.size();
    let at = left_centre - vec2(0.0, size.y / 2.0);
    let slip = Rect::from_min_size(at, size).expand2(vec2(5.0, 0.0));
    painter.rect_filled(slip, 4.0, theme.linen.gamma_multiply(0.9));
    painter.galley(at, galley, theme.ink);
}

/// Running dots along the upper edge of a cord that is not the newest.
fn old_mark(ui: &Ui, layout: &Layout, runs: bool, theme: &Theme) {
    let linen = layout.linen;
    let y = linen.top() + 2.5;
    let gap = 8.0;
    let phase = if runs {
        // Slowly, for the solver needs the processor more.
        ui.ctx().request_repaint_after_secs(0.15);
        (ui.input(|input| input.time) * 24.0 % f64::from(gap)) as f32
    } else {
        0.0
    };
    let painter = ui.painter().with_clip_rect(linen);
    let count = (linen.width() / gap) as usize + 2;
    for k in 0..count {
        let x = linen.left() + phase + (k as f32 - 1.0) * gap;
        painter.circle_filled(pos2(x, y), 1.3, theme.ink);
    }
    let at = pos2(linen.left() + MARGIN, linen.top() + 18.0);
    label(&painter, at, "last good cord", theme);
}

/// Scale and switch at the tape's end.
fn tape_end(ui: &mut Ui, layout: &Layout, view: &mut StripView, theme: &Theme) {
    let end = layout
        .tape
        .with_min_x(layout.tape.right() - TAPE_END + 12.0);
    let cut = [end.left_top(), end.left_bottom()];
    let stroke = Stroke::new(1.0, theme.line2);
    ui.painter()
        .extend(eframe::egui::Shape::dashed_line(&cut, stroke, 4.0, 4.0));
    let words = scale::words(layout.times, layout.is_measured);
    ui.painter().text(
        end.left_center() + vec2(10.0, 0.0),
        Align2::LEFT_CENTER,
        &words,
        Role::Note.font(),
        theme.ink2,
    );
    let spot = Rect::from_min_max(pos2(end.right() - 116.0, end.top()), end.max);
    let row = eframe::egui::Layout::left_to_right(eframe::egui::Align::Center);
    let builder = eframe::egui::UiBuilder::new()
        .max_rect(spot)
        .id_salt("scale")
        .layout(row);
    let mut inner = ui.new_child(builder);
    inner.spacing_mut().item_spacing.x = 8.0;
    let rule = IconButton::new(Icon::Rule, measure::QUESTION);
    let rule = if spot.height() < 34.0 {
        rule.small()
    } else {
        rule
    };
    let asks = inner.add(rule).clicked();
    let (words, next) = match view.scale {
        Scale::Life => ("best size", Scale::Best),
        Scale::Best | Scale::Times(_) => ("life size", Scale::Life),
    };
    let turns = controls::link(&mut inner, words).clicked();
    if turns {
        view.scale = next;
    }
    let first = turns && next == Scale::Life && !layout.is_measured;
    if asks || first {
        let begun = layout.per_mm / layout.times * ui.ctx().pixels_per_point();
        view.measuring = Some(Measuring::from(begun));
    }
}

/// No cord yet: a dotted one between two pins.
fn empty(ui: &Ui, layout: &Layout, solved: &Solved, units: UnitSystem, theme: &Theme) {
    let painter = ui.painter();
    painter.rect_filled(layout.linen, 0.0, theme.linen);
    let half = (0.32 * layout.linen.height()).min(40.0);
    let body = Rect::from_center_size(
        layout.linen.center(),
        vec2(layout.linen.width() - 80.0, 2.0 * half),
    );
    let outline = stitch::rounded_outline(body, half);
    painter.extend(stitch::dotted(&outline, 2.6, 8.0, theme.ink2));
    for x in [
        body.left() + 0.2 * body.width(),
        body.right() - 0.2 * body.width(),
    ] {
        painter.circle_filled(pos2(x, body.center().y), 5.0, theme.thread);
    }
    let words = match solved {
        Solved::Failed { .. } => "no cord to show",
        _ => "the cord is being worked out",
    };
    label(
        painter,
        pos2(body.center().x - 70.0, body.center().y),
        words,
        theme,
    );
    tape::draw(
        painter,
        layout.tape,
        layout.zero(),
        layout.per_mm,
        units,
        0.0,
        theme,
    );
}
