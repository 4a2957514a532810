//! Strand diameters to millimetres: what a solved cord measures.
//!
//! One cord has several widths. *Thickness* here is the mean silhouette over
//! the crests, what a calliper shows that just touches; *pressed* is the
//! diameter of the round with the same section, what it shows closed until
//! the cord drags. Both at the squeezed surface.
//!
//! Off the weight a cord shortens by the share `x` and keeps its solid: with
//! the packing kept its section grows by `1/(1 - x)`. Worked, it lengthens by
//! `y` of the rested length.

use std::f64::consts::PI;

use super::figures::Hand;
use super::lay::{NO_LAY, lay};
use super::recipe::Recipe;
use super::section::{Section, extremes};
use super::solved::Solved;
use crate::mechanics::{Shape, Tubes, outline_area, screwed, silhouette, strand_lengths};

/// Share of the round inside the binding that strands squeezed in it fill.
/// Tried on eight strands; circles left round fill 0.73.
const BOUND_FILL: f64 = 0.93;
/// Directions for each of a silhouette in which a flat cord is measured. Tried: with one
/// how thick it is changes by 8e-3 when the disc is turned.
const CLOSER: usize = 8;

/// Measures without spread; mm, per cent, moves per cm, g/m.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sizes {
    pub on_disc: f64,
    pub pressed_on_disc: f64,
    pub rested: f64,
    pub pressed_rested: f64,
    pub width_rested: f64,
    pub off_weight: f64,
    pub worked: f64,
    pub lengthening: f64,
    pub bundle: f64,
    pub bundle_of_tails: f64,
    pub pitch: f64,
    pub moves_per_cm: f64,
    pub mass: f64,
    pub take_up: Vec<f64>,
    pub section: Section,
    pub hand: Hand,
    /// Across the empty middle, strand diameters.
    pub bore: f64,
    /// The same in mm.
    pub bore_mm: f64,
}

/// Measures the solved cord of a recipe.
pub(super) fn sizes(recipe: &Recipe, solved: &Solved) -> Sizes {
    let (tubes, shape, mm) = (&solved.tubes, solved.shown(), solved.scale.length);
    let profile = silhouette(tubes, shape);
    let bore = bore(tubes, shape);
    let section = Section::of(&profile.widths, bore);
    let flat = section == Section::Flat;
    let (narrow, wide) = if flat {
        sides(tubes, shape)
    } else {
        (0.0, 0.0)
    };
    let thickness = if flat { narrow } else { profile.mean } * mm;
    let width = if flat { wide } else { profile.mean } * mm;
    let pressed = (4.0 * outline_area(tubes, shape) / PI).sqrt() * mm;
    let lengths = strand_lengths(tubes, shape);
    let change = length_change(recipe, &lengths);
    let swell = (1.0 / (1.0 - change.shortens)).sqrt();
    let moves = solved.rounds * recipe.braid.lifts().len() as f64;
    let take_up: Vec<f64> = per_strand(tubes, &lengths)
        .iter()
        .take(recipe.bodies.len())
        .map(|l| l / shape.lift / (1.0 - change.shortens))
        .collect();
    let (hand, pitch) = if flat {
        NO_LAY
    } else {
        lay(recipe, solved, 0.5 * profile.mean)
    };
    Sizes {
        on_disc: thickness,
        pressed_on_disc: pressed,
        rested: thickness * swell,
        pressed_rested: pressed * swell,
        width_rested: width * swell,
        off_weight: -100.0 * change.shortens,
        worked: 100.0 * change.lengthens,
        lengthening: change.together(),
        bundle: bundle(recipe, &sections(solved), &take_up),
        bundle_of_tails: bundle(recipe, &sections(solved), &straight(recipe)),
        pitch: pitch * mm * (1.0 - change.shortens),
        moves_per_cm: moves / (shape.lift * mm) * 10.0,
        mass: mass(recipe, &take_up),
        take_up,
        section,
        hand,
        bore,
        bore_mm: bore * mm,
    }
}

/// A cord that lies like the measured one: so many times as wide and as high, its strands
/// squeezed to these sections and `used` for each length of cord on the disc.
pub(super) fn resized(
    recipe: &Recipe,
    last: &Sizes,
    [wide, high]: [f64; 2],
    sections: &[f64],
    used: &[f64],
) -> Sizes {
    let change = length_change(recipe, used);
    let before = 1.0 + last.off_weight / 100.0;
    let after = 1.0 - change.shortens;
    let swell = (before / after).sqrt();
    let take_up: Vec<f64> = used.iter().map(|l| l / after).collect();
    Sizes {
        on_disc: last.on_disc * wide,
        pressed_on_disc: last.pressed_on_disc * wide,
        rested: last.rested * wide * swell,
        pressed_rested: last.pressed_rested * wide * swell,
        width_rested: last.width_rested * wide * swell,
        off_weight: -100.0 * change.shortens,
        worked: 100.0 * change.lengthens,
        lengthening: change.together(),
        bundle: bundle(recipe, sections, &take_up),
        bundle_of_tails: bundle(recipe, sections, &straight(recipe)),
        pitch: last.pitch * high * after / before,
        moves_per_cm: last.moves_per_cm / high,
        mass: mass(recipe, &take_up),
        take_up,
        section: last.section,
        hand: last.hand,
        bore: last.bore,
        bore_mm: last.bore_mm * wide,
    }
}

/// The least and the largest mean width of a flat cord, which needs closer directions
/// than a silhouette has.
fn sides(tubes: &Tubes, shape: &Shape) -> (f64, f64) {
    let step = PI / silhouette(tubes, shape).widths.len() as f64 / CLOSER as f64;
    let seen = |number: usize| silhouette(tubes, &turned(shape, -step * number as f64)).widths;
    let rows: Vec<Vec<f64>> = (0..CLOSER).map(seen).collect();
    let widths: Vec<f64> = (0..rows[0].len() * CLOSER)
        .map(|way| rows[way % CLOSER][way / CLOSER])
        .collect();
    extremes(&widths)
}

/// The same cord, turned round z.
fn turned(shape: &Shape, angle: f64) -> Shape {
    let turned = |points: &[[f64; 3]]| points.iter().map(|&p| screwed(p, 0.0, angle)).collect();
    Shape {
        points: turned(&shape.points),
        axes: turned(&shape.axes),
        ..shape.clone()
    }
}

/// In the long run strands that take over one another's pieces eat the same.
pub(super) fn per_strand(tubes: &Tubes, lengths: &[f64]) -> Vec<f64> {
    let mut means = vec![0.0; tubes.strands];
    for cycle in tubes.cycles() {
        let mean = cycle.iter().map(|&i| lengths[i]).sum::<f64>() / cycle.len() as f64;
        for i in cycle {
            means[i] = mean;
        }
    }
    means
}

struct Change {
    shortens: f64,
    lengthens: f64,
}

impl Change {
    /// Off the weight and worked, per cent.
    fn together(&self) -> f64 {
        100.0 * ((1.0 - self.shortens) * (1.0 + self.lengthens) - 1.0)
    }
}

impl Sizes {
    /// Strand used for each length of cord on the disc.
    pub(super) fn used(&self) -> Vec<f64> {
        let on_disc = 1.0 + self.off_weight / 100.0;
        self.take_up.iter().map(|t| t * on_disc).collect()
    }
}

/// Shares of length, the strands' own ranges weighed by their solid.
fn length_change(recipe: &Recipe, lengths: &[f64]) -> Change {
    let weigh = |value: fn(&crate::material::Body) -> f64| {
        let solid = |(b, l): (&crate::material::Body, &f64)| b.solid_area * l;
        let pairs = || recipe.bodies.iter().zip(lengths);
        let all: f64 = pairs().map(solid).sum();
        pairs().map(|(b, l)| value(b) * solid((b, l))).sum::<f64>() / all / 100.0
    };
    Change {
        shortens: weigh(|b| b.shortens),
        lengthens: weigh(|b| b.lengthens),
    }
}

/// Section of each strand in the cord over that of the free one.
fn sections(solved: &Solved) -> Vec<f64> {
    let mean = |squeeze: &[f64]| {
        squeeze.iter().map(|u| (-2.0 * u).exp()).sum::<f64>() / squeeze.len() as f64
    };
    let strands = solved.shown().squeeze.chunks(solved.tubes.nodes);
    strands.map(mean).collect()
}

/// Strands that lie straight.
fn straight(recipe: &Recipe) -> Vec<f64> {
    vec![1.0; recipe.bodies.len()]
}

/// What a binding holds: the strands' solid at their take-up, squeezed between the
/// packing in the braid and the closest.
fn bundle(recipe: &Recipe, sections: &[f64], take_up: &[f64]) -> f64 {
    let area = |(i, b): (usize, &crate::material::Body)| {
        let in_braid = b.packing_free / sections[i];
        let bound = 0.5 * (in_braid.min(b.packing_closest) + b.packing_closest);
        b.solid_area * take_up[i] / (bound * BOUND_FILL)
    };
    let bundle: f64 = recipe.bodies.iter().enumerate().map(area).sum();
    // The core runs straight: its own length, packed as closely.
    let core = recipe
        .core_body
        .map_or(0.0, |b| b.solid_area / (b.packing_closest * BOUND_FILL));
    (4.0 * (bundle + core) / PI).sqrt()
}

fn mass(recipe: &Recipe, take_up: &[f64]) -> f64 {
    let tex = |(b, t): (&crate::material::Body, &f64)| b.tex * t;
    let core = recipe.core_body.map_or(0.0, |body| body.tex);
    (recipe.bodies.iter().zip(take_up).map(tex).sum::<f64>() + core) / 1000.0
}

fn centroid(points: &[[f64; 3]]) -> [f64; 2] {
    let n = points.len() as f64;
    [0, 1].map(|d| points.iter().map(|p| p[d]).sum::<f64>() / n)
}

/// Across the empty middle: twice the distance from the axis to the nearest surface.
fn bore(tubes: &Tubes, shape: &Shape) -> f64 {
    let middle = centroid(&shape.points);
    let free = |(at, p): (usize, &[f64; 3])| {
        let (x, y) = (p[0] - middle[0], p[1] - middle[1]);
        let out = x.hypot(y);
        let inward = [x / out, y / out, 0.0].map(|x| if out > 0.0 { x } else { 0.0 });
        out - tubes.half_width_in(shape, at, inward)
    };
    let nearest = shape
        .points
        .iter()
        .enumerate()
        .map(free)
        .fold(f64::INFINITY, f64::min);
    (2.0 * nearest).max(0.0)
}
