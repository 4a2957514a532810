//! Plain makings for the tests of this room.

use super::Makings;
use crate::cord::{Tension, Twist};
use crate::material::{Colour, Strand, on_shelf};
use crate::structure::shelf;

const SATIN: &str = "satin cord 2 mm, polyester";

/// A cord of satin by the structure of this name.
pub(super) fn cord_of(structure: &str, strands: usize) -> Makings {
    let mut lists = shelf().iter();
    let list = lists.find(|it| it.name == structure && it.strands() == strands);
    Makings {
        structure: structure.to_owned(),
        moves: list.expect("it is on the shelf").moves.clone(),
        strands: vec![Strand::single(SATIN, Colour([0; 3])); strands],
        cores: Vec::new(),
        fibres: vec![on_shelf(SATIN).expect("it is on the shelf").clone()],
        tension: Tension::Slots(0.6),
        counterweight: 70.0,
        twist: Twist::Free,
    }
}

/// The same with strands told apart by these numbers, round the disc.
pub(super) fn coloured(mut makings: Makings, colours: &[u8]) -> Makings {
    for (strand, &number) in makings.around().into_iter().zip(colours) {
        makings.strands[strand].parts[0].colour = Colour([number; 3]);
    }
    makings
}
