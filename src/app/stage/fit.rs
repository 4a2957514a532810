//! Fit: will the bound end go into the cap, and what does the cord do under
//! pull and off the weight.
//!
//! Everything is drawn to one scale from figures that are handed in; the stage
//! works out nothing but where on the sheet a millimetre lies. What it asks for
//! are edits of the piece.

mod binding;
mod caps;
mod closure;
mod end;
mod ending;
mod ends;
mod fold;
mod length;
mod list;
mod many;
mod measure;
mod other_way;
mod parts;
mod piece;
mod pressed;
mod pull;
mod suited;
mod sum;
mod wiring;
mod worn;

use eframe::egui::{Color32, Rect, ScrollArea, TextureId, Ui, UiBuilder, Vec2, pos2, vec2};

use crate::app::controls::Sheet;
use crate::app::planned::Planned;
use crate::app::stage::cautions;
use crate::app::stage::entry::Grain;
use crate::cord::{Figures, Pulled};
use crate::document::{Edit, Piece};
use crate::plan::{CapFit, CapVerdict, End, Where, Workshop, bound_end, cap_verdict};
use crate::quantity::{Estimate, Length, UnitSystem};

pub use other_way::OtherWay;
pub(in crate::app) use wiring::stage_ui;

/// Gap between sheets.
const GAP: f32 = 24.0;
/// Width of the list of caps.
const LIST: f32 = 300.0;
/// Width of the plot and what stands under it.
const PULL: f32 = 400.0;
/// Height of the plot's sheet.
const PLOT: f32 = 254.0;
/// Least width of the bound end in its cap.
const END: f32 = 420.0;

/// A strand of the cord cut across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndDisc {
    /// Middle, from the cord's axis, mm.
    pub centre_mm: [f64; 2],
    /// Radius, mm.
    pub radius_mm: f64,
    /// Colour.
    pub colour: Color32,
}

/// A picture of the cord lying level, its axis half way down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordPicture {
    /// The texture.
    pub texture: TextureId,
    /// What it shows, along and across, mm.
    pub size_mm: Vec2,
}

/// All that the stage shows.
#[derive(Debug, Clone, Copy)]
pub struct FitView<'a> {
    /// The caps at hand and the one looked at.
    pub piece: &'a Piece,
    /// The cord's figures, once there are any.
    pub figures: Option<&'a Figures>,
    /// Whether they are a first answer, told before the cord is solved.
    pub is_about: bool,
    /// The cord under pull; empty until it is computed.
    pub pull: &'a Pulled,
    /// The cord cut across.
    pub section: &'a [EndDisc],
    /// The cord seen from the side.
    pub picture: Option<CordPicture>,
    /// The maker's unit.
    pub units: UnitSystem,
    /// From the measure to the cord, once there are figures.
    pub planned: Option<&'a Planned>,
    /// What the maker has.
    pub workshop: &'a Workshop,
}

impl FitView<'_> {
    /// The cap to show: the one chosen, else the one that likeliest fits, else the
    /// smallest that takes the end in, else the largest.
    fn cap(&self) -> Option<f64> {
        if self.piece.cap.is_some() {
            return self.piece.cap;
        }
        let end = self.bound_end()?;
        let of = |&cap: &f64| (cap, self.verdict(end, cap));
        let fits: Vec<(f64, CapVerdict)> = self.piece.caps.iter().map(of).collect();
        let may = |(_, it): &&(f64, CapVerdict)| matches!(it.fit, CapFit::Fits | CapFit::MayFit);
        let likeliest = fits.iter().filter(may);
        likeliest
            .max_by(|a, b| a.1.fits.total_cmp(&b.1.fits))
            .or_else(|| fits.iter().find(|(_, it)| it.fit != CapFit::TooSmall))
            .or_else(|| fits.last())
            .map(|(cap, _)| *cap)
    }

    /// Thickness of the end as it is bound, once there is a cord.
    fn bound_end(&self) -> Option<Estimate> {
        Some(bound_end(self.figures?, &self.piece.binding))
    }

    /// How an end sits in a cap.
    fn verdict(&self, end: Estimate, cap: f64) -> CapVerdict {
        cap_verdict(end, cap, self.piece.glue_gap)
    }

    /// Beside the heads: how far along the figures are.
    fn age(&self) -> &'static str {
        if self.is_about {
            "about so, a first answer"
        } else {
            ""
        }
    }

    /// A length in mm with its unit.
    fn length(&self, mm: f64) -> String {
        Length::from_mm(mm).shown(self.units)
    }

    /// A worn length in mm with its unit.
    fn long(&self, mm: f64) -> String {
        Grain::Long.said((10.0 * mm).round() / 10.0, self.units)
    }

    fn is_inches(&self) -> bool {
        self.units == UnitSystem::Inches
    }

    /// The unit's short name.
    fn unit(&self) -> &'static str {
        match self.units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        }
    }
}

/// Draws the stage in `rect` and hands back what was asked for.
///
/// `other` draws what lies on the sheet of the other way round.
pub fn fit_ui(
    ui: &mut Ui,
    rect: Rect,
    view: &FitView<'_>,
    other: &mut dyn FnMut(&mut Ui),
) -> Vec<Edit> {
    let mut asks = Vec::new();
    let builder = UiBuilder::new().max_rect(rect).id_salt("fit");
    ui.scope_builder(builder, |ui| {
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| sheets(ui, rect.size(), view, other, &mut asks));
    });
    asks
}

/// Three columns; the right one goes under the middle, then all under each other.
fn sheets(
    ui: &mut Ui,
    room: Vec2,
    view: &FitView<'_>,
    other: &mut dyn FnMut(&mut Ui),
    asks: &mut Vec<Edit>,
) {
    let top = ui.cursor().min + vec2(GAP, 4.0);
    let width = room.x - 2.0 * GAP;
    let tall = (room.y - 4.0 - 16.0).max(520.0);
    let column = |ui: &mut Ui, x: f32, y: f32, width: f32| {
        let rect = Rect::from_min_size(top + vec2(x, y), vec2(width, 4000.0));
        let mut child = ui.new_child(
            UiBuilder::new()
                .max_rect(rect)
                .id_salt((x as i32, y as i32)),
        );
        child.spacing_mut().item_spacing.y = 0.0;
        child
    };
    let bottom = if width >= LIST + END + PULL + 2.0 * GAP {
        let middle = width - LIST - PULL - 2.0 * GAP;
        let mut left = column(ui, 0.0, 0.0, LIST);
        list_sheet(&mut left, vec2(LIST, tall), view, asks);
        let mut centre = column(ui, LIST + GAP, 0.0, middle);
        end_and_caps(&mut centre, middle, tall, view, asks);
        let mut right = column(ui, width - PULL, 0.0, PULL);
        pull_and_others(&mut right, vec2(PULL, tall), view, other);
        [left, centre, right].map(|ui| ui.min_rect().bottom())
    } else if width >= LIST + END + GAP {
        let middle = width - LIST - GAP;
        let mut left = column(ui, 0.0, 0.0, LIST);
        list_sheet(&mut left, vec2(LIST, tall), view, asks);
        let mut right = column(ui, LIST + GAP, 0.0, middle);
        end_and_caps(&mut right, middle, room.y - 20.0, view, asks);
        right.add_space(GAP);
        pull_and_others(&mut right, vec2(middle, 0.0), view, other);
        [left.min_rect().bottom(), right.min_rect().bottom(), 0.0]
    } else {
        let mut only = column(ui, 0.0, 0.0, width);
        end_and_caps(&mut only, width, 0.0, view, asks);
        only.add_space(GAP);
        list_sheet(&mut only, vec2(width, 0.0), view, asks);
        only.add_space(GAP);
        pull_and_others(&mut only, vec2(width, 0.0), view, other);
        [only.min_rect().bottom(), 0.0, 0.0]
    };
    let bottom = bottom.into_iter().fold(0.0, f32::max) + 16.0;
    ui.allocate_rect(
        Rect::from_min_max(ui.cursor().min, pos2(top.x + width, bottom)),
        eframe::egui::Sense::hover(),
    );
}

fn list_sheet(ui: &mut Ui, size: Vec2, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    Sheet::new().size(size).show(ui, |ui| {
        piece::piece_ui(ui, view, asks);
    });
}

fn end_and_caps(ui: &mut Ui, width: f32, tall: f32, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    // The row of caps has its own height, the drawing takes what is left.
    let cards = caps::Cards::within(tall);
    let drawing = (tall - GAP - cards.height()).clamp(296.0, 420.0);
    let shown = fold::FitState::of(ui).shown(view.piece);
    Sheet::new().size(vec2(width, drawing)).show(ui, |ui| {
        let left = drawing - fold::ends_ui(ui, view.piece, shown);
        match view.piece.ends[shown] {
            End::Cap => end::end_ui(ui, view, left),
            end => ending::ending_ui(ui, view, (shown, end), left),
        }
    });
    ui.add_space(GAP - 6.0);
    if ends::has_cap(view.piece) {
        caps::caps_ui(ui, view, cards, asks);
    }
    if let Some(planned) = view.planned {
        caps::order_ui(ui, view, planned);
        for place in [Where::Ends, Where::Wearer] {
            cautions::cautions_ui(ui, &planned.plan.cautions, place);
        }
    }
}

fn pull_and_others(ui: &mut Ui, size: Vec2, view: &FitView<'_>, other: &mut dyn FnMut(&mut Ui)) {
    Sheet::new()
        .size(vec2(size.x, PLOT))
        .show(ui, |ui| pull::pull_ui(ui, view));
    ui.add_space(GAP - 6.0);
    let rest = (size.y - PLOT - GAP + 6.0).max(0.0);
    Sheet::new().size(vec2(size.x, rest)).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        other(ui);
    });
    ui.add_space(GAP - 6.0);
    Sheet::new().size(vec2(size.x, 0.0)).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        length::length_ui(ui, view);
    });
}

#[cfg(test)]
mod tests;
