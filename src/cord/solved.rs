//! A shape that was found, and why there may be none.

use std::sync::Arc;

use super::Form;
use super::cores::without_core;
use super::crossings::as_moves_say;
use super::doubt::Doubt;
use super::formation::Branch;
use super::strandlike::Scale;
use crate::mechanics::{Report, Shape, TightenError, Tubes};
use crate::structure::MoveList;
use crate::topology::{CellWord, WorldLinesError};

/// Share of weight above which many hard strands may jump to a longer shape. Tried.
const JUMPS_FROM: f64 = 0.6;

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
    /// Whether the strands cross as the moves say, as far as all crossings
    /// together can tell.
    pub crossings_kept: bool,
    /// How many resting shapes were found.
    pub shapes: usize,
}

/// How fine a shape is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Grain {
    /// On the way: the nodes lie far apart.
    Rough,
    /// The same, but finer would be too much to compute.
    Coarse,
    /// The same, of a band that rolls up when it is solved more finely.
    Held,
    /// Nodes close enough to draw, contacts that do not give.
    Fine,
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
    /// The crossings of the smallest cell as the moves make them.
    pub moves: CellWord,
    /// How many smallest cells there are in this one.
    pub cells: usize,
    /// Moves and makes: a cord of other moves or another mix is no start.
    pub kin: (MoveList, Vec<usize>),
    /// The resting shape of the list, where it has several.
    pub branch: Option<Arc<Branch>>,
    /// The shape if contacts did not give at all, where it was worked out. A next
    /// solve starts from `shape`, which gives as that one will.
    pub limit: Option<Shape>,
    /// How far the computation itself may be off.
    pub doubt: Doubt,
    /// Whether sections that could flatten were kept round, since the flattened cord did
    /// not come out.
    pub kept_round: bool,
    /// How fine it is.
    pub grain: Grain,
}

impl SolveReport {
    /// After the first stage.
    pub(super) fn first(report: &Report) -> Self {
        Self {
            converged: report.converged,
            residual: report.residual,
            evaluations: report.evaluations,
            crossings_kept: false,
            shapes: 1,
        }
    }

    /// After one stage more.
    pub(super) fn and(&self, report: &Report, shapes: usize) -> Self {
        Self {
            evaluations: self.evaluations + report.evaluations,
            shapes,
            ..Self::first(report)
        }
    }
}

impl Solved {
    /// This shape, if its strands cross as the moves say.
    pub(super) fn checked(mut self) -> Result<Self, SolveError> {
        let (tubes, shape) = without_core(&self.tubes, self.shown(), self.kin.1.len());
        if !as_moves_say(&tubes, &shape, &self.moves, self.cells) {
            return Err(SolveError::CrossingsChanged);
        }
        self.report.crossings_kept = true;
        Ok(self)
    }

    /// Whether so much weight may have pulled it off the resting shape it was on.
    pub(super) fn may_have_opened(&self) -> bool {
        let pull: f64 = self.tubes.pull.iter().sum();
        self.branch.is_some() && self.tubes.weight > JUMPS_FROM * pull
    }

    /// The shape that is drawn and measured.
    pub(super) fn shown(&self) -> &Shape {
        self.limit.as_ref().unwrap_or(&self.shape)
    }

    /// The same with contacts that give, as a cord solved from it has them.
    pub(super) fn giving(&self) -> Self {
        Self {
            limit: None,
            ..self.clone()
        }
    }

    /// The shape in millimetres.
    pub(super) fn form(&self) -> Form {
        let mm = self.scale.length;
        let (tubes, shape) = (&self.tubes, self.shown());
        let radius = |at: usize| tubes.radius_in(shape, at) * mm;
        let wide = |at: usize| tubes.long_axis_in(shape, at).map(|x| x * mm);
        Form {
            strands: tubes.strands,
            nodes: tubes.nodes,
            continues: tubes.continues.clone(),
            points: shape.centred().iter().map(|p| p.map(|x| x * mm)).collect(),
            radius: (0..shape.points.len()).map(radius).collect(),
            wide: (0..shape.axes.len()).map(wide).collect(),
            lift: shape.lift * mm,
            turn: shape.turn,
        }
    }
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
        "the computed cord crosses otherwise than the moves say and is not shown. Try strands nearer to one another in thickness"
    )]
    CrossingsChanged,
    /// The books do not balance: the answer cannot be a cord.
    #[error(
        "the computed cord holds {:.0} % of what there is room for and is not shown; the last cord stays. Try other moves, or strands nearer to one another in thickness",
        share * 100.0
    )]
    Overfull {
        /// Found over possible.
        share: f64,
    },
    /// No rest was found.
    #[error(
        "the strands do not come to rest (residual {residual:.3}); the moves may be too loose to hold; hang less, or carry strands over more of their neighbours"
    )]
    Restless {
        /// Worst node force per length.
        residual: f64,
    },
    /// No rest was found with as much computing as one cord may take.
    #[error(
        "no shape at rest was found with as much computing as one cord may take; the moves may be too loose to hold: carry strands over more of their neighbours, or make the round shorter"
    )]
    UsedUp,
    /// No rest was found, and the moves lock nothing that could come to one.
    #[error("no shape at rest was found, and these moves do not lock. {0}")]
    Unlocked(String),
    /// The mix needs a longer repeat than can be solved.
    #[error(
        "this mix of strands comes round only after {moves} moves, more than can be computed; make more of the strands alike"
    )]
    TooLong {
        /// Moves until the materials are back.
        moves: usize,
    },
    /// The same for a mix whose strands, all alike, come to rest.
    #[error(
        "so unlike strands found no shape at rest with as much computing as one cord may take; make more of the strands alike, or nearer to one another in thickness"
    )]
    TooUnlike,
    /// The start was refused by the solver.
    #[error("the strands cannot be laid out to start with: {0}; take the last change back")]
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
            TightenError::Restless { residual, .. } => Self::Restless { residual },
            other => Self::BadStart(other.to_string()),
        }
    }
}
