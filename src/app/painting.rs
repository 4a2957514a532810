//! From an order to pixels that egui can hang up.

use eframe::egui::{Color32, ColorImage};

use crate::document::Design;
use crate::drawing::{Detail, Ends, Ground, Stage, Thread, View};
use crate::material::colour::Sight;
use crate::material::{Colour, Fibre, Part};

use super::easel::faded;
use super::order::{Age, Order};
use super::theme::Theme;

/// What of a cord is seen, and on what it lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scene {
    /// The window on the cord.
    pub view: View,
    /// What it lies on.
    pub ground: Ground,
}

/// The picture of an order, made on `stage`, which holds its cord.
pub(super) fn painted(stage: &mut Stage, order: &Order, detail: Detail) -> ColorImage {
    let Scene { view, ground } = &order.scene;
    let raster = stage.picture(&order.threads, view, ground, detail);
    let size = [raster.width, raster.height];
    let image = ColorImage::from_rgba_unmultiplied(size, &raster.rgba);
    match order.age {
        Age::Now => image,
        Age::Old => faded(image),
    }
}

/// What the strands of a design look like.
pub(super) fn threads(design: &Design) -> Vec<Thread> {
    let ends = |part: &Part| Some(ends_of(design.fibre(&part.fibre)?, part));
    design
        .drawn()
        .iter()
        .map(|strand| Thread {
            ends: strand.parts.iter().filter_map(ends).collect(),
        })
        .collect()
}

/// The same in other colours, one for each part of each strand; a core keeps its own.
pub(super) fn threads_in(design: &Design, colours: &[Vec<Colour>]) -> Vec<Thread> {
    dressed(&threads(design), colours)
}

/// Strands in other colours, one for each of their fibres; a core keeps its own.
pub(super) fn dressed(threads: &[Thread], colours: &[Vec<Colour>]) -> Vec<Thread> {
    let mut dressed = threads.to_vec();
    for (thread, colours) in dressed.iter_mut().zip(colours) {
        for (ends, &colour) in thread.ends.iter_mut().zip(colours) {
            ends.colour = colour;
        }
    }
    dressed
}

fn ends_of(fibre: &Fibre, part: &Part) -> Ends {
    Ends {
        appearance: fibre.appearance,
        colour: part.colour,
        count: part.ends,
        diameter: fibre.diameter.value,
    }
}

/// An even ground under a small picture.
pub(super) fn plain(theme: &Theme, ground: Color32) -> Ground {
    Ground::Plain {
        colour: colour(ground),
        shadow: shadow(theme),
    }
}

/// A cord's shadow must be deeper by night: linen is a mid tone there.
fn shadow(theme: &Theme) -> f64 {
    if theme.is_night() { 0.70 } else { 0.42 }
}

/// Threads as they are seen by a sight.
pub(super) fn see(threads: &mut [Thread], sight: Sight) {
    if sight == Sight::Full {
        return;
    }
    for end in threads.iter_mut().flat_map(|thread| &mut thread.ends) {
        end.colour = sight.of(end.colour);
    }
}

/// A strand's colour for egui.
pub(super) fn screen_colour(colour: Colour) -> Color32 {
    let [r, g, b] = colour.0;
    Color32::from_rgb(r, g, b)
}

pub(super) fn colour(colour: Color32) -> Colour {
    Colour([colour.r(), colour.g(), colour.b()])
}
