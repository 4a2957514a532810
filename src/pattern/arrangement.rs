//! Which strand has which colour, and what may be chosen.

use std::fmt;

/// Which colour each strand has, as places in a list of colours.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Arrangement(pub Vec<u8>);

impl Arrangement {
    /// How many strands have each colour.
    pub fn counts(&self) -> Vec<usize> {
        let most = self
            .0
            .iter()
            .copied()
            .max()
            .map_or(0, |c| usize::from(c) + 1);
        let mut counts = vec![0; most];
        for &colour in &self.0 {
            counts[usize::from(colour)] += 1;
        }
        counts
    }

    /// The strands of a colour.
    pub fn strands_of(&self, colour: u8) -> Vec<usize> {
        let all = self.0.iter().enumerate();
        all.filter(|&(_, &c)| c == colour).map(|(i, _)| i).collect()
    }

    /// Strand `i` with the colour of strand `member[i]`.
    pub(super) fn moved(&self, member: &[u8]) -> Self {
        Self(
            member
                .iter()
                .map(|&part| self.0[usize::from(part)])
                .collect(),
        )
    }
}

impl fmt::Display for Arrangement {
    /// A letter for each colour, in the order of the strands: `AABBAABB`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for &colour in &self.0 {
            f.write_str(&crate::cord::strand_name(usize::from(colour)))?;
        }
        Ok(())
    }
}

/// How many strands of each colour there are to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Contents {
    /// So many of each; together as many as there are strands.
    Counts(Vec<usize>),
    /// Any number of each of so many colours.
    UpTo(usize),
}

impl Contents {
    /// How many colours.
    pub fn colours(&self) -> usize {
        match self {
            Self::Counts(counts) => counts.len(),
            Self::UpTo(colours) => *colours,
        }
    }
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// How many strands of each colour.
    pub contents: Contents,
    /// Whether two looks are one if the colours only change places; of fixed
    /// counts only colours of equal count do.
    pub colours_change_places: bool,
}

impl Choice {
    /// These counts, every colour as itself.
    pub fn counts(counts: &[usize]) -> Self {
        Self {
            contents: Contents::Counts(counts.to_vec()),
            colours_change_places: false,
        }
    }

    /// Up to so many colours, every colour as itself.
    pub fn up_to(colours: usize) -> Self {
        Self {
            contents: Contents::UpTo(colours),
            colours_change_places: false,
        }
    }

    /// The same, but colours may change places.
    #[must_use]
    pub fn changing_places(self) -> Self {
        Self {
            colours_change_places: true,
            ..self
        }
    }

    /// Colours that may change places with each other, as classes numbered from 0.
    pub(super) fn classes(&self) -> Vec<usize> {
        let colours = self.contents.colours();
        if !self.colours_change_places {
            return (0..colours).collect();
        }
        match &self.contents {
            Contents::UpTo(_) => vec![0; colours],
            Contents::Counts(counts) => {
                let first = |count: &usize| counts.iter().position(|other| other == count);
                counts
                    .iter()
                    .map(|count| first(count).unwrap_or(0))
                    .collect()
            }
        }
    }
}
