//! Moves and materials to the tight cord.
//!
//! Coarse first, then fine; a change of the materials alone starts from the
//! last cord. A cord whose strands are linked otherwise than the moves say is
//! an error, never a picture.

use super::Form;
use super::figures::Figures;
use super::formation::{self, SEVERAL_SHAPES_FROM};
use super::measure::{self, Sizes};
use super::recipe::Recipe;
use super::spread;
use super::start::{
    self, START_RISE, Scale, between, cells_until_makes_return, mean_like, strands_like, tubes_of,
    with_nodes,
};
use crate::mechanics::{Progress, Report, Schedule, Shape, TightenError, Tubes, linking, tighten};
use crate::topology::WorldLinesError;

/// How good an answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quality {
    /// At once: few nodes, the symmetric shape.
    Coarse,
    /// The shape hands make, fine enough to draw.
    Fine,
    /// The fine shape, and every figure with the spread of its inputs.
    Full,
}

/// How a solve went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolveReport {
    /// Whether the forces came to rest.
    pub converged: bool,
    /// Worst node force per length, in strand pulls per strand diameter.
    pub residual: f64,
    /// Evaluations of the energy, all stages.
    pub evaluations: usize,
    /// Whether every pair of strands is linked as the moves say.
    pub crossings_kept: bool,
    /// How many resting shapes were found.
    pub shapes: usize,
}

/// A solved cord.
#[derive(Debug, Clone)]
pub struct Cord {
    /// Its shape on the disc, mm.
    pub form: Form,
    /// Its figures.
    pub figures: Figures,
    /// How the solve went.
    pub report: SolveReport,
    /// How good the answer is.
    pub quality: Quality,
    /// Rounds of the move list in one repeat of the form; a fraction if it is shorter.
    pub rounds_per_repeat: f64,
    /// What the maker should know of it, a sentence each.
    pub remarks: Vec<String>,
    pub(super) solved: Solved,
}

/// The shape in the solver's units, from which a next solve starts.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    pub tubes: Tubes,
    pub shape: Shape,
    pub scale: Scale,
    /// Rounds of the move list in the cell; a fraction if it is shorter.
    pub rounds: f64,
    pub report: SolveReport,
    /// Linking of the strands as the moves make it.
    links: Vec<i32>,
    /// Moves and makes: a cord of other moves or another mix is no start.
    kin: (crate::structure::MoveList, Vec<usize>),
}

/// Why there is no cord.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SolveError {
    /// A newer question came; usual, not a fault.
    #[error("the computation was stopped")]
    Stopped,
    /// Nothing is carried over its neighbours but by turning all of them.
    #[error(
        "these moves only turn the strands round one another or slide them along: the cord holds only while both ends are bound"
    )]
    OnlyTwists,
    /// Nothing locks: the height goes to nothing.
    #[error(
        "these moves do not lock: pulled tight, the strands slide apart (the cord holds only while both ends are bound)"
    )]
    SlidesApart,
    /// The strands came to lie otherwise than the moves say.
    #[error(
        "the computed cord crosses otherwise than the moves say and is not shown; {pairs} pairs of strands differ. Try strands nearer to one another in thickness"
    )]
    CrossingsChanged {
        /// Pairs of strands whose linking changed.
        pairs: usize,
    },
    /// No rest was found.
    #[error(
        "the strands do not come to rest (residual {residual:.3}); the moves may be too loose to hold"
    )]
    Restless {
        /// Worst node force per length.
        residual: f64,
    },
    /// The mix needs a longer repeat than can be solved.
    #[error(
        "this mix of strands comes round only after {moves} moves, more than can be computed; make more of the strands alike"
    )]
    TooLong {
        /// Moves until the materials are back.
        moves: usize,
    },
    /// The start was refused by the solver.
    #[error("the strands cannot be laid out to start with: {0}")]
    BadStart(String),
}

impl From<WorldLinesError> for SolveError {
    fn from(error: WorldLinesError) -> Self {
        match error {
            WorldLinesError::NothingCrosses => Self::OnlyTwists,
            WorldLinesError::NotPositive => Self::BadStart(error.to_string()),
        }
    }
}

impl From<TightenError> for SolveError {
    fn from(error: TightenError) -> Self {
        match error {
            TightenError::Stopped => Self::Stopped,
            TightenError::Collapsed { .. } => Self::SlidesApart,
            TightenError::Restless { residual } => Self::Restless { residual },
            other => Self::BadStart(other.to_string()),
        }
    }
}

/// Length of a piece between nodes, diameters of the thinnest strand as
/// squeezed: coarse and fine. Tried: 0.2 agrees with 0.1 to 0.2 %; wider than
/// 0.4 a soft strand slips through between two nodes.
const SPACING: [f64; 2] = [0.36, 0.21];
/// Most nodes that are solved at once; beyond, the nodes are spread wider.
const MOST_NODES: usize = 9000;
/// A mix of more nodes than this is not for an answer at once: it would take
/// seconds.
const MOST_NODES_AT_ONCE: usize = 500;
/// Fewest nodes of a piece: bends need some.
const FEWEST_NODES: usize = 6;
/// Wider than this the nodes no longer hold strands apart, strand diameters. Tried.
const WIDEST_SPACING: f64 = 0.5;

/// The tight cord of a recipe.
///
/// `before` is the last cord: if it has the same moves and the same mix, only
/// the way from it is solved.
///
/// # Errors
///
/// See [`SolveError`].
pub fn solve(
    recipe: &Recipe,
    before: Option<&Cord>,
    quality: Quality,
    progress: &Progress,
) -> Result<Cord, SolveError> {
    let solved = match before.filter(|c| is_kin(recipe, c, quality)) {
        Some(cord) => warm(recipe, &cord.solved, progress)
            .or_else(|error| cold_after(error, recipe, quality, progress))?,
        None => cold(recipe, quality, progress)?,
    };
    let sizes = measure::sizes(recipe, &solved);
    let figures = match quality {
        Quality::Full => spread::figures(recipe, &solved, &sizes, progress)?,
        _ => spread::figures_without_inputs(recipe, &sizes),
    };
    Ok(Cord {
        form: form(&solved),
        figures,
        report: solved.report,
        quality,
        rounds_per_repeat: solved.rounds,
        remarks: remarks(recipe, &solved, &sizes),
        solved,
    })
}

fn is_kin(recipe: &Recipe, cord: &Cord, quality: Quality) -> bool {
    let fine_enough = quality == Quality::Coarse || cord.quality >= Quality::Fine;
    fine_enough && cord.solved.kin == (recipe.moves.clone(), recipe.makes())
}

fn cold_after(
    error: SolveError,
    recipe: &Recipe,
    quality: Quality,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    match error {
        SolveError::Stopped => Err(error),
        _ => cold(recipe, quality, progress),
    }
}

/// Forces left, in strand pulls per strand diameter: for a shape to draw, and
/// for the ends of a spread. Tried: 1e-2 gives four digits of height and width.
const AT_REST: f64 = 3e-3;
/// See [`AT_REST`].
const NEARLY_AT_REST: f64 = 1e-2;

fn from_tight(tolerance: f64) -> Schedule {
    Schedule {
        tolerance,
        ..Schedule::warm()
    }
}

/// From the last cord to this one, by the materials alone, near enough to rest
/// to measure.
pub(super) fn warm(
    recipe: &Recipe,
    last: &Solved,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let strands = strands_like(recipe);
    let tubes = tubes_of(&strands, recipe, &last.tubes.continues, last.tubes.nodes);
    let (shape, report) = tighten(
        &tubes,
        last.shape.clone(),
        &from_tight(NEARLY_AT_REST),
        progress,
    )?;
    let solved = Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        report: joined(&last.report, &report, last.report.shapes),
        ..last.clone()
    };
    checked(solved)
}

fn cold(recipe: &Recipe, quality: Quality, progress: &Progress) -> Result<Solved, SolveError> {
    let lines = start::world_lines(recipe, START_RISE)?;
    let makes = recipe.makes();
    let fine = usize::from(quality != Quality::Coarse);
    let thinnest = start::thinnest(recipe);
    // A first guess of the strand's length: the cord comes to half the start's
    // height, the strand is half as long again. Mended once the shape is known.
    let nodes = nodes_for(0.8 * lines.lift(), lines.strands(), SPACING[0] * thinnest);
    let (tubes, shape) = start::uniform(recipe, &lines, nodes);
    let links = linking(&tubes, &shape);
    let (shape, report) = tighten(&tubes, shape, &Schedule::coarse(), progress)?;
    let mut solved = Solved {
        tubes,
        shape,
        scale: Scale::of(recipe),
        rounds: lines.rounds(),
        report: first(&report),
        links,
        kin: (recipe.moves.clone(), makes.clone()),
    };
    if fine == 1 && lines.strands() >= SEVERAL_SHAPES_FROM {
        solved = lowest_round(recipe, solved, lines.cells_per_round, progress)?;
    }
    let cells = cells_until_makes_return(&solved.tubes.continues, &makes);
    if makes.iter().any(|&m| m != makes[0]) {
        if fine == 0 && lines.strands() * FEWEST_NODES * cells > MOST_NODES_AT_ONCE {
            // Shown as if all were alike; kin to no mix, so that none starts from it.
            solved.kin.1 = vec![0; lines.strands()];
            return checked(solved);
        }
        solved = mixed(recipe, solved, cells, progress)?;
    }
    if fine == 1 {
        solved = refined(recipe, solved, SPACING[fine] * thinnest, progress)?;
    }
    checked(solved)
}

fn lowest_round(
    recipe: &Recipe,
    symmetric: Solved,
    cells: usize,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let from = (&symmetric.tubes, &symmetric.shape);
    let links = {
        let (tubes, shape) = symmetric.tubes.repeated(&symmetric.shape, cells);
        linking(&tubes, &shape)
    };
    let rest = formation::lowest(recipe, from, cells, progress)?;
    Ok(Solved {
        report: joined(&symmetric.report, &rest.report, rest.shapes),
        tubes: rest.tubes,
        shape: rest.shape,
        rounds: symmetric.rounds * rest.cells as f64,
        links,
        ..symmetric
    })
}

/// Steps from the mean strand to each strand's own make, with the contact
/// stiffness of each: soft while they grow. Tried.
const GROWTH: [(f64, f64); 5] = [
    (0.25, 8.0),
    (0.6, 8.0),
    (1.0, 8.0),
    (1.0, 32.0),
    (1.0, 64.0),
];

fn at(stiffness: f64) -> Schedule {
    Schedule {
        stages: vec![stiffness],
        ..Schedule::coarse()
    }
}

fn mixed(
    recipe: &Recipe,
    uniform: Solved,
    cells: usize,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let n = uniform.tubes.strands;
    if n * FEWEST_NODES * cells > MOST_NODES {
        return Err(SolveError::TooLong {
            moves: (uniform.rounds * cells as f64 * recipe.braid.lifts().len() as f64) as usize,
        });
    }
    let (tubes, mut shape) = uniform.tubes.repeated(&uniform.shape, cells);
    let nodes = tubes.nodes.min(MOST_NODES / n).max(1);
    shape.points = with_nodes(&tubes, &shape, nodes).points;
    let (mean, own) = (mean_like(recipe, n), strands_like(recipe));
    let mut tubes = Tubes { nodes, ..tubes };
    let mut links = None;
    let mut report = uniform.report;
    for (share, stiffness) in GROWTH {
        let strands = between(&mean, &own, share);
        tubes = tubes_of(&strands, recipe, &tubes.continues, nodes);
        if links.is_none() {
            links = Some(linking(&tubes, &shape));
        }
        let (next, went) = tighten(&tubes, shape, &at(stiffness), progress)?;
        shape = next;
        report = joined(&report, &went, report.shapes);
    }
    Ok(Solved {
        tubes,
        shape,
        rounds: uniform.rounds * cells as f64,
        links: links.unwrap_or_default(),
        report,
        ..uniform
    })
}

fn refined(
    recipe: &Recipe,
    rough: Solved,
    spacing: f64,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let n = rough.tubes.strands;
    let length = crate::mechanics::strand_lengths(&rough.tubes, &rough.shape)
        .into_iter()
        .fold(0.0, f64::max);
    let nodes = nodes_for(length, n, spacing);
    let shape = with_nodes(&rough.tubes, &rough.shape, nodes);
    let strands = strands_like(recipe);
    let tubes = tubes_of(&strands, recipe, &rough.tubes.continues, nodes);
    let (shape, report) = tighten(&tubes, shape, &from_tight(AT_REST), progress)?;
    Ok(Solved {
        tubes,
        shape,
        report: joined(&rough.report, &report, rough.report.shapes),
        ..rough
    })
}

fn nodes_for(length: f64, strands: usize, spacing: f64) -> usize {
    let wanted = (length / spacing).ceil() as usize;
    let most = MOST_NODES / strands;
    let fewest = FEWEST_NODES.max((length / WIDEST_SPACING).ceil() as usize);
    wanted.clamp(fewest, most.max(fewest))
}

fn first(report: &Report) -> SolveReport {
    SolveReport {
        converged: report.converged,
        residual: report.residual,
        evaluations: report.evaluations,
        crossings_kept: false,
        shapes: 1,
    }
}

fn joined(before: &SolveReport, report: &Report, shapes: usize) -> SolveReport {
    SolveReport {
        evaluations: before.evaluations + report.evaluations,
        shapes,
        ..first(report)
    }
}

/// Linking is necessary for the braid to be kept, not sufficient.
fn checked(mut solved: Solved) -> Result<Solved, SolveError> {
    let now = linking(&solved.tubes, &solved.shape);
    let n = solved.tubes.strands;
    let pairs = (0..n * n)
        .filter(|&at| at / n < at % n && now[at] != solved.links[at])
        .count();
    if pairs > 0 || now.len() != solved.links.len() {
        return Err(SolveError::CrossingsChanged { pairs });
    }
    solved.report.crossings_kept = true;
    Ok(solved)
}

fn form(solved: &Solved) -> Form {
    let mm = solved.scale.length;
    let (tubes, shape) = (&solved.tubes, &solved.shape);
    let radius = |(at, r): (usize, &f64)| r * (-shape.squeeze[at / tubes.nodes]).exp() * mm;
    Form {
        strands: tubes.strands,
        nodes: tubes.nodes,
        continues: tubes.continues.clone(),
        points: shape.points.iter().map(|p| p.map(|x| x * mm)).collect(),
        radius: tubes.radius.iter().enumerate().map(radius).collect(),
        lift: shape.lift * mm,
        turn: shape.turn,
    }
}

/// Above this effective share of weight a cord opens. Tried.
const OPENS_FROM: f64 = 0.75;
/// Below this share of weight the formation is not settled. Tried down to here.
pub(super) const SETTLED_FROM: f64 = 0.3;

fn remarks(recipe: &Recipe, solved: &Solved, sizes: &Sizes) -> Vec<String> {
    let mut all = Vec::new();
    if recipe.effective_share() > OPENS_FROM {
        all.push(
            "So much counterweight opens the cord: it comes loose and long; hang less.".to_owned(),
        );
    }
    if solved.report.shapes > 1 {
        all.push(format!(
            "Strands of this number can lie in several ways; {} were found, the one of least energy is shown.",
            solved.report.shapes
        ));
    }
    let makes = recipe.makes();
    if makes.iter().any(|&m| m != makes[0]) && solved.kin.1 != makes {
        all.push(
            "Shown as if all strands were equally thick; the mix is being computed.".to_owned(),
        );
    }
    if !solved.report.converged {
        all.push(
            "The computation did not come fully to rest; take the figures as rough.".to_owned(),
        );
    }
    let idle: Vec<String> = recipe
        .braid
        .never_lifted()
        .into_iter()
        .map(super::recipe::strand_name)
        .collect();
    if !idle.is_empty() {
        all.push(format!("Never moved: strand {}.", idle.join(", ")));
    }
    if sizes.bore > 0.5 {
        all.push("The cord is hollow: a core keeps it round.".to_owned());
    }
    all
}
