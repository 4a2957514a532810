//! The coordinate round a cord: the length along its girth.
//!
//! A cord is looked at from a *spine* up its middle, a point in the section of a round
//! cord and a line along the wide axis of a flat one. Rays leave the spine square to it on
//! the faces and in all directions at its ends, and the coordinate is the length along the
//! girth of the *stadium* they reach to, as a share of the whole: faces of flat cords are
//! seen as they are, round cords by angle.
//!
//! It begins at x of the form, or, on a flat cord, at the end of the spine that lies to the
//! side of x at height 0, and goes anticlockwise seen from above. Where a flat cord turns,
//! its spine, and with it the beginning, turns with it; round cords are seen from a
//! beginning that does not.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::span::{Ray, Span, Vec3};
use super::strand::Strands;
use crate::cord::FLAT_FROM;

/// The spine and the stadium round it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Round {
    /// Where the spine's middle is at height 0, mm.
    middle: [f64; 2],
    /// Unit, along the spine at height 0.
    along: [f64; 2],
    /// Turn of the cord and of the spine for a mm of height, radians.
    turns: [f64; 2],
    /// Half the spine, mm.
    half: f64,
    /// From the spine to the girth, mm.
    radius: f64,
}

impl Round {
    /// For these strands, whose repeat is turned by this share of a round, from over -½ to
    /// ½, with the share that it is turned as seen from the spine: that of a flat cord turns
    /// with it, by up to a quarter of a round, and then stands on its head or does not. The
    /// girth is not yet that of what is seen.
    pub(super) fn new(strands: &Strands, turn: f64) -> (Self, f64) {
        let turned = TAU * turn / strands.lift;
        let halves = (2.0 * turn).round() / 2.0;
        let turns = TAU * (turn - halves) / strands.lift;
        let middle = middle(strands, turned);
        let mut round = Self {
            middle,
            along: [1.0, 0.0],
            turns: [turned, turns],
            half: 0.0,
            radius: 1.0,
        };
        round.along = round.wide_axis(strands);
        let wide = round.extent(strands, round.along);
        let narrow = round.extent(strands, [-round.along[1], round.along[0]]);
        round.radius = narrow;
        if wide > FLAT_FROM * narrow {
            round.half = wide - narrow;
            return (round, halves);
        }
        round.along = [1.0, 0.0];
        round.turns[1] = 0.0;
        (round, turn)
    }

    /// The same spine with the girth at this distance.
    pub(super) fn at(&self, radius: f64) -> Self {
        Self {
            radius,
            ..self.clone()
        }
    }

    /// From the spine's middle to the middle of a span, turned back to height 0.
    fn offsets<'a>(&'a self, strands: &'a Strands) -> impl Iterator<Item = [f64; 2]> + 'a {
        strands.spans.iter().map(|span| {
            let [x, y, z] = span.middle;
            let middle = turned(self.middle, self.turns[0] * z);
            turned([x - middle[0], y - middle[1]], -self.turns[1] * z)
        })
    }

    /// Half the width of the cord along a direction.
    fn extent(&self, strands: &Strands, way: [f64; 2]) -> f64 {
        let out = |off: [f64; 2]| (off[0] * way[0] + off[1] * way[1]).abs();
        self.offsets(strands).map(out).fold(0.0, f64::max) + 0.5 * strands.diameter
    }

    /// The direction in which the section is widest, by its second moments, to the side of x.
    fn wide_axis(&self, strands: &Strands) -> [f64; 2] {
        let (mut both, mut more) = (0.0, 0.0);
        for [x, y] in self.offsets(strands) {
            both += 2.0 * x * y;
            more += x * x - y * y;
        }
        let (sin, cos) = (0.5 * f64::atan2(both, more)).sin_cos();
        [cos, sin]
    }

    /// Length of the girth, mm.
    pub(super) fn girth(&self) -> f64 {
        4.0 * self.half + TAU * self.radius
    }

    /// The ray at a share of the round and a height.
    pub(super) fn ray(&self, share: f64, height: f64) -> Ray {
        self.rays(height)(share)
    }

    /// The rays at a height, by their share of the round.
    pub(super) fn rays(&self, height: f64) -> impl Fn(f64) -> Ray {
        let middle = turned(self.middle, self.turns[0] * height);
        let [x, y] = turned(self.along, self.turns[1] * height);
        move |share| {
            let (foot, angle) = self.foot(share.rem_euclid(1.0) * self.girth());
            let [a, b] = turned([x, y], angle);
            Ray {
                from: [middle[0] + foot * x, middle[1] + foot * y, height],
                way: [a, b, 0.0],
            }
        }
    }

    /// Where on the spine a ray begins, and its angle to the spine, so far round.
    fn foot(&self, far: f64) -> (f64, f64) {
        let (bend, face) = (PI * self.radius, 2.0 * self.half);
        let far = far + 0.5 * bend;
        if far < bend {
            (self.half, far / self.radius - FRAC_PI_2)
        } else if far < bend + face {
            (self.half - (far - bend), FRAC_PI_2)
        } else if far < 2.0 * bend + face {
            (-self.half, (far - face) / self.radius - FRAC_PI_2)
        } else if far < 2.0 * (bend + face) {
            (far - 2.0 * bend - face - self.half, -FRAC_PI_2)
        } else {
            (self.half, (far - 2.0 * face) / self.radius - FRAC_PI_2)
        }
    }

    /// Share of the round and distance from the spine of a point.
    pub(super) fn place(&self, [x, y, z]: Vec3) -> (f64, f64) {
        let middle = turned(self.middle, self.turns[0] * z);
        let off = [x - middle[0], y - middle[1]];
        let [x, y] = turned(self.along, self.turns[1] * z);
        let (along, across) = (off[0] * x + off[1] * y, off[1] * x - off[0] * y);
        let foot = along.clamp(-self.half, self.half);
        let depth = (along - foot).hypot(across);
        let (bend, face) = (PI * self.radius, 2.0 * self.half);
        let far = if along > self.half {
            self.radius * across.atan2(along - foot)
        } else if along < -self.half {
            let angle = across.atan2(along - foot).rem_euclid(TAU);
            face + self.radius * angle
        } else if across >= 0.0 && self.half > 0.0 {
            0.5 * bend + self.half - along
        } else if self.half > 0.0 {
            1.5 * bend + face + self.half + along
        } else {
            self.radius * across.atan2(along)
        };
        ((far / self.girth()).rem_euclid(1.0), depth)
    }

    /// Half the share of the round that a ball so far out may be seen on.
    pub(super) fn half_share(&self, depth: f64, ball: f64) -> f64 {
        // The spine goes on turning as high as the ball reaches.
        let [x, y] = self.middle;
        let strays = ball * (self.turns[0].abs() * x.hypot(y) + self.turns[1].abs() * self.half);
        let ball = ball + strays;
        if ball >= depth {
            return 0.5;
        }
        let bent = self.radius * (ball / depth).asin();
        let turns = ball * self.turns[1].abs() * (self.half + self.radius);
        ((1.05 * bent.max(ball) + turns) / self.girth()).min(0.5)
    }
}

fn turned([x, y]: [f64; 2], angle: f64) -> [f64; 2] {
    let (sin, cos) = angle.sin_cos();
    [x * cos - y * sin, y * cos + x * sin]
}

/// The mean of the strands' middles, turned back to height 0.
fn middle(strands: &Strands, turns: f64) -> [f64; 2] {
    let count = strands.spans.len() as f64;
    let back = |span: &Span| turned([span.middle[0], span.middle[1]], -turns * span.middle[2]);
    strands.spans.iter().map(back).fold([0.0; 2], |sum, p| {
        [sum[0] + p[0] / count, sum[1] + p[1] / count]
    })
}
