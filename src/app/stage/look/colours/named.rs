//! Colours by their names: plain ones, and those of every palette on the shelf.

use eframe::egui::{
    Align2, Rect, Response, ScrollArea, Sense, Stroke, StrokeKind, TextEdit, Ui, WidgetInfo, vec2,
};

use crate::app::controls::tip;
use crate::app::desk::Desk;
use crate::app::fonts::{Face, Role};
use crate::app::painting::screen_colour;
use crate::app::theme::Theme;
use crate::material::{Colour, NAMED};

/// Size of a colour with its name.
const CHIP: eframe::egui::Vec2 = vec2(112.0, 30.0);

/// Most that are listed; a search makes them fewer.
const LISTED: usize = 240;

/// The list with its search; the colour that was taken.
pub(super) fn names_ui(ui: &mut Ui, desk: &Desk<'_>, search: &mut String) -> Option<Colour> {
    let edit = TextEdit::singleline(search)
        .hint_text("a name, such as teal")
        .desired_width(ui.available_width() - 8.0);
    let response = ui.add(edit);
    let role = eframe::egui::Role::TextInput;
    response.widget_info(|| WidgetInfo::labeled(role, true, "Search colours by name"));
    let found = found(desk, search);
    if found.is_empty() {
        Role::Note.label(ui, "No colour of that name; try another, or a palette.");
    }
    let mut taken = None;
    ScrollArea::vertical()
        .max_height(330.0)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            ui.set_width(ui.available_width() - 12.0);
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing = vec2(4.0, 2.0);
                for (colour, name) in found.iter().take(LISTED) {
                    if chip_ui(ui, *colour, name).clicked() {
                        taken = Some(*colour);
                    }
                }
            });
        });
    taken
}

fn found<'a>(desk: &Desk<'a>, search: &str) -> Vec<(Colour, &'a str)> {
    let plain = NAMED.iter().map(|(name, colour)| (*colour, *name));
    let palettes = desk.palettes.iter().flat_map(|palette| &palette.shades);
    let shades = palettes.map(|shade| (shade.colour, shade.name.as_str()));
    let wanted = search.trim().to_lowercase();
    let fits =
        |(_, name): &(Colour, &str)| !name.is_empty() && name.to_lowercase().contains(&wanted);
    plain.chain(shades).filter(fits).collect()
}

/// A colour with its name beside it.
fn chip_ui(ui: &mut Ui, colour: Colour, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(CHIP, Sense::click());
    let words = format!("colour by name: {name}");
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, &words));
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let theme = Theme::of(ui);
    let painter = ui.painter();
    if response.hovered() {
        painter.rect_filled(rect, 6.0, theme.well);
    }
    let square = Rect::from_min_size(rect.min + vec2(4.0, 5.0), vec2(24.0, 20.0));
    let fill = screen_colour(colour);
    let rim = Stroke::new(1.0, fill.lerp_to_gamma(eframe::egui::Color32::BLACK, 0.4));
    painter.rect(square, 4.0, fill, rim, StrokeKind::Inside);
    let at = square.right_center() + vec2(8.0, 0.0);
    let clip = painter.with_clip_rect(rect.shrink2(vec2(2.0, 0.0)));
    clip.text(
        at,
        Align2::LEFT_CENTER,
        name,
        Face::Medium.at(13.5),
        theme.ink,
    );
    if response.has_focus() && crate::app::controls::keyboard_leads(ui.ctx()) {
        crate::app::stitch::focus_ring(painter, rect.shrink(3.0), 5.0, &theme);
    }
    tip(response, &format!("{name}, {colour}"))
}
