//! Tubes for tests: limp, hard, weightless, of diameter one, each going on in itself.

use super::{Ends, Hold, Squeeze, Tubes};

/// A cell whose rise and turn are found.
pub(super) const SCREW: Ends = Ends::Screw {
    lift: Hold::Free,
    turn: Hold::Free,
};

pub(super) fn limp(strands: usize, nodes: usize, ends: Ends) -> Tubes {
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
        sections: Vec::new(),
    }
}
