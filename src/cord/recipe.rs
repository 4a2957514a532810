//! Everything that the answer depends on, and nothing else.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::braiding::{Tension, Twist};
use crate::material::{Body, Bound, Colour, Fibre, Strand, StrandError, Unsure};
use crate::structure::{Braid, BraidError, MoveList};

/// Standard gravity, m/s2 (exact by definition, 3rd CGPM 1901).
pub(super) const GRAVITY: f64 = 9.806_65;

/// Thickness of the strand that [`Tension::Slots`] speaks of, mm.
const SLOT_STRAND_MM: f64 = 2.0;

/// The counterweight may not come nearer than this to carrying the strands'
/// whole pull: the cord would run through the disc.
const MOST_WEIGHT_SHARE: f64 = 0.9;

/// Moves, materials and forces: the question to which a cord is the answer.
///
/// Colours and remarks are not part of it, so that painting asks nothing anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    pub(super) moves: MoveList,
    pub(super) strands: Vec<Strand>,
    /// What is braided round: all cores held together as one.
    pub(super) core: Option<Strand>,
    pub(super) fibres: Vec<Fibre>,
    pub(super) tension: Tension,
    pub(super) counterweight_g: f64,
    pub(super) twist: Twist,
    pub(super) braid: Braid,
    pub(super) bodies: Vec<Body>,
    pub(super) core_body: Option<Body>,
}

/// Why there is no cord to be solved.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecipeError {
    /// The moves are not a braid.
    #[error(transparent)]
    Moves(#[from] BraidError),
    /// A strand cannot be made of its fibres.
    #[error("strand {}: {error}", strand_name(*strand))]
    Strand {
        /// Which, from 0.
        strand: usize,
        /// Why.
        error: StrandError,
    },
    /// A core cannot be made of its fibres.
    #[error("core: {0}")]
    Core(StrandError),
    /// There are more or fewer strands than places at the start.
    #[error(
        "{strands} strands are made up but {places} places are set at the start; add or take out strands"
    )]
    Count {
        /// Strands made up.
        strands: usize,
        /// Places at the start.
        places: usize,
    },
    /// A force is zero, negative or not a number.
    #[error("the {what} must be more than nothing; it is {value}")]
    Force {
        /// Which force.
        what: &'static str,
        /// As given.
        value: f64,
    },
    /// The counterweight outweighs the strands.
    #[error(
        "a counterweight of {weight_g:.0} g pulls the cord through: the strands hold {hold_g:.0} g together; hang at most {most_g:.0} g"
    )]
    TooHeavy {
        /// Counterweight, g.
        weight_g: f64,
        /// What the strands pull together, g.
        hold_g: f64,
        /// The most that may hang, g.
        most_g: f64,
    },
}

/// What people call strand `strand`: A to Z, then AA, AB and so on.
pub fn strand_name(strand: usize) -> String {
    let last = char::from(b'A' + (strand % 26) as u8);
    if strand < 26 {
        return last.to_string();
    }
    format!("{}{last}", strand_name(strand / 26 - 1))
}

impl Recipe {
    /// The question for these moves, strands and forces; `counterweight_g` in grams.
    ///
    /// # Errors
    ///
    /// See [`RecipeError`]; each is one sentence for the maker.
    pub fn new(
        moves: &MoveList,
        strands: &[Strand],
        fibres: &[Fibre],
        tension: Tension,
        counterweight_g: f64,
        twist: Twist,
    ) -> Result<Self, RecipeError> {
        let braid = Braid::new(moves)?;
        if strands.len() != moves.start.len() {
            return Err(RecipeError::Count {
                strands: strands.len(),
                places: moves.start.len(),
            });
        }
        let mut recipe = Self {
            moves: moves.clone(),
            strands: strands.iter().map(without_colour).collect(),
            core: None,
            fibres: used(strands, fibres),
            tension,
            counterweight_g,
            twist,
            braid,
            bodies: Vec::new(),
            core_body: None,
        };
        recipe.bodies = recipe.made_up()?;
        recipe.check_forces()?;
        Ok(recipe)
    }

    /// The same question with these cores in the middle, held together as one:
    /// round, of their fibre together. None takes the core out.
    ///
    /// # Errors
    ///
    /// [`RecipeError::Core`] when they cannot be made of `fibres`.
    pub fn with_cores(mut self, cores: &[Strand], fibres: &[Fibre]) -> Result<Self, RecipeError> {
        self.core = Strand::together(cores).as_ref().map(without_colour);
        let in_braid = self.fibres.clone();
        let missing = |f: &Fibre| in_braid.iter().all(|g| g.name != f.name);
        let of_core = used(self.core.as_slice(), fibres);
        self.fibres.extend(of_core.into_iter().filter(missing));
        self.core_body = self.core_made_up()?;
        Ok(self)
    }

    /// A number that is equal for equal questions, within one run of the program.
    pub fn fingerprint(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        format!("{self:?}").hash(&mut hasher);
        hasher.finish()
    }

    /// The checked moves.
    pub fn braid(&self) -> &Braid {
        &self.braid
    }

    /// The round bodies of the strands.
    pub fn bodies(&self) -> &[Body] {
        &self.bodies
    }

    /// The round body of all cores held together.
    pub fn core_body(&self) -> Option<&Body> {
        self.core_body.as_ref()
    }

    /// Pull on each strand, N: one for all, since the hand tugs them alike and
    /// a bobbin does not know what hangs on it. Slots pull in proportion to
    /// the mean thickness.
    pub fn pulls(&self) -> Vec<f64> {
        let n = self.bodies.len();
        let pull = match self.tension {
            Tension::Slots(newtons) => {
                let mean = self.bodies.iter().map(|b| b.diameter).sum::<f64>() / n as f64;
                newtons * mean / SLOT_STRAND_MM
            }
            Tension::Bobbins(grams) => grams * 1e-3 * GRAVITY,
        };
        vec![pull; n]
    }

    /// The counterweight, N.
    pub fn weight(&self) -> f64 {
        self.counterweight_g * 1e-3 * GRAVITY
    }

    /// The counterweight as a share of the strands' pull together.
    pub fn weight_share(&self) -> f64 {
        self.weight() / self.pulls().iter().sum::<f64>()
    }

    /// The share at which the frictionless cord has the shape that hands make
    /// with friction.
    ///
    /// `F_eff/(1 - F_eff) = f/(1 - f) exp(2/N + 2 mu)`: tried against a slow
    /// model of the braiding itself with stick-slip friction, 19 cases, error
    /// 0.02. No real cord was measured.
    pub fn effective_share(&self) -> f64 {
        let n = self.bodies.len() as f64;
        let mu = self.bodies.iter().map(|b| b.friction).sum::<f64>() / n;
        let share = self.weight_share();
        let odds = share / (1.0 - share) * (2.0 / n + 2.0 * mu).exp();
        odds / (1.0 + odds)
    }

    /// Which strands are of one make: equal numbers, equal make.
    pub(super) fn makes(&self) -> Vec<usize> {
        let first = |s: &Strand| self.strands.iter().position(|t| t == s);
        self.strands
            .iter()
            .map(|s| first(s).expect("a strand equals itself"))
            .collect()
    }

    /// Whether not all strands are of one make.
    pub(super) fn is_mixed(&self) -> bool {
        self.strands.iter().any(|s| *s != self.strands[0])
    }

    /// The same question with one figure of one fibre at its end.
    pub(super) fn with_fibre_at(&self, fibre: usize, unsure: Unsure, bound: Bound) -> Option<Self> {
        self.with_made_of(fibre, self.fibres[fibre].at(unsure, bound))
    }

    /// The same question with one figure of one fibre set to a value.
    pub(super) fn with_fibre(&self, fibre: usize, unsure: Unsure, value: f64) -> Option<Self> {
        self.with_made_of(fibre, self.fibres[fibre].with(unsure, value))
    }

    fn with_made_of(&self, place: usize, fibre: Fibre) -> Option<Self> {
        let mut other = self.clone();
        other.fibres[place] = fibre;
        other.bodies = other.made_up().ok()?;
        other.core_body = other.core_made_up().ok()?;
        other.check_forces().ok()?;
        Some(other)
    }

    /// The same question with all strand pulls times `factor`.
    pub(super) fn with_pull_times(&self, factor: f64) -> Option<Self> {
        let mut other = self.clone();
        other.tension = match self.tension {
            Tension::Slots(n) => Tension::Slots(n * factor),
            Tension::Bobbins(g) => Tension::Bobbins(g * factor),
        };
        other.check_forces().ok()?;
        Some(other)
    }

    fn made_up(&self) -> Result<Vec<Body>, RecipeError> {
        let body = |(strand, s): (usize, &Strand)| {
            s.body(&self.fibres)
                .map_err(|error| RecipeError::Strand { strand, error })
        };
        self.strands.iter().enumerate().map(body).collect()
    }

    fn core_made_up(&self) -> Result<Option<Body>, RecipeError> {
        let body = self.core.as_ref().map(|core| core.body(&self.fibres));
        body.transpose().map_err(RecipeError::Core)
    }

    fn check_forces(&self) -> Result<(), RecipeError> {
        let (what, value) = match self.tension {
            Tension::Slots(newtons) => ("pull of the slots", newtons),
            Tension::Bobbins(grams) => ("weight of the bobbins", grams),
        };
        for (what, value) in [(what, value), ("counterweight", self.counterweight_g)] {
            if !(value.is_finite() && value > 0.0) {
                return Err(RecipeError::Force { what, value });
            }
        }
        if self.weight_share() > MOST_WEIGHT_SHARE {
            let hold_g = self.pulls().iter().sum::<f64>() / GRAVITY * 1e3;
            return Err(RecipeError::TooHeavy {
                weight_g: self.counterweight_g,
                hold_g,
                most_g: MOST_WEIGHT_SHARE * hold_g,
            });
        }
        Ok(())
    }
}

fn without_colour(strand: &Strand) -> Strand {
    let mut plain = strand.clone();
    for part in &mut plain.parts {
        part.colour = Colour([0; 3]);
    }
    plain
}

fn used(strands: &[Strand], fibres: &[Fibre]) -> Vec<Fibre> {
    let in_use = |f: &&Fibre| {
        let parts = strands.iter().flat_map(|s| &s.parts);
        parts.into_iter().any(|p| p.fibre == f.name)
    };
    let plain = |f: &Fibre| Fibre {
        colour: Colour([0; 3]),
        note: String::new(),
        ..f.clone()
    };
    fibres.iter().filter(in_use).map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strands_are_lettered_and_go_on_with_two_letters() {
        let names: Vec<_> = [0, 2, 25, 26, 27, 63].map(strand_name).into();
        assert_eq!(names, ["A", "C", "Z", "AA", "AB", "BL"]);
    }
}
