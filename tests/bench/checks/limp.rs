//! Limp, hard tubes of diameter one under a pull of one.

use plaitwright::mechanics::{Ends, Squeeze, Tubes};

/// So many strands, each a curve of its own, without weight.
pub(crate) fn limp_tubes(strands: usize, nodes: usize, ends: Ends) -> Tubes {
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
