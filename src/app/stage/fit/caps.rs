//! The caps end on, all to one scale, with the bound end in each.

use eframe::egui::{
    Align2, Color32, Painter, Pos2, ScrollArea, Shape, Stroke, Ui, Vec2, pos2, vec2,
};

use super::FitView;
use super::end::{BRASS, BRASS_LINE, WALL_MM, WOUND};
use super::pressed::{self, Cell};
use super::suited;
use crate::app::controls::Pick;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::planned::Planned;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::app::words;
use crate::document::Edit;
use crate::plan::{CapFit, FindingKind, Order, Passage, Passes, Ware};
use crate::quantity::{Estimate, UnitSystem};

/// Gap between cards.
const APART: f32 = 12.0;

/// How a card is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cards {
    /// The words under the cap.
    Tall,
    /// The words beside it, where height is short.
    Low,
}

impl Cards {
    /// Tall ones, if they leave enough of `tall` to the drawing above them.
    pub(super) fn within(tall: f32) -> Self {
        if tall - Self::Tall.height() < 300.0 {
            return Self::Low;
        }
        Self::Tall
    }

    /// Height of head, cards and the line under them.
    pub(super) fn height(self) -> f32 {
        68.0 + self.size().y
    }

    fn size(self) -> Vec2 {
        match self {
            Self::Tall => vec2(104.0, 176.0),
            Self::Low => vec2(184.0, 88.0),
        }
    }

    /// Width of the largest cap on its card.
    fn largest(self) -> f32 {
        match self {
            Self::Tall => 82.0,
            Self::Low => 62.0,
        }
    }

    /// Middle of the cap and of the words, from the card's upper left.
    fn places(self) -> (Vec2, [Vec2; 4]) {
        let under = [92.0, 114.0, 133.0, 151.0].map(|y| vec2(42.0, y));
        let beside = [7.0, 27.0, 44.0, 60.0].map(|y| vec2(116.0, y));
        match self {
            Self::Tall => (vec2(42.0, 38.0), under),
            Self::Low => (vec2(30.0, 34.0), beside),
        }
    }
}

/// The row of caps, and how sure the answer is.
pub(super) fn caps_ui(ui: &mut Ui, view: &FitView<'_>, cards: Cards, asks: &mut Vec<Edit>) {
    ui.horizontal(|ui| {
        Role::Section.label(ui, "Caps that fit");
        Role::Note.label(ui, "inside, seen from the end");
    });
    let Some(bound) = view.bound_end() else {
        Role::Text.label(ui, "The bound end comes with the cord.");
        return;
    };
    if view.piece.caps.is_empty() {
        Role::Text.label(
            ui,
            "No caps on the list yet. Add the widths of those at hand.",
        );
        return;
    }
    ui.add_space(8.0);
    let mut row = ScrollArea::horizontal().id_salt("caps");
    if let Some(offset) = turned_to(ui, view, cards) {
        row = row.horizontal_scroll_offset(offset);
    }
    let cells = pressed::cells(view.section);
    row.show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = APART;
            for &cap in &view.piece.caps {
                let end = End {
                    bound,
                    fit: view.verdict(bound, cap).fit,
                    cap,
                    cells: &cells,
                };
                card(ui, view, &end, cards, asks);
            }
        });
        ui.add_space(10.0);
    });
    ui.add_space(2.0);
    Role::Note.label(ui, certainty(view, bound));
}

/// What of a cap of this size lies on the maker's shelf, and its price.
fn in_stock(view: &FitView<'_>, cap: f64) -> String {
    let same = |inner: f64| (inner - cap).abs() < 0.05;
    let findings = view.workshop.findings.iter();
    let found = findings
        .filter(|finding| finding.kind == FindingKind::Cap)
        .find(|finding| finding.inner.is_some_and(same));
    let Some(finding) = found else {
        return "none on the shelf".to_owned();
    };
    let prices = &view.workshop.prices;
    let price = finding.price.map_or_else(String::new, |price| {
        format!(" · {} {}", price.shown(prices.places), prices.currency)
    });
    format!("{} there{price}", finding.there)
}

/// What must be ordered for the ends.
pub(super) fn order_ui(ui: &mut Ui, view: &FitView<'_>, planned: &Planned) {
    let needs = planned.plan.shopping.needs.iter();
    let findings = needs.filter(|need| matches!(need.ware, Ware::Finding(_)));
    let missing: Vec<String> = findings
        .filter(|need| need.buy > 0)
        .map(|need| format!("{} × {}", need.buy, need.ware.words()))
        .collect();
    if !missing.is_empty() {
        Role::Note.label(ui, format!("To order: {}", missing.join(", ")));
    }
    if let Some(told) = suited::words(view.workshop, &planned.suited) {
        Role::Note.label(ui, told);
    }
    let orders = planned.orders.iter().flatten();
    let best = orders.max_by(|a, b| a.verdict.fits.total_cmp(&b.verdict.fits));
    let likely = |it: &Order| 100.0 * it.verdict.fits;
    if let Some(best) = best {
        let what = match best.kind {
            FindingKind::Crimp => "crimp",
            _ => "cap",
        };
        let (size, sure) = (view.length(best.inner), likely(best));
        let told =
            format!("Of the sizes that are sold the {size} {what} suits best: {sure:.0} in 100.");
        Role::Note.label(ui, told);
    }
    bail_ui(ui, view, &planned.passages);
}

/// What the pendant's bail passes over, and what it may not.
fn bail_ui(ui: &mut Ui, view: &FitView<'_>, passages: &[Passage]) {
    let passes = passages.iter().filter(|it| it.passes == Passes::Yes);
    let passes: Vec<&str> = passes.map(|it| it.over).collect();
    if !passes.is_empty() {
        let told = format!("The bail passes over {}.", words::list(&passes));
        Role::Note.label(ui, told);
    }
    for passage in passages.iter().filter(|it| it.passes != Passes::Yes) {
        let across = passage.across.length(view.units);
        let (word, over) = (passage.passes.word(), passage.over);
        Role::Note.label(
            ui,
            format!("The bail {word} over {over}, which is {across}."),
        );
    }
}

/// How far the row is moved along so that the cap looked at stands in the
/// middle; only when that is another one than before.
fn turned_to(ui: &Ui, view: &FitView<'_>, cards: Cards) -> Option<f32> {
    let cap = view.cap()?;
    let place = view.piece.caps.iter().position(|other| *other == cap)?;
    let id = ui.scope_id().with("cap looked at");
    let before = ui.data_mut(|data| {
        let before = data.get_temp::<f64>(id);
        data.insert_temp(id, cap);
        before
    });
    let wide = cards.size().x;
    let middle = place as f32 * (wide + APART) + wide / 2.0;
    let offset = (middle - ui.available_width() / 2.0).max(0.0);
    (before != Some(cap)).then_some(offset)
}

/// The bound end before a cap.
struct End<'a> {
    bound: Estimate,
    fit: CapFit,
    /// Inner width of the cap, mm.
    cap: f64,
    /// What the strands fill of the end.
    cells: &'a [Cell],
}

fn card(ui: &mut Ui, view: &FitView<'_>, end: &End<'_>, cards: Cards, asks: &mut Vec<Edit>) {
    let cap = end.cap;
    let fit = end.fit;
    let gap = signed(view, cap - end.bound.value);
    let name = format!("cap {}, gap {gap}, {}", view.length(cap), fit.word());
    let there = in_stock(view, cap);
    let name = format!("{name}, {there}");
    let chosen = view.piece.cap == Some(cap);
    let response = Pick::card(&name, chosen, cards.size()).show(ui, |ui| {
        let corner = ui.max_rect().left_top();
        let theme = Theme::of(ui);
        let painter = ui.painter();
        let scale = cards.largest() / (largest(view) + 2.0 * WALL_MM) as f32;
        let (middle, lines) = cards.places();
        end_on(painter, end, corner + middle, scale, &theme);
        let [size, fits, glue, stock] = lines.map(|line| corner + line);
        let words = view.length(cap);
        let font = match view.units {
            UnitSystem::Millimetres => Role::Value.font(),
            UnitSystem::Inches => Face::Semibold.at(15.0),
        };
        painter.text(size, Align2::CENTER_CENTER, words, font, theme.ink);
        word(painter, fits, fit, &theme);
        let font = Role::Smallest.font();
        let words = format!("gap {gap}");
        painter.text(glue, Align2::CENTER_CENTER, words, font.clone(), theme.ink2);
        painter.text(stock, Align2::CENTER_CENTER, &there, font, theme.ink2);
    });
    if response.clicked() {
        asks.push(Edit::ChooseCap((!chosen).then_some(cap)));
    }
}

fn largest(view: &FitView<'_>) -> f64 {
    let end = view.bound_end().map_or(0.0, |end| end.value);
    view.piece.caps.iter().copied().fold(end, f64::max)
}

fn word(painter: &Painter, at: Pos2, fit: CapFit, theme: &Theme) {
    if fit != CapFit::Fits {
        let font = Role::Note.font();
        painter.text(at, Align2::CENTER_CENTER, fit.word(), font, theme.ink2);
        return;
    }
    let beside = at + vec2(9.0, 0.0);
    let font = Face::Bold.at(13.0);
    let words = painter.text(beside, Align2::CENTER_CENTER, fit.word(), font, theme.ok);
    let check = pos2(words.left() - 11.0, at.y);
    Icon::Check.paint(painter, check, 15.0, theme.ok);
}

/// A cap from its open end, and the bound end in it.
fn end_on(painter: &Painter, end: &End<'_>, middle: Pos2, scale: f32, theme: &Theme) {
    let inside = end.cap as f32 / 2.0 * scale;
    let outside = inside + WALL_MM as f32 * scale;
    let bound = end.bound.value as f32 / 2.0 * scale;
    painter.circle(middle, outside, BRASS, Stroke::new(1.0, BRASS_LINE));
    painter.circle(middle, inside, theme.well, Stroke::new(1.0, BRASS_LINE));
    painter.circle_filled(middle, bound, WOUND);
    let within = 0.9 * bound;
    for cell in end.cells {
        let outline = cell.outline.iter().map(|at| middle + within * *at);
        let rim = cell.colour.lerp_to_gamma(Color32::BLACK, 0.45);
        let edge = Stroke::new(0.9, rim);
        painter.add(Shape::convex_polygon(outline.collect(), cell.colour, edge));
    }
    if end.fit != CapFit::TooSmall {
        painter.circle_stroke(middle, bound, Stroke::new(1.0, BRASS_LINE));
        return;
    }
    // The cap lies over an end that is wider than it.
    let wall = outside - inside;
    painter.circle_stroke(middle, inside + wall / 2.0, Stroke::new(wall, BRASS));
    for edge in [inside, outside] {
        painter.circle_stroke(middle, edge, Stroke::new(1.0, BRASS_LINE));
    }
    let dashes = stitch::Dashes {
        width: 1.4,
        dash: 3.0,
        gap: 2.6,
    };
    let ring = stitch::circle_outline(middle, bound);
    painter.extend(stitch::dashed(&ring, dashes, theme.ink));
}

/// A length with a true minus where it is below nothing.
fn signed(view: &FitView<'_>, mm: f64) -> String {
    if mm < 0.0 {
        return format!("−{}", view.length(-mm));
    }
    view.length(mm)
}

/// What the spread of the bound end means for the cap looked at.
fn certainty(view: &FitView<'_>, end: Estimate) -> String {
    let Some(cap) = view.cap() else {
        return String::new();
    };
    let at = |bound: f64| view.verdict(Estimate::exact(bound), cap).fit;
    let (thick, thin) = (at(end.high), at(end.low));
    let range = end.length(view.units).spread;
    let cap = view.length(cap);
    if thick == thin {
        let word = thick.word();
        return format!("From one end of its spread to the other ({range}) the {cap} cap: {word}.");
    }
    format!(
        "At the thick end of its spread ({range}) the {cap} cap is {}, at the thin end {}.",
        sentence(thick),
        sentence(thin)
    )
}

fn sentence(fit: CapFit) -> &'static str {
    match fit {
        CapFit::Fits => "right",
        other => other.word(),
    }
}
