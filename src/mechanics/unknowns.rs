//! From a shape to the list of its unknowns, and back.

use super::energy::Energy;
use super::flatten::begun;
use super::layout::{BAND, LIFT, SQUEEZE, TURN};
use super::tubes::{Shape, screwed};

impl Energy<'_> {
    /// The list of unknowns for a shape.
    pub(super) fn unknowns(&self, shape: &Shape) -> Vec<f64> {
        let mut at = vec![0.0; self.layout.unknowns()];
        let mut widest = 0.0_f64;
        for (node, (x, p)) in at.chunks_exact_mut(3).zip(&shape.points).enumerate() {
            x.copy_from_slice(&self.layout.unrolled(shape, node));
            widest = widest.max(p[0].hypot(p[1]) + self.tubes.radius[node]);
        }
        at[self.layout.place(LIFT)] = shape.lift;
        at[self.layout.place(TURN)] = shape.turn;
        at[self.layout.place(BAND)] = widest;
        for (number, u) in at[self.layout.squeezes()].iter_mut().enumerate() {
            if self.layout.free[SQUEEZE + number] {
                *u = shape.squeeze[number];
            }
        }
        if self.layout.flattens {
            let vectors = at[self.layout.axes()].chunks_exact_mut(3);
            for (node, (x, axis)) in vectors
                .zip(begun(self.tubes, &self.layout, shape))
                .enumerate()
            {
                let turn = -self.layout.share(node) * shape.turn;
                x.copy_from_slice(&screwed(axis, 0.0, turn));
            }
        }
        at
    }

    /// The shape for a list of unknowns.
    pub(super) fn shape(&mut self, at: &[f64]) -> Shape {
        self.place(at);
        let points = &self.images.points[..self.layout.count()];
        let mut squeeze = at[self.layout.squeezes()].to_vec();
        squeeze.resize(self.layout.count(), 0.0);
        Shape {
            points: points.iter().map(|p| [p[0], p[1], p[2]]).collect(),
            lift: self.images.lift,
            turn: at[self.layout.place(TURN)],
            squeeze,
            axes: self.ovals.own_axes(self.layout.count()),
        }
    }
}
