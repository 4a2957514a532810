//! The pace from sitting to sitting, and the mistakes beside it.
//!
//! Two lines told apart by their stroke and named at their right ends: moves a minute
//! drawn through, mistakes in a hundred moves dotted, on a scale of its own from none at
//! the foot of the plot. Sittings of a few moves tell no pace and are left out.

use std::ops::RangeInclusive;

use eframe::egui::{self, Align2, Key, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use egui_plot::{
    AxisHints, GridMark, HPlacement, Line, LineStyle, Plot, PlotPoint, PlotPoints, PlotTransform,
};

use super::told;
use crate::app::clock;
use crate::app::controls::keyboard_leads;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::bench::Sitting;

/// Room for the names at the right ends of the lines.
const NAMES: f32 = 96.0;
/// Height of the plot with its axis.
const TALL: f32 = 148.0;

/// One sitting on the plot.
struct Point {
    /// When it was and how it went, to be read.
    spoken: String,
    /// Moves a minute.
    pace: f64,
    /// Mistakes in a hundred moves.
    mistakes: f64,
}

impl Point {
    fn of(sitting: &Sitting) -> Option<Self> {
        let pace = sitting.moves_a_minute()?;
        let begun = clock::moment(sitting.begins, clock::now());
        Some(Self {
            spoken: format!("{begun}: {}", told::sitting(sitting)),
            pace,
            mistakes: sitting.mistakes_in_a_hundred().unwrap_or(0.0),
        })
    }
}

/// The sittings on their scales.
struct Curves {
    points: Vec<Point>,
    /// The most moves a minute shown.
    top: f64,
    /// The most mistakes in a hundred; 0 if none were found.
    worst: f64,
}

/// Draws it; one sentence before there are two sittings.
pub(super) fn pace_ui(ui: &mut Ui, all: &[Sitting]) {
    let points: Vec<Point> = all.iter().filter_map(Point::of).collect();
    if points.len() < 2 {
        let words = "How your pace goes from sitting to sitting is drawn from the second on.";
        Role::Note.label(ui, words);
        return;
    }
    let most = |what: fn(&Point) -> f64| points.iter().map(what).fold(0.0, f64::max);
    let (top, worst) = (1.2 * most(|it| it.pace), most(|it| it.mistakes));
    let curves = Curves { points, top, worst };
    let theme = Theme::of(ui);
    ui.add_space(4.0);
    let left = ui.cursor().min;
    let size = vec2((ui.available_width() - NAMES).max(80.0), TALL);
    let (transform, plot) = plot_ui(ui, &curves, size, &theme);
    curves.names(ui, &transform, &theme);
    ui.painter().text(
        pos2(plot.center().x, left.y + TALL + 12.0),
        Align2::CENTER_CENTER,
        "sittings of ten moves or more",
        Role::Smallest.font(),
        theme.ink2,
    );
    ui.add_space(22.0);
    walk(ui, &curves, &transform, plot, &theme);
}

impl Curves {
    fn last(&self) -> usize {
        self.points.len() - 1
    }

    /// Where a share of mistakes stands on the scale of the pace.
    fn height(&self, mistakes: f64) -> f64 {
        if self.worst > 0.0 {
            return 0.6 * self.top * mistakes / self.worst;
        }
        0.0
    }

    fn line(&self, height: impl Fn(&Point) -> f64) -> PlotPoints<'static> {
        let numbered = self.points.iter().enumerate();
        numbered
            .map(|(at, point)| [number(at), height(point)])
            .collect()
    }

    fn on(&self, transform: &PlotTransform, at: usize) -> Pos2 {
        let point = PlotPoint::new(number(at), self.points[at].pace);
        transform.position_from_point(&point)
    }

    /// The lines' names with where they end, apart from one another.
    fn names(&self, ui: &Ui, transform: &PlotTransform, theme: &Theme) {
        let last = &self.points[self.last()];
        let pace = self.on(transform, self.last());
        name(
            ui,
            pace,
            "pace",
            &format!("{:.0} a minute", last.pace),
            theme,
        );
        if self.worst <= 0.0 {
            return;
        }
        let at = PlotPoint::new(number(self.last()), self.height(last.mistakes));
        let mut end = transform.position_from_point(&at);
        let apart = 38.0;
        if (end.y - pace.y).abs() < apart {
            end.y = pace.y + apart;
        }
        let value = format!("{:.1} in a hundred", last.mistakes);
        name(ui, end, "mistakes", &value, theme);
    }
}

/// The number of a sitting on the axis.
fn number(at: usize) -> f64 {
    at as f64 + 1.0
}

fn name(ui: &Ui, end: Pos2, words: &str, value: &str, theme: &Theme) {
    let painter = ui.painter();
    let at = end + vec2(9.0, -8.0);
    let font = Face::Bold.at(13.0);
    painter.text(at, Align2::LEFT_CENTER, words, font, theme.ink);
    let below = at + vec2(0.0, 16.0);
    let font = Role::Smallest.font();
    painter.text(below, Align2::LEFT_CENTER, value, font, theme.ink2);
}

fn plot_ui(ui: &mut Ui, curves: &Curves, size: egui::Vec2, theme: &Theme) -> (PlotTransform, Rect) {
    let (last, top) = (number(curves.last()), curves.top);
    let plot = Plot::new("pace by sitting")
        .width(size.x)
        .height(size.y)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_drag(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .show_crosshair(false)
        .show_grid([false, true])
        .grid_color(theme.line)
        .grid_fade(0.0)
        .label_formatter(|_| None)
        .set_margin_fraction(egui::Vec2::ZERO)
        .default_x_bounds(1.0, last)
        .default_y_bounds(0.0, top)
        .x_grid_spacer(|input| whole_marks(input.bounds, 6.0))
        .y_grid_spacer(|input| whole_marks(input.bounds, 4.0))
        .custom_x_axes(vec![axis(AxisHints::new_x(), theme)])
        .custom_y_axes(vec![
            axis(AxisHints::new_y(), theme).placement(HPlacement::Left),
        ]);
    let pace = Line::new("pace", curves.line(|it| it.pace)).stroke(Stroke::new(2.2, theme.ink));
    let mistakes = curves.line(|it| curves.height(it.mistakes));
    let mistakes = Line::new("mistakes", mistakes)
        .stroke(Stroke::new(1.6, theme.ink2))
        .style(LineStyle::Dotted { spacing: 7.0 });
    let shown = plot.show(ui, |plot| {
        plot.set_plot_bounds_x(1.0..=last);
        plot.set_plot_bounds_y(0.0..=top);
        plot.line(pace);
        if curves.worst > 0.0 {
            plot.line(mistakes);
        }
    });
    let frame = *shown.transform.frame();
    let line = Stroke::new(1.0, theme.line2);
    ui.painter().hline(frame.x_range(), frame.bottom(), line);
    (shown.transform, frame)
}

fn axis<'a>(hints: AxisHints<'a>, theme: &Theme) -> AxisHints<'a> {
    hints
        .tick_label_font(Role::Smallest.font())
        .tick_label_color(theme.ink2)
        .label_spacing(8.0..=12.0)
        .formatter(|mark: GridMark, _: &RangeInclusive<f64>| format!("{:.0}", mark.value))
}

/// At most about so many marks, at whole numbers.
fn whole_marks((from, to): (f64, f64), most: f64) -> Vec<GridMark> {
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
    let fits = |step: &f64| (to - from) / step <= most;
    let step = steps.into_iter().find(fits).unwrap_or(500.0);
    let first = (from / step).ceil() as i64;
    let last = (to / step + 1e-9).floor() as i64;
    let mark = |k: i64| GridMark {
        value: k as f64 * step,
        step_size: step,
    };
    (first..=last).map(mark).collect()
}

/// A hairline with words at the sitting under the pointer, or at the one that the arrow
/// keys have come to.
fn walk(ui: &mut Ui, curves: &Curves, transform: &PlotTransform, plot: Rect, theme: &Theme) {
    let id = ui.scope_id().with("pace by sitting");
    let response = ui.interact(plot, id, Sense::click());
    let last = curves.last();
    let kept = ui.data(|data| data.get_temp::<usize>(id));
    let mut at = kept.unwrap_or(last).min(last);
    if response.has_focus() {
        let filter = egui::EventFilter {
            horizontal_arrows: true,
            ..Default::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        let pressed = |key| ui.input(|input| input.key_pressed(key));
        if pressed(Key::ArrowRight) {
            at = (at + 1).min(last);
        }
        if pressed(Key::ArrowLeft) {
            at = at.saturating_sub(1);
        }
        ui.data_mut(|data| data.insert_temp(id, at));
    }
    if let Some(pointer) = response.hover_pos() {
        let x = transform.value_from_position(pointer).x;
        at = (x.round().max(1.0) as usize - 1).min(last);
    }
    let spoken = curves.points[at].spoken.clone();
    let label = "moves a minute from sitting to sitting";
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, label));
    ui.ctx()
        .accesskit_node_builder(id, |node| node.set_value(spoken.clone()));
    let focused = response.has_focus() && keyboard_leads(ui.ctx());
    if focused {
        stitch::focus_ring(ui.painter(), plot, 2.0, theme);
    }
    if focused || response.hovered() {
        let on = curves.on(transform, at);
        let hairline = Stroke::new(1.0, theme.ink2);
        ui.painter().vline(on.x, plot.y_range(), hairline);
        let ring = Stroke::new(2.0, theme.thread);
        ui.painter().circle(on, 4.6, theme.paper, ring);
    }
    // Always there: what stands below must not move while one points at it.
    Role::Note.label(ui, spoken);
}
