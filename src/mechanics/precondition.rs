//! A stiffness matrix of the tubes that is always positive definite.
//!
//! Every term of the energy is taken as a spring: its stiffness times the square
//! of the gradient of its stretch (Gauss and Newton). What would be negative,
//! the sideways slackening of pressed contacts, is left out, and every node gets a
//! weak spring to its place. Squeezes are taken each by itself, with what its
//! neighbours might add: coupled to the nodes they cost a third more time and
//! spare nothing (tried).

use super::contact::{Pressing, outside_band};
use super::curvature::{by_nodes, dot};
use super::energy::Energy;
use super::factor::{Factor, Kind};
use super::fibre::Work;
use super::layout::{BAND, SQUEEZE};
use super::matrix::Matrix;
use super::minimise::Downhill;
use super::section::{Tensor, solved};

/// Spring of every node to its place, over twice the pull and the spacing (tried).
const WEAK_SPRING: f64 = 2e-3;

/// A slack strand is taken to be drawn by this share of its pull.
const LEAST_TENSION: f64 = 0.1;

/// How much of the stiffness of a contact its two squeezes may share (tried 0 to 3).
const SHARED: f64 = 2.0;

/// The stiffness at one place, ready to turn slopes into steps.
#[derive(Debug)]
pub(super) struct Stiffness {
    nodes: Factor,
    /// Of each squeeze; infinite where nothing gives.
    squeezes: Vec<f64>,
    /// Of the axis of each node; none where the section stays round.
    axes: Vec<Option<Tensor>>,
    /// Strands that keep their length resist all along.
    kept: Vec<Kept>,
}

/// The stretch of a cycle: its slope, what the nodes answer to it, and its
/// share of the answer (Sherman and Morrison, 1950).
#[derive(Debug)]
struct Kept {
    slope: Vec<f64>,
    answer: Vec<f64>,
    share: f64,
}

impl Stiffness {
    /// Of `energy` at the place last looked at, unless numbers went astray.
    pub(super) fn of(energy: &Energy) -> Option<Self> {
        let mut matrix = Matrix::new(&energy.layout, &energy.images, false);
        let mut squeezes = fibre(energy);
        add_strands(&mut matrix, energy);
        add_contacts(&mut matrix, energy, &mut squeezes);
        let axes = energy.ovals.stiffness(energy);
        add_band(&mut matrix, energy);
        add_weak_springs(&mut matrix, energy);
        let nodes = matrix.factor(WEAK_SPRING, Kind::Definite)?;
        let mut stiffness = Self {
            nodes,
            squeezes,
            axes,
            kept: Vec::new(),
        };
        for cycle in 0..energy.cycles.len() {
            stiffness.keep(energy, cycle);
        }
        Some(stiffness)
    }
}

impl Stiffness {
    fn keep(&mut self, energy: &Energy, cycle: usize) {
        let stretch = energy.cycles[cycle].stretch();
        if stretch == 0.0 {
            return;
        }
        let mut slope = by_nodes(energy, cycle);
        slope.truncate(energy.layout.place(SQUEEZE));
        slope
            .iter_mut()
            .for_each(|by| *by *= energy.cycles[cycle].steps);
        let mut answer = slope.clone();
        self.on_nodes(&mut answer);
        let share = 1.0 / (1.0 / stretch + dot(&slope, &answer));
        self.kept.push(Kept {
            slope,
            answer,
            share,
        });
    }

    fn on_nodes(&mut self, slope: &mut [f64]) {
        self.nodes.solve(slope);
        for kept in &self.kept {
            let share = kept.share * dot(&kept.slope, slope);
            for (sum, part) in slope.iter_mut().zip(&kept.answer) {
                *sum -= share * part;
            }
        }
    }
}

impl Downhill for Stiffness {
    fn apply(&mut self, slope: &mut [f64]) {
        let (slope, axes) = slope.split_at_mut(slope.len() - 3 * self.axes.len());
        let (nodes, squeezes) = slope.split_at_mut(slope.len() - self.squeezes.len());
        self.on_nodes(nodes);
        for (slope, stiffness) in squeezes.iter_mut().zip(&self.squeezes) {
            *slope /= stiffness;
        }
        for (slope, stiffness) in axes.chunks_exact_mut(3).zip(&self.axes) {
            match stiffness {
                Some(stiffness) => {
                    slope.copy_from_slice(&solved(stiffness, [slope[0], slope[1], slope[2]]));
                }
                None => slope.fill(0.0),
            }
        }
    }
}

/// What the fibre of every node gives back by itself.
fn fibre(energy: &Energy) -> Vec<f64> {
    let free = &energy.layout.free[SQUEEZE..];
    let own = |(node, work): (usize, &Work)| match free[node] {
        true => work.curve * energy.spacing_at(node),
        false => f64::INFINITY,
    };
    energy.work.iter().enumerate().map(own).collect()
}

fn add_strands(matrix: &mut Matrix, energy: &Energy) {
    for (node, &cycle) in energy.cycle_of.iter().enumerate() {
        let cycle = &energy.cycles[cycle as usize];
        let spacing = cycle.spacing();
        let (next, after) = (energy.layout.next[node], energy.layout.after[node]);
        let (a, b) = (matrix.mover(node, 1.0), matrix.mover(next, -1.0));
        let tension = cycle.tension().max(LEAST_TENSION * cycle.pull);
        matrix.spring_every_way(tension / spacing, &[a, b]);
        let bending = cycle.bending / spacing.powi(3);
        if bending > 0.0 {
            let c = matrix.mover(after, 1.0);
            matrix.spring_every_way(bending, &[a, b.times(-2.0), c]);
        }
    }
}

fn add_contacts(matrix: &mut Matrix, energy: &Energy, squeezes: &mut [f64]) {
    for breach in energy.breaches() {
        let mover = |end: usize| matrix.mover(breach.ends[end], breach.parts[end]);
        let movers = [mover(0), mover(1), mover(2), mover(3)];
        matrix.spring(breach.touch.stiffness, breach.normal, &movers, 0.0, 0.0);
    }
    for Pressing {
        sides,
        own,
        touch,
        normal,
    } in energy.contacts()
    {
        let movers = [matrix.mover(sides[0], -1.0), matrix.mover(sides[1], 1.0)];
        matrix.spring(touch.stiffness, normal, &movers, 0.0, 0.0);
        if !squeezes.is_empty() {
            let [a, b] = sides.map(|side| energy.images.points[side][3]);
            squeezes[own[0]] += touch.stiffness * a * (a + SHARED * b);
            squeezes[own[1]] += touch.stiffness * b * (b + SHARED * a);
        }
    }
}

fn add_band(matrix: &mut Matrix, energy: &Energy) {
    if !energy.layout.free[BAND] {
        return;
    }
    for (node, &cycle) in energy.cycle_of.iter().enumerate() {
        let p = energy.images.points[node];
        let spacing = energy.pressed[cycle as usize].spacing;
        if let Some(touch) = outside_band(&p, energy.band, spacing, energy.stiffness) {
            let outward = [p[0] / touch.distance, p[1] / touch.distance, 0.0];
            let mover = [matrix.mover(node, 1.0)];
            matrix.spring(touch.stiffness, outward, &mover, 1.0, -1.0);
        }
    }
}

fn add_weak_springs(matrix: &mut Matrix, energy: &Energy) {
    for (node, &cycle) in energy.cycle_of.iter().enumerate() {
        let cycle = &energy.cycles[cycle as usize];
        matrix.spring_to_place(WEAK_SPRING * 2.0 * cycle.pull / cycle.spacing(), node);
    }
}

#[cfg(test)]
mod tests {
    use super::super::layout::TURN;
    use super::super::minimise::Landscape;
    use super::super::spiral::round_spiral;
    use super::super::{Shape, Squeeze, Tubes};
    use super::*;

    fn looked_at<'a>(tubes: &'a Tubes, shape: &Shape) -> (Energy<'a>, Vec<f64>) {
        let mut energy = Energy::new(tubes);
        let at = energy.unknowns(shape);
        energy.stiffen(&at, 64.0);
        energy.height(&at, &mut vec![0.0; at.len()]);
        (energy, at)
    }

    fn assert_gives(energy: &Energy, mut load: Vec<f64>, expected: &[f64]) {
        Stiffness::of(energy).unwrap().apply(&mut load);
        for (place, (found, expected)) in load.iter().zip(expected).enumerate() {
            let error = (found - expected).abs();
            assert!(error < 1e-5, "unknown {place}: {found} for {expected}");
        }
    }

    /// Lifted as a whole, the cord is held by the weak springs alone.
    #[test]
    fn a_rigid_lift_meets_only_the_weak_springs() {
        let (tubes, shape) = round_spiral(6);
        let (tubes, shape) = tubes.repeated(&shape, 3);
        let (energy, at) = looked_at(&tubes, &shape);
        assert!(energy.least_gap() < 1.0, "nothing presses");
        let mut lifted = vec![0.0; at.len()];
        let mut load = lifted.clone();
        for node in 0..energy.layout.count() {
            let cycle = &energy.cycles[energy.layout.cycle_of_node(node)];
            lifted[3 * node + 2] = 1.0;
            load[3 * node + 2] = WEAK_SPRING * 2.0 * cycle.pull / cycle.spacing();
        }
        assert_gives(&energy, load, &lifted);
    }

    /// Straight limp strands that touch nothing, twisted by their ends: nothing
    /// is left out of the matrix, so it is the true second derivative.
    #[test]
    fn the_stiffness_against_a_first_twist_is_exact() {
        let (tubes, shape) = round_spiral(6);
        let tubes = Tubes {
            continues: (0..8).collect(),
            radius: vec![0.1; 48],
            bending: vec![0.0; 8],
            squeeze: vec![Squeeze::Hard; 8],
            ..tubes
        };
        let place = |node: usize| {
            let (sin, cos) = ((node / 6) as f64).sin_cos();
            [2.0 * cos, 2.0 * sin, (node % 6) as f64 / 3.0]
        };
        let shape = Shape {
            points: (0..48).map(place).collect(),
            turn: 0.0,
            ..shape
        };
        let (mut energy, at) = looked_at(&tubes, &shape);
        let turn = energy.layout.place(TURN);
        let mut slope = |by: f64| {
            let mut there = at.clone();
            there[turn] += by;
            let mut slope = vec![0.0; at.len()];
            energy.height(&there, &mut slope);
            slope
        };
        let (more, less) = (slope(1e-4), slope(-1e-4));
        let mut load: Vec<f64> = more.iter().zip(less).map(|(a, b)| (a - b) / 2e-4).collect();
        load[turn] += WEAK_SPRING;
        let mut twist = vec![0.0; at.len()];
        twist[turn] = 1.0;
        energy.height(&at, &mut vec![0.0; at.len()]);
        assert_gives(&energy, load, &twist);
    }
}
