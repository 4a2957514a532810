//! Colours from a photograph: its main colours in a row, and any place of it.

use eframe::egui::{
    self, Color32, CursorIcon, EventFilter, Key, Painter, Pos2, Rect, Response, Sense, Stroke,
    StrokeKind, TextureId, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{Button, Notice, Tone, colour_square, keyboard_leads};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::painting::screen_colour;
use crate::app::photo::Photo;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::app::words;
use crate::material::Colour;
use crate::material::colour::{Palette, Shade};

use super::{ColoursView, path_ui, remark};

/// Tallest that a photograph is shown, points.
const TALLEST: f32 = 300.0;

/// Pixels round a place whose light is mixed: grain and threads of a fabric go.
const REACH: usize = 2;

/// The page; the colour that was taken.
pub(super) fn photograph_ui(
    ui: &mut Ui,
    view: &mut ColoursView,
    wants: &mut Vec<Command>,
) -> Option<Colour> {
    let asks = Command::AskPhotograph;
    if ui
        .add(Button::plain(asks.words()).icon(Icon::Open))
        .clicked()
    {
        wants.push(asks);
    }
    path_ui(
        ui,
        &mut view.path,
        "/home/…/beach.jpg, or drop it here",
        wants,
    );
    if view.photo.is_busy() {
        Role::Note.label(ui, "The photograph is being read.");
    }
    if let Some(trouble) = &view.photo.trouble {
        let notice = Notice {
            tone: Tone::Stop,
            happened: trouble,
            kept: "",
            advice: "Photographs are read as PNG or JPEG.",
        };
        notice.show(ui);
    }
    let photo = view.photo.photo.as_ref()?;
    let texture = view.photo.texture.as_ref()?.id();
    let mains = mains_ui(ui, photo, wants);
    mains.or(picture_ui(ui, photo, texture, &mut view.photo.cursor))
}

/// The main colours in a row, and a button that keeps them.
fn mains_ui(ui: &mut Ui, photo: &Photo, wants: &mut Vec<Command>) -> Option<Colour> {
    let colours: Vec<Colour> = photo.mains.iter().map(|main| main.colour).collect();
    let names = words::colours(&colours);
    let mut taken = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(2.0, 2.0);
        for (main, name) in photo.mains.iter().zip(&names) {
            let percent = (100.0 * main.share).round();
            let name = format!("main colour {name}, {percent} % of it");
            if colour_square(ui, screen_colour(main.colour), &name, false).clicked() {
                taken = Some(main.colour);
            }
        }
    });
    if ui
        .add(Button::bare("Keep these as a palette").icon(Icon::Keep))
        .clicked()
    {
        let shades = colours.into_iter().zip(names);
        let shades = shades.map(|(colour, name)| Shade { colour, name });
        wants.push(Command::KeepPalette(Box::new(Palette {
            name: photo.name.clone(),
            shades: shades.collect(),
            ..Palette::default()
        })));
    }
    taken
}

/// The photograph; a click takes the colour under it, with the keyboard arrows
/// and Enter.
fn picture_ui(
    ui: &mut Ui,
    photo: &Photo,
    texture: TextureId,
    cursor: &mut (f32, f32),
) -> Option<Colour> {
    let size = photo.photograph.size().map(|side| side as f32);
    let room = vec2(ui.available_width(), TALLEST);
    let scale = (room.x / size[0]).min(room.y / size[1]);
    let (rect, response) = ui.allocate_exact_size(scale * Vec2::from(size), Sense::click());
    let whole = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
    ui.painter().image(texture, rect, whole, Color32::WHITE);
    let response = response.on_hover_cursor(CursorIcon::Crosshair);
    let by_keys = response.has_focus() && keyboard_leads(ui.ctx());
    if by_keys {
        walk(ui, &response, cursor);
    }
    let at_cursor = rect.lerp_inside(vec2(cursor.0, cursor.1));
    let at = response.hover_pos().or(by_keys.then_some(at_cursor));
    let colour = at.and_then(|at| under(photo, rect, at));
    response.widget_info(|| {
        let here = colour.map_or(String::new(), |colour| format!(": {}", colour.name()));
        let words = format!("photograph {}{here}", photo.name);
        WidgetInfo::labeled(egui::Role::Button, true, words)
    });
    if by_keys {
        stitch::focus_ring(ui.painter(), rect, 4.0, &Theme::of(ui));
    }
    match at.zip(colour) {
        Some((at, colour)) => loupe(ui.painter(), rect, at, colour, &Theme::of(ui)),
        None => remark(ui, "Press a place to take its colour."),
    }
    colour.filter(|_| response.clicked())
}

fn under(photo: &Photo, rect: Rect, at: Pos2) -> Option<Colour> {
    let [wide, high] = photo.photograph.size();
    let share = (at - rect.min) / rect.size();
    let pixel = |share: f32, side: usize| ((share * side as f32) as usize).min(side - 1);
    let inside = rect.contains(at) && wide > 0 && high > 0;
    let place = inside.then(|| (pixel(share.x, wide), pixel(share.y, high)));
    place.and_then(|(x, y)| photo.photograph.under(x, y, REACH))
}

/// Arrows walk over the photograph.
fn walk(ui: &Ui, response: &Response, cursor: &mut (f32, f32)) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let pressed = |key| ui.input(|input| f32::from(u8::from(input.key_pressed(key))));
    let step = if ui.input(|input| input.modifiers.shift) {
        0.1
    } else {
        0.02
    };
    let across = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    let down = pressed(Key::ArrowDown) - pressed(Key::ArrowUp);
    cursor.0 = (cursor.0 + step * across).clamp(0.0, 1.0);
    cursor.1 = (cursor.1 + step * down).clamp(0.0, 1.0);
}

/// What would be taken: the colour with its name, beside the place.
fn loupe(painter: &Painter, rect: Rect, at: Pos2, colour: Colour, theme: &Theme) {
    painter.circle_stroke(at, 6.0, Stroke::new(3.0, theme.paper));
    painter.circle_stroke(at, 6.0, Stroke::new(1.4, theme.ink));
    let words = colour.name().to_owned();
    let galley = painter.layout_no_wrap(words, Face::Semibold.at(13.5), theme.ink);
    let size = vec2(galley.size().x + 48.0, 32.0);
    let left = if at.x + 16.0 + size.x > rect.right() {
        at.x - 16.0 - size.x
    } else {
        at.x + 16.0
    };
    let top = (at.y - 40.0).clamp(rect.top(), (rect.bottom() - size.y).max(rect.top()));
    let slip = Rect::from_min_size(pos2(left, top), size);
    painter.rect(
        slip,
        6.0,
        theme.paper,
        Stroke::new(1.0, theme.line2),
        StrokeKind::Inside,
    );
    let square = Rect::from_min_size(slip.min + vec2(5.0, 5.0), vec2(26.0, 22.0));
    painter.rect_filled(square, 4.0, screen_colour(colour));
    let text = pos2(
        square.right() + 8.0,
        slip.center().y - 0.5 * galley.size().y,
    );
    painter.galley(text, galley, theme.ink);
}
