//! What is braided round: seen from above, in the middle of the hole.

use eframe::egui::{Align2, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2};

use super::super::plate::HOLE;
use super::super::thread::colour32;
use super::Scene;
use crate::app::fonts::Face;

impl Scene<'_> {
    /// The core's end in its own colours and thickness, with a word under it.
    pub(super) fn core(&self, ui: &Ui) {
        let Some(core) = self.view.core else { return };
        let hole = HOLE * self.plate.radius;
        let width = self.plate.strand_width(core.thickness_mm);
        let radius = (0.5 * width).clamp(4.0, 0.8 * hole);
        let (centre, painter) = (self.plate.centre, ui.painter());
        painter.circle_filled(centre, radius + 2.5, self.theme.hole);
        for (nth, colour) in core.colours.iter().rev().enumerate() {
            let share = 1.0 - nth as f32 / core.colours.len() as f32;
            painter.circle_filled(centre, share * radius, colour32(*colour));
        }
        painter.circle_stroke(centre, radius, Stroke::new(1.4, self.theme.paper));
        let below = centre + vec2(0.0, hole + 12.0);
        let slip = Rect::from_center_size(below, vec2(44.0, 20.0));
        painter.rect_filled(slip, 10.0, self.theme.paper);
        let edge = Stroke::new(1.4, self.theme.ok);
        painter.rect_stroke(slip, 10.0, edge, StrokeKind::Inside);
        let font = Face::Semibold.at(12.5);
        painter.text(below, Align2::CENTER_CENTER, "core", font, self.theme.ink);
        name(
            ui,
            slip.union(Rect::from_center_size(centre, vec2(2.0, 2.0) * radius)),
            core,
        );
    }
}

fn name(ui: &Ui, rect: Rect, core: &super::super::DiscStrand) {
    let response = ui.interact(rect, ui.scope_id().with("core"), Sense::empty());
    let words = format!("core in the middle, {}", core.words);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Label, true, &words));
}
