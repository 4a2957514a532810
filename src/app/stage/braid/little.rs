//! A small disc with its strands: how it lay, what went wrong, one step of a way.
//!
//! Drawn only; what it shows is said beside it.

use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2, vec2};

use crate::app::stitch;
use crate::app::theme::Theme;
use crate::bench::Lying;
use crate::structure::{self, Place};

/// Radius of the hole, a share of the disc's.
const HOLE: f32 = 0.2;
/// Where a strand ends.
const END: f32 = 1.0;

/// What is drawn of a small disc.
#[derive(Debug, Clone, Copy)]
pub(super) struct LittleDisc<'a> {
    /// Round, or square.
    pub(super) plate: structure::Plate,
    /// Number of slots.
    pub(super) slots: u16,
    /// How far it is turned clockwise, radians.
    pub(super) turn: f32,
    /// What lies where.
    pub(super) lying: &'a Lying,
    /// The colour of each strand.
    pub(super) colours: &'a [Color32],
    /// From where to where arrows lead: what went wrong, or what is to be done.
    pub(super) arrows: &'a [(Place, Place)],
}

impl LittleDisc<'_> {
    /// Draws it as large as `rect` has room for.
    pub(super) fn paint(&self, painter: &Painter, rect: Rect, theme: &Theme) {
        let ground = Ground {
            centre: rect.center(),
            radius: 0.5 * rect.width().min(rect.height()) / 1.08,
            plate: self.plate,
            slots: self.slots,
            turn: self.turn,
        };
        ground.foam(painter, theme);
        for &strand in self.lying.upwards() {
            self.strand(painter, &ground, strand, theme);
        }
        let hole = HOLE * ground.radius;
        painter.circle_filled(ground.centre, 0.55 * hole, theme.hole);
        // Of very many arrows each would hide the others.
        for &(from, to) in self.arrows.iter().take(4) {
            ground.arrow(painter, from, to, theme);
        }
    }

    fn strand(&self, painter: &Painter, ground: &Ground, strand: usize, theme: &Theme) {
        let Some(&place) = self.lying.places().get(strand) else {
            return;
        };
        let tip = match place {
            Place::Hand => ground.centre + vec2(0.0, -0.45 * ground.radius),
            _ => ground.at(place, END),
        };
        let colour = self.colours.get(strand).copied().unwrap_or(theme.ink2);
        let width = (0.085 * ground.radius).clamp(2.0, 6.0);
        let out = (tip - ground.centre).normalized();
        let from = ground.centre + 0.4 * HOLE * ground.radius * out;
        let rim = if theme.is_night() {
            colour.lerp_to_gamma(Color32::WHITE, 0.45)
        } else {
            colour.lerp_to_gamma(Color32::BLACK, 0.55)
        };
        painter.line_segment([from, tip], Stroke::new(width + 1.4, rim));
        painter.line_segment([from, tip], Stroke::new(width, colour));
    }
}

/// Where things stand on it.
struct Ground {
    centre: Pos2,
    radius: f32,
    plate: structure::Plate,
    slots: u16,
    turn: f32,
}

impl Ground {
    fn at(&self, place: Place, share: f32) -> Pos2 {
        if place == Place::Hand {
            return self.centre;
        }
        let [right, away] = self.plate.point(place, self.slots).map(|x| x as f32);
        let (sin, cos) = self.turn.sin_cos();
        let turned = vec2(right * cos + away * sin, right * sin - away * cos);
        self.centre + share * self.radius * turned
    }

    fn foam(&self, painter: &Painter, theme: &Theme) {
        let line = Stroke::new(1.2, theme.foamline);
        match self.plate {
            structure::Plate::Disc => {
                painter.circle(self.centre, self.radius, theme.foam, line);
            }
            structure::Plate::Square => {
                let square = Rect::from_center_size(self.centre, Vec2::splat(2.0 * self.radius));
                let kind = eframe::egui::StrokeKind::Middle;
                painter.rect(square, 0.07 * self.radius, theme.foam, line, kind);
            }
        }
        // The far side, so that one sees which way it lies.
        let top = self.at(Place::Rim(2 * self.slots + 1), 0.93);
        painter.circle_filled(top, 1.6, theme.foamline);
        painter.circle_filled(self.centre, HOLE * self.radius, theme.hole);
    }

    /// Bowed, so that it parts from the strand it is about; a ring of dots where it began.
    fn arrow(&self, painter: &Painter, from: Place, to: Place, theme: &Theme) {
        let (a, b) = (self.at(from, 0.82), self.at(to, 0.82));
        let way = b - a;
        if way.length() < 1.0 {
            return;
        }
        let handle = a + 0.5 * way + 0.22 * way.rot90();
        let point = |t: f32| a.lerp(handle, t).lerp(handle.lerp(b, t), t);
        let line: Vec<Pos2> = (0..=14).map(|k| point(k as f32 / 14.0)).collect();
        let wide = (0.06 * self.radius).clamp(2.0, 4.0);
        painter.add(Shape::line(
            line.clone(),
            Stroke::new(wide + 2.4, theme.paper),
        ));
        painter.add(Shape::line(line.clone(), Stroke::new(wide, theme.thread)));
        let ring = stitch::circle_outline(a, 1.7 * wide);
        painter.circle_filled(a, 1.7 * wide, theme.paper);
        painter.extend(stitch::dotted(&ring, 1.6, 3.2, theme.thread));
        let ahead = (b - line[12]).normalized();
        let side = ahead.rot90();
        let (tip, foot) = (b + 1.2 * wide * ahead, b - 1.6 * wide * ahead);
        let head = vec![tip, foot + 1.7 * wide * side, foot - 1.7 * wide * side];
        let edge = Stroke::new(1.0, theme.paper);
        painter.add(Shape::convex_polygon(head, theme.thread, edge));
    }
}
