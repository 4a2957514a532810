//! Strands whose section flattens: where their wider side points, and how they press.
//!
//! Letters as in `section`, `flatten` and `energy`. Unknown is a vector for every node; its
//! part square to the strand is the axis `w`. The part along the strand is weighed down with
//! `½ P T l (part)²`: it changes nothing else and is nothing at rest. The strand's way
//! at a node is that from the node before it to the one after it.
//!
//! Nodes press on one another as balls do (see `contact`), with the half-widths along
//! the way in which they lie farthest apart in place of the radii. That way is where the
//! distance is greatest, so that it may be taken to stand still in every derivative.

use super::contact::{Contact, Pressed, Pressing, longest_spacing};
use super::cycle::Cycle;
use super::energy::Energy;
use super::fence;
use super::flatten::{POINT, Section, Turned, drawn_out, work};
use super::images::Images;
use super::layout::{Layout, TURN};
use super::pairs::{Pairs, square_distance};
use super::section::{Oval, Tensor, way_apart};
use super::segments::{Vector, dot, norm};
use super::tubes::Tubes;

/// Stiffness against axes along the strand, over the pull. Any serves.
const UPRIGHT: f64 = 1.0;

/// The sections of all images, and the derivative of the energy by their axes.
#[derive(Debug, Clone, Default)]
pub(super) struct Ovals {
    /// Section of each strand cycle, taken of each node.
    kind: Vec<Section>,
    /// What each own node is given: its vector, in space.
    given: Vec<Vector>,
    /// Direction of the strand at each own node, and the way it is measured over.
    along: Vec<(Vector, f64)>,
    axes: Vec<Vector>,
    /// All images with their sections.
    ovals: Vec<Oval>,
    /// `r²/4` of each own node.
    drawn: Vec<f64>,
    /// By the axis of each image.
    pub slope: Vec<Vector>,
}

impl Ovals {
    pub(super) fn new(tubes: &Tubes, layout: &Layout) -> Self {
        if !layout.flattens {
            return Self::default();
        }
        let count = layout.count();
        Self {
            kind: (0..count).map(|node| tubes.section_at(node)).collect(),
            given: vec![[0.0; 3]; count],
            along: vec![([0.0, 0.0, 1.0], 1.0); count],
            axes: Vec::new(),
            ovals: Vec::new(),
            drawn: tubes.radius.iter().map(|r| 0.25 * r * r).collect(),
            slope: Vec::new(),
        }
    }

    fn is_oval(&self, node: usize) -> bool {
        self.kind[node] != Section::Round
    }

    /// Sections of the own nodes where the unknowns say; their work goes to the cycles.
    pub(super) fn place(
        &mut self,
        layout: &Layout,
        images: &Images,
        at: &[f64],
        cycles: &mut [Cycle],
    ) {
        let count = layout.count();
        self.axes.resize(count, [0.0; 3]);
        let vectors = at[layout.axes()].chunks_exact(3);
        for (node, x) in vectors.enumerate() {
            let [cos, sin] = images.direction(0, node);
            self.given[node] = [cos * x[0] - sin * x[1], sin * x[0] + cos * x[1], x[2]];
        }
        for node in 0..count {
            let (way, middle) = way_past(layout, images, node);
            let length = norm(way).max(POINT);
            self.along[middle] = (way.map(|x| x / length), length);
        }
        for node in 0..count {
            if !self.is_oval(node) {
                continue;
            }
            let (given, (along, _)) = (self.given[node], self.along[node]);
            let lean = dot(given, along);
            self.axes[node] = std::array::from_fn(|k| given[k] - lean * along[k]);
            let cycle = &mut cycles[layout.cycle_of_node(node)];
            let work = work(self.kind[node], self.axes[node]);
            cycle.held += cycle.pull * (work.held + 0.5 * UPRIGHT * lean * lean);
        }
    }

    /// The same at as many levels as the images show, and nothing gathered yet.
    pub(super) fn show(&mut self, layout: &Layout, images: &Images) {
        let count = layout.count();
        self.axes.truncate(count);
        for image in count..images.points.len() {
            let [cos, sin] = images.turned(image / count);
            let [x, y, z] = self.axes[image % count];
            self.axes.push([cos * x - sin * y, sin * x + cos * y, z]);
        }
        self.ovals.clear();
        let nodes = images.points.iter().zip(&self.axes);
        self.ovals
            .extend(nodes.map(|(p, &axis)| Oval::new(p[3], axis)));
        self.slope.clear();
        self.slope.resize(images.points.len(), [0.0; 3]);
    }

    /// The contact of a node with an image, and its direction, if they press.
    pub(super) fn contact(
        &self,
        images: &Images,
        [node, image]: [usize; 2],
        spacings: f64,
        k: f64,
    ) -> Option<(Contact, Vector)> {
        let (p, q) = (images.points[node], images.points[image]);
        let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
        let square = dot(d, d);
        let count = self.kind.len();
        if !self.is_oval(node) && !self.is_oval(image % count) {
            let radii = p[3] + q[3];
            if square >= radii * radii || square == 0.0 {
                return None;
            }
            let touch = Contact::new(square, radii, spacings, k);
            return Some((touch, d.map(|x| x / touch.distance)));
        }
        let (a, b) = (&self.ovals[node], &self.ovals[image]);
        let reach = a.long() + b.long();
        if square >= reach * reach || square == 0.0 {
            return None;
        }
        let apart = square.sqrt();
        let straight = d.map(|x| x / apart);
        if apart >= a.half_width(straight) + b.half_width(straight) {
            return None;
        }
        let way = way_apart(a, b, d);
        let (distance, radii) = (dot(way, d), a.half_width(way) + b.half_width(way));
        if distance >= radii {
            return None;
        }
        Some((Contact::new(distance * distance, radii, spacings, k), way))
    }

    /// Press all listed pairs, as `contact::press` does with balls; gives the energy.
    pub(super) fn press(
        &mut self,
        pairs: &Pairs,
        images: &mut Images,
        cycle_of: &[u32],
        cycles: &mut [Pressed],
        fenced: &mut Vec<[u32; 2]>,
        k: f64,
    ) -> f64 {
        let longest = longest_spacing(cycles);
        let mut energy = 0.0;
        fenced.clear();
        for node in 0..cycle_of.len() {
            let own = cycle_of[node] as usize;
            for &image in pairs.of(node) {
                let image = image as usize;
                let (p, q) = (&images.points[node], &images.points[image]);
                let reach = fence::reach(p[3] + q[3], cycles[own].spacing + longest);
                if square_distance(p, q) < reach * reach {
                    fenced.push([node as u32, image as u32]);
                }
                let other = cycle_of[images.own(image)] as usize;
                let spacings = cycles[own].spacing * cycles[other].spacing;
                let Some((touch, way)) = self.contact(images, [node, image], spacings, k) else {
                    continue;
                };
                let cost = touch.energy();
                energy += cost;
                cycles[own].energy += 0.5 * cost;
                cycles[other].energy += 0.5 * cost;
                images.push_apart(node, image, touch.push(), way);
                for side in [node, image] {
                    self.swell(images, side, way, touch.by_radii());
                }
            }
        }
        energy
    }

    /// A node that is wider along `way` costs `swell`.
    fn swell(&mut self, images: &mut Images, image: usize, way: Vector, swell: f64) {
        let oval = self.ovals[image];
        let radius = images.points[image][3];
        images.slope[image][3] += swell * oval.half_width(way) / radius;
        if self.is_oval(image % self.kind.len()) {
            let by = oval.half_width_by_axis(way);
            for axis in 0..3 {
                self.slope[image][axis] += swell * by[axis];
            }
        }
    }

    /// Turning of axes from node to node; gives the energy of each cycle.
    pub(super) fn turn(&mut self, layout: &Layout, cycle_of: &[u32], cycles: &[Cycle]) -> Vec<f64> {
        let mut energy = vec![0.0; cycles.len()];
        for (node, &cycle) in cycle_of.iter().enumerate() {
            let Section::Oval { turning, .. } = self.kind[node] else {
                continue;
            };
            let (next, strand) = (layout.next[node], &cycles[cycle as usize]);
            let stiffness = (strand.pull * self.drawn[node] + turning) / strand.spacing();
            let turned = Turned::between(self.axes[node], self.axes[next]);
            energy[cycle as usize] += stiffness * turned.held;
            for (image, by) in [(node, turned.by_first), (next, turned.by_second)] {
                for (sum, by) in self.slope[image].iter_mut().zip(by) {
                    *sum += stiffness * by;
                }
            }
        }
        energy
    }

    /// Fold the slopes of all images back upon the unknowns, and upon the images whose
    /// ways the axes are square to.
    pub(super) fn fold(
        &mut self,
        layout: &Layout,
        images: &mut Images,
        cycles: &[Cycle],
        gradient: &mut [f64],
    ) {
        let count = layout.count();
        let mut by_turn = self.fold_levels(images, count);
        for node in 0..count {
            let (way, middle) = way_past(layout, images, node);
            if !self.is_oval(middle) {
                continue;
            }
            let cycle = &cycles[layout.cycle_of_node(middle)];
            let (by_given, by_way) = self.by_given_and_way(middle, cycle);
            let given = self.given[middle];
            by_turn += layout.share(middle) * swing(given, by_given);
            let [cos, sin] = images.direction(0, middle);
            let out = &mut gradient[layout.axes()][3 * middle..3 * middle + 3];
            out.copy_from_slice(&[
                cos * by_given[0] + sin * by_given[1],
                cos * by_given[1] - sin * by_given[0],
                by_given[2],
            ]);
            let level = layout.next[node] / count;
            by_turn -= level as f64 * swing(way, by_way);
            let [cos, sin] = images.turned(level);
            let seen = [
                cos * by_way[0] - sin * by_way[1],
                sin * by_way[0] + cos * by_way[1],
                by_way[2],
            ];
            images.push_apart(layout.after[node], node, 1.0, seen);
        }
        gradient[layout.place(TURN)] += by_turn;
    }

    fn fold_levels(&mut self, images: &Images, count: usize) -> f64 {
        let mut by_turn = 0.0;
        for image in count..self.slope.len() {
            let level = image / count;
            let [cos, sin] = images.turned(level);
            let q = self.slope[image];
            by_turn += level as f64 * swing(self.axes[image], q);
            let own = &mut self.slope[image % count];
            own[0] += cos * q[0] + sin * q[1];
            own[1] += cos * q[1] - sin * q[0];
            own[2] += q[2];
        }
        by_turn
    }

    /// From the slope by the axis of an own node to those by its vector and by the way
    /// over which its strand's direction is measured.
    fn by_given_and_way(&self, node: usize, cycle: &Cycle) -> (Vector, Vector) {
        let (given, (along, length)) = (self.given[node], self.along[node]);
        let scale = cycle.pull * cycle.spacing();
        let work = work(self.kind[node], self.axes[node]);
        let mut by: Vector = self.slope[node];
        for (by, axis) in by.iter_mut().zip(self.axes[node]) {
            *by += 2.0 * scale * work.slope * axis;
        }
        let (lean, upright) = (dot(given, along), scale * UPRIGHT * dot(given, along));
        let leaning = dot(by, along);
        let by_given = std::array::from_fn(|k| by[k] + (upright - leaning) * along[k]);
        let by_along: Vector =
            std::array::from_fn(|k| (upright - leaning) * given[k] - lean * by[k]);
        let stretched = dot(by_along, along);
        let by_way = std::array::from_fn(|k| (by_along[k] - stretched * along[k]) / length);
        (by_given, by_way)
    }

    /// Stiffness of the vector of each own node, as its contacts and its fibre press on it,
    /// in the turned frame; none where the section stays round.
    pub(super) fn stiffness(&self, energy: &Energy) -> Vec<Option<Tensor>> {
        let mut all: Vec<Option<Tensor>> = (0..self.kind.len())
            .map(|node| self.is_oval(node).then(|| self.own_stiffness(energy, node)))
            .collect();
        if all.is_empty() {
            return all;
        }
        for Pressing {
            sides,
            own,
            touch,
            normal,
        } in energy.contacts()
        {
            for (side, own) in sides.into_iter().zip(own) {
                if let Some(entries) = &mut all[own] {
                    let by = self.ovals[side].half_width_by_axis(normal);
                    let by = local(&energy.layout, &energy.images, side, by);
                    add_square(entries, SHARED * touch.stiffness, by);
                }
            }
        }
        all
    }

    fn own_stiffness(&self, energy: &Energy, node: usize) -> Tensor {
        let cycle = &energy.cycles[energy.cycle_of[node] as usize];
        let scale = cycle.pull * cycle.spacing();
        let axis = local(&energy.layout, &energy.images, node, self.axes[node]);
        let along = local(&energy.layout, &energy.images, node, self.along[node].0);
        let work = work(self.kind[node], axis);
        let mut even = 2.0 * scale * (work.slope.max(0.0) + LEAST_STIFFNESS);
        if let Section::Oval { turning, .. } = self.kind[node] {
            let stiffness = (cycle.pull * self.drawn[node] + turning) / cycle.spacing();
            let q = dot(axis, axis);
            even += 4.0 * stiffness * q * drawn_out(q).0.powi(2);
        }
        let mut entries = [even, even, even, 0.0, 0.0, 0.0];
        add_square(&mut entries, 4.0 * scale * work.curve, axis);
        add_square(&mut entries, scale * UPRIGHT, along);
        entries
    }

    /// The vectors that the axes are the upright parts of, and the axes as they are.
    pub(super) fn own_axes(&self, count: usize) -> Vec<Vector> {
        self.axes.iter().take(count).copied().collect()
    }
}

/// Least stiffness of an axis, over pull and spacing: where flattening costs nothing yet.
const LEAST_STIFFNESS: f64 = 0.5;

impl Energy<'_> {
    /// Press oval strands on one another and turn their sections; what the turning
    /// costs is put to the bending of each cycle.
    pub(super) fn press_and_turn(&mut self, bent: &mut [f64]) -> f64 {
        self.ovals.show(&self.layout, &self.images);
        let mut energy = self.ovals.press(
            &self.pairs,
            &mut self.images,
            &self.cycle_of,
            &mut self.pressed,
            &mut self.fenced,
            self.stiffness,
        );
        let turned = self.ovals.turn(&self.layout, &self.cycle_of, &self.cycles);
        for (bent, turned) in bent.iter_mut().zip(turned) {
            energy += turned;
            // It falls with the spacing, bending with its third power.
            *bent += turned / 3.0;
        }
        energy
    }
}

/// How much of the stiffness of a contact its two axes may share.
const SHARED: f64 = 2.0;

/// A vector at an image, in the turned frame of its node.
fn local(layout: &Layout, images: &Images, image: usize, [x, y, z]: Vector) -> Vector {
    let count = layout.count();
    let [cos, sin] = images.direction(image / count, image % count);
    [cos * x + sin * y, cos * y - sin * x, z]
}

/// `scale v vᵀ` added.
fn add_square(entries: &mut Tensor, scale: f64, [x, y, z]: Vector) {
    let square = [x * x, y * y, z * z, x * y, x * z, y * z];
    for (entry, part) in entries.iter_mut().zip(square) {
        *entry += scale * part;
    }
}

/// How far a force on what stands at `p` turns about z.
fn swing(p: Vector, force: Vector) -> f64 {
    p[0] * force[1] - p[1] * force[0]
}

/// The way from `node` past the node after it to the one beyond, in the own cell of the one
/// in the middle; and that one.
fn way_past(layout: &Layout, images: &Images, node: usize) -> (Vector, usize) {
    let (next, after) = (layout.next[node], layout.after[node]);
    let (p, q) = (images.points[node], images.points[after]);
    let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    let count = layout.count();
    let [cos, sin] = images.turned(next / count);
    let back = [cos * d[0] + sin * d[1], cos * d[1] - sin * d[0], d[2]];
    (back, next % count)
}

#[cfg(test)]
mod tests {
    use super::super::minimise::Landscape;
    use super::super::segments::minus;
    use super::super::spiral::mirrored;
    use super::super::spiral::round_spiral;
    use super::super::{Progress, Report, Schedule, Shape, Squeeze, silhouette, tighten};
    use super::*;

    const SOFT: Section = Section::Oval {
        widest: 1.3,
        lies: 1.0,
        resistance: 0.2,
        turning: 0.0,
    };
    const RIBBON: Section = Section::Oval {
        widest: 1.6,
        lies: 1.4,
        resistance: 0.4,
        turning: 0.03,
    };

    /// Two kinds of flat strands and a round one, squashed and jolted.
    fn motley() -> (Tubes, Shape) {
        let (tubes, shape) = round_spiral(7);
        let (mut tubes, mut shape) = tubes.repeated(&shape, 4);
        tubes.sections = vec![Section::Round; 8];
        for (number, section) in [SOFT, RIBBON, RIBBON].into_iter().enumerate() {
            for strand in tubes.cycles()[number].clone() {
                tubes.sections[strand] = section;
                tubes.squeeze[strand] = Squeeze::Fibre {
                    stiffness: 1.0,
                    limit: 0.3,
                };
            }
        }
        let mut dice = fastrand::Rng::with_seed(5);
        shape.axes = (0..tubes.count())
            .map(|_| std::array::from_fn(|_| 2.0 * dice.f64() - 1.0))
            .collect();
        (tubes, shape)
    }

    #[test]
    fn the_slope_is_the_difference_of_heights() {
        let (tubes, shape) = motley();
        let mut energy = Energy::new(&tubes);
        let mut at = energy.unknowns(&shape);
        let coordinates = 3 * energy.layout.count();
        for (place, x) in at.iter_mut().enumerate() {
            let jolt = 0.02 * ((place * 7919 % 100) as f64 / 100.0 - 0.5);
            *x = *x * if place < coordinates + 2 { 0.6 } else { 1.0 } + jolt;
        }
        energy.stiffen(&at, 8.0);
        let mut slope = vec![0.0; at.len()];
        energy.height(&at, &mut slope);
        let steepest = slope.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let axes = &slope[energy.layout.axes()];
        assert!(axes.iter().filter(|by| by.abs() > 1e-3).count() > 300);
        let mut ignored = slope.clone();
        let rest = (0..coordinates).step_by(7).chain(coordinates..at.len());
        let free = energy.layout.free.clone();
        for place in rest.filter(|&p| p < coordinates || free[p - coordinates]) {
            let mut height = |by: f64| {
                let mut there = at.clone();
                there[place] += by;
                energy.height(&there, &mut ignored)
            };
            let difference = (height(1e-6) - height(-1e-6)) / 2e-6;
            let error = (difference - slope[place]).abs();
            assert!(
                error < 3e-7 * steepest,
                "unknown {place} of {}: {} but differences give {difference}",
                at.len(),
                slope[place]
            );
        }
    }

    /// The round spiral of eight, its strands as flat as they like up to `widest`.
    fn flat_spiral(nodes: usize, widest: f64) -> (Tubes, Shape) {
        let (tubes, shape) = round_spiral(nodes);
        let section = Section::Oval {
            widest,
            lies: 1.0,
            resistance: 1.5,
            turning: 0.0,
        };
        let tubes = Tubes {
            sections: vec![section; 8],
            ..tubes
        };
        (tubes, shape)
    }

    fn tight(tubes: &Tubes, start: Shape) -> (Shape, Report) {
        let done = tighten(tubes, start, &Schedule::fine(), &Progress::new()).unwrap();
        assert!(done.1.converged, "residual {}", done.1.residual);
        done
    }

    #[test]
    fn sections_that_are_told_to_stay_round_change_not_one_bit() {
        let (tubes, start) = round_spiral(7);
        let round = Tubes {
            sections: vec![Section::Round; 8],
            ..tubes.clone()
        };
        let (plain, told) = (tight(&tubes, start.clone()), tight(&round, start));
        assert_eq!(plain, told);
    }

    /// Half-widths at the nodes of a shape, over the radius.
    fn widenings(tubes: &Tubes, shape: &Shape) -> Vec<f64> {
        let wide = |node| norm(tubes.long_axis_in(shape, node)) / tubes.radius_in(shape, node);
        (0..tubes.count()).map(wide).collect()
    }

    /// Bundles of filaments in place of strands come 6 % thinner to 18 % thicker (tried).
    #[test]
    fn eight_strands_come_no_thinner_for_being_flat_and_no_flatter_than_they_go() {
        let (round, start) = round_spiral(10);
        let width = |tubes: &Tubes, shape: &Shape| silhouette(tubes, shape).mean;
        let (rest, _) = tight(&round, start);
        let (flat, _) = flat_spiral(10, 1.4);
        let (shape, _) = tight(&flat, rest.clone());
        let thinner = width(&flat, &shape) / width(&round, &rest);
        assert!((0.94..1.18).contains(&thinner), "{thinner}");
        let wide = widenings(&flat, &shape);
        let most = wide.iter().copied().fold(0.0, f64::max);
        assert!((1.05..1.2).contains(&most), "{most}");
        for node in 1..9 {
            let way = minus(shape.points[node + 1], shape.points[node - 1]);
            let lean = dot(shape.axes[node], way) / norm(way);
            assert!(lean.abs() < 1e-9, "node {node} leans {lean}");
        }
    }

    #[test]
    fn a_mirrored_start_gives_the_mirrored_flat_strands() {
        let (tubes, start) = flat_spiral(7, 1.4);
        let (shape, _) = tight(&tubes, start.clone());
        let (other, _) = tight(&tubes, mirrored(&start));
        assert!((shape.lift / other.lift - 1.0).abs() < 1e-3);
        assert!((shape.turn + other.turn).abs() < 5e-3);
        let sorted = |shape: &Shape| {
            let mut all = widenings(&tubes, shape);
            all.sort_by(f64::total_cmp);
            all
        };
        for (a, b) in sorted(&shape).into_iter().zip(sorted(&other)) {
            assert!((a - b).abs() < 5e-3, "{a} {b}");
        }
    }

    #[test]
    fn two_cells_as_one_lie_as_flat() {
        let (tubes, start) = flat_spiral(7, 1.4);
        let (shape, report) = tight(&tubes, start);
        let (double, start) = tubes.repeated(&shape, 2);
        let warm = Schedule::warm();
        let (longer, both) = tighten(&double, start, &warm, &Progress::new()).unwrap();
        assert!((longer.lift / shape.lift - 2.0).abs() < 2e-3);
        let twice = 2.0 * report.energy;
        assert!((both.energy / twice - 1.0).abs() < 1e-4, "{both:?} {twice}");
    }
}
