//! Fillings: marks that tell strands apart besides their colours, on the screen
//! and on paper printed grey.

use crate::material::{Colour, Strand};

/// How a strand is filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Filling {
    /// Nothing but its colour.
    Solid,
    /// Lines aslant.
    Hatched,
    /// A broad line in the middle, of another tone.
    Open,
    /// Dots.
    Dotted,
    /// Lines aslant both ways.
    CrossHatched,
    /// Lines along it.
    Striped,
}

impl Filling {
    /// All, in the order in which they are given out.
    pub const ALL: [Self; 6] = [
        Self::Solid,
        Self::Hatched,
        Self::Open,
        Self::Dotted,
        Self::CrossHatched,
        Self::Striped,
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Hatched => "hatched",
            Self::Open => "open",
            Self::Dotted => "dotted",
            Self::CrossHatched => "cross-hatched",
            Self::Striped => "striped",
        }
    }
}

/// A filling for each strand: strands of the same colours have the same, in the
/// order of their first. None for any where there are more kinds than fillings:
/// letters alone tell them then.
pub fn fillings(strands: &[Strand]) -> Vec<Option<Filling>> {
    let colours = |strand: &Strand| strand.parts.iter().map(|part| part.colour).collect();
    let mut kinds: Vec<Vec<Colour>> = Vec::new();
    let mut place = |strand: &Strand| {
        let colours = colours(strand);
        let known = kinds.iter().position(|kind| *kind == colours);
        known.unwrap_or_else(|| {
            kinds.push(colours);
            kinds.len() - 1
        })
    };
    let places: Vec<usize> = strands.iter().map(&mut place).collect();
    let are_few = kinds.len() <= Filling::ALL.len();
    let filling = |place: usize| are_few.then(|| Filling::ALL[place]);
    places.into_iter().map(filling).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strands(shades: &[u8]) -> Vec<Strand> {
        let of = |shade: &u8| Strand::single("satin", Colour([*shade; 3]));
        shades.iter().map(of).collect()
    }

    #[test]
    fn strands_of_one_colour_are_filled_alike_and_others_otherwise() {
        let filled = fillings(&strands(&[9, 200, 9, 90]));
        let [solid, hatched, open] = [Filling::Solid, Filling::Hatched, Filling::Open].map(Some);
        assert_eq!(filled, [solid, hatched, solid, open]);
    }

    #[test]
    fn more_colours_than_fillings_have_letters_alone() {
        assert_eq!(
            fillings(&strands(&[1, 2, 3, 4, 5, 6])).last(),
            Some(&Some(Filling::Striped))
        );
        let seven = fillings(&strands(&[1, 2, 3, 4, 5, 6, 7]));
        assert_eq!(seven, [None; 7]);
    }
}
