//! How far the first answer may be off the solve, by how far it reached.
//!
//! Letters: `F` effective share of weight.
//!
//! Tried on some hundred changes of cords of the shelf against their solves
//! (`tests/first_answer.rs` does so anew on others); all figures here are ends that
//! nineteen in twenty keep, as logarithms. Mostly it is off by a quarter of that.
//! More weight for the pull makes a cord longer and its take-up smaller, and the
//! first answer knows nothing of it: so that goes one way only.

use super::model::{Miss, Shares};

/// Width, rise and take-up by themselves. Tried: packings, worst in bands.
const STAYS: [f64; 3] = [0.045, 0.07, 0.04];
/// The same in bands and tubes of unlike strands, which rest in several shapes.
const UNLIKE: [f64; 3] = [0.08, 0.28, 0.25];
/// The same where other strands lie in these places.
const MOVES: [f64; 3] = [0.09, 0.15, 0.10];
/// The same in bands and tubes, which then fold, roll up or fall in.
const FOLDS: [f64; 3] = [0.38, 0.40, 0.30];
/// For each unit of unevenness: strands in their places, and others in them.
const UNEVEN: [[f64; 3]; 2] = [[0.1, 0.3, 0.3], [0.1, 0.5, 0.3]];
/// For each unit of squeeze. Tried: hard strands changed for wool.
const SQUEEZED: [f64; 3] = [0.12, 0.1, 0.1];
/// Of the width, for each unit of `ln(F/(1 - F))`.
const LOADED_WIDTH: f64 = 0.04;
/// Rise and take-up, for each unit of `ln(F/(1 - F))`, the one up, the other down.
const LOADED: [f64; 2] = [0.3, 0.16];
/// The same where `F` is above [`STEEP_FROM`] at either end: cords run open there.
const LOADED_STEEP: [f64; 2] = [0.6, 0.16];
/// Change of `ln(F/(1 - F))` at which any such band may. Tried.
const TURNS_BY: f64 = 0.3;
/// See [`LOADED_STEEP`]. Tried.
const STEEP_FROM: f64 = 0.6;

/// The step from a cord that is known to one that is not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Step {
    /// `F` before and after.
    pub shares: [f64; 2],
    /// How unlike the strands grow, as a logarithm of their radius.
    pub unevenness: f64,
    /// How much thinner or thicker they are squeezed, as a logarithm.
    pub squeeze: f64,
    /// Whether other strands lie in these places.
    pub other_mix: bool,
    /// Whether the strands are of several makes.
    pub is_mixed: bool,
    /// Whether it is a band or a tube.
    pub leaves_room: bool,
    /// How much thinner and how much thicker it is called, as logarithms, if it passes
    /// between round and flat: of the one the thickness is that of all sides, of the
    /// other that of the thin one.
    pub turns: [f64; 2],
}

/// Ends that nineteen in twenty first answers keep.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leeway;

impl Leeway {
    /// As shares of the figures.
    pub(super) fn of(step: &Step) -> Miss {
        let [width, rise, take_up] = [0, 1, 2].map(|figure| even(step, figure));
        let odds = |share: f64| (share / (1.0 - share)).ln();
        let load = odds(step.shares[1]) - odds(step.shares[0]);
        let is_steep = step.shares.iter().any(|&share| share > STEEP_FROM);
        let [taller, less] = if is_steep { LOADED_STEEP } else { LOADED };
        let (more, fewer) = (load.max(0.0), (-load).max(0.0));
        let width = width + LOADED_WIDTH * load.abs();
        let likely = (load.abs() / TURNS_BY).min(1.0);
        let [thinner, thicker] = step.turns.map(|turns| likely * turns);
        Miss {
            width: shares(width + thinner, width + thicker),
            height: shares(rise + taller * fewer, rise + taller * more),
            take_up: shares(take_up + less * more, take_up + less * fewer),
        }
    }
}

/// What goes both ways, as a logarithm.
fn even(step: &Step, figure: usize) -> f64 {
    let base = match (step.other_mix, step.leaves_room) {
        (false, true) if step.is_mixed => UNLIKE,
        (false, _) => STAYS,
        (true, false) => MOVES,
        (true, true) => FOLDS,
    };
    let uneven = UNEVEN[usize::from(step.other_mix)];
    base[figure] + uneven[figure] * step.unevenness + SQUEEZED[figure] * step.squeeze
}

/// Logarithms down and up as shares of a figure.
fn shares(down: f64, up: f64) -> Shares {
    [1.0 - (-down).exp(), up.exp() - 1.0]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(shares: [f64; 2]) -> Step {
        Step {
            shares,
            unevenness: 0.0,
            squeeze: 0.0,
            other_mix: false,
            is_mixed: false,
            leaves_room: true,
            turns: [0.0; 2],
        }
    }

    #[test]
    fn more_weight_may_make_the_cord_longer_and_not_shorter() {
        let (same, heavier) = (Leeway::of(&step([0.3; 2])), Leeway::of(&step([0.3, 0.5])));
        assert_eq!(heavier.height[0], same.height[0]);
        assert!(heavier.height[1] > same.height[1]);
        assert_eq!(heavier.take_up[1], same.take_up[1]);
        assert!(heavier.take_up[0] > same.take_up[0]);
    }

    #[test]
    fn another_mix_is_less_sure_most_of_all_in_bands() {
        let same = step([0.3; 2]);
        let band = Step {
            other_mix: true,
            ..same
        };
        let round = Step {
            leaves_room: false,
            ..band
        };
        let [same, round, band] = [same, round, band].map(|step| Leeway::of(&step).width);
        assert!(same[1] < round[1] && round[1] < band[1]);
        assert!(band[0] < 1.0, "a width cannot vanish");
    }
}
