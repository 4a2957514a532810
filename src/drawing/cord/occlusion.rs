//! How much of the room and of the lamp each place of the cord sees.
//!
//! Worked out on the depth picture at half size, and smoothly scaled back:
//! crevices are darker the deeper they lie under the mean height round about,
//! on two scales; a shadow is looked for in nine steps towards the lamp and
//! grows softer with distance. Both are pictures' tricks, not radiometry;
//! the figures were tried.

use rayon::prelude::*;

use super::light::Studio;
use super::plane::Plane;
use super::tubes::Camera;
use super::visibility::{Column, Sight};

/// Depth, openness to the room and to the lamp, for the rows of the cord.
#[derive(Debug, Clone)]
pub(crate) struct Occlusion {
    /// Height of the nearest surface; of the ground where there is none.
    pub(crate) depth: Plane,
    pub(crate) room: Plane,
    pub(crate) lamp: Plane,
    pub(crate) ground: f32,
}

/// Radii of the two scales, strand diameters.
const NEAR: f32 = 0.22;
const FAR: f32 = 0.65;

/// How far a shadow falls, strand diameters, and in how many steps.
const SHADOW_REACH: f32 = 1.5;
const SHADOW_STEPS: usize = 9;

/// Share of the lamp that a full shadow takes.
const SHADOW: f32 = 0.92;

/// Pixels for a strand diameter above which half the size is enough.
const HALVE_ABOVE: f32 = 14.0;

impl Occlusion {
    pub(crate) fn new(sight: &Sight, camera: &Camera, studio: &Studio, reach: f32) -> Self {
        let ground = -0.98 * reach;
        let depth = nearest(sight, camera.width, ground);
        if depth.height == 0 {
            let empty = Plane::filled(camera.width, 0, 1.0);
            return Self {
                depth,
                room: empty.clone(),
                lamp: empty,
                ground,
            };
        }
        if camera.zoom <= HALVE_ABOVE {
            let (room, lamp) = openness(&depth, camera.zoom, studio, ground);
            return Self {
                depth,
                room,
                lamp,
                ground,
            };
        }
        let (room, lamp) = openness(&depth.halved(), 0.5 * camera.zoom, studio, ground);
        let (w, h) = (depth.width, depth.height);
        Self {
            room: room.doubled(w, h),
            lamp: lamp.doubled(w, h),
            depth,
            ground,
        }
    }
}

/// The nearest of each pixel's samples, and the ground.
fn nearest(sight: &Sight, width: usize, ground: f32) -> Plane {
    let tiles: Vec<Vec<f32>> = sight
        .columns
        .par_iter()
        .map(|column| nearest_in(column, sight, ground))
        .collect();
    let mut plane = Plane::filled(width, sight.rows(), ground);
    plane
        .values
        .par_chunks_mut(width.max(1))
        .enumerate()
        .for_each(|(y, row)| {
            for (column, tile) in sight.columns.iter().zip(&tiles) {
                let n = column.width;
                row[column.x0..column.x0 + n].copy_from_slice(&tile[y * n..(y + 1) * n]);
            }
        });
    plane
}

/// The same in a column, row by row.
fn nearest_in(column: &Column, sight: &Sight, ground: f32) -> Vec<f32> {
    let mut tile = vec![ground; column.width * sight.rows()];
    for x in 0..column.width {
        for sample in 0..sight.samples {
            let (depth, _) = column.line(sample, x);
            for (row, depth) in tile.chunks_exact_mut(column.width).zip(depth) {
                row[x] = row[x].max(*depth);
            }
        }
    }
    tile
}

/// Openness to the room and to the lamp.
fn openness(depth: &Plane, zoom: f32, studio: &Studio, ground: f32) -> (Plane, Plane) {
    let radius = |r: f32, least: usize| ((r * zoom).round() as usize).clamp(least, 4096);
    let near = depth.blurred(radius(NEAR, 1), ground);
    let far = depth.blurred(radius(FAR, 2), ground);
    let (w, h) = (depth.width, depth.height);
    let mut room = Plane::filled(w, h, 1.0);
    let mut lamp = Plane::filled(w, h, 1.0);
    let march = March::new(depth, zoom, studio);
    room.values
        .par_chunks_mut(w)
        .zip(lamp.values.par_chunks_mut(w))
        .enumerate()
        .for_each(|(y, (room, lamp))| {
            for x in 0..w {
                let z = depth.at(x, y);
                if z <= ground + 0.01 {
                    continue;
                }
                let near = (near.at(x, y) - z).max(0.0) / NEAR;
                let far = (far.at(x, y) - z + 0.05).max(0.0) / FAR;
                room[x] = 1.0 / (1.0 + near + 1.05 * far);
                lamp[x] = 1.0 - SHADOW * march.shadow(x as f32, y as f32, z);
            }
        });
    (room, lamp)
}

/// A step towards the lamp: offset right and down in pixels, the height
/// gained, and the overlap that makes a full shadow.
struct Step {
    right: f32,
    down: f32,
    gain: f32,
    soft: f32,
}

struct March<'a> {
    depth: &'a Plane,
    steps: Vec<Step>,
}

impl<'a> March<'a> {
    fn new(depth: &'a Plane, zoom: f32, studio: &Studio) -> Self {
        let step = |i: usize| {
            let part = i as f32 / SHADOW_STEPS as f32;
            let t = SHADOW_REACH * part * part + 0.03;
            Step {
                right: studio.key.x * t * zoom,
                down: -studio.key.y * t * zoom,
                gain: studio.key.z * t + 0.02,
                soft: 1.0 / (0.10 + 0.22 * t),
            }
        };
        let steps = (1..=SHADOW_STEPS).map(step).collect();
        Self { depth, steps }
    }

    fn shadow(&self, x: f32, y: f32, z: f32) -> f32 {
        let (right, bottom) = (
            self.depth.width as f32 - 1.01,
            self.depth.height as f32 - 1.0,
        );
        let mut shadow = 0.0_f32;
        for step in &self.steps {
            let py = y + step.down;
            if py < 0.0 || py >= bottom {
                break;
            }
            // The cord goes on beyond the sides much as it is there.
            let px = (x + step.right).clamp(0.0, right.max(0.0));
            let over = self.height(px, py) - (z + step.gain);
            shadow = shadow.max((over * step.soft).min(1.0));
        }
        shadow
    }

    #[inline]
    fn height(&self, x: f32, y: f32) -> f32 {
        let (i, j) = (x as usize, y as usize);
        let (right, below) = ((i + 1).min(self.depth.width - 1), j + 1);
        let (fx, fy) = (x - i as f32, y - j as f32);
        let row = |j| {
            let (a, b) = (self.depth.at(i, j), self.depth.at(right, j));
            a + (b - a) * fx
        };
        let (a, b) = (row(j), row(below));
        a + (b - a) * fy
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::run::Run;
    use crate::drawing::cord::samples::{rod, rope};
    use crate::drawing::cord::vector::vec3;
    use crate::drawing::view::{Bend, View};

    /// Two level rods side by side, the upper one higher by `step`.
    fn two_rods(step: f32) -> Occlusion {
        let mut both = rod(vec3(-1.0, 0.5, step), vec3(9.0, 0.5, step), (0.5, 0.5));
        let lower = rod(vec3(-1.0, -0.5, 0.0), vec3(9.0, -0.5, 0.0), (0.5, 0.5));
        both.joints.extend(&lower.joints);
        both.segments.extend(&lower.segments);
        both.segments[1].first = 2;
        let view = View {
            width: 120,
            height: 80,
            pixels_per_mm: 20.0,
            start_mm: 0.0,
            roll: 0.0,
            centre_x: 0.0,
            centre_y: 40.0,
            bend: Bend::Straight,
        };
        let camera = Camera::new(&view, &Run::new(&rope(3, 8, 1.0)).unwrap());
        let sight = Sight::new(&both, &camera, 1.6, 4);
        assert_eq!(sight.top, 2);
        Occlusion::new(&sight, &camera, &Studio::new(), 1.0)
    }

    #[test]
    fn crevices_are_closed_and_crests_open() {
        let open = two_rods(0.0);
        let (seam, crest) = (open.room.at(60, 38), open.room.at(60, 28));
        assert!(seam < 0.6 * crest, "{seam} {crest}");
        assert!(crest > 0.8, "{crest}");
    }

    #[test]
    fn a_higher_strand_towards_the_lamp_throws_a_shadow() {
        // A little under the seam, on the lower strand.
        let (level, stepped) = (two_rods(0.0), two_rods(1.0));
        let (lit, shaded) = (level.lamp.at(60, 43), stepped.lamp.at(60, 43));
        assert!(shaded < 0.6 * lit, "{shaded} {lit}");
    }
}
