//! The ellipse that a level plane cuts out of an ellipsoid.
//!
//! Letters: `S` the ellipsoid about its middle, seen outwards from the middle of the cord,
//! round it and up; `z` the height of the plane over its middle.
//!
//! The plane cuts it at `1 - z²/S_zz` of the section through its middle,
//! `S_xy - S_xz S_xzᵀ / S_zz`, moved aside by `z S_xz / S_zz`.

use crate::mechanics::section::Tensor;

/// Where it lies, and its shape seen outwards from the middle of the cord.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ellipse {
    /// Of its middle from that of the cord.
    pub distance: f64,
    /// Angle of its middle, from that of the ellipsoid.
    pub aside: f64,
    outward: f64,
    mixed: f64,
    round: f64,
}

impl Ellipse {
    /// The cut through an ellipsoid whose middle is `distance` out, `z` over it.
    pub(super) fn cut(s: &Tensor, distance: f64, z: f64) -> Option<Self> {
        let [xx, yy, zz, xy, xz, yz] = *s;
        let part = 1.0 - z * z / zz;
        if part <= 0.0 {
            return None;
        }
        let (x, y) = (distance + z * xz / zz, z * yz / zz);
        let (a, b, c) = (xx - xz * xz / zz, xy - xz * yz / zz, yy - yz * yz / zz);
        let out = x.hypot(y).max(f64::MIN_POSITIVE);
        let (cos, sin) = (x / out, y / out);
        Some(Self {
            distance: out,
            aside: y.atan2(x),
            outward: part * (a * cos * cos + 2.0 * b * cos * sin + c * sin * sin),
            mixed: part * ((c - a) * cos * sin + b * (cos * cos - sin * sin)),
            round: part * (a * sin * sin - 2.0 * b * cos * sin + c * cos * cos),
        })
    }

    /// Half its width along a direction at an angle of this cosine and sine from outwards.
    pub(super) fn half_width(&self, cos: f64, sin: f64) -> f64 {
        let square =
            self.outward * cos * cos + 2.0 * self.mixed * cos * sin + self.round * sin * sin;
        square.max(0.0).sqrt()
    }

    /// Square of half its wider side.
    pub(super) fn long_square(&self) -> f64 {
        let mean = f64::midpoint(self.outward, self.round);
        mean + (0.5 * (self.outward - self.round)).hypot(self.mixed)
    }

    /// How far out its edge lies along a ray from the middle of the cord, if the ray meets
    /// it.
    pub(super) fn edge(&self, cos: f64, sin: f64) -> Option<f64> {
        let (a, b, c) = (self.outward, self.mixed, self.round);
        let whole = a * c - b * b;
        let steep = c * cos * cos - 2.0 * b * cos * sin + a * sin * sin;
        let near = (c * cos - b * sin) * self.distance;
        let rest = c * self.distance * self.distance - whole;
        let deep = near * near - steep * rest;
        (deep >= 0.0 && steep > 0.0).then(|| (near + deep.sqrt()) / steep)
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::mechanics::section::{Oval, axis_square};

    fn oval() -> Tensor {
        let length = axis_square(1.6).sqrt();
        Oval::new(0.5, [0.3, 0.5, 0.4].map(|x| x * length / 0.5_f64.sqrt())).tensor()
    }

    /// Points of the edge lie in the ellipsoid's skin: `xᵀ S⁻¹ x = 1`.
    #[test]
    fn the_edge_of_a_cut_lies_in_the_skin() {
        let tensor = oval();
        for z in [-0.4, 0.0, 0.3] {
            let ellipse = Ellipse::cut(&tensor, 0.9, z).unwrap();
            let mut met = 0;
            for step in 0..40 {
                let way = 2.0 * PI * f64::from(step) / 40.0;
                let Some(out) = ellipse.edge(way.cos(), way.sin()) else {
                    continue;
                };
                let (sin, cos) = (way + ellipse.aside).sin_cos();
                let x = [out * cos - 0.9, out * sin, z];
                let y = crate::mechanics::section::solved(&tensor, x);
                let skin: f64 = x.iter().zip(y).map(|(x, y)| x * y).sum();
                assert!((skin - 1.0).abs() < 1e-9, "{skin}");
                met += 1;
            }
            assert!((3..20).contains(&met), "{met}");
        }
    }

    #[test]
    fn no_edge_point_lies_beyond_half_the_width() {
        let ellipse = Ellipse::cut(&oval(), 0.1, 0.2).unwrap();
        let (sin, cos) = 0.7_f64.sin_cos();
        let reach = ellipse.distance * cos + ellipse.half_width(cos, sin);
        let along = |k: i32| {
            let way = 2.0 * PI * f64::from(k) / 4000.0;
            let out = ellipse.edge(way.cos(), way.sin()).unwrap();
            out * (way - 0.7).cos()
        };
        let most = (0..4000).map(along).fold(0.0, f64::max);
        assert!((most / reach - 1.0).abs() < 1e-5, "{most} {reach}");
        assert!(ellipse.long_square() >= ellipse.half_width(cos, sin).powi(2));
    }
}
