//! The unrolled surface on the screen: a picture to paint on and to point at.

use std::sync::Arc;

use eframe::egui::{
    Color32, ColorImage, Pos2, Rect, Response, Sense, Shape, Stroke, TextureHandle, TextureOptions,
    Ui, Vec2, pos2, vec2,
};

use crate::app::stitch;
use crate::app::theme::Theme;
use crate::drawing::{Place, Relief};
use crate::material::Colour;
use crate::surface::Surface;

/// Paper round a stitched ring, so that it parts from any colour.
const RING_GAP: f32 = 5.0;

/// A surface at one size, with the pictures made of it.
#[derive(Debug)]
pub(super) struct Chart {
    /// Where its strands lie.
    pub(super) surface: Arc<Surface>,
    relief: Relief,
    corner: [f64; 2],
    is_mirrored: bool,
    hung: Vec<Hung>,
}

struct Hung {
    name: &'static str,
    stamp: u64,
    texture: TextureHandle,
}

impl std::fmt::Debug for Hung {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Hung")
            .field("name", &self.name)
            .field("stamp", &self.stamp)
            .finish_non_exhaustive()
    }
}

impl Chart {
    /// A surface drawn on so many pixels, from a place on, as it is or in a mirror.
    pub(super) fn new(
        surface: Arc<Surface>,
        size: [usize; 2],
        corner: [f64; 2],
        is_mirrored: bool,
    ) -> Self {
        let relief = Relief::new(&surface, size, corner, is_mirrored);
        Self {
            surface,
            relief,
            corner,
            is_mirrored,
            hung: Vec::new(),
        }
    }

    /// Pixels across and down.
    pub(super) fn size(&self) -> [usize; 2] {
        self.relief.size()
    }

    /// Height of what is shown, mm.
    pub(super) fn height_mm(&self) -> f64 {
        let [width, height] = self.size();
        self.surface.girth_mm * height as f64 / width as f64
    }

    /// Draws it into a rectangle; painted anew only when `stamp` is another.
    pub(super) fn show(
        &mut self,
        ui: &Ui,
        rect: Rect,
        name: &'static str,
        stamp: u64,
        colour: impl Fn(Place) -> Option<Colour> + Sync,
    ) -> Response {
        let is_new = |hung: &Hung| hung.name == name && hung.stamp == stamp;
        if !self.hung.iter().any(is_new) {
            self.hung.retain(|hung| hung.name != name);
            let raster = self.relief.picture(colour);
            let size = [raster.width, raster.height];
            let image = ColorImage::from_rgba_unmultiplied(size, &raster.rgba);
            let texture = ui.ctx().load_texture(name, image, TextureOptions::LINEAR);
            self.hung.push(Hung {
                name,
                stamp,
                texture,
            });
        }
        if let Some(hung) = self.hung.iter().find(|hung| hung.name == name) {
            let uv = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
            ui.painter()
                .image(hung.texture.id(), rect, uv, Color32::WHITE);
        }
        self.edges(ui, rect);
        ui.interact(rect, ui.scope_id().with(name), Sense::click_and_drag())
    }

    /// Thin lines round all floats.
    fn edges(&self, ui: &Ui, rect: Rect) {
        let theme = Theme::of(ui);
        let painter = ui.painter().with_clip_rect(rect);
        let stroke = Stroke::new(0.8, theme.ink3.gamma_multiply(0.8));
        for float in 0..self.surface.floats.len() {
            let copies = self.copies(rect, float).into_iter();
            painter.extend(copies.map(|path| Shape::closed_line(path, stroke)));
        }
    }

    /// What lies under a place of the rectangle it was drawn into.
    pub(super) fn under(&self, rect: Rect, at: Pos2) -> Option<Place> {
        if !rect.contains(at) {
            return None;
        }
        let [width, height] = self.size();
        let share = (at - rect.min) / rect.size();
        let pixel = |share: f32, of: usize| ((share * of as f32) as usize).min(of - 1);
        Some(
            self.relief
                .place(pixel(share.x, width), pixel(share.y, height)),
        )
    }

    /// Where a place is in the rectangle.
    fn on_screen(&self, rect: Rect, [round, height]: [f64; 2]) -> Pos2 {
        let up = ((height - self.corner[1]) / self.height_mm()) as f32;
        let off = round - self.corner[0];
        let off = if self.is_mirrored { -off } else { off };
        pos2(
            rect.left() + off as f32 * rect.width(),
            rect.bottom() - up * rect.height(),
        )
    }

    /// The copies of a float within the rectangle, as outlines.
    fn copies(&self, rect: Rect, float: usize) -> Vec<Vec<Pos2>> {
        let Some(float) = self.surface.floats.get(float) else {
            return Vec::new();
        };
        let mut outline: Vec<Pos2> = float
            .outline
            .iter()
            .map(|&p| self.on_screen(rect, p))
            .collect();
        // Corners nearer than a point are one: joints of so short lines would stick out.
        outline.dedup_by(|a, b| a.distance(*b) < 1.0);
        let outline = without_spikes(&outline);
        if outline.len() < 4 {
            return Vec::new();
        }
        let whole = Rect::from_points(&outline);
        let level = |mm: f64| (mm / self.surface.repeat_mm).floor() as i32;
        let levels = level(self.corner[1]) - 1..=level(self.corner[1] + self.height_mm()) + 1;
        let up = (self.surface.repeat_mm / self.height_mm()) as f32 * rect.height();
        let side = if self.is_mirrored { -1.0 } else { 1.0 };
        let shifts = levels.flat_map(|level| {
            let turned = side * self.surface.repeat_turn as f32 * level as f32;
            let first = (-(whole.right() - rect.left()) / rect.width() - turned).floor() as i32;
            (first..first + 4)
                .map(move |round| vec2((turned + round as f32) * rect.width(), -up * level as f32))
        });
        shifts
            .filter(|&shift| rect.intersects(whole.translate(shift)))
            .map(|shift: Vec2| outline.iter().map(|&p| p + shift).collect())
            .collect()
    }

    /// Stitches round a float, wherever it is seen.
    pub(super) fn ring(&self, ui: &Ui, rect: Rect, float: usize, theme: &Theme) {
        let painter = ui.painter().with_clip_rect(rect);
        for mut path in self.copies(rect, float) {
            path.extend(path.first().copied());
            painter.extend(stitch::thread(path.clone(), RING_GAP, theme.paper));
            painter.extend(stitch::dashed(&path, stitch::CHOSEN, theme.thread));
        }
    }

    /// A line round a float, for the pointer or the keyboard.
    pub(super) fn outline(&self, ui: &Ui, rect: Rect, float: usize, colour: Color32) {
        let painter = ui.painter().with_clip_rect(rect);
        for mut path in self.copies(rect, float) {
            path.extend(path.first().copied());
            painter.extend(stitch::thread(path, 2.0, colour));
        }
    }

    /// The float that lies that way of another, rightward and upward.
    pub(super) fn towards(&self, float: usize, way: Vec2) -> usize {
        let Some(here) = self.surface.floats.get(float) else {
            return 0;
        };
        let surface = &self.surface;
        let straight = |beside: &&crate::surface::Beside| {
            let other = &surface.floats[beside.float].middle;
            let (rounds, repeats) = (f64::from(beside.rounds), f64::from(beside.repeats));
            let right = other[0] + rounds + surface.repeat_turn * repeats - here.middle[0];
            let up = other[1] + surface.repeat_mm * repeats - here.middle[1];
            let off = vec2((right * surface.girth_mm) as f32, up as f32);
            off.normalized().dot(way)
        };
        let best = here
            .beside
            .iter()
            .max_by(|a, b| straight(a).total_cmp(&straight(b)));
        best.map_or(float, |beside| beside.float)
    }
}

/// Corners at which a line turns back on itself are left out: its joint would stick out.
fn without_spikes(outline: &[Pos2]) -> Vec<Pos2> {
    let count = outline.len();
    let turns_back = |at: usize| {
        let [a, b, c] = [at + count - 1, at, at + 1].map(|k| outline[k % count]);
        (b - a).normalized().dot((c - b).normalized()) < -0.5
    };
    let kept = (0..count).filter(|&at| !turns_back(at));
    kept.map(|at| outline[at]).collect()
}
