//! Where a strand lies on top, so that it can be marked there.
//!
//! Follows the same raised pieces as the picture of the cord, so that a mark
//! lies on the strand that is seen. Strands are taken as round here: how a
//! surface is made up does not matter for where its middle line runs.

use std::collections::BTreeMap;

use super::path::{Piece, pieces};
use super::run::Run;
use crate::cord::Form;
use crate::drawing::view::View;

/// Distance between samples, strand diameters.
const STEP: f32 = 0.12;
/// Width of a column in which strands are compared, strand diameters.
const COLUMN: f64 = 0.2;
/// Share of a strand's half width over which it hides what lies under it.
const HIDES: f64 = 0.8;
/// Most repeats looked at; the picture would be a blur.
const MOST_LEVELS: i64 = 600;

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
    let pieces = pieces(&run, STEP);
    let lengths: Vec<f32> = pieces.iter().map(|piece| piece.length).collect();
    let zoom = view.pixels_per_mm * run.unit;
    let laid: Vec<(usize, Vec<Spot>)> = levels(&run, &pieces, &view, zoom)
        .flat_map(|level| pieces.iter().enumerate().map(move |(i, p)| (level, i, p)))
        .map(|(level, i, piece)| {
            let (strand, _) = run.strand_at(level, i, &lengths);
            (strand, raised(&run, piece, (i, level), &view, zoom))
        })
        .collect();
    let columns = Columns::of(&laid, (COLUMN * zoom).max(1.0));
    let mut found = Vec::new();
    for (strand, spots) in &laid {
        let seen = |spot: &Spot| {
            let inside = (0.0..=view.width as f64).contains(&spot.at[0]);
            inside && !columns.hide(spot)
        };
        let stretches = spots.chunk_by(|a, b| seen(a) == seen(b));
        let on_top = stretches.filter(|stretch| stretch.len() > 1 && seen(&stretch[0]));
        found.extend(on_top.map(|stretch| Float {
            strand: *strand,
            path: stretch.iter().map(|spot| spot.at).collect(),
        }));
    }
    found
}

/// The repeats that reach into the view.
fn levels(run: &Run, pieces: &[Piece], view: &View, zoom: f64) -> std::ops::RangeInclusive<i64> {
    let lift = f64::from(run.lift);
    if lift.abs() < 1e-3 {
        return 0..=0;
    }
    let heights = pieces.iter().flat_map(|piece| &piece.samples);
    let (low, high) = heights
        .map(|sample| f64::from(sample.centre.z))
        .fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)));
    let start = view.start_mm / run.unit;
    let end = start + view.width as f64 / zoom;
    let (a, b) = ((start - high) / lift, (end - low) / lift);
    let first = a.min(b).floor() as i64;
    let last = (a.max(b).ceil() as i64).min(first.saturating_add(MOST_LEVELS));
    first..=last
}

/// A piece of one repeat as the picture shows it.
fn raised(run: &Run, piece: &Piece, of: (usize, i64), view: &View, zoom: f64) -> Vec<Spot> {
    let level = of.1 as f64;
    let (sin, cos) = (run.turn * level + view.roll).sin_cos();
    let turn = (sin as f32, cos as f32);
    let shift = f64::from(run.lift) * level - view.start_mm / run.unit;
    let spot = |sample: &super::path::Sample| {
        let turned = sample.centre.turned(turn);
        Spot {
            of,
            at: [
                zoom * (f64::from(turned.z) + shift),
                view.centre_y - zoom * f64::from(turned.x),
            ],
            near: zoom * f64::from(turned.y),
            radius: zoom * f64::from(sample.radius),
        }
    };
    piece.samples.iter().map(spot).collect()
}

/// All samples, column by column.
struct Columns {
    width: f64,
    spots: BTreeMap<i64, Vec<Spot>>,
}

impl Columns {
    fn of(laid: &[(usize, Vec<Spot>)], width: f64) -> Self {
        let mut spots: BTreeMap<i64, Vec<Spot>> = BTreeMap::new();
        for spot in laid.iter().flat_map(|(_, spots)| spots) {
            let column = (spot.at[0] / width).floor() as i64;
            spots.entry(column).or_default().push(*spot);
        }
        Self { width, spots }
    }

    /// Whether another strand lies over this spot.
    fn hide(&self, spot: &Spot) -> bool {
        let column = (spot.at[0] / self.width).floor() as i64;
        let there = self.spots.get(&column).map_or(&[][..], Vec::as_slice);
        there.iter().any(|other| {
            let over = (other.at[1] - spot.at[1]).abs() < HIDES * other.radius;
            other.of != spot.of && other.near > spot.near && over
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    fn view(start_mm: f64, roll: f64) -> View {
        View {
            width: 600,
            height: 100,
            pixels_per_mm: 10.0,
            start_mm,
            roll,
            centre_y: 50.0,
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
    fn a_form_that_is_no_cord_has_no_floats() {
        let mut form = rope(3, 8, 1.0);
        form.radius.fill(f64::NAN);
        assert!(floats(&form, &view(0.0, 0.0)).is_empty());
    }
}
