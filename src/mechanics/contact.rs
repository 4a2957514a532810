//! Tubes that press on one another, and on a band round all of them.
//!
//! Letters: `r` distance of two nodes, `R` sum of their radii, `l` distance of
//! neighbouring nodes in the cycle of a node, `k` stiffness. Lengths in
//! strand diameters.
//!
//! Two nodes nearer than `R` cost `½ w (R - r)²` with `w = 4 k lᵢ lⱼ / R²`. The
//! product of lengths makes the energy of a contact independent of how finely
//! the strands are cut; without it, doubling the nodes would quadruple the
//! push. Both `l` and `R` are unknowns of the solve: the derivative by `l` is
//! gathered for each cycle, the one by the radius of each image beside its slope.
//!
//! Radii belong to nodes, not to strands: a bead is a fat node.
//!
//! This module does not know which strand goes over which. Strong pulls can drag
//! a soft tube through another (tried); whoever calls compares the linking.

use super::fence;
use super::images::Images;
use super::pairs::Pairs;

/// What contacts add to the energy of one strand cycle, and need to know of it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Pressed {
    /// Distance of neighbouring nodes.
    pub spacing: f64,
    /// Half the energy of every contact of the cycle, once for each side.
    pub energy: f64,
}

/// Distance, push and stiffness of one contact.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact {
    pub distance: f64,
    pub stiffness: f64,
    pub overlap: f64,
    pub radii: f64,
}

impl Contact {
    /// The contact of two points whose squared distance is `square`, below `radii` squared.
    pub(super) fn new(square: f64, radii: f64, spacings: f64, k: f64) -> Self {
        let distance = square.sqrt();
        Self {
            distance,
            stiffness: 4.0 * k * spacings / (radii * radii),
            overlap: radii - distance,
            radii,
        }
    }

    pub(super) fn push(&self) -> f64 {
        self.stiffness * self.overlap
    }

    pub(super) fn energy(&self) -> f64 {
        0.5 * self.push() * self.overlap
    }

    /// Derivative of the energy by the sum of radii; `w` holds it too.
    pub(super) fn by_radii(&self) -> f64 {
        self.push() * self.distance / self.radii
    }

    /// Second derivative by distance and sum of radii.
    pub(super) fn by_distance_and_radii(&self) -> f64 {
        self.stiffness * (self.radii - 2.0 * self.distance) / self.radii
    }

    /// Second derivative by the sum of radii.
    pub(super) fn by_radii_twice(&self) -> f64 {
        let share = self.distance / self.radii;
        self.stiffness * share * (3.0 * share - 2.0)
    }
}

/// A node that presses on an image.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pressing {
    pub sides: [usize; 2],
    /// Own nodes of both.
    pub own: [usize; 2],
    pub touch: Contact,
    /// From the first to the second.
    pub normal: [f64; 3],
}

/// Press all listed pairs; gives the energy, and in `fenced` those pairs whose steps
/// might be too near (see `fence`). `cycle_of` is the cycle of each node of the cell.
pub(super) fn press(
    pairs: &Pairs,
    images: &mut Images,
    cycle_of: &[u32],
    cycles: &mut [Pressed],
    fenced: &mut Vec<[u32; 2]>,
    k: f64,
) -> f64 {
    let points = &images.points[..];
    let slope = &mut images.slope[..];
    let longest = longest_spacing(cycles);
    let mut energy = 0.0;
    fenced.clear();
    for node in 0..cycle_of.len() {
        let p = points[node];
        let own = cycle_of[node] as usize;
        let length = cycles[own].spacing;
        let mut pushed = [0.0; 4];
        for &image in pairs.of(node) {
            let image = image as usize;
            let q = points[image];
            let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
            let square = d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
            let radii = p[3] + q[3];
            let reach = fence::reach(radii, length + longest);
            if square < reach * reach {
                fenced.push([node as u32, image as u32]);
            }
            if square >= radii * radii {
                continue;
            }
            let other = cycle_of[images.own[image] as usize] as usize;
            let touch = Contact::new(square, radii, length * cycles[other].spacing, k);
            let cost = touch.energy();
            energy += cost;
            let swell = touch.by_radii();
            cycles[own].energy += 0.5 * cost;
            cycles[other].energy += 0.5 * cost;
            let force = touch.push() / touch.distance;
            let partner = &mut slope[image];
            for axis in 0..3 {
                pushed[axis] += force * d[axis];
                partner[axis] -= force * d[axis];
            }
            pushed[3] += swell;
            partner[3] += swell;
        }
        for axis in 0..4 {
            slope[node][axis] += pushed[axis];
        }
    }
    energy
}

/// Longest spacing of any cycle.
pub(super) fn longest_spacing(cycles: &[Pressed]) -> f64 {
    cycles
        .iter()
        .fold(0.0, |most, cycle| most.max(cycle.spacing))
}

/// Least distance of two listed nodes over the sum of their radii.
pub(super) fn least_gap(pairs: &Pairs, images: &Images, count: usize) -> f64 {
    let mut least = f64::INFINITY;
    for (node, p) in images.points[..count].iter().enumerate() {
        for &image in pairs.of(node) {
            let q = images.points[image as usize];
            let square: f64 = (0..3).map(|axis| (q[axis] - p[axis]).powi(2)).sum();
            least = least.min(square.sqrt() / (p[3] + q[3]));
        }
    }
    least
}

/// What a node outside the band costs: stiffness and overlap, if it presses.
pub(super) fn outside_band(point: &[f64; 4], band: f64, spacing: f64, k: f64) -> Option<Contact> {
    let distance = point[0].hypot(point[1]);
    let overlap = distance + point[3] - band;
    (overlap > 0.0 && distance > 0.0).then_some(Contact {
        distance,
        stiffness: 4.0 * k * spacing,
        overlap,
        radii: band,
    })
}

/// Press all nodes that stand out of a band of radius `band` about z. Gives
/// the energy and its derivative by that radius.
pub(super) fn press_band(
    images: &mut Images,
    cycle_of: &[u32],
    cycles: &mut [Pressed],
    band: f64,
    k: f64,
) -> (f64, f64) {
    let (mut energy, mut by_band) = (0.0, 0.0);
    for (node, &cycle) in cycle_of.iter().enumerate() {
        let p = images.points[node];
        let cycle = &mut cycles[cycle as usize];
        let Some(touch) = outside_band(&p, band, cycle.spacing, k) else {
            continue;
        };
        let push = touch.push();
        energy += touch.energy();
        by_band -= push;
        cycle.energy += 0.5 * touch.energy();
        images.slope[node][3] += push;
        for axis in 0..2 {
            images.slope[node][axis] += push * p[axis] / touch.distance;
        }
    }
    (energy, by_band)
}
