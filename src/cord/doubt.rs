//! How far the computation itself may be off: too few nodes, contacts that give
//! a little, forces that are not quite at rest.
//!
//! Relative errors, to be added to what the inputs and the model leave open.
//! Knows nothing of either.

use super::model::Miss;
use crate::mechanics::{Shape, Tubes, silhouette, strand_lengths};

/// The error of the finer of two spacings, over their difference: errors fall as
/// the square of the spacing, and 0.21 is the finer one, 0.36 the wider.
const FINER: f64 = 0.5;
/// What is left after going to the limit of hard contacts, over the last step
/// there. Tried on the hard spiral of eight: 0.26.
const BEYOND: f64 = 0.3;
/// Relative error of a figure for each residual left. Tried: a hundredth leaves four digits.
const UNREST: f64 = 0.1;

/// What a shape measures, for comparing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Outer {
    width: f64,
    height: f64,
    take_up: f64,
}

impl Outer {
    pub(super) fn of(tubes: &Tubes, shape: &Shape) -> Self {
        let length: f64 = strand_lengths(tubes, shape).iter().sum();
        Self {
            width: silhouette(tubes, shape).mean,
            height: shape.lift,
            take_up: length / tubes.strands as f64 / shape.lift,
        }
    }
}

/// Relative errors of width, height and take-up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Doubt {
    pub width: f64,
    pub height: f64,
    pub take_up: f64,
}

impl Doubt {
    /// Of few nodes and contacts that give. Tried on all lists of the shelf.
    pub(super) const ROUGH: Self = Self {
        width: 0.015,
        height: 0.025,
        take_up: 0.01,
    };

    /// From a wider spacing, and at the finer one firm, firmer and limit.
    pub(super) fn of(wide: &Outer, [firm, firmer, limit]: [Outer; 3], residual: f64) -> Self {
        let error = |figure: fn(&Outer) -> f64| {
            let spacing = FINER * (figure(&firm) - figure(wide));
            let contact = BEYOND * (figure(&limit) - figure(&firmer));
            let apart = spacing.hypot(contact) / figure(&limit).abs();
            apart.hypot(UNREST * residual)
        };
        Self {
            width: error(|o| o.width),
            height: error(|o| o.height),
            take_up: error(|o| o.take_up),
        }
    }

    /// As shares down and up.
    pub(super) fn both_ways(self) -> Miss {
        Miss {
            width: [self.width; 2],
            height: [self.height; 2],
            take_up: [self.take_up; 2],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_that_agree_leave_no_doubt_and_others_half_their_difference() {
        let same = Outer {
            width: 4.0,
            height: 2.0,
            take_up: 1.5,
        };
        let doubt = Doubt::of(&same, [same; 3], 0.0);
        assert_eq!((doubt.width, doubt.height, doubt.take_up), (0.0, 0.0, 0.0));
        let wider = Outer {
            width: 4.08,
            ..same
        };
        let doubt = Doubt::of(&wider, [same; 3], 0.0);
        assert!(
            (doubt.width - 0.01).abs() < 1e-9 && doubt.height == 0.0,
            "{doubt:?}"
        );
    }
}
