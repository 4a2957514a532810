//! What the engine finds where the answer is published: none of the published
//! figures is known to the engine. `tests/published.rs` asserts them, `cargo bench --
//! published` prints them. All in the limit of hard strands and many nodes.

pub(crate) mod check;
pub(crate) mod knots;
pub(crate) mod limp;
pub(crate) mod packings;
pub(crate) mod ropes;
pub(crate) mod weaves;
