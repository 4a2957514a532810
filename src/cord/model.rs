//! How far the quick model is off against the slow one of the braiding itself.
//!
//! Letters: `f` weight over the pull of all strands together, `mu` friction.
//!
//! The slow model (`tests/formation.rs`, whose longer study prints what stands
//! here) works hard limp strands lift by lift, with friction. All errors are shares
//! of the figure, downwards and upwards; no real cord was measured.
//!
//! What friction does under little weight the quick model does not know: a cord
//! with a lay stays open in the middle, thicker and shorter.

use super::figures::Hand;
use super::measure::Sizes;
use super::recipe::Recipe;
use super::section::{HOLLOW_FROM, Section};

/// A cord with a lay stays open when `f` is below this and [`OPEN_FRICTION`]
/// times `mu`. Tried on eight strands: open below 0.08, 0.17, 0.24 and 0.27 at
/// friction 0, 0.1, 0.2 and 0.3.
const OPEN_BELOW: f64 = 0.1;
/// See [`OPEN_BELOW`].
const OPEN_FRICTION: f64 = 0.65;
/// Share of what was seen on open cords that counts: makers' ranges are those of
/// closed cords (common practice, no source), so the slots may pull less than is
/// said of them. Our guess.
const OPEN_COUNTS: f64 = 0.35;
/// The slots may pull only this share of what is said of them.
const LEAST_PULL: f64 = 0.5;

/// Effective share of weight above which heights follow it steeply. Tried.
const STEEP_FROM: f64 = 0.65;
/// Friction above which the effective weight was not fitted. Tried.
const MUCH_FRICTION: f64 = 0.3;
/// What height and take-up are off by at least in either case. Tried.
const STEEP_ERROR: [f64; 2] = [0.15, 0.08];
/// Strands of which more were studied in one case only, 8 % off in width.
const MANY: usize = 24;
/// See [`MANY`].
const MANY_ERROR: f64 = 0.08;

/// Shares of a figure, downwards and upwards.
pub(super) type Shares = [f64; 2];

/// What a quicker way to a figure misses by: shares of it, downwards and upwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Miss {
    /// Of all widths.
    pub width: [f64; 2],
    /// Of lengths along the cord.
    pub height: [f64; 2],
    /// Of the strand used for a length of cord.
    pub take_up: [f64; 2],
}

/// Eight strands from f 0.2 on: height 3 %, width 1 %, take-up 3 %; 16 strands
/// from 0.2 on: 4 %, 3 % and 5 %; square of 8: 5 %, 2 % and 5 %.
const ROUND: Miss = Miss {
    width: [0.03, 0.03],
    height: [0.05, 0.05],
    take_up: [0.03, 0.05],
};
/// Tubes of 8 and 12: the slow one 1 to 7 % wider, up to 15 % shorter from f 0.4 on.
const HOLLOW: Miss = Miss {
    width: [0.02, 0.07],
    height: [0.15, 0.07],
    take_up: [0.03, 0.09],
};
/// Bands of 5 to 10: the slow one up to 15 % wider and 10 % shorter.
const FLAT: Miss = Miss {
    width: [0.05, 0.15],
    height: [0.10, 0.05],
    take_up: [0.05, 0.15],
};
/// Eight strands open: 34 % wider, a third shorter, take-up half as much again.
const OPEN: Miss = Miss {
    width: [0.0, 0.34],
    height: [0.35, 0.0],
    take_up: [0.0, 0.47],
};

/// What the model is off by for this cord.
pub(super) fn model_error(recipe: &Recipe, sizes: &Sizes) -> Miss {
    let mut error = match () {
        () if sizes.section == Section::Flat => FLAT,
        () if sizes.bore > HOLLOW_FROM => HOLLOW,
        () => ROUND,
    };
    if stays_open(recipe, sizes, 1.0) {
        error = error.and(OPEN, OPEN_COUNTS);
    }
    if recipe.effective_share() > STEEP_FROM || friction(recipe) > MUCH_FRICTION {
        let [height, take_up] = STEEP_ERROR;
        error.height = error.height.map(|share| share.max(height));
        error.take_up = error.take_up.map(|share| share.max(take_up));
    }
    if recipe.bodies.len() > MANY {
        error.width = error.width.map(|share| share.max(MANY_ERROR));
    }
    error
}

/// Whether the slow model leaves such a cord open even if the slots pull only
/// half as hard as is said of them.
pub(super) fn surely_stays_open(recipe: &Recipe, sizes: &Sizes) -> bool {
    stays_open(recipe, sizes, LEAST_PULL)
}

/// The same if the strands are pulled this share of what is said.
fn stays_open(recipe: &Recipe, sizes: &Sizes, pull: f64) -> bool {
    let open_below = OPEN_BELOW + OPEN_FRICTION * friction(recipe);
    let has_lay = sizes.hand != Hand::None && recipe.core.is_none();
    has_lay && recipe.weight_share() / pull < open_below
}

fn friction(recipe: &Recipe) -> f64 {
    let bodies = &recipe.bodies;
    bodies.iter().map(|b| b.friction).sum::<f64>() / bodies.len() as f64
}

impl Miss {
    /// Of what is exact.
    pub const NONE: Self = Self {
        width: [0.0; 2],
        height: [0.0; 2],
        take_up: [0.0; 2],
    };

    /// Both together, the other at a share of itself.
    fn and(self, other: Self, share: f64) -> Self {
        let both = |a: Shares, b: Shares| [0, 1].map(|end| a[end].hypot(share * b[end]));
        Self {
            width: both(self.width, other.width),
            height: both(self.height, other.height),
            take_up: both(self.take_up, other.take_up),
        }
    }
}
