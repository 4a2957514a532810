//! Which strands look alike, and what each look is called.

use crate::app::words;
use crate::document::Design;
use crate::material::{Colour, Strand};

/// The looks that the strands of a design have.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::app) struct Looks {
    /// The look of each strand, counted from 0 in the order in which they come.
    pub of: Vec<usize>,
    /// What each is called.
    pub names: Vec<String>,
    /// The first strand of each.
    pub first: Vec<usize>,
}

impl Looks {
    /// Of the strands as they are made: of the same fibres, ends and colours is alike.
    pub(in crate::app) fn of(design: &Design) -> Self {
        let strands = &design.strands;
        let alike = |strand: &Strand| strands.iter().position(|other| other == strand);
        let firsts: Vec<usize> = strands.iter().filter_map(alike).collect();
        let mut first: Vec<usize> = Vec::new();
        for &strand in &firsts {
            if !first.contains(&strand) {
                first.push(strand);
            }
        }
        let look = |strand: &usize| first.iter().position(|it| it == strand).unwrap_or(0);
        Self {
            of: firsts.iter().map(look).collect(),
            names: names(first.iter().map(|&strand| &strands[strand])),
            first,
        }
    }

    /// How many there are.
    pub(in crate::app) fn count(&self) -> usize {
        self.first.len()
    }

    /// What a look is called, with its number: `2 sea glass`.
    pub(in crate::app) fn numbered(&self, look: usize) -> String {
        let name = self.names.get(look).map_or("", String::as_str);
        format!("{} {name}", look + 1)
    }
}

/// By colour; by colour and fibre where that does not tell them apart, else counted.
fn names<'a>(strands: impl Iterator<Item = &'a Strand>) -> Vec<String> {
    let strands: Vec<&Strand> = strands.collect();
    let by_colour: Vec<String> = strands.iter().map(|it| colours(it)).collect();
    let by_fibre = |place: usize| {
        let fibres: Vec<&str> = strands[place]
            .parts
            .iter()
            .map(|it| &it.fibre[..])
            .collect();
        format!("{}, {}", by_colour[place], words::list(&fibres))
    };
    let twice = |names: &[String], name: &String| names.iter().filter(|it| *it == name).count() > 1;
    let named: Vec<String> = (0..strands.len())
        .map(|place| match twice(&by_colour, &by_colour[place]) {
            true => by_fibre(place),
            false => by_colour[place].clone(),
        })
        .collect();
    let counted = |place: usize| {
        let before = named[..place].iter().filter(|it| **it == named[place]);
        match before.count() {
            0 => named[place].clone(),
            alike => format!("{} {}", named[place], alike + 1),
        }
    };
    (0..named.len()).map(counted).collect()
}

fn colours(strand: &Strand) -> String {
    let mut colours: Vec<Colour> = strand.parts.iter().map(|part| part.colour).collect();
    colours.dedup();
    let names: Vec<&str> = colours.iter().map(|colour| colour.name()).collect();
    words::list(&names)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::fresh;

    fn design(colours: &[[u8; 3]]) -> Design {
        let mut design = fresh::plain();
        let fibre = design.strands[0].parts[0].fibre.clone();
        let strands = colours
            .iter()
            .map(|&rgb| Strand::single(&fibre, Colour(rgb)));
        design.strands = strands.collect();
        design
    }

    #[test]
    fn strands_made_alike_share_a_look() {
        let (teal, rust) = ([0x1f, 0x7c, 0x7c], [0xa8, 0x4a, 0x26]);
        let looks = Looks::of(&design(&[teal, rust, teal, teal]));
        assert_eq!(looks.of, [0, 1, 0, 0]);
        assert_eq!(looks.numbered(1), "2 rust");
    }

    #[test]
    fn looks_of_one_name_are_told_apart() {
        let near = [[0x1f, 0x7c, 0x7c], [0x1f, 0x7c, 0x7d]];
        let looks = Looks::of(&design(&near));
        assert_eq!(looks.count(), 2);
        assert_ne!(looks.names[0], looks.names[1]);
    }
}
