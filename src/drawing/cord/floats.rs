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
    let cells = Cells::of(&laid);
    let mut found = Vec::new();
    for (strand, spots) in &laid {
        let seen = |spot: &Spot| {
            let inside = (0.0..=view.width as f64).contains(&spot.at[0]);
            inside && !cells.hide(spot)
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
}
