//! The ways to a tight cord: from nothing, or from the last cord.
//!
//! From nothing: uniform and coarse; from many strands on the lowest of
//! several shapes; then each strand grown to its own make; then with nodes
//! fine enough to draw, if that much may be computed.

use std::sync::Arc;

use super::alike::{along, symmetric};
use super::bands::{ROLLED_UP, flatness};
use super::cores::{core_grown, lowest_round};
use super::doubt::{Doubt, Outer};
use super::effort::Effort;
use super::flattened::{let_go, may_flatten, sections_like};
use super::formation::{Branch, SEVERAL_SHAPES_FROM};
use super::mixing::mixed;
use super::nodes::{FEWEST_NODES, longest, nodes_for, with_nodes};
use super::recipe::Recipe;
use super::section::FLAT_FROM;
use super::solved::{Grain, Quality, SolveError, Solved};
use super::start::{self, START_RISE, cells_until_makes_return};
use super::strandlike::{Scale, finest, strands_like, tubes_of};
use crate::mechanics::{Progress, Schedule, Shape, Tubes, tighten};

/// Length of a piece between nodes, diameters of the thinnest strand as
/// squeezed: coarse and fine. Tried: 0.2 agrees with 0.1 to 0.2 %; wider than
/// 0.4 a soft strand slips through between two nodes.
pub(super) const SPACING: [f64; 2] = [0.36, 0.21];
/// Share of the usual spacing at the second try, where a strand slipped.
const CAREFUL: f64 = 0.5;
/// A mix of more nodes than this is not for an answer at once: it would take
/// seconds.
const MOST_NODES_AT_ONCE: usize = 500;
/// Looks that closer nodes and firmer contacts take. Tried on mixes of 8 to 32
/// strands: 200 to 1300, more in larger cells.
const LOOKS_TO_REFINE: usize = 800;

/// Forces left, in strand pulls per strand diameter: for a shape to draw, and
/// for the ends of a spread. Tried: 1e-2 gives four digits of height and width.
const AT_REST: f64 = 3e-3;
/// See [`AT_REST`].
pub(super) const NEARLY_AT_REST: f64 = 1e-2;

/// The same for a step that is shown at once, a finer one behind it. Tried: height and
/// width differ by less than 0.1 %.
const ON_THE_MOVE: f64 = 0.1;
/// Nodes looked at for such a step, rest or no rest: a quarter of a second. Tried.
const NODES_ON_THE_MOVE: usize = 200_000;
/// Fewer steps than this come nowhere.
const FEWEST_STEPS: usize = 20;

/// From the last cord to this one, by the materials alone, near enough to rest
/// to measure; with contacts that do not give if the last one had such. At once the
/// step to those is taken as it was, and worked out for a finer answer.
pub(super) fn warm(
    recipe: &Recipe,
    last: &Solved,
    quality: Quality,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let strands = strands_like(recipe);
    let tubes = Tubes {
        sections: sections_like(recipe, &last.tubes),
        ..tubes_of(&strands, recipe, &last.tubes.continues, last.tubes.nodes)
    };
    let schedule = match quality {
        Quality::Coarse => on_the_move(tubes.strands * tubes.nodes),
        _ => Schedule::warm().to(NEARLY_AT_REST),
    };
    let (shape, report) = tighten(&tubes, last.shape.clone(), &schedule, progress)?;
    let mut solved = Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        limit: None,
        report: last.report.and(&report, last.report.shapes),
        ..last.clone()
    };
    match &last.limit {
        Some(limit) if quality == Quality::Coarse => {
            solved.limit = Some(Shape {
                // Moved on too, fibre would be packed closer than it goes.
                squeeze: solved.shape.squeeze.clone(),
                ..moved_on(&solved.shape, &last.shape, limit, 1.0)
            });
        }
        Some(limit) => {
            // Half the way to the limit is where firmer contacts will have it.
            let from = moved_on(&solved.shape, &last.shape, limit, 0.5);
            let firmer = Schedule::firmer().to(AT_REST);
            let (firmer, harder) = tighten(&solved.tubes, from, &firmer, progress)?;
            solved.limit = Some(Shape::hard_limit(&solved.shape, &firmer));
            solved.report = solved.report.and(&harder, last.report.shapes);
        }
        None => {}
    }
    solved.checked()
}

/// So far as a step of so many nodes may go before it is shown.
fn on_the_move(nodes: usize) -> Schedule {
    Schedule {
        most_iterations: (NODES_ON_THE_MOVE / nodes).max(FEWEST_STEPS),
        ..Schedule::warm().to(ON_THE_MOVE)
    }
}

/// A shape moved by a share of what lay between the last one and its limit.
fn moved_on(now: &Shape, last: &Shape, limit: &Shape, share: f64) -> Shape {
    let on = |now: f64, last: f64, limit: f64| now + share * (limit - last);
    let moved = |at: usize| {
        let (p, a, b) = (now.points[at], last.points[at], limit.points[at]);
        std::array::from_fn(|axis| on(p[axis], a[axis], b[axis]))
    };
    let squeezed = |at: usize| on(now.squeeze[at], last.squeeze[at], limit.squeeze[at]);
    Shape {
        points: (0..now.points.len()).map(moved).collect(),
        lift: on(now.lift, last.lift, limit.lift),
        turn: on(now.turn, last.turn, limit.turn),
        squeeze: (0..now.squeeze.len()).map(squeezed).collect(),
        axes: now.axes.clone(),
    }
}

/// From nothing but the recipe and, if the list's resting shape is known, that; once
/// more with care where a strand slipped through another, or stuck in it from the start.
pub(super) fn cold(
    recipe: &Recipe,
    quality: Quality,
    known: Option<&Arc<Branch>>,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let known = known.filter(|branch| branch.is_of(recipe));
    let mut effort = Effort::new(progress);
    match cold_at(recipe, quality, known, 1.0, &mut effort) {
        Err(error @ (SolveError::CrossingsChanged | SolveError::Restless { .. })) => {
            match cold_at(recipe, quality, known, CAREFUL, &mut effort) {
                Err(SolveError::TooUnlike | SolveError::UsedUp) => Err(error),
                other => other,
            }
        }
        other => other,
    }
}

/// `closeness` times the usual spacing of the nodes.
fn cold_at(
    recipe: &Recipe,
    quality: Quality,
    known: Option<&Arc<Branch>>,
    closeness: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let is_coarse = quality == Quality::Coarse;
    let makes = recipe.makes();
    let finest = closeness * finest(recipe);
    let mut solved = alike(recipe, quality, known, closeness, effort)?;
    if recipe.is_mixed() {
        let cells = cells_until_makes_return(&solved.tubes.continues, &makes);
        if is_coarse && makes.len() * FEWEST_NODES * cells > MOST_NODES_AT_ONCE {
            // Shown as if all were alike; kin to no mix, so that none starts from it.
            solved.kin.1 = vec![0; makes.len()];
            return solved.checked();
        }
        solved = mixed(recipe, solved, cells, SPACING[0] * finest, effort)?;
    }
    let spacings = SPACING.map(|spacing| spacing * finest);
    if may_flatten(recipe) {
        match let_go(recipe, &solved, quality, spacings, effort)? {
            Some(flat) => return Ok(flat),
            None => solved.kept_round = true,
        }
    }
    finished(recipe, solved, quality, spacings[1], effort)
}

/// All strands alike, in the shape that hands make if a fine answer is wanted.
fn alike(
    recipe: &Recipe,
    quality: Quality,
    known: Option<&Arc<Branch>>,
    closeness: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let is_coarse = quality == Quality::Coarse;
    let several = recipe.bodies.len() >= SEVERAL_SHAPES_FROM;
    let spacing = SPACING[0] * closeness * finest(recipe);
    if recipe.core.is_none() {
        if several && (known.is_some() || !is_coarse) {
            let branch = Branch::known_or_found(known, recipe, effort.progress)?;
            return along(recipe, branch, spacing, effort);
        }
        return symmetric(recipe, closeness, effort);
    }
    let thin = symmetric(recipe, closeness, effort)?;
    let grown = core_grown(recipe, thin, effort.progress)?;
    if !several || is_coarse {
        return Ok(grown);
    }
    let cells = start::world_lines(recipe, START_RISE)?.cells_per_round;
    let nodes = nodes_of(recipe, &grown, spacing);
    lowest_round(recipe, grown, [nodes, cells], effort.progress)
}

/// As fine as is wanted and may be: with nodes at this spacing, closer where a strand
/// slipped, or else as it is; and looked at.
pub(super) fn finished(
    recipe: &Recipe,
    rough: Solved,
    quality: Quality,
    spacing: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let coarse = rough.checked()?;
    if quality == Quality::Coarse {
        return Ok(coarse);
    }
    let mut grain = Grain::Coarse;
    for spacing in [spacing, CAREFUL * spacing] {
        let nodes = nodes_of(recipe, &coarse, spacing);
        if !effort.allows(&coarse.tubes, &coarse.shape, nodes, LOOKS_TO_REFINE) {
            break;
        }
        match refined(recipe, &coarse, nodes, effort).and_then(Solved::checked) {
            Err(SolveError::CrossingsChanged) => {}
            Err(SolveError::Restless { .. } | SolveError::UsedUp) => break,
            Ok(fine) if has_rolled_up([&coarse, &fine]) => grain = Grain::Held,
            other => return other,
        }
    }
    Ok(Solved { grain, ..coarse })
}

/// Whether a flat cord has not stayed so. Without friction a band may cost less rolled
/// up; hands laid it flat.
fn has_rolled_up(steps: [&Solved; 2]) -> bool {
    let [before, after] = steps.map(|solved| flatness(&solved.tubes, &solved.shape));
    before > FLAT_FROM && after < ROLLED_UP * before
}

/// With nodes close enough to draw, and contacts that do not give.
fn refined(
    recipe: &Recipe,
    rough: &Solved,
    nodes: usize,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let shape = with_nodes(&rough.tubes, &rough.shape, nodes);
    let strands = strands_like(recipe);
    let tubes = Tubes {
        sections: sections_like(recipe, &rough.tubes),
        ..tubes_of(&strands, recipe, &rough.tubes.continues, nodes)
    };
    let (shape, report) = effort.tighten(&tubes, shape, &Schedule::warm().to(AT_REST))?;
    let firmer = Schedule::firmer().to(AT_REST);
    let (firmer, harder) = effort.tighten(&tubes, shape.clone(), &firmer)?;
    let limit = Shape::hard_limit(&shape, &firmer);
    let doubt = Doubt::of(
        &Outer::of(&rough.tubes, &rough.shape),
        [&shape, &firmer, &limit].map(|shape| Outer::of(&tubes, shape)),
        harder.residual,
    );
    let report = rough.report.and(&report, rough.report.shapes);
    Ok(Solved {
        report: report.and(&harder, rough.report.shapes),
        tubes,
        shape,
        limit: Some(limit),
        doubt,
        grain: Grain::Fine,
        ..rough.clone()
    })
}

/// Nodes of a piece of a cord that is tight already.
pub(super) fn nodes_of(recipe: &Recipe, rough: &Solved, spacing: f64) -> usize {
    let nodes = nodes_for(
        longest(&rough.tubes, &rough.shape),
        rough.tubes.strands,
        spacing,
    );
    nodes.max(start::core_nodes(recipe, rough.shape.lift))
}
