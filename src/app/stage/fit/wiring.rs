//! From the desk to what Fit shows.

use std::sync::Arc;

use eframe::egui::{Color32, Rect, Ui, vec2};

use super::other_way::{OtherWay, other_way_ui};
use super::{CordPicture, EndDisc, FitView, fit_ui};
use crate::app::command::Command;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::order::{Age, Order, Sitter};
use crate::app::painting::Scene;
use crate::cord::{Cord, Form};
use crate::document::Design;
use crate::drawing::{Bend, Ground, Thread, View, section};

/// Height of the cord's picture in its thicknesses, and length in heights.
const PICTURE_TALL: f64 = 1.4;
const PICTURE_LONG: f64 = 2.4;
/// Pixels down the picture at one pixel to a point. Tried: enough for the
/// largest drawing there is.
const PICTURE_PIXELS: f64 = 260.0;

/// Draws the stage from the desk and asks for what was asked.
pub(in crate::app) fn stage_ui(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    threads: &Arc<[Thread]>,
    (other, easel): (&mut OtherWay, &mut Easel),
    wants: &mut Vec<Command>,
) {
    let cord = desk.solver.solved().cord();
    let is_old = desk.solver.shows_old();
    let discs = cord.map_or_else(Vec::new, |cord| discs(cord, desk.design));
    let known = desk.known();
    let rested = desk.solver.rested().form();
    let picture = cord
        .zip(rested)
        .filter(|(cord, rested)| rested.strands == cord.form.strands)
        .and_then(|(cord, rested)| picture(ui, cord, rested, threads, is_old, easel));
    let view = FitView {
        piece: &desk.design.piece,
        figures: known.figures(),
        is_about: known.is_about(),
        pull: desk.solver.pull(),
        section: &discs,
        picture,
        units: desk.units(),
        planned: desk.plan,
        workshop: desk.workshop,
    };
    let mut tries = Vec::new();
    let mut other = |ui: &mut Ui| other_way_ui(ui, desk, other, easel, &mut tries);
    let edits = fit_ui(ui, rect, &view, &mut other);
    wants.extend(edits.into_iter().map(Command::Edit));
    wants.extend(tries);
}

/// The cord cut across a quarter of its repeat up, in the strands' colours.
fn discs(cord: &Cord, design: &Design) -> Vec<EndDisc> {
    section(&cord.form, cord.form.lift / 4.0)
        .into_iter()
        .map(|disc| {
            let part = design
                .strands
                .get(disc.strand)
                .and_then(|strand| strand.parts.first());
            let colour = part.map_or(Color32::GRAY, |part| {
                let [r, g, b] = part.colour.0;
                Color32::from_rgb(r, g, b)
            });
            EndDisc {
                centre_mm: disc.centre_mm,
                radius_mm: disc.radius_mm,
                colour,
            }
        })
        .collect()
}

/// The rested cord beside the cap as it was solved, or the last one while there is none.
fn picture(
    ui: &Ui,
    cord: &Cord,
    rested: &Arc<Form>,
    threads: &Arc<[Thread]>,
    is_old: bool,
    easel: &mut Easel,
) -> Option<CordPicture> {
    let tall = PICTURE_PIXELS * f64::from(ui.ctx().pixels_per_point());
    // A flat cord shows its broad side.
    let figures = &cord.figures;
    let broad = figures
        .thickness_rested
        .value
        .max(figures.width_rested.value)
        .max(0.1);
    let pixels_per_mm = tall / (PICTURE_TALL * broad);
    let order = Order {
        sitter: Sitter::Form(Arc::clone(rested)),
        threads: Arc::clone(threads),
        scene: Scene {
            view: View {
                width: (tall * PICTURE_LONG).round() as usize,
                height: tall.round() as usize,
                pixels_per_mm,
                start_mm: 0.0,
                roll: 0.0,
                centre_x: 0.0,
                centre_y: tall / 2.0,
                bend: Bend::Straight,
            },
            ground: Ground::Clear,
        },
        age: if is_old { Age::Old } else { Age::Now },
        traced: false,
    };
    let texture = easel.small("fit", order)?.id();
    let high = (PICTURE_TALL * broad) as f32;
    Some(CordPicture {
        texture,
        size_mm: vec2(high * PICTURE_LONG as f32, high),
    })
}
