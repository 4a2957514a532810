//! Figures, and how sure they are.
//!
//! One grammar for every standing: a guess is a ring of dashes and a dashed
//! hollow bar, what comes from elsewhere a ring and a hatched bar, what was
//! measured a filled disc and a filled bar. The word always stands beside it.

use eframe::egui::{
    self, Align2, Color32, FontId, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind,
    Ui, WidgetInfo, pos2, text::LayoutJob, text::TextWrapping, vec2,
};

use super::fonts::{Face, Role};
use super::icons::Icon;
use super::stitch;
use super::theme::Theme;
use crate::material::Standing;
use crate::quantity::Estimate;

/// Diameter of a standing's mark.
const MARK: f32 = 11.0;
/// Width and height of a range bar.
const BAR: egui::Vec2 = vec2(116.0, 8.0);
/// A bar's scale reaches this many half spreads to either side.
const REACH: f64 = 2.3;

/// The word for a standing.
pub fn standing_word(standing: Standing) -> &'static str {
    match standing {
        Standing::Guess => "guess",
        Standing::CommonPractice => "common practice",
        Standing::Source => "handbook",
        Standing::Measured => "measured",
    }
}

/// The colour of a standing's mark and word.
pub fn standing_colour(standing: Standing, theme: &Theme) -> Color32 {
    if standing == Standing::Measured {
        theme.ok
    } else {
        theme.ink2
    }
}

/// The mark of a standing round `centre`.
pub fn mark(painter: &Painter, centre: Pos2, standing: Standing, theme: &Theme) {
    let colour = standing_colour(standing, theme);
    let radius = MARK / 2.0;
    let line = Stroke::new(1.4, colour);
    match standing {
        Standing::Guess => {
            let dashes = stitch::Dashes {
                width: 1.4,
                dash: 2.6,
                gap: 2.2,
            };
            let ring = stitch::circle_outline(centre, radius);
            painter.extend(stitch::dashed(&ring, dashes, colour));
        }
        Standing::CommonPractice => {
            painter.circle_stroke(centre, radius, line);
            painter.circle_filled(centre, 1.8, colour);
        }
        Standing::Source => {
            painter.circle_stroke(centre, radius, line);
            painter.add(lower_half(centre, radius, colour));
        }
        Standing::Measured => {
            painter.circle_filled(centre, radius + 0.7, colour);
            Icon::Check.paint(painter, centre, MARK - 3.0, theme.paper);
        }
    }
}

fn lower_half(centre: Pos2, radius: f32, colour: Color32) -> Shape {
    let points = (0..=16)
        .map(|k| k as f32 / 16.0 * std::f32::consts::PI)
        .map(|turn| centre + radius * egui::Vec2::angled(turn))
        .collect();
    Shape::convex_polygon(points, colour, Stroke::NONE)
}

/// The mark with its word, or a longer remark in place of the word.
pub fn standing_ui(ui: &mut Ui, standing: Standing, remark: &str) -> Response {
    let theme = Theme::of(ui);
    let words = standing_remark(standing, remark);
    let font = Role::Note.font();
    let colour = standing_colour(standing, &theme);
    let mut job = LayoutJob::simple_singleline(words.clone(), font, colour);
    // All of it is read out; a guess may name more than a sheet has room for.
    job.wrap = TextWrapping::truncate_at_width((ui.available_width() - MARK - 7.0).max(60.0));
    let galley = ui.painter().layout_job(job);
    let size = vec2(MARK + 7.0 + galley.size().x, 18.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &words));
    let centre = rect.left_center() + vec2(MARK / 2.0 + 0.5, 0.0);
    mark(ui.painter(), centre, standing, &theme);
    let at = rect.left_center() + vec2(MARK + 7.0, -galley.size().y / 2.0);
    ui.painter().galley(at, galley, colour);
    response
}

fn standing_remark(standing: Standing, remark: &str) -> String {
    if remark.is_empty() {
        standing_word(standing).to_owned()
    } else {
        format!("{}: {remark}", standing_word(standing))
    }
}

/// What a range bar's ends stand for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The figure in the middle of the bar.
    pub middle: f64,
    /// From the middle to either end.
    pub reach: f64,
}

impl Scale {
    /// The scale on which a figure fills its share of the bar.
    pub fn round(figure: &Estimate) -> Self {
        Self::shared([figure])
    }

    /// One scale on which several figures can be compared.
    pub fn shared<'a>(figures: impl IntoIterator<Item = &'a Estimate>) -> Self {
        let (low, high) = figures
            .into_iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), figure| {
                (low.min(figure.low), high.max(figure.high))
            });
        let half = (high - low) / 2.0;
        let middle = low + half;
        let least = middle.abs().max(1e-6) * 1e-3;
        Self {
            middle,
            reach: REACH * half.max(least),
        }
    }

    /// Where a figure stands, 0 at the left end and 1 at the right, kept on the bar.
    fn share(&self, figure: f64) -> f32 {
        let share = 0.5 + (figure - self.middle) / (2.0 * self.reach);
        share.clamp(0.0, 1.0) as f32
    }
}

/// A range bar round `centre`: the spread by its standing, a tick at the figure.
///
pub fn range_bar(
    painter: &Painter,
    rect: Rect,
    figure: &Estimate,
    scale: Scale,
    standing: Standing,
    theme: &Theme,
) {
    let middle = rect.center().y;
    painter.hline(rect.x_range(), middle, Stroke::new(1.0, theme.line2));
    let at = |value: f64| rect.left() + rect.width() * scale.share(value);
    let (low, high) = (at(figure.low), at(figure.high));
    let room = (BAR.y - (high - low)).max(0.0) / 2.0;
    let bar = Rect::from_min_max(
        pos2(low - room, middle - BAR.y / 2.0),
        pos2(high + room, middle + BAR.y / 2.0),
    );
    spread(painter, bar, standing, theme);
    let tick = at(figure.value);
    let ends = middle - BAR.y..=middle + BAR.y;
    painter.vline(
        tick,
        *ends.start()..=*ends.end(),
        Stroke::new(2.0, theme.ink),
    );
}

fn spread(painter: &Painter, bar: Rect, standing: Standing, theme: &Theme) {
    let radius = BAR.y / 2.0;
    let line = Stroke::new(1.2, theme.ink2);
    match standing {
        Standing::Guess => {
            let dashes = stitch::Dashes {
                width: 1.2,
                dash: 3.0,
                gap: 2.2,
            };
            painter.rect_filled(bar, radius, theme.paper);
            let outline = stitch::rounded_outline(bar, radius);
            painter.extend(stitch::dashed(&outline, dashes, theme.ink2));
        }
        Standing::CommonPractice | Standing::Source => {
            let apart = if standing == Standing::Source {
                4.0
            } else {
                7.0
            };
            painter.rect(bar, radius, theme.paper, line, StrokeKind::Inside);
            painter.extend(stitch::hatch(bar, apart, Stroke::new(1.0, theme.ink2)));
        }
        Standing::Measured => {
            painter.rect_filled(bar, radius, theme.ok);
        }
    }
}

/// One of the figures above the strip, in words as a maker reads them.
#[derive(Debug, Clone)]
#[must_use = "a figure has to be shown"]
pub struct Figure<'a> {
    /// What it is the figure of.
    pub name: &'a str,
    /// The figure, written out without its unit.
    pub value: &'a str,
    /// Its unit.
    pub unit: &'a str,
    /// Its spread, as in "5.9 to 7.0".
    pub range: &'a str,
    /// The figure and its spread, for the bar.
    pub estimate: Estimate,
    /// What the bar's ends stand for.
    pub scale: Scale,
    /// How well it stands.
    pub standing: Standing,
    /// What the standing rests on, or how a guess could end; may be empty.
    pub remark: &'a str,
    /// How far along it is.
    pub of: Of,
}

/// How far along a figure of the design is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// Solved, in full.
    Now,
    /// Of a coarse cord; a finer figure is being computed.
    Coming,
    /// Told at once from the last cord; the solved figure is being computed.
    About,
}

impl Figure<'_> {
    /// Draws it 92 high: figure, unit, spread over its bar, standing below.
    pub fn show(self, ui: &mut Ui) -> Response {
        let (rect, response) = ui.allocate_exact_size(
            vec2(ui.available_width().clamp(260.0, 330.0), 92.0),
            Sense::hover(),
        );
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, self.spoken()));
        let theme = Theme::of(ui);
        let line = |x: f32, y: f32| rect.min + vec2(x, y);
        let after = self.name(ui, line(0.0, 15.0), &theme);
        self.about(ui, pos2(after + 7.0, rect.top() + 14.0), &theme);
        let ends = self.value_and_unit(ui, line(0.0, 62.0), Role::Figure, &theme);
        let left = 109f32.max(ends - rect.left() + 18.0);
        let ends = self.range(ui, line(left, 34.0), &theme);
        self.dots(ui, pos2(ends + 12.0, rect.top() + 35.0), &theme);
        let bar = Rect::from_min_size(line(left, 49.0), BAR);
        self.bar(ui, bar, &theme);
        self.standing(ui, line(0.0, 81.0), &theme);
        response
    }

    /// Draws it in two lines, 46 high, where room is short.
    pub fn show_compact(self, ui: &mut Ui) -> Response {
        let (rect, response) = ui.allocate_exact_size(
            vec2(ui.available_width().clamp(100.0, 300.0), 42.0),
            Sense::hover(),
        );
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, self.spoken()));
        let theme = Theme::of(ui);
        let line = |x: f32, y: f32| rect.min + vec2(x, y);
        let after = self.name(ui, line(0.0, 9.0), &theme);
        let beside = pos2(after + 10.0, rect.top() + 9.0);
        let left = self.nearly(ui, line(0.0, 38.0), &theme);
        let ends = self.value_and_unit(ui, left, Role::FigureCompact, &theme);
        if rect.width() < 184.0 {
            // No room for words; they are in the tip and in the list of all.
            let centre = pos2((ends + 14.0).min(rect.right() - 6.0), rect.top() + 30.0);
            mark(ui.painter(), centre, self.standing, &theme);
            return response;
        }
        self.standing(ui, beside, &theme);
        self.range(ui, pos2(ends + 12.0, rect.top() + 31.0), &theme);
        response
    }

    /// The name; where it ends.
    fn name(&self, ui: &Ui, at: Pos2, theme: &Theme) -> f32 {
        let font = Role::Label.font();
        ui.painter()
            .text(at, Align2::LEFT_CENTER, self.name, font, theme.ink2)
            .right()
    }

    /// The sign before a first answer where there is no room for the word; where it ends.
    fn nearly(&self, ui: &Ui, at: Pos2, theme: &Theme) -> Pos2 {
        if self.of != Of::About {
            return at;
        }
        let font = Face::Regular.at(19.0);
        let end = on_base_line(ui.painter(), at, "≈", font, theme.ink2);
        pos2(end + 3.0, at.y)
    }

    /// Over the figure, so that it stays where it is when the solved one comes.
    fn about(&self, ui: &Ui, at: Pos2, theme: &Theme) {
        if self.of == Of::About {
            let font = Face::Italic.at(17.0);
            ui.painter()
                .text(at, Align2::LEFT_CENTER, "about", font, theme.ink);
        }
    }

    /// The spread; where it ends.
    fn range(&self, ui: &Ui, at: Pos2, theme: &Theme) -> f32 {
        let font = Face::Regular.at(13.5);
        ui.painter()
            .text(at, Align2::LEFT_CENTER, self.range, font, theme.ink2)
            .right()
    }

    fn spoken(&self) -> String {
        let (about, age) = match self.of {
            Of::Now => ("", ""),
            Of::Coming => ("", ", a finer figure is on its way"),
            Of::About => ("about ", ", first answer, the solved figure is on its way"),
        };
        format!(
            "{}: {about}{} {}, {}, {}{age}",
            self.name,
            self.value,
            self.unit,
            self.range,
            standing_remark(self.standing, self.remark),
        )
    }

    /// The figure with its unit on one base line; where they end.
    fn value_and_unit(&self, ui: &Ui, at: Pos2, role: Role, theme: &Theme) -> f32 {
        let unit = if role == Role::Figure {
            Role::Unit.font()
        } else {
            Face::Italic.at(16.0)
        };
        let value = short_minus(self.value);
        let mut font = role.font();
        // Nor do its figures make a fraction round the slash.
        if value.contains(['⁄', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']) {
            font = Face::Regular.at(0.9 * font.size);
        }
        // Its plus is as large as a numeral; a smaller one reads as a sign.
        let (value, start) = match value.strip_prefix('+') {
            Some(rest) => {
                let plus = Face::Regular.at(0.6 * font.size);
                let raised = at - vec2(0.0, 0.1 * font.size);
                let end = on_base_line(ui.painter(), raised, "+", plus, theme.ink2);
                (rest.to_owned(), pos2(end + 2.0, at.y))
            }
            None => (value, at),
        };
        let end = on_base_line(ui.painter(), start, &value, font, theme.ink);
        let beside = pos2(end + 6.0, at.y);
        on_base_line(ui.painter(), beside, self.unit, unit, theme.ink2)
    }

    fn bar(&self, ui: &Ui, bar: Rect, theme: &Theme) {
        let painter = ui.painter();
        range_bar(
            painter,
            bar,
            &self.estimate,
            self.scale,
            self.standing,
            theme,
        );
    }

    /// Three dots run along while a better figure is on its way.
    fn dots(&self, ui: &Ui, at: Pos2, theme: &Theme) {
        if self.of == Of::Now {
            return;
        }
        let beat = (ui.input(|input| input.time) * 3.0) as usize % 3;
        for dot in 0..3 {
            let centre = at + vec2(7.0 * dot as f32, 0.0);
            let size = if dot == beat { 2.4 } else { 1.3 };
            ui.painter().circle_filled(centre, size, theme.ink2);
        }
        ui.ctx().request_repaint_after_secs(0.33);
    }

    fn standing(&self, ui: &Ui, at: Pos2, theme: &Theme) {
        let centre = at + vec2(MARK / 2.0 + 0.5, 0.0);
        mark(ui.painter(), centre, self.standing, theme);
        let colour = standing_colour(self.standing, theme);
        let words = standing_remark(self.standing, self.remark);
        let text = at + vec2(MARK + 7.0, 0.0);
        let font = Role::Note.font();
        ui.painter()
            .text(text, Align2::LEFT_CENTER, words, font, colour);
    }
}

/// A figure as it is drawn: the minus of the figures' face is as wide as a dash,
/// its short dash is not.
pub(super) fn short_minus(figure: &str) -> String {
    figure.replace('−', "–")
}

/// One line of text standing on `at`; where it ends.
fn on_base_line(painter: &Painter, at: Pos2, words: &str, font: FontId, colour: Color32) -> f32 {
    let galley = painter.layout_no_wrap(words.to_owned(), font, colour);
    let base = galley
        .rows
        .first()
        .and_then(|row| Some(row.pos.y + row.row.glyphs.first()?.pos.y));
    let end = at.x + galley.size().x;
    painter.galley(at - vec2(0.0, base.unwrap_or_default()), galley, colour);
    end
}

#[cfg(test)]
mod tests {
    use egui_kittest::kittest::Queryable;

    use super::*;
    use crate::app::controls::bench::window;

    fn thickness() -> Estimate {
        Estimate {
            value: 6.4,
            low: 5.9,
            high: 7.0,
        }
    }

    #[test]
    fn the_ends_of_a_spread_stand_evenly_on_their_own_scale() {
        let scale = Scale::round(&thickness());
        let (low, high) = (scale.share(5.9), scale.share(7.0));
        assert!((low + high - 1.0).abs() < 1e-6, "{low} and {high}");
        // Half a spread is one part in 2.3 of half the bar.
        assert!((f64::from(high) - (0.5 + 0.5 / REACH)).abs() < 1e-6);
    }

    #[test]
    fn a_figure_without_spread_stands_in_the_middle() {
        let scale = Scale::round(&Estimate::exact(3.0));
        assert!((scale.share(3.0) - 0.5).abs() < 1e-6);
        assert!(Scale::round(&Estimate::exact(0.0)).share(0.0).is_finite());
    }

    fn rested(of: Of) -> Figure<'static> {
        Figure {
            name: "Rested",
            value: "6.4",
            unit: "mm",
            range: "5.9 to 7.0",
            estimate: thickness(),
            scale: Scale::round(&thickness()),
            standing: Standing::Guess,
            remark: "no swatch of surf yet",
            of,
        }
    }

    #[test]
    fn a_figure_is_read_out_with_spread_and_standing() {
        let harness = window([400.0, 200.0], |ui| {
            rested(Of::Now).show(ui);
        });
        harness.get_by_label("Rested: 6.4 mm, 5.9 to 7.0, guess: no swatch of surf yet");
    }

    #[test]
    fn a_first_answer_is_read_out_as_such() {
        let harness = window([400.0, 200.0], |ui| {
            rested(Of::About).show_compact(ui);
        });
        harness.get_by_label(
            "Rested: about 6.4 mm, 5.9 to 7.0, guess: no swatch of surf yet, \
             first answer, the solved figure is on its way",
        );
    }
}
