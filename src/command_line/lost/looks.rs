//! Which strands of a design look the same, and what their looks are called.

use crate::cord::strand_name;
use crate::material::Strand;

/// The looks of the strands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Looks {
    /// Of each strand the number of its look.
    pub(super) of: Vec<usize>,
    /// The colours of each look, as files write them.
    colours: Vec<Vec<String>>,
}

impl Looks {
    /// Strands of the same colours look the same.
    pub(super) fn of(strands: &[Strand]) -> Self {
        let mut colours: Vec<Vec<String>> = Vec::new();
        let look = |strand: &Strand| {
            let mut these: Vec<String> = strand
                .parts
                .iter()
                .map(|part| part.colour.to_string())
                .collect();
            these.sort();
            these.dedup();
            let known = colours.iter().position(|other| *other == these);
            known.unwrap_or_else(|| {
                colours.push(these);
                colours.len() - 1
            })
        };
        let of = strands.iter().map(look).collect();
        Self { of, colours }
    }

    /// Each strand has a look of its own, of which no colour is known.
    pub(super) fn all_different(strands: usize) -> Self {
        Self {
            of: (0..strands).collect(),
            colours: vec![Vec::new(); strands],
        }
    }

    /// The look that is called so.
    pub(super) fn named(&self, name: &str) -> Result<usize, String> {
        let letter = |strand: &usize| strand_name(*strand).eq_ignore_ascii_case(name);
        if let Some(strand) = (0..self.of.len()).find(letter) {
            return Ok(self.of[strand]);
        }
        let has = |colours: &&Vec<String>| colours.iter().any(|one| one.eq_ignore_ascii_case(name));
        let mut with = self.colours.iter().filter(has);
        match (with.next(), with.next()) {
            (Some(colours), None) => {
                let look = self.colours.iter().position(|other| other == colours);
                look.ok_or_else(|| format!("no strand looks like {name:?}"))
            }
            (Some(_), Some(_)) => Err(format!(
                "several looks have the colour {name:?}; say the letter of a strand"
            )),
            _ => Err(format!(
                "no strand is called {name:?} or has that colour; say A to {}, a colour such as \
                 \"#1d6f78\", \"full\" or \"empty\"",
                strand_name(self.of.len().saturating_sub(1))
            )),
        }
    }

    /// What each look is called: the strands that have it, and their colours.
    pub(super) fn names(&self) -> Vec<String> {
        let name = |look: usize| {
            let with = self.of.iter().enumerate().filter(|(_, of)| **of == look);
            let letters: Vec<String> = with.map(|(strand, _)| strand_name(strand)).collect();
            let colours = self.colours[look].join(" and ");
            match colours.as_str() {
                "" => format!("strand {}", letters.join(", ")),
                colours => format!("{colours} ({})", letters.join(", ")),
            }
        };
        (0..self.colours.len()).map(name).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Colour;

    #[test]
    fn strands_of_the_same_colours_look_the_same() {
        let strand = |colour| Strand::single("silk", Colour(colour));
        let strands = [strand([1, 2, 3]), strand([9, 9, 9]), strand([1, 2, 3])];
        let looks = Looks::of(&strands);
        assert_eq!(looks.of, [0, 1, 0]);
        assert_eq!(looks.named("c"), Ok(0));
        assert_eq!(looks.named("#090909"), Ok(1));
        assert_eq!(looks.names()[0], "#010203 (A, C)");
        assert!(looks.named("tin").unwrap_err().contains("A to C"));
    }
}
