//! Cords whose strands are all alike: what every mix grows from.
//!
//! The smallest cell is pulled tight from the world-lines; from many strands on the
//! list's resting shape is stepped from instead.

use std::sync::Arc;

use super::bands::{flattest, stepped};
use super::doubt::Doubt;
use super::effort::Effort;
use super::formation::Branch;
use super::nodes::{WIDEST_SPACING, longest, nodes_for, with_nodes};
use super::passes::{NEARLY_AT_REST, SPACING};
use super::recipe::Recipe;
use super::solved::{Grain, SolveError, SolveReport, Solved};
use super::start::{self, START_RISE};
use super::strandlike::{Scale, finest, mean_like, plain, tubes_of, with_core_grown};
use crate::mechanics::{Schedule, Shape, Tubes};
use crate::topology::CellWord;

/// Share of weight at which bands of plain strands are laid flat. Tried: soft
/// strands, and plain ones from 0.4 on, roll up more easily on the way.
const BANDS_AT: f64 = 0.25;

/// The smallest cell of equal strands, pulled tight from the world-lines.
pub(super) fn symmetric(
    recipe: &Recipe,
    closeness: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let lines = start::world_lines(recipe, START_RISE)?;
    let spacing = SPACING[0] * closeness * finest(recipe);
    let nodes = nodes_for(start::first_length(&lines), lines.strands(), spacing);
    // Before it is pulled the start is longer: strands may not slip then either.
    let nodes = nodes.max(start::fewest_nodes(&lines, closeness));
    let nodes = nodes.max(start::core_nodes(recipe, lines.lift()));
    let (tubes, shape) = start::uniform(recipe, &lines, nodes);
    let (shape, report) = if lines.is_band() && recipe.core.is_none() {
        let plain = plain(recipe, &lines.continues, nodes, BANDS_AT);
        let (flat, _) = flattest(&plain, &shape, effort)?;
        stepped(&plain, &tubes, &flat, effort)?
    } else {
        effort.tighten_cell(&tubes, shape, &Schedule::coarse())?
    };
    let rest = (tubes, shape, SolveReport::first(&report));
    let (tubes, shape, report) = close_enough(recipe, rest, spacing, effort)?;
    Ok(Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        rounds: lines.rounds(),
        report,
        moves: CellWord::new(&lines),
        cells: 1,
        kin: (recipe.moves.clone(), recipe.makes()),
        branch: None,
        limit: None,
        doubt: Doubt::ROUGH,
        kept_round: false,
        grain: Grain::Rough,
    })
}

/// The same with more nodes where a strand came out so much longer than was guessed that
/// they do not hold it apart: one that winds round others which run straight (tried:
/// nearly all length in one of three strands, nodes 0.9 apart).
fn close_enough(
    recipe: &Recipe,
    (tubes, shape, report): (Tubes, Shape, SolveReport),
    spacing: f64,
    effort: &mut Effort,
) -> Result<(Tubes, Shape, SolveReport), SolveError> {
    let length = longest(&tubes, &shape);
    if length <= WIDEST_SPACING * tubes.nodes as f64 {
        return Ok((tubes, shape, report));
    }
    let nodes = nodes_for(length, tubes.strands, spacing);
    let nodes = nodes.max(start::core_nodes(recipe, shape.lift));
    let shape = with_nodes(&tubes, &shape, nodes);
    let strands = with_core_grown(&mean_like(recipe), 0.0);
    let tubes = tubes_of(&strands, recipe, &tubes.continues, nodes);
    let near = Schedule::warm().to(NEARLY_AT_REST);
    let (shape, more) = effort.tighten_cell(&tubes, shape, &near)?;
    Ok((tubes, shape, report.and(&more, report.shapes)))
}

/// Equal strands of the recipe's mean, stepped from the list's resting shape.
pub(super) fn along(
    recipe: &Recipe,
    branch: Arc<Branch>,
    spacing: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let n = branch.tubes.strands;
    let length = longest(&branch.tubes, &branch.shape);
    // A long repeat of unlike strands has nodes no closer than need be.
    let fewest = if recipe.is_mixed() {
        0
    } else {
        branch.tubes.nodes
    };
    let nodes = nodes_for(length, n, spacing).max(fewest);
    let shape = with_nodes(&branch.tubes, &branch.shape, nodes);
    let tubes = tubes_of(&mean_like(recipe), recipe, &branch.tubes.continues, nodes);
    let near = Schedule::warm().to(NEARLY_AT_REST);
    let (shape, report) = effort.tighten(&tubes, shape, &near)?;
    Ok(Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        rounds: branch.rounds,
        report: SolveReport::first(&branch.report).and(&report, branch.shapes),
        moves: branch.word.clone(),
        cells: branch.cells,
        kin: (recipe.moves.clone(), recipe.makes()),
        branch: Some(branch),
        limit: None,
        doubt: Doubt::ROUGH,
        kept_round: false,
        grain: Grain::Rough,
    })
}
