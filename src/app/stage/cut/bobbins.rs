//! Bobbins and counterweight, with the disc and what hangs from it.

use eframe::egui::{
    Align2, Color32, Painter, Pos2, Rect, Role as Part, Sense, Shape, Stroke, StrokeKind, Ui,
    UiBuilder, WidgetInfo, pos2, vec2,
};

use super::thread_bar::paint;
use super::{CutView, named};
use crate::app::controls::{Notice, Tone, hairline, head};
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::app::words;
use crate::plan::Wound;
use crate::quantity::Mass;

/// Width and height of the picture.
const PICTURE: [f32; 2] = [150.0, 128.0];

/// The sheet "Bobbins and weight".
pub(super) fn bobbins_ui(ui: &mut Ui, view: CutView<'_>) {
    ui.spacing_mut().item_spacing.y = 3.0;
    head(ui, "Bobbins and weight", |_| ());
    ui.add_space(4.0);
    ui.horizontal_top(|ui| {
        let (rect, response) = ui.allocate_exact_size(PICTURE.into(), Sense::hover());
        let bobbins = &view.plan.bobbins;
        let weight = Mass::from_grams(bobbins.counterweight).written(view.units);
        response.widget_info(|| {
            let words = format!("the disc with its bobbins, {weight} hung below");
            WidgetInfo::labeled(Part::Image, true, words)
        });
        draw(ui.painter(), rect, view, &weight, &Theme::of(ui));
        ui.add_space(8.0);
        let builder = UiBuilder::new();
        ui.scope_builder(builder, |ui| ui.vertical(|ui| words_ui(ui, view, &weight)));
    });
    for note in &view.plan.bobbins.notes {
        ui.add_space(6.0);
        Notice {
            tone: Tone::Caution,
            happened: note,
            kept: "",
            advice: "",
        }
        .show(ui);
    }
}

fn words_ui(ui: &mut Ui, view: CutView<'_>, weight: &str) {
    let bobbins = &view.plan.bobbins;
    for alike in alike(view) {
        wound_ui(ui, view, &alike);
    }
    let grams = bobbins.grams.mass(view.units);
    Role::Note.label(ui, format!("together {grams}, full"));
    hairline(ui);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let (figure, unit) = weight.rsplit_once(' ').unwrap_or((weight, ""));
        let text = Role::Value.text(ui, figure).font(Face::Figures.at(25.0));
        ui.label(text);
        Role::Unit.label(ui, unit);
        Role::Text.label(ui, "counterweight");
    });
    let usual = bobbins.usual.mass(view.units);
    Role::Note.label(ui, format!("usual here: {usual}"));
    Role::Note.label(ui, &bobbins.advice);
}

/// What is wound for the piece itself, by the bobbin that takes it.
fn alike<'a>(view: CutView<'a>) -> Vec<Vec<&'a Wound>> {
    let mut all: Vec<Vec<&Wound>> = Vec::new();
    let wound = &view.plan.bobbins.wound;
    for one in wound
        .iter()
        .filter(|one| view.plan.cut.cuts[one.cut].run == 0)
    {
        match all
            .iter_mut()
            .find(|others| (&others[0].bobbin, others[0].hangs) == (&one.bobbin, one.hangs))
        {
            Some(others) => others.push(one),
            None => all.push(vec![one]),
        }
    }
    all
}

fn wound_ui(ui: &mut Ui, view: CutView<'_>, alike: &[&Wound]) {
    let count: u32 = alike.iter().map(|wound| wound.count).sum();
    let bobbin = alike.first().and_then(|wound| wound.bobbin.as_deref());
    let hang = alike.iter().all(|wound| wound.hangs);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 7.0;
        let text = Role::Value.text(ui, count.to_string());
        ui.label(text.font(Face::Figures.at(22.0)));
        let name = match (bobbin, count) {
            (None, _) if hang => "short ends, without bobbins".to_owned(),
            (None, _) => "in hanks: no bobbin takes it".to_owned(),
            (Some(bobbin), 1) => bobbin.to_owned(),
            (Some(bobbin), _) => format!("{bobbin}s"),
        };
        let words = Role::Text.text(ui, name);
        ui.add(eframe::egui::Label::new(words).wrap());
    });
    let holds = alike.iter().map(|wound| wound.holds);
    let holds = named::metres(holds.fold(f64::INFINITY, f64::min), view.units);
    let joins = alike.iter().map(|wound| wound.joins).max().unwrap_or(0);
    let told = match (bobbin, joins) {
        (Some(_), _) => format!("each holds {holds} of the thickest strand on it"),
        (None, _) if hang => "they hang beside the disc as they are".to_owned(),
        (None, 0) => "tie them, they hang beside the disc".to_owned(),
        (None, 1) => "or one join a strand, on the largest".to_owned(),
        (None, n) => format!(
            "or {} joins a strand, on the largest",
            words::count(n as usize)
        ),
    };
    Role::Note.label(ui, told);
}

/// The disc from the side, the cord in its middle, the weight, bobbins at its rim.
fn draw(painter: &Painter, rect: Rect, view: CutView<'_>, weight: &str, theme: &Theme) {
    let middle = pos2(rect.center().x, rect.top() + 26.0);
    let reach = vec2(0.42 * rect.width(), 13.0);
    let rim = Stroke::new(1.3, theme.foamline);
    let lower = ellipse(middle + vec2(0.0, 6.0), reach);
    painter.add(Shape::convex_polygon(lower, theme.foam2, rim));
    let shown = [0.08, 0.30, 0.70, 0.92];
    let order = view.design.slot_order();
    let place = |share: f32| {
        let strand = (share * order.len() as f32) as usize;
        let strand = order
            .get(strand.min(order.len().saturating_sub(1)))
            .copied();
        let part = strand.and_then(|s| view.design.strands[s].parts.first());
        part.map_or(theme.line2, |part| paint(part.colour))
    };
    painter.add(Shape::convex_polygon(
        ellipse(middle, reach),
        theme.foam,
        rim,
    ));
    let foot = pos2(middle.x, rect.bottom() - 38.0);
    cord(painter, middle, foot, [place(0.1), place(0.6)], theme);
    for (share, tint) in shown.map(|share| (share, place(share))) {
        let x = rect.left() + 10.0 + share * (rect.width() - 20.0);
        let over = pos2(middle.x + 0.86 * (x - middle.x), middle.y + 3.0);
        let bobbin = pos2(x, rect.top() + 84.0);
        thread(painter, &[middle, over, bobbin], tint, theme);
        let edge = Stroke::new(1.4, theme.ink2);
        painter.add(Shape::convex_polygon(
            ellipse(bobbin, vec2(7.0, 9.5)),
            theme.paper,
            edge,
        ));
        painter.add(Shape::convex_polygon(
            ellipse(bobbin, vec2(3.2, 4.2)),
            tint,
            Stroke::NONE,
        ));
    }
    hung(painter, foot, weight, theme);
}

fn cord(painter: &Painter, from: Pos2, to: Pos2, tints: [Color32; 2], theme: &Theme) {
    let body = Rect::from_min_max(pos2(from.x - 5.0, from.y), pos2(to.x + 5.0, to.y));
    painter.rect_filled(body, 1.0, tints[0]);
    let clipped = painter.with_clip_rect(body.intersect(painter.clip_rect()));
    let mut y = body.top() - 10.0;
    while y < body.bottom() {
        let line = [pos2(body.left(), y + 8.0), pos2(body.right(), y)];
        clipped.line_segment(line, Stroke::new(3.4, tints[1]));
        y += 9.0;
    }
    painter.rect_stroke(body, 1.0, Stroke::new(1.0, theme.ink2), StrokeKind::Inside);
}

fn thread(painter: &Painter, path: &[Pos2], tint: Color32, theme: &Theme) {
    let edge = if theme.is_night() {
        tint.lerp_to_gamma(Color32::WHITE, 0.4)
    } else {
        tint.lerp_to_gamma(Color32::BLACK, 0.4)
    };
    painter.add(Shape::line(path.to_vec(), Stroke::new(4.4, edge)));
    painter.add(Shape::line(path.to_vec(), Stroke::new(2.8, tint)));
}

/// The weight with its figure on it.
fn hung(painter: &Painter, from: Pos2, words: &str, theme: &Theme) {
    let (top, wide) = (from.y + 4.0, 15.0);
    let corners = [
        pos2(from.x - wide + 3.0, top),
        pos2(from.x + wide - 3.0, top),
        pos2(from.x + wide + 3.0, top + 28.0),
        pos2(from.x - wide - 3.0, top + 28.0),
    ];
    let edge = Stroke::new(1.4, theme.ink2);
    painter.add(Shape::convex_polygon(corners.to_vec(), theme.well, edge));
    let number = words.split(' ').next().unwrap_or_default();
    let at = pos2(from.x, top + 14.0);
    let size = if number.len() > 4 { 9.0 } else { 12.5 };
    painter.text(
        at,
        Align2::CENTER_CENTER,
        number,
        Face::Bold.at(size),
        theme.ink,
    );
}

fn ellipse(middle: Pos2, reach: eframe::egui::Vec2) -> Vec<Pos2> {
    let turn = std::f32::consts::TAU / 36.0;
    let at = |k: usize| {
        let angle = turn * k as f32;
        middle + vec2(reach.x * angle.cos(), reach.y * angle.sin())
    };
    (0..36).map(at).collect()
}
