//! Thickness and length against pull, of the cord fresh, rested or worked.
//!
//! Two lines told apart by their stroke and named at their right ends: the
//! thickness drawn through with its spread, the length dotted, on a scale of
//! its own from nothing at the foot of the plot. What hangs on the piece stands
//! as a stitched line across both.

use std::ops::RangeInclusive;

use eframe::egui::{
    self, Align2, Key, Pos2, Rect, Response, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use egui_plot::{
    AxisHints, FilledArea, GridMark, HPlacement, Line, LineStyle, Plot, PlotPoint, PlotPoints,
    PlotTransform,
};

use super::FitView;
use crate::app::controls::{head, keyboard_leads, segments};
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::{Theme, slip_shadow};
use crate::cord::{PullPoint, State};
use crate::plan::Pendant;
use crate::quantity::{Length, Mass, UnitSystem};

/// Room for the names at the right ends of the lines.
const NAMES: f32 = 88.0;
/// Height of the plot with its axis.
const TALL: f32 = 152.0;

/// The plot with its head.
pub(super) fn pull_ui(ui: &mut Ui, view: &FitView<'_>) {
    let state = state_ui(ui);
    if view.pull.curve(state).len() < 2 {
        ui.add_space(60.0);
        Role::Text.label(ui, "How it gives under pull comes with the cord.");
        return;
    }
    ui.add_space(8.0);
    let curves = Curves::new(view, state);
    let theme = Theme::of(ui);
    let left = ui.cursor().min;
    let size = vec2(ui.available_width() - NAMES, TALL);
    let (transform, plot) = plot_ui(ui, &curves, size, &theme);
    curves.names(ui, &transform, &theme);
    let above = pendant_ui(ui, &curves, &transform, plot, &theme);
    let axis = match view.units {
        UnitSystem::Millimetres => "pull, grams hung on it",
        UnitSystem::Inches => "pull, ounces hung on it",
    };
    let axis = above.map_or(axis.to_owned(), |pendant| format!("{axis}; {pendant}"));
    ui.painter().text(
        pos2(plot.center().x, left.y + TALL + 14.0),
        Align2::CENTER_CENTER,
        axis,
        Role::Smallest.font(),
        theme.ink2,
    );
    ui.add_space(22.0);
    walk(ui, &curves, &transform, plot, &theme);
}

/// Head of the sheet with the words for the state; the one that is shown, kept while the
/// window is open.
fn state_ui(ui: &mut Ui) -> State {
    let id = ui.scope_id().with("state under pull");
    let mut state = ui.data(|data| data.get_temp(id)).unwrap_or_default();
    head(ui, "Under pull", |ui| {
        let words = State::ALL.map(|state| (state, state.word()));
        if segments(ui, "state of the cord", &mut state, &words) {
            ui.data_mut(|data| data.insert_temp(id, state));
        }
    });
    state
}

/// The points in the maker's units.
struct Curves<'a> {
    points: &'a [PullPoint],
    pendant: Option<&'a Pendant>,
    units: UnitSystem,
    /// Lowest and highest thickness shown, in the maker's unit.
    range: [f64; 2],
    /// The most it lengthens, per cent.
    longest: f64,
}

impl<'a> Curves<'a> {
    /// Of one state, on the scales of all: nothing jumps when another is chosen.
    fn new(view: &FitView<'a>, state: State) -> Self {
        let mut curves = Self {
            points: view.pull.curve(state),
            pendant: view.piece.pendant.as_ref(),
            units: view.units,
            range: [0.0, 1.0],
            longest: 0.0,
        };
        let all = || State::ALL.into_iter().flat_map(|it| view.pull.curve(it));
        let thick = |mm: f64| curves.thick(mm);
        let low = all().map(|p| thick(p.thickness.low));
        let low = low.fold(f64::INFINITY, f64::min);
        let high = all().map(|p| thick(p.thickness.high)).fold(0.0, f64::max);
        let air = 0.12 * (high - low).max(0.05 * high);
        curves.range = [low - air, high + air];
        curves.longest = all().map(|p| p.longer.value).fold(0.1, f64::max);
        curves
    }

    /// The cord under a pull between two points.
    fn at(&self, grams: f64) -> Option<f64> {
        let pair = self.points.windows(2).find(|pair| grams <= pair[1].grams)?;
        let [from, to] = [pair[0], pair[1]];
        let share = (grams - from.grams) / (to.grams - from.grams);
        let thick = |point: PullPoint| self.thick(point.thickness.value);
        Some(thick(from) + share * (thick(to) - thick(from)))
    }

    fn pull(&self, point: &PullPoint) -> f64 {
        self.in_unit(point.grams)
    }

    fn in_unit(&self, grams: f64) -> f64 {
        match self.units {
            UnitSystem::Millimetres => grams,
            UnitSystem::Inches => Mass::from_grams(grams).ounces(),
        }
    }

    /// `the pendant, 14 g`, by the name the maker gave it.
    fn pendant_words(&self, pendant: &Pendant) -> String {
        let name = match pendant.name.trim() {
            "" => "the pendant",
            name => name,
        };
        let grams = Mass::from_grams(pendant.grams).written(self.units);
        format!("{name}, {grams}")
    }

    /// The plot by its name.
    fn label(&self) -> String {
        let pendant = self.pendant.filter(|pendant| pendant.grams > 0.0);
        let with = pendant.map_or_else(String::new, |pendant| {
            format!(" with {}", self.pendant_words(pendant))
        });
        format!("thickness and length under pull{with}")
    }

    fn thick(&self, mm: f64) -> f64 {
        match self.units {
            UnitSystem::Millimetres => mm,
            UnitSystem::Inches => Length::from_mm(mm).inches(),
        }
    }

    /// Where a lengthening stands on the scale of the thickness: nothing at the
    /// foot, the most at nine tenths of the height.
    fn longer(&self, percent: f64) -> f64 {
        let [low, high] = self.range;
        low + 0.9 * (high - low) * percent / self.longest
    }

    fn line(&self, height: impl Fn(&PullPoint) -> f64) -> PlotPoints<'static> {
        self.points
            .iter()
            .map(|point| [self.pull(point), height(point)])
            .collect()
    }

    fn thickness_line(&self) -> PlotPoints<'static> {
        self.line(|point| self.thick(point.thickness.value))
    }

    fn length_line(&self) -> PlotPoints<'static> {
        self.line(|point| self.longer(point.longer.value))
    }

    fn band(&self) -> FilledArea {
        let xs: Vec<f64> = self.points.iter().map(|p| self.pull(p)).collect();
        let low: Vec<f64> = self
            .points
            .iter()
            .map(|p| self.thick(p.thickness.low))
            .collect();
        let high: Vec<f64> = self
            .points
            .iter()
            .map(|p| self.thick(p.thickness.high))
            .collect();
        FilledArea::new("spread", &xs, &low, &high)
    }

    /// The lines' names with where they end, apart from one another.
    fn names(&self, ui: &Ui, transform: &PlotTransform, theme: &Theme) {
        let Some(last) = self.points.last() else {
            return;
        };
        let at = |y: f64| transform.position_from_point(&PlotPoint::new(self.pull(last), y));
        let thick = at(self.thick(last.thickness.value));
        let mut long = at(self.longer(last.longer.value));
        let apart = 38.0;
        if (long.y - thick.y).abs() < apart {
            let above = long.y <= thick.y;
            long.y = thick.y + if above { -apart } else { apart };
        }
        let value = Length::from_mm(last.thickness.value).shown(self.units);
        let longer = last.longer.change().figure;
        name(ui, thick, "thickness", &value, Face::Bold, theme);
        name(ui, long, "length", &longer, Face::Semibold, theme);
    }

    fn spoken(&self, point: &PullPoint) -> String {
        let pull = Mass::from_grams(point.grams.round()).written(self.units);
        let thick = point.thickness.length(self.units);
        let longer = point.longer.change();
        let spread = if thick.spread.is_empty() {
            String::new()
        } else {
            format!(", {}", thick.spread)
        };
        format!(
            "at {pull}: {}{spread}; length {}",
            thick.figure, longer.figure
        )
    }
}

/// What hangs on the piece: a stitched line with its name and a ring on the curve; what is
/// to be said of it under the plot if it is heavier than that goes.
fn pendant_ui(
    ui: &Ui,
    curves: &Curves<'_>,
    transform: &PlotTransform,
    plot: Rect,
    theme: &Theme,
) -> Option<String> {
    let pendant = curves.pendant.filter(|pendant| pendant.grams > 0.0)?;
    let words = curves.pendant_words(pendant);
    let Some(thick) = curves.at(pendant.grams) else {
        return Some(format!("{words} is heavier"));
    };
    let grams = curves.in_unit(pendant.grams);
    let on = transform.position_from_point(&PlotPoint::new(grams, thick));
    let painter = ui.painter();
    let line = vec![pos2(on.x, plot.bottom()), pos2(on.x, plot.top())];
    painter.extend(stitch::dashed(&line, stitch::CHOSEN, theme.thread));
    painter.circle(on, 4.6, theme.paper, Stroke::new(2.0, theme.thread));
    let is_left = on.x < plot.center().x;
    let (align, aside) = if is_left {
        (Align2::LEFT_TOP, 7.0)
    } else {
        (Align2::RIGHT_TOP, -7.0)
    };
    let at = pos2(on.x + aside, plot.top() + 1.0);
    painter.text(at, align, words, Role::Smallest.font(), theme.ink);
    None
}

fn name(ui: &Ui, end: Pos2, words: &str, value: &str, face: Face, theme: &Theme) {
    let painter = ui.painter();
    let at = end + vec2(9.0, -8.0);
    painter.text(at, Align2::LEFT_CENTER, words, face.at(13.0), theme.ink);
    let below = at + vec2(0.0, 16.0);
    painter.text(
        below,
        Align2::LEFT_CENTER,
        value,
        Role::Note.font(),
        theme.ink2,
    );
}

fn plot_ui(
    ui: &mut Ui,
    curves: &Curves<'_>,
    size: egui::Vec2,
    theme: &Theme,
) -> (PlotTransform, Rect) {
    let most = curves.points.last().map_or(1.0, |point| curves.pull(point));
    let [low, high] = curves.range;
    let plot = Plot::new("under pull")
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
        .default_x_bounds(0.0, most)
        .default_y_bounds(low, high)
        .x_grid_spacer(|input| few_marks(input.bounds))
        .y_grid_spacer(|input| few_marks(input.bounds))
        .custom_x_axes(vec![axis(AxisHints::new_x(), theme)])
        .custom_y_axes(vec![
            axis(AxisHints::new_y(), theme).placement(HPlacement::Left),
        ]);
    let band = curves.band().fill_color(theme.line.gamma_multiply(0.55));
    let thickness =
        Line::new("thickness", curves.thickness_line()).stroke(Stroke::new(2.2, theme.ink));
    let length = Line::new("length", curves.length_line())
        .stroke(Stroke::new(1.6, theme.ink2))
        .style(LineStyle::Dotted { spacing: 7.0 });
    let shown = plot.show(ui, move |plot| {
        plot.set_plot_bounds_x(0.0..=most);
        plot.set_plot_bounds_y(low..=high);
        plot.add(band);
        plot.line(thickness);
        plot.line(length);
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
        .formatter(|mark: GridMark, _: &RangeInclusive<f64>| tick(mark))
}

/// At most four or five marks, at round numbers.
fn few_marks((from, to): (f64, f64)) -> Vec<GridMark> {
    let rough = ((to - from) / 4.0).max(1e-9);
    let size = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .map(|n| n * size)
        .find(|step| *step >= rough)
        .unwrap_or(rough);
    let first = (from / step).ceil() as i64;
    let last = (to / step + 1e-9).floor() as i64;
    (first..=last)
        .map(|k| GridMark {
            value: k as f64 * step,
            step_size: step,
        })
        .collect()
}

/// A mark's number with the places its step needs.
fn tick(mark: GridMark) -> String {
    let places = (-mark.step_size.log10()).ceil().clamp(0.0, 4.0) as usize;
    // A step of 2.5 has a place more than its size tells.
    let fine = (mark.step_size * 10f64.powi(places as i32)).fract() > 1e-6;
    let places = places + usize::from(fine);
    format!("{:.places$}", mark.value)
}

/// A hairline and a slip at the point under the pointer, or the one that the
/// arrow keys have come to.
fn walk(ui: &Ui, curves: &Curves<'_>, transform: &PlotTransform, plot: Rect, theme: &Theme) {
    let id = ui.scope_id().with("pull");
    let response = ui.interact(plot, id, Sense::click());
    let last = curves.points.len() - 1;
    let mut at = ui
        .data(|data| data.get_temp::<usize>(id))
        .unwrap_or(0)
        .min(last);
    if response.has_focus() {
        ui.memory_mut(|memory| {
            let filter = egui::EventFilter {
                horizontal_arrows: true,
                ..Default::default()
            };
            memory.set_focus_lock_filter(id, filter);
        });
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
        at = nearest(curves, transform, pointer);
    }
    let spoken = curves.spoken(&curves.points[at]);
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, curves.label()));
    ui.ctx()
        .accesskit_node_builder(id, |node| node.set_value(spoken.clone()));
    let focused = response.has_focus() && keyboard_leads(ui.ctx());
    if focused {
        stitch::focus_ring(ui.painter(), plot, 2.0, theme);
    }
    if focused || response.hovered() {
        mark(ui, curves, transform, plot, at, &response);
    }
}

fn nearest(curves: &Curves<'_>, transform: &PlotTransform, pointer: Pos2) -> usize {
    let x = transform.value_from_position(pointer).x;
    let apart = |k: &usize| (curves.pull(&curves.points[*k]) - x).abs();
    (0..curves.points.len())
        .min_by(|a, b| apart(a).total_cmp(&apart(b)))
        .unwrap_or(0)
}

fn mark(
    ui: &Ui,
    curves: &Curves<'_>,
    transform: &PlotTransform,
    plot: Rect,
    at: usize,
    response: &Response,
) {
    let theme = Theme::of(ui);
    let point = &curves.points[at];
    let value = PlotPoint::new(curves.pull(point), curves.thick(point.thickness.value));
    let on = transform.position_from_point(&value);
    let painter = ui.painter();
    painter.vline(on.x, plot.y_range(), Stroke::new(1.0, theme.ink2));
    painter.circle(on, 4.6, theme.paper, Stroke::new(2.0, theme.thread));
    let words = curves.spoken(point);
    let galley = painter.layout_no_wrap(words, Role::Note.font(), theme.ink);
    let size = galley.size() + vec2(20.0, 12.0);
    let room = ui.ctx().content_rect();
    let left = (on.x - size.x / 2.0).clamp(room.left() + 4.0, room.right() - size.x - 4.0);
    let slip = Rect::from_min_size(pos2(left, plot.top() - size.y - 4.0), size);
    let above = ui.ctx().layer_painter(egui::LayerId::new(
        egui::Order::Tooltip,
        response.id.with("slip"),
    ));
    above.add(slip_shadow(&theme).as_shape(slip, 8));
    let edge = Stroke::new(1.0, theme.line);
    above.rect(slip, 8.0, theme.paper, edge, egui::StrokeKind::Inside);
    above.galley(slip.min + vec2(10.0, 6.0), galley, theme.ink);
}
