//! Which strand is seen at each pixel of the picture, and how near.
//!
//! Strands are plain tubes here, as the form has them: neither plies nor pile change
//! what lies on top of what.

use super::canvas::NONE;
use super::makeup::MakeUp;
use super::run::Run;
use super::tubes::{Camera, Tubes};
use super::visibility::Sight;
use crate::cord::Form;
use crate::drawing::thread::Thread;
use crate::drawing::view::View;

/// What is seen at the middle of each pixel.
#[derive(Debug, Clone, PartialEq)]
pub struct StrandsSeen {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// The strand of the design, row by row; none on the ground.
    pub strand: Vec<Option<usize>>,
    /// From the cord's axis towards the eye to what is seen, mm; 0 on the ground.
    pub near_mm: Vec<f64>,
}

impl StrandsSeen {
    /// Strand and nearness at a pixel; none on the ground and outside.
    pub fn at(&self, x: usize, y: usize) -> Option<(usize, f64)> {
        let at = (x < self.width && y < self.height).then_some(y * self.width + x)?;
        self.strand[at].map(|strand| (strand, self.near_mm[at]))
    }
}

/// Distance between samples of a strand, strand diameters.
const STEP: f32 = 0.05;

/// What is seen of a cord; nothing when the form cannot be drawn.
pub fn strands_seen(form: &Form, view: &View) -> StrandsSeen {
    let view = view.bounded();
    let mut seen = StrandsSeen {
        width: view.width,
        height: view.height,
        strand: vec![None; view.width * view.height],
        near_mm: vec![0.0; view.width * view.height],
    };
    let Some(run) = Run::new(form) else {
        return seen;
    };
    let camera = Camera::new(&view, &run);
    let makeups = vec![MakeUp::new(&Thread::plain()); run.strands];
    let tubes = Tubes::new(&run, &makeups, &camera, STEP);
    let sight = Sight::new(&tubes, &camera, run.reach, 1);
    for (column, x) in sight
        .columns
        .iter()
        .flat_map(|column| (0..column.width).map(move |x| (column, x)))
    {
        let (depth, segment) = column.line(0, x);
        for row in (0..sight.rows()).filter(|&row| segment[row] != NONE) {
            let to = (sight.top + row) * view.width + column.x0 + x;
            let id = column.segments[segment[row] as usize];
            let strand = tubes.segments[id as usize].strand;
            seen.strand[to] = Some(usize::from(strand));
            seen.near_mm[to] = f64::from(depth[row]) * run.unit;
        }
    }
    seen
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;
    use crate::drawing::view::Bend;

    #[test]
    fn what_is_seen_lies_as_near_as_its_tube() {
        let form = rope(3, 24, 2.0);
        let view = View {
            width: 60,
            height: 80,
            pixels_per_mm: 12.0,
            start_mm: 1.0,
            roll: 0.3,
            centre_x: 0.0,
            centre_y: 40.0,
            bend: Bend::Straight,
        };
        let seen = strands_seen(&form, &view);
        let mut met = 0;
        for (y, x) in (0..80).flat_map(|y| (0..60).map(move |x| (y, x))) {
            let Some((strand, near)) = seen.at(x, y) else {
                continue;
            };
            let (up, height) = (
                (40.0 - y as f64 - 0.5) / 12.0,
                1.0 + (x as f64 + 0.5) / 12.0,
            );
            let (sin, cos) = (-0.3_f64).sin_cos();
            let at = [up * cos - near * sin, up * sin + near * cos, height];
            // On the tube of its strand: as far from the helix as its radius.
            let nearest = (0..4000)
                .map(|k| helix(&form, strand, f64::from(k) / 1000.0 - 2.0))
                .map(|p| (0..3).map(|d| (p[d] - at[d]).powi(2)).sum::<f64>().sqrt())
                .fold(f64::MAX, f64::min);
            assert!((nearest - 1.0).abs() < 0.02, "{x} {y}: {nearest}");
            met += 1;
        }
        assert!(met > 1500, "{met}");
    }

    /// A place on the middle line of a strand of the rope, so many repeats up.
    fn helix(form: &Form, strand: usize, repeats: f64) -> [f64; 3] {
        let off = form.points[0][0].hypot(form.points[0][1]);
        let third = std::f64::consts::TAU / 3.0;
        let angle = third * strand as f64 + (third + form.turn) * repeats;
        [off * angle.cos(), off * angle.sin(), form.lift * repeats]
    }
}
