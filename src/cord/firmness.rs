//! How firm a cord is: how much longer it is with a weight hung on it than at
//! rest.
//!
//! The strands are taken as not stretching, so that this is the give of the braid
//! alone: strands that are wound steeply, or lie round a hollow, give more.

use super::pull::under_pull;
use super::recipe::Recipe;
use super::solve::Cord;
use super::solved::SolveError;
use crate::mechanics::Progress;
use crate::quantity::Estimate;

/// What is hung on a cord to tell how firm it is, g.
pub const FIRMNESS_GRAMS: f64 = 1000.0;
/// Longer by less than this is firm, by more than the other springy, per cent. Our
/// guess: of the structures that come with the program, in satin cord, about a third
/// is firm and a quarter springy.
const MIDDLING: (f64, f64) = (12.0, 18.0);

/// How firm a cord is, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Firmness {
    /// Hardly gives.
    Firm,
    /// Gives a little.
    Middling,
    /// Gives like a spring.
    Springy,
}

impl Firmness {
    /// All, the firmest first.
    pub const ALL: [Self; 3] = [Self::Firm, Self::Middling, Self::Springy];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Firm => "firm",
            Self::Middling => "middling",
            Self::Springy => "springy",
        }
    }

    /// Of a cord that is so many per cent longer under [`FIRMNESS_GRAMS`].
    pub fn of(longer: f64) -> Self {
        match longer {
            it if it < MIDDLING.0 => Self::Firm,
            it if it < MIDDLING.1 => Self::Middling,
            _ => Self::Springy,
        }
    }
}

/// Length with [`FIRMNESS_GRAMS`] hung on the cord against its rested length, per
/// cent; none if it does not come to rest under so much.
///
/// # Errors
///
/// [`SolveError::Stopped`] when told so.
pub fn lengthening(
    recipe: &Recipe,
    cord: &Cord,
    progress: &Progress,
) -> Result<Option<Estimate>, SolveError> {
    let curve = under_pull(recipe, cord, FIRMNESS_GRAMS, 2, progress)?;
    Ok(curve.get(1).map(|point| point.longer))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_gives_more_is_called_springier() {
        let words = [8.9, 12.0, 17.9, 18.0, 30.3].map(|longer| Firmness::of(longer).word());
        assert_eq!(
            words,
            ["firm", "middling", "middling", "springy", "springy"]
        );
    }
}
