//! What acts along the strands: their steps, their pull and their bending.
//!
//! A part of [`Energy`], which tells the letters. Only sums over the steps of each
//! cycle are kept, since spacing is a matter of the whole cycle.
//!
//! Knows nothing of what strands do to one another.

use super::contact::Pressed;
use super::cycle::Cycle;
use super::energy::Energy;

impl Energy<'_> {
    /// Bending energy of every cycle.
    pub(super) fn bent(&self) -> Vec<f64> {
        let points = &self.images.points[..];
        let mut energy = vec![0.0; self.cycles.len()];
        for (node, &cycle) in self.cycle_of.iter().enumerate() {
            let (next, after) = (self.layout.next[node], self.layout.after[node]);
            let (p, q, r) = (points[node], points[next], points[after]);
            let whole = &self.cycles[cycle as usize];
            let stiffness = whole.bending / whole.spacing().powi(3);
            let curve: f64 = (0..3).map(|k| (p[k] - 2.0 * q[k] + r[k]).powi(2)).sum();
            energy[cycle as usize] += 0.5 * stiffness * curve;
        }
        energy
    }

    /// Stiffness of the steps of every cycle: the derivative of the energy by the
    /// spacing, for each step and its length.
    pub(super) fn along_steps(&self) -> Vec<f64> {
        let bent = self.bent();
        let each = self.cycles.iter().zip(&self.pressed).zip(bent);
        each.map(|((cycle, pressed), bent)| cycle.along(pressed.energy, bent))
            .collect()
    }

    /// Square of the length of the step that begins at a node.
    fn square_step(&self, node: usize) -> f64 {
        let (p, q) = (
            self.images.points[node],
            self.images.points[self.layout.next[node]],
        );
        (q[0] - p[0]).powi(2) + (q[1] - p[1]).powi(2) + (q[2] - p[2]).powi(2)
    }

    /// Length of the step that begins at a node.
    pub(super) fn step(&self, node: usize) -> f64 {
        self.square_step(node).sqrt()
    }

    /// Longest of all steps.
    pub(super) fn longest_step(&self) -> f64 {
        let squares = (0..self.layout.count()).map(|node| self.square_step(node));
        squares.fold(0.0, f64::max).sqrt()
    }

    pub(super) fn measure_steps(&mut self) {
        let points = &self.images.points;
        for cycle in &mut self.cycles {
            cycle.sum = 0.0;
        }
        for (node, (&cycle, &next)) in self.cycle_of.iter().zip(&self.layout.next).enumerate() {
            let (p, q) = (points[node], points[next]);
            self.cycles[cycle as usize].sum +=
                (q[0] - p[0]).powi(2) + (q[1] - p[1]).powi(2) + (q[2] - p[2]).powi(2);
        }
        for (pressed, cycle) in self.pressed.iter_mut().zip(&self.cycles) {
            *pressed = Pressed {
                spacing: cycle.spacing(),
                ..Pressed::default()
            };
        }
    }

    /// Bending energy of every cycle.
    pub(super) fn bend(&mut self) -> Vec<f64> {
        let points = &self.images.points[..];
        let slope = &mut self.images.slope[..];
        let stiffness = |cycle: &Cycle| cycle.bending / cycle.spacing().powi(3);
        let stiffnesses: Vec<f64> = self.cycles.iter().map(stiffness).collect();
        let mut energy = vec![0.0; self.cycles.len()];
        for (node, &cycle) in self.cycle_of.iter().enumerate() {
            let (next, after) = (self.layout.next[node], self.layout.after[node]);
            let (p, q, r) = (points[node], points[next], points[after]);
            let stiffness = stiffnesses[cycle as usize];
            for axis in 0..3 {
                let curve = p[axis] - 2.0 * q[axis] + r[axis];
                let force = stiffness * curve;
                energy[cycle as usize] += 0.5 * force * curve;
                slope[node][axis] += force;
                slope[next][axis] -= 2.0 * force;
                slope[after][axis] += force;
            }
        }
        energy
    }

    /// Pull and everything else that acts through the steps.
    pub(super) fn pull(&mut self, bent: &[f64]) -> f64 {
        let mut energy = 0.0;
        let mut along = Vec::with_capacity(self.cycles.len());
        for ((cycle, pressed), bent) in self.cycles.iter().zip(&self.pressed).zip(bent) {
            energy += cycle.energy();
            along.push(cycle.along(pressed.energy, *bent));
        }
        let points = &self.images.points[..];
        let slope = &mut self.images.slope[..];
        for (node, &cycle) in self.cycle_of.iter().enumerate() {
            let next = self.layout.next[node];
            let (p, q) = (points[node], points[next]);
            for axis in 0..3 {
                let force = along[cycle as usize] * (q[axis] - p[axis]);
                slope[next][axis] += force;
                slope[node][axis] -= force;
            }
        }
        energy
    }
}
