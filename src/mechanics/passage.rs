//! How far a step may go without a strand passing through another.
//!
//! Two steps of two strands cannot meet before their ends together have moved as far
//! as lies between them. The least such way over all listed pairs bounds the
//! step, and so the crossings of different strands are kept, proved. Images
//! are seen from the node's own frame, which is lifted and turned along, so that
//! only the difference of levels counts.
//!
//! Pairs that are not listed lie farther apart than the step can bridge, which is
//! bounded for that too. Along its own short arc a strand may slip through
//! itself: a kink pulled out ties and unties nothing, unless a much thinner strand
//! lies in it; whoever shows a shape compares its crossings.

use super::energy::Energy;
use super::layout::{ACROSS, LIFT, SQUEEZE, TURN};
use super::pairs::square_distance;
use super::segments::{dot, nearest_ways, norm};

/// Longest move of a node in one step, strand diameters (tried).
const LONGEST_MOVE: f64 = 0.25;

/// Two nodes so near each other should not be moved much differently, strand diameters.
const BESIDE: f64 = 3.0;

/// Share of the free way that is used.
const SAFE_SHARE: f64 = 0.9;

/// Two steps never come nearer than this, strand diameters.
const NEAREST: f64 = 1e-6;

/// How fast everything moves along a step.
#[derive(Debug)]
struct Speeds {
    /// Each node in its own frame, the faster end of the step that begins there.
    steps: Vec<f64>,
    /// Length of the step that begins at each node.
    lengths: Vec<f64>,
    /// Most move for each cell between two nodes, up or across.
    cell: f64,
    /// Turn for each such cell.
    turn: f64,
    fastest: f64,
    squeeze: f64,
    /// The same of all steps.
    quickest: f64,
    longest: f64,
}

impl Speeds {
    fn of(energy: &Energy, step: &[f64]) -> Self {
        let layout = &energy.layout;
        let count = layout.count();
        let nodes: Vec<f64> = step[..3 * count]
            .chunks_exact(3)
            .map(|d| (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt())
            .collect();
        let own = &energy.images.points[..count];
        let out = own.iter().fold(0.0_f64, |far, p| far.max(p[0].hypot(p[1])));
        let whole = |which: usize| step[layout.place(which)].abs();
        let (turn, across) = match layout.lattice {
            None => (whole(TURN), 0.0),
            Some(_) => (0.0, whole(ACROSS)),
        };
        let cell = whole(LIFT) + out * turn + across;
        let along = cell / layout.nodes as f64;
        let ends = nodes.iter().zip(&layout.next);
        let steps: Vec<f64> = ends
            .map(|(&speed, &next)| speed.max(nodes[energy.images.own(next)] + along))
            .collect();
        let lengths: Vec<f64> = (0..count).map(|node| energy.step(node)).collect();
        Self {
            quickest: most(&steps),
            longest: most(&lengths),
            fastest: most(&nodes),
            squeeze: step[layout.place(SQUEEZE)..]
                .iter()
                .fold(0.0, |most, u| most.max(u.abs())),
            steps,
            lengths,
            cell,
            turn,
        }
    }
}

fn most(of: &[f64]) -> f64 {
    of.iter().fold(0.0, |most, &x| most.max(x))
}

impl Speeds {
    /// What the rise and the turn of so many cells carry, for steps as fast as these.
    fn carried(&self, energy: &Energy, cells: f64, own: f64, other: f64) -> f64 {
        // What the turn between the two swings round.
        let onward = 1.0 / energy.layout.nodes as f64;
        let swung = (cells + onward) * other + onward * own;
        cells * self.cell + self.turn * swung
    }

    /// Beyond this no listed step meets the one that begins at `node`.
    fn farthest(&self, energy: &Energy, node: usize, share: f64) -> f64 {
        let (own, cells) = (self.steps[node], energy.pairs.cells());
        let speed = own + self.quickest + self.carried(energy, cells, own, self.quickest);
        self.lengths[node] + self.longest + share * speed / SAFE_SHARE
    }

    /// `share`, or less if the steps that begin at these two could meet.
    fn share(&self, energy: &Energy, step: &[f64], [node, image]: [usize; 2], share: f64) -> f64 {
        let images = &energy.images;
        let other = images.own(image);
        let cells = images.cells_between(node, image);
        let carried = self.carried(energy, cells, self.steps[node], self.steps[other]);
        let speed = self.steps[node] + self.steps[other] + carried;
        let ends = self.lengths[node] + self.lengths[other];
        let reach = ends + share * speed / SAFE_SHARE;
        if square_distance(&images.points[node], &images.points[image]) >= reach * reach {
            return share;
        }
        let meeting = Meeting::of(energy, node, image);
        share.min(meeting.free_share(energy, self, step, carried))
    }
}

/// The largest multiple of `step`, down from the place last looked at, that is
/// sure to keep all crossings, and is short enough for the list of pairs.
pub(super) fn free_share(energy: &Energy, step: &[f64]) -> f64 {
    let speeds = Speeds::of(energy, step);
    let mut share = longest(energy, &speeds).min(1.0);
    let points = &energy.images.points[..];
    for node in 0..energy.layout.count() {
        let far = speeds.farthest(energy, node, share).powi(2);
        let own = &points[node];
        for &image in energy.pairs.of(node) {
            let image = image as usize;
            if square_distance(own, &points[image]) < far {
                share = speeds.share(energy, step, [node, image], share);
            }
        }
    }
    share
}

/// No node may move so far that pairs beyond the list could meet, nor be
/// squeezed by more than a little.
fn longest(energy: &Energy, speeds: &Speeds) -> f64 {
    let own = &energy.images.points[..energy.layout.count()];
    let thinnest = own.iter().fold(f64::INFINITY, |least, p| least.min(p[3]));
    // Nodes farther apart are carried farther by a lift of the cell, but by no larger
    // share of what lies between them.
    let apart = 2.0 * thinnest + energy.pairs.slack();
    let carried = |way| energy.images.cells_within(&energy.layout, way) * speeds.cell;
    let unlisted = apart - 2.0 * speeds.longest;
    let together = 2.0 * speeds.fastest + carried(apart);
    let alone = speeds.fastest.max(speeds.squeeze) + carried(BESIDE).min(speeds.cell);
    f64::min(
        LONGEST_MOVE / alone.max(f64::MIN_POSITIVE),
        SAFE_SHARE * unlisted / together.max(f64::MIN_POSITIVE),
    )
}

/// Two steps of two strands, and the shortest way between them.
#[derive(Debug)]
struct Meeting {
    node: usize,
    image: usize,
    gap: [f64; 3],
}

impl Meeting {
    fn of(energy: &Energy, node: usize, image: usize) -> Self {
        let count = energy.layout.count();
        let points = &energy.images.points;
        let apart = |image: usize, node: usize| {
            let (p, q) = (points[node], points[image]);
            [q[0] - p[0], q[1] - p[1], q[2] - p[2]]
        };
        let onward = |node: usize| apart(energy.layout.next[node], node);
        let [x, y, z] = onward(energy.images.own(image));
        let [cos, sin] = energy.images.turned(image / count);
        let there = [cos * x - sin * y, sin * x + cos * y, z];
        let gap = nearest_ways(apart(image, node), onward(node), there).way;
        Self { node, image, gap }
    }

    /// While all ends of the one stay beyond all ends of the other, along the
    /// shortest way as it was, the two cannot meet.
    fn free_share(&self, energy: &Energy, speeds: &Speeds, step: &[f64], carried: f64) -> f64 {
        let way = norm(self.gap);
        let towards = |image: usize, sign: f64| {
            let move_of = |image: usize| sign * dot(self.gap, world(energy, step, image)) / way;
            move_of(image).max(move_of(energy.layout.onward(image)))
        };
        // Steps are taken downwards: a step up the gap brings the image nearer.
        let nearing = towards(self.image, 1.0) + towards(self.node, -1.0);
        let along = 2.0 * speeds.cell / energy.layout.nodes as f64;
        let speed = (nearing + carried + along).max(f64::MIN_POSITIVE);
        // Short of touching, so that rounding decides nothing.
        SAFE_SHARE * (way - NEAREST).max(0.0) / speed
    }
}

/// How an image is carried by `step` within its own frame.
fn world(energy: &Energy, step: &[f64], image: usize) -> [f64; 3] {
    let count = energy.layout.count();
    let (level, node) = (image / count, energy.images.own(image));
    let d = &step[3 * node..3 * node + 3];
    let [cos, sin] = energy.images.direction(level, node);
    [cos * d[0] - sin * d[1], sin * d[0] + cos * d[1], d[2]]
}

#[cfg(test)]
mod tests {
    use super::super::minimise::Landscape;
    use super::super::segments::nearest;
    use super::super::spiral::round_spiral;
    use super::*;

    /// A step that carries one strand straight across the cord is cut short
    /// before it meets the first of the others.
    #[test]
    fn a_step_through_the_other_strands_is_cut_short() {
        let (tubes, shape) = round_spiral(10);
        let mut energy = Energy::new(&tubes);
        let at = energy.unknowns(&shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        let mut step = vec![0.0; at.len()];
        for x in step[..30].iter_mut().step_by(3) {
            *x = 0.2;
        }
        let small = free_share(&energy, &step);
        step.iter_mut().for_each(|x| *x *= 100.0);
        let large = free_share(&energy, &step);
        assert!(small > 0.9 && large < 0.02, "{small} {large}");
    }

    /// The shortest way between every two steps that are listed, `share` of a step on.
    fn ways(energy: &Energy, at: &[f64], step: &[f64], share: f64) -> Vec<[f64; 3]> {
        let moved: Vec<f64> = at.iter().zip(step).map(|(x, d)| x - share * d).collect();
        let layout = &energy.layout;
        let mut images = energy.images.clone();
        images.place(layout, &moved, &vec![0.5; layout.count()]);
        let point = |i: usize| images.points[i];
        let way = |node: usize, image: usize| {
            let ends = [node, layout.onward(node), image, layout.onward(image)];
            let [a, b, c, d] = ends.map(point).map(|p| [p[0], p[1], p[2]]);
            nearest([a, b], [c, d]).way
        };
        (0..layout.count())
            .flat_map(|node| {
                energy
                    .pairs
                    .of(node)
                    .iter()
                    .map(move |&i| (node, i as usize))
            })
            .filter(|&(_, image)| layout.onward(image) < images.points.len())
            .map(|(node, image)| way(node, image))
            .collect()
    }

    /// Where two straight pieces pass through each other the shortest way between them
    /// turns about.
    #[test]
    fn a_strand_driven_on_and_on_against_the_others_never_comes_through_one() {
        let (tubes, shape) = round_spiral(7);
        let mut random = fastrand::Rng::with_seed(7);
        let mut cut = 0;
        for _ in 0..20 {
            let mut energy = Energy::new(&tubes);
            let mut at = energy.unknowns(&shape);
            energy.stiffen(&at, 8.0);
            let mut slope = vec![0.0; at.len()];
            // One strand is driven on and on through the rest, and all are thrown about.
            let driven = random.usize(0..8) * 21..;
            let towards = [0, 1, 2].map(|_| 4.0 * (random.f64() - 0.5));
            for _ in 0..30 {
                energy.height(&at, &mut slope);
                let mut step: Vec<f64> = slope.iter().map(|_| random.f64() - 0.5).collect();
                for (number, x) in step[driven.clone()][..21].iter_mut().enumerate() {
                    *x += towards[number % 3];
                }
                let share = free_share(&energy, &step);
                let mut ways = ways(&energy, &at, &step, 0.0);
                for part in 1..=20 {
                    let next = self::ways(&energy, &at, &step, share * f64::from(part) / 20.0);
                    for (before, after) in ways.iter().zip(&next) {
                        assert!(dot(*before, *after) > 0.0, "{before:?} {after:?} {share}");
                    }
                    ways = next;
                }
                cut += usize::from(share < 0.3);
                at.iter_mut().zip(&step).for_each(|(x, d)| *x -= share * d);
            }
        }
        assert!(cut > 100, "only {cut} steps were cut short");
    }
}
