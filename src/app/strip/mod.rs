//! The strip: the cord itself, edge to edge on linen, with a tape beside it.
//!
//! It shows only what was solved. Dragging slides the cord along and turns it,
//! the wheel changes the scale, a click chooses the strand there. The tape always
//! has the scale of the cord.

mod core;
mod end;
mod filled;
mod flags;
mod hand;
mod lit;
mod made;
mod marks;
mod measure;
mod row;
mod scale;
mod show;
mod tape;
mod worn;

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{Rect, Ui, pos2, vec2};

use super::command::Command;
use super::desk::Desk;
use super::easel::Easel;
use super::flags::Flags;
use super::fonts::Role;
use super::grounds::Lying;
use super::order::{Age, Lane, Order, Sitter};
use super::screen::LifeSize;
use super::solver::{Known, Solved};
use super::stitch;
use super::theme::Theme;
use crate::cord::{Cord, Hand};
use crate::drawing::Thread;
use crate::quantity::UnitSystem;
use made::Made;
use marks::label;
use row::Row;

pub(super) use hand::Before;
pub(super) use measure::Measuring;
pub(super) use scale::Scale;
pub(super) use show::State;
pub(super) use worn::Worn;

/// Height of the tape in a full and in a compact strip.
const TAPE: (f32, f32) = (34.0, 26.0);

/// Where the tape's zero stands, points from the left.
const MARGIN: f32 = 24.0;

/// How the maker has laid the cord.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StripView {
    /// Place along the cord under the tape's zero, mm.
    pub along: f64,
    /// Turn about its axis, radians.
    pub turn: f64,
    /// How large it is shown.
    pub scale: Scale,
    /// In which state.
    pub state: State,
    /// How it is worn, where that is shown as well.
    pub worn: Worn,
    /// Where it lay before it was looked at from close by.
    pub before: Option<Before>,
    /// The sheet on which the screen is measured, while it is open.
    pub measuring: Option<Measuring>,
}

impl StripView {
    /// Puts away what lies open over the sheets; whether there was anything.
    pub(super) fn fold(&mut self) -> bool {
        let lay_open = self.worn.shape != worn::Shape::Straight || self.measuring.is_some();
        self.worn.shape = worn::Shape::Straight;
        self.measuring = None;
        lay_open
    }
}

/// All that the strip is handed.
pub(super) struct Strip<'a> {
    /// What may be looked at.
    pub desk: &'a Desk<'a>,
    /// What the strands look like.
    pub threads: &'a Arc<[Thread]>,
    /// Strands that are marked.
    pub marked: &'a Flags,
    /// How the cord is laid.
    pub view: &'a mut StripView,
    /// The strands chosen, here and on the disc.
    pub chosen: &'a mut BTreeSet<usize>,
    /// Cord made so far, mm, while it is at the disc.
    pub made: Option<f64>,
    /// Where pictures are ordered.
    pub easel: &'a mut Easel,
    /// The sheets above, over which the cord is shown as it is worn.
    pub above: Rect,
    /// What is asked for.
    pub wants: &'a mut Vec<Command>,
}

impl Strip<'_> {
    /// What the cord lies on.
    fn lying(&self, ui: &Ui) -> Lying {
        let chosen = self.desk.settings.lying;
        chosen.unwrap_or_else(|| Lying::of_window(&Theme::of(ui)))
    }

    /// Chooses a strand of the design, or lets go of it.
    fn toggle(&mut self, strand: usize) {
        let is_there = strand < self.desk.design.strands.len();
        if is_there && !self.chosen.remove(&strand) {
            self.chosen.insert(strand);
        }
    }
}

/// How the strip is laid out in its rectangle.
#[derive(Debug, Clone, Copy)]
struct Layout {
    linen: Rect,
    tape: Rect,
    /// Points to a millimetre.
    per_mm: f32,
    /// Times life size.
    times: f32,
    /// Whether the screen is measured, so that life size is true.
    is_measured: bool,
}

impl Layout {
    /// For `rows` cords of this thickness.
    fn new(rect: Rect, (thickness, rows): (f64, f32), scale: Scale, life: LifeSize) -> Self {
        let tape = if rect.height() < 120.0 {
            TAPE.1
        } else {
            TAPE.0
        };
        let split = rect.bottom() - tape;
        let times = scale.times(thickness, (split - rect.top()) / rows, life.per_mm);
        Self {
            linen: rect.with_max_y(split),
            tape: rect.with_min_y(split),
            per_mm: times * life.per_mm,
            times,
            is_measured: life.is_measured,
        }
    }

    fn zero(&self) -> f32 {
        self.linen.left() + MARGIN
    }

    /// Upper and lower half of the linen.
    fn halves(&self) -> [Rect; 2] {
        let middle = self.linen.center().y;
        [
            self.linen.with_max_y(middle - 0.5),
            self.linen.with_min_y(middle + 0.5),
        ]
    }
}

/// Draws the strip into all of `ui` and takes up drags, wheel and keys.
pub(super) fn strip_ui(ui: &mut Ui, mut strip: Strip<'_>) {
    let theme = Theme::of(ui);
    let rect = ui.max_rect();
    let (units, solved) = (strip.desk.units(), strip.desk.solver.solved());
    let life = LifeSize::under(ui.ctx(), &strip.desk.settings.screens);
    let Some(cord) = solved.cord() else {
        let layout = Layout::new(rect, (6.0, 1.0), strip.view.scale, life);
        empty(ui, &layout, solved, units, &theme);
        return;
    };
    let laid = |view: &StripView| Layout::new(rect, size(cord, view.state), view.scale, life);
    let before = laid(strip.view);
    let rows = rows(&before, cord, &strip);
    let response = hand::handle(ui, &before, cord, &rows, &mut strip);
    let layout = laid(strip.view);
    let lying = strip.lying(ui);
    ui.painter().rect_filled(layout.linen, 0.0, lying.colour());
    for row in &rows {
        row_ui(ui, &layout, row, cord, &mut strip);
    }
    missing_ui(ui, &layout, &rows, &strip, &theme);
    let end = end::room(layout.tape);
    let made = strip.made.map(|made| Made::of(made, &layout, cord));
    let zero = made.map_or(layout.zero(), |made| made.zero(&layout));
    tape::draw(
        ui.painter(),
        layout.tape,
        (zero, layout.per_mm),
        units,
        end,
        &theme,
    );
    if let Some(made) = made {
        made.draw(ui, &layout, strip.view, units);
    }
    end::end_ui(ui, &layout, &rows, &mut strip, &theme);
    worn::worn_ui(ui, strip.above, life, &mut strip);
    measure::measure_ui(ui, &mut strip.view.measuring, units, strip.wants);
    let words = Role::Note.text(ui, tip_words(cord));
    response.on_hover_text_at_pointer(words);
}

/// How thick the cord may be and how many lie one above the other. A flat cord may
/// lie on its edge or on its side.
fn size(cord: &Cord, state: State) -> (f64, f32) {
    let figures = &cord.figures;
    let thickness = figures
        .thickness_on_disc
        .value
        .max(figures.width_rested.value);
    let rows = if state == State::Both { 2.0 } else { 1.0 };
    (thickness, rows)
}

/// The cords that lie there.
fn rows(layout: &Layout, cord: &Arc<Cord>, strip: &Strip<'_>) -> Vec<Row> {
    let solver = strip.desk.solver;
    let [upper, lower] = layout.halves();
    let on_disc = |rect| Row {
        lane: Lane::OnDisc,
        sitter: Sitter::Cord(Arc::clone(cord)),
        rect,
        is_old: solver.shows_old(),
    };
    let rested = |rect| {
        // An earlier cord's shape may have other strands.
        let form = solver.rested().form();
        let form = form.filter(|it| it.strands == cord.form.strands)?;
        Some(Row {
            lane: Lane::Rested,
            sitter: Sitter::Form(Arc::clone(form)),
            rect,
            is_old: solver.shows_old() || solver.rested_is_late(),
        })
    };
    match strip.view.state {
        State::OnDisc => vec![on_disc(layout.linen)],
        State::Rested => rested(layout.linen).into_iter().collect(),
        State::Both => [Some(on_disc(upper)), rested(lower)]
            .into_iter()
            .flatten()
            .collect(),
    }
}

/// One cord with what is marked on it.
fn row_ui(ui: &Ui, layout: &Layout, row: &Row, cord: &Cord, strip: &mut Strip<'_>) {
    let theme = Theme::of(ui);
    let design = strip.desk.design;
    // Another cord's strands have other letters.
    let is_same = cord.figures.take_up.len() == design.strands.len();
    let marked = Some(strip.marked).filter(|it| is_same && !it.strands.is_empty());
    let chosen = strip.chosen.iter().filter(|_| is_same);
    let fills = is_same && strip.desk.settings.marks;
    strip.easel.order(
        row.lane,
        Order {
            sitter: row.sitter.clone(),
            threads: Arc::clone(strip.threads),
            scene: row.scene(ui, layout, strip.view, strip.lying(ui)),
            age: if row.is_old { Age::Old } else { Age::Now },
            traced: fills || marked.is_some() || chosen.clone().next().is_some(),
        },
    );
    let placed = row.placed(strip.easel, layout, strip.view);
    if let Some(placed) = &placed {
        placed.draw(&ui.painter().with_clip_rect(row.rect));
        if fills {
            filled::filled_ui(ui, row, placed, design, layout.per_mm);
        }
    }
    if row.is_old {
        marks::old_mark(ui, row, strip.desk.solver.solved().is_busy(), &theme);
    }
    let units = strip.desk.units();
    if strip.made.is_none() && matches!(strip.desk.known(), Known::Solved(_)) {
        // Until then its repeat is another cord's.
        marks::bracket(ui, layout, row, strip.view, units, &theme);
    }
    let tags = placed
        .as_ref()
        .map_or(Vec::new(), |it| lit::lit_ui(ui, row, it, chosen, &theme));
    if let Some(marked) = marked {
        let marked = (marked, design.strands.len());
        flags::flags_ui(ui, row, placed.as_ref(), marked, tags, &theme);
    }
    core::core_ui(ui, (layout, row), cord, units, &theme);
    if strip.view.state != State::OnDisc {
        let state = match row.lane {
            Lane::OnDisc => State::OnDisc,
            Lane::Rested | Lane::Worn => State::Rested,
        };
        marks::state_mark(ui, row, state.words(), &theme);
    }
}

/// Why there is no rested cord, where one is asked for.
fn missing_ui(ui: &Ui, layout: &Layout, rows: &[Row], strip: &Strip<'_>, theme: &Theme) {
    let spot = match strip.view.state {
        State::OnDisc => return,
        State::Rested => layout.linen,
        State::Both => layout.halves()[1],
    };
    if rows.iter().all(|row| row.lane != Lane::Rested) {
        let words = strip.desk.solver.rested().hindrance(true);
        let words = words.unwrap_or("the rested cord is being worked out");
        marks::sentence(ui, spot, words, theme);
    }
}

fn tip_words(cord: &Cord) -> String {
    let lay = match cord.figures.hand {
        Hand::S => "S lay: the floats lean like a slash here. ",
        Hand::Z => "Z lay: the floats lean like a backslash here. ",
        Hand::None => "",
    };
    format!(
        "{lay}Drag to slide and turn the cord, scroll to change its scale, click a float \
         to choose its strand, double-click to look at it from close by"
    )
}

/// No cord yet: a dotted one between two pins.
fn empty(ui: &Ui, layout: &Layout, solved: &Solved, units: UnitSystem, theme: &Theme) {
    let painter = ui.painter();
    painter.rect_filled(layout.linen, 0.0, theme.linen);
    let half = (0.32 * layout.linen.height()).min(40.0);
    let body = Rect::from_center_size(
        layout.linen.center(),
        vec2(layout.linen.width() - 80.0, 2.0 * half),
    );
    let outline = stitch::rounded_outline(body, half);
    painter.extend(stitch::dotted(&outline, 2.6, 8.0, theme.ink2));
    for x in [
        body.left() + 0.2 * body.width(),
        body.right() - 0.2 * body.width(),
    ] {
        painter.circle_filled(pos2(x, body.center().y), 5.0, theme.thread);
    }
    let words = match solved {
        Solved::Failed { .. } => "no cord to show",
        _ => "the cord is being worked out",
    };
    label(
        painter,
        pos2(body.center().x - 70.0, body.center().y),
        words,
        theme,
    );
    tape::draw(
        painter,
        layout.tape,
        (layout.zero(), layout.per_mm),
        units,
        0.0,
        theme,
    );
}
