//! The engine against the literature. Every expected figure has its source
//! beside it; none of them is known to the engine.

#[path = "published/bundles.rs"]
mod bundles;
#[path = "published/knots.rs"]
mod knots;
#[path = "published/ropes.rs"]
mod ropes;

use plaitwright::mechanics::{Ends, Squeeze, Tubes};

/// Limp, hard tubes of diameter one under a pull of one.
fn limp_tubes(strands: usize, nodes: usize, ends: Ends) -> Tubes {
    Tubes {
        strands,
        nodes,
        continues: (0..strands).collect(),
        radius: vec![0.5; strands * nodes],
        pull: vec![1.0; strands],
        bending: vec![0.0; strands],
        squeeze: vec![Squeeze::Hard; strands],
        ends,
        weight: 0.0,
        band: 0.0,
        lengths: None,
    }
}

fn assert_near(found: f64, published: f64, tolerance: f64, what: &str) {
    assert!(
        (found - published).abs() <= tolerance,
        "{what}: found {found}, published {published} ± {tolerance}"
    );
}
