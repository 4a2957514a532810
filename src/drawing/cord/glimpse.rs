//! What is seen of each strand, pixel by pixel, for pictures made of outlines.
//!
//! The same visibility as the painted picture. The light is that of smooth strands: what
//! is smaller than a ply would break outlines into crumbs.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::canvas::NONE;
use super::light::Studio;
use super::look::Look;
use super::occlusion::Occlusion;
use super::tubes::{Camera, Segment, Tubes};
use super::vector::{Vec3, vec3};
use super::visibility::{Column, Sight};

/// A pixel in which a strand is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Glimpse {
    pub(crate) x: usize,
    pub(crate) y: usize,
    /// Share of the pixel, over 0 to 1.
    pub(crate) cover: f32,
    /// Linear light of the strand there.
    pub(crate) light: Vec3,
}

/// Strand of the design and which of its ends.
pub(crate) type Part = (u16, u16);

/// All that is seen of a cord.
#[derive(Debug, Clone, Default)]
pub(crate) struct Seen {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Row by row.
    pub(crate) parts: BTreeMap<Part, Vec<Glimpse>>,
}

/// A scene with nothing left to find out but its light.
pub(crate) struct Eye<'a> {
    pub(crate) studio: &'a Studio,
    pub(crate) camera: &'a Camera,
    pub(crate) tubes: &'a Tubes,
    pub(crate) sight: &'a Sight,
    pub(crate) occlusion: &'a Occlusion,
    pub(crate) looks: &'a [Vec<Look>],
}

/// A sample of a part in a pixel.
#[derive(Clone, Copy)]
struct Sample {
    part: Part,
    segment: u32,
    depth: f32,
    row: usize,
}

impl Eye<'_> {
    pub(crate) fn seen(&self) -> Seen {
        let rows: Vec<Vec<(Part, Glimpse)>> = (0..self.sight.rows())
            .into_par_iter()
            .map(|y| self.row(y))
            .collect();
        let mut seen = Seen {
            width: self.camera.width,
            height: self.camera.height,
            parts: BTreeMap::new(),
        };
        for (part, glimpse) in rows.into_iter().flatten() {
            seen.parts.entry(part).or_default().push(glimpse);
        }
        seen
    }

    fn row(&self, y: usize) -> Vec<(Part, Glimpse)> {
        let mut found = Vec::new();
        for column in &self.sight.columns {
            for x in 0..column.width {
                self.pixel(column, x, y, &mut found);
            }
        }
        found
    }

    fn pixel(&self, column: &Column, x: usize, y: usize, found: &mut Vec<(Part, Glimpse)>) {
        let count = self.sight.samples;
        let sample = |row: usize| {
            let (depths, segments) = column.line(row, x);
            let number = segments[y];
            (number != NONE).then(|| {
                let segment = column.segments[number as usize];
                let tube = &self.tubes.segments[segment as usize];
                Sample {
                    part: (tube.strand, tube.end),
                    segment,
                    depth: depths[y],
                    row,
                }
            })
        };
        let mut samples: Vec<Sample> = (0..count).filter_map(sample).collect();
        // The nearest of each part first.
        samples.sort_by(|a, b| a.part.cmp(&b.part).then(b.depth.total_cmp(&a.depth)));
        for group in samples.chunk_by(|a, b| a.part == b.part) {
            let glimpse = Glimpse {
                x: column.x0 + x,
                y: self.sight.top + y,
                cover: group.len() as f32 / count as f32,
                light: self.light(&group[0], column.x0 + x, y),
            };
            found.push((group[0].part, glimpse));
        }
    }

    fn light(&self, sample: &Sample, x: usize, y: usize) -> Vec3 {
        let zoom = self.camera.zoom;
        let (across, down) = self.sight.place(sample.row);
        let row = self.sight.top + y;
        let at = vec3(
            (x as f32 + across) / zoom,
            (self.camera.centre_y - row as f32 - down) / zoom,
            sample.depth,
        );
        let (room, lamp) = (
            self.occlusion.room.at(x, y).clamp(0.0, 1.0),
            self.occlusion.lamp.at(x, y),
        );
        let segment = &self.tubes.segments[sample.segment as usize];
        let look = &self.looks[usize::from(segment.strand)][usize::from(segment.end)];
        self.lit(look, self.stand(segment, at), room, lamp)
    }

    /// Normal and direction of a tube where it is seen.
    fn stand(&self, segment: &Segment, at: Vec3) -> (Vec3, Vec3) {
        let (a, b) = self.tubes.joints_of(segment);
        let share = (at - a.centre).dot(segment.axis) / segment.length;
        let t = share.clamp(-0.4, 1.4);
        let along = a.along.towards(b.along, t).unit();
        let off = (at - a.centre.towards(b.centre, t)).square_to(along);
        let out = a.outward.towards(b.outward, t).square_to(along).unit();
        let side = along.cross(out);
        let mix = |a: f32, b: f32| (a + (b - a) * t).max(1e-4);
        let (p, q) = (mix(a.half.0, b.half.0), mix(a.half.1, b.half.1));
        let normal = out * (off.dot(out) / (p * p)) + side * (off.dot(side) / (q * q));
        (normal.unit(), along)
    }

    /// Lamp, window and room on a smooth strand, and a highlight across its filaments.
    /// Tried beside the painted picture.
    fn lit(&self, look: &Look, (normal, along): (Vec3, Vec3), room: f32, lamp: f32) -> Vec3 {
        let studio = self.studio;
        let key = ((normal.dot(studio.key) + 0.25) / 1.25).max(0.0) * lamp;
        let fill = ((normal.dot(studio.fill) + 0.3) / 1.3).max(0.0) * room;
        let light = studio.room(studio.up(normal)) * room
            + studio.key_colour * key
            + studio.fill_colour * fill;
        let spread = along.dot(studio.key_half) / (look.spread + 0.25);
        let bell = 1.0 / (1.0 + 0.25 * spread * spread).powi(2);
        let facing = normal.dot(studio.key_half).max(0.0).powi(8);
        let shine = 0.32 * look.gloss.min(1.5) * bell * facing * lamp;
        look.colour.times(light) + look.glint(0.45) * shine
    }
}
