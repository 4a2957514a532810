//! Mixes: every strand grown from their mean to its own make.
//!
//! A mix needs as many cells of the cord of equal strands as it takes until all makes
//! are back in place. Growing moves nothing through anything, as long as the nodes
//! lie close enough.

use super::effort::Effort;
use super::nodes::{FEWEST_NODES, MOST_NODES, longest, nodes_for, with_nodes};
use super::passes::NEARLY_AT_REST;
use super::recipe::Recipe;
use super::solved::{SolveError, Solved};
use super::strandlike::{between, mean_like, strands_like, tubes_of};
use crate::mechanics::{Schedule, Shape, Tubes};

/// Steps from the mean strand to each strand's own make, with the contact
/// stiffness of each, soft while they grow, and the forces that may be left. Tried:
/// from a hundredth instead of a fifth at every step come the same figures to 0.05 %,
/// at twice to four times the looks.
const GROWTH: [(f64, f64, f64); 5] = [
    (0.25, 8.0, 0.2),
    (0.6, 8.0, 0.2),
    (1.0, 8.0, 0.2),
    (1.0, 32.0, 0.2),
    (1.0, 64.0, NEARLY_AT_REST),
];

/// Large cells keep the nodes they have while they grow: more would take minutes.
const MOST_NODES_GROWN: usize = 4000;
/// How far strands may grow beyond the wanted spacing before they get more nodes.
const SPACED_OUT: f64 = 1.3;

/// Each strand of its own make, in so many cells of equal ones.
pub(super) fn mixed(
    recipe: &Recipe,
    uniform: Solved,
    cells: usize,
    spacing: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let n = uniform.tubes.strands;
    if n * FEWEST_NODES * cells > MOST_NODES {
        return Err(SolveError::TooLong {
            moves: (uniform.rounds * cells as f64 * recipe.braid.lifts().len() as f64) as usize,
        });
    }
    let (mean, own) = (mean_like(recipe), strands_like(recipe));
    let (mut tubes, mut shape) = softened(&uniform, cells, effort)?;
    let mut report = uniform.report;
    for (share, stiffness, tolerance) in GROWTH {
        let wanted = nodes_for(longest(&tubes, &shape), n, spacing);
        let spaced_out = wanted as f64 > SPACED_OUT * tubes.nodes as f64;
        let nodes = if spaced_out && n * wanted < MOST_NODES_GROWN {
            wanted
        } else {
            tubes.nodes
        };
        if nodes != tubes.nodes {
            shape = with_nodes(&tubes, &shape, nodes);
        }
        let strands = between(&mean, &own, share);
        tubes = tubes_of(&strands, recipe, &tubes.continues, nodes);
        let schedule = Schedule::at(stiffness).to(tolerance);
        let grown = effort.tighten(&tubes, shape, &schedule);
        let (next, went) = grown.map_err(of_a_mix)?;
        shape = next;
        report = report.and(&went, report.shapes);
    }
    Ok(Solved {
        tubes,
        shape,
        rounds: uniform.rounds * cells as f64,
        cells: uniform.cells * cells,
        report,
        ..uniform
    })
}

/// Where no rest is found it is for the makes: alike they had one.
fn of_a_mix(error: SolveError) -> SolveError {
    match error {
        SolveError::Restless { .. } | SolveError::UsedUp => SolveError::TooUnlike,
        other => other,
    }
}

/// As many cells, with contacts as soft as they are while strands grow: that moves
/// the whole cord, and takes few looks in the small cell.
fn softened(
    uniform: &Solved,
    cells: usize,
    effort: &mut Effort,
) -> Result<(Tubes, Shape), SolveError> {
    let (_, stiffness, tolerance) = GROWTH[0];
    let soft = Schedule::at(stiffness).to(tolerance);
    let (shape, _) = effort.tighten(&uniform.tubes, uniform.shape.clone(), &soft)?;
    Ok(uniform.tubes.repeated(&shape, cells))
}
