//! Tubes drawn exactly, without triangles.
//!
//! Each segment is an elliptic cylinder. With `v` the eye's direction and `w`
//! the offset of a picture point from the segment's start, both measured in
//! the half axes of the section, the ray meets the surface where
//! `|w + z v| = k`; so `z = (-v.w + sqrt(|v|² k² - (v x w)²)) / |v|²`, and both
//! `v.w` and `v x w` are linear in the picture: one root a point. (Textbook
//! geometry; that a flat section costs no more than a round one follows.)
//!
//! Each pixel has one or several samples, each in a row and a place across of
//! its own (like rooks that cannot take one another): outlines that run nearly
//! level get as many shades as there are samples.

use std::ops::Range;

use super::makeup::Skin;
use super::string::Bead;
use super::tubes::{Camera, Segment, Tubes};
use super::vector::Vec3;

/// Depth where nothing is.
pub(crate) const NOTHING: f32 = -1e9;

/// No segment.
pub(crate) const NONE: u32 = u32::MAX;

/// Places across a pixel of its samples, from the upper one down.
pub(crate) fn offsets(samples: usize) -> Vec<f32> {
    // Steps that share no factor with the number visit every place once.
    let step = match samples {
        4 => 3,
        9 | 16 => 7,
        _ => 1,
    };
    let place = |j: usize| ((j * step + samples / 3) % samples) as f32;
    (0..samples)
        .map(|j| (place(j) + 0.5) / samples as f32)
        .collect()
}

/// A column being drawn.
pub(crate) struct Canvas {
    across: usize,
    pub(crate) stride: usize,
    down: usize,
    /// Samples for a strand diameter, across and down.
    zoom: f32,
    scale: f32,
    /// Left and upper edge, strand diameters.
    left: f32,
    top: f32,
    /// Place across its pixel of the sample in each row of a pixel.
    offsets: Vec<f32>,
    pub(crate) depth: Vec<f32>,
    pub(crate) segment: Vec<u32>,
}

/// Tubes that point at the eye more than this count as balls at their ends:
/// sine of the angle to the line of sight.
const HEAD_ON: f32 = 0.22;

impl Canvas {
    pub(crate) fn new(
        camera: &Camera,
        x0: usize,
        width: usize,
        (top, bottom): (usize, usize),
        samples: usize,
    ) -> Self {
        let zoom = camera.zoom;
        let down = (bottom - top) * samples;
        let stride = width + CHUNK;
        Self {
            across: width,
            stride,
            down,
            zoom,
            scale: zoom * samples as f32,
            left: x0 as f32 / zoom,
            top: (camera.centre_y - top as f32) / zoom,
            offsets: offsets(samples),
            depth: vec![NOTHING; stride * down],
            segment: vec![NONE; stride * down],
        }
    }

    /// Height of a row of samples, and place of its first.
    fn row(&self, j: usize) -> (f32, f32) {
        let y = self.top - (j as f32 + 0.5) / self.scale;
        let x = self.left + self.offsets[j % self.offsets.len()] / self.zoom;
        (y, x)
    }

    pub(crate) fn draw(&mut self, tubes: &Tubes, id: u32) {
        let segment = &tubes.segments[id as usize];
        let (a, b) = tubes.joints_of(segment);
        if segment.skin == Skin::Bead {
            let bead = Bead::new(a, b);
            let height = |right, up| bead.height(right, up);
            return self.draw_round(bead.middle, bead.reach(), height, id);
        }
        let level = segment.axis.x.hypot(segment.axis.y);
        if level < HEAD_ON {
            self.draw_ball(a.centre, a.narrowest(), id);
            self.draw_ball(b.centre, b.narrowest(), id);
            return;
        }
        self.draw_tube(&Tube::new(tubes, segment, level), id);
    }

    /// Rows between two heights, within the column.
    fn rows_between(&self, low: f32, high: f32) -> Range<usize> {
        let first = (self.top - high) * self.scale - 0.5;
        let last = (self.top - low) * self.scale - 0.5;
        whole_between(first, last, self.down)
    }

    /// Samples of a row between two places, within the column.
    fn samples_between(&self, first_x: f32, low: f32, high: f32) -> Range<usize> {
        let (first, last) = ((low - first_x) * self.zoom, (high - first_x) * self.zoom);
        whole_between(first, last, self.across)
    }

    fn draw_ball(&mut self, centre: Vec3, r: f32, id: u32) {
        let height = |dx: f32, dy: f32| {
            let q = r * r - dx * dx - dy * dy;
            (q > 0.0).then(|| q.sqrt())
        };
        self.draw_round(centre, (r, r), height, id);
    }

    /// What reaches this far right and up from its middle, and has this height
    /// over it at an offset.
    fn draw_round(
        &mut self,
        middle: Vec3,
        (right, up): (f32, f32),
        height: impl Fn(f32, f32) -> Option<f32>,
        id: u32,
    ) {
        let step = 1.0 / self.zoom;
        for j in self.rows_between(middle.y - up, middle.y + up) {
            let (y, x) = self.row(j);
            let dy = y - middle.y;
            for i in self.samples_between(x, middle.x - right, middle.x + right) {
                let Some(high) = height(x + i as f32 * step - middle.x, dy) else {
                    continue;
                };
                let (at, z) = (j * self.stride + i, middle.z + high);
                if z > self.depth[at] {
                    self.depth[at] = z;
                    self.segment[at] = id;
                }
            }
        }
    }

    fn draw_tube(&mut self, tube: &Tube, id: u32) {
        let step = 1.0 / self.zoom;
        for j in self.rows_between(tube.low, tube.high) {
            let (y, x) = self.row(j);
            let ey = y - tube.start.y;
            let (low, high) = tube.span(ey);
            let span = self.samples_between(x, tube.start.x + low, tube.start.x + high);
            if span.is_empty() {
                continue;
            }
            let line = Line::new(tube, ey, x - tube.start.x, step);
            // Whole chunks: past the span the tube is not met.
            let whole = span.len().next_multiple_of(CHUNK);
            let first = j * self.stride + span.start;
            let range = first..first + whole;
            let depth = &mut self.depth[range.clone()];
            line.draw(span.start, depth, &mut self.segment[range], id);
        }
    }
}

/// The whole numbers between two, from nought to under `count`.
#[inline]
fn whole_between(first: f32, last: f32, count: usize) -> Range<usize> {
    // Casts stop at nought; a fraction under it belongs to none.
    let begin = (first + 1.0).max(0.0) as usize;
    let end = ((last + 1.0).max(0.0) as usize).min(count);
    begin.min(end)..end
}

/// A segment as the eye's rays meet it; offsets from its start.
struct Tube {
    start: Vec3,
    axis: Vec3,
    /// `v x w` and `v.w` for a step right and a step up.
    cross: (f32, f32),
    dot: (f32, f32),
    /// `|v|²`.
    square: f32,
    /// Size of the section at the start, its change along `level` offset, and
    /// its bounds.
    size: (f32, f32),
    sizes: (f32, f32),
    /// Direction along the tube in the picture.
    along: (f32, f32),
    /// Where in the picture the tube may be seen, across it and along it.
    broad: Strip,
    long: Strip,
    /// Lengths along the axis between which it is cut off.
    cut: (f32, f32),
    /// Heights between which it lies.
    low: f32,
    high: f32,
    nearest: f32,
}

impl Tube {
    fn new(tubes: &Tubes, segment: &Segment, level: f32) -> Self {
        let (a, b) = tubes.joints_of(segment);
        let (u, length, extend) = (segment.axis, segment.length, segment.extend);
        let out = (a.outward + b.outward).square_to(u).unit();
        let side = u.cross(out);
        let half = (0.5 * (a.half.0 + b.half.0), 0.5 * (a.half.1 + b.half.1));
        let v = (out.z / half.0, side.z / half.1);
        let right = (out.x / half.0, side.x / half.1);
        let up = (out.y / half.0, side.y / half.1);
        let wide = half.0.max(half.1);
        // By the section's area: a strand that flattens widens one way and thins the other.
        let size = |h: (f32, f32)| ((h.0 * h.1) / (half.0 * half.1)).sqrt();
        let sizes = (size(a.half), size(b.half));
        let (least, most) = (sizes.0.min(sizes.1), sizes.0.max(sizes.1));
        let lean = wide * most * u.z.abs() + extend * level;
        // Height of the section's ellipse over the axis.
        let rise = most * ((half.0 * out.y).powi(2) + (half.1 * side.y).powi(2)).sqrt();
        let (ay, by) = (a.centre.y, b.centre.y);
        let cross = (v.0 * right.1 - v.1 * right.0, v.0 * up.1 - v.1 * up.0);
        let square = v.0 * v.0 + v.1 * v.1;
        let edge = 1.0 / (square.sqrt() * most);
        let along = (u.x / level, u.y / level);
        Self {
            start: a.centre,
            axis: u,
            cross,
            dot: (v.0 * right.0 + v.1 * right.1, v.0 * up.0 + v.1 * up.1),
            square,
            size: (sizes.0, (sizes.1 - sizes.0) / (length * level)),
            sizes: (least, most),
            along,
            broad: Strip::new(cross.0 * edge, cross.1 * edge, (-1.0, 1.0)),
            long: Strip::new(along.0, along.1, (-lean, length * level + lean)),
            cut: (-extend, length + extend),
            low: ay.min(by) - rise - extend,
            high: ay.max(by) + rise + extend,
            nearest: a.centre.z + (u.z * length).max(0.0) + wide * most + extend,
        }
    }

    /// Offsets right, between which the tube may be met at offset `ey` up.
    fn span(&self, ey: f32) -> (f32, f32) {
        let (a, b) = (self.broad.span(ey), self.long.span(ey));
        (a.0.max(b.0), a.1.min(b.1))
    }
}

/// Where `slope right + rise up` lies between two bounds.
struct Strip {
    /// One over the slope; nought when it is level.
    inverse: f32,
    rise: f32,
    bounds: (f32, f32),
}

/// Farther than any picture reaches, strand diameters.
const FAR: f32 = 1e5;

impl Strip {
    fn new(slope: f32, rise: f32, bounds: (f32, f32)) -> Self {
        let inverse = if slope.abs() > 1e-4 { 1.0 / slope } else { 0.0 };
        Self {
            inverse,
            rise,
            bounds,
        }
    }

    /// Offsets right at an offset up.
    fn span(&self, ey: f32) -> (f32, f32) {
        let rest = self.rise * ey;
        let (low, high) = (self.bounds.0 - rest, self.bounds.1 - rest);
        if self.inverse == 0.0 {
            let within = low <= 0.0 && high >= 0.0;
            return if within { (-FAR, FAR) } else { (FAR, -FAR) };
        }
        let (p, q) = (low * self.inverse, high * self.inverse);
        (p.min(q), p.max(q))
    }
}

/// A tube along one row of samples.
struct Line<'a> {
    tube: &'a Tube,
    /// Offset of sample 0 and between samples.
    first: f32,
    step: f32,
    /// What the row adds to `v x w`, `v.w`, the level offset and the length.
    cross: f32,
    dot: f32,
    level: f32,
    length: f32,
    inverse: f32,
}

/// Samples worked on together, so that the compiler can use wide registers.
const CHUNK: usize = 4;

impl<'a> Line<'a> {
    fn new(tube: &'a Tube, ey: f32, first: f32, step: f32) -> Self {
        Self {
            tube,
            first,
            step,
            cross: tube.cross.1 * ey,
            dot: tube.dot.1 * ey,
            level: tube.along.1 * ey,
            length: tube.axis.y * ey,
            inverse: 1.0 / tube.square,
        }
    }

    /// Depth of the surface at sample `i`, or [`NOTHING`].
    #[inline(always)]
    fn depth(&self, i: f32) -> f32 {
        let t = self.tube;
        let ex = self.first + i * self.step;
        let cross = self.cross + t.cross.0 * ex;
        let size = t.size.0 + t.size.1 * (self.level + t.along.0 * ex);
        let size = greater(size, t.sizes.0);
        let size = -greater(-size, -t.sizes.1);
        let under = t.square * size * size - cross * cross;
        let z = (greater(under, 0.0).sqrt() - self.dot - t.dot.0 * ex) * self.inverse;
        let at = self.length + t.axis.x * ex + t.axis.z * z;
        let met = (under > 0.0) & (at >= t.cut.0) & (at <= t.cut.1);
        if met { t.start.z + z } else { NOTHING }
    }

    fn draw(&self, first: usize, depth: &mut [f32], segment: &mut [u32], id: u32) {
        let chunks = depth
            .chunks_exact_mut(CHUNK)
            .zip(segment.chunks_exact_mut(CHUNK));
        for (n, (d, s)) in chunks.enumerate() {
            if d.iter().any(|&d| d < self.tube.nearest) {
                self.draw_chunk((first + n * CHUNK) as f32, d, s, id);
            }
        }
    }

    #[inline(always)]
    fn draw_chunk(&self, first: f32, depth: &mut [f32], segment: &mut [u32], id: u32) {
        let (depth, segment) = (&mut depth[..CHUNK], &mut segment[..CHUNK]);
        let mut z = [0.0_f32; CHUNK];
        for (c, z) in z.iter_mut().enumerate() {
            *z = self.depth(first + c as f32);
        }
        for c in 0..CHUNK {
            let nearer = z[c] > depth[c];
            segment[c] = if nearer { id } else { segment[c] };
            depth[c] = if nearer { z[c] } else { depth[c] };
        }
    }
}

/// The greater of two numbers, without a thought for what is no number: the
/// library's care would keep the compiler from wide registers.
#[inline(always)]
fn greater(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}
