//! Paint: the unrolled surface, what is wished for on it, and what can be braided.
//!
//! The maker paints on the surface of the solved cord; beside it stands the arrangement
//! that agrees best, with what no arrangement of these moves can show.

mod braided;
mod chart;
mod painted;
mod reasons;
mod search;
mod unrolling;

use std::collections::BTreeSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use eframe::egui::{Color32, Pos2, Rect, Response, Sense, Ui, Vec2, vec2};

use crate::app::command::Command;
use crate::app::controls::{SHEET_PADDING, Sheet};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::Role;
use crate::app::photo::Photo;
use crate::app::theme::Theme;
use crate::app::words;
use crate::cord::Cord;
use crate::document::Design;
use crate::drawing::Place;
use crate::material::colour::Photograph;
use crate::material::{Colour, Strand};
use crate::pattern::{Arrangement, Contents, Crop, Painting, Wish};
use crate::structure::MoveList;
use crate::surface::Float;

use super::{LookView, page};
use chart::Chart;
use search::{Search, Terms};
use unrolling::Unrolling;

/// Strokes that can be taken back.
const STROKES: usize = 60;

/// What a stroke does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Reach {
    /// Paints a stitch all over.
    #[default]
    Stitch,
    /// Paints as far as the brush goes.
    Free,
    /// Chooses the strand.
    Hand,
}

/// How many strands shall have each colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum StrandsEach {
    /// As many as it takes.
    #[default]
    Any,
    /// By how much of it was painted.
    AsPainted,
    /// As many as have it now.
    AsNow,
}

/// What is wished for, and what came of it.
#[derive(Debug, Default)]
pub struct PaintView {
    /// The surface of the cord `of`.
    chart: Option<Chart>,
    of: Option<Arc<Cord>>,
    unrolling: Option<Unrolling>,
    painting: Option<Painting>,
    /// Paintings before each stroke.
    before: Vec<Painting>,
    /// Whether a stroke is going on.
    is_down: bool,
    /// The cord's colours, those that were painted with among them.
    colours: Vec<Colour>,
    /// Which of them; none leaves open.
    brush: Option<u8>,
    reach: Reach,
    /// The pattern that was laid on last, and how often each colour comes.
    wish: Option<Wish>,
    times: u16,
    /// How many colours patterns have, the brush's first.
    of_colours: u16,
    /// The stitch that the keyboard is on.
    walked: usize,
    /// A strand to be chosen, after the frame.
    chooses: Option<usize>,
    /// Which painted stitch is asked about.
    asked_why: Option<usize>,
    /// A photograph that is laid on, and which part of it.
    photograph: Option<(Arc<Photograph>, Crop)>,
    /// Whether the photograph on the table is to be laid on, or one asked for.
    wants_photograph: bool,
    awaits_photograph: bool,
    /// How many strands shall have each colour.
    strands_each: StrandsEach,
    search: Search,
}

/// The page.
pub(super) fn page_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let size = view.paint.size_words(desk);
    let inner = page::head_ui(ui, rect, view, |ui, _| {
        Role::Section.label(ui, "Paint");
        Role::Note.label(
            ui,
            format!("what you want to see on the unrolled surface{size}"),
        );
    });
    view.paint.prepare(desk);
    view.colours.photo.collect(ui.ctx());
    photograph_ui(view, wants);
    if inner.width() >= 1040.0 {
        wide_ui(ui, inner, desk, view, easel, wants);
    } else {
        narrow_ui(ui, inner, desk, view, easel, wants);
    }
    view.paint.seek(ui, desk, &mut view.samples);
    if let Some(strand) = view.paint.chooses.take() {
        let was_alone = view.chosen.len() == 1 && view.chosen.contains(&strand);
        view.chosen.clear();
        if !was_alone {
            view.chosen.insert(strand);
        }
    }
}

/// A photograph is asked for, and laid on when it has come.
fn photograph_ui(view: &mut LookView, wants: &mut Vec<Command>) {
    let paint = &mut view.paint;
    let table = &view.colours.photo;
    if std::mem::take(&mut paint.wants_photograph) {
        paint.awaits_photograph = true;
        if table.photo.is_none() || paint.photograph.is_some() {
            wants.push(Command::AskPhotograph);
        }
    }
    let is_other = |photo: &Photo| {
        let laid = paint.photograph.as_ref();
        laid.is_none_or(|(laid, _)| !Arc::ptr_eq(laid, &photo.photograph))
    };
    if let Some(photo) = table
        .photo
        .as_ref()
        .filter(|photo| paint.awaits_photograph && is_other(photo))
    {
        paint.awaits_photograph = false;
        paint.lay(Arc::clone(&photo.photograph), Crop::default());
    }
}

fn wide_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let gap = super::GAP.min(20.0);
    let right = (0.32 * rect.width()).clamp(320.0, 460.0);
    let each = (rect.width() - right - 2.0 * gap) / 2.0;
    let column = |k: f32, width: f32| {
        let left = rect.left() + k * (each + gap);
        Rect::from_min_max(
            eframe::egui::pos2(left, rect.top() + 4.0),
            eframe::egui::pos2(left + width, rect.bottom() - 16.0),
        )
    };
    sheet_ui(ui, "painted", column(0.0, each), |ui, height| {
        painted::painted_ui(ui, height, desk, &mut view.paint);
    });
    sheet_ui(ui, "braided", column(1.0, each), |ui, height| {
        braided::braided_ui(ui, height, desk, &mut view.paint);
    });
    let last = column(2.0, right);
    super::column(ui, "reasons", last, |ui| {
        reasons::reasons_ui(ui, desk, view, easel, wants);
    });
}

fn narrow_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    super::column(ui, "paint", rect, |ui| {
        let width = ui.available_width();
        let gap = 16.0;
        let each = if width < 640.0 {
            width
        } else {
            0.5 * (width - gap)
        };
        // A surface nearly as high as it is wide, whatever has to be rolled.
        let height = 0.85 * each + 180.0;
        let both = if each < width {
            height
        } else {
            2.0 * height + gap
        };
        let (room, _) = ui.allocate_exact_size(vec2(width, both), Sense::hover());
        let first = Rect::from_min_size(room.min, vec2(each, height));
        let second = Rect::from_min_size(room.max - vec2(each, height), vec2(each, height));
        sheet_ui(ui, "painted", first, |ui, height| {
            painted::painted_ui(ui, height, desk, &mut view.paint);
        });
        sheet_ui(ui, "braided", second, |ui, height| {
            braided::braided_ui(ui, height, desk, &mut view.paint);
        });
        ui.add_space(gap);
        reasons::reasons_ui(ui, desk, view, easel, wants);
    });
}

/// A sheet that fills a rectangle; its content is told the height that it has.
fn sheet_ui(ui: &mut Ui, name: &str, rect: Rect, content: impl FnOnce(&mut Ui, f32)) {
    let builder = eframe::egui::UiBuilder::new().max_rect(rect).id_salt(name);
    ui.scope_builder(builder, |ui| {
        Sheet::new().size(rect.size()).show(ui, |ui| {
            let height = rect.height() - 2.0 * SHEET_PADDING;
            content(ui, height);
        });
    });
}

impl PaintView {
    /// Another design is on the table.
    pub fn turn_to(&mut self) {
        *self = Self::default();
    }

    /// Colours of the design, and the surface of its cord if it has come.
    fn prepare(&mut self, desk: &Desk<'_>) {
        self.times = self.times.max(1);
        self.of_colours = self.of_colours.max(2);
        let now = colours_of(desk.design);
        if self.is_unpainted() {
            self.colours = now;
        } else {
            // Cells tell a colour by its place: none may go.
            let new = now.into_iter().filter(|it| !self.colours.contains(it));
            let new: Vec<Colour> = new.collect();
            self.colours.extend(new);
        }
        let most = self.colours.len();
        self.brush = self.brush.filter(|&brush| usize::from(brush) < most);
        if self.chart.is_none() && most > 0 {
            self.brush = Some(0);
        }
        let heard = self.unrolling.as_ref().and_then(Unrolling::heard);
        if let Some(chart) = heard {
            self.of = self.unrolling.take().map(|it| it.cord);
            if let Some(chart) = &chart {
                self.fit_painting(chart);
            }
            self.chart = chart;
        }
    }

    /// Looks for what can be braided, once the hand rests.
    fn seek(&mut self, ui: &Ui, desk: &Desk<'_>, samples: &mut Vec<(String, MoveList)>) {
        let (Some(painting), Some(chart)) = (&self.painting, &self.chart) else {
            return;
        };
        if painting.painted() == 0 {
            self.search.forget();
            return;
        }
        if self.is_down {
            return;
        }
        let now = self.arrangement(desk.design);
        let colours = self.colours.len();
        let mut counts = now.counts();
        counts.resize(colours, 0);
        let terms = Terms {
            contents: match self.strands_each {
                StrandsEach::Any => Contents::UpTo(colours),
                StrandsEach::AsPainted => {
                    Contents::Counts(painting.counts(desk.design.strands.len(), colours))
                }
                StrandsEach::AsNow => Contents::Counts(counts),
            },
            now,
            size: chart.size(),
        };
        let painting = painting.clone();
        self.search.ask(ui, desk, &painting, &terms, samples);
    }

    /// The first colour of each strand, as places in the list of colours.
    fn arrangement(&self, design: &Design) -> Arrangement {
        let place = |strand: &Strand| {
            let colour = strand.parts.first().map(|part| part.colour);
            let at = self.colours.iter().position(|it| Some(*it) == colour);
            at.map_or(0, |at| at as u8)
        };
        Arrangement(design.strands.iter().map(place).collect())
    }

    /// A painting stays on another cord as long as it is as high, by its girth.
    fn fit_painting(&mut self, chart: &Chart) {
        let fresh = Painting::open(&chart.surface, chart.height_mm());
        if self.painting.as_ref().map(Painting::size) != Some(fresh.size()) {
            self.painting = Some(fresh);
            self.before.clear();
        }
        self.walked = self
            .walked
            .min(chart.surface.floats.len().saturating_sub(1));
    }

    /// The rectangle of a chart in the room that is left, and its surface sent for.
    fn place(&mut self, ui: &mut Ui, height: f32) -> Rect {
        let size = vec2(ui.available_width(), height.max(120.0) - 44.0);
        ui.allocate_exact_size(size.floor(), Sense::hover()).0
    }

    /// Sends for the surface of the cord at the size of a rectangle.
    fn unroll(&mut self, ui: &Ui, rect: Rect, desk: &Desk<'_>) {
        let Some(cord) = desk.solver.solved().cord() else {
            return;
        };
        let pixels = rect.size() * ui.ctx().pixels_per_point();
        let size = [pixels.x.round() as usize, pixels.y.round() as usize];
        let is_there = self
            .chart
            .as_ref()
            .is_some_and(|chart| chart.size() == size)
            && self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, cord));
        let is_coming = self
            .unrolling
            .as_ref()
            .is_some_and(|it| it.is_for(cord, size));
        if !is_there && !is_coming {
            self.unrolling = Some(Unrolling::send(ui.ctx(), cord, size));
        }
    }

    fn show_painted(&mut self, ui: &Ui, rect: Rect) -> Option<Response> {
        let theme = Theme::of(ui);
        let painting = self.painting.as_ref()?;
        let stamp = stamp((painting.cells(), theme.is_night(), &self.colours));
        let colours = &self.colours;
        let colour = |place: Place| {
            let painted = painting.at([place.round, place.height_mm]);
            let colour = painted.and_then(|at| colours.get(usize::from(at)).copied());
            painted::tone(place, colour, &theme)
        };
        Some(
            self.chart
                .as_mut()?
                .show(ui, rect, "painted surface", stamp, colour),
        )
    }

    fn under(&self, rect: Rect, at: Pos2) -> Option<Place> {
        self.chart.as_ref()?.under(rect, at)
    }

    fn outline(&self, ui: &Ui, rect: Rect, float: usize, colour: Color32) {
        if let Some(chart) = &self.chart {
            chart.outline(ui, rect, float, colour);
        }
    }

    /// Width and height of what is shown, in words; none before it is there.
    fn size_words(&self, desk: &Desk<'_>) -> String {
        let mm = |mm: f64| words::length(mm, desk.units());
        let chart = self.chart.as_ref();
        chart.map_or_else(String::new, |chart| {
            let (wide, up) = (mm(chart.surface.girth_mm), mm(chart.height_mm()));
            format!(": once round, {wide}, and {up} up")
        })
    }

    fn is_unpainted(&self) -> bool {
        self.painting.as_ref().is_none_or(|it| it.painted() == 0)
    }

    fn painted_at(&self, at: [f64; 2]) -> Option<Colour> {
        let painted = self.painting.as_ref()?.at(at)?;
        self.colours.get(usize::from(painted)).copied()
    }

    fn walked_float(&self) -> Option<&Float> {
        self.chart.as_ref()?.surface.floats.get(self.walked)
    }

    /// Another stitch for the keyboard.
    fn walk(&mut self, way: Vec2) {
        if let Some(chart) = &self.chart {
            self.walked = chart.towards(self.walked, way);
        }
    }

    fn paint_walked(&mut self) {
        let middle = self.walked_float().map(|float| float.middle);
        self.keep();
        if let Some(middle) = middle {
            self.fill(middle);
        }
    }

    fn take_colour(&mut self, at: usize) {
        if at < self.colours.len() {
            self.brush = Some(at as u8);
            if self.reach == Reach::Hand {
                self.reach = Reach::Stitch;
            }
        }
    }

    /// The pointer is down at a place.
    fn stroke(&mut self, at: Place, begins: bool) {
        if self.reach == Reach::Hand {
            let chart = self.chart.as_ref().filter(|_| begins);
            let float = at.float.and_then(|float| chart?.surface.floats.get(float));
            self.chooses = float.map(|float| float.strand);
            return;
        }
        if begins && !self.is_down {
            self.keep();
        }
        self.is_down = true;
        match (self.reach, at.float) {
            (Reach::Free, _) => self.dab(at),
            (_, Some(_)) => self.fill([at.round, at.height_mm]),
            (_, None) => {}
        }
    }

    fn lift(&mut self) {
        self.is_down = false;
    }

    fn dab(&mut self, at: Place) {
        if let (Some(chart), Some(painting)) = (&self.chart, &mut self.painting) {
            let reach = painted::dab_mm(chart.surface.girth_mm);
            painting.dab([at.round, at.height_mm], reach, self.brush);
        }
    }

    fn fill(&mut self, at: [f64; 2]) {
        if let (Some(chart), Some(painting)) = (&self.chart, &mut self.painting) {
            painting.paint_stitch(&chart.surface, at, self.brush);
        }
    }

    /// What is painted can be had back.
    fn keep(&mut self) {
        if let Some(painting) = &self.painting {
            self.before.push(painting.clone());
            if self.before.len() > STROKES {
                self.before.remove(0);
            }
        }
    }

    fn can_go_back(&self) -> bool {
        !self.before.is_empty()
    }

    fn go_back(&mut self) {
        if let Some(before) = self.before.pop() {
            self.painting = Some(before);
        }
    }

    fn wipe(&mut self) {
        self.keep();
        self.wish = None;
        self.strands_each = StrandsEach::Any;
        self.photograph = None;
        if let Some(chart) = &self.chart {
            self.painting = Some(Painting::open(&chart.surface, chart.height_mm()));
        }
    }

    /// A photograph that is being read is laid on when it has come.
    pub(super) fn await_photograph(&mut self) {
        self.awaits_photograph = true;
    }

    fn has_photograph(&self) -> bool {
        self.photograph.is_some()
    }

    /// Lays a part of a photograph on.
    fn lay(&mut self, photograph: Arc<Photograph>, crop: Crop) {
        self.keep();
        self.wish = None;
        if let Some(painting) = &mut self.painting {
            painting.lay_photograph(&photograph, crop, &self.colours);
        }
        self.photograph = Some((photograph, crop));
        self.strands_each = StrandsEach::AsPainted;
        self.reach = Reach::Hand;
    }

    /// Moves the photograph by shares of the surface, nearer or farther by the wheel.
    fn move_photograph(&mut self, by: Vec2, wheel: f32) {
        let Some((photograph, mut crop)) = self.photograph.clone() else {
            return;
        };
        crop.zoom = (crop.zoom * f64::from(wheel / 300.0).exp()).clamp(1.0, 12.0);
        crop.middle[0] = (crop.middle[0] - f64::from(by.x) / crop.zoom).clamp(0.0, 1.0);
        crop.middle[1] = (crop.middle[1] - f64::from(by.y) / crop.zoom).clamp(0.0, 1.0);
        if Some(crop) != self.photograph.as_ref().map(|it| it.1) {
            self.go_back();
            self.lay(photograph, crop);
        }
    }

    /// Lays a pattern on, in the brush's colour and those after it.
    fn wish(&mut self, wish: Wish) {
        self.keep();
        self.wish = Some(wish);
        self.strands_each = StrandsEach::AsPainted;
        self.photograph = None;
        let most = self.colours.len();
        let first = usize::from(self.brush.unwrap_or(0));
        let wanted = usize::from(self.of_colours).min(most);
        let colours: Vec<u8> = (first..first + wanted)
            .map(|at| (at % most) as u8)
            .collect();
        if let (Some(chart), Some(painting)) = (&self.chart, &mut self.painting) {
            painting.wish(&chart.surface, wish, usize::from(self.times), &colours);
        }
    }

    /// The last pattern again, if there is one.
    fn again(&mut self) {
        if let Some(wish) = self.wish {
            self.go_back();
            self.wish(wish);
        }
    }
}

/// The colours of a design's strands, each once, in order.
fn colours_of(design: &Design) -> Vec<Colour> {
    let mut met = BTreeSet::new();
    let all = design.strands.iter().flat_map(|strand| &strand.parts);
    all.map(|part| part.colour)
        .filter(|colour| met.insert(*colour))
        .collect()
}

fn stamp(of: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    of.hash(&mut hasher);
    hasher.finish()
}
