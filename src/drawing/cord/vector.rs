//! Three numbers: a point, a direction or a colour in linear light.
//!
//! Single precision: a picture has some thousand pixels, not millions.

use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// Three numbers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Vec3 {
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) z: f32,
}

/// The three numbers, shortly.
pub(crate) const fn vec3(x: f32, y: f32, z: f32) -> Vec3 {
    Vec3 { x, y, z }
}

impl Vec3 {
    pub(crate) const ZERO: Self = vec3(0.0, 0.0, 0.0);

    pub(crate) const fn all(v: f32) -> Self {
        vec3(v, v, v)
    }

    #[inline(always)]
    pub(crate) fn dot(self, o: Self) -> f32 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    #[inline(always)]
    pub(crate) fn cross(self, o: Self) -> Self {
        vec3(
            self.y * o.z - self.z * o.y,
            self.z * o.x - self.x * o.z,
            self.x * o.y - self.y * o.x,
        )
    }

    #[inline(always)]
    pub(crate) fn length(self) -> f32 {
        self.dot(self).sqrt()
    }

    /// The direction; of nothing, nothing.
    #[inline(always)]
    pub(crate) fn unit(self) -> Self {
        self * (1.0 / self.length().max(1e-9))
    }

    /// The direction of what is nearly of length one: no root, no division.
    #[inline(always)]
    pub(crate) fn near_unit(self) -> Self {
        let q = self.dot(self);
        self * (1.875 - 1.25 * q + 0.375 * q * q)
    }

    /// The part square to the unit vector `axis`.
    #[inline(always)]
    pub(crate) fn square_to(self, axis: Self) -> Self {
        self - axis * self.dot(axis)
    }

    #[inline(always)]
    pub(crate) fn towards(self, o: Self, t: f32) -> Self {
        self + (o - self) * t
    }

    /// Number by number; for colours.
    #[inline(always)]
    pub(crate) fn times(self, o: Self) -> Self {
        vec3(self.x * o.x, self.y * o.y, self.z * o.z)
    }

    /// Number by number; for colours.
    #[inline(always)]
    pub(crate) fn map(self, f: impl Fn(f32) -> f32) -> Self {
        vec3(f(self.x), f(self.y), f(self.z))
    }

    /// Turned by the angle with this sine and cosine about z.
    #[inline(always)]
    pub(crate) fn turned(self, (sin, cos): (f32, f32)) -> Self {
        vec3(
            cos * self.x - sin * self.y,
            sin * self.x + cos * self.y,
            self.z,
        )
    }

    /// Some unit vector square to this unit vector.
    pub(crate) fn any_square(self) -> Self {
        let other = if self.z.abs() < 0.9 {
            vec3(0.0, 0.0, 1.0)
        } else {
            vec3(1.0, 0.0, 0.0)
        };
        other.square_to(self).unit()
    }
}

impl Add for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn add(self, o: Self) -> Self {
        vec3(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl AddAssign for Vec3 {
    #[inline(always)]
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}

impl Sub for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn sub(self, o: Self) -> Self {
        vec3(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Mul<f32> for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn mul(self, k: f32) -> Self {
        vec3(self.x * k, self.y * k, self.z * k)
    }
}

impl Neg for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self * -1.0
    }
}

/// 0 below `a`, 1 above `b`, smooth between; `a > b` turns it round.
#[inline(always)]
pub(crate) fn smooth_step(a: f32, b: f32, x: f32) -> f32 {
    let t = ((x - a) / (b - a)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Whole part and rest of a number of less than four million: the bits of a
/// sum whose last place is one, since the plain way is a call into a library.
#[inline(always)]
pub(crate) fn split(x: f32) -> (i32, f32) {
    const LAST_PLACE_ONE: f32 = 12_582_912.0;
    let rounded = (x - 0.5) + LAST_PLACE_ONE;
    let whole = (rounded.to_bits() as i32).wrapping_sub(LAST_PLACE_ONE.to_bits() as i32);
    (whole, x - (rounded - LAST_PLACE_ONE))
}

/// Sine to 0.001, of moderate angles.
#[inline(always)]
pub(crate) fn sine(x: f32) -> f32 {
    let turns = x * (0.5 * std::f32::consts::FRAC_1_PI);
    let (_, part) = split(turns + 0.5);
    // Two parabolas and their square, a textbook fit.
    let t = 2.0 * part - 1.0;
    let y = 4.0 * t * (1.0 - t.abs());
    y * (0.775 + 0.225 * y.abs())
}

/// Angle of the point (x, y) to 0.0004 rad, without the system's library, so
/// that pictures agree from machine to machine.
#[inline(always)]
pub(crate) fn angle(y: f32, x: f32) -> f32 {
    use std::f32::consts::{FRAC_PI_2, PI};
    let (ax, ay) = (x.abs(), y.abs());
    let a = ax.min(ay) / ax.max(ay).max(1e-12);
    let s = a * a;
    // Minimax polynomial of the arc tangent on 0..1, from memory.
    let mut r = ((-0.046_496_475 * s + 0.159_314_22) * s - 0.327_622_76) * s * a + a;
    if ay > ax {
        r = FRAC_PI_2 - r;
    }
    if x < 0.0 {
        r = PI - r;
    }
    if y < 0.0 { -r } else { r }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quick_angle_agrees_with_the_exact_one() {
        for i in 0..720 {
            let a = (i as f32 - 359.5) / 360.0 * std::f32::consts::PI;
            let quick = angle(a.sin(), a.cos());
            assert!((quick - a).abs() < 5e-4, "{a}: {quick}");
        }
    }

    #[test]
    fn a_number_splits_into_a_whole_and_a_rest() {
        for i in -40..40 {
            let x = i as f32 * 0.37;
            let (whole, rest) = split(x);
            assert!((whole as f32 + rest - x).abs() < 1e-5);
            assert!((0.0..=1.0).contains(&rest), "{x}: {rest}");
        }
        let _ = (split(f32::NAN), split(f32::INFINITY), split(-1e30));
    }

    #[test]
    fn the_quick_sine_agrees_with_the_exact_one() {
        for i in -100..100 {
            let x = i as f32 * 0.173;
            assert!((sine(x) - x.sin()).abs() < 2e-3, "{x}");
        }
    }

    #[test]
    fn a_nearly_unit_vector_becomes_one() {
        let v = vec3(0.6, 0.0, 0.8) * 1.1;
        assert!((v.near_unit().length() - 1.0).abs() < 0.01);
    }

    #[test]
    fn what_is_square_to_an_axis_has_no_part_along_it() {
        let axis = vec3(1.0, 2.0, -0.5).unit();
        assert!(vec3(3.0, -1.0, 2.0).square_to(axis).dot(axis).abs() < 1e-5);
        assert!(axis.any_square().dot(axis).abs() < 1e-6);
    }
}
