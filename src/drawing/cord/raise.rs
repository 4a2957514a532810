//! Repeats of a cord brought into view.
//!
//! A repeat is turned and shifted to where it follows the one before; of a
//! bent cord it is then laid along the [`Course`] of its axis.

use super::course::Course;
use super::noise;
use super::path::{Piece, Sample};
use super::run::Run;
use super::tubes::Camera;
use super::vector::{Vec3, vec3};

/// What may stand out at the sides of the picture, strand diameters.
const MARGIN: f64 = 1.5;

/// Most repeats drawn; more would be less than a pixel each.
const MOST_LEVELS: i64 = 20_000;

/// Most samples drawn, over all repeats: about a tenth of a second.
const MOST_SAMPLES: usize = 500_000;

/// The repeats that reach into the picture.
pub(crate) fn levels(
    run: &Run,
    pieces: &[Piece],
    camera: &Camera,
    samples: usize,
) -> std::ops::Range<i64> {
    let heights = pieces.iter().flat_map(|p| &p.samples).map(|s| s.centre.z);
    let (low, high) = heights.fold((f32::MAX, f32::MIN), |(a, b), z| (a.min(z), b.max(z)));
    let lift = f64::from(run.lift);
    if lift.abs() < 1e-3 {
        return 0..1;
    }
    let from = camera.start - MARGIN - f64::from(high);
    let to = camera.start + camera.along() + MARGIN - f64::from(low);
    let (a, b) = (from / lift, to / lift);
    let (first, last) = (a.min(b).floor() as i64, a.max(b).ceil() as i64);
    let most = MOST_LEVELS.min((MOST_SAMPLES / samples.max(1)) as i64 + 1);
    // Too many: those about the middle of the picture.
    let over = (last - first + 1 - most).max(0);
    first + over / 2..last + 1 - (over - over / 2)
}

/// One repeat brought into view.
pub(crate) struct Raise {
    turn: (f32, f32),
    shift: f32,
    course: Option<Course>,
    /// From the left edge to the middle of a bent cord.
    aside: f32,
}

impl Raise {
    pub(crate) fn new(run: &Run, camera: &Camera, level: i64) -> Self {
        let turn = (run.turn * level as f64 + camera.roll) % std::f64::consts::TAU;
        let (sin, cos) = turn.sin_cos();
        Self {
            turn: (sin as f32, cos as f32),
            shift: (f64::from(run.lift) * level as f64 - camera.start) as f32,
            course: camera.course,
            aside: camera.aside(),
        }
    }

    /// Whether any of the piece lies in the picture and not behind the cord.
    pub(crate) fn shows(&self, run: &Run, camera: &Camera, piece: &Piece) -> bool {
        piece.samples.iter().any(|s| {
            let at = self.place(s.centre);
            let r = 1.5 * s.radius;
            at.z + r > run.hidden && self.reaches(camera, at, r)
        })
    }

    /// Whether a ball of the straight cord reaches into the picture.
    fn reaches(&self, camera: &Camera, at: Vec3, r: f32) -> bool {
        let Some(course) = &self.course else {
            return at.x + r > 0.0 && at.x - r < camera.across();
        };
        let ends = at.x + r > 0.0 && at.x - r < course.length as f32;
        ends && camera.meets(self.set_aside(course.bent(at)), r)
    }

    fn set_aside(&self, at: Vec3) -> Vec3 {
        at + vec3(self.aside, 0.0, 0.0)
    }

    /// A place of the cord in view axes, while it is still straight.
    fn place(&self, v: Vec3) -> Vec3 {
        self.direction(v) + vec3(self.shift, 0.0, 0.0)
    }

    /// A direction of the cord in view axes.
    fn direction(&self, v: Vec3) -> Vec3 {
        let t = v.turned(self.turn);
        vec3(t.z, t.x, t.y)
    }

    /// The piece in view axes; of a bent cord the parts of it between its ends.
    /// `arc` is the strand's length up to the piece.
    pub(crate) fn laid(&self, piece: &Piece, arc: f32, uneven: &Uneven) -> Vec<Vec<Sample>> {
        let raised = |s: &Sample| Sample {
            centre: self.place(s.centre),
            tangent: self.direction(s.tangent),
            across: self.direction(s.across),
            outward: self.direction(s.outward),
            arc: s.arc + arc,
            radius: s.radius * uneven.swell(s.arc + arc),
            ..*s
        };
        let straight: Vec<Sample> = piece.samples.iter().map(raised).collect();
        let Some(course) = &self.course else {
            return vec![straight];
        };
        let mut parts = course.lay(&straight);
        for sample in parts.iter_mut().flatten() {
            sample.centre = self.set_aside(sample.centre);
        }
        parts
    }
}

/// A strand that is here thicker, there thinner.
pub(crate) struct Uneven {
    seed: u32,
    amount: f32,
}

impl Uneven {
    pub(crate) fn new(strand: usize, amount: f32) -> Self {
        let seed = noise::hash(strand as u32 * 7919 + 17);
        Self { seed, amount }
    }

    /// Share of the mean radius at a length of strand. Tried: as hand-spun
    /// and plied yarn looks.
    fn swell(&self, arc: f32) -> f32 {
        let long = noise::along(arc * 0.45, self.seed);
        let short = noise::along(arc * 1.7, self.seed ^ 77);
        1.0 + self.amount * (0.08 * long + 0.04 * short)
    }
}
