//! The cord's pixels: every tube seen in a pixel is shaded once.
//!
//! Samples of a pixel are gathered by the tube they show; each tube is shaded
//! at its nearest sample and weighs as many samples as it has. So outlines
//! are smooth and the inside costs one shading. Places are taken segment by
//! segment: what a segment's places share is worked out once, and many are
//! worked on together.

use std::ops::Range;

use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::*;

use super::canvas::NONE;
use super::layer::Pixel;
use super::light::Studio;
use super::look::Look;
use super::occlusion::Occlusion;
use super::surface::{
    Dye, FIGURES, GROUP, Lanes, Lanes3, MANY, Openings, Patch, Reflexes, Spots, Touches, reflexes,
    touches,
};
use super::tubes::{Camera, Segment, Tubes};
use super::vector::vec3;
use super::visibility::{Column, Sight};
use crate::drawing::view::Detail;

/// All that the pixels of a picture follow from, but colours.
pub(crate) struct Painter<'a> {
    pub(crate) studio: &'a Studio,
    pub(crate) camera: &'a Camera,
    pub(crate) tubes: &'a Tubes,
    pub(crate) sight: &'a Sight,
    pub(crate) occlusion: &'a Occlusion,
    /// Looks of the ends of each strand; of no account are their colours.
    pub(crate) looks: &'a [Vec<Look>],
    pub(crate) detail: Detail,
}

/// A column painted, but for its colours.
#[derive(Debug, Clone, Default)]
pub(crate) struct Painted {
    /// Pixel of the column, row by row, and samples of each place; places come
    /// in full groups, and what fills them up weighs nothing.
    pub(crate) at: Vec<u32>,
    pub(crate) weight: Vec<u8>,
    pub(crate) reflexes: Reflexes,
    /// Strand and end of places one after the other.
    pub(crate) runs: Vec<(Range<usize>, (u16, u16))>,
}

/// Samples of a pixel, at most.
const MOST: usize = 16;

/// Samples of one tube in a pixel.
#[derive(Debug, Clone, Copy, Default)]
struct Place {
    /// Pixel of the column, row by row.
    at: u32,
    /// The nearest sample: number of its segment, depth and which it is.
    segment: u32,
    depth: f32,
    sample: u8,
    count: u8,
}

impl Painter<'_> {
    /// Every column of the picture.
    pub(crate) fn paint(&self) -> Vec<Painted> {
        let painted = |column| {
            Arch::new().dispatch(Job {
                painter: self,
                column,
            })
        };
        self.sight.columns.par_iter().map(painted).collect()
    }

    #[inline(always)]
    fn column(&self, column: &Column) -> Painted {
        let (places, starts) = by_segment(&self.gathered(column), column.segments.len());
        let mut painted = Painted::default();
        let mut bench = Bench::new();
        for (number, bounds) in starts.windows(2).enumerate() {
            let of_segment = &places[bounds[0] as usize..bounds[1] as usize];
            let segment = &self.tubes.segments[column.segments[number] as usize];
            let patch = Patch::new(self.tubes, segment, self.camera.zoom);
            for places in of_segment.chunks(MANY) {
                self.place(&mut bench, column, places);
                self.shade(&mut bench, segment, &patch, places.len());
                painted.push(places, &bench.reflexes, (segment.strand, segment.end));
            }
        }
        painted
    }

    /// What is seen, pixel by pixel.
    fn gathered(&self, column: &Column) -> Vec<Place> {
        let tube = |&id: &u32| self.tubes.segments[id as usize].tube;
        let tubes: Vec<u32> = column.segments.iter().map(tube).collect();
        let rows = self.sight.rows();
        let mut places = Vec::with_capacity(column.width * rows * 5 / 4);
        for x in 0..column.width {
            let mut lines: [(&[f32], &[u32]); MOST] = [(&[], &[]); MOST];
            let lines = &mut lines[..self.sight.samples];
            for (sample, line) in lines.iter_mut().enumerate() {
                let (depth, segment) = column.line(sample, x);
                *line = (&depth[..rows], &segment[..rows]);
            }
            for y in 0..rows {
                gather(&mut places, lines, y, (y * column.width + x) as u32, &tubes);
            }
        }
        places
    }

    /// Where places of one segment lie and how open.
    #[inline(always)]
    fn place(&self, bench: &mut Bench, column: &Column, places: &[Place]) {
        let zoom = self.camera.zoom;
        let occlusion = self.occlusion;
        for (i, place) in places.iter().enumerate() {
            let (x, y) = (
                column.x0 + place.at as usize % column.width,
                place.at as usize / column.width,
            );
            let (across, down) = self.sight.place(usize::from(place.sample));
            let row = (self.sight.top + y) as f32;
            let at = vec3(
                (x as f32 + across) / zoom,
                (self.camera.centre_y - row - down) / zoom,
                place.depth,
            );
            bench.points.set(i, at);
            // What lies behind the nearest in its pixel lies deeper in the crevice.
            let behind = (occlusion.depth.at(x, y) - place.depth - 0.04).max(0.0);
            bench.open.room[i] = occlusion.room.at(x, y) / (1.0 + 3.2 * behind);
            bench.open.lamp[i] = occlusion.lamp.at(x, y) / (1.0 + 7.0 * behind);
        }
        let last = places.len() - 1;
        for i in places.len()..places.len().next_multiple_of(GROUP).min(MANY) {
            bench.points.set(i, bench.points.at(last));
            bench.open.room[i] = bench.open.room[last];
            bench.open.lamp[i] = bench.open.lamp[last];
        }
    }

    #[inline(always)]
    fn shade(&self, bench: &mut Bench, segment: &Segment, patch: &Patch<'_>, count: usize) {
        let look = &self.looks[usize::from(segment.strand)][usize::from(segment.end)];
        let noise = self.studio.noise;
        let whole = count.next_multiple_of(GROUP).min(MANY);
        bench.spots.fill(patch, &bench.points, whole);
        let kind = (segment.skin, self.detail);
        touches(noise, look, kind, (&bench.spots, whole), &mut bench.touches);
        let felt = (&bench.spots, &bench.touches);
        reflexes(
            self.studio,
            look,
            felt,
            &bench.open,
            whole,
            &mut bench.reflexes,
        );
    }
}

impl Painted {
    /// Light and cover of the column's pixels, row by row, in these colours.
    pub(crate) fn dyed(
        &self,
        studio: &Studio,
        dyes: &[Vec<Dye>],
        size: usize,
        samples: usize,
    ) -> Vec<Pixel> {
        Arch::new().dispatch(Dyeing {
            painted: self,
            studio,
            dyes,
            size,
            samples,
        })
    }
}

/// What [`Painted::dyed`] does.
struct Dyeing<'a> {
    painted: &'a Painted,
    studio: &'a Studio,
    dyes: &'a [Vec<Dye>],
    size: usize,
    samples: usize,
}

impl WithSimd for Dyeing<'_> {
    type Output = Vec<Pixel>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Vec<Pixel> {
        let mut pixels = vec![Pixel::default(); self.size];
        let share = 1.0 / self.samples as f32;
        let Painted {
            at,
            weight,
            reflexes,
            runs,
        } = self.painted;
        for (range, (strand, end)) in runs {
            let dye = &self.dyes[usize::from(*strand)][usize::from(*end)];
            reflexes.dyed(range.clone(), (self.studio, dye), |first, lights| {
                for (i, light) in lights.iter().enumerate() {
                    let weight = f32::from(weight[first + i]) * share;
                    let pixel = &mut pixels[at[first + i] as usize];
                    // One bright facet must not burn out a whole outline.
                    pixel.light += light.map(|c| c.min(1.4)) * weight;
                    pixel.cover += weight;
                }
            });
        }
        pixels
    }
}

/// Painting of a column, in the widest registers that the processor has.
struct Job<'a> {
    painter: &'a Painter<'a>,
    column: &'a Column,
}

impl WithSimd for Job<'_> {
    type Output = Painted;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Painted {
        self.painter.column(self.column)
    }
}

/// What is worked on at a time.
struct Bench {
    points: Lanes3,
    open: Openings,
    spots: Spots,
    touches: Touches,
    reflexes: [Lanes; FIGURES],
}

impl Bench {
    fn new() -> Self {
        Self {
            points: Lanes3::new(),
            open: Openings::new(),
            spots: Spots::new(),
            touches: Touches::new(),
            reflexes: [[0.0; MANY]; FIGURES],
        }
    }
}

impl Painted {
    fn push(&mut self, places: &[Place], reflexes: &[Lanes; FIGURES], of: (u16, u16)) {
        let begin = self.at.len();
        let whole = places.len().next_multiple_of(GROUP).min(MANY);
        self.at.extend(places.iter().map(|p| p.at));
        self.weight.extend(places.iter().map(|p| p.count));
        self.at.resize(begin + whole, 0);
        self.weight.resize(begin + whole, 0);
        self.reflexes.push(reflexes, whole);
        match self.runs.last_mut() {
            Some((run, same)) if *same == of => run.end = begin + whole,
            _ => self.runs.push((begin..begin + whole, of)),
        }
    }
}

/// Adds the tubes seen in row `y` of lines of samples.
#[inline]
fn gather(places: &mut Vec<Place>, lines: &[(&[f32], &[u32])], y: usize, at: u32, tubes: &[u32]) {
    let first = places.len();
    for (sample, (depth, segment)) in lines.iter().enumerate() {
        let (depth, segment) = (depth[y], segment[y]);
        if segment == NONE {
            continue;
        }
        let tube = tubes[segment as usize];
        let mut seen = places[first..].iter_mut();
        let Some(place) = seen.find(|p| tubes[p.segment as usize] == tube) else {
            places.push(Place {
                at,
                segment,
                depth,
                sample: sample as u8,
                count: 1,
            });
            continue;
        };
        place.count += 1;
        if depth > place.depth {
            (place.segment, place.depth, place.sample) = (segment, depth, sample as u8);
        }
    }
}

/// Places sorted by their segment, and where those of each begin.
fn by_segment(places: &[Place], segments: usize) -> (Vec<Place>, Vec<u32>) {
    let mut starts = vec![0_u32; segments + 1];
    for place in places {
        starts[place.segment as usize + 1] += 1;
    }
    for i in 0..segments {
        starts[i + 1] += starts[i];
    }
    let mut next = starts.clone();
    let mut sorted = vec![Place::default(); places.len()];
    for place in places {
        let to = &mut next[place.segment as usize];
        sorted[*to as usize] = *place;
        *to += 1;
    }
    (sorted, starts)
}
