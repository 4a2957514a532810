//! Foam, slots, marks and hole.

use std::f32::consts::TAU;

use eframe::egui::epaint::Mesh;
use eframe::egui::{Color32, Pos2, Shape, Stroke, Ui, Vec2, vec2};

use super::super::names;
use super::super::plate::{HOLE, SLOT, direction};
use super::Scene;
use crate::structure::Place;

/// Pieces a circle is cut into.
const ROUND: u32 = 96;

impl Scene<'_> {
    /// The bare disc with its slots, marks and hole.
    pub(super) fn ground(&self, ui: &Ui) {
        let (centre, radius) = (self.plate.centre, self.plate.radius);
        let painter = ui.painter();
        painter.add(shadow(centre, radius, self.theme.shade(0.27)));
        painter.add(self.foam());
        let rim = Stroke::new(1.4, self.theme.foamline);
        painter.circle_stroke(centre, radius, rim);
        let inner = Stroke::new(1.0, self.theme.paper.gamma_multiply(0.8));
        painter.circle_stroke(centre, radius - 5.0, inner);
        let faint = Stroke::new(1.0, self.theme.foamline.gamma_multiply(0.35));
        painter.circle_stroke(centre, 0.80 * radius, faint);
        painter.circle_stroke(centre, 0.655 * radius, faint);
        self.slots(ui);
        self.marks(ui);
        painter.circle_filled(centre, HOLE * radius, self.theme.hole);
        painter.circle_stroke(centre, HOLE * radius, Stroke::new(1.2, self.theme.foamline));
    }

    /// Foam lit from the upper left.
    fn foam(&self) -> Shape {
        let (centre, radius) = (self.plate.centre, self.plate.radius);
        let light = centre + radius * vec2(-0.2, -0.25);
        let colour = |at: Pos2| {
            let share = (at.distance(light) / (1.15 * radius)).clamp(0.0, 1.0);
            self.theme.foam.lerp_to_gamma(self.theme.foam2, share)
        };
        rings(
            centre,
            [0.0, 0.3, 0.6, 0.8, 1.0].map(|r| r * radius),
            colour,
        )
    }

    fn slots(&self, ui: &Ui) {
        let line = Stroke::new(1.5, self.theme.foamline);
        let wedge = 0.028;
        for slot in 1..=self.view.slots {
            let Some(angle) = self.plate.angle(Place::slot(slot)) else {
                continue;
            };
            let out = direction(angle);
            let ends = [self.plate.point(angle, SLOT), self.plate.point(angle, 1.0)];
            ui.painter().line_segment(ends, line);
            let half = (0.5 * wedge * self.plate.radius)
                .min(TAU * self.plate.radius / f32::from(self.view.slots) * 0.25);
            let rim = self.plate.point(angle, 1.0);
            let tip = rim - wedge * self.plate.radius * out;
            let corners = vec![tip, rim + half * out.rot90(), rim - half * out.rot90()];
            ui.painter().add(Shape::convex_polygon(
                corners,
                self.theme.foamline,
                Stroke::NONE,
            ));
        }
    }

    /// An open diamond between two slots, a quarter turn apart.
    fn marks(&self, ui: &Ui) {
        for place in names::marks(self.view.slots) {
            let Some(angle) = self.plate.angle(place) else {
                continue;
            };
            let at = self.plate.point(angle, 0.725);
            let corners = [
                vec2(0.0, -5.0),
                vec2(5.0, 0.0),
                vec2(0.0, 5.0),
                vec2(-5.0, 0.0),
            ]
            .map(|corner| at + corner);
            let line = Stroke::new(1.3, self.theme.ink2);
            ui.painter().add(Shape::closed_line(corners.to_vec(), line));
        }
    }

    /// The hole darkens to its middle, over the strands in it.
    pub(super) fn darken_hole(&self, ui: &Ui) {
        let radius = HOLE * self.plate.radius;
        let centre = self.plate.centre;
        let dark = self.theme.hole.lerp_to_gamma(Color32::BLACK, 0.5);
        let colour = |at: Pos2| {
            let share = 1.0 - (at.distance(centre) / radius).clamp(0.0, 1.0);
            dark.gamma_multiply(0.75 * share * share)
        };
        let rings = rings(
            centre,
            [0.0, 0.25, 0.5, 0.75, 1.0].map(|r| r * radius),
            colour,
        );
        ui.painter().add(rings);
    }
}

/// A disc of rings, each vertex in the colour of its point; the first ring is
/// the middle itself.
fn rings<const N: usize>(centre: Pos2, radii: [f32; N], colour: impl Fn(Pos2) -> Color32) -> Shape {
    let mut mesh = Mesh::default();
    for radius in radii {
        for step in 0..ROUND {
            let at = centre + radius * Vec2::angled(TAU * step as f32 / ROUND as f32);
            mesh.colored_vertex(at, colour(at));
        }
    }
    for ring in 1..N as u32 {
        for step in 0..ROUND {
            let on = (step + 1) % ROUND;
            let (inner, outer) = ((ring - 1) * ROUND, ring * ROUND);
            mesh.add_triangle(inner + step, outer + step, outer + on);
            mesh.add_triangle(inner + step, outer + on, inner + on);
        }
    }
    Shape::mesh(mesh)
}

/// A soft shadow under the disc, down by 0.035 of its radius.
fn shadow(centre: Pos2, radius: f32, colour: Color32) -> Shape {
    let below = centre + vec2(0.0, 0.035 * radius);
    let soft = 0.09 * radius;
    let shade = |at: Pos2| {
        let share = (at.distance(below) - (radius - soft / 2.0)) / soft;
        let fade = 1.0 - share.clamp(0.0, 1.0);
        colour.gamma_multiply(fade * fade * (3.0 - 2.0 * fade))
    };
    let steps = [-0.5, -0.3, -0.1, 0.1, 0.3, 0.5].map(|s| radius + s * soft);
    rings(below, steps, shade)
}
