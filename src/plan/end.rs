//! The bound end: what goes into a cap, and whether it does.
//!
//! There is one thickness of the bound end of a design: [`bound_end`] of its figures
//! and its binding. The cord gives the bundle of its strands, the binding what lies
//! round it.

use super::piece::{Binding, Round};
use crate::cord::Figures;
use crate::quantity::{Estimate, propagated};

/// What thread or seal adds against their measure, at least and at most: thread flattens
/// and crosses over itself. Our guess; of two layers of 0.1 mm it is the 0.2 to 0.6 mm of
/// common practice.
const LIES: [f64; 2] = [0.5, 1.5];

/// Across the bound end, mm: the strands, the thread round them and the seal on it.
pub fn bound_end(figures: &Figures, binding: &Binding) -> Estimate {
    let bundle = match binding.round {
        Round::Braid => figures.bundle,
        Round::Tails => figures.bundle_of_tails,
    };
    let wound = 2.0 * f64::from(binding.layers) * binding.thread;
    let parts = [bundle, lying(wound), lying(2.0 * binding.seal)];
    propagated(&parts, |x| x.iter().sum())
}

/// A thickness that lies flatter or rougher than it measures.
fn lying(mm: f64) -> Estimate {
    let [low, high] = LIES.map(|share| share * mm);
    Estimate {
        value: mm,
        low,
        high,
    }
}
