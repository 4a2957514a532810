//! Fibre ends that stand off a yarn, and the pile of chenille.
//!
//! Each hair belongs to a place on a strand by its number there, so hairs
//! stay where they are when the cord moves. Many thin ones that mostly lie
//! along the strand look like wool; few straight ones like fir (tried).

use std::f32::consts::{FRAC_PI_2, TAU};

use rayon::prelude::*;

use super::halo::{Dot, Halo};
use super::light::Studio;
use super::look::Look;
use super::makeup::Skin;
use super::noise::{hash, share};
use super::occlusion::Occlusion;
use super::tubes::{Camera, Joint, Segment, Tubes};
use super::vector::{Vec3, sine, smooth_step, split, vec3};
use super::visibility::{COLUMN, Sight};
use crate::material::Weave;

/// Hairs of a strand diameter's length at full fuzz.
const HAIRS: f32 = 470.0;
const PILE: f32 = 560.0;

/// Pixels for a strand diameter at which all hairs are drawn; farther off
/// fewer and stronger ones stand for them.
const FULL_ZOOM: f32 = 48.0;

/// Pixels between the dots of a hair; each dot is spread over two. Tried.
const DOTS_APART: f32 = 1.15;

/// Segments whose hairs are grown together.
const SEGMENTS: usize = 64;

/// Longest hair, strand diameters, with its curl.
const LONGEST: f32 = 1.3;

/// A hair in pixels: a bent line with a curl on it.
struct Hair {
    /// Strand and end.
    of: (u16, u16),
    root: Vec3,
    way: Vec3,
    bend: Vec3,
    curl: Vec3,
    waves: f32,
    phase: f32,
    pixels: f32,
    tone: f32,
    key: f32,
    cover: f32,
}

/// What hairs are drawn into and hidden by.
pub(crate) struct Comb<'a> {
    pub(crate) studio: &'a Studio,
    pub(crate) camera: &'a Camera,
    pub(crate) tubes: &'a Tubes,
    pub(crate) sight: &'a Sight,
    pub(crate) occlusion: &'a Occlusion,
    pub(crate) looks: &'a [Vec<Look>],
}

/// Whether single fibres of it can be seen. The nap of suede is too short.
fn is_hairy(look: &Look) -> bool {
    look.fuzz > 0.0 && look.weave != Weave::Solid
}

impl Comb<'_> {
    /// How far hairs reach beyond the cord, pixels.
    pub(crate) fn margin(&self) -> usize {
        if !self.any() {
            return 0;
        }
        (0.8 * self.camera.zoom).ceil() as usize
    }

    fn any(&self) -> bool {
        self.looks.iter().flatten().any(is_hairy)
    }

    /// All hairs of each column; none where nothing has hairs.
    pub(crate) fn combed(&self) -> Vec<Halo> {
        if !self.any() {
            return Vec::new();
        }
        let (width, margin) = (self.camera.width, self.margin());
        let top = self.sight.top.saturating_sub(margin);
        let bottom = (self.sight.bottom + margin).min(self.camera.height);
        let parts = self.tubes.segments.par_chunks(SEGMENTS);
        let hairs: Vec<Vec<Hair>> = parts.map(|part| self.grown(part)).collect();
        (0..width.div_ceil(COLUMN))
            .into_par_iter()
            .map(|i| {
                let x0 = i * COLUMN;
                let mut halo = Halo::new(x0, COLUMN.min(width - x0), top, bottom - top);
                for hair in hairs.iter().flatten() {
                    self.draw_hair(hair, &mut halo);
                }
                halo
            })
            .collect()
    }

    /// The hairs of these segments that may be seen.
    fn grown(&self, segments: &[Segment]) -> Vec<Hair> {
        let right = self.camera.across() + LONGEST;
        let mut hairs = Vec::new();
        for segment in segments {
            let (a, b) = self.tubes.joints_of(segment);
            let look = &self.looks[usize::from(segment.strand)][usize::from(segment.end)];
            if is_hairy(look) && a.centre.x > -LONGEST && a.centre.x < right {
                self.grow(&mut hairs, segment, (a, b), look);
            }
        }
        hairs
    }

    fn grow(
        &self,
        hairs: &mut Vec<Hair>,
        segment: &Segment,
        (a, b): (&Joint, &Joint),
        look: &Look,
    ) {
        let (tube, skin) = (segment.tube, segment.skin);
        let sparse = (self.camera.zoom / FULL_ZOOM).clamp(0.12, 1.0);
        let all = if skin == Skin::Pile { PILE } else { HAIRS };
        // A member's share of the strand's hairs is its share of the outside.
        let dense = all * look.fuzz * sparse * (a.half.0 / a.radius).min(1.0).powi(2);
        let (first, last) = ((a.arc * dense).ceil() as i64, (b.arc * dense).ceil() as i64);
        for j in first..last.min(first + 400) {
            let t = (j as f32 / dense - a.arc) / (b.arc - a.arc).max(1e-6);
            let seed = hash((j as u32).wrapping_mul(2_654_435_761) ^ tube.wrapping_mul(977));
            let place = Rooted::new(a, b, t.clamp(0.0, 1.0), seed);
            if place.out.z < -0.35 || self.is_buried(&place) {
                continue;
            }
            let shape = if skin == Skin::Pile {
                place.tuft()
            } else {
                place.stray(look)
            };
            hairs.push(place.hair(self, segment, sparse, &shape));
        }
    }

    /// Whether the root lies so deep under others that nothing comes out.
    fn is_buried(&self, place: &Rooted) -> bool {
        let (zoom, sight) = (self.camera.zoom, self.sight);
        let root = place.root + place.out * place.size;
        let x = root.x * zoom;
        let y = self.camera.centre_y - root.y * zoom - sight.top as f32;
        let inside = x >= 0.0 && y >= 0.0 && x < self.camera.width as f32;
        inside
            && y < sight.rows() as f32
            && self.occlusion.depth.at(x as usize, y as usize) > root.z + 0.30
    }

    fn draw_hair(&self, hair: &Hair, halo: &mut Halo) {
        let reach = hair.pixels * 1.4;
        let (left, right) = (halo.x0 as f32, (halo.x0 + halo.width) as f32);
        if hair.root.x + reach < left || hair.root.x - reach > right {
            return;
        }
        let count = (hair.pixels.clamp(1.0, 2000.0) / DOTS_APART).ceil();
        let rest = sine(hair.phase);
        for i in 0..=count as usize {
            let u = i as f32 / count;
            let wave = sine(hair.waves * u + hair.phase) - rest;
            let at = hair.root + hair.way * u + hair.bend * (u * u) + hair.curl * wave;
            let dot = Dot {
                of: hair.of,
                cover: hair.cover * (1.0 - 0.55 * u),
                room: hair.tone,
                key: hair.tone * hair.key,
                white: 0.010 * hair.key,
            };
            self.dot(at, &dot, halo);
        }
    }

    /// A dot spread over the four pixels it lies between.
    fn dot(&self, at: Vec3, dot: &Dot, halo: &mut Halo) {
        let (x, y) = (at.x - 0.5, at.y - 0.5);
        let ((i, fx), (j, fy)) = (split(x), split(y));
        for (di, dj, share) in [
            (0, 0, (1.0 - fx) * (1.0 - fy)),
            (1, 0, fx * (1.0 - fy)),
            (0, 1, (1.0 - fx) * fy),
            (1, 1, fx * fy),
        ] {
            let (px, py) = (i as isize + di, j as isize + dj);
            let Some(pixel) = halo.number(px, py) else {
                continue;
            };
            if let Some(light) = self.seen(px as usize, py, at.z) {
                let part = Dot {
                    of: dot.of,
                    cover: dot.cover * share,
                    room: dot.room * light,
                    key: dot.key * light,
                    white: dot.white * light,
                };
                halo.add(pixel, &part);
            }
        }
    }

    /// Light on a hair there, or nothing if the cord hides it.
    fn seen(&self, x: usize, y: isize, z: f32) -> Option<f32> {
        let o = self.occlusion;
        let row = usize::try_from(y - self.sight.top as isize).ok();
        let Some(row) = row.filter(|&r| r < self.sight.rows()) else {
            return Some(1.0);
        };
        let depth = o.depth.at(x, row);
        if depth > z + 0.06 {
            return None;
        }
        if depth <= o.ground + 0.02 {
            return Some(1.0);
        }
        Some(0.50 + 0.55 * o.room.at(x, row) * (0.4 + 0.6 * o.lamp.at(x, row)))
    }
}

/// Where a hair is rooted, and the numbers that are its own.
struct Rooted {
    root: Vec3,
    along: Vec3,
    out: Vec3,
    side: Vec3,
    diameter: f32,
    size: f32,
    seed: u32,
}

impl Rooted {
    fn new(a: &Joint, b: &Joint, t: f32, seed: u32) -> Self {
        let along = a.along.towards(b.along, t).unit();
        let zero = a.zero.towards(b.zero, t).square_to(along).unit();
        let round = TAU * share(seed ^ 0x9E37_79B9);
        let out = zero * sine(round + FRAC_PI_2) + along.cross(zero) * sine(round);
        Self {
            root: a.centre.towards(b.centre, t),
            along,
            out,
            side: along.cross(out),
            diameter: 2.0 * a.radius,
            size: 0.5 * (a.half.0 + a.half.1),
            seed,
        }
    }

    /// One of the hair's own numbers, 0 to 1.
    fn own(&self, k: u32) -> f32 {
        share(self.seed ^ k.wrapping_mul(0x9E37_79B9))
    }

    /// The same, -0.5 to 0.5.
    fn either(&self, k: u32) -> f32 {
        self.own(k) - 0.5
    }

    /// A fibre of the pile.
    fn tuft(&self) -> Shape {
        let way =
            self.out + self.along * (0.8 * self.either(3)) + self.side * (0.8 * self.either(4));
        let bend = self.along * (0.3 * self.either(5)) + self.side * (0.3 * self.either(6));
        Shape {
            root: 0.84,
            length: 0.12 + 0.15 * self.own(2),
            way: way.unit(),
            bend,
            curl: Vec3::ZERO,
            tone: 0.80 + 0.75 * self.own(10),
            width: 0.033,
        }
    }

    /// A fibre end that came loose.
    fn stray(&self, look: &Look) -> Shape {
        let long = self.own(12).powi(10);
        let length = (0.16 + 0.50 * self.own(2).powi(2) + 0.22 * long) * (0.35 + 0.85 * look.fuzz);
        let forward = if self.own(7) < 0.5 { -1.0 } else { 1.0 };
        let rise = 0.06 + 0.75 * self.own(8).powi(2);
        let way = self.out * rise
            + self.along * (forward * (0.35 + 0.6 * self.own(3)))
            + self.side * (0.9 * self.either(4));
        Shape {
            root: 0.97,
            length,
            way: way.unit(),
            bend: self.out * (0.9 * (self.own(5) - 0.6)) + self.side * self.either(6),
            curl: self.side * (0.75 * self.either(13)) + self.out * (0.6 * self.either(14)),
            tone: 0.80 + 0.42 * self.own(10),
            width: 0.0112,
        }
    }

    fn hair(&self, comb: &Comb<'_>, segment: &Segment, sparse: f32, shape: &Shape) -> Hair {
        let (zoom, camera) = (comb.camera.zoom, comb.camera);
        let root = self.root + self.out * (self.size * shape.root);
        let length = shape.length * self.diameter;
        let pixels = |v: Vec3| vec3(v.x * zoom, -v.y * zoom, v.z) * length;
        Hair {
            of: (segment.strand, segment.end),
            root: vec3(root.x * zoom, camera.centre_y - root.y * zoom, root.z),
            way: pixels(shape.way),
            bend: pixels(shape.bend),
            curl: pixels(shape.curl),
            waves: 3.0 + 5.0 * self.own(15),
            phase: 6.0 * self.own(16),
            pixels: length * zoom * 1.25,
            tone: shape.tone,
            key: self.lit(comb.studio, shape),
            cover: (shape.width * zoom * (0.5 + 0.6 * self.own(11)) / sparse.sqrt()).min(0.9),
        }
    }

    /// Share of the lamp's light that the hair throws back.
    fn lit(&self, studio: &Studio, shape: &Shape) -> f32 {
        let way = (shape.way + shape.bend * 0.6).unit();
        let fl = way.dot(studio.key);
        let facing = 0.30 + 0.70 * smooth_step(-0.7, 0.6, self.out.dot(studio.key));
        (1.0 - fl * fl).max(0.0).sqrt() * facing
    }
}

/// The form of a hair, in strand diameters.
struct Shape {
    /// Distance of the root from the member's middle, as a share.
    root: f32,
    length: f32,
    way: Vec3,
    bend: Vec3,
    curl: Vec3,
    tone: f32,
    width: f32,
}
