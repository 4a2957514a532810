//! The strands in view as short pieces of tube.
//!
//! In view axes: x along the picture from its left edge, y up from the cord's
//! axis, z to the eye; lengths in strand diameters. A [`Joint`] is a place on
//! a member of a strand, a [`Segment`] the straight tube between two joints,
//! with an elliptic section.

use super::course::Course;
use super::makeup::{MakeUp, Member, Place, Skin};
use super::path::{Sample, pieces};
use super::raise::{Raise, Uneven, levels};
use super::run::Run;
use super::string::{LENGTH, Strung};
use super::vector::Vec3;
use crate::drawing::view::View;

/// A place on a member of a strand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joint {
    /// Middle and direction of the member.
    pub(crate) centre: Vec3,
    pub(crate) along: Vec3,
    /// Middle and direction of the whole strand.
    pub(crate) strand: Vec3,
    pub(crate) tangent: Vec3,
    /// Zero of the angle round the member: its body's own direction.
    pub(crate) zero: Vec3,
    /// First axis of the section, square to `along`, and both half axes.
    pub(crate) outward: Vec3,
    pub(crate) half: (f32, f32),
    /// Radius of the strand, as drawn.
    pub(crate) radius: f32,
    /// Length of strand up to here.
    pub(crate) arc: f32,
}

impl Joint {
    pub(crate) fn widest(&self) -> f32 {
        self.half.0.max(self.half.1)
    }

    pub(crate) fn narrowest(&self) -> f32 {
        self.half.0.min(self.half.1)
    }
}

/// A straight piece of tube from joint `first` to the next one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Segment {
    pub(crate) first: u32,
    pub(crate) axis: Vec3,
    pub(crate) length: f32,
    /// How far the tube goes on past both ends, to close the bend.
    pub(crate) extend: f32,
    pub(crate) strand: u16,
    pub(crate) end: u16,
    pub(crate) skin: Skin,
    /// Same for all segments of one member of one strand.
    pub(crate) tube: u32,
    /// Turn of the ridges drawn on it for a length of strand, radians.
    pub(crate) ridge_rate: f32,
}

/// Everything in view.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tubes {
    pub(crate) joints: Vec<Joint>,
    pub(crate) segments: Vec<Segment>,
}

/// The view in strand diameters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Camera {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Pixels for a strand diameter.
    pub(crate) zoom: f32,
    pub(crate) centre_y: f32,
    /// Middle of a bent cord, pixels from the left.
    centre_x: f32,
    pub(crate) start: f64,
    pub(crate) roll: f64,
    pub(crate) course: Option<Course>,
}

/// Fewest pixels for a strand diameter: farther off there is nothing to see,
/// and there would be strands without end.
const LEAST_ZOOM: f64 = 0.25;

impl Camera {
    pub(crate) fn new(view: &View, run: &Run) -> Self {
        Self {
            width: view.width,
            height: view.height,
            zoom: (view.pixels_per_mm * run.unit).clamp(LEAST_ZOOM, 2e4) as f32,
            centre_y: view.centre_y as f32,
            centre_x: view.centre_x as f32,
            start: view.start_mm / run.unit,
            roll: view.roll,
            course: Course::new(view.bend, run, view.roll),
        }
    }

    /// Picture width in strand diameters.
    pub(crate) fn across(&self) -> f32 {
        self.width as f32 / self.zoom
    }

    /// Length of cord in the picture, strand diameters.
    pub(crate) fn along(&self) -> f64 {
        let across = || f64::from(self.across());
        self.course.map_or_else(across, |course| course.length)
    }

    /// From the left edge to the middle of a bent cord, strand diameters.
    pub(crate) fn aside(&self) -> f32 {
        self.centre_x / self.zoom
    }

    /// How far the axis goes above and below its middle, strand diameters.
    pub(crate) fn rise(&self) -> f32 {
        self.course.map_or(0.0, |course| course.half().1)
    }

    /// Whether a ball lies in the picture, at least in part.
    pub(crate) fn meets(&self, at: Vec3, r: f32) -> bool {
        let (top, height) = (self.centre_y / self.zoom, self.height as f32 / self.zoom);
        let level = at.x + r > 0.0 && at.x - r < self.across();
        level && at.y - r < top && at.y + r > top - height
    }
}

impl Tubes {
    /// The tubes of the cord that the camera can see, strand by strand made
    /// up as `makeups` says (one for each strand of the design).
    pub(crate) fn new(run: &Run, makeups: &[MakeUp], camera: &Camera, step: f32) -> Self {
        let pieces = pieces(run, step);
        let lengths: Vec<f32> = pieces.iter().map(|p| p.length).collect();
        let samples: usize = pieces.iter().map(|p| p.samples.len()).sum();
        let mut tubes = Self::default();
        for level in levels(run, &pieces, camera, samples) {
            let raise = Raise::new(run, camera, level);
            for (i, piece) in pieces.iter().enumerate() {
                if !raise.shows(run, camera, piece) {
                    continue;
                }
                let (strand, arc) = run.strand_at(level, i, &lengths);
                let uneven = Uneven::new(strand, makeups[strand].uneven);
                let laid = raise.laid(piece, arc as f32, &uneven);
                for (m, member) in makeups[strand].members.iter().enumerate() {
                    let body = Body {
                        member,
                        flatness: makeups[strand].flatness,
                        lies: makeups[strand].lies,
                        rate: member.lean / run.girth[i],
                        ridge_rate: member.ridge_lean / (run.girth[i] * member.half.0),
                        strand,
                        tube: (strand * 16 + m) as u32,
                        behind: run.hidden,
                        strung: (member.skin == Skin::Bead).then(|| Strung {
                            pitch: 2.0 * run.girth[i] * member.half.0 * LENGTH,
                            strand,
                            uneven: makeups[strand].uneven,
                        }),
                    };
                    for part in &laid {
                        tubes.lay(part, &body);
                    }
                }
            }
        }
        tubes
    }

    /// The two joints between which a segment lies.
    #[inline]
    pub(crate) fn joints_of(&self, segment: &Segment) -> (&Joint, &Joint) {
        let first = segment.first as usize;
        (&self.joints[first], &self.joints[first + 1])
    }

    fn lay(&mut self, laid: &[Sample], body: &Body<'_>) {
        let Some(strung) = &body.strung else {
            return self.add(laid.iter().map(|s| body.joint(s)), body);
        };
        for bead in strung.beads(laid, |s| body.joint(s)) {
            self.add(bead.into_iter(), body);
        }
    }

    /// A tube through these joints, at least two.
    fn add(&mut self, joints: impl Iterator<Item = Joint>, body: &Body<'_>) {
        let base = self.joints.len();
        self.joints.extend(joints);
        let mut before: Option<usize> = None;
        for first in base..self.joints.len() - 1 {
            let (a, b) = (&self.joints[first], &self.joints[first + 1]);
            let front = a.centre.z.max(b.centre.z) + a.radius.max(b.radius);
            if front <= body.behind {
                before = None;
                continue;
            }
            let mut segment = body.segment(first, a, b);
            if let Some(last) = before {
                let bend = self.segments[last].axis.cross(segment.axis).length();
                segment.extend += 0.56 * a.half.0.max(a.half.1) * bend;
                let other = &mut self.segments[last];
                other.extend = other.extend.max(segment.extend);
            }
            before = Some(self.segments.len());
            self.segments.push(segment);
        }
    }
}

/// A member of one strand, to be laid along its samples.
struct Body<'a> {
    member: &'a Member,
    flatness: f32,
    lies: f32,
    /// Turn round the strand's middle for a length of strand, radians.
    rate: f32,
    ridge_rate: f32,
    strand: usize,
    tube: u32,
    behind: f32,
    strung: Option<Strung>,
}

impl Body<'_> {
    fn joint(&self, s: &Sample) -> Joint {
        let r = s.radius;
        let (thin, wide) = match s.wider {
            Some(wider) => {
                let wider = (wider / self.lies).max(1.0);
                (1.0 / wider, wider)
            }
            None => (1.0, 1.0 + (self.flatness - 1.0) * s.outside),
        };
        let side = s.tangent.cross(s.outward);
        let spread = |v: Vec3| s.outward * (v.dot(s.outward) * thin) + side * (v.dot(side) * wide);
        let bare = Joint {
            centre: s.centre,
            along: s.tangent,
            strand: s.centre,
            tangent: s.tangent,
            zero: s.across,
            outward: s.outward,
            half: (r * self.member.half.0 * thin, r * self.member.half.1 * wide),
            radius: r,
            arc: s.arc,
        };
        match self.member.place {
            Place::Fixed { out, side: aside } => Joint {
                centre: s.centre + (s.outward * (out * thin) + side * (aside * wide)) * r,
                ..bare
            },
            Place::Ring { angle, off } => {
                let (sin, cos) = (angle + self.rate * s.arc).sin_cos();
                let left = s.tangent.cross(s.across);
                let away = s.across * cos + left * sin;
                let round = left * cos - s.across * sin;
                let along = (s.tangent + round * (self.rate * off * r)).unit();
                // Plies of a flat strand are as flat, of a round one round.
                let (outward, half) = match s.wider {
                    Some(_) => (s.outward, bare.half),
                    None => (away, (r * self.member.half.0, r * self.member.half.1)),
                };
                Joint {
                    centre: s.centre + spread(away) * (off * r),
                    along,
                    zero: away,
                    outward: outward.square_to(along).unit(),
                    half,
                    ..bare
                }
            }
        }
    }

    fn segment(&self, first: usize, a: &Joint, b: &Joint) -> Segment {
        let way = b.centre - a.centre;
        let length = way.length().max(1e-6);
        Segment {
            first: first as u32,
            axis: if length > 1e-5 {
                way * (1.0 / length)
            } else {
                a.along
            },
            length,
            extend: if self.strung.is_some() {
                1e-3
            } else {
                0.05 * a.half.0.max(a.half.1)
            },
            strand: self.strand as u16,
            end: self.member.end as u16,
            skin: self.member.skin,
            tube: self.tube,
            ridge_rate: self.ridge_rate,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::{crochet, leather, rope};
    use crate::drawing::cord::vector::vec3;
    use crate::drawing::thread::Thread;
    use crate::drawing::view::Bend;
    use crate::material::{Appearance, Colour};

    fn view() -> View {
        View {
            width: 300,
            height: 100,
            pixels_per_mm: 20.0,
            start_mm: 3.0,
            roll: 0.5,
            centre_x: 0.0,
            centre_y: 50.0,
            bend: Bend::Straight,
        }
    }

    fn tubes_of(look: Appearance, view: &View) -> (Run, Tubes) {
        let run = Run::new(&rope(3, 12, 1.0)).unwrap();
        let makeups = vec![MakeUp::new(&Thread::single(look, Colour([0; 3]))); 3];
        let tubes = Tubes::new(&run, &makeups, &Camera::new(view, &run), 0.2);
        (run, tubes)
    }

    #[test]
    fn tubes_fill_the_picture_from_side_to_side() {
        let (_, tubes) = tubes_of(leather(), &view());
        let xs = tubes.joints.iter().map(|j| j.centre.x);
        let (low, high) = xs.fold((9.0_f32, 0.0_f32), |(a, b), x| (a.min(x), b.max(x)));
        assert!(low < 0.0 && high > 15.0, "{low} to {high}");
    }

    #[test]
    fn the_tubes_of_a_loop_lie_round_its_circle() {
        let even = Appearance {
            mottle: 0.0,
            ..leather()
        };
        let (inner_mm, aside) = (30.0, 500.0 / 20.0);
        let ring = View {
            width: 1000,
            height: 1000,
            centre_x: 500.0,
            centre_y: 500.0,
            bend: Bend::Loop { inner_mm },
            ..view()
        };
        let (run, tubes) = tubes_of(even, &ring);
        let radius = 15.0 + run.reach;
        let mut sum = 0.0;
        for j in &tubes.joints {
            let (x, y) = (j.centre.x - aside, j.centre.y);
            let off = x.hypot(y) - radius;
            // How far off its axis a strand wanders in the straight cord.
            assert!(off.hypot(j.centre.z) < run.reach - 0.49, "{off}");
            sum += off;
        }
        let mean = sum / tubes.joints.len() as f32;
        assert!(mean.abs() < 0.02, "{mean}");
        let sides = [0, 1, 2, 3].map(|k| {
            let side = |j: &&Joint| (j.centre.x > aside, j.centre.y > 0.0) == (k & 1 == 0, k < 2);
            tubes.joints.iter().filter(side).count()
        });
        assert!(sides.iter().all(|&n| 10 * n > 9 * sides[0]), "{sides:?}");
    }

    #[test]
    fn a_hanging_cord_is_cut_off_at_its_ends() {
        let hung = View {
            width: 1000,
            height: 1000,
            centre_x: 500.0,
            centre_y: 500.0,
            bend: Bend::Hanging {
                worn_mm: 40.0,
                span_mm: 20.0,
            },
            ..view()
        };
        let (run, tubes) = tubes_of(leather(), &hung);
        let course = Camera::new(&hung, &run).course.unwrap();
        let high = course.half().1;
        let top = tubes.joints.iter().map(|j| j.centre.y).fold(0.0, f32::max);
        // The ends lean, so that one side of the cut stands a little higher.
        let lean = 0.4 * run.reach;
        assert!(top > high - 0.3 && top < high + lean, "{top} {high}");
    }

    #[test]
    fn no_part_of_a_strand_stands_out_farther_than_the_form() {
        for look in [leather(), crochet()] {
            let even = Appearance {
                mottle: 0.0,
                ..look
            };
            let (run, tubes) = tubes_of(even, &view());
            for j in &tubes.joints {
                // Outwards the first half axis counts; plies are round.
                let out = j.centre.y.hypot(j.centre.z) + j.half.0;
                assert!(out < run.reach * 1.04, "{out} of {}", run.reach);
            }
        }
    }

    /// Strands that stand on edge: their wider side points away from the cord's axis.
    #[test]
    fn a_flat_section_is_drawn_as_the_form_has_it() {
        let mut form = rope(3, 12, 1.0);
        let away = |p: &[f64; 3]| [p[0], p[1], 0.0].map(|v| 0.7 * v / p[0].hypot(p[1]));
        form.wide = form.points.iter().map(away).collect();
        let run = Run::new(&form).unwrap();
        let even = Appearance {
            mottle: 0.0,
            ..leather()
        };
        let leather = Thread::single(even, Colour([0; 3]));
        let makeups = vec![MakeUp::new(&leather); 3];
        let tubes = Tubes::new(&run, &makeups, &Camera::new(&view(), &run), 0.2);
        let off = form.points[0][0].hypot(form.points[0][1]) as f32;
        assert!((run.reach - (off + 0.7)).abs() < 1e-3, "{}", run.reach);
        for j in &tubes.joints {
            let (thin, wide) = j.half;
            assert!(
                (thin - 0.5 / 1.4).abs() < 0.01 && (wide - 0.7).abs() < 0.02,
                "{thin} {wide}"
            );
            let away = vec3(0.0, j.centre.y, j.centre.z).unit();
            assert!(j.outward.dot(away).abs() < 0.05, "{:?}", j.outward);
        }
    }

    #[test]
    fn plies_go_on_without_a_step_from_repeat_to_repeat() {
        let (_, tubes) = tubes_of(crochet(), &view());
        let mut ends: Vec<(u32, &Joint)> = Vec::new();
        for s in &tubes.segments {
            let (a, b) = tubes.joints_of(s);
            ends.push((s.tube, a));
            ends.push((s.tube, b));
        }
        // Wherever two joints of a ply lie at one length of strand, they agree.
        let mut met = 0;
        for (k, (tube, a)) in ends.iter().enumerate() {
            for (other, b) in &ends[k + 1..] {
                if tube == other && (a.arc - b.arc).abs() < 1e-3 {
                    met += 1;
                    assert!((a.centre - b.centre).length() < 0.02, "at {}", a.arc);
                }
            }
        }
        assert!(met > 10);
    }
}
