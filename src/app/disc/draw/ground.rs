//! Foam, slots, marks and hole.

use std::f32::consts::TAU;

use eframe::egui::epaint::Mesh;
use eframe::egui::{Align2, Color32, Pos2, Shape, Stroke, Ui, Vec2, vec2};

use super::super::names;
use super::super::plate::{HOLE, SLOT};
use super::Scene;
use crate::app::fonts::Face;
use crate::structure::Place;

/// Pieces a circle is cut into.
const ROUND: u32 = 96;
/// Where marks and letters of sides stand.
const MARK: f32 = 0.725;

impl Scene<'_> {
    /// The bare disc with its slots, marks and hole.
    pub(super) fn ground(&self, ui: &Ui) {
        let (centre, radius) = (self.plate.centre, self.plate.radius);
        let painter = ui.painter();
        let line = |share: f32, line: Stroke| {
            painter.add(Shape::closed_line(self.plate.outline(share), line));
        };
        painter.add(self.shadow());
        painter.add(self.foam());
        line(1.0, Stroke::new(1.4, self.theme.foamline));
        let inner = Stroke::new(1.0, self.theme.paper.gamma_multiply(0.8));
        line(1.0 - 5.0 / radius, inner);
        let faint = Stroke::new(1.0, self.theme.foamline.gamma_multiply(0.35));
        line(0.80, faint);
        line(0.655, faint);
        self.slots(ui);
        if self.plate.shape.is_disc() {
            self.marks(ui);
        } else {
            self.sides(ui);
        }
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
        bands(&[0.0, 0.3, 0.6, 0.8, 1.0].map(|share| {
            let points = self.plate.outline(share).into_iter();
            points.map(|at| (at, colour(at))).collect()
        }))
    }

    /// A soft shadow under the disc, down by 0.035 of its radius.
    fn shadow(&self) -> Shape {
        let below = vec2(0.0, 0.035 * self.plate.radius);
        let (soft, colour) = (0.09, self.theme.shade(0.27));
        bands(&[-0.5_f32, -0.3, -0.1, 0.1, 0.3, 0.5].map(|step| {
            let fade = 0.5 - step;
            let shade = colour.gamma_multiply(fade * fade * (3.0 - 2.0 * fade));
            let points = self.plate.outline(1.0 + soft * step).into_iter();
            points.map(|at| (at + below, shade)).collect()
        }))
    }

    fn slots(&self, ui: &Ui) {
        let line = Stroke::new(1.5, self.theme.foamline);
        let wedge = 0.028;
        for slot in 1..=self.view.slots {
            let place = Place::slot(slot);
            let (Some(inner), Some(rim)) = (self.plate.at(place, SLOT), self.plate.at(place, 1.0))
            else {
                continue;
            };
            ui.painter().line_segment([inner, rim], line);
            let out = (rim - self.plate.centre).normalized();
            let half = (0.5 * wedge * self.plate.radius)
                .min(TAU * self.plate.radius / f32::from(self.view.slots) * 0.25);
            let tip = rim - wedge * self.plate.radius * out;
            // Along the rim, which on a square is not straight across the strand.
            let along = self.plate.along(rim);
            let corners = vec![tip, rim + half * along, rim - half * along];
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
            let Some(at) = self.plate.at(place, MARK) else {
                continue;
            };
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

    /// The letter of each side of a square plate, in the middle of it.
    fn sides(&self, ui: &Ui) {
        let font = Face::Figures.at((self.plate.radius / 9.0).clamp(15.0, 26.0));
        for (letter, place) in names::sides(self.view.slots) {
            let Some(at) = self.plate.at(place, MARK - 0.02) else {
                continue;
            };
            let (align, ink) = (Align2::CENTER_CENTER, self.theme.ink2);
            ui.painter().text(at, align, letter, font.clone(), ink);
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
        let shares = [0.0, 0.25, 0.5, 0.75, 1.0];
        ui.painter().add(bands(&shares.map(|share: f32| {
            let turn = |step: u32| TAU * step as f32 / ROUND as f32;
            let at = |step| centre + share * radius * Vec2::angled(turn(step));
            (0..ROUND).map(at).map(|at| (at, colour(at))).collect()
        })));
    }
}

/// Closed lines of as many points each, the innermost first, with the colours of
/// their points; what lies within the first is left out.
fn bands<const N: usize>(lines: &[Vec<(Pos2, Color32)>; N]) -> Shape {
    let mut mesh = Mesh::default();
    let count = lines.iter().map(Vec::len).min().unwrap_or(0) as u32;
    for line in lines {
        for &(at, colour) in &line[..count as usize] {
            mesh.colored_vertex(at, colour);
        }
    }
    for band in 1..N as u32 {
        for step in 0..count {
            let on = (step + 1) % count;
            let (inner, outer) = ((band - 1) * count, band * count);
            mesh.add_triangle(inner + step, outer + step, outer + on);
            mesh.add_triangle(inner + step, outer + on, inner + on);
        }
    }
    Shape::mesh(mesh)
}
