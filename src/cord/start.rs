//! From world-lines to tubes that can be pulled tight.
//!
//! A cell is the shortest run of moves that repeats. Strands of one make need
//! no more; a mix needs as many cells as it takes until every make is back in
//! its place. The mixed cord is grown from the uniform one, so that nothing
//! has to pass through anything on the way.

use super::nodes::{distance, evenly_spaced};
use super::recipe::Recipe;
use super::strandlike::{core_at_start, mean_like, tubes_of, with_core_grown};
use crate::mechanics::{Shape, Tubes, cycles_of};
use crate::topology::{WorldLines, WorldLinesError};

/// Neighbours on the rim of the start, in strand diameters: clear of one another. Tried.
const RIM_SPACING: f64 = 1.15;
/// Rise of the start for a lift over half the strands, in strand diameters; a
/// shorter lift rises less in proportion. Tried: a taller start jams in loose
/// states that converge and are wrong.
pub(super) const START_RISE: f64 = 1.0;
/// Widest spacing along the strands of the start, strand diameters. Tried.
const START_SPACING: f64 = 0.6;
/// The least rise of a lift: strands that pass at once may not lie in one plane.
const LEAST_RISE: f64 = 0.05;
/// Nodes of the core over the start's rise by its radius: a tube whose nodes lie
/// wider apart than it is thick cannot move, being always near itself (tried).
const CORE_NODES: f64 = 1.5;
/// Length of a piece over the start's rise, as a first guess: the cord comes to half
/// the height, the strand is half as long again. Mended once the shape is known.
const FIRST_LENGTH: f64 = 0.8;
/// Points of a world-line a lift: enough for its corners.
const SAMPLES: usize = 24;
/// Passes of smoothing over the corners of the chords. Tried.
const SMOOTHING: usize = 4;

/// How many cells pass until every make stands where it began.
pub(super) fn cells_until_makes_return(continues: &[usize], makes: &[usize]) -> usize {
    let mut place: Vec<usize> = continues.to_vec();
    let mut cells = 1;
    // The permutation comes back to itself at the latest, so this ends.
    while (0..makes.len()).any(|i| makes[place[i]] != makes[i]) {
        place = place.iter().map(|&j| continues[j]).collect();
        cells += 1;
    }
    cells
}

/// Uniform tubes, one reference diameter thick, along the world-lines; a core
/// runs up the middle, thin as yet.
pub(super) fn uniform(recipe: &Recipe, lines: &WorldLines, nodes: usize) -> (Tubes, Shape) {
    let strands = with_core_grown(&mean_like(recipe), 0.0);
    let mut continues = lines.continues.clone();
    if strands.len() == continues.len() {
        return (
            tubes_of(&strands, recipe, &continues, nodes),
            laid_out(lines, nodes),
        );
    }
    continues.push(lines.strands());
    let mut shape = laid_along(lines, &lines.paths(SAMPLES), nodes);
    let rise = lines.lift() / nodes as f64;
    let straight = (0..nodes).map(|node| [0.0, 0.0, rise * node as f64]);
    shape.points.extend(straight);
    shape.squeeze.resize(shape.points.len(), 0.0);
    (tubes_of(&strands, recipe, &continues, nodes), shape)
}

/// Length of a piece of world-lines, strand diameters: the mean of the strand
/// cycle where it is greatest, since nodes are spread along cycles.
fn longest(lines: &WorldLines) -> f64 {
    let paths = (lines.flat_paths(SAMPLES)).unwrap_or_else(|| lines.paths(SAMPLES));
    let length = |piece: &usize| -> f64 {
        let path = &paths[*piece];
        path.windows(2).map(|w| distance(w[0], w[1])).sum()
    };
    let mean = |cycle: &Vec<usize>| cycle.iter().map(length).sum::<f64>() / cycle.len() as f64;
    cycles_of(&lines.continues)
        .iter()
        .map(mean)
        .fold(0.0, f64::max)
}

/// Across the middle that no strand is ever carried through, strand diameters:
/// about what is free inside the cord while it stays round. Tried on tubes of 8
/// and 12 one over one: 0.8 and 1.7, solved 0.9 and 2.1. A band lies flat and leaves none.
pub(super) fn bore_left_open(recipe: &Recipe) -> f64 {
    let lines = match world_lines(recipe, START_RISE) {
        Ok(lines) if !lines.is_band() => lines,
        _ => return 0.0,
    };
    let paths = lines.paths(SAMPLES);
    let away = paths.iter().flatten().map(|p| p[0].hypot(p[1]));
    (2.0 * away.fold(f64::INFINITY, f64::min) - 1.0).max(0.0)
}

/// Length of a piece once it is tight, strand diameters, as a first guess.
pub(super) fn first_length(lines: &WorldLines) -> f64 {
    FIRST_LENGTH * lines.lift()
}

/// Fewest nodes of a piece that keep strands from slipping through each other
/// before they are pulled tight; `closeness` times the usual spacing.
pub(super) fn fewest_nodes(lines: &WorldLines, closeness: f64) -> usize {
    (longest(lines) / (START_SPACING * closeness)).ceil() as usize
}

/// Fewest nodes of the core, if there is one, and of every other piece with it.
pub(super) fn core_nodes(recipe: &Recipe, lift: f64) -> usize {
    let nodes = |radius: f64| (CORE_NODES * lift / radius).ceil() as usize;
    core_at_start(recipe).map_or(0, nodes)
}

/// The shape that world-lines have before anything is pulled; a band lies flat,
/// as hands make it: rolled up it stays so, and is wrong (tried against a slow
/// model of the braiding).
pub(super) fn laid_out(lines: &WorldLines, nodes: usize) -> Shape {
    let paths = (lines.flat_paths(SAMPLES)).unwrap_or_else(|| lines.paths(SAMPLES));
    laid_along(lines, &paths, nodes)
}

fn laid_along(lines: &WorldLines, paths: &[Vec<[f64; 3]>], nodes: usize) -> Shape {
    let screw = (lines.lift(), lines.turn);
    Shape {
        points: evenly_spaced(&lines.continues, paths, screw, SMOOTHING, nodes),
        lift: lines.lift(),
        turn: lines.turn,
        squeeze: vec![0.0; lines.strands() * nodes],
        axes: Vec::new(),
    }
}

/// World-lines with the spacing that a start needs; `rise` is that of a lift
/// over half the strands.
pub(super) fn world_lines(recipe: &Recipe, rise: f64) -> Result<WorldLines, WorldLinesError> {
    let mut lines = WorldLines::new(&recipe.braid, RIM_SPACING, rise)?;
    let passed: f64 = lines.hops.iter().map(|h| f64::from(h.passed.abs())).sum();
    let half = (lines.strands() as f64 - 1.0) / 2.0;
    let share = passed / lines.hops.len() as f64 / half;
    lines.rise = (rise * share).clamp(LEAST_RISE, rise);
    Ok(lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mix_comes_round_when_every_make_is_back() {
        // One four-cycle: alternating makes are back after two cells.
        let continues = [1, 2, 3, 0];
        assert_eq!(cells_until_makes_return(&continues, &[0, 0, 0, 0]), 1);
        assert_eq!(cells_until_makes_return(&continues, &[0, 1, 0, 1]), 2);
        assert_eq!(cells_until_makes_return(&continues, &[0, 1, 2, 3]), 4);
    }
}
