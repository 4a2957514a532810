//! How the window is divided, and what is drawn where.
//!
//! Laid out by hand in the order in which Tab walks: rail, top line, sheets,
//! dock.

use std::sync::Arc;

use eframe::egui::{Rect, Ui, UiBuilder, pos2, vec2};

use crate::drawing::Thread;

use super::at_disc::Beside;
use super::command::Command;
use super::controls::SlipEnd;
use super::desk::Desk;
use super::easel::Easel;
use super::region::Region;
use super::stage::{Stage, braid, cut, fit, look};
use super::strip::Strip;
use super::theme::Theme;
use super::view::View;
use super::{dock, messages, rail, strip, top_line};

/// Margin round the sheets.
pub(super) const MARGIN: f32 = 24.0;

/// Where everything stands in a window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Division {
    /// The rail of stages.
    pub rail: Rect,
    /// Name, file, undo, units.
    pub top: Rect,
    /// The sheets.
    pub stage: Rect,
    /// The figures.
    pub figures: Rect,
    /// The cord with its tape.
    pub strip: Rect,
}

impl Division {
    /// Divides a window. Under 860 points of height the strip is lower, under
    /// 700 the dock is compact and under 480 smaller still, so that the sheets
    /// keep the greater part. At the disc it is compact in every window.
    pub(super) fn of(window: Rect, stage: Stage) -> Self {
        let (figures, strip) = match window.height() {
            // At the disc the move matters, and the figures are settled.
            h if stage == Stage::Braid && h < 560.0 => (0.0, 60.0),
            h if stage == Stage::Braid && h < 700.0 => (46.0, 84.0),
            _ if stage == Stage::Braid => (46.0, 106.0),
            h if h < 480.0 => (50.0, 66.0),
            h if h < 700.0 => (58.0, 84.0),
            h if h < 860.0 => (98.0, 128.0),
            _ => (100.0, 156.0),
        };
        let (left, right) = (window.left() + rail::width(window.width()), window.right());
        let top = window.top() + if window.height() < 560.0 { 52.0 } else { 64.0 };
        let dock = window.bottom() - figures - strip;
        let across = |from: f32, to: f32| Rect::from_min_max(pos2(left, from), pos2(right, to));
        Self {
            rail: window.with_max_x(left),
            top: across(window.top(), top),
            stage: across(top, dock),
            figures: across(dock, dock + figures),
            strip: across(dock + figures, window.bottom()),
        }
    }
}

/// Draws the window and gathers what is asked for.
pub(super) fn window_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    threads: &Arc<[Thread]>,
    view: &mut View,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let theme = Theme::of(ui);
    let window = ui.max_rect();
    ui.painter().rect_filled(window, 0.0, theme.table);
    if view.stage == Stage::Braid && view.braid.full && desk.at_disc.work().is_some() {
        Region::Stage.show(ui, window, |ui| {
            braid::stage_ui(ui, window, desk, &mut view.braid, easel, wants);
        });
        return;
    }
    let division = Division::of(window, view.stage);
    Region::Rail.show(ui, division.rail, |ui| {
        rail::rail_ui(ui, desk, view.stage, wants);
    });
    Region::TopLine.show(ui, division.top, |ui| {
        top_line::top_line_ui(ui, desk, view, wants);
    });
    Region::Stage.show(ui, division.stage, |ui| {
        let left = messages::messages_ui(ui, desk, view, wants);
        stage_ui(ui, left, desk, threads, view, easel, wants);
    });
    let dock = division.figures.union(division.strip);
    Region::Dock.show(ui, dock, |ui| {
        if division.figures.height() > 0.0 {
            ui.painter().rect_filled(division.figures, 0.0, theme.paper);
            dock::figures_ui(ui, division.figures, desk);
        }
        let builder = UiBuilder::new().max_rect(division.strip).id_salt("strip");
        ui.scope_builder(builder, |ui| {
            let marked = look::flags(desk, &view.look);
            let strip = Strip {
                desk,
                threads,
                marked: &marked,
                view: &mut view.strip,
                chosen: &mut view.look.chosen,
                made: made(desk, view.stage),
                easel,
                above: division.stage,
                wants,
            };
            strip::strip_ui(ui, strip);
        });
    });
    undo_slip(ui, &division, view, wants);
}

/// Cord made so far, mm, where the cord of the strip is the one at the disc.
fn made(desk: &Desk<'_>, stage: Stage) -> Option<f64> {
    let work = desk.at_disc.work().filter(|_| stage == Stage::Braid)?;
    let beside = Beside::of(work, desk.design, desk.file.id());
    let is_own = matches!(beside, Beside::Same | Beside::Changed);
    (is_own && work.done() > 0).then(|| work.progress().on_disc.value)
}

fn stage_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    threads: &Arc<[Thread]>,
    view: &mut View,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    match view.stage {
        Stage::Fit => {
            fit::stage_ui(ui, rect, desk, threads, (&mut view.other_way, easel), wants);
        }
        Stage::Cut => cut::stage_ui(ui, rect, desk, &mut view.cut, wants),
        Stage::Braid => braid::stage_ui(ui, rect, desk, &mut view.braid, easel, wants),
        _ => look::look_ui(ui, rect, desk, &mut view.look, easel, wants),
    }
}

/// What was done last, above the dock's left edge.
fn undo_slip(ui: &Ui, division: &Division, view: &mut View, wants: &mut Vec<Command>) {
    let Some(slip) = &mut view.slip else { return };
    // Above the play bar, which must stay in reach.
    let corner = division.figures.left_top() + vec2(MARGIN, -64.0);
    match slip.show(ui, corner) {
        SlipEnd::Stays => {}
        SlipEnd::Undo => {
            view.slip = None;
            wants.push(Command::Undo);
        }
        SlipEnd::Gone => view.slip = None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_window_is_divided_without_gap_or_overlap() {
        for size in [
            (1280.0, 800.0),
            (1440.0, 900.0),
            (1920.0, 1080.0),
            (640.0, 400.0),
        ] {
            let window = Rect::from_min_size(pos2(0.0, 0.0), vec2(size.0, size.1));
            for stage in Stage::ALL {
                divided(size, Division::of(window, stage));
            }
        }
    }

    fn divided(size: (f32, f32), d: Division) {
        let heights = [d.top, d.stage, d.figures, d.strip].map(|r| r.height());
        let whole = heights.iter().sum::<f32>();
        assert!((whole - size.1).abs() < 0.1, "{size:?}");
        assert!(d.stage.height() > 180.0, "sheets have room at {size:?}");
        assert_eq!(d.rail.right(), d.stage.left(), "rail and sheets meet");
    }
}
