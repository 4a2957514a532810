//! Which resting shape hands make, where there are several.
//!
//! From 16 strands on the symmetric cell is a saddle: a formed cord, relaxed,
//! falls to one lowest shape (tried against a slow model of the braiding
//! itself; no real cord was measured). That shape is looked for once for each
//! list of moves, with plain strands that are neither soft nor unlike: a whole
//! round is let go from a few starts, and the lowest rest is kept. Every cord
//! of that list is then stepped from it to its own strands and weight.
//!
//! Starts are shaken out from the axis and along it only, never round it, so
//! that a mirrored list is shaken into the mirror image; and in pairs, one as the
//! other were the list worked the way back.

use std::f64::consts::TAU;
use std::sync::Arc;

use super::braiding::Twist;
use super::recipe::Recipe;
use super::solved::SolveError;
use super::start::{self, START_RISE, laid_out, world_lines};
use super::strandlike::plain;
use crate::mechanics::{Progress, Report, Schedule, Shape, TightenError, Tubes, tighten};
use crate::structure::MoveList;
use crate::topology::CellWord;

/// From this many strands on a cord may have several resting shapes. Tried:
/// 8 and 12 keep the symmetric shape, 16 and 32 do not.
pub(super) const SEVERAL_SHAPES_FROM: usize = 16;

/// Share of weight at which a whole round is let go. Tried on 16 strands: of
/// six starts five come to the lowest shape from here, three from 0.2.
const LET_GO_AT: f64 = 0.12;
/// Share of weight at which the shapes are compared. Tried.
const COMPARED_AT: f64 = 0.5;
/// Noise that breaks the symmetry, strand diameters. Tried: 0.03 to 0.3.
const NOISE: f64 = 0.1;
/// Starts are let go until the lowest shape is met twice, or so many nodes
/// were moved: the search may take a second, not ten.
const MOST_NODES: usize = 2048;
/// Fewest and most starts.
const STARTS: [usize; 2] = [2, 6];
/// Energies closer than this share are taken as one shape. Our guess.
const SAME_SHAPE: f64 = 2e-3;
/// Forces left when shapes are compared: energies are good to four digits. Tried.
const SEARCH_TOLERANCE: f64 = 1e-2;
/// Forces left where they are let go: that far they only have to fall.
const FALLEN: f64 = 5e-2;
/// Spacing of the nodes while searching, strand diameters. Tried.
const SEARCH_SPACING: f64 = 0.42;

/// The lowest resting shape of plain strands worked by one list of moves.
#[derive(Debug, Clone)]
pub(super) struct Branch {
    moves: MoveList,
    twist: Twist,
    /// A whole round of plain strands.
    pub tubes: Tubes,
    /// Their lowest shape, at half the strands' pull as weight.
    pub shape: Shape,
    /// The crossings of the smallest cell as the moves make them.
    pub word: CellWord,
    /// How many smallest cells there are in it.
    pub cells: usize,
    /// Rounds of the list in it.
    pub rounds: f64,
    /// How many different shapes were met.
    pub shapes: usize,
    /// How the lowest was found.
    pub report: Report,
}

impl Branch {
    /// Whether it is the branch of this recipe's moves.
    pub(super) fn is_of(&self, recipe: &Recipe) -> bool {
        self.moves == recipe.moves && self.twist == recipe.twist
    }

    /// The branch already known, or looked for anew.
    ///
    /// # Errors
    ///
    /// As [`tighten`]; a start that does not come to rest is passed over unless
    /// none does.
    pub(super) fn known_or_found(
        known: Option<&Arc<Self>>,
        recipe: &Recipe,
        progress: &Progress,
    ) -> Result<Arc<Self>, SolveError> {
        match known.filter(|branch| branch.is_of(recipe)) {
            Some(branch) => Ok(Arc::clone(branch)),
            None => Self::find(recipe, progress).map(Arc::new),
        }
    }

    fn find(recipe: &Recipe, progress: &Progress) -> Result<Self, SolveError> {
        let lines = world_lines(recipe, START_RISE)?;
        let nodes = (start::first_length(&lines) / SEARCH_SPACING).ceil() as usize;
        let nodes = nodes.max(start::fewest_nodes(&lines, 1.0));
        let plain = plain(recipe, &lines.continues, nodes, COMPARED_AT);
        let (shape, _) = tighten(
            &plain,
            laid_out(&lines, nodes),
            &Schedule::coarse(),
            progress,
        )?;
        let (tubes, symmetric) = plain.repeated(&shape, lines.cells_per_round);
        let (shape, report, shapes) =
            lowest_shape(&tubes, &symmetric, lines.cells_per_round, progress)?;
        Ok(Self {
            moves: recipe.moves.clone(),
            twist: recipe.twist,
            rounds: lines.rounds() * lines.cells_per_round as f64,
            tubes,
            shape,
            word: CellWord::new(&lines),
            cells: lines.cells_per_round,
            shapes,
            report,
        })
    }
}

/// The lowest shape that tubes fall to from near a symmetric one, and how many
/// were met.
pub(super) fn lowest_shape(
    tubes: &Tubes,
    symmetric: &Shape,
    cells: usize,
    progress: &Progress,
) -> Result<(Shape, Report, usize), TightenError> {
    let found = rests(tubes, symmetric, cells, progress)?;
    let shapes = count_shapes(&found);
    let (shape, report) = lowest(found);
    Ok((shape, report, shapes))
}

/// Shapes at rest from shaken starts; an error if no start comes to rest.
fn rests(
    tubes: &Tubes,
    symmetric: &Shape,
    cells: usize,
    progress: &Progress,
) -> Result<Vec<(Shape, Report)>, TightenError> {
    let most = (MOST_NODES / (tubes.strands * tubes.nodes)).clamp(STARTS[0], STARTS[1]);
    let mut found = Vec::new();
    let mut failed = None;
    for seed in 0..most as u64 {
        match let_go(tubes, shaken(symmetric, seed, cells), progress) {
            Ok(rest) => found.push(rest),
            Err(TightenError::Stopped) => return Err(TightenError::Stopped),
            Err(error) => failed = Some(error),
        }
        let is_pair = seed % 2 == 1;
        if is_pair && lowest_met(&found) > 1 {
            break;
        }
    }
    match failed {
        Some(error) if found.is_empty() => Err(error),
        _ => Ok(found),
    }
}

/// Let fall under little weight, then pulled up to where shapes are compared.
fn let_go(
    tubes: &Tubes,
    start: Shape,
    progress: &Progress,
) -> Result<(Shape, Report), TightenError> {
    let light = Tubes {
        weight: tubes.weight * LET_GO_AT / COMPARED_AT,
        ..tubes.clone()
    };
    let (fallen, _) = tighten(&light, start, &Schedule::warm().to(FALLEN), progress)?;
    tighten(
        tubes,
        fallen,
        &Schedule::warm().to(SEARCH_TOLERANCE),
        progress,
    )
}

fn least(found: &[(Shape, Report)]) -> f64 {
    found
        .iter()
        .map(|(_, report)| report.energy)
        .fold(f64::INFINITY, f64::min)
}

fn is_same(energy: f64, other: f64) -> bool {
    (energy - other).abs() <= SAME_SHAPE * other.abs()
}

/// How often the lowest shape was met.
fn lowest_met(found: &[(Shape, Report)]) -> usize {
    let least = least(found);
    let met = found.iter().filter(|(_, r)| is_same(r.energy, least));
    met.count()
}

/// The lowest rest, of which there is at least one.
fn lowest(found: Vec<(Shape, Report)>) -> (Shape, Report) {
    let by_energy = |a: &(Shape, Report), b: &(Shape, Report)| a.1.energy.total_cmp(&b.1.energy);
    (found.into_iter().min_by(by_energy)).expect("some start came to rest")
}

/// A shape shaken by waves up the cord and out from its middle: strands at one height and
/// depth move alike, so that it does not matter how they are named or how the disc lay. Seeds come in pairs: an
/// odd one shakes as the even one before it would the list worked the way back.
fn shaken(shape: &Shape, seed: u64, cells: usize) -> Shape {
    let mut dice = fastrand::Rng::with_seed(seed / 2);
    let waves = Waves::dealt(2 * cells, &mut dice);
    let up = if seed.is_multiple_of(2) { 1.0 } else { -1.0 };
    let mut shaken = shape.clone();
    for point in &mut shaken.points {
        let from_middle = point[0].hypot(point[1]);
        let [outwards, along] = waves.at(up * point[2] / shape.lift, from_middle);
        let out = 1.0 + outwards / from_middle.max(1.0);
        point[0] *= out;
        point[1] *= out;
        point[2] += up * along;
    }
    shaken
}

/// Waves of random strength, place and slant, of which whole numbers go into a round:
/// outwards and along the cord.
struct Waves(Vec<[[f64; 3]; 2]>);

impl Waves {
    fn dealt(count: usize, dice: &mut fastrand::Rng) -> Self {
        let most = NOISE * (2.0 / count as f64).sqrt();
        let mut wave = || [most, TAU, TAU].map(|most| most * (2.0 * dice.f64() - 1.0));
        Self((0..count).map(|_| [wave(), wave()]).collect())
    }

    /// At this share of the round's height, so many strand diameters from the middle.
    fn at(&self, height: f64, from_middle: f64) -> [f64; 2] {
        let one = |way: usize| {
            let waves = self.0.iter().enumerate().map(|(number, wave)| {
                let [strength, place, slant] = wave[way];
                let risen = TAU * (number + 1) as f64 * height;
                strength * (risen + slant * from_middle + place).cos()
            });
            waves.sum()
        };
        [one(0), one(1)]
    }
}

fn count_shapes(found: &[(Shape, Report)]) -> usize {
    let mut energies: Vec<f64> = found.iter().map(|(_, r)| r.energy).collect();
    energies.sort_by(f64::total_cmp);
    energies.dedup_by(|a, b| is_same(*a, *b));
    energies.len().max(1)
}
