//! What the engine finds where the answer is published: none of the published
//! figures is known to the engine. `tests/published.rs` asserts the same by
//! itself; these are found anew, in the limit of hard strands and many nodes.

pub(crate) mod check;
pub(crate) mod knots;
mod limp;
pub(crate) mod packings;
pub(crate) mod ropes;
