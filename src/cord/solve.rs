//! Moves and materials to the tight cord.
//!
//! Coarse first, then fine; a change of the materials alone starts from the
//! last cord. A cord whose strands are linked otherwise than the moves say is
//! an error, never a picture.

use super::Form;
use super::balance::balanced;
use super::figures::Figures;
use super::first_answer::spread_at_once;
use super::measure::{self, Sizes};
use super::passes::{cold, warm};
use super::recipe::{Recipe, strand_name};
use super::remarks::remarks;
use super::solved::{Grain, Quality, SolveError, SolveReport, Solved};
use super::spread;
use crate::mechanics::Progress;
use crate::topology::verdict;

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
    pub(super) sizes: Sizes,
    is_of_mean_strands: bool,
}

impl Cord {
    /// Whether a mix of strands is shown as if all were the mean of them: a mix too
    /// large for an answer at once. Its figures are those of the mean strands.
    pub fn is_of_mean_strands(&self) -> bool {
        self.is_of_mean_strands
    }
}

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
    let solved = solved(recipe, before.map(|cord| &cord.solved), quality, progress)
        .and_then(|solved| balanced(recipe, &solved).map(|()| solved))
        .map_err(|error| named(recipe, error))?;
    let sizes = measure::sizes(recipe, &solved);
    let is_full = quality == Quality::Full;
    let is_long = is_full && spread::is_long(recipe, &solved);
    let figures = if is_full && !is_long {
        spread::figures(recipe, &solved, &sizes, progress)?
    } else {
        spread::figures_without_inputs(recipe, &solved, &sizes)
    };
    let mut cord = Cord {
        form: solved.form(),
        figures,
        report: solved.report,
        quality,
        rounds_per_repeat: solved.rounds,
        remarks: remarks(recipe, &solved, &sizes),
        is_of_mean_strands: solved.kin.1 != recipe.makes(),
        solved,
        sizes,
    };
    if is_long {
        cord.figures = spread_at_once(recipe, &cord);
    }
    Ok(cord)
}

/// Why there is no cord: what is found wrong with a shape is not the reason where the
/// moves lock nothing.
fn named(recipe: &Recipe, error: SolveError) -> SolveError {
    let is_of_the_shape = matches!(
        error,
        SolveError::Restless { .. }
            | SolveError::UsedUp
            | SolveError::Overfull { .. }
            | SolveError::CrossingsChanged
    );
    if !is_of_the_shape {
        return error;
    }
    let verdict = verdict(&recipe.braid);
    if verdict.locks() {
        return error;
    }
    SolveError::Unlocked(verdict.sentence_naming(&strand_name))
}

fn solved(
    recipe: &Recipe,
    before: Option<&Solved>,
    quality: Quality,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let kin = before.filter(|last| is_kin(recipe, last, quality));
    if let Some(last) = kin {
        let solved = warm(recipe, last, quality, progress);
        match solved.and_then(|solved| balanced(recipe, &solved).map(|()| solved)) {
            Ok(solved) => return Ok(solved),
            Err(SolveError::Stopped) => return Err(SolveError::Stopped),
            // What failed from the last cord may go from nothing.
            Err(_) => {}
        }
    }
    let branch = before.and_then(|last| last.branch.as_ref());
    cold(recipe, quality, branch, progress)
}

/// Whether the way from that cord leads to this one. A cord that was pulled
/// open may have lost the resting shape that hands make.
fn is_kin(recipe: &Recipe, last: &Solved, quality: Quality) -> bool {
    let is_fine = quality == Quality::Coarse || last.grain != Grain::Rough;
    let has_core = last.tubes.strands > recipe.bodies.len();
    let alike = has_core == recipe.core.is_some();
    is_fine
        && alike
        && !last.may_have_opened()
        && last.kin == (recipe.moves.clone(), recipe.makes())
}
