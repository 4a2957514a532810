//! A strand as a closed body: rings of corners joined by triangles, flat at both ends.
//!
//! Corners of a ring lie on the section at equal shares of the turn from a direction that
//! turns as little about the strand as can be, whatever way a flat section lies: a body
//! whose rings are turned against one another would be thinner between them. Seen from
//! outside the corners of every triangle go anticlockwise.
//!
//! # Source
//!
//! Wang, Jüttler, Zheng and Liu, Computation of rotation minimizing frames, ACM
//! Transactions on Graphics 27 (2008): the double reflection.

use super::Finish;
use crate::drawing::cord::Station;

/// A closed tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// How it looks and what it is called.
    pub finish: Finish,
    /// Corners, mm: ring after ring, then the middles of the lower and upper end.
    pub points: Vec<[f32; 3]>,
    /// Unit, away from the strand, for every corner of the rings; then the directions of
    /// the lower and the upper end.
    pub normals: Vec<[f32; 3]>,
    /// Triangles of the mantle.
    pub mantle: Vec<[u32; 3]>,
    /// Triangles of the lower and of the upper end.
    pub ends: [Vec<[u32; 3]>; 2],
}

/// Narrower than this share of its width a body would break; ribbons stay above.
const THINNEST: f64 = 10.0;

impl Tube {
    /// The tube along these stations; none of fewer than two.
    pub(super) fn along(course: &[Station], sides: usize, finish: Finish) -> Option<Self> {
        let (first, last) = (course.first()?, course.last()?);
        if course.len() < 2 {
            return None;
        }
        let mut tube = Self {
            finish,
            points: Vec::with_capacity(course.len() * sides + 2),
            normals: Vec::with_capacity(course.len() * sides + 2),
            mantle: Vec::with_capacity(2 * (course.len() - 1) * sides),
            ends: [Vec::new(), Vec::new()],
        };
        let mut across = square_to(first.along);
        for (i, station) in course.iter().enumerate() {
            if i > 0 {
                across = carried(across, &course[i - 1], station);
            }
            tube.add_ring(station, across, sides);
        }
        tube.points.push(single(first.centre));
        tube.points.push(single(last.centre));
        tube.normals.push(single(first.along.map(|v| -v)));
        tube.normals.push(single(last.along));
        tube.join(course.len(), sides);
        Some(tube)
    }

    fn add_ring(&mut self, station: &Station, across: [f64; 3], sides: usize) {
        let left = cross(station.along, across);
        let side = cross(station.along, station.narrow);
        let wider = station.wider.clamp(1.0, THINNEST);
        for corner in 0..sides {
            let (sin, cos) = (std::f64::consts::TAU * corner as f64 / sides as f64).sin_cos();
            let round = sum(across, cos, left, sin);
            let (out, aside) = (dot(round, station.narrow), dot(round, side));
            let r = station.radius;
            let on = sum(station.narrow, r * out / wider, side, r * aside * wider);
            let away = sum(station.narrow, out * wider, side, aside / wider);
            self.points.push(single(sum(station.centre, 1.0, on, 1.0)));
            self.normals.push(single(unit(away)));
        }
    }

    fn join(&mut self, rings: usize, sides: usize) {
        let at = |ring: usize, corner: usize| (ring * sides + corner % sides) as u32;
        for ring in 0..rings - 1 {
            for corner in 0..sides {
                let (a, b) = (at(ring, corner), at(ring, corner + 1));
                let (d, c) = (at(ring + 1, corner), at(ring + 1, corner + 1));
                self.mantle.push([a, b, c]);
                self.mantle.push([a, c, d]);
            }
        }
        let middle = (rings * sides) as u32;
        let lower = |corner| [middle, at(0, corner + 1), at(0, corner)];
        let upper = |corner| [middle + 1, at(rings - 1, corner), at(rings - 1, corner + 1)];
        self.ends = [
            (0..sides).map(lower).collect(),
            (0..sides).map(upper).collect(),
        ];
    }

    /// All its triangles: the mantle, then the ends.
    pub fn triangles(&self) -> impl Iterator<Item = [u32; 3]> + '_ {
        let [lower, upper] = &self.ends;
        self.mantle.iter().chain(lower).chain(upper).copied()
    }

    /// The corners of a triangle, mm.
    pub(super) fn corners(&self, triangle: [u32; 3]) -> [[f32; 3]; 3] {
        triangle.map(|at| self.points[at as usize])
    }

    /// What it holds, mm³; below nought if it faced inwards.
    ///
    /// # Source
    ///
    /// The divergence theorem: each triangle and the origin span a sixth of their
    /// determinant.
    pub fn volume_mm3(&self) -> f64 {
        let sixfold = |triangle: [u32; 3]| {
            let [a, b, c] = self.corners(triangle).map(|p| p.map(f64::from));
            dot(a, cross(b, c))
        };
        self.triangles().map(sixfold).sum::<f64>() / 6.0
    }

    /// Edges that do not lie between exactly two triangles that go along them both ways.
    pub fn open_edges(&self) -> usize {
        let mut edges: Vec<(u32, u32)> = self
            .triangles()
            .flat_map(|[a, b, c]| [(a, b), (b, c), (c, a)])
            .collect();
        edges.sort_unstable();
        let twice = edges.windows(2).filter(|pair| pair[0] == pair[1]).count();
        let unmet = edges
            .iter()
            .filter(|(a, b)| edges.binary_search(&(*b, *a)).is_err());
        twice + unmet.count()
    }
}

/// A unit direction square to this one.
fn square_to(along: [f64; 3]) -> [f64; 3] {
    let least = (0..3).min_by(|a, b| along[*a].abs().total_cmp(&along[*b].abs()));
    let mut other = [0.0; 3];
    other[least.unwrap_or(0)] = 1.0;
    unit(sum(other, 1.0, along, -dot(other, along)))
}

/// A direction square to the strand carried on to the next station.
fn carried(across: [f64; 3], from: &Station, to: &Station) -> [f64; 3] {
    let mirrored = |v: [f64; 3], way: [f64; 3]| {
        let square = dot(way, way);
        if square < 1e-18 {
            return v;
        }
        sum(v, 1.0, way, -2.0 * dot(v, way) / square)
    };
    let step = sum(to.centre, 1.0, from.centre, -1.0);
    let (along, across) = (mirrored(from.along, step), mirrored(across, step));
    let turned = mirrored(across, sum(to.along, 1.0, along, -1.0));
    // Rounding must not add up over many stations.
    unit(sum(turned, 1.0, to.along, -dot(turned, to.along)))
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let length = dot(v, v).sqrt().max(1e-12);
    v.map(|x| x / length)
}

fn single(p: [f64; 3]) -> [f32; 3] {
    p.map(|v| v as f32)
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// `p` of `a` and `q` of `b`.
fn sum(a: [f64; 3], p: f64, b: [f64; 3], q: f64) -> [f64; 3] {
    [0, 1, 2].map(|k| a[k] * p + b[k] * q)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn station(x: f64) -> Station {
        Station {
            centre: [x, 0.0, 0.0],
            along: [1.0, 0.0, 0.0],
            narrow: [0.0, 1.0, 0.0],
            wider: 1.0,
            radius: 1.0,
        }
    }

    #[test]
    fn a_tube_has_as_many_corners_and_triangles_as_its_rings_ask_for() {
        let course = [station(0.0), station(1.0), station(2.5)];
        let tube = Tube::along(&course, 12, Finish::plain()).unwrap();
        assert_eq!(tube.points.len(), 3 * 12 + 2);
        assert_eq!(tube.normals.len(), 3 * 12 + 2);
        assert_eq!(tube.triangles().count(), 2 * 2 * 12 + 2 * 12);
        assert_eq!(tube.open_edges(), 0);
        assert!(Tube::along(&course[..1], 12, Finish::plain()).is_none());
    }

    /// Along a helix of radius 1 that rises by 1 a radian the strand turns by `1/√2` of it.
    #[test]
    fn rings_turn_as_little_as_a_helix_asks_for() {
        let at = |t: f64| Station {
            centre: [t, t.cos(), t.sin()],
            along: unit([1.0, -t.sin(), t.cos()]),
            ..station(0.0)
        };
        // Against the direction away from the helix's axis.
        let angle = |across: [f64; 3], t: f64| {
            let away = [0.0, t.cos(), t.sin()];
            dot(across, cross(at(t).along, away)).atan2(dot(across, away))
        };
        let first = square_to(at(0.0).along);
        let steps = (0..100).map(|i| 0.1 * f64::from(i));
        let last = steps.fold(first, |across, t| carried(across, &at(t), &at(t + 0.1)));
        let turned = angle(last, 10.0) - angle(first, 0.0) + 10.0 / 2.0_f64.sqrt();
        let off = (turned / std::f64::consts::TAU).round() * std::f64::consts::TAU - turned;
        assert!(off.abs() < 0.01, "{off}");
    }

    #[test]
    fn a_missing_and_a_turned_triangle_are_counted_as_open() {
        let course = [station(0.0), station(1.0)];
        let mut tube = Tube::along(&course, 6, Finish::plain()).unwrap();
        tube.mantle.pop();
        assert_eq!(tube.open_edges(), 3);
        let mut tube = Tube::along(&course, 6, Finish::plain()).unwrap();
        tube.mantle[0].swap(0, 1);
        assert!(tube.open_edges() > 0);
    }

    #[test]
    fn normals_point_away_from_the_strand_and_stand_on_the_surface() {
        let flat = |x| Station {
            wider: 2.0,
            ..station(x)
        };
        let tube = Tube::along(&[flat(0.0), flat(3.0)], 24, Finish::plain()).unwrap();
        for corner in 0..24 {
            let (p, n) = (tube.points[corner], tube.normals[corner]);
            let next = tube.points[(corner + 1) % 24];
            let before = tube.points[(corner + 23) % 24];
            let along = [0, 1, 2].map(|k| f64::from(next[k] - before[k]));
            let n = n.map(f64::from);
            assert!(dot(n, along).abs() < 0.02, "{n:?} {along:?}");
            assert!(dot(n, p.map(f64::from)) > 0.0);
            assert!((dot(n, n) - 1.0).abs() < 1e-6);
        }
    }
}
