//! The ways to a tight cord: from nothing, or from the last cord.
//!
//! From nothing: uniform and coarse; from many strands on the lowest of
//! several shapes; then each strand grown to its own make; then with nodes
//! fine enough to draw.

use std::sync::Arc;

use super::bands::flattest;
use super::cores::{core_grown, lowest_round};
use super::doubt::{Doubt, Outer};
use super::flattened::{let_go, may_flatten, sections_like};
use super::formation::{Branch, SEVERAL_SHAPES_FROM};
use super::nodes::with_nodes;
use super::recipe::Recipe;
use super::solved::{Quality, SolveError, SolveReport, Solved};
use super::start::{self, START_RISE, cells_until_makes_return};
use super::strandlike::{Scale, between, mean_like, plain, strands_like, thinnest, tubes_of};
use crate::mechanics::{Progress, Schedule, Shape, Tubes, strand_lengths, tighten};
use crate::topology::CellWord;

/// Length of a piece between nodes, diameters of the thinnest strand as
/// squeezed: coarse and fine. Tried: 0.2 agrees with 0.1 to 0.2 %; wider than
/// 0.4 a soft strand slips through between two nodes.
const SPACING: [f64; 2] = [0.36, 0.21];
/// Share of the usual spacing at the second try, where a strand slipped.
const CAREFUL: f64 = 0.5;
/// Most nodes that are solved at once; beyond, the nodes are spread wider.
const MOST_NODES: usize = 6500;
/// A mix of more nodes than this is not for an answer at once: it would take
/// seconds.
const MOST_NODES_AT_ONCE: usize = 500;
/// Fewest nodes of a piece: bends need some.
const FEWEST_NODES: usize = 6;
/// Wider than this the nodes no longer hold strands apart, strand diameters. Tried.
const WIDEST_SPACING: f64 = 0.5;

/// Share of weight at which bands of plain strands are laid flat. Tried: soft
/// strands, and plain ones from 0.4 on, roll up more easily on the way.
const BANDS_AT: f64 = 0.25;

/// Forces left, in strand pulls per strand diameter: for a shape to draw, and
/// for the ends of a spread. Tried: 1e-2 gives four digits of height and width.
const AT_REST: f64 = 3e-3;
/// See [`AT_REST`].
pub(super) const NEARLY_AT_REST: f64 = 1e-2;

/// From the last cord to this one, by the materials alone, near enough to rest
/// to measure; with contacts that do not give if the last one had such.
pub(super) fn warm(
    recipe: &Recipe,
    last: &Solved,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let strands = strands_like(recipe);
    let tubes = Tubes {
        sections: sections_like(recipe, &last.tubes),
        ..tubes_of(&strands, recipe, &last.tubes.continues, last.tubes.nodes)
    };
    let (shape, report) = tighten(
        &tubes,
        last.shape.clone(),
        &Schedule::warm().to(NEARLY_AT_REST),
        progress,
    )?;
    let mut solved = Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        limit: None,
        report: last.report.and(&report, last.report.shapes),
        ..last.clone()
    };
    if let Some(limit) = &last.limit {
        let from = as_firm(&solved.shape, &last.shape, limit);
        let (firmer, harder) = tighten(
            &solved.tubes,
            from,
            &Schedule::firmer().to(AT_REST),
            progress,
        )?;
        solved.limit = Some(Shape::hard_limit(&solved.shape, &firmer));
        solved.report = solved.report.and(&harder, last.report.shapes);
    }
    solved.checked()
}

/// A shape moved as firmer contacts had moved the last one, half the way to the
/// limit: nearer to where they will have it.
fn as_firm(now: &Shape, last: &Shape, limit: &Shape) -> Shape {
    let on = |now: f64, last: f64, limit: f64| now + 0.5 * (limit - last);
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

/// From nothing but the recipe and, if the list's resting shape is known, that;
/// once more with care where a strand slipped through another.
pub(super) fn cold(
    recipe: &Recipe,
    quality: Quality,
    known: Option<&Arc<Branch>>,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let known = known.filter(|branch| branch.is_of(recipe));
    match cold_at(recipe, quality, known, 1.0, progress) {
        Err(SolveError::CrossingsChanged) => cold_at(recipe, quality, known, CAREFUL, progress),
        other => other,
    }
}

/// `closeness` times the usual spacing of the nodes.
fn cold_at(
    recipe: &Recipe,
    quality: Quality,
    known: Option<&Arc<Branch>>,
    closeness: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let is_coarse = quality == Quality::Coarse;
    let makes = recipe.makes();
    let is_mixed = makes.iter().any(|&m| m != makes[0]);
    let thinnest = closeness * thinnest(recipe);
    let several = recipe.bodies.len() >= SEVERAL_SHAPES_FROM;
    let mut solved = if recipe.core.is_some() {
        let thin = symmetric(recipe, closeness, progress)?;
        let grown = core_grown(recipe, thin, progress)?;
        if several && !is_coarse {
            let cells = start::world_lines(recipe, START_RISE)?.cells_per_round;
            let nodes = nodes_of(recipe, &grown, SPACING[0] * thinnest);
            lowest_round(recipe, grown, [nodes, cells], progress)?
        } else {
            grown
        }
    } else if several && (known.is_some() || !is_coarse) {
        let branch = Branch::known_or_found(known, recipe, progress)?;
        along(recipe, branch, SPACING[0] * thinnest, progress)?
    } else {
        symmetric(recipe, closeness, progress)?
    };
    if is_mixed {
        let cells = cells_until_makes_return(&solved.tubes.continues, &makes);
        if is_coarse && makes.len() * FEWEST_NODES * cells > MOST_NODES_AT_ONCE {
            // Shown as if all were alike; kin to no mix, so that none starts from it.
            solved.kin.1 = vec![0; makes.len()];
            return solved.checked();
        }
        solved = mixed(recipe, solved, cells, SPACING[0] * thinnest, progress)?;
    }
    let spacing = SPACING.map(|spacing| spacing * thinnest);
    if may_flatten(recipe) {
        match let_go(recipe, &solved, quality, spacing, progress)? {
            Some(flat) => return Ok(flat),
            None => solved.kept_round = true,
        }
    }
    finished(recipe, solved, quality, spacing[1], progress)
}

/// With nodes close enough to draw, if that is wanted, and looked at.
pub(super) fn finished(
    recipe: &Recipe,
    mut solved: Solved,
    quality: Quality,
    spacing: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    if quality != Quality::Coarse {
        solved = refined(recipe, solved, spacing, progress)?;
    }
    solved.checked()
}

/// The smallest cell of equal strands, pulled tight from the world-lines.
fn symmetric(recipe: &Recipe, closeness: f64, progress: &Progress) -> Result<Solved, SolveError> {
    let lines = start::world_lines(recipe, START_RISE)?;
    let spacing = SPACING[0] * closeness * thinnest(recipe);
    let nodes = nodes_for(start::first_length(&lines), lines.strands(), spacing);
    // Before it is pulled the start is longer: strands may not slip then either.
    let nodes = nodes.max(start::fewest_nodes(&lines, closeness));
    let nodes = nodes.max(start::core_nodes(recipe, lines.lift()));
    let (tubes, shape) = start::uniform(recipe, &lines, nodes);
    let (shape, report) = if lines.is_band() && recipe.core.is_none() {
        let plain = plain(recipe, &lines.continues, nodes, BANDS_AT);
        let (flat, _) = flattest(&plain, &shape, progress)?;
        tighten(&tubes, flat, &Schedule::warm().to(NEARLY_AT_REST), progress)?
    } else {
        tighten(&tubes, shape, &Schedule::coarse(), progress)?
    };
    Ok(Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        rounds: lines.rounds(),
        report: SolveReport::first(&report),
        moves: CellWord::new(&lines),
        cells: 1,
        kin: (recipe.moves.clone(), recipe.makes()),
        branch: None,
        limit: None,
        doubt: Doubt::ROUGH,
        kept_round: false,
        is_fine: false,
    })
}

/// Equal strands of the recipe's mean, stepped from the list's resting shape.
fn along(
    recipe: &Recipe,
    branch: Arc<Branch>,
    spacing: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let n = branch.tubes.strands;
    let length = longest(&branch.tubes, &branch.shape);
    let nodes = nodes_for(length, n, spacing).max(branch.tubes.nodes);
    let shape = with_nodes(&branch.tubes, &branch.shape, nodes);
    let tubes = tubes_of(&mean_like(recipe), recipe, &branch.tubes.continues, nodes);
    let (shape, report) = tighten(
        &tubes,
        shape,
        &Schedule::warm().to(NEARLY_AT_REST),
        progress,
    )?;
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
        is_fine: false,
    })
}

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

fn mixed(
    recipe: &Recipe,
    uniform: Solved,
    cells: usize,
    spacing: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let n = uniform.tubes.strands;
    if n * FEWEST_NODES * cells > MOST_NODES {
        return Err(SolveError::TooLong {
            moves: (uniform.rounds * cells as f64 * recipe.braid.lifts().len() as f64) as usize,
        });
    }
    // Softened before it is repeated: that moves the whole cord, and takes few looks here.
    let (_, stiffness, tolerance) = GROWTH[0];
    let soft = Schedule::at(stiffness).to(tolerance);
    let (shape, _) = tighten(&uniform.tubes, uniform.shape.clone(), &soft, progress)?;
    let (tubes, shape) = uniform.tubes.repeated(&shape, cells);
    let mut nodes = tubes.nodes.min(MOST_NODES / n).max(1);
    let mut shape = with_nodes(&tubes, &shape, nodes);
    let (mean, own) = (mean_like(recipe), strands_like(recipe));
    let mut tubes = Tubes { nodes, ..tubes };
    let mut report = uniform.report;
    for (share, stiffness, tolerance) in GROWTH {
        let strands = between(&mean, &own, share);
        let wanted = nodes_for(longest(&tubes, &shape), n, spacing);
        let spaced_out = wanted as f64 > SPACED_OUT * nodes as f64;
        if spaced_out && n * wanted < MOST_NODES_GROWN {
            shape = with_nodes(&tubes, &shape, wanted);
            nodes = wanted;
        }
        tubes = tubes_of(&strands, recipe, &tubes.continues, nodes);
        let schedule = Schedule::at(stiffness).to(tolerance);
        let (next, went) = tighten(&tubes, shape, &schedule, progress)?;
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

/// With nodes close enough to draw, and contacts that do not give.
fn refined(
    recipe: &Recipe,
    rough: Solved,
    spacing: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let nodes = nodes_of(recipe, &rough, spacing);
    let shape = with_nodes(&rough.tubes, &rough.shape, nodes);
    let strands = strands_like(recipe);
    let tubes = Tubes {
        sections: sections_like(recipe, &rough.tubes),
        ..tubes_of(&strands, recipe, &rough.tubes.continues, nodes)
    };
    let (shape, report) = tighten(&tubes, shape, &Schedule::warm().to(AT_REST), progress)?;
    let (firmer, harder) = tighten(
        &tubes,
        shape.clone(),
        &Schedule::firmer().to(AT_REST),
        progress,
    )?;
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
        is_fine: true,
        ..rough
    })
}

/// Nodes of a piece of a cord that is tight already.
pub(super) fn nodes_of(recipe: &Recipe, rough: &Solved, spacing: f64) -> usize {
    let length = longest(&rough.tubes, &rough.shape);
    let nodes = nodes_for(length, rough.tubes.strands, spacing);
    nodes.max(start::core_nodes(recipe, rough.shape.lift))
}

fn longest(tubes: &Tubes, shape: &Shape) -> f64 {
    strand_lengths(tubes, shape).into_iter().fold(0.0, f64::max)
}

fn nodes_for(length: f64, strands: usize, spacing: f64) -> usize {
    let wanted = (length / spacing).ceil() as usize;
    let most = MOST_NODES / strands;
    let fewest = FEWEST_NODES.max((length / WIDEST_SPACING).ceil() as usize);
    wanted.clamp(fewest, most.max(fewest))
}
