//! Places on one piece of tube, many at a time.
//!
//! What a skin or the light does is written for one place; the figures of many
//! lie side by side here, so that the compiler can make wide registers of it.

use super::{Spot, Touch};
use crate::drawing::cord::tubes::{Joint, Segment, Tubes};
use crate::drawing::cord::vector::{Vec3, angle, vec3};

/// Places worked on at a time.
pub(crate) const MANY: usize = 64;

/// A figure of each place.
pub(crate) type Lanes = [f32; MANY];

/// Three figures of each place.
#[derive(Debug, Clone)]
pub(crate) struct Lanes3 {
    pub(crate) x: Lanes,
    pub(crate) y: Lanes,
    pub(crate) z: Lanes,
}

impl Lanes3 {
    pub(crate) const fn new() -> Self {
        Self {
            x: [0.0; MANY],
            y: [0.0; MANY],
            z: [0.0; MANY],
        }
    }

    #[inline(always)]
    pub(crate) fn at(&self, i: usize) -> Vec3 {
        vec3(self.x[i], self.y[i], self.z[i])
    }

    #[inline(always)]
    pub(crate) fn set(&mut self, i: usize, v: Vec3) {
        (self.x[i], self.y[i], self.z[i]) = (v.x, v.y, v.z);
    }
}

/// A piece of tube, and what all places on it have in common.
pub(crate) struct Patch<'a> {
    a: &'a Joint,
    b: &'a Joint,
    ridge_rate: f32,
    /// One over its length.
    shortness: f32,
    seed: f32,
    zoom: f32,
}

impl<'a> Patch<'a> {
    pub(crate) fn new(tubes: &'a Tubes, segment: &Segment, zoom: f32) -> Self {
        let (a, b) = tubes.joints_of(segment);
        Self {
            a,
            b,
            ridge_rate: segment.ridge_rate,
            shortness: 1.0 / segment.length,
            seed: segment.tube as f32 * 7.13,
            zoom,
        }
    }

    /// The spot at the point `at` of its surface.
    #[inline(always)]
    pub(crate) fn spot(&self, at: Vec3) -> Spot {
        let (a, b) = (self.a, self.b);
        let (fa, fb) = ((at - a.centre).dot(a.along), (at - b.centre).dot(b.along));
        let over = fa - fb;
        // Between the mitre planes; past them too, or threads look scaled.
        let part = fa / if over > 1e-5 { over } else { 1.0 };
        let t = if over > 1e-5 { part } else { 0.5 };
        let t = if t > -0.4 { t } else { -0.4 };
        let t = if t < 1.4 { t } else { 1.4 };
        let along = a.along.towards(b.along, t).near_unit();
        let rel = (at - a.centre.towards(b.centre, t)).square_to(along);
        let outward = a.outward.towards(b.outward, t).square_to(along).near_unit();
        let side = along.cross(outward);
        let half = (
            a.half.0 + (b.half.0 - a.half.0) * t,
            a.half.1 + (b.half.1 - a.half.1) * t,
        );
        let (q, p) = (rel.dot(outward) / half.0, rel.dot(side) / half.1);
        let round = outward * q + side * p;
        let zero = a.zero.towards(b.zero, t);
        let tangent = a.tangent.towards(b.tangent, t).near_unit();
        let body = (at - a.strand.towards(b.strand, t)).square_to(tangent);
        let radius = a.radius + (b.radius - a.radius) * t;
        let height = body.length();
        let bend = (b.tangent - a.tangent).dot(body) * self.shortness;
        Spot {
            normal: (outward * (q / half.0) + side * (p / half.1)).unit(),
            along,
            body: body * (1.0 / if height > 1e-6 { height } else { 1e-6 }),
            height: height / radius,
            angle: angle(round.dot(along.cross(zero)), round.dot(zero)),
            aside: p,
            sideways: side,
            bend,
            size: 0.5 * (half.0 + half.1),
            radius,
            arc: a.arc + (b.arc - a.arc) * t,
            ridge_rate: self.ridge_rate,
            seed: self.seed,
            zoom: self.zoom,
        }
    }
}

/// Spots on one patch.
#[derive(Debug, Clone)]
pub(crate) struct Spots {
    normal: Lanes3,
    along: Lanes3,
    body: Lanes3,
    height: Lanes,
    angle: Lanes,
    aside: Lanes,
    sideways: Lanes3,
    bend: Lanes,
    size: Lanes,
    radius: Lanes,
    arc: Lanes,
    ridge_rate: f32,
    seed: f32,
    zoom: f32,
}

impl Spots {
    pub(crate) const fn new() -> Self {
        Self {
            normal: Lanes3::new(),
            along: Lanes3::new(),
            body: Lanes3::new(),
            height: [0.0; MANY],
            angle: [0.0; MANY],
            aside: [0.0; MANY],
            sideways: Lanes3::new(),
            bend: [0.0; MANY],
            size: [0.0; MANY],
            radius: [0.0; MANY],
            arc: [0.0; MANY],
            ridge_rate: 0.0,
            seed: 0.0,
            zoom: 0.0,
        }
    }

    /// The spots of a patch at the first `count` points.
    #[inline(always)]
    pub(crate) fn fill(&mut self, patch: &Patch<'_>, points: &Lanes3, count: usize) {
        (self.ridge_rate, self.seed, self.zoom) = (patch.ridge_rate, patch.seed, patch.zoom);
        for i in 0..count.min(MANY) {
            let spot = patch.spot(points.at(i));
            self.normal.set(i, spot.normal);
            self.along.set(i, spot.along);
            self.body.set(i, spot.body);
            self.height[i] = spot.height;
            self.angle[i] = spot.angle;
            self.aside[i] = spot.aside;
            self.sideways.set(i, spot.sideways);
            self.bend[i] = spot.bend;
            self.size[i] = spot.size;
            self.radius[i] = spot.radius;
            self.arc[i] = spot.arc;
        }
    }

    #[inline(always)]
    pub(crate) fn at(&self, i: usize) -> Spot {
        Spot {
            normal: self.normal.at(i),
            along: self.along.at(i),
            body: self.body.at(i),
            height: self.height[i],
            angle: self.angle[i],
            aside: self.aside[i],
            sideways: self.sideways.at(i),
            bend: self.bend[i],
            size: self.size[i],
            radius: self.radius[i],
            arc: self.arc[i],
            ridge_rate: self.ridge_rate,
            seed: self.seed,
            zoom: self.zoom,
        }
    }
}

/// What a skin does at spots.
#[derive(Debug, Clone)]
pub(crate) struct Touches {
    normal: Lanes3,
    grain: Lanes3,
    cavity: Lanes,
    tone: Lanes,
    hue: Lanes,
    shift: Lanes,
    facet: Lanes,
}

impl Touches {
    pub(crate) const fn new() -> Self {
        Self {
            normal: Lanes3::new(),
            grain: Lanes3::new(),
            cavity: [0.0; MANY],
            tone: [0.0; MANY],
            hue: [0.0; MANY],
            shift: [0.0; MANY],
            facet: [0.0; MANY],
        }
    }

    #[inline(always)]
    pub(crate) fn at(&self, i: usize) -> Touch {
        Touch {
            normal: self.normal.at(i),
            grain: self.grain.at(i),
            cavity: self.cavity[i],
            tone: self.tone[i],
            hue: self.hue[i],
            shift: self.shift[i],
            facet: self.facet[i],
        }
    }

    #[inline(always)]
    pub(super) fn set(&mut self, i: usize, touch: &Touch) {
        self.normal.set(i, touch.normal);
        self.grain.set(i, touch.grain);
        self.cavity[i] = touch.cavity;
        self.tone[i] = touch.tone;
        self.hue[i] = touch.hue;
        self.shift[i] = touch.shift;
        self.facet[i] = touch.facet;
    }
}
