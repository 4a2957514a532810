//! Steps of two strands that come far too near, between their nodes.
//!
//! Contacts act at the nodes. Where strands are pulled deep into one another, early
//! in a solve or with few nodes, two steps may cross between them unseen: nothing
//! would hold them, and they could only be stopped. Here steps nearer than a share of
//! the sum of radii push each other apart along the shortest way between them, as a
//! contact does, and with the same stiffness. At rest no steps are so near.

use super::contact::{Contact, Pressed};
use super::images::Images;
use super::layout::Layout;
use super::segments::nearest_ways;

/// Nearer than this share of the sum of radii steps push each other apart.
const NEAR: f64 = 0.25;

/// Two steps that are too near.
#[derive(Debug, Clone, Copy)]
pub(super) struct Breach {
    /// The images at their ends: of the first, then of the second.
    pub ends: [usize; 4],
    /// Part of each end in the way between the two, from the first to the second.
    pub parts: [f64; 4],
    /// Direction of that way.
    pub normal: [f64; 3],
    pub touch: Contact,
}

impl Breach {
    /// The steps that begin at a listed pair, if they are too near.
    pub(super) fn of(
        layout: &Layout,
        images: &Images,
        [node, image]: [usize; 2],
        spacings: [f64; 2],
        k: f64,
    ) -> Option<Self> {
        let points = &images.points;
        let (p, q) = (points[node], points[image]);
        let from = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
        let radii = p[3] + q[3];
        let square: f64 = from.iter().map(|x| x * x).sum();
        let reach = reach(radii, spacings[0] + spacings[1]);
        if square > reach * reach {
            return None;
        }
        let ends = [node, layout.onward(node), image, layout.onward(image)];
        if ends[3] >= points.len() {
            return None;
        }
        let step = |a: usize, b: usize| [0, 1, 2].map(|axis| points[b][axis] - points[a][axis]);
        let nearest = nearest_ways(from, step(ends[0], ends[1]), step(ends[2], ends[3]));
        let square: f64 = nearest.way.iter().map(|x| x * x).sum();
        if square >= (NEAR * radii).powi(2) || square == 0.0 {
            return None;
        }
        let mut touch = Contact::new(square, radii, spacings[0] * spacings[1], k);
        touch.overlap = NEAR * radii - touch.distance;
        let (s, t) = (nearest.own, nearest.other);
        Some(Self {
            ends,
            parts: [s - 1.0, -s, 1.0 - t, t],
            normal: nearest.way.map(|x| x / touch.distance),
            touch,
        })
    }

    /// Add the slopes; gives the energy.
    pub(super) fn press(
        &self,
        images: &mut Images,
        cycles: [usize; 2],
        sums: &mut [Pressed],
    ) -> f64 {
        let push = self.touch.push();
        for (end, part) in self.ends.into_iter().zip(self.parts) {
            for axis in 0..3 {
                images.slope[end][axis] -= push * part * self.normal[axis];
            }
        }
        let swell = self.touch.by_radii();
        images.slope[self.ends[0]][3] += swell;
        images.slope[self.ends[2]][3] += swell;
        for cycle in cycles {
            sums[cycle].energy += 0.5 * self.touch.energy();
        }
        self.touch.energy()
    }
}

/// Steps that begin farther apart are none too near.
pub(super) fn reach(radii: f64, spacings: f64) -> f64 {
    NEAR * radii + spacings
}

/// Press all steps that are too near, of the pairs that might be; gives the energy.
pub(super) fn press(
    layout: &Layout,
    pairs: &[[u32; 2]],
    images: &mut Images,
    cycle_of: &[u32],
    cycles: &mut [Pressed],
    k: f64,
) -> f64 {
    let mut energy = 0.0;
    for pair in pairs {
        let pair = pair.map(|image| image as usize);
        let those = pair.map(|image| cycle_of[images.own(image)] as usize);
        let spacings = those.map(|cycle| cycles[cycle].spacing);
        if let Some(breach) = Breach::of(layout, images, pair, spacings, k) {
            energy += breach.press(images, those, cycles);
        }
    }
    energy
}
