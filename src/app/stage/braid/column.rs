//! The column beside the disc: words from the top down and controls from the bottom up,
//! all as large as the column allows.

use eframe::egui::{
    Align2, Color32, FontId, Rect, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::app::fonts::Face;
use crate::app::theme::Theme;

/// Size of the column that the figures are drawn for, points.
const FULL: [f32; 2] = [564.0, 650.0];
/// The same where only what is needed stands.
const TIGHT: [f32; 2] = [470.0, 430.0];
/// Below this height only what is needed stands.
const TIGHT_UNDER: f32 = 480.0;
/// The smallest words there are.
const SMALLEST: f32 = 12.5;

/// A column that is being filled.
pub(super) struct Column<'a> {
    pub(super) ui: &'a mut Ui,
    /// What is still free of it.
    pub(super) left: Rect,
    /// How much larger than drawn everything is.
    pub(super) scale: f32,
    /// Whether only what is needed stands in it.
    pub(super) tight: bool,
    pub(super) theme: Theme,
    words: u32,
}

impl<'a> Column<'a> {
    /// In all of `ui`.
    pub(super) fn new(ui: &'a mut Ui) -> Self {
        let rect = ui.max_rect();
        let tight = rect.height() < TIGHT_UNDER;
        let [wide, tall] = if tight { TIGHT } else { FULL };
        let scale = (rect.width() / wide).min(rect.height() / tall);
        let margin = (if tight { 4.0 } else { 24.0 }) * scale;
        Self {
            left: rect.shrink2(vec2(0.0, margin)),
            scale: scale.clamp(0.4, 2.2),
            tight,
            theme: Theme::of(ui),
            words: 0,
            ui,
        }
    }

    /// A size that grows with the column; never too small to read.
    pub(super) fn size(&self, points: f32) -> f32 {
        let small = SMALLEST.min(points);
        (points * self.scale).max(small)
    }

    /// A face at such a size.
    pub(super) fn font(&self, face: Face, points: f32) -> FontId {
        face.at(self.size(points))
    }

    /// Room left free at the top.
    pub(super) fn gap(&mut self, points: f32) {
        self.left.min.y += points * self.scale;
    }

    /// A strip at the top, taken from what is free.
    pub(super) fn top(&mut self, tall: f32) -> Rect {
        let strip = self.left.with_max_y(self.left.top() + tall);
        self.left.min.y += tall;
        strip
    }

    /// A strip at the bottom, taken from what is free.
    pub(super) fn bottom(&mut self, tall: f32) -> Rect {
        let strip = self.left.with_min_y(self.left.bottom() - tall);
        self.left.max.y -= tall;
        strip
    }

    /// Words at the top, as wide as the column, read out as they stand.
    pub(super) fn words(&mut self, words: &str, font: FontId, colour: Color32) {
        if words.is_empty() {
            return;
        }
        let galley = self
            .ui
            .painter()
            .layout(words.to_owned(), font, colour, self.left.width());
        let strip = self.top(galley.size().y);
        self.ui.painter().galley(strip.min, galley, colour);
        self.name(strip, words);
    }

    /// The same, left out where they do not fit in what is free.
    pub(super) fn words_if_room(&mut self, words: &str, font: FontId, colour: Color32) {
        let painter = self.ui.painter();
        let wide = self.left.width();
        let galley = painter.layout(words.to_owned(), font.clone(), colour, wide);
        if galley.size().y <= self.left.height() + 2.0 {
            self.words(words, font, colour);
        }
    }

    /// Words in one line within `rect`, at its left or right end, cut off nowhere: smaller
    /// where they are too long.
    pub(super) fn line(&self, rect: Rect, align: Align2, words: &str, font: FontId, ink: Color32) {
        let painter = self.ui.painter();
        let wide = painter
            .layout_no_wrap(words.to_owned(), font.clone(), ink)
            .size()
            .x;
        let fits = (rect.width() / wide.max(1.0)).min(1.0);
        let font = FontId::new((font.size * fits).max(10.0), font.family);
        let at = align.pos_in_rect(&rect);
        painter.text(at, align, words, font, ink);
    }

    /// A name for what was drawn in `rect`.
    pub(super) fn name(&mut self, rect: Rect, words: &str) {
        self.words += 1;
        let id = self.ui.scope_id().with(("words", self.words));
        let response = self.ui.interact(rect, id, Sense::empty());
        let role = eframe::egui::Role::Label;
        response.widget_info(|| WidgetInfo::labeled(role, true, words));
    }

    /// A hairline across, with room above and below.
    pub(super) fn hairline(&mut self) {
        let strip = self.top(self.size(18.0).min(26.0));
        let line = Stroke::new(1.0, self.theme.line2.gamma_multiply(0.5));
        let painter = self.ui.painter();
        painter.hline(strip.x_range(), strip.center().y, line);
    }

    /// Controls in a part of the column.
    pub(super) fn controls<R>(
        &mut self,
        rect: Rect,
        name: &str,
        contents: impl FnOnce(&mut Ui) -> R,
    ) -> R {
        let builder = UiBuilder::new().max_rect(rect).id_salt(name);
        self.ui.scope_builder(builder, contents).inner
    }

    /// What is free at the top as a place for controls of the toolkit's own layout.
    pub(super) fn rest(&self) -> Rect {
        Rect::from_min_max(self.left.min, pos2(self.left.right(), self.left.bottom()))
    }
}
