//! How much may be computed for one cord.
//!
//! Counted in looks at nodes and at what is near them, not by a clock: the same question
//! has the same answer on a slow machine. Whoever solves asks here; when nothing is
//! left there is a reason instead of a shape.

use super::solved::SolveError;
use crate::mechanics::{
    Progress, Report, Schedule, Shape, TightenError, Tubes, strand_lengths, tighten,
};

/// Work for one cord, all stages together, in looks at one node of a cord: 0.5 to 1.3 µs
/// each (tried).
const MOST: f64 = 9e6;
/// Most work for one way to the smallest cell, for each of its nodes. Tried on random
/// lists: cords take 100 to 5,000; strands that slide apart would shrink for minutes.
const FOR_A_CELL: f64 = 6000.0;
/// What a node costs by itself, and for each node that its radius reaches along a
/// strand: together one where nodes lie as they do in a cord of equal strands. Tried:
/// ten times as much where thick strands have the close nodes that thin ones need.
const ALONE: f64 = 0.4;
/// See [`ALONE`].
const IN_REACH: f64 = 0.35;
/// How many times as much what is in reach costs where sections may flatten. Tried.
const FLAT: f64 = 4.0;
/// Less work than this for a node comes nowhere.
const FEWEST_LOOKS: f64 = 20.0;

/// What is left of it.
#[derive(Debug)]
pub(super) struct Effort<'a> {
    pub progress: &'a Progress,
    left: f64,
}

impl<'a> Effort<'a> {
    /// All of it.
    pub(super) fn new(progress: &'a Progress) -> Self {
        Self {
            progress,
            left: MOST,
        }
    }

    /// Whether such tubes with so many nodes a piece may be looked at so often.
    pub(super) fn allows(&self, tubes: &Tubes, shape: &Shape, nodes: usize, looks: usize) -> bool {
        looks as f64 * a_look(tubes, shape, nodes) <= self.left
    }

    /// As [`tighten`], with no more work than is left.
    ///
    /// # Errors
    ///
    /// As [`tighten`], and [`SolveError::UsedUp`] where more work might have done.
    pub(super) fn tighten(
        &mut self,
        tubes: &Tubes,
        start: Shape,
        schedule: &Schedule,
    ) -> Result<(Shape, Report), SolveError> {
        self.within(self.left, tubes, start, schedule)
    }

    /// The same for a smallest cell, which takes little if it comes to rest at all.
    ///
    /// # Errors
    ///
    /// As [`Self::tighten`].
    pub(super) fn tighten_cell(
        &mut self,
        tubes: &Tubes,
        start: Shape,
        schedule: &Schedule,
    ) -> Result<(Shape, Report), SolveError> {
        let most = self.left.min(FOR_A_CELL * nodes_in(tubes));
        self.within(most, tubes, start, schedule)
    }

    fn within(
        &mut self,
        most: f64,
        tubes: &Tubes,
        start: Shape,
        schedule: &Schedule,
    ) -> Result<(Shape, Report), SolveError> {
        if most < FEWEST_LOOKS * nodes_in(tubes) {
            return Err(SolveError::UsedUp);
        }
        let short = Schedule {
            most_work: most,
            ..schedule.clone()
        };
        let done = tighten(tubes, start, &short, self.progress);
        let work = match &done {
            Ok((_, report)) => report.work,
            Err(TightenError::Restless { work, .. } | TightenError::Collapsed { work, .. }) => {
                *work
            }
            Err(_) => 0.0,
        };
        self.left -= work;
        match done {
            Err(TightenError::Restless { .. }) if work >= most => Err(SolveError::UsedUp),
            other => Ok(other?),
        }
    }
}

fn nodes_in(tubes: &Tubes) -> f64 {
    (tubes.strands * tubes.nodes) as f64
}

/// What a look at so many nodes a piece costs, about.
fn a_look(tubes: &Tubes, shape: &Shape, nodes: usize) -> f64 {
    let length: f64 = strand_lengths(tubes, shape).iter().sum();
    let radius = tubes.radius.iter().sum::<f64>() / tubes.radius.len() as f64;
    let count = (tubes.strands * nodes) as f64;
    let flat = if tubes.sections.is_empty() { 1.0 } else { FLAT };
    count * (ALONE + flat * IN_REACH * radius * count / length)
}

#[cfg(test)]
mod tests {
    use super::super::start::{START_RISE, uniform, world_lines};
    use super::super::{Recipe, Tension, Twist};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::structure::shelf;

    fn spiral() -> (Tubes, Shape) {
        let satin = on_shelf("satin cord 2 mm, polyester").unwrap().clone();
        let mut lists = shelf().iter();
        let list = lists.find(|s| s.strands() == 8 && s.name == "Round spiral");
        let strands = vec![Strand::single(&satin.name, Colour([0; 3])); 8];
        let moves = &list.unwrap().moves;
        let (pull, twist) = (Tension::Slots(0.6), Twist::Free);
        let recipe = Recipe::new(moves, &strands, &[satin], pull, 70.0, twist).unwrap();
        uniform(&recipe, &world_lines(&recipe, START_RISE).unwrap(), 8)
    }

    #[test]
    fn a_solve_is_paid_for_and_what_cannot_be_paid_for_is_refused() {
        let (tubes, start) = spiral();
        let progress = Progress::new();
        let mut effort = Effort::new(&progress);
        let schedule = Schedule::coarse();
        let (_, report) = effort.tighten(&tubes, start.clone(), &schedule).unwrap();
        let paid = MOST - effort.left;
        assert!(
            (paid - report.work).abs() < 1e-6 * paid,
            "{paid} {report:?}"
        );
        let expected = report.evaluations as f64 * a_look(&tubes, &start, tubes.nodes);
        assert!((0.5..2.0).contains(&(paid / expected)), "{paid} {expected}");
        effort.left = 1.1 * FEWEST_LOOKS * nodes_in(&tubes);
        let short = effort.tighten(&tubes, start.clone(), &schedule);
        assert!(!matches!(short, Ok((_, report)) if report.converged));
        effort.left = 0.0;
        let none = effort.tighten(&tubes, start, &schedule);
        assert_eq!(none.unwrap_err(), SolveError::UsedUp);
    }
}
