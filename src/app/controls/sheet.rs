//! Sheets of paper, their heads, and rows and cards that can be chosen.

use eframe::egui::{
    self, Align, CornerRadius, Frame, Id, InnerResponse, Layout, Margin, Rect, Response, Sense,
    Stroke, Ui, UiBuilder, Vec2, WidgetInfo, vec2,
};

use super::touch;
use crate::app::fonts::Role;
use crate::app::stitch;
use crate::app::theme::{Theme, sheet_shadow};

/// Room inside a sheet, on every side.
pub const SHEET_PADDING: f32 = 22.0;
/// How far stitches round a row stand out over what it holds.
const OUTSET: f32 = 12.0;
/// How long the thread takes to run round what is chosen, seconds.
const SEWING: f32 = 0.18;

/// A sheet of paper on the table.
#[derive(Debug, Clone, Copy, Default)]
#[must_use = "a sheet has to be shown"]
pub struct Sheet {
    size: Vec2,
}

impl Sheet {
    /// A sheet as large as what lies on it.
    pub fn new() -> Self {
        Self::default()
    }

    /// At least this large, padding and all.
    pub fn size(mut self, size: impl Into<Vec2>) -> Self {
        self.size = size.into();
        self
    }

    /// Lays it down with its contents.
    pub fn show<R>(self, ui: &mut Ui, contents: impl FnOnce(&mut Ui) -> R) -> InnerResponse<R> {
        let theme = Theme::of(ui);
        let least = (self.size - Vec2::splat(2.0 * SHEET_PADDING)).max(Vec2::ZERO);
        sheet_frame(&theme).show(ui, |ui| {
            ui.set_min_size(least);
            if self.size.x > 0.0 {
                ui.set_max_width(least.x);
            }
            contents(ui)
        })
    }
}

fn sheet_frame(theme: &Theme) -> Frame {
    // By night a shadow alone does not part paper from table.
    let edge = if theme.is_night() {
        Stroke::new(1.0, theme.line)
    } else {
        Stroke::NONE
    };
    Frame {
        inner_margin: Margin::same(SHEET_PADDING as i8),
        fill: theme.paper,
        stroke: edge,
        corner_radius: CornerRadius::same(10),
        outer_margin: Margin::ZERO,
        shadow: sheet_shadow(theme),
    }
}

/// The head of a sheet, and what stands at its right end.
pub fn head<R>(ui: &mut Ui, words: &str, right: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        Role::Section.label(ui, words);
        ui.with_layout(Layout::right_to_left(Align::Center), right)
            .inner
    })
    .inner
}

/// A hairline across, with room above and below.
pub fn hairline(ui: &mut Ui) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 13.0), Sense::hover());
    let stroke = Stroke::new(1.0, Theme::of(ui).line);
    ui.painter().hline(rect.x_range(), rect.center().y, stroke);
}

/// A row or card that can be chosen; stitched round while it is.
#[derive(Debug, Clone)]
#[must_use = "a row has to be shown"]
pub struct Pick<'a> {
    name: &'a str,
    chosen: bool,
    size: Vec2,
    outset: Vec2,
    ground: bool,
    /// No edge of its own.
    bare: bool,
    id: Option<Id>,
}

impl<'a> Pick<'a> {
    /// A row across the sheet, `height` high. `name` is all a screen reader hears of it.
    pub fn row(name: &'a str, chosen: bool, height: f32) -> Self {
        Self {
            name,
            chosen,
            size: vec2(f32::INFINITY, height),
            outset: vec2(OUTSET, 0.0),
            ground: true,
            bare: false,
            id: None,
        }
    }

    /// A card of its own size; stitches stand on its edge.
    pub fn card(name: &'a str, chosen: bool, size: impl Into<Vec2>) -> Self {
        Self {
            name,
            chosen,
            size: size.into(),
            outset: Vec2::ZERO,
            ground: false,
            bare: false,
            id: None,
        }
    }

    /// Without edge and ground of its own, chosen or not: only stitches stand round it.
    pub fn bare(mut self) -> Self {
        self.bare = true;
        self
    }

    /// Under a name of its own, so that the keyboard stays on it wherever it moves.
    pub fn id(mut self, id: Id) -> Self {
        self.id = Some(id);
        self
    }

    /// Shows it; what is inside is only drawn, the row is pressed as a whole.
    pub fn show(self, ui: &mut Ui, contents: impl FnOnce(&mut Ui)) -> Response {
        let width = if self.size.x.is_finite() {
            self.size.x
        } else {
            ui.available_width()
        };
        let size = vec2(width, self.size.y);
        let (rect, response) = match self.id {
            None => ui.allocate_exact_size(size, Sense::click()),
            Some(id) => {
                let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
                (rect, ui.interact(rect, id, Sense::click()))
            }
        };
        let on = ui.is_enabled();
        response
            .widget_info(|| WidgetInfo::selected(egui::Role::ListItem, on, self.chosen, self.name));
        if !ui.is_rect_visible(rect) {
            return response;
        }
        let edge = rect.expand2(self.outset);
        self.ground(ui, edge, &response);
        let padding = if self.ground {
            vec2(0.0, 10.0)
        } else {
            vec2(10.0, 10.0)
        };
        let inner = UiBuilder::new()
            .max_rect(rect.shrink2(padding))
            .layout(Layout::top_down(Align::Min));
        let mut inner = ui.new_child(inner);
        inner.spacing_mut().item_spacing.y = 2.0;
        contents(&mut inner);
        response
    }

    fn ground(&self, ui: &Ui, edge: Rect, response: &Response) {
        let theme = Theme::of(ui);
        let painter = ui.painter();
        let id = response.id.with("sewn");
        let sewn = ui.ctx().animate_bool_with_time(id, self.chosen, SEWING);
        if self.chosen {
            let fill = if self.ground { theme.soft } else { theme.paper };
            if !self.bare {
                painter.rect_filled(edge, 8.0, fill);
            }
            let focused = touch::focused(response);
            let inset = if focused { 4.0 } else { 0.0 };
            stitch::choose_part(painter, edge.shrink(inset), 8.0 - inset, &theme, sewn);
        } else if response.hovered() && self.bare {
            let stroke = Stroke::new(1.0, theme.line2);
            painter.rect_stroke(edge, 8.0, stroke, egui::StrokeKind::Inside);
        } else if response.hovered() {
            painter.rect_filled(edge, 8.0, theme.well);
        } else if !self.ground && !self.bare {
            let stroke = Stroke::new(1.0, theme.line);
            painter.rect_stroke(edge, 8.0, stroke, egui::StrokeKind::Inside);
        }
        touch::ring(ui, response, edge.shrink(4.0), 4.0);
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use egui_kittest::kittest::{NodeT, Queryable};

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn a_row_is_chosen_by_its_name_and_says_that_it_is() {
        let chosen = Cell::new(false);
        let mut harness = window([400.0, 300.0], |ui| {
            Sheet::new().size([360.0, 200.0]).show(ui, |ui| {
                head(ui, "Strands", |_| ());
                let row = Pick::row("sea glass, strands E and G", chosen.get(), 60.0);
                if row.show(ui, |ui| drop(ui.label("sea glass"))).clicked() {
                    chosen.set(true);
                }
            });
        });
        harness.get_by_label("sea glass, strands E and G").click();
        harness.run();
        assert!(chosen.get());
        let row = harness.get_by_label("sea glass, strands E and G");
        let toggled = row.accesskit_node().toggled();
        assert_eq!(toggled, Some(egui::accesskit::Toggled::True));
    }
}
