//! The factor of a symmetric matrix over all unknowns, ready to answer.
//!
//! The library finds the order; the elimination and the two triangular solves are our
//! own, in `fronts` and `blocks`: all unknowns of a node are coupled alike, which a
//! library for any matrix would have to find out anew at every refresh.

use super::blocks::Blocks;
use super::fronts::factor;
use super::matrix::Parts;
use super::order::Order;

/// What a matrix may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Positive definite, or there is no factor; its values are kept to seven digits.
    Definite,
    /// Not surely so: pivots may be negative.
    Any,
}

/// Lower triangular factor `L` of a matrix `L D Lᵀ` with its unknowns in another order.
#[derive(Debug)]
pub(super) struct Factor {
    /// Unknown at each place of the factor.
    order: Vec<u32>,
    values: Values,
    work: Vec<f64>,
}

#[derive(Debug)]
enum Values {
    /// For steps downhill: nothing is lost with seven digits (tried), and large
    /// factors are fetched in half the time.
    Near(Blocks<f32>),
    Exact(Blocks<f64>),
}

impl Factor {
    /// Of a matrix given by its parts; none if it is not as `kind` says. `unknown` tells where
    /// an unknown of a node stands; the wholes are those of the node after the last.
    ///
    /// The order is found anew each time: one that is kept while contacts change
    /// fills the factor up (tried: a third more time).
    pub(super) fn of(
        parts: &Parts,
        unknown: impl Fn(usize, usize) -> usize,
        kind: Kind,
    ) -> Option<Self> {
        let pairs: Vec<[u32; 2]> = parts.near.iter().map(|(pair, _)| *pair).collect();
        let count = parts.own.len();
        let plan = Order::new(count, &pairs)?;
        let values = match kind {
            Kind::Definite => Values::Near(factor(parts, &plan, true, |x| x as f32)?),
            Kind::Any => Values::Exact(factor(parts, &plan, false, |x| x)?),
        };
        let width = |node: usize| match node == count {
            true => parts.corner.len(),
            false => parts.width,
        };
        let nodes = plan.nodes.iter().map(|&node| node as usize);
        let order: Vec<u32> = nodes
            .flat_map(|node| (0..width(node)).map(move |which| (node, which)))
            .map(|(node, which)| unknown(node, which) as u32)
            .collect();
        Some(Self {
            work: vec![0.0; order.len()],
            order,
            values,
        })
    }

    /// Turn a right side into the answer.
    pub(super) fn solve(&mut self, x: &mut [f64]) {
        for (work, &at) in self.work.iter_mut().zip(&self.order) {
            *work = x[at as usize];
        }
        match &mut self.values {
            Values::Near(blocks) => blocks.solve(&mut self.work),
            Values::Exact(blocks) => blocks.solve(&mut self.work),
        }
        for (work, &at) in self.work.iter().zip(&self.order) {
            x[at as usize] = *work;
        }
    }
}
