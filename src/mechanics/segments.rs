//! Straight pieces of polygons: how far apart they are.
//!
//! Knows points in space only, and nothing of tubes.

/// Square of the sine below which two ways count as parallel.
const PARALLEL: f64 = 1e-12;

/// Sine below which a way counts as along a plane.
const FLAT: f64 = 1e-14;

/// A point or a way.
pub(super) type Vector = [f64; 3];

pub(super) fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(super) fn norm(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

/// `a` at share 0, `b` at share 1.
pub(super) fn between(a: Vector, b: Vector, share: f64) -> Vector {
    std::array::from_fn(|axis| a[axis] + share * (b[axis] - a[axis]))
}

/// Where two segments come nearest to each other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nearest {
    /// Share of the way along the first.
    pub own: f64,
    /// Share of the way along the other.
    pub other: f64,
    /// From the first to the other.
    pub way: Vector,
}

/// The nearest points of segment `a` and segment `b`, each given by its ends.
pub(super) fn nearest(a: [Vector; 2], b: [Vector; 2]) -> Nearest {
    nearest_ways(minus(b[0], a[0]), minus(a[1], a[0]), minus(b[1], b[0]))
}

/// The nearest points of the segment from nothing to `u` and the one on from `from`
/// by `v`.
pub(super) fn nearest_ways(from: Vector, u: Vector, v: Vector) -> Nearest {
    let (uu, vv, uv) = (dot(u, u), dot(v, v), dot(u, v));
    let (fu, fv) = (dot(from, u), dot(from, v));
    let slant = uu * vv - uv * uv;
    let mut own = if slant > PARALLEL * uu * vv {
        ((fu * vv - fv * uv) / slant).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let mut other = (own * uv - fv) / vv.max(f64::MIN_POSITIVE);
    if !(0.0..=1.0).contains(&other) {
        other = other.clamp(0.0, 1.0);
        own = ((fu + other * uv) / uu.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    }
    let way = std::array::from_fn(|axis| from[axis] + other * v[axis] - own * u[axis]);
    Nearest { own, other, way }
}

/// Whether segment `s` goes through the triangle, edges included.
pub(super) fn pierces(s: [Vector; 2], triangle: [Vector; 3]) -> bool {
    let (u, v) = (
        minus(triangle[1], triangle[0]),
        minus(triangle[2], triangle[0]),
    );
    let (way, from) = (minus(s[1], s[0]), minus(s[0], triangle[0]));
    let upright = cross(u, v);
    let slant = dot(upright, way);
    if slant.abs() <= FLAT * norm(upright) * norm(way) {
        return false;
    }
    let share = -dot(upright, from) / slant;
    let hit = between(from, minus(s[1], triangle[0]), share);
    let square = dot(upright, upright);
    let (p, q) = (
        dot(cross(hit, v), upright) / square,
        dot(cross(u, hit), upright) / square,
    );
    (0.0..=1.0).contains(&share) && p >= 0.0 && q >= 0.0 && p + q <= 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vector(dice: &mut fastrand::Rng) -> Vector {
        std::array::from_fn(|_| 2.0 * dice.f64() - 1.0)
    }

    #[test]
    fn nearest_points_are_nearer_than_any_others() {
        let mut dice = fastrand::Rng::with_seed(3);
        for _ in 0..100 {
            let [a, b, c, d] = std::array::from_fn(|_| vector(&mut dice));
            let found = norm(nearest([a, b], [c, d]).way);
            let mut least = f64::INFINITY;
            for i in 0..=60 {
                for j in 0..=60 {
                    let p = between(a, b, f64::from(i) / 60.0);
                    least = least.min(norm(minus(between(c, d, f64::from(j) / 60.0), p)));
                }
            }
            assert!(
                found <= least + 1e-12 && found > least - 0.05,
                "{found} {least}"
            );
        }
    }

    #[test]
    fn a_segment_pierces_a_triangle_where_its_point_in_the_plane_is_inside() {
        let mut dice = fastrand::Rng::with_seed(4);
        let mut hits = 0;
        for _ in 0..300 {
            let [a, b, c, from] = std::array::from_fn(|_| vector(&mut dice));
            let (p, q) = (1.4 * dice.f64() - 0.2, 1.4 * dice.f64() - 0.2);
            let in_plane: Vector =
                std::array::from_fn(|k| a[k] + p * (b[k] - a[k]) + q * (c[k] - a[k]));
            let beyond = between(from, in_plane, 1.5);
            let inside = p > 0.0 && q > 0.0 && p + q < 1.0;
            hits += usize::from(inside);
            assert_eq!(pierces([from, beyond], [a, b, c]), inside);
            let short = between(from, in_plane, 0.9);
            assert!(!pierces([from, short], [a, b, c]));
        }
        assert!(hits > 50, "{hits}");
    }
}
