//! One pair of colours: its stripes, its verdict, and what would mend it.

use eframe::egui::{
    Align, Layout, Painter, Rect, Sense, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{Pick, tip};
use crate::app::fonts::{Face, Role};
use crate::app::painting::screen_colour;
use crate::app::theme::Theme;
use crate::document::Edit;
use crate::material::Colour;
use crate::material::colour::{Apart, Mend, Parting, Sight, Way};

use super::super::colours::Offered;
use super::{eyes, tone};

/// Height of a pair's row.
const ROW: f32 = 80.0;

/// Size of its stripes on the screen.
const STRIPES: eframe::egui::Vec2 = vec2(72.0, 36.0);

/// A pair; whether it was pressed.
pub(super) fn pair_ui(
    ui: &mut Ui,
    pair: &Apart,
    sight: Sight,
    per_mm: f32,
    is_asked: bool,
) -> bool {
    let names = names(pair.colours);
    let verdict = verdict(pair);
    let figures = figures(pair);
    let spoken = format!("pair: {names}, {verdict}, {figures}");
    let response = Pick::row(&spoken, is_asked, ROW).show(ui, |ui| {
        let row = ui.max_rect();
        let at = pos2(row.left(), row.center().y - 0.5 * STRIPES.y);
        let spot = Rect::from_min_size(at, STRIPES);
        stripes(ui.painter(), spot, pair, sight, per_mm);
        let text = row.with_min_x(spot.right() + 14.0);
        let builder = UiBuilder::new()
            .max_rect(text)
            .layout(Layout::top_down(Align::Min));
        let mut right = ui.new_child(builder);
        right.spacing_mut().item_spacing.y = 3.0;
        let name = Role::Name.text(&right, &names).size(14.0);
        right.add(eframe::egui::Label::new(name).truncate());
        right.horizontal(|ui| verdict_ui(ui, pair.worst(), &verdict));
        let note = Role::Note.text(&right, &figures);
        right.add(eframe::egui::Label::new(note).truncate());
    });
    tip(response, &explained(pair)).clicked()
}

fn verdict_ui(ui: &mut Ui, worst: Parting, words: &str) {
    let theme = Theme::of(ui);
    let (icon, colour) = tone(worst, &theme);
    ui.spacing_mut().item_spacing.x = 6.0;
    let (rect, _) = ui.allocate_exact_size(vec2(13.0, 14.0), Sense::hover());
    icon.paint(ui.painter(), rect.center(), 13.0, colour);
    let text = eframe::egui::RichText::new(words)
        .font(Face::Semibold.at(13.0))
        .color(colour);
    ui.add(eframe::egui::Label::new(text).truncate());
}

/// "teal beside sand".
fn names([one, two]: [Colour; 2]) -> String {
    if one.name() == two.name() {
        return format!("{one} beside {two}, both {}", one.name());
    }
    format!("{} beside {}", one.name(), two.name())
}

/// How they stand, and for whom if not for everyone.
fn verdict(pair: &Apart) -> String {
    let words = match pair.worst() {
        Parting::StandApart if pair.by_hue_alone() => {
            return "stand apart, by hue alone".to_owned();
        }
        Parting::StandApart => return "stand apart".to_owned(),
        Parting::Close => "close",
        Parting::RunTogether => "run together",
    };
    if pair.parting(Sight::Full) == pair.worst() {
        return words.to_owned();
    }
    let such = Sight::ALL
        .into_iter()
        .filter(|sight| pair.parting(*sight) == pair.worst());
    let such: Vec<&str> = such.map(eyes).collect();
    format!("{words} for {} eyes", crate::app::words::list(&such))
}

fn figures(pair: &Apart) -> String {
    let [difference, lightness, share] =
        [pair.least(), pair.lightness, 100.0 * pair.share].map(f64::round);
    format!("difference {difference}, lightness {lightness} apart, {share} % of the edges")
}

/// Every figure, for whoever looks closer.
fn explained(pair: &Apart) -> String {
    let each = Sight::ALL.iter().zip(pair.on_cord);
    let each: Vec<String> = each
        .map(|(sight, value)| format!("{} {value:.1}", eyes(*sight)))
        .collect();
    format!(
        "Difference (CIEDE2000) on the cord: {}; in large patches {:.1}.\n\
         Under 5 they run together, under 10 they are close.\n\
         Contrast of lightness {:.1} to 1. The thread takes up {:.1} minutes of arc.",
        each.join(", "),
        pair.in_patches,
        pair.contrast,
        pair.angle,
    )
}

/// The two in turn, as wide as the thread, leaning as on a cord.
fn stripes(painter: &Painter, rect: Rect, pair: &Apart, sight: Sight, per_mm: f32) {
    let colours = pair.colours.map(|colour| screen_colour(sight.of(colour)));
    let wide = (pair.width as f32 * per_mm).max(0.5);
    let clip = painter.with_clip_rect(rect);
    clip.rect_filled(rect, 0.0, colours[0]);
    let lean = 0.6 * rect.height();
    let mut left = rect.left() - lean;
    while left < rect.right() {
        let corners = vec![
            pos2(left + lean, rect.top()),
            pos2(left + lean + wide, rect.top()),
            pos2(left + wide, rect.bottom()),
            pos2(left, rect.bottom()),
        ];
        clip.add(eframe::egui::Shape::convex_polygon(
            corners,
            colours[1],
            Stroke::NONE,
        ));
        left += 2.0 * wide;
    }
    let theme_edge = Stroke::new(
        1.0,
        painter.ctx().global_style().visuals.window_stroke.color,
    );
    painter.rect_stroke(rect, 4.0, theme_edge, StrokeKind::Outside);
}

/// What would part them; a press makes the change.
pub(super) fn mends_ui(
    ui: &mut Ui,
    pair: &Apart,
    mends: &[Mend],
    offered: &[Offered],
    wants: &mut Vec<Command>,
) {
    if pair.worst() == Parting::StandApart {
        Role::Note.label(ui, "Nothing to mend: they stand apart for everyone.");
        return;
    }
    if mends.is_empty() {
        let words = "No small change parts them for everyone; try a thicker thread, \
                     or another palette.";
        let text = Role::Note.text(ui, words);
        ui.add(eframe::egui::Label::new(text).wrap());
        return;
    }
    Role::Label.label(ui, "This would part them, for everyone:");
    for mend in mends {
        if mend_ui(ui, mend, &mend_words(mend, offered)) {
            let (from, to) = (mend.from, mend.to);
            wants.push(Command::Edit(Edit::Recolour { from, to }));
        }
    }
}

/// "teal lighter", "plum in place of teal".
fn mend_words(mend: &Mend, offered: &[Offered]) -> String {
    let from = mend.from.name();
    match mend.way {
        Way::Lighter => format!("{from} lighter"),
        Way::Darker => format!("{from} darker"),
        Way::Palette(place) => {
            let to = offered.get(place).map_or(mend.to.name(), |(_, name)| name);
            format!("{to} in place of {from}")
        }
    }
}

/// From and to, with words; whether it was pressed.
fn mend_ui(ui: &mut Ui, mend: &Mend, words: &str) -> bool {
    let size = vec2(ui.available_width(), 34.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let spoken = format!("mend: {words}");
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, &spoken));
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let edge = if response.hovered() {
        theme.ink
    } else {
        theme.line2
    };
    let fill = if response.hovered() {
        theme.well
    } else {
        theme.paper
    };
    painter.rect(
        rect.shrink(1.0),
        8.0,
        fill,
        Stroke::new(1.0, edge),
        StrokeKind::Inside,
    );
    for (place, colour) in [mend.from, mend.to].into_iter().enumerate() {
        let at = rect.left_center() + vec2(10.0 + 44.0 * place as f32, -10.0);
        let square = Rect::from_min_size(at, vec2(28.0, 20.0));
        painter.rect_filled(square, 4.0, screen_colour(colour));
    }
    let arrow = pos2(rect.left() + 46.0, rect.center().y);
    crate::app::icons::Icon::Right.paint(painter, arrow, 12.0, theme.ink2);
    let at = pos2(rect.left() + 94.0, rect.center().y);
    let left = eframe::egui::Align2::LEFT_CENTER;
    painter.text(at, left, words, Face::Semibold.at(14.0), theme.ink);
    if response.has_focus() && crate::app::controls::keyboard_leads(ui.ctx()) {
        crate::app::stitch::focus_ring(painter, rect.shrink(4.0), 6.0, &theme);
    }
    response.clicked()
}
