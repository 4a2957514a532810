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

use pulp::{Arch, Simd, WithSimd};

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
///
/// Samples with one place in their pixels make a picture of their own, stored
/// from the top down, line by line from the left: strands mostly run across
/// the picture, so that lines down meet long stretches of each piece of tube.
pub(crate) struct Canvas {
    width: usize,
    rows: usize,
    /// Samples from one line down to the next; the last few are only room for
    /// working on several at a time.
    pub(crate) stride: usize,
    zoom: f32,
    /// Left and upper edge, strand diameters.
    left: f32,
    top: f32,
    /// Place across its pixel of each sample, from the upper one down.
    offsets: Vec<f32>,
    pub(crate) depth: Vec<f32>,
    /// Number in the list of what is drawn.
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
        let rows = bottom - top;
        let stride = rows + CHUNK;
        let count = stride * width * samples;
        Self {
            width,
            rows,
            stride,
            zoom,
            left: x0 as f32 / zoom,
            top: (camera.centre_y - top as f32) / zoom,
            offsets: offsets(samples),
            depth: vec![NOTHING; count],
            segment: vec![NONE; count],
        }
    }

    /// The segments drawn one after the other, in the widest registers that
    /// the processor has; which they are changes no bit.
    pub(crate) fn draw_all(&mut self, tubes: &Tubes, ids: &[u32]) {
        let canvas = self;
        Arch::new().dispatch(DrawAll { canvas, tubes, ids });
    }

    #[inline(always)]
    fn draw(&mut self, tubes: &Tubes, segment: &Segment, number: u32) {
        let (a, b) = tubes.joints_of(segment);
        if segment.skin == Skin::Bead {
            let bead = Bead::new(a, b);
            let height = |right, up| bead.height(right, up);
            return self.draw_round(bead.middle, bead.reach(), height, number);
        }
        let axis = segment.axis;
        let level = (axis.x * axis.x + axis.y * axis.y).sqrt();
        if level < HEAD_ON {
            self.draw_ball(a.centre, a.narrowest(), number);
            self.draw_ball(b.centre, b.narrowest(), number);
            return;
        }
        self.draw_tube(&Tube::new(tubes, segment, level), number);
    }

    /// Place of the first sample of a kind, right and up.
    #[inline(always)]
    fn first(&self, sample: usize) -> (f32, f32) {
        let down = (sample as f32 + 0.5) / self.offsets.len() as f32;
        let right = self.left + self.offsets[sample] / self.zoom;
        (right, self.top - down / self.zoom)
    }

    /// Lines of samples between two places, within the column.
    #[inline(always)]
    fn lines_between(&self, first: f32, low: f32, high: f32) -> Range<usize> {
        let (low, high) = ((low - first) * self.zoom, (high - first) * self.zoom);
        whole_between(low, high, self.width)
    }

    /// Samples of a line between two heights, within the column.
    #[inline(always)]
    fn samples_between(&self, first: f32, low: f32, high: f32) -> Range<usize> {
        let (low, high) = ((first - high) * self.zoom, (first - low) * self.zoom);
        whole_between(low, high, self.rows)
    }

    fn draw_ball(&mut self, centre: Vec3, r: f32, number: u32) {
        let height = |dx: f32, dy: f32| {
            let q = r * r - dx * dx - dy * dy;
            (q > 0.0).then(|| q.sqrt())
        };
        self.draw_round(centre, (r, r), height, number);
    }

    /// What reaches this far right and up from its middle, and has this height
    /// over it at an offset.
    fn draw_round(
        &mut self,
        middle: Vec3,
        (right, up): (f32, f32),
        height: impl Fn(f32, f32) -> Option<f32>,
        number: u32,
    ) {
        let step = 1.0 / self.zoom;
        for sample in 0..self.offsets.len() {
            let (x, y) = self.first(sample);
            for i in self.lines_between(x, middle.x - right, middle.x + right) {
                let dx = x + i as f32 * step - middle.x;
                let line = (sample * self.width + i) * self.stride;
                for j in self.samples_between(y, middle.y - up, middle.y + up) {
                    let Some(high) = height(dx, y - j as f32 * step - middle.y) else {
                        continue;
                    };
                    let (at, z) = (line + j, middle.z + high);
                    if z > self.depth[at] {
                        self.depth[at] = z;
                        self.segment[at] = number;
                    }
                }
            }
        }
    }

    #[inline(always)]
    fn draw_tube(&mut self, tube: &Tube, number: u32) {
        let step = 1.0 / self.zoom;
        for sample in 0..self.offsets.len() {
            let (x, y) = self.first(sample);
            for i in self.lines_between(x, tube.left, tube.right) {
                let ex = x + i as f32 * step - tube.start.x;
                let (low, high) = tube.span(ex);
                let span = self.samples_between(y, tube.start.y + low, tube.start.y + high);
                if span.is_empty() {
                    continue;
                }
                let line = Line::new(tube, ex, y - tube.start.y, -step);
                // Whole chunks: past the span the tube is not met.
                let whole = span.len().next_multiple_of(CHUNK);
                let first = (sample * self.width + i) * self.stride + span.start;
                let range = first..first + whole;
                let depth = &mut self.depth[range.clone()];
                line.draw(span.start, depth, &mut self.segment[range], number);
            }
        }
    }
}

/// What [`Canvas::draw_all`] does.
struct DrawAll<'a> {
    canvas: &'a mut Canvas,
    tubes: &'a Tubes,
    ids: &'a [u32],
}

impl WithSimd for DrawAll<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        for (number, &id) in self.ids.iter().enumerate() {
            let segment = &self.tubes.segments[id as usize];
            self.canvas.draw(self.tubes, segment, number as u32);
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
    /// Places across between which it lies.
    left: f32,
    right: f32,
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
        // Reach of the section's ellipse beside the axis.
        let aside = most * ((half.0 * out.x).powi(2) + (half.1 * side.x).powi(2)).sqrt();
        let (ax, bx) = (a.centre.x, b.centre.x);
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
            left: ax.min(bx) - aside - extend,
            right: ax.max(bx) + aside + extend,
            nearest: a.centre.z + (u.z * length).max(0.0) + wide * most + extend,
        }
    }

    #[inline(always)]
    /// Offsets up, between which the tube may be met at offset `ex` right.
    fn span(&self, ex: f32) -> (f32, f32) {
        let (a, b) = (self.broad.span(ex), self.long.span(ex));
        (a.0.max(b.0), a.1.min(b.1))
    }
}

/// Where `slope right + rise up` lies between two bounds.
struct Strip {
    slope: f32,
    /// One over the rise; nought when it is upright.
    inverse: f32,
    bounds: (f32, f32),
}

/// Farther than any picture reaches, strand diameters.
const FAR: f32 = 1e5;

impl Strip {
    fn new(slope: f32, rise: f32, bounds: (f32, f32)) -> Self {
        let inverse = if rise.abs() > 1e-4 { 1.0 / rise } else { 0.0 };
        Self {
            slope,
            inverse,
            bounds,
        }
    }

    /// Offsets up at an offset right.
    #[inline(always)]
    fn span(&self, ex: f32) -> (f32, f32) {
        let rest = self.slope * ex;
        let (low, high) = (self.bounds.0 - rest, self.bounds.1 - rest);
        if self.inverse == 0.0 {
            let within = low <= 0.0 && high >= 0.0;
            return if within { (-FAR, FAR) } else { (FAR, -FAR) };
        }
        let (p, q) = (low * self.inverse, high * self.inverse);
        (p.min(q), p.max(q))
    }
}

/// A tube along one line of samples.
struct Line<'a> {
    tube: &'a Tube,
    /// Offset up of sample 0 and between samples.
    first: f32,
    step: f32,
    /// What the line adds to `v x w`, `v.w`, the level offset and the length.
    cross: f32,
    dot: f32,
    level: f32,
    length: f32,
    inverse: f32,
}

/// Samples worked on together, so that the compiler can use wide registers.
const CHUNK: usize = 8;

impl<'a> Line<'a> {
    #[inline(always)]
    fn new(tube: &'a Tube, ex: f32, first: f32, step: f32) -> Self {
        Self {
            tube,
            first,
            step,
            cross: tube.cross.0 * ex,
            dot: tube.dot.0 * ex,
            level: tube.along.0 * ex,
            length: tube.axis.x * ex,
            inverse: 1.0 / tube.square,
        }
    }

    /// Depth of the surface at sample `i`, or [`NOTHING`].
    #[inline(always)]
    fn depth(&self, i: f32) -> f32 {
        let t = self.tube;
        let ey = self.first + i * self.step;
        let cross = self.cross + t.cross.1 * ey;
        let size = t.size.0 + t.size.1 * (self.level + t.along.1 * ey);
        let size = greater(size, t.sizes.0);
        let size = -greater(-size, -t.sizes.1);
        let under = t.square * size * size - cross * cross;
        let z = (greater(under, 0.0).sqrt() - self.dot - t.dot.1 * ey) * self.inverse;
        let at = self.length + t.axis.y * ey + t.axis.z * z;
        let met = (under > 0.0) & (at >= t.cut.0) & (at <= t.cut.1);
        if met { t.start.z + z } else { NOTHING }
    }

    #[inline(always)]
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
