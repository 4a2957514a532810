//! A strand: one fibre or several held together.

use serde::{Deserialize, Serialize};

use super::fibre::{Fibre, Standing};
use super::{Body, Colour, FibreError};

/// Ends of one fibre in a strand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Name of the fibre.
    pub fibre: String,
    /// How many ends of it, at least 1.
    pub ends: u16,
    /// Its colour here.
    pub colour: Colour,
}

/// What sits in one slot: one fibre, or several held together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strand {
    /// The fibres with their ends, at least one.
    pub parts: Vec<Part>,
}

/// Why a strand has no body.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StrandError {
    /// Nothing in it.
    #[error("a strand needs at least one end of one fibre")]
    Empty,
    /// A fibre with no ends.
    #[error("{0} is in the strand with no ends; give it at least one or take it out")]
    NoEnds(String),
    /// A name that no fibre has.
    #[error("no fibre here is called {0:?}")]
    UnknownFibre(String),
    /// A fibre whose figures cannot be.
    #[error(transparent)]
    Fibre(#[from] FibreError),
}

impl Strand {
    /// One end of one fibre.
    pub fn single(fibre: &str, colour: Colour) -> Self {
        let fibre = fibre.to_owned();
        Self {
            parts: vec![Part {
                fibre,
                ends: 1,
                colour,
            }],
        }
    }

    /// All of these held together as one; nothing of none.
    pub fn together(strands: &[Self]) -> Option<Self> {
        let parts = strands.iter().flat_map(|strand| strand.parts.clone());
        (!strands.is_empty()).then(|| Self {
            parts: parts.collect(),
        })
    }

    /// How many ends it has in all.
    pub fn ends(&self) -> usize {
        self.parts.iter().map(|part| usize::from(part.ends)).sum()
    }

    /// Its fibres with their ends, looked up by name.
    ///
    /// # Errors
    ///
    /// [`StrandError`] when it is empty, a part has no ends, a name is not
    /// among `fibres`, or a fibre does not pass [`Fibre::check`].
    pub fn made_of<'a>(&self, fibres: &'a [Fibre]) -> Result<Vec<(&'a Fibre, u16)>, StrandError> {
        if self.parts.is_empty() {
            return Err(StrandError::Empty);
        }
        let parts = self.parts.iter();
        parts.map(|part| part.made_of(fibres)).collect()
    }

    /// The round body its fibres make together.
    ///
    /// # Errors
    ///
    /// As [`Self::made_of`].
    pub fn body(&self, fibres: &[Fibre]) -> Result<Body, StrandError> {
        Ok(Body::of(&self.made_of(fibres)?))
    }

    /// How well the weakest figure stands that its body rests on.
    ///
    /// Fibres that are not among `fibres` count for nothing.
    pub fn standing(&self, fibres: &[Fibre]) -> Standing {
        let known = self.parts.iter().filter_map(|part| part.find(fibres));
        let weakest = known
            .map(Fibre::standing)
            .fold(Standing::Measured, Ord::min);
        if self.ends() > 1 {
            return weakest.min(Standing::Guess);
        }
        weakest
    }

    /// What its body rests on that is no more than a guess, in plain words.
    ///
    /// Each line once; fibres that are not among `fibres` count for nothing.
    pub fn guesses(&self, fibres: &[Fibre]) -> Vec<String> {
        let known = self.parts.iter().filter_map(|part| part.find(fibres));
        let mut lines: Vec<String> = known.filter_map(Fibre::guesses).collect();
        if self.ends() > 1 {
            lines.push("how closely ends held together lie: our guess".to_owned());
        }
        lines.sort();
        lines.dedup();
        lines
    }
}

impl Part {
    fn find<'a>(&self, fibres: &'a [Fibre]) -> Option<&'a Fibre> {
        fibres.iter().find(|fibre| fibre.name == self.fibre)
    }

    fn made_of<'a>(&self, fibres: &'a [Fibre]) -> Result<(&'a Fibre, u16), StrandError> {
        if self.ends == 0 {
            return Err(StrandError::NoEnds(self.fibre.clone()));
        }
        let unknown = || StrandError::UnknownFibre(self.fibre.clone());
        let fibre = self.find(fibres).ok_or_else(unknown)?;
        fibre.check()?;
        Ok((fibre, self.ends))
    }
}

impl Fibre {
    /// Its guessed figures in one line, if it has any.
    pub fn guesses(&self) -> Option<String> {
        let guessed: Vec<&str> = self
            .figures()
            .into_iter()
            .filter(|(_, known)| known.standing == Standing::Guess)
            .map(|(figure, _)| figure)
            .collect();
        let (last, before) = guessed.split_last()?;
        let list = match before {
            [] => (*last).to_owned(),
            _ => format!("{} and {last}", before.join(", ")),
        };
        Some(format!("{list} of {}: our guess", self.name))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::shelf;

    const INK: Colour = Colour([20, 20, 20]);

    #[test]
    fn a_strand_of_nothing_or_of_strangers_is_refused() {
        let nothing = Strand { parts: vec![] };
        assert_eq!(nothing.body(shelf()), Err(StrandError::Empty));
        let stranger = Strand::single("moonlight", INK);
        let refused = stranger.body(shelf()).unwrap_err();
        assert_eq!(refused.to_string(), "no fibre here is called \"moonlight\"");
        let mut endless = Strand::single("hemp twine 1 mm", INK);
        endless.parts[0].ends = 0;
        assert!(
            endless
                .body(shelf())
                .unwrap_err()
                .to_string()
                .contains("no ends")
        );
    }

    #[test]
    fn guesses_are_named_in_plain_words() {
        let satin = Strand::single("satin cord 2 mm, polyester", INK);
        let said = satin.guesses(shelf());
        assert_eq!(
            said,
            ["packing in the braid and closest packing of satin cord 2 mm, polyester: our guess"]
        );
        assert_eq!(satin.standing(shelf()), Standing::Guess);
        let rubber = Strand::single("rubber cord 2 mm, solid", INK);
        assert!(rubber.guesses(shelf()).is_empty());
        assert_eq!(rubber.standing(shelf()), Standing::CommonPractice);
    }

    #[test]
    fn ends_held_together_add_a_guess_of_their_own() {
        let mut pair = Strand::single("rubber cord 2 mm, solid", INK);
        pair.parts[0].ends = 2;
        assert_eq!(pair.guesses(shelf()).len(), 1);
        assert_eq!(pair.standing(shelf()), Standing::Guess);
    }
}
