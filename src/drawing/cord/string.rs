//! Strung beads: a row of short rigid bodies on a thread.
//!
//! A bead has its middle on the strand's line and its axis along it there; it
//! does not bend. It is a spheroid cut off at both ends, where the hole comes
//! out. Lengths of strand are counted in beads on it, so that the surface
//! knows which bead it is and where on it.
//!
//! Letters: `a` the axis, `h` half the spheroid's length before it is cut, `r`
//! its radius, `g = 1/h² - 1/r²`. A point `p` from the middle lies on it where
//! `p.p / r² + g (p.a)² = 1`: with `p = e + z k`, `k` towards the eye, a
//! quadratic in `z`. (Textbook geometry.)

use super::noise::{hash, share};
use super::path::Sample;
use super::tubes::Joint;
use super::vector::{Vec3, split};

/// Length of a bead along its hole over its diameter: seed beads are a little
/// shorter than wide (common practice, no source).
pub(crate) const LENGTH: f32 = 0.70;

/// Radius at the cut ends over that of the bead. Our guess.
pub(crate) const RIM: f32 = 0.50;

/// Share of the bead's own stretch of arc that is bead: places on one bead
/// must not count as the next one's.
const OWN_ARC: f32 = 0.8;

/// Shares by which beads of one batch differ in width and length, and the
/// sine by which they sit askew, at most. Our guess.
const WIDTHS: f32 = 0.06;
const LENGTHS: f32 = 0.14;
const ASKEW: f32 = 0.10;

/// A string of beads of one strand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Strung {
    /// From bead to bead, strand diameters.
    pub(crate) pitch: f32,
    /// Strand of the design.
    pub(crate) strand: usize,
    /// How much beads differ, 0 to 1.
    pub(crate) uneven: f32,
}

impl Strung {
    /// The beads whose middles lie on this stretch of strand, each as the
    /// joints at its ends. `seat` is where what is strung lies at a place.
    pub(crate) fn beads(
        &self,
        laid: &[Sample],
        seat: impl Fn(&Sample) -> Joint,
    ) -> Vec<[Joint; 2]> {
        let ends = [0, laid.len() - 1].map(|i| laid[i].arc / self.pitch - 0.5);
        let numbers = ends[0].ceil() as i64..ends[1].ceil() as i64;
        let bead = |k: i64| {
            let arc = (k as f32 + 0.5) * self.pitch;
            let next = laid.partition_point(|s| s.arc < arc);
            let next = next.clamp(1, laid.len() - 1);
            let (a, b) = (&laid[next - 1], &laid[next]);
            let t = (arc - a.arc) / (b.arc - a.arc).max(1e-6);
            self.bead(k, &seat(&a.towards(b, t.clamp(0.0, 1.0))))
        };
        numbers.map(bead).collect()
    }

    fn bead(&self, number: i64, seat: &Joint) -> [Joint; 2] {
        let own = |k: u32| own(number, self.strand, k) * self.uneven;
        let side = seat.along.cross(seat.zero);
        let lean = seat.zero * (ASKEW * own(1)) + side * (ASKEW * own(2));
        let along = (seat.along + lean).unit();
        let zero = seat.zero.square_to(along).unit();
        let radius = seat.narrowest() * (1.0 + WIDTHS * own(3));
        let half = 0.5 * self.pitch * (1.0 - 0.5 * LENGTHS * (1.0 + own(4)) * self.uneven);
        let end = |u: f32| Joint {
            arc: number as f32 + 0.5 + 0.5 * OWN_ARC * u,
            ..joint(seat.centre + along * (half * u), along, zero, radius)
        };
        [end(-1.0), end(1.0)]
    }
}

/// Number of the bead at a count of beads, and the place along it, -1 to 1.
pub(crate) fn place(arc: f32) -> (i32, f32) {
    let (number, part) = split(arc);
    (number, (2.0 * part - 1.0) / OWN_ARC)
}

fn joint(centre: Vec3, along: Vec3, zero: Vec3, radius: f32) -> Joint {
    Joint {
        centre,
        along,
        strand: centre,
        tangent: along,
        zero,
        outward: zero,
        half: (radius, radius),
        radius,
        arc: 0.0,
    }
}

/// A bead as the eye's rays meet it.
pub(crate) struct Bead {
    pub(crate) middle: Vec3,
    axis: Vec3,
    /// Half its length as it is, and as if it were not cut.
    half: f32,
    whole: f32,
    radius: f32,
}

impl Bead {
    pub(crate) fn new(a: &Joint, b: &Joint) -> Self {
        let half = 0.5 * (b.centre - a.centre).length();
        Self {
            middle: a.centre.towards(b.centre, 0.5),
            axis: a.along,
            half,
            whole: half / (1.0 - RIM * RIM).sqrt(),
            radius: a.radius,
        }
    }

    /// How far it goes right and up from its middle.
    pub(crate) fn reach(&self) -> (f32, f32) {
        let (r, h) = (self.radius * self.radius, self.whole * self.whole);
        let along = |a: f32| (r + (h - r) * a * a).sqrt();
        (along(self.axis.x), along(self.axis.y))
    }

    /// Its height over its middle at an offset right and up.
    pub(crate) fn height(&self, right: f32, up: f32) -> Option<f32> {
        let a = self.axis;
        let thin = 1.0 / (self.radius * self.radius);
        let g = 1.0 / (self.whole * self.whole) - thin;
        let (square, level) = (right * right + up * up, right * a.x + up * a.y);
        let lead = thin + g * a.z * a.z;
        let half = g * a.z * level;
        let rest = square * thin + g * level * level - 1.0;
        let under = half * half - lead * rest;
        if under <= 0.0 {
            return None;
        }
        let z = (under.sqrt() - half) / lead;
        let along = level + z * a.z;
        if along.abs() <= self.half {
            return Some(z);
        }
        // Through the part that is cut off: on to the flat end.
        let z = (self.half.copysign(along) - level) / a.z;
        let off = square + z * z - self.half * self.half;
        let rim = RIM * self.radius;
        (off <= rim * rim).then_some(z)
    }
}

/// A number of this bead's own, -1 to 1.
pub(crate) fn own(number: i64, strand: usize, k: u32) -> f32 {
    let seed = hash(number as u32).wrapping_add(strand as u32 * 7919);
    2.0 * share(seed ^ k.wrapping_mul(0x9E37_79B9)) - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::path::pieces;
    use crate::drawing::cord::run::Run;
    use crate::drawing::cord::samples::rope;
    use crate::drawing::cord::vector::vec3;

    fn seat(s: &Sample) -> Joint {
        joint(s.centre, s.tangent, s.across, s.radius)
    }

    fn strung(uneven: f32) -> Strung {
        Strung {
            pitch: LENGTH,
            strand: 1,
            uneven,
        }
    }

    #[test]
    fn every_bead_of_a_strand_is_strung_once_whatever_the_pieces() {
        let run = Run::new(&rope(3, 12, 1.0)).unwrap();
        let whole = pieces(&run, 0.1).remove(0).samples;
        let all = strung(1.0).beads(&whole, seat);
        let expected = whole[whole.len() - 1].arc / LENGTH;
        assert!((all.len() as f32 - expected).abs() < 1.0, "{expected}");
        for cut in [3, 7, whole.len() / 2] {
            let (left, right) = (&whole[..=cut], &whole[cut..]);
            let parts = strung(1.0).beads(left, seat).len() + strung(1.0).beads(right, seat).len();
            assert_eq!(parts, all.len(), "cut at {cut}");
        }
    }

    #[test]
    fn beads_are_as_wide_as_the_strand_and_touch_their_neighbours() {
        let run = Run::new(&rope(3, 12, 1.0)).unwrap();
        let beads = strung(0.0).beads(&pieces(&run, 0.1)[0].samples, seat);
        for pair in beads.windows(2) {
            assert!((pair[0][0].half.0 - 0.5).abs() < 1e-4);
            let (end, start) = (pair[0][1].centre, pair[1][0].centre);
            assert!((start - end).length() < 0.05, "{:?}", start - end);
        }
    }

    #[test]
    fn a_bead_is_round_from_its_side_and_shows_its_flat_end() {
        let bead = |along: Vec3| {
            let end = |u: f32| joint(along * (0.35 * u), along, along.any_square(), 0.5);
            Bead::new(&end(-1.0), &end(1.0))
        };
        let side = bead(vec3(1.0, 0.0, 0.0));
        assert!((side.height(0.0, 0.0).unwrap() - 0.5).abs() < 1e-5);
        assert!((side.height(0.0, 0.3).unwrap() - 0.4).abs() < 1e-5);
        assert!(
            (side.height(0.349, 0.0).unwrap() - 0.25).abs() < 0.01,
            "at its rim"
        );
        assert_eq!(side.height(0.36, 0.0), None);
        assert!((side.reach().1 - 0.5).abs() < 1e-5);
        let front = bead(vec3(0.0, 0.0, 1.0));
        assert!((front.height(0.1, 0.0).unwrap() - 0.35).abs() < 1e-5);
        assert!(front.height(0.4, 0.0).unwrap() < 0.3);
        assert!((front.reach().0 - 0.5).abs() < 1e-5);
    }
}
