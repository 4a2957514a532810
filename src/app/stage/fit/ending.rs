//! An end that is in no round cap: flat cap, crimp, knot, tassel, loop, button, bare.
//!
//! To one scale where a measure is known; the rest is a drawing of how it lies.

use eframe::egui::{
    self, Align2, Color32, Painter, Pos2, Rect, Role as Part, Sense, Shape, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use super::end::{BRASS, BRASS_LINE, WALL_MM, binding_of, cord_to};
use super::{FitView, ends};
use crate::app::controls::head;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;
use crate::plan::{CapFit, End, EndFit};

/// The drawing with its head; `tall` is the height of the sheet.
pub(super) fn ending_ui(ui: &mut Ui, view: &FitView<'_>, (at, end): (usize, End), tall: f32) {
    head(ui, title(end), |ui| {
        Role::Note.label(ui, "a drawing; what is measured is to scale")
    });
    let room = vec2(ui.available_width(), (tall - 44.0 - 30.0).max(160.0));
    let (rect, response) = ui.allocate_exact_size(room, Sense::hover());
    let fit = view.planned.and_then(|planned| planned.ends[at].as_ref());
    let spoken = spoken(view, end, fit);
    response.widget_info(|| WidgetInfo::labeled(Part::Image, true, &spoken));
    let Some(figures) = view.figures else {
        Role::Text.label(ui, "The end comes with the cord.");
        return;
    };
    let thick = figures.thickness_rested.value;
    let ending = Ending {
        view,
        thick,
        wide: figures.width_rested.value.max(thick),
        bound: view.bound_end().map_or(thick, |bound| bound.value),
        scale: scale(end, thick, room),
        theme: Theme::of(ui),
    };
    ending.draw(ui.painter(), rect, end, fit);
    ending.told(ui.painter(), rect, end, fit);
}

fn title(end: End) -> &'static str {
    match end {
        End::Cap => "The bound end in its cap",
        End::FlatCap { .. } => "The bound end in its flat cap",
        End::Crimp { .. } => "The end in its crimp",
        End::Knot { .. } => "The knot",
        End::Tassel { .. } => "The tassel",
        End::Loop { .. } => "The loop",
        End::Button { .. } => "The button",
        End::Bare => "The bound end",
    }
}

fn spoken(view: &FitView<'_>, end: End, fit: Option<&EndFit>) -> String {
    let word = ends::word(end);
    let Some(fit) = fit else {
        return format!("end of the cord: {word}");
    };
    let gap = view.length(fit.verdict.gap.value);
    format!(
        "end of the cord: {word}, room {gap}, {}. {}",
        fit.verdict.fit.word(),
        fit.how
    )
}

/// Points of a millimetre, so that all of it is seen.
fn scale(end: End, thick: f64, room: egui::Vec2) -> f32 {
    let (along, across) = match end {
        End::FlatCap { width, thickness } => (width + 3.0 * thick, width.max(thickness)),
        End::Crimp { width } => (3.0 * thick + width, width),
        End::Knot { .. } => (5.0 * thick, 3.0 * thick),
        End::Tassel { length } => (2.5 * thick + length, 4.0 * thick),
        End::Loop { opening } => (6.0 * thick + opening, 3.4 * thick),
        End::Button { across } => (4.0 * thick + across, across.max(3.0 * thick)),
        End::Cap | End::Bare => (4.0 * thick, 1.5 * thick),
    };
    let along = 0.8 * f64::from(room.x) / along.max(0.1);
    let across = f64::from(room.y - 90.0) / across.max(0.1);
    along.min(across).clamp(0.2, 40.0) as f32
}

/// Everything to one scale, mm.
struct Ending<'a> {
    view: &'a FitView<'a>,
    thick: f64,
    wide: f64,
    bound: f64,
    /// Points of a millimetre.
    scale: f32,
    theme: Theme,
}

impl Ending<'_> {
    fn points(&self, mm: f64) -> f32 {
        mm as f32 * self.scale
    }

    fn draw(&self, painter: &Painter, rect: Rect, end: End, fit: Option<&EndFit>) {
        let painter = &painter.with_clip_rect(rect.expand2(vec2(22.0, 0.0)));
        // No further to the right than there is cord in the picture.
        let long = self
            .view
            .picture
            .map_or(f32::INFINITY, |it| it.size_mm.x * self.scale);
        let x = (rect.left() + 0.42 * rect.width()).min(rect.left() - 24.0 + long);
        let edge = pos2(x, rect.center().y - 14.0);
        match end {
            End::Cap | End::Bare => self.bare(painter, rect, edge),
            End::FlatCap { width, thickness } => {
                self.flat(painter, rect, edge, [width, thickness], fit);
            }
            End::Crimp { width } => self.crimp(painter, rect, edge, width),
            End::Knot { .. } => self.knot(painter, rect, edge),
            End::Tassel { length } => self.tassel(painter, rect, edge, length),
            End::Loop { opening } => self.looped(painter, rect, edge, opening),
            End::Button { across } => self.button(painter, rect, edge, across),
        }
    }

    fn cord(&self, painter: &Painter, rect: Rect, edge: Pos2) {
        cord_to(
            painter,
            self.view,
            rect.left() - 22.0,
            edge,
            self.scale,
            &self.theme,
        );
    }

    /// The binding, from `edge` on.
    fn bound_from(&self, painter: &Painter, edge: Pos2) -> Rect {
        let wide = self.points(self.view.piece.binding.width.max(1.0));
        let half = self.points(self.bound) / 2.0;
        let bound = Rect::from_min_max(edge - vec2(0.0, half), edge + vec2(wide, half));
        binding_of(painter, bound, self.scale);
        bound
    }

    fn bare(&self, painter: &Painter, rect: Rect, edge: Pos2) {
        self.cord(painter, rect, edge + vec2(2.0, 0.0));
        self.bound_from(painter, edge);
    }

    /// From its open end: the walls and the bundle pressed between them.
    fn flat(
        &self,
        painter: &Painter,
        rect: Rect,
        edge: Pos2,
        [width, thickness]: [f64; 2],
        fit: Option<&EndFit>,
    ) {
        let edge = edge + vec2(30.0, 0.0);
        self.cord(painter, rect, edge - vec2(30.0, 0.0));
        let inside = vec2(self.points(width), self.points(thickness));
        let centre = edge + vec2(30.0 + self.points(WALL_MM) + inside.x / 2.0, 0.0);
        let inside = Rect::from_center_size(centre, inside);
        let wall = self.points(WALL_MM);
        let line = Stroke::new(1.2, BRASS_LINE);
        painter.rect(inside.expand(wall), 3.0, BRASS, line, StrokeKind::Inside);
        painter.rect(inside, 1.0, self.theme.well, line, StrokeKind::Outside);
        let high = self
            .bound
            .min(thickness - self.view.piece.glue_gap)
            .max(0.2);
        let gap = fit.map_or(0.0, |fit| fit.verdict.gap.value);
        let bundle = vec2(self.points((width - gap).max(high)), self.points(high));
        let bundle = Rect::from_center_size(centre, bundle);
        painter.rect_filled(bundle, bundle.height() / 2.0, super::end::WOUND);
        self.cells(painter, bundle.shrink(0.08 * bundle.height()));
        if gap < 0.0 {
            let edge = Stroke::new(1.6, self.theme.stop);
            painter.rect_stroke(bundle, bundle.height() / 2.0, edge, StrokeKind::Inside);
        }
    }

    /// The strands side by side in what is pressed flat.
    fn cells(&self, painter: &Painter, rect: Rect) {
        let count = self.view.section.len().max(1) as f32;
        let rows = (count * rect.height() / rect.width().max(1.0))
            .sqrt()
            .ceil()
            .max(1.0);
        let in_row = (count / rows).ceil();
        let size = vec2(rect.width() / in_row, rect.height() / rows);
        for (k, disc) in self.view.section.iter().enumerate() {
            let (column, row) = ((k as f32) % in_row, (k as f32 / in_row).floor());
            let corner = rect.min + vec2(column * size.x, row * size.y);
            let cell = Rect::from_min_size(corner, size).shrink(0.6);
            let rim = disc.colour.lerp_to_gamma(Color32::BLACK, 0.45);
            let radius = 0.4 * size.min_elem();
            painter.rect(
                cell,
                radius,
                disc.colour,
                Stroke::new(0.9, rim),
                StrokeKind::Inside,
            );
        }
    }

    fn crimp(&self, painter: &Painter, rect: Rect, edge: Pos2, width: f64) {
        self.cord(painter, rect, edge + vec2(4.0, 0.0));
        let half = self.points(width) / 2.0;
        let deep = self.points(self.view.piece.cap_depth.min(2.0 * self.wide));
        let jaws = Rect::from_min_max(edge - vec2(0.0, half), edge + vec2(deep, half));
        painter.rect(
            jaws,
            3.0,
            BRASS,
            Stroke::new(1.2, BRASS_LINE),
            StrokeKind::Inside,
        );
        let fold = Stroke::new(1.2, BRASS_LINE);
        for share in [0.2, 0.8] {
            painter.hline(jaws.x_range(), jaws.top() + share * jaws.height(), fold);
        }
        ring(painter, pos2(jaws.right() + 10.0, edge.y));
    }

    /// Turns of the cord laid over each other, as wide as a knot usually is.
    fn knot(&self, painter: &Painter, rect: Rect, edge: Pos2) {
        let thick = self.points(self.thick);
        self.cord(painter, rect, edge + vec2(2.0, 0.0));
        let centre = edge + vec2(0.9 * thick, 0.0);
        let turns = [
            (vec2(-0.75, -0.3), vec2(0.75, 0.55)),
            (vec2(-0.55, 0.75), vec2(-0.15, -0.8)),
            (vec2(0.3, 0.85), vec2(0.7, -0.7)),
            (vec2(-0.5, 0.35), vec2(0.6, -0.35)),
        ];
        for (k, (from, to)) in turns.into_iter().enumerate() {
            let disc = self.view.section.get(k % self.view.section.len().max(1));
            let colour = disc.map_or(self.theme.line2, |disc| disc.colour);
            let line = [centre + from * thick, centre + to * thick];
            turn(painter, line, 0.85 * thick, colour);
        }
    }

    fn tassel(&self, painter: &Painter, rect: Rect, edge: Pos2, length: f64) {
        self.cord(painter, rect, edge + vec2(2.0, 0.0));
        let bound = self.bound_from(painter, edge);
        let count = self.view.section.len().max(1);
        let (long, half) = (self.points(length), self.points(1.3 * self.thick));
        let strand = self
            .view
            .section
            .first()
            .map_or(1.0, |disc| 2.0 * disc.radius_mm);
        let wide = self.points(strand).clamp(1.5, 9.0);
        for k in 0..count {
            let share = if count == 1 {
                0.0
            } else {
                2.0 * k as f32 / (count - 1) as f32 - 1.0
            };
            let from = pos2(bound.right() - 1.0, edge.y + share * 0.4 * bound.height());
            let to = pos2(
                bound.right() + long * (1.0 - 0.04 * share.abs()),
                edge.y + share * half,
            );
            let bend = pos2(from.x + 0.3 * long, edge.y + share * 0.9 * half);
            let colour = self
                .view
                .section
                .get(k)
                .map_or(self.theme.line2, |disc| disc.colour);
            let rim = colour.lerp_to_gamma(Color32::BLACK, 0.4);
            for (wide, tint) in [(wide + 1.6, rim), (wide, colour)] {
                let points = [from, bend, to.lerp(bend, 0.4), to];
                let stroke = Stroke::new(wide, tint);
                painter.add(egui::epaint::CubicBezierShape::from_points_stroke(
                    points,
                    false,
                    Color32::TRANSPARENT,
                    stroke,
                ));
            }
        }
    }

    /// The cord laid back on itself round an opening, bound where it meets.
    fn looped(&self, painter: &Painter, rect: Rect, edge: Pos2, opening: f64) {
        let thick = self.points(self.thick);
        let half = vec2(
            self.points(opening) / 2.0,
            self.points(0.5 * opening).min(1.2 * thick) / 2.0,
        );
        let bound = self.points(self.view.piece.binding.width.max(2.0));
        let centre = edge + vec2(bound + half.x + 0.5 * thick, 0.0);
        let reach = half + vec2(thick, thick) / 2.0;
        self.round(painter, centre, reach, thick);
        self.cord(painter, rect, edge + vec2(2.0, 0.0));
        let tall = self.points(2.0 * self.bound) / 2.0;
        let rect = Rect::from_min_max(edge - vec2(0.0, tall), edge + vec2(bound, tall));
        binding_of(painter, rect, self.scale);
    }

    /// A round of cord as a band of its colours.
    fn round(&self, painter: &Painter, centre: Pos2, reach: egui::Vec2, thick: f32) {
        let section = self.view.section;
        let parts = 60_usize;
        let at = |k: f32, grow: f32| {
            let turn = egui::Vec2::angled(k / parts as f32 * std::f32::consts::TAU);
            centre + turn * (reach + vec2(grow, grow))
        };
        for k in 0..parts {
            let colour = section.get(k % section.len().max(1));
            let colour = colour.map_or(self.theme.line2, |disc| disc.colour);
            let (from, to) = (k as f32, k as f32 + 1.0);
            let corners = vec![
                at(from, -thick / 2.0),
                at(to, -thick / 2.0),
                at(to + 0.8, thick / 2.0),
                at(from + 0.8, thick / 2.0),
            ];
            let rim = Stroke::new(0.8, colour.lerp_to_gamma(Color32::BLACK, 0.35));
            painter.add(Shape::convex_polygon(corners, colour, rim));
        }
    }

    fn button(&self, painter: &Painter, rect: Rect, edge: Pos2, across: f64) {
        self.cord(painter, rect, edge + vec2(2.0, 0.0));
        let bound = self.bound_from(painter, edge);
        let radius = self.points(across) / 2.0;
        let centre = pos2(bound.right() + radius, edge.y);
        let line = Stroke::new(1.4, self.theme.ink);
        painter.circle(centre, radius, self.theme.deep, line);
        painter.circle_stroke(centre, 0.82 * radius, Stroke::new(1.0, self.theme.line2));
        for y in [-0.22, 0.22] {
            painter.circle(
                centre + vec2(0.0, y * radius),
                0.1 * radius,
                self.theme.ink,
                line,
            );
        }
    }

    /// What it is in words, under the drawing; green only where all of the spread fits.
    fn told(&self, painter: &Painter, rect: Rect, end: End, fit: Option<&EndFit>) {
        let theme = &self.theme;
        let foot = pos2(rect.left(), rect.bottom() - 18.0);
        let strong = Face::Bold.at(13.5);
        let mut at = foot;
        let words = match fit {
            Some(fit) => {
                let sure = 100.0 * fit.verdict.fits;
                format!(
                    "{}: {sure:.0} of 100 such ends would fit",
                    fit.verdict.fit.word()
                )
            }
            None => self.plain(end),
        };
        let mut colour = theme.ink;
        if fit.is_some_and(|fit| fit.verdict.fit == CapFit::Fits) {
            colour = theme.ok;
            Icon::Check.paint(painter, at + vec2(8.0, 0.0), 16.0, theme.ok);
            at.x += 20.0;
        }
        painter.text(at, Align2::LEFT_CENTER, words, strong, colour);
        let more = fit.map_or_else(String::new, |fit| {
            let gap = fit.verdict.gap.length(self.view.units);
            format!("room {gap}. {}", fit.how)
        });
        let below = foot + vec2(0.0, 17.0);
        painter.text(
            below,
            Align2::LEFT_CENTER,
            more,
            Role::Note.font(),
            theme.ink2,
        );
    }

    fn plain(&self, end: End) -> String {
        let view = self.view;
        let cord = view.length(self.thick);
        match end {
            End::Knot { thicknesses } => {
                let taken = view.length(thicknesses * self.thick);
                format!("cord {cord}; about {taken} of it goes into the knot")
            }
            End::Tassel { length } => format!("cord {cord}; tassel {}", view.length(length)),
            End::Loop { opening } => format!("cord {cord}; opening {}", view.length(opening)),
            End::Button { across } => format!("cord {cord}; button {}", view.length(across)),
            _ => format!("cord {cord}; bound {}", view.length(self.bound)),
        }
    }
}

/// A ring behind a finding.
fn ring(painter: &Painter, at: Pos2) {
    painter.circle_stroke(at, 11.0, Stroke::new(6.0, BRASS_LINE));
    painter.circle_stroke(at, 11.0, Stroke::new(4.0, BRASS));
}

/// A short straight piece of cord with round ends, in one of its colours.
fn turn(painter: &Painter, [from, to]: [Pos2; 2], thick: f32, colour: Color32) {
    let across = (to - from).normalized().rot90() * (thick / 2.0);
    let rim = colour.lerp_to_gamma(Color32::BLACK, 0.55);
    for (grow, tint) in [(1.6, rim), (0.0, colour)] {
        let side = across.normalized() * (thick / 2.0 + grow);
        for end in [from, to] {
            painter.circle_filled(end, thick / 2.0 + grow, tint);
        }
        let corners = vec![from + side, to + side, to - side, from - side];
        painter.add(Shape::convex_polygon(corners, tint, Stroke::NONE));
    }
    let lay = Stroke::new(1.2, colour.lerp_to_gamma(Color32::BLACK, 0.25));
    let lean = (to - from).normalized() * (0.25 * thick);
    for k in 0..=6_u8 {
        let at = from.lerp(to, f32::from(k) / 6.0);
        painter.line_segment([at + 0.8 * across - lean, at - 0.8 * across + lean], lay);
    }
}
