//! Who is near whom.
//!
//! For every node of the cell, the images that may press on it: those nearer
//! than the sum of radii and a *skin*, wide enough for strands
//! thinner than their spacing too. The list stays good until nodes have
//! moved half the skin. Images are sought at the own level and above; a
//! partner below is the same pair seen from the other side.
//!
//! Nodes of one strand within a short arc of each other never touch: the tube
//! bends, it does not press on itself there.

use super::images::Images;
use super::layout::{Layout, MOST_LEVELS};
use super::tubes::Ends;

/// How much farther than touching partners are listed, strand diameters.
///
/// Tried 0.05 to 0.3: a thin skin makes shorter lists but too many of them.
const SKIN: f64 = 0.3;

/// The same for the wide list, from which the near one is drawn at a tenth of the
/// cost of a search (tried: 0.9 takes half as many searches again).
const WIDE: f64 = 1.2;

/// Free way between steps of two strands that is left where nodes are not listed,
/// and how much longer steps may grow before the list is made anew.
const LEAST_WAY: f64 = 0.1;
/// See [`LEAST_WAY`].
const LONGER: f64 = 1.2;

/// Arc within which a strand does not touch itself, over the sum of radii.
///
/// A strand bent round as tightly as it goes comes back to itself after half a
/// circle of its own diameter, pi/2. Longer exclusions miss real contacts (tried: 2).
pub(super) const OWN_ARC: f64 = 1.6;

/// Height of a storey, over the longest reach.
const STOREY: f64 = 0.15;

/// Most columns from the axis outwards, and storeys on top of one another.
const MOST_HALF_ACROSS: f64 = 64.0;
const MOST_STOREYS: f64 = 1024.0;

/// Where everything stood when a list was made.
#[derive(Debug, Clone, Default)]
struct Standing {
    /// Each node in its own frame.
    points: Vec<[f64; 4]>,
    lift: f64,
    turn: f64,
    across: f64,
    /// Largest distance of a node from z.
    out: f64,
    /// Most cells between two nodes that could soon be near each other.
    cells: f64,
}

impl Standing {
    /// `reach` is how far two nodes that are not listed are apart at most, if they
    /// matter: those farther apart come nearer by no larger share of it.
    fn note(&mut self, layout: &Layout, images: &Images, reach: f64) {
        let count = layout.count();
        self.points.clear();
        let nodes = (0..count).map(|node| images.in_own_frame(layout, node));
        self.points.extend(nodes);
        self.lift = images.lift;
        self.turn = images.turn;
        self.across = images.across;
        let own = &images.points[..count];
        self.out = own.iter().fold(0.0, |out, p| p[0].hypot(p[1]).max(out));
        self.cells = images.cells_within(layout, reach);
    }

    /// How much nearer any two surfaces may have come since.
    fn moved(&self, layout: &Layout, images: &Images) -> f64 {
        if self.points.is_empty() {
            return f64::INFINITY;
        }
        let shear = (images.lift - self.lift).abs()
            + self.out * (images.turn - self.turn).abs()
            + (images.across - self.across).abs();
        let (mut farthest, mut growth) = (0.0_f64, 0.0_f64);
        for (node, then) in self.points.iter().enumerate() {
            let now = images.in_own_frame(layout, node);
            farthest = farthest.max(square_distance(&now, then));
            growth = growth.max(now[3] - then[3]);
        }
        2.0 * (farthest.sqrt() + growth) + self.cells * shear
    }
}

/// One list: the images near each node.
#[derive(Debug, Clone, Default)]
struct List {
    first: Vec<u32>,
    partners: Vec<u32>,
    stood: Standing,
}

impl List {
    fn of(&self, node: usize) -> &[u32] {
        &self.partners[self.first[node] as usize..self.first[node + 1] as usize]
    }

    fn begin(&mut self) {
        self.first.clear();
        self.partners.clear();
        self.first.push(0);
    }

    fn close_node(&mut self) {
        self.first.push(self.partners.len() as u32);
    }
}

/// Who may press on whom: a near list, drawn from a wide one that holds longer.
#[derive(Debug, Clone, Default)]
pub(super) struct Pairs {
    near: List,
    wide: List,
    slack: f64,
    /// Longest step that the slack allows for.
    longest: f64,
}

impl Pairs {
    /// Images listed with `node`.
    pub(super) fn of(&self, node: usize) -> &[u32] {
        self.near.of(node)
    }

    /// How many pairs are listed.
    pub(super) fn len(&self) -> usize {
        self.near.partners.len()
    }

    /// Least distance of two unlisted nodes, less the sum of their radii.
    pub(super) fn slack(&self) -> f64 {
        self.slack
    }

    /// Most cells between two listed nodes.
    pub(super) fn cells(&self) -> f64 {
        self.near.stood.cells
    }

    /// Forget the lists; the next look makes new ones.
    pub(super) fn forget(&mut self) {
        self.near.stood.points.clear();
        self.wide.stood.points.clear();
    }

    /// Whether no unlisted pair can touch yet. `longest` is the longest step now.
    pub(super) fn hold(&self, layout: &Layout, images: &Images, longest: f64) -> bool {
        longest <= self.longest && self.near.stood.moved(layout, images) < SKIN
    }

    /// Draw the near list from the wide one, if that still serves.
    pub(super) fn narrow(&mut self, layout: &Layout, images: &Images, longest: f64) -> bool {
        let serves = longest <= self.longest && self.wide.stood.moved(layout, images) < WIDE - SKIN;
        if serves {
            let (near, wide) = (&mut self.near, &self.wide);
            near.begin();
            for (node, point) in images.points[..layout.count()].iter().enumerate() {
                for &image in wide.of(node) {
                    let other = &images.points[image as usize];
                    let reach = point[3] + other[3] + self.slack + SKIN;
                    if square_distance(point, other) < reach * reach {
                        near.partners.push(image);
                    }
                }
                near.close_node();
            }
            let reach = longest_reach(&images.points[..layout.count()]) + self.slack + SKIN;
            near.stood.note(layout, images, reach);
        }
        serves
    }

    /// Make the wide list anew. `spacing` is the distance of neighbouring nodes in
    /// each cycle, by which arcs are counted; `longest` the longest step. The images must already show as
    /// many levels as [`levels_in_reach`] says.
    pub(super) fn renew(
        &mut self,
        layout: &Layout,
        images: &Images,
        spacing: &[f64],
        longest: f64,
    ) {
        let own = &images.points[..layout.count()];
        self.slack = slack(own, longest) + layout.reach_beyond;
        self.longest = LONGER * longest;
        let skin = self.slack + WIDE;
        let levels = searched_levels(layout, images);
        let bins = Bins::of(layout, images, levels, skin);
        let mut pieces = vec![false; (levels + 1) * layout.strands];
        let wide = &mut self.wide;
        wide.begin();
        for (strand, nodes) in own.chunks_exact(layout.nodes).enumerate() {
            layout.mark_pieces(strand, &mut pieces);
            let arc = OWN_ARC / spacing[layout.cycle_of[strand]];
            for (within, point) in nodes.iter().enumerate() {
                let node = strand * layout.nodes + within;
                bins.near(point, |seen| {
                    let (image, radii) = (seen.image as usize, point[3] + seen.point[3]);
                    let reach = radii + skin;
                    let may_press = image >= node
                        && square_distance(point, &seen.point) < reach * reach
                        && is_listed(layout, node, image)
                        && !(pieces[seen.piece as usize]
                            && is_own_arc(layout, node, image, arc * radii));
                    if may_press {
                        wide.partners.push(seen.image);
                    }
                });
                wide.close_node();
            }
        }
        wide.stood.note(layout, images, longest_reach(own) + skin);
    }
}

/// Levels above the own cell that can reach down into it.
pub(super) fn levels_in_reach(layout: &Layout, images: &Images, longest: f64) -> usize {
    match layout.ends {
        Ends::Closed { cells } => (cells / 2).max(1),
        Ends::Screw { .. } => {
            let levels = reach_of_cell(layout, images, longest, 2) / images.lift.max(1e-3);
            (levels.ceil() as usize).clamp(1, MOST_LEVELS)
        }
        Ends::Lattice { .. } => {
            let up = reach_of_cell(layout, images, longest, 2) / images.lift.max(1e-3);
            let across = reach_of_cell(layout, images, longest, 1) / images.across.max(1e-3);
            layout.levels_within(up.max(across).ceil() as usize)
        }
    }
}

/// How far from the foot of the own cell a cell may begin and still reach into it.
fn reach_of_cell(layout: &Layout, images: &Images, longest: f64, axis: usize) -> f64 {
    let own = &images.points[..layout.count()];
    let (low, high) = extent(own, axis);
    high - low + longest_reach(own) + slack(own, longest) + layout.reach_beyond + WIDE
}

fn searched_levels(layout: &Layout, images: &Images) -> usize {
    match layout.ends {
        Ends::Closed { cells } => cells / 2,
        Ends::Screw { .. } | Ends::Lattice { .. } => images.levels(),
    }
}

/// Halfway round a closed row of cells a pair is met from both sides: count it
/// once.
fn is_listed(layout: &Layout, node: usize, image: usize) -> bool {
    let (level, other) = (image / layout.count(), image % layout.count());
    match layout.ends {
        Ends::Closed { cells } if level > 0 && 2 * level == cells => other >= node,
        _ => image != node,
    }
}

fn is_own_arc(layout: &Layout, node: usize, image: usize, arc: f64) -> bool {
    let (level, other) = (image / layout.count(), image % layout.count());
    layout
        .nodes_between(node, other, level)
        .is_some_and(|between| (between as f64) < arc)
}

pub(super) fn square_distance(a: &[f64; 4], b: &[f64; 4]) -> f64 {
    (a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2) + (a[2] - b[2]).powi(2)
}

fn extent(points: &[[f64; 4]], axis: usize) -> (f64, f64) {
    points
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (low.min(p[axis]), high.max(p[axis]))
        })
}

fn longest_reach(points: &[[f64; 4]]) -> f64 {
    2.0 * points.iter().fold(0.0_f64, |most, p| most.max(p[3]))
}

/// Steps of thin strands are longer than the strands are thick: nodes that are
/// not listed must be farther apart than the two steps that begin there.
fn slack(points: &[[f64; 4]], longest: f64) -> f64 {
    let thinnest = points
        .iter()
        .fold(f64::INFINITY, |least, p| least.min(p[3]));
    (LEAST_WAY + 2.0 * LONGER * longest - 2.0 * thinnest).max(0.0)
}

/// An image, and the piece of a strand it belongs to, counted level by level.
#[derive(Debug, Clone, Copy, Default)]
struct Seen {
    image: u32,
    piece: u32,
    point: [f64; 4],
}

/// Images sorted into upright columns, half the longest reach wide, and in each by storeys.
#[derive(Debug)]
struct Bins {
    width: f64,
    storey: f64,
    half_width: f64,
    floor: f64,
    /// What is added to the radius of a node to give its reach.
    beyond: f64,
    across: usize,
    storeys: usize,
    first: Vec<u32>,
    images: Vec<Seen>,
}

impl Bins {
    fn of(layout: &Layout, images: &Images, levels: usize, skin: f64) -> Self {
        let own = &images.points[..layout.count()];
        let (low, high) = extent(own, 2);
        let reach = longest_reach(own) + skin;
        let half_width = own
            .iter()
            .fold(0.0_f64, |most, p| most.max(p[0].hypot(p[1])))
            + 1e-6;
        // Far scattered nodes get wider columns, so that they stay few.
        let width = (0.5 * reach).max(half_width / MOST_HALF_ACROSS);
        let storey = (STOREY * reach).max((high - low) / MOST_STOREYS);
        let mut bins = Self {
            width,
            storey,
            half_width,
            floor: low - reach,
            beyond: 0.5 * longest_reach(own) + skin,
            across: (2.0 * half_width / width) as usize + 1,
            storeys: ((high - low + 2.0 * reach) / storey) as usize + 1,
            first: Vec::new(),
            images: Vec::new(),
        };
        let shown = &images.points[..(levels + 1) * layout.count()];
        bins.fill(shown, layout.nodes, high + reach);
        bins
    }

    fn fill(&mut self, shown: &[[f64; 4]], nodes: usize, ceiling: f64) {
        let within = |p: &[f64; 4]| p[2] >= self.floor && p[2] <= ceiling;
        let mut first = vec![0_u32; self.across * self.across * self.storeys + 1];
        for point in shown.iter().filter(|p| within(p)) {
            first[self.bin(point) + 1] += 1;
        }
        for bin in 1..first.len() {
            first[bin] += first[bin - 1];
        }
        let mut free = first.clone();
        let mut sorted = vec![Seen::default(); first[first.len() - 1] as usize];
        for (image, point) in shown.iter().enumerate().filter(|(_, p)| within(p)) {
            let slot = &mut free[self.bin(point)];
            sorted[*slot as usize] = Seen {
                image: image as u32,
                piece: (image / nodes) as u32,
                point: *point,
            };
            *slot += 1;
        }
        self.first = first;
        self.images = sorted;
    }

    fn column(&self, x: f64) -> usize {
        (((x + self.half_width) / self.width).max(0.0) as usize).min(self.across - 1)
    }

    fn storey(&self, z: f64) -> usize {
        (((z - self.floor) / self.storey).max(0.0) as usize).min(self.storeys - 1)
    }

    fn bin(&self, point: &[f64; 4]) -> usize {
        let column = self.column(point[0]) * self.across + self.column(point[1]);
        column * self.storeys + self.storey(point[2])
    }

    /// How far at least the images of a row of columns stand from `x`; the outermost hold
    /// all that lies beyond.
    fn aside(&self, x: f64, row: usize) -> f64 {
        let low = row as f64 * self.width - self.half_width;
        let before = if row == 0 { 0.0 } else { low - x };
        let behind = if row + 1 == self.across {
            0.0
        } else {
            x - low - self.width
        };
        before.max(behind).max(0.0)
    }

    /// Show every image at most one reach away, and some beyond.
    fn near(&self, point: &[f64; 4], mut show: impl FnMut(&Seen)) {
        let around = |row: usize| row.saturating_sub(2)..=(row + 2).min(self.across - 1);
        let reach = point[3] + self.beyond;
        for i in around(self.column(point[0])) {
            let left = reach * reach - self.aside(point[0], i).powi(2);
            for j in around(self.column(point[1])) {
                let left = left - self.aside(point[1], j).powi(2);
                if left < 0.0 {
                    continue;
                }
                let (column, up) = ((i * self.across + j) * self.storeys, left.sqrt());
                let from = self.first[column + self.storey(point[2] - up)] as usize;
                let to = self.first[column + self.storey(point[2] + up) + 1] as usize;
                self.images[from..to].iter().for_each(&mut show);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::energy::Energy;
    use super::super::minimise::Landscape;
    use super::super::spiral::round_spiral;
    use super::super::{Shape, Tubes};
    use super::*;

    fn listed(tubes: &Tubes, shape: &Shape) -> [Vec<(usize, usize)>; 2] {
        let mut energy = Energy::new(tubes);
        let at = energy.unknowns(shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        let (layout, images) = (&energy.layout, &energy.images);
        let (mut found, mut expected) = (Vec::new(), Vec::new());
        for (node, p) in images.points[..layout.count()].iter().enumerate() {
            let mut near = energy.pairs.of(node).to_vec();
            near.sort_unstable();
            found.extend(near.into_iter().map(|i| (node, i as usize)));
            for (image, q) in images.points.iter().enumerate() {
                let own = energy.cycles[layout.cycle_of_node(node)].spacing();
                let arc =
                    layout.nodes_between(node, image % layout.count(), image / layout.count());
                let same = arc.is_some_and(|arc| (arc as f64) * own < 1.6 * (p[3] + q[3]));
                let reach = p[3] + q[3] + energy.pairs.slack() + SKIN;
                let near = square_distance(p, q).sqrt() < reach;
                if image > node && near && !same {
                    expected.push((node, image));
                }
            }
        }
        [found, expected]
    }

    /// Against a look at every image.
    #[test]
    fn the_list_holds_every_near_pair_of_different_tubes() {
        let (mut tubes, shape) = round_spiral(9);
        for (node, radius) in tubes.radius.iter_mut().enumerate() {
            *radius *= if node % 5 == 0 { 1.5 } else { 0.7 };
        }
        let [found, expected] = listed(&tubes, &shape);
        assert!(expected.len() > 200, "{} pairs", expected.len());
        assert_eq!(found, expected);
    }

    /// Drawn together, thrown about, lifted and turned: while the list holds, what is not
    /// on it stays as far apart as is said.
    #[test]
    fn no_unlisted_pair_comes_nearer_than_the_slack_while_the_list_holds() {
        let (tubes, shape) = round_spiral(9);
        let mut energy = Energy::new(&tubes);
        let at = energy.unknowns(&shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        let mut dice = fastrand::Rng::with_seed(9);
        let (mut held, mut nearest) = (0, f64::INFINITY);
        for _ in 0..200 {
            let (drawn, thrown) = (0.92 + 0.1 * dice.f64(), 0.1 * dice.f64());
            let mut there = at.clone();
            for p in there[..3 * tubes.count()].chunks_exact_mut(3) {
                p[0] *= drawn;
                p[1] *= drawn;
                p.iter_mut().for_each(|x| *x += thrown * (dice.f64() - 0.5));
            }
            for x in &mut there[3 * tubes.count()..][..2] {
                *x += 0.05 * (dice.f64() - 0.5);
            }
            energy.place(&there);
            let (layout, images) = (&energy.layout, &energy.images);
            if !energy.pairs.hold(layout, images, 0.0) {
                continue;
            }
            held += 1;
            let own = images.points[..layout.count()].iter().enumerate();
            for (node, p) in own {
                let listed = energy.pairs.of(node);
                let level = |image: usize| image / layout.count();
                let is_own = |image| {
                    layout
                        .nodes_between(node, images.own(image), level(image))
                        .is_some()
                };
                for (image, q) in images.points.iter().enumerate().skip(node + 1) {
                    if !listed.contains(&(image as u32)) && !is_own(image) {
                        nearest = nearest.min(square_distance(p, q).sqrt() - p[3] - q[3]);
                    }
                }
            }
        }
        assert!((30..170).contains(&held), "held {held} times of 200");
        let slack = energy.pairs.slack();
        assert!(
            (slack..slack + SKIN).contains(&nearest),
            "{nearest} {slack}"
        );
    }

    /// Ring of four cells: a partner two cells up is the same as two cells down.
    #[test]
    fn a_pair_across_a_closed_ring_is_listed_once() {
        let ends = Ends::Closed { cells: 4 };
        let (tubes, _) = round_spiral(2);
        let tubes = Tubes {
            strands: 1,
            continues: vec![0],
            radius: vec![2.0; 2],
            pull: vec![1.0],
            bending: vec![0.0],
            squeeze: vec![tubes.squeeze[0]],
            ends,
            ..tubes
        };
        let shape = Shape {
            points: vec![[1.0, 0.0, 0.0], [1.0, 1.0, 0.5]],
            lift: 0.0,
            turn: std::f64::consts::FRAC_PI_2,
            squeeze: vec![0.0; 2],
            axes: Vec::new(),
        };
        let mut energy = Energy::new(&tubes);
        let at = energy.unknowns(&shape);
        energy.stiffen(&at, 8.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        // All eight nodes of the ring are within an own arc of each other,
        // whichever way round one counts.
        assert!(energy.pairs.of(0).is_empty() && energy.pairs.of(1).is_empty());
        let between = |b, level| energy.layout.nodes_between(0, b, level);
        assert_eq!(
            [between(1, 0), between(0, 2), between(1, 3)],
            [Some(1), Some(4), Some(1)]
        );
        assert!(is_listed(&energy.layout, 0, 2 * 2 + 1) && !is_listed(&energy.layout, 1, 2 * 2));
    }
}
