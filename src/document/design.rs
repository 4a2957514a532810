//! A design: only what was decided, nothing that can be computed.
//!
//! Strand `i` of the design sits at `start[i]` of every section's moves;
//! people call it by its letter ([`strand_name`]).

use serde::{Deserialize, Serialize};

use super::check::{At, DesignError};
pub use crate::cord::strand_name;
use crate::cord::{Figures, Recipe, RecipeError, Tension, Twist};
use crate::material::{Fibre, Strand, on_shelf};
pub use crate::plan::Piece;
use crate::plan::{Job, Plan, Workshop, laid_together, plan};
use crate::quantity::UnitSystem;
use crate::structure::{MoveList, Numbering, Place, Structure};

/// How the cord is braided.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Braiding {
    /// What holds the strands.
    pub tension: Tension,
    /// Counterweight, grams.
    pub counterweight: f64,
    /// Free or held twist.
    pub twist: Twist,
    /// How the maker's disc is numbered.
    pub numbering: Numbering,
}

/// A strand that runs straight up the middle and is braided round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Core {
    /// What it is made of.
    pub strand: Strand,
}

/// Beads threaded on one strand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bead {
    /// The strand they are threaded on, counted from 0.
    pub strand: usize,
    /// What the maker calls them.
    pub name: String,
    /// Diameter, mm.
    pub outer: f64,
    /// Diameter of the hole, mm.
    pub hole: f64,
    /// Length along the hole, mm.
    pub length: f64,
    /// How many are let down each time the strand is moved.
    pub per_move: u16,
}

/// A run of cord worked with one list of moves.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Name of the structure on a shelf; a remark only.
    pub structure: String,
    /// The moves themselves, with the start; strand `i` of the design starts at `start[i]`.
    pub moves: MoveList,
    /// How many times the list is worked; none while the length decides.
    #[serde(default)]
    pub repeat: Option<u32>,
    /// What is braided round; all of it solved as one round in the middle.
    #[serde(default)]
    pub cores: Vec<Core>,
    /// Beads; kept, not solved yet.
    #[serde(default)]
    pub beads: Vec<Bead>,
}

/// Everything that was decided about a cord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Design {
    /// Its name.
    pub name: String,
    /// A remark.
    #[serde(default)]
    pub note: String,
    /// The fibres used, complete, so that a file can travel.
    pub fibres: Vec<Fibre>,
    /// The strands.
    pub strands: Vec<Strand>,
    /// The sections in order; now one.
    pub sections: Vec<Section>,
    /// How it is braided.
    pub braiding: Braiding,
    /// The finished piece.
    pub piece: Piece,
}

impl Default for Braiding {
    /// A hand-held disc, disc and cord turning together.
    ///
    /// Our guess of a common hand: slots that pull 0.6 N on a 2 mm strand (0.3
    /// to 1.5, new to worn) and 70 g, common practice for 1 to 2 mm cord.
    fn default() -> Self {
        Self {
            tension: Tension::Slots(0.6),
            counterweight: 70.0,
            twist: Twist::Free,
            numbering: Numbering::Clockwise,
        }
    }
}

/// What strands are made of until the maker says otherwise.
const FIRST_FIBRE: &str = "satin cord 2 mm, polyester";

impl Design {
    /// A new design of a ready list of moves, all strands of one satin cord.
    pub fn fresh(structure: &Structure) -> Self {
        let satin = on_shelf(FIRST_FIBRE).expect("a test looks it up on the shelf");
        Self {
            name: structure.name.clone(),
            note: String::new(),
            fibres: vec![satin.clone()],
            strands: vec![Strand::single(&satin.name, satin.colour); structure.strands()],
            sections: vec![Section {
                structure: structure.name.clone(),
                moves: structure.moves.clone(),
                ..Section::default()
            }],
            braiding: Braiding::default(),
            piece: Piece::default(),
        }
    }

    /// Whether everything in it is finite, sensible and fits together.
    ///
    /// The moves may still be no braid: that is for the structure to say.
    ///
    /// # Errors
    ///
    /// The first fault found, with the place it sits at.
    pub fn check(&self) -> Result<(), DesignError> {
        self.check_at(&At::root())
    }

    /// All that its cord depends on.
    ///
    /// # Errors
    ///
    /// One sentence for the maker when the moves, the strands or the forces
    /// make no cord.
    pub fn recipe(&self) -> Result<Recipe, RecipeError> {
        let moves = self.sections.first().map(|section| section.moves.clone());
        let braiding = &self.braiding;
        let recipe = Recipe::new(
            &moves.unwrap_or_default(),
            &self.strands,
            &self.fibres,
            braiding.tension,
            braiding.counterweight,
            braiding.twist,
        )?;
        recipe.with_cores(&self.cores(), &self.fibres)
    }

    /// What `work` makes of it on the cutting table, for a cord with these figures in this
    /// workshop; sentences speak of lengths in `units`.
    pub fn on_the_table<T>(
        &self,
        figures: &Figures,
        workshop: &Workshop,
        units: UnitSystem,
        work: impl FnOnce(&Job<'_>) -> T,
    ) -> T {
        work(&Job {
            figures,
            strands: &self.strands,
            cores: &self.cores(),
            fibres: &self.fibres,
            around: &self.slot_order(),
            tension: self.braiding.tension,
            counterweight: self.braiding.counterweight,
            piece: &self.piece,
            workshop,
            units,
        })
    }

    /// From its wish to the cutting table; see [`Self::on_the_table`].
    pub fn plan(&self, figures: &Figures, workshop: &Workshop, units: UnitSystem) -> Plan {
        self.on_the_table(figures, workshop, units, plan)
    }

    /// What its cord is braided round, in order.
    pub fn cores(&self) -> Vec<Strand> {
        let cores = self.sections.first().map(|section| &section.cores);
        cores
            .into_iter()
            .flatten()
            .map(|core| core.strand.clone())
            .collect()
    }

    /// The strands in the order of the solved form: those that are braided,
    /// then all cores as one.
    pub fn drawn(&self) -> Vec<Strand> {
        let core = Strand::together(&self.cores());
        self.strands.iter().cloned().chain(core).collect()
    }

    /// The fibre of that name.
    pub fn fibre(&self, name: &str) -> Option<&Fibre> {
        self.fibres.iter().find(|fibre| fibre.name == name)
    }

    /// The strands that have an end of the fibre of that name.
    pub fn strands_with(&self, fibre: &str) -> Vec<usize> {
        let has = |strand: &Strand| strand.parts.iter().any(|part| part.fibre == fibre);
        (0..self.strands.len())
            .filter(|&i| has(&self.strands[i]))
            .collect()
    }

    /// The strand that starts at `place`.
    pub fn strand_at(&self, place: Place) -> Option<usize> {
        let start = &self.sections.first()?.moves.start;
        start.iter().position(|&taken| taken == place)
    }

    /// The strands in the order of their slots at the start, clockwise from
    /// slot 1; one held in the hand comes last.
    pub fn slot_order(&self) -> Vec<usize> {
        let start = self.sections.first().map(|section| &section.moves.start);
        let mut order: Vec<usize> = (0..self.strands.len()).collect();
        order.sort_by_key(|&i| start.and_then(|start| start.get(i)).copied());
        order
    }

    /// The strands in the order of the set-up, by the lengths they are cut as: two
    /// together where one length is folded between them.
    pub fn set_up(&self) -> Vec<Vec<usize>> {
        laid_together(&self.strands, &self.slot_order(), &self.piece)
    }

    /// What the design holds that this version keeps but does not solve, one
    /// sentence each.
    pub fn not_yet(&self) -> Vec<String> {
        let mut said = Vec::new();
        if self
            .sections
            .iter()
            .any(|section| !section.beads.is_empty())
        {
            said.push("The cord is shown without its beads: this version keeps beads but does not solve them yet.".into());
        }
        if self.sections.len() > 1 {
            said.push("Only the first section is shown: this version keeps further sections but does not solve them yet.".into());
        }
        said
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::sample_design;
    use crate::structure::shelf;

    #[test]
    fn every_ready_list_makes_a_sound_design() {
        for structure in shelf() {
            assert_eq!(Design::fresh(structure).check(), Ok(()));
        }
    }

    #[test]
    fn the_slot_order_follows_the_disc_and_not_the_strands() {
        let mut design = sample_design();
        let start = [30, 2, 9, 17].map(Place::slot);
        design.sections[0].moves.start = start.into();
        assert_eq!(design.slot_order(), [1, 2, 3, 0]);
        assert_eq!(design.strand_at(Place::slot(9)), Some(2));
        assert_eq!(design.strand_at(Place::slot(10)), None);
    }

    #[test]
    fn beads_are_said_to_be_left_out_and_a_core_is_not() {
        let mut design = sample_design();
        assert!(design.not_yet().is_empty());
        let strand = design.strands[0].clone();
        design.sections[0].cores.push(Core { strand });
        design.sections[0].beads.push(Bead {
            strand: 1,
            name: "sea glass".into(),
            outer: 4.0,
            hole: 1.2,
            length: 3.0,
            per_move: 1,
        });
        assert_eq!(design.check(), Ok(()));
        assert_eq!(design.not_yet().len(), 1);
        assert_eq!(design.drawn().len(), design.strands.len() + 1);
        let recipe = design.recipe().unwrap();
        assert_eq!(recipe.core_body(), Some(&recipe.bodies()[0]));
    }
}
