//! What is seen at each point of the picture.
//!
//! The picture is cut into columns of a fixed width, each its own job with its
//! list of segments, nearest first: the outcome does not depend on how many
//! jobs run at once.

use rayon::prelude::*;

use super::canvas::{Canvas, NONE, offsets};
use super::tubes::{Camera, Tubes};

/// Width of a column, pixels.
pub(crate) const COLUMN: usize = 100;

/// Depth and segment at every sample of a column of the picture.
#[derive(Debug, Clone)]
pub(crate) struct Column {
    /// First pixel and width in pixels.
    pub(crate) x0: usize,
    pub(crate) width: usize,
    /// The segments that may be seen in it.
    pub(crate) segments: Vec<u32>,
    /// Samples from one line down to the next.
    stride: usize,
    depth: Vec<f32>,
    segment: Vec<u32>,
}

impl Column {
    /// Depths down the picture of one of a pixel's samples, `x` pixels from
    /// the column's left side, and numbers of the segments.
    #[inline]
    pub(crate) fn line(&self, sample: usize, x: usize) -> (&[f32], &[u32]) {
        let line = (sample * self.width + x) * self.stride..;
        (&self.depth[line.clone()], &self.segment[line])
    }
}

/// The rows in which the cord lies, and what is seen there.
#[derive(Debug, Clone)]
pub(crate) struct Sight {
    /// Samples in a pixel.
    pub(crate) samples: usize,
    offsets: Vec<f32>,
    pub(crate) top: usize,
    pub(crate) bottom: usize,
    pub(crate) columns: Vec<Column>,
}

impl Sight {
    pub(crate) fn new(tubes: &Tubes, camera: &Camera, reach: f32, samples: usize) -> Self {
        let (top, bottom) = rows(camera, reach);
        let lists = sorted_lists(tubes, camera);
        let columns = lists
            .into_par_iter()
            .enumerate()
            .map(|(i, segments)| {
                let x0 = i * COLUMN;
                let width = COLUMN.min(camera.width - x0);
                let mut canvas = Canvas::new(camera, x0, width, (top, bottom), samples);
                canvas.draw_all(tubes, &segments);
                Column {
                    x0,
                    width,
                    segments,
                    stride: canvas.stride,
                    depth: canvas.depth,
                    segment: canvas.segment,
                }
            })
            .collect();
        Self {
            samples,
            offsets: offsets(samples),
            top,
            bottom,
            columns,
        }
    }

    /// Whether the middle of a pixel shows the cord; the row must be one of
    /// the cord's.
    pub(crate) fn covers(&self, x: usize, y: usize) -> bool {
        let column = &self.columns[x / COLUMN];
        let (_, segment) = column.line(self.samples / 2, x - column.x0);
        segment[y - self.top] != NONE
    }

    /// Where in a pixel its sample in this row lies, right and down.
    pub(crate) fn place(&self, row: usize) -> (f32, f32) {
        (self.offsets[row], (row as f32 + 0.5) / self.samples as f32)
    }

    /// Rows of pixels the cord may touch.
    pub(crate) fn rows(&self) -> usize {
        self.bottom - self.top
    }
}

fn rows(camera: &Camera, reach: f32) -> (usize, usize) {
    // Uneven and flattened strands stand out a little further.
    let r = (camera.rise() + 1.12 * reach + 0.1) * camera.zoom;
    let height = camera.height as f32;
    let top = (camera.centre_y - r).floor().clamp(0.0, height) as usize;
    let bottom = (camera.centre_y + r).ceil().clamp(0.0, height) as usize;
    (top, bottom.max(top))
}

/// Segments that touch each column, nearest first.
fn sorted_lists(tubes: &Tubes, camera: &Camera) -> Vec<Vec<u32>> {
    let count = camera.width.div_ceil(COLUMN);
    let mut lists = vec![Vec::new(); count];
    let per_column = camera.zoom / COLUMN as f32;
    let mut nearest = Vec::with_capacity(tubes.segments.len());
    for (id, segment) in tubes.segments.iter().enumerate() {
        let (a, b) = tubes.joints_of(segment);
        let r = a.widest().max(b.widest()) + segment.extend;
        nearest.push(a.centre.z.max(b.centre.z) + r);
        let low = (a.centre.x.min(b.centre.x) - r) * per_column;
        let high = (a.centre.x.max(b.centre.x) + r) * per_column;
        let last = high.floor().min(count as f32 - 1.0);
        if last < 0.0 {
            continue;
        }
        for list in lists
            .iter_mut()
            .take(last as usize + 1)
            .skip(low.max(0.0) as usize)
        {
            list.push(id as u32);
        }
    }
    let by_depth = |&a: &u32, &b: &u32| nearest[b as usize].total_cmp(&nearest[a as usize]);
    lists.par_iter_mut().for_each(|list| list.sort_by(by_depth));
    lists
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::canvas::NOTHING;
    use crate::drawing::cord::run::Run;
    use crate::drawing::cord::samples::{rod, rope};
    use crate::drawing::cord::vector::vec3;
    use crate::drawing::view::{Bend, View};

    /// A hundred pixels square, twenty to a strand diameter.
    fn camera() -> Camera {
        let view = View {
            width: 100,
            height: 100,
            pixels_per_mm: 20.0,
            start_mm: 0.0,
            roll: 0.0,
            centre_x: 0.0,
            centre_y: 50.0,
            bend: Bend::Straight,
        };
        Camera::new(&view, &Run::new(&rope(3, 8, 1.0)).unwrap())
    }

    fn seen(tubes: &Tubes) -> Sight {
        Sight::new(tubes, &camera(), 2.5, 1)
    }

    /// Depth at a place, strand diameters from the left and up from the axis.
    fn depth(sight: &Sight, x: f32, y: f32) -> f32 {
        let column = &sight.columns[0];
        let row = (50.0 - y * 20.0) as usize - sight.top;
        column.line(0, (x * 20.0) as usize).0[row]
    }

    #[test]
    fn a_level_rod_is_as_high_as_its_circle() {
        let sight = seen(&rod(vec3(0.5, 0.0, 0.2), vec3(4.5, 0.0, 0.2), (0.5, 0.5)));
        for y in [-0.4, -0.1, 0.0, 0.3_f32] {
            // Middle of the sample's row.
            let mid = ((y * 20.0).ceil() - 0.5) / 20.0;
            let high = 0.2 + (0.25 - mid * mid).sqrt();
            assert!((depth(&sight, 2.5, y) - high).abs() < 1e-4, "{y}");
        }
        assert_eq!(depth(&sight, 2.5, 0.6), NOTHING);
        assert_eq!(depth(&sight, 4.9, 0.0), NOTHING);
    }

    #[test]
    fn a_flat_rod_is_wide_and_low() {
        // The first half axis points to the eye.
        let sight = seen(&rod(vec3(0.5, 0.0, 0.0), vec3(4.5, 0.0, 0.0), (0.2, 1.0)));
        assert!((depth(&sight, 2.5, 0.0) - 0.2).abs() < 1e-3);
        assert!(depth(&sight, 2.5, 0.9) > 0.0);
        assert_eq!(depth(&sight, 2.5, 1.1), NOTHING);
    }

    #[test]
    fn a_leaning_rod_comes_nearer_along_its_way() {
        let sight = seen(&rod(vec3(0.5, 0.0, -1.0), vec3(4.5, 0.0, 1.0), (0.5, 0.5)));
        let slope = depth(&sight, 3.5, 0.0) - depth(&sight, 1.5, 0.0);
        assert!((slope - 1.0).abs() < 1e-3, "{slope}");
    }

    #[test]
    fn the_nearer_rod_hides_the_other_whatever_their_order() {
        let near = rod(vec3(0.5, 0.0, 1.0), vec3(4.5, 0.0, 1.0), (0.4, 0.4));
        let far = rod(vec3(0.5, 0.2, 0.0), vec3(4.5, 0.2, 0.0), (0.5, 0.5));
        for (first, second) in [(&near, &far), (&far, &near)] {
            let mut both = first.clone();
            let base = both.joints.len() as u32;
            both.joints.extend(&second.joints);
            both.segments.extend(&second.segments);
            both.segments[1].first += base;
            let sight = seen(&both);
            let alone = depth(&seen(&near), 2.5, 0.0);
            assert_eq!(depth(&sight, 2.5, 0.0), alone);
            assert!(depth(&sight, 2.5, 0.6) > NOTHING);
        }
    }

    #[test]
    fn samples_share_neither_row_nor_place() {
        for count in [1, 2, 4, 9, 16] {
            let mut places = offsets(count);
            places.sort_by(f32::total_cmp);
            let even = |i: usize| (i as f32 + 0.5) / count as f32;
            assert!(
                places
                    .iter()
                    .enumerate()
                    .all(|(i, p)| (p - even(i)).abs() < 1e-6)
            );
        }
    }
}
