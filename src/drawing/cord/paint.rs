//! The cord's pixels: every tube seen in a pixel is shaded once.
//!
//! Samples of a pixel are gathered by the tube they show; each tube is shaded
//! at its nearest sample and weighs as many samples as it has. So outlines
//! are smooth and the inside costs one shading.

use rayon::prelude::*;

use super::canvas::NONE;
use super::layer::{Layer, Pixel};
use super::light::Studio;
use super::look::Look;
use super::occlusion::Occlusion;
use super::surface::{Openness, Spot, lit, touch};
use super::tubes::{Camera, Tubes};
use super::vector::{Vec3, vec3};
use super::visibility::{Column, Sight};
use crate::drawing::view::Detail;

/// All that the pixels of a picture follow from.
pub(crate) struct Painter<'a> {
    pub(crate) studio: &'a Studio,
    pub(crate) camera: &'a Camera,
    pub(crate) tubes: &'a Tubes,
    pub(crate) sight: &'a Sight,
    pub(crate) occlusion: &'a Occlusion,
    /// Looks of the ends of each strand.
    pub(crate) looks: &'a [Vec<Look>],
    pub(crate) detail: Detail,
}

/// Samples of a pixel, at most.
const MOST: usize = 16;

/// Samples of one tube in a pixel.
#[derive(Clone, Copy)]
struct Group {
    tube: u32,
    count: u32,
    /// The nearest sample: its segment, depth and row in the pixel.
    segment: u32,
    depth: f32,
    row: usize,
}

impl Painter<'_> {
    /// The cord painted over the layer, row by row.
    pub(crate) fn paint(&self, layer: &mut Layer) {
        let first = self.sight.top - layer.top;
        layer
            .pixels
            .par_chunks_mut(layer.width)
            .skip(first)
            .take(self.sight.rows())
            .enumerate()
            .for_each(|(y, row)| self.row(y, row));
    }

    fn row(&self, y: usize, row: &mut [Pixel]) {
        for column in &self.sight.columns {
            for (x, to) in row[column.x0..][..column.width].iter_mut().enumerate() {
                let pixel = self.pixel(column, x, y);
                if pixel.cover > 0.0 {
                    to.light = pixel.light;
                    to.cover = pixel.cover + to.cover * (1.0 - pixel.cover);
                }
            }
        }
    }

    fn pixel(&self, column: &Column, x: usize, y: usize) -> Pixel {
        let mut groups = [None::<Group>; MOST];
        let n = self.sight.samples;
        let mut used = 0;
        for j in 0..n {
            let at = (y * n + j) * column.stride + x;
            let segment = column.segment[at];
            if segment != NONE {
                used = self.gather(&mut groups, used, segment, column.depth[at], j);
            }
        }
        let mut pixel = Pixel::default();
        let share = 1.0 / n as f32;
        for group in groups.iter().take(used).flatten() {
            let weight = group.count as f32 * share;
            // One bright facet must not burn out a whole outline.
            let light = self.shade(group, column.x0 + x, y).map(|c| c.min(1.4));
            pixel.light += light * weight;
            pixel.cover += weight;
        }
        pixel
    }

    fn gather(
        &self,
        groups: &mut [Option<Group>; MOST],
        used: usize,
        segment: u32,
        depth: f32,
        row: usize,
    ) -> usize {
        let tube = self.tubes.segments[segment as usize].tube;
        for group in groups.iter_mut().take(used).flatten() {
            if group.tube == tube {
                group.count += 1;
                if depth > group.depth {
                    (group.segment, group.depth, group.row) = (segment, depth, row);
                }
                return used;
            }
        }
        groups[used] = Some(Group {
            tube,
            count: 1,
            segment,
            depth,
            row,
        });
        used + 1
    }

    fn shade(&self, group: &Group, x: usize, y: usize) -> Vec3 {
        let zoom = self.camera.zoom;
        let row = self.sight.top + y;
        let (across, down) = self.sight.place(group.row);
        let at = vec3(
            (x as f32 + across) / zoom,
            (self.camera.centre_y - row as f32 - down) / zoom,
            group.depth,
        );
        // What lies behind the nearest in its pixel lies deeper in the crevice.
        let behind = (self.occlusion.depth.at(x, y) - group.depth - 0.04).max(0.0);
        let open = Openness {
            room: self.occlusion.room.at(x, y) / (1.0 + 3.2 * behind),
            lamp: self.occlusion.lamp.at(x, y) / (1.0 + 7.0 * behind),
        };
        let segment = &self.tubes.segments[group.segment as usize];
        let look = &self.looks[usize::from(segment.strand)][usize::from(segment.end)];
        let spot = Spot::new(self.tubes, segment, at, zoom);
        let touch = touch(self.studio.noise, look, segment.skin, &spot, self.detail);
        lit(self.studio, look, &spot, &touch, open)
    }
}
