//! The cord off the weight: its shape, solved.
//!
//! How much shorter a cord is off the weight is a figure of its fibres, as
//! [`Figures::off_weight`](super::Figures) has it. The strands keep the length they
//! have in it and the rise is held at what is left; where they lie then is found
//! as on the disc. So thickness, lay and every float of the rested cord come out
//! of a solve, and agree with the figures in length by their making, in thickness
//! only as far as the figures are right.
//!
//! Knows no findings and no spreads.

use super::form::Form;
use super::measure::per_strand;
use super::passes::NEARLY_AT_REST;
use super::solve::Cord;
use super::solved::{SolveError, Solved};
use crate::mechanics::{Ends, Hold, Progress, Schedule, Shape, Tubes, strand_lengths, tighten};

/// The shape of a solved cord off the weight and rested, mm; none if it does not
/// come to rest so much shorter.
///
/// # Errors
///
/// [`SolveError::Stopped`] when told so.
pub fn rested(cord: &Cord, progress: &Progress) -> Result<Option<Form>, SolveError> {
    let share = 1.0 + cord.sizes.off_weight / 100.0;
    match off_the_weight(&cord.solved, share, progress) {
        Ok(solved) => Ok(Some(solved.form())),
        Err(SolveError::Stopped) => Err(SolveError::Stopped),
        Err(_) => Ok(None),
    }
}

/// The same cord with its rise brought to this share and its strands as long as before.
fn off_the_weight(solved: &Solved, share: f64, progress: &Progress) -> Result<Solved, SolveError> {
    let on_disc = solved.shown();
    let lengths = per_strand(&solved.tubes, &strand_lengths(&solved.tubes, on_disc));
    let turn = match solved.tubes.ends {
        Ends::Screw { turn, .. } => turn,
        Ends::Lattice { .. } | Ends::Closed { .. } => Hold::Free,
    };
    let tubes = Tubes {
        ends: Ends::Screw {
            lift: Hold::Held,
            turn,
        },
        weight: 0.0,
        lengths: Some(lengths),
        ..solved.tubes.clone()
    };
    let start = shortened(on_disc, share);
    let warm = Schedule::warm().to(NEARLY_AT_REST);
    let (shape, report) = tighten(&tubes, start, &warm, progress)?;
    let mut rested = Solved {
        tubes,
        shape,
        limit: None,
        report: solved.report.and(&report, solved.report.shapes),
        ..solved.clone()
    };
    if solved.limit.is_some() {
        let firmer = Schedule::firmer().to(NEARLY_AT_REST);
        let (firmer, _) = tighten(&rested.tubes, rested.shape.clone(), &firmer, progress)?;
        rested.limit = Some(Shape::hard_limit(&rested.shape, &firmer));
    }
    rested.checked()
}

/// A shape pressed together along its axis, and as much wider across.
fn shortened(shape: &Shape, share: f64) -> Shape {
    let wider = share.sqrt().recip();
    let pressed = |[x, y, z]: [f64; 3]| [x * wider, y * wider, z * share];
    Shape {
        points: shape.points.iter().map(|&p| pressed(p)).collect(),
        lift: shape.lift * share,
        ..shape.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Quality, Recipe, Tension, Twist, solve};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::mechanics::silhouette;
    use crate::structure::shelf;

    fn cord(structure: &str, fibre: &str) -> Cord {
        let fibre = on_shelf(fibre).unwrap().clone();
        let mut lists = shelf().iter();
        let list = lists.find(|it| it.strands() == 8 && it.name == structure);
        let strands = vec![Strand::single(&fibre.name, Colour([0; 3])); 8];
        let moves = &list.unwrap().moves;
        let tension = Tension::Slots(0.6);
        let recipe = Recipe::new(moves, &strands, &[fibre], tension, 70.0, Twist::Free).unwrap();
        solve(&recipe, None, Quality::Fine, &Progress::new()).unwrap()
    }

    fn thickness(solved: &Solved) -> f64 {
        silhouette(&solved.tubes, solved.shown()).mean * solved.scale.length
    }

    #[test]
    fn off_the_weight_a_cord_is_shorter_as_its_figures_say_and_its_strands_as_long() {
        for fibre in ["satin cord 2 mm, polyester", "pearl cotton no. 5"] {
            let cord = cord("Round spiral", fibre);
            let share = 1.0 + cord.figures.off_weight.value / 100.0;
            let rested = off_the_weight(&cord.solved, share, &Progress::new()).unwrap();
            let form = rested.form();
            assert!((form.lift / cord.form.lift - share).abs() < 1e-9, "{fibre}");
            let length = |of: &Solved| strand_lengths(&of.tubes, of.shown()).iter().sum::<f64>();
            let kept = length(&rested) / length(&cord.solved);
            assert!((kept - 1.0).abs() < 3e-3, "{fibre}: {kept}");
        }
    }

    /// By its figures its section grows as its length goes, by what was solved it need not.
    #[test]
    fn the_solved_rested_cord_is_as_thick_as_its_figure_allows() {
        for structure in ["Round spiral", "Square, side by side"] {
            let cord = cord(structure, "satin cord 2 mm, polyester");
            let share = 1.0 + cord.figures.off_weight.value / 100.0;
            let rested = off_the_weight(&cord.solved, share, &Progress::new()).unwrap();
            let (before, after) = (thickness(&cord.solved), thickness(&rested));
            let told = cord.figures.thickness_rested;
            assert!(after > 1.002 * before, "{structure}: {before} to {after}");
            assert!((told.low..told.high).contains(&after), "{after}, {told:?}");
        }
    }

    #[test]
    fn a_rest_that_is_called_off_says_so() {
        let cord = cord("Round spiral", "satin cord 2 mm, polyester");
        let progress = Progress::new();
        progress.stop();
        assert_eq!(rested(&cord, &progress).unwrap_err(), SolveError::Stopped);
    }
}
