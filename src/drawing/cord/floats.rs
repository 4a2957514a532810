//! Where a strand lies on top, so that it can be marked there.
//!
//! Follows the same raised pieces as the picture of the cord, so that a mark
//! lies on the strand that is seen. Strands are taken as round here: how a
//! surface is made up does not matter for where its middle line runs.

use std::collections::BTreeMap;

use super::path::{Sample, pieces};
use super::raise::{Raise, Uneven, levels};
use super::run::Run;
use super::tubes::Camera;
use crate::cord::Form;
use crate::drawing::view::View;

/// Distance between samples, strand diameters.
const STEP: f32 = 0.12;
/// Share of a strand's half width over which it hides what lies under it.
const HIDES: f64 = 0.8;
/// Most repeats looked at; the picture would be a blur.
const MOST_LEVELS: usize = 600;

/// A stretch of a strand on top of the others, as the eye sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Float {
    /// Strand of the design.
    pub strand: usize,
    /// Its middle line in pixels of the view, at least two points.
    pub path: Vec<[f64; 2]>,
}

/// One sample in the picture: pixels across and down, towards the eye, radius.
#[derive(Debug, Clone, Copy)]
struct Spot {
    /// Piece and repeat it belongs to.
    of: (usize, i64),
    at: [f64; 2],
    near: f64,
    radius: f64,
}

/// All stretches of all strands that are on top within the view; none when the
/// form cannot be drawn.
pub fn floats(form: &Form, view: &View) -> Vec<Float> {
    let view = view.bounded();
    let Some(run) = Run::new(form) else {
        return Vec::new();
    };
    let laid = spots(&run, &Camera::new(&view, &run));
    let on_top = on_top(&laid, view.width as f64);
    let float = |(strand, spots): (usize, &[Spot])| Float {
        strand,
        path: spots.iter().map(|spot| spot.at).collect(),
    };
    on_top.into_iter().map(float).collect()
}

/// The stretches on top within a picture so wide, each with its strand.
fn on_top(laid: &[(usize, Vec<Spot>)], width: f64) -> Vec<(usize, &[Spot])> {
    let cells = Cells::of(laid);
    let seen = |spot: &Spot| (0.0..=width).contains(&spot.at[0]) && !cells.hide(spot);
    let mut found = Vec::new();
    for (strand, spots) in laid {
        let stretches = spots.chunk_by(|a, b| seen(a) == seen(b));
        let on_top = stretches.filter(|stretch| stretch.len() > 1 && seen(&stretch[0]));
        found.extend(on_top.map(|stretch| (*strand, stretch)));
    }
    found
}

/// How a float is looked at from close by, in a straight view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CloseUp {
    /// Strand of the design.
    pub strand: usize,
    /// Height of its middle in the cord, mm.
    pub along_mm: f64,
    /// Turn of the cord that brings it to the front, radians.
    pub roll: f64,
    /// Along and across the cord, as it is then seen, mm.
    pub size_mm: [f64; 2],
}

/// The float nearest to a pixel of a straight view; none when nothing is seen there.
///
/// Its far side is hidden until it is turned to the front, so it is looked for again
/// from there.
pub fn close_up(form: &Form, view: &View, at: [f64; 2]) -> Option<CloseUp> {
    let first = looked_at(form, view, at)?;
    let half = view.width as f64 / 2.0 / view.pixels_per_mm;
    let turned = View {
        roll: first.roll,
        start_mm: first.along_mm - half,
        ..*view
    };
    let middle = [view.width as f64 / 2.0, view.centre_y];
    looked_at(form, &turned, middle).or(Some(first))
}

fn looked_at(form: &Form, view: &View, at: [f64; 2]) -> Option<CloseUp> {
    let view = view.bounded();
    let run = Run::new(form)?;
    let laid = spots(&run, &Camera::new(&view, &run));
    let on_top = on_top(&laid, view.width as f64);
    let away = |spot: &Spot| (spot.at[0] - at[0]).hypot(spot.at[1] - at[1]) - spot.radius;
    let nearest = |spots: &[Spot]| spots.iter().map(away).fold(f64::INFINITY, f64::min);
    let by_distance =
        |a: &&(usize, &[Spot]), b: &&(usize, &[Spot])| nearest(a.1).total_cmp(&nearest(b.1));
    let (strand, spots) = *on_top.iter().min_by(by_distance)?;
    let whole = joined(spots, on_top.iter().filter(|it| it.0 == strand));
    let middle = whole[whole.len() / 2];
    let up = |spot: &Spot| view.centre_y - spot.at[1];
    let (sin, cos) = up(&middle).atan2(middle.near).sin_cos();
    let across = |spot: &Spot| up(spot) * cos - spot.near * sin;
    let size = [reach(&whole, |spot| spot.at[0]), reach(&whole, across)];
    Some(CloseUp {
        strand,
        along_mm: view.start_mm + middle.at[0] / view.pixels_per_mm,
        roll: view.roll + up(&middle).atan2(middle.near),
        size_mm: size.map(|pixels| pixels / view.pixels_per_mm),
    })
}

/// A stretch with those of its strand that go on where it ends: a strand is laid
/// repeat by repeat.
fn joined<'a>(spots: &[Spot], others: impl Iterator<Item = &'a (usize, &'a [Spot])>) -> Vec<Spot> {
    let mut whole = spots.to_vec();
    let meets = |a: &Spot, b: &Spot| {
        let apart = (a.at[0] - b.at[0]).hypot(a.at[1] - b.at[1]);
        apart < 0.1 * a.radius && (a.near - b.near).abs() < 0.1 * a.radius
    };
    for (_, other) in others {
        let (first, last) = (spots[0], spots[spots.len() - 1]);
        if meets(&last, &other[0]) {
            whole.extend_from_slice(&other[1..]);
        } else if meets(&first, &other[other.len() - 1]) {
            whole.splice(0..0, other[..other.len() - 1].iter().copied());
        }
    }
    whole
}

/// From the lowest to the highest of some spots, their thickness and all.
fn reach(spots: &[Spot], of: impl Fn(&Spot) -> f64) -> f64 {
    let ends = |(low, high): (f64, f64), spot: &Spot| {
        let at = of(spot);
        (low.min(at - spot.radius), high.max(at + spot.radius))
    };
    let (low, high) = spots.iter().fold((f64::INFINITY, f64::NEG_INFINITY), ends);
    high - low
}

/// The strands as the picture shows them, piece by piece.
fn spots(run: &Run, camera: &Camera) -> Vec<(usize, Vec<Spot>)> {
    let pieces = pieces(run, STEP);
    let lengths: Vec<f32> = pieces.iter().map(|piece| piece.length).collect();
    let samples = pieces.iter().map(|piece| piece.samples.len()).sum();
    let even = Uneven::new(0, 0.0);
    let mut laid = Vec::new();
    for level in levels(run, &pieces, camera, samples).take(MOST_LEVELS) {
        let raise = Raise::new(run, camera, level);
        for (i, piece) in pieces.iter().enumerate() {
            let (strand, _) = run.strand_at(level, i, &lengths);
            for part in raise.laid(piece, 0.0, &even) {
                let spots = part.iter().map(|s| Spot::new(s, (i, level), camera));
                laid.push((strand, spots.collect()));
            }
        }
    }
    laid
}

impl Spot {
    fn new(sample: &Sample, of: (usize, i64), camera: &Camera) -> Self {
        let pixels = |v: f32| f64::from(v * camera.zoom);
        let down = f64::from(camera.centre_y) - pixels(sample.centre.y);
        Self {
            of,
            at: [pixels(sample.centre.x), down],
            near: pixels(sample.centre.z),
            radius: pixels(sample.radius),
        }
    }
}

/// All samples, cell by cell; a cell is as wide as the thickest strand hides.
struct Cells {
    width: f64,
    spots: BTreeMap<[i64; 2], Vec<Spot>>,
}

impl Cells {
    fn of(laid: &[(usize, Vec<Spot>)]) -> Self {
        let all = || laid.iter().flat_map(|(_, spots)| spots);
        let widest = all().map(|spot| spot.radius).fold(0.0, f64::max);
        let mut cells = Self {
            width: (HIDES * widest).max(1.0),
            spots: BTreeMap::new(),
        };
        for spot in all() {
            cells.spots.entry(cells.cell(spot)).or_default().push(*spot);
        }
        cells
    }

    fn cell(&self, spot: &Spot) -> [i64; 2] {
        spot.at.map(|v| (v / self.width).floor() as i64)
    }

    /// Whether another strand lies over this spot.
    fn hide(&self, spot: &Spot) -> bool {
        let [x, y] = self.cell(spot);
        let over = |other: &Spot| {
            let [right, down] = [0, 1].map(|k| other.at[k] - spot.at[k]);
            let covers = right.hypot(down) < HIDES * other.radius;
            other.of != spot.of && other.near > spot.near && covers
        };
        (x - 1..=x + 1).any(|x| {
            let near = self.spots.range([x, y - 1]..=[x, y + 1]);
            near.flat_map(|(_, spots)| spots).any(over)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::pixel::strand_seen;
    use super::*;
    use crate::drawing::cord::samples::rope;
    use crate::drawing::view::Bend;

    fn view(start_mm: f64, roll: f64) -> View {
        View {
            width: 600,
            height: 100,
            pixels_per_mm: 10.0,
            start_mm,
            roll,
            centre_x: 0.0,
            centre_y: 50.0,
            bend: Bend::Straight,
        }
    }

    #[test]
    fn every_strand_of_a_rope_comes_to_the_top_and_stays_within_the_cord() {
        let form = rope(5, 16, 2.0);
        let seen = floats(&form, &view(-3.0, 0.4));
        for strand in 0..5 {
            assert!(seen.iter().any(|float| float.strand == strand), "{strand}");
        }
        let reach = form
            .points
            .iter()
            .map(|p| p[0].hypot(p[1]))
            .fold(0.0, f64::max);
        for point in seen.iter().flat_map(|float| &float.path) {
            assert!((point[1] - 50.0).abs() <= 10.0 * reach + 1.0, "{point:?}");
            assert!((0.0..=600.0).contains(&point[0]), "{point:?}");
        }
    }

    #[test]
    fn a_strand_on_top_is_the_nearest_to_the_eye_in_a_cut_through_the_cord() {
        let form = rope(4, 24, 2.0);
        let seen = floats(&form, &view(0.0, 0.0));
        let middle: Vec<_> = seen
            .iter()
            .flat_map(|float| float.path.iter().map(|point| (float.strand, *point)))
            .filter(|(_, point)| (point[1] - 50.0).abs() < 3.0)
            .collect();
        assert!(middle.len() > 8, "{}", middle.len());
        for (strand, point) in middle {
            let cut = crate::drawing::section(&form, point[0] / 10.0);
            let nearest = cut
                .iter()
                .filter(|disc| disc.centre_mm[0].abs() < disc.radius_mm)
                .max_by(|a, b| a.centre_mm[1].total_cmp(&b.centre_mm[1]));
            assert_eq!(nearest.map(|disc| disc.strand), Some(strand), "{point:?}");
        }
    }

    #[test]
    fn floats_of_a_loop_lie_on_its_ring_all_round() {
        let form = rope(5, 16, 2.0);
        let ring = View {
            width: 600,
            height: 600,
            centre_x: 300.0,
            centre_y: 300.0,
            bend: Bend::Loop { inner_mm: 40.0 },
            ..view(0.0, 0.0)
        };
        let reach = form.points[0][0].hypot(form.points[0][1]) + form.radius[0];
        let mut quarters = [0; 4];
        for point in floats(&form, &ring).iter().flat_map(|float| &float.path) {
            let (right, down) = (point[0] - 300.0, point[1] - 300.0);
            let off = right.hypot(down) / 10.0 - (20.0 + reach);
            assert!(off.abs() < reach - 1.0 + 0.1, "{point:?}");
            quarters[usize::from(right > 0.0) + 2 * usize::from(down > 0.0)] += 1;
        }
        let most = quarters.iter().max().unwrap();
        assert!(quarters.iter().all(|n| 5 * n > 4 * most), "{quarters:?}");
    }

    #[test]
    fn a_form_that_is_no_cord_has_no_floats() {
        let mut form = rope(3, 8, 1.0);
        form.radius.fill(f64::NAN);
        assert!(floats(&form, &view(0.0, 0.0)).is_empty());
    }

    #[test]
    fn a_close_up_brings_a_whole_float_to_the_middle_of_the_front() {
        let form = rope(5, 16, 2.0);
        let from = view(3.0, 0.3);
        for at in [[300.0, 50.0], [200.0, 38.0], [420.0, 60.0]] {
            let close = close_up(&form, &from, at).expect("a float");
            let seen = View {
                roll: close.roll,
                start_mm: close.along_mm - 30.0,
                ..from
            };
            let found = strand_seen(&form, &[], &seen, [300.0, 50.0]);
            assert_eq!(found, Some(close.strand), "{at:?}");
            let middle = floats(&form, &seen)
                .into_iter()
                .filter(|float| float.strand == close.strand)
                .flat_map(|float| float.path)
                .map(|p| (p[0] - 300.0).hypot(p[1] - 50.0))
                .fold(f64::INFINITY, f64::min);
            assert!(middle < 4.0, "{at:?}: {middle} pixels off");
            let [along, across] = close.size_mm;
            let strand = 2.0 * form.radius[0];
            assert!(along > strand && across >= strand, "{close:?}");
        }
    }
}
