//! All that a cord is made of and how it is held: what changes in an answer.

use crate::cord::{Figures, Recipe, RecipeError, Tension, Twist};
use crate::material::{Colour, Fibre, Part, Strand, shelf};
use crate::plan::{Job, Piece, Price, Workshop, plan};
use crate::quantity::{Estimate, UnitSystem};
use crate::structure::MoveList;

/// Moves, materials and forces of one cord, colours included.
#[derive(Debug, Clone, PartialEq)]
pub struct Makings {
    /// Name of the structure on a shelf; a remark only.
    pub structure: String,
    /// The moves with the start; strand `i` starts at `start[i]`.
    pub moves: MoveList,
    /// The strands.
    pub strands: Vec<Strand>,
    /// What they are braided round.
    pub cores: Vec<Strand>,
    /// The fibres of all of them.
    pub fibres: Vec<Fibre>,
    /// What holds the strands.
    pub tension: Tension,
    /// Counterweight, g.
    pub counterweight: f64,
    /// Free or held twist.
    pub twist: Twist,
}

/// How much of one fibre in one colour a length of cord takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// The fibre's name.
    pub fibre: String,
    /// Its colour.
    pub colour: Colour,
    /// Length for each length of rested cord, all ends together; offcuts not counted.
    pub used: Estimate,
}

impl Makings {
    /// The question for their cord.
    ///
    /// # Errors
    ///
    /// One sentence for the maker when they make no cord.
    pub fn recipe(&self) -> Result<Recipe, RecipeError> {
        let recipe = Recipe::new(
            &self.moves,
            &self.strands,
            &self.fibres,
            self.tension,
            self.counterweight,
            self.twist,
        )?;
        recipe.with_cores(&self.cores, &self.fibres)
    }

    /// What a piece of their cord costs, with these figures of it.
    pub fn price(&self, figures: &Figures, piece: &Piece, workshop: &Workshop) -> Price {
        let around = self.around();
        let job = Job {
            figures,
            strands: &self.strands,
            cores: &self.cores,
            fibres: &self.fibres,
            around: &around,
            tension: self.tension,
            counterweight: self.counterweight,
            piece,
            workshop,
            units: UnitSystem::default(),
        };
        plan(&job).price
    }

    /// The fibre of this name: their own before that of the shelf everyone starts
    /// with, since it may hold what the maker measured.
    pub(super) fn fibre(&self, name: &str) -> Option<&Fibre> {
        let all = self.fibres.iter().chain(shelf());
        all.into_iter().find(|fibre| fibre.name == name)
    }

    /// Brings a fibre of the shelf along, if strands are made of it now.
    pub(super) fn bring(&mut self, fibre: &Fibre) {
        if self.fibres.iter().all(|own| own.name != fibre.name) {
            self.fibres.push(fibre.clone());
        }
    }

    /// Every part of every strand.
    pub(super) fn parts(&self) -> impl Iterator<Item = &Part> {
        self.strands.iter().flat_map(|strand| &strand.parts)
    }

    /// The strands in the order of their places on the disc, clockwise.
    pub(super) fn around(&self) -> Vec<usize> {
        around(&self.moves)
    }

    /// Thread that a length of their cord takes, fibre by fibre and colour by colour,
    /// in the order in which strands and cores have them.
    pub fn threads(&self, figures: &Figures) -> Vec<Thread> {
        let straight = Estimate::exact(1.0);
        let braided = self.strands.iter().zip(&figures.take_up);
        let braided = braided.map(|(strand, &used)| (strand, used));
        let cores = self.cores.iter().map(|core| (core, straight));
        let mut threads: Vec<Thread> = Vec::new();
        for (strand, used) in braided.chain(cores) {
            for part in &strand.parts {
                add(&mut threads, part, used.times(f64::from(part.ends)));
            }
        }
        threads
    }
}

/// Strands in the order of the places at which these moves start.
pub(super) fn around(moves: &MoveList) -> Vec<usize> {
    let mut order: Vec<usize> = (0..moves.start.len()).collect();
    order.sort_by_key(|&strand| moves.start[strand]);
    order
}

/// The ends of what is not certain move together: take-up is off in all strands alike.
fn add(threads: &mut Vec<Thread>, part: &Part, used: Estimate) {
    let same = |thread: &&mut Thread| thread.fibre == part.fibre && thread.colour == part.colour;
    let Some(thread) = threads.iter_mut().find(same) else {
        threads.push(Thread {
            fibre: part.fibre.clone(),
            colour: part.colour,
            used,
        });
        return;
    };
    thread.used = Estimate {
        value: thread.used.value + used.value,
        low: thread.used.low + used.low,
        high: thread.used.high + used.high,
    };
}
