//! The bound end in its cap, cut open, everything to one scale.
//!
//! The wall of the cap and the ring behind it are drawn, not decided: only the
//! width inside and the depth are known.

use eframe::egui::epaint::Mesh;
use eframe::egui::{
    self, Align2, Color32, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo,
    pos2, vec2,
};

use super::FitView;
use crate::app::controls::head;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::cord::Figures;
use crate::plan::{CapFit, glue_gaps};
use crate::quantity::Estimate;

/// A cap's wall, mm; drawn only.
pub(super) const WALL_MM: f64 = 0.6;
/// Brass, and its edge; drawn by day and night alike.
pub(super) const BRASS: Color32 = Color32::from_rgb(0xC9, 0xB2, 0x7C);
pub(super) const BRASS_LINE: Color32 = Color32::from_rgb(0x6E, 0x58, 0x2C);
/// Binding thread.
pub(super) const WOUND: Color32 = Color32::from_rgb(0xCD, 0xBE, 0x9E);

/// How much of the binding stands out of the cap, and how far it stays off the
/// bottom of it, mm; drawn only.
const OUT_MM: f64 = 1.2;
const OFF_BOTTOM_MM: f64 = 0.6;
/// Points of a millimetre at life size: an inch has 96.
const LIFE: f32 = 96.0 / 25.4;

/// The drawing with its head.
pub(super) fn end_ui(ui: &mut Ui, view: &FitView<'_>, tall: f32) {
    let shown = view.figures.zip(view.bound_end()).zip(view.cap());
    let room = vec2(ui.available_width(), tall - 2.0 * 22.0 - 30.0);
    let Some(((figures, bound), cap)) = shown else {
        head(ui, "The bound end in its cap", |_| ());
        empty(ui, room, view);
        return;
    };
    let drawing = Drawing::new(ui, view, figures, [bound.value, cap], room);
    let scale = drawing.scale / LIFE;
    head(ui, "The bound end in its cap", |ui| {
        let places = usize::from(scale < 10.0);
        let scale = format!("about {scale:.places$} × life size, cut open");
        let words = match view.age() {
            "" => scale,
            age => format!("{age}; {scale}"),
        };
        Role::Note.label(ui, words);
    });
    let (rect, response) = ui.allocate_exact_size(room, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, drawing.spoken()));
    drawing.draw(ui, rect);
}

/// Nothing to draw yet: the cap in dots, and why.
fn empty(ui: &mut Ui, room: egui::Vec2, view: &FitView<'_>) {
    let (rect, _) = ui.allocate_exact_size(room, Sense::hover());
    let theme = Theme::of(ui);
    let cap = Rect::from_center_size(rect.center(), vec2(180.0, 90.0));
    let outline = stitch::rounded_outline(cap, 10.0);
    ui.painter()
        .extend(stitch::dotted(&outline, 2.6, 8.0, theme.ink3));
    let words = match view.figures {
        None => "The end comes with the cord.",
        Some(_) => "Add the width of a cap to see the end in it.",
    };
    let at = pos2(rect.center().x, cap.bottom() + 20.0);
    let font = Role::Text.font();
    ui.painter()
        .text(at, Align2::CENTER_CENTER, words, font, theme.ink2);
}

/// Everything to one scale.
struct Drawing<'a> {
    view: &'a FitView<'a>,
    figures: &'a Figures,
    /// Thickness of the bound end, mm.
    bound: f64,
    cap: f64,
    fit: CapFit,
    /// Points of a millimetre.
    scale: f32,
    theme: Theme,
}

/// How the bound end sits in that cap.
fn fit(view: &FitView<'_>, cap: f64) -> CapFit {
    view.bound_end()
        .map_or(CapFit::TooSmall, |end| view.verdict(end, cap).fit)
}

impl<'a> Drawing<'a> {
    fn new(
        ui: &Ui,
        view: &'a FitView<'a>,
        figures: &'a Figures,
        [bound, cap]: [f64; 2],
        room: egui::Vec2,
    ) -> Self {
        let thick = (cap + 2.0 * WALL_MM)
            .max(figures.thickness_rested.value)
            .max(figures.width_rested.value);
        let across = (room.y - 104.0) / thick as f32;
        let along = 0.38 * room.x / (view.piece.cap_depth + WALL_MM) as f32;
        Self {
            view,
            figures,
            bound,
            cap,
            fit: fit(view, cap),
            scale: across.min(along).max(2.0),
            theme: Theme::of(ui),
        }
    }

    fn gap(&self) -> f64 {
        self.cap - self.bound
    }

    fn spoken(&self) -> String {
        let bound = self.view.length(self.bound);
        let cap = self.view.length(self.cap);
        let word = self.fit.word();
        match self.gap() {
            gap if gap < 0.0 => {
                let over = self.view.length(-gap);
                format!("bound end {bound} before a cap {cap} inside, {over} too thick, {word}")
            }
            gap => {
                let gap = self.view.length(gap);
                format!("bound end {bound} in a cap {cap} inside, gap {gap} across, {word}")
            }
        }
    }

    fn points(&self, mm: f64) -> f32 {
        mm as f32 * self.scale
    }

    fn draw(&self, ui: &Ui, rect: Rect) {
        let painter = &ui.painter().with_clip_rect(rect.expand2(vec2(22.0, 0.0)));
        let axis = rect.top() + 50.0 + (rect.height() - 104.0) / 2.0;
        // No further to the right than there is cord in the picture.
        let long = self
            .view
            .picture
            .map_or(f32::INFINITY, |it| it.size_mm.x * self.scale);
        let most = rect.left() - 24.0 + long + self.points(OUT_MM);
        let mouth = pos2((rect.left() + 0.53 * rect.width()).min(most), axis);
        let bound = self.bound_rect(mouth);
        self.cord(painter, rect, bound);
        self.hollow(painter, mouth);
        self.binding(painter, bound);
        self.walls(painter, mouth);
        self.labels(painter, rect, mouth, bound);
    }

    /// Where the binding lies: in the cap, or before it when it does not go in.
    fn bound_rect(&self, mouth: Pos2) -> Rect {
        let half = self.points(self.bound) / 2.0;
        let depth = self.view.piece.cap_depth;
        let (left, right) = if self.gap() < 0.0 {
            (-depth.min(6.0), -0.5)
        } else {
            (-OUT_MM, (depth - OFF_BOTTOM_MM).max(0.3 * depth))
        };
        Rect::from_min_max(
            mouth + vec2(self.points(left), -half),
            mouth + vec2(self.points(right), half),
        )
    }

    /// The cord as far as its binding.
    fn cord(&self, painter: &Painter, rect: Rect, bound: Rect) {
        let edge = pos2(bound.left() + 2.0, bound.center().y);
        let left = rect.left() - 22.0;
        cord_to(painter, self.view, left, edge, self.scale, &self.theme);
    }

    /// Thread wound round the end, lit from above.
    fn binding(&self, painter: &Painter, bound: Rect) {
        binding_of(painter, bound, self.scale);
    }

    fn inside(&self, mouth: Pos2) -> Rect {
        let half = self.points(self.cap) / 2.0;
        Rect::from_min_max(
            mouth - vec2(0.0, half),
            mouth + vec2(self.points(self.view.piece.cap_depth), half),
        )
    }

    /// The room for glue.
    fn hollow(&self, painter: &Painter, mouth: Pos2) {
        painter.rect_filled(self.inside(mouth), 0.0, self.theme.well);
    }

    /// Walls and bottom of the cap, hatched where they are cut.
    fn walls(&self, painter: &Painter, mouth: Pos2) {
        let inside = self.inside(mouth);
        let wall = self.points(WALL_MM);
        let outside =
            Rect::from_min_max(inside.min - vec2(0.0, wall), inside.max + vec2(wall, wall));
        let ring = pos2(outside.right() + 14.0, mouth.y);
        painter.circle_stroke(ring, 12.0, Stroke::new(6.0, BRASS_LINE));
        painter.circle_stroke(ring, 12.0, Stroke::new(4.0, BRASS));
        let parts = [
            outside.with_max_y(inside.top()),
            outside.with_min_y(inside.bottom()),
            Rect::from_min_max(
                pos2(inside.right(), inside.top() - 0.5),
                pos2(outside.right(), inside.bottom() + 0.5),
            ),
        ];
        for part in parts {
            painter.rect_filled(part, 0.0, BRASS);
            let hatched = painter.with_clip_rect(part.intersect(painter.clip_rect()));
            let line = Stroke::new(1.2, BRASS_LINE);
            let mut x = part.left() - part.height();
            while x < part.right() {
                let foot = pos2(x, part.bottom());
                hatched.line_segment([foot, foot + vec2(part.height(), -part.height())], line);
                x += 6.0;
            }
        }
        let corners = [
            pos2(inside.left(), outside.top()),
            pos2(outside.right(), outside.top()),
            pos2(outside.right(), outside.bottom()),
            pos2(inside.left(), outside.bottom()),
            inside.left_bottom(),
            inside.right_bottom(),
            inside.right_top(),
            inside.left_top(),
        ];
        let line = Stroke::new(1.2, BRASS_LINE);
        painter.add(Shape::closed_line(corners.to_vec(), line));
    }

    fn labels(&self, painter: &Painter, rect: Rect, mouth: Pos2, bound: Rect) {
        let inside = self.inside(mouth);
        let wall = self.points(WALL_MM);
        let top = rect.top() + 8.0;
        let bound_x = (bound.left() + 14.0).min(bound.center().x);
        let elbow = [
            pos2(bound_x - 12.0, top + 8.0),
            pos2(bound_x, top + 8.0),
            pos2(bound_x, bound.top() + 3.0),
        ];
        self.leader(painter, &elbow, self.theme.ink2);
        let words = format!("bound {}", self.view.length(self.bound));
        let note = "wound with thread, tight";
        self.words(
            painter,
            elbow[0] - vec2(6.0, 0.0),
            Align2::RIGHT_CENTER,
            &words,
            note,
        );
        self.gap_label(painter, rect, inside, wall);
        self.cord_label(painter, rect, bound);
        self.depth_label(painter, inside, wall);
    }

    fn gap_label(&self, painter: &Painter, rect: Rect, inside: Rect, wall: f32) {
        let gap = self.gap();
        let at = pos2(rect.right(), rect.top() + 8.0);
        let [low, high] = glue_gaps(self.view.piece.glue_gap);
        let value = (low + high) / 2.0;
        let best = Estimate { value, low, high }.length(self.view.units);
        let best = format!("{} {} holds best", best.spread, self.view.unit());
        let (words, note) = match self.fit {
            CapFit::TooSmall => (
                format!("{} too thick for this cap", self.view.length(-gap)),
                "it does not go in".to_owned(),
            ),
            _ => (format!("{} across for glue", self.view.length(gap)), best),
        };
        let start = pos2(inside.left() + 0.62 * inside.width(), at.y + 8.0);
        let foot = pos2(
            inside.left() + 0.45 * inside.width(),
            inside.top() + self.points(gap.max(0.0)) / 4.0,
        );
        let wide = |words: &str, font| {
            let galley = painter.layout_no_wrap(words.to_owned(), font, self.theme.ink);
            galley.size().x
        };
        let needs = wide(&words, Face::Bold.at(13.5)).max(wide(&note, Role::Note.font()));
        let left = (at.x - needs).min(start.x + 14.0);
        let bend = pos2(left - 8.0, start.y);
        self.leader(
            painter,
            &[bend, pos2(foot.x, inside.top() - wall - 4.0), foot],
            self.theme.thread,
        );
        self.words(
            painter,
            pos2(left, start.y),
            Align2::LEFT_CENTER,
            &words,
            &note,
        );
    }

    fn cord_label(&self, painter: &Painter, rect: Rect, bound: Rect) {
        let half = self.points(self.figures.thickness_rested.value) / 2.0;
        let x = rect.left() + 18.0;
        let edge = bound.center().y + half;
        let foot = pos2(x, rect.bottom() - 22.0);
        self.leader(painter, &[foot, pos2(x, edge - 8.0)], self.theme.ink2);
        let thick = self.view.length(self.figures.thickness_rested.value);
        painter.text(
            pos2(rect.left(), rect.bottom() - 4.0),
            Align2::LEFT_BOTTOM,
            format!("cord {thick} rested, seen beside the cap"),
            Face::Medium.at(13.5),
            self.theme.ink,
        );
    }

    /// How deep the cap is, between two ticks.
    fn depth_label(&self, painter: &Painter, inside: Rect, wall: f32) {
        let y = inside.bottom() + wall + 18.0;
        let line = Stroke::new(1.2, self.theme.ink2);
        painter.hline(inside.x_range(), y, line);
        for x in [inside.left(), inside.right()] {
            painter.vline(x, y - 5.0..=y + 5.0, line);
        }
        painter.text(
            pos2(inside.center().x, y + 14.0),
            Align2::CENTER_CENTER,
            format!("{} deep", self.view.length(self.view.piece.cap_depth)),
            Face::Medium.at(13.5),
            self.theme.ink,
        );
    }

    fn leader(&self, painter: &Painter, path: &[Pos2], colour: Color32) {
        painter.add(Shape::line(path.to_vec(), Stroke::new(1.3, colour)));
        if let Some(end) = path.last() {
            painter.circle_filled(*end, 2.6, colour);
        }
    }

    /// A strong line and a note under it.
    fn words(&self, painter: &Painter, at: Pos2, align: Align2, strong: &str, note: &str) {
        painter.text(at, align, strong, Face::Bold.at(13.5), self.theme.ink);
        let below = at + vec2(0.0, 17.0);
        painter.text(below, align, note, Role::Note.font(), self.theme.ink2);
    }
}

/// The rested cord from `left` to its end at `edge`, to `scale` points a millimetre;
/// dotted while there is no picture of it.
pub(super) fn cord_to(
    painter: &Painter,
    view: &FitView<'_>,
    left: f32,
    edge: Pos2,
    scale: f32,
    theme: &Theme,
) {
    let Some(picture) = view.picture else {
        let thick = view.figures.map_or(0.0, |it| it.thickness_rested.value);
        let half = thick as f32 * scale / 2.0;
        for y in [edge.y - half, edge.y + half] {
            let line = [pos2(left + 6.0, y), pos2(edge.x, y)];
            painter.extend(stitch::dotted(&line, 2.6, 8.0, theme.ink3));
        }
        return;
    };
    let size = picture.size_mm * scale;
    let at = Rect::from_min_max(
        pos2(edge.x - size.x, edge.y - size.y / 2.0),
        pos2(edge.x, edge.y + size.y / 2.0),
    );
    let seen = at.intersect(Rect::everything_right_of(left));
    let from = (seen.left() - at.left()) / size.x;
    let uv = Rect::from_min_max(pos2(from, 0.0), pos2(1.0, 1.0));
    painter.image(picture.texture, seen, uv, Color32::WHITE);
}

/// Thread wound round, lit from above, to `scale` points a millimetre.
pub(super) fn binding_of(painter: &Painter, bound: Rect, scale: f32) {
    painter.add(rounded_bar(bound, WOUND));
    let apart = (0.45 * scale).max(3.0);
    let line = Stroke::new(1.0, Color32::from_rgb(0x5A, 0x4A, 0x30).gamma_multiply(0.4));
    let mut x = bound.left() + apart;
    while x < bound.right() - 1.0 {
        painter.vline(x, bound.y_range(), line);
        x += apart;
    }
    let edge = Stroke::new(1.2, Color32::from_rgb(0x5A, 0x4A, 0x30));
    painter.rect_stroke(bound, 2.0, edge, StrokeKind::Inside);
}

/// A round bar seen from the side, lit from above.
fn rounded_bar(rect: Rect, colour: Color32) -> Shape {
    let tones = [
        (0.0, 0.78),
        (0.22, 1.0),
        (0.4, 1.06),
        (0.7, 0.82),
        (1.0, 0.45),
    ];
    let mut mesh = Mesh::default();
    for (share, tone) in tones {
        let shade = if tone > 1.0 {
            colour.lerp_to_gamma(Color32::WHITE, 4.0 * (tone - 1.0))
        } else {
            colour.lerp_to_gamma(Color32::BLACK, 1.0 - tone)
        };
        let y = rect.top() + share * rect.height();
        mesh.colored_vertex(pos2(rect.left(), y), shade);
        mesh.colored_vertex(pos2(rect.right(), y), shade);
    }
    for row in 0..tones.len() as u32 - 1 {
        let corner = 2 * row;
        mesh.add_triangle(corner, corner + 1, corner + 2);
        mesh.add_triangle(corner + 1, corner + 3, corner + 2);
    }
    Shape::mesh(mesh)
}
