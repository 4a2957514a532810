//! What lies on the table before anything was decided.

use crate::document::{Braiding, Design, Piece, Section, examples};
use crate::material::{Colour, Strand, on_shelf, shelf};
use crate::structure;

/// The fibre a plain cord is made of, and the samples of structures.
pub(super) const PLAIN_FIBRE: &str = "satin cord 2 mm, polyester";

/// Two colours that part a cord's floats.
const COLOURS: [Colour; 2] = [Colour([0x2b, 0x37, 0x5b]), Colour([0xee, 0xe6, 0xd2])];

/// A plain cord of eight strands in two colours, ready to be changed.
pub(super) fn plain() -> Design {
    let eight = structure::shelf().iter().find(|s| s.strands() == 8);
    let (Some(structure), Some(fibre)) = (eight, on_shelf(PLAIN_FIBRE).or(shelf().first())) else {
        return examples()[0].clone();
    };
    let strand = |place: usize| Strand::single(&fibre.name, COLOURS[place / 2 % 2]);
    Design {
        name: "New cord".to_owned(),
        note: String::new(),
        fibres: vec![fibre.clone()],
        strands: (0..structure.strands()).map(strand).collect(),
        sections: vec![Section {
            structure: structure.name.clone(),
            moves: structure.moves.clone(),
            ..Section::default()
        }],
        braiding: Braiding::default(),
        piece: Piece::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_cord_is_sound_and_its_fibre_is_on_the_shelf() {
        assert_eq!(plain().check(), Ok(()));
        assert!(on_shelf(PLAIN_FIBRE).is_some(), "{PLAIN_FIBRE}");
        assert_eq!(plain().strands.len(), 8);
    }
}
