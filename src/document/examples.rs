//! Finished designs that come with the program, in its own format.
//!
//! They are made by the test `the_finished_designs_are_made_of_the_shelves`
//! in `tests/files/finished.rs`, edit by edit as a maker would.

use std::sync::LazyLock;

use super::design::Design;
use super::format::read;

/// The files, the one that opens at the first start first.
const FILES: [&str; 5] = [
    include_str!("../../resources/designs/harbour-glass.plait"),
    include_str!("../../resources/designs/mooring-ring.plait"),
    include_str!("../../resources/designs/slack-water.plait"),
    include_str!("../../resources/designs/lamp-quay.plait"),
    include_str!("../../resources/designs/winter-pier.plait"),
];

/// The finished designs; the first opens at the first start.
pub fn examples() -> &'static [Design] {
    static DESIGNS: LazyLock<Vec<Design>> = LazyLock::new(|| {
        let kept = FILES.iter().map(|text| read(text.as_bytes()));
        kept.map(|kept| kept.expect("a test reads them all").design)
            .collect()
    });
    &DESIGNS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Braid;

    #[test]
    fn every_finished_design_is_sound_and_its_moves_are_a_braid() {
        assert_eq!(examples().len(), 5);
        for design in examples() {
            assert_eq!(design.check(), Ok(()), "{}", design.name);
            assert!(design.not_yet().is_empty());
            let braid = Braid::new(&design.sections[0].moves);
            assert!(braid.is_ok(), "{}: {braid:?}", design.name);
        }
    }

    #[test]
    fn the_finished_designs_differ_in_strands_and_fibres() {
        let mut strands: Vec<_> = examples().iter().map(|d| d.strands.len()).collect();
        strands.sort_unstable();
        assert_eq!(strands, [4, 7, 8, 12, 16]);
        let first: Vec<_> = examples().iter().map(|d| &d.fibres[0].name).collect();
        for (i, name) in first.iter().enumerate() {
            assert!(!first[..i].contains(name), "{name} twice");
        }
    }
}
