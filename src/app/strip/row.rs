//! A cord on the strip: which, where, and its newest picture.

use eframe::egui::{Painter, Pos2, Rect, Ui, Vec2, pos2, vec2};

use super::{Layout, MARGIN, StripView};
use crate::app::easel::{Easel, Shown};
use crate::app::grounds::Lying;
use crate::app::order::{Lane, Sitter};
use crate::app::painting::Scene;
use crate::drawing::{Bend, View};

/// One cord, lying level.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Its place on the easel.
    pub lane: Lane,
    /// The cord.
    pub sitter: Sitter,
    /// The linen under it.
    pub rect: Rect,
    /// Whether it is an earlier cord.
    pub is_old: bool,
}

/// A picture on the linen, where the cord has been slid meanwhile and at the scale
/// of the tape, which may have changed since it was painted.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed<'a> {
    shown: &'a Shown,
    corner: Pos2,
    scale: f32,
}

impl Row {
    /// What is to be painted of it, in pixels.
    pub(super) fn scene(&self, ui: &Ui, layout: &Layout, view: &StripView, on: Lying) -> Scene {
        let pixels = ui.ctx().pixels_per_point();
        let size = (self.rect.size() * pixels).round().max(Vec2::splat(1.0));
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
            ground: on.ground(pixels),
        }
    }

    /// Its newest picture, if there is one.
    pub(super) fn placed<'a>(
        &self,
        easel: &'a Easel,
        layout: &Layout,
        view: &StripView,
    ) -> Option<Placed<'a>> {
        let shown = easel.shown(self.lane)?;
        let painted = &shown.scene.view;
        let scale = layout.per_mm / painted.pixels_per_mm as f32;
        let wanted = view.along - f64::from(MARGIN / layout.per_mm);
        let right = (painted.start_mm - wanted) as f32 * layout.per_mm;
        let down = 0.5 * (self.rect.height() - painted.height as f32 * scale);
        Some(Placed {
            shown,
            corner: self.rect.min + vec2(right, down),
            scale,
        })
    }

    /// A place on the screen in the pixels of a scene of this row.
    pub(super) fn pixel(&self, ui: &Ui, at: Pos2) -> [f64; 2] {
        let from = (at - self.rect.min) * ui.ctx().pixels_per_point();
        [f64::from(from.x), f64::from(from.y)]
    }
}

impl<'a> Placed<'a> {
    /// A bent cord's, its middle there and so many points to a millimetre.
    pub(super) fn about(shown: &'a Shown, middle: Pos2, per_mm: f32) -> Self {
        let painted = &shown.scene.view;
        let scale = per_mm / painted.pixels_per_mm as f32;
        let half = vec2(painted.centre_x as f32, painted.centre_y as f32);
        Self {
            shown,
            corner: middle - scale * half,
            scale,
        }
    }
}

impl Placed<'_> {
    /// Hangs it up.
    pub(super) fn draw(&self, painter: &Painter) {
        let painted = &self.shown.scene.view;
        let size = vec2(painted.width as f32, painted.height as f32) * self.scale;
        let at = Rect::from_min_size(self.corner, size);
        let uv = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
        let texture = self.shown.texture.id();
        painter.image(texture, at, uv, eframe::egui::Color32::WHITE);
    }

    /// A strand's floats on the screen.
    pub(super) fn floats_of(&self, strand: usize) -> Vec<Vec<Pos2>> {
        let point = |at: &[f64; 2]| self.corner + self.scale * vec2(at[0] as f32, at[1] as f32);
        let floats = self.shown.floats.iter().filter(|it| it.strand == strand);
        floats
            .map(|float| float.path.iter().map(point).collect())
            .collect()
    }
}
