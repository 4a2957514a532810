//! The instant first answer: figures of a changed recipe from the last cord,
//! without a solve.
//!
//! Strands of the same moves lie about as they lay. So the last shape is taken in
//! another size. The virial of its contacts says how hard they press the new strands,
//! and so how much each of these is squeezed. The width goes by the room they take, the
//! rise by the work of the contacts; take-up stays.
//!
//! How far that is off stands in the spread and in nothing else; see
//! [`Leeway`]. Knows no solver.

use super::figures::Figures;
use super::flattened::may_flatten;
use super::leeway::{Leeway, Step};
use super::measure::{self, Sizes};
use super::model::Miss;
use super::recipe::Recipe;
use super::section::{HOLLOW_FROM, Section};
use super::solve::Cord;
use super::spread::figures_by;
use super::start::{START_RISE, world_lines};
use super::strandlike::{Scale, strands_like, tubes_of};
use crate::mechanics::{Pressed, Resized, Tubes};

/// Width over thickness of a flat cord below which a change may make it a round one,
/// whose thickness is that of all its sides. Flat is from 1.4 on. Tried.
const NEARLY_ROUND: f64 = 1.8;
/// How much thinner, as a logarithm, a round band is called when it lies down: its mean
/// width over its thin side. Tried.
const FLATTENS: f64 = 0.3;

/// Figures at once, to be replaced by those of a solve.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstAnswer {
    /// The figures; their spread holds the miss.
    pub figures: Figures,
    /// By how much they may miss those of the solve: one in twenty does by more.
    pub miss: Miss,
}

/// Figures of a recipe from the last cord, if that has the same moves and as many
/// strands, a core or none like it, and sections that flatten or not as its do.
///
/// Takes some tens of microseconds for itself and for each end of what is not
/// certain.
pub fn first_answer(recipe: &Recipe, last: &Cord) -> Option<FirstAnswer> {
    let solved = &last.solved;
    if solved.kin.0 != recipe.moves || solved.tubes.strands != strands_like(recipe).len() {
        return None;
    }
    let flat = solved.kept_round || !solved.tubes.sections.is_empty();
    if flat != may_flatten(recipe) {
        return None;
    }
    // Of contacts that give: at the limit of those that do not the squeeze is extrapolated.
    let pressed = Pressed::of(&solved.tubes, &solved.shape);
    let (sizes, resized) = resized(recipe, last, &pressed)?;
    let miss = Leeway::of(&step(recipe, last, &resized));
    let other = |recipe: &Recipe| Some(self::resized(recipe, last, &pressed)?.0);
    let figures = figures_by(recipe, [&sizes; 2], [solved.doubt.both_ways(), miss], other);
    Some(FirstAnswer { figures, miss })
}

/// The figures of a solved cord with their spread by the virial of its contacts alone,
/// whatever its quality: a third of a millisecond where solving again for every end of
/// what is not certain takes a hundred times as much.
pub fn spread_at_once(recipe: &Recipe, cord: &Cord) -> Figures {
    let pressed = Pressed::of(&cord.solved.tubes, &cord.solved.shape);
    let other = |recipe: &Recipe| Some(resized(recipe, cord, &pressed)?.0);
    let base = other(recipe).unwrap_or_else(|| cord.sizes.clone());
    let misses = [cord.solved.doubt.both_ways(), Miss::NONE];
    figures_by(recipe, [&cord.sizes, &base], misses, other)
}

fn resized(recipe: &Recipe, last: &Cord, pressed: &Pressed) -> Option<(Sizes, Resized)> {
    let solved = &last.solved;
    let now = tubes_of(&strands_like(recipe), recipe, &solved.tubes.continues, 1);
    let resized = pressed.resized(&now)?;
    let mm = Scale::of(recipe).length / solved.scale.length;
    let times = [resized.width * mm, resized.rise * mm];
    let used = used(recipe, last);
    let sizes = measure::resized(recipe, &last.sizes, times, &resized.section, &used);
    Some((sizes, resized))
}

/// Whether all strands are alike, and no core among them.
fn is_of_one_make(tubes: &Tubes, recipe: &Recipe) -> bool {
    recipe.core.is_none()
        && (1..tubes.strands).all(|strand| {
            tubes.radius[strand * tubes.nodes] == tubes.radius[0]
                && tubes.squeeze[strand] == tubes.squeeze[0]
                && tubes.bending[strand] == tubes.bending[0]
        })
}

/// Whether the strands are laid on as they were, make by make.
fn is_same_mix(recipe: &Recipe, last: &Cord) -> bool {
    last.solved.kin.1 == recipe.makes()
}

/// Strand used for each length of cord: the mean of all where the mix is another.
fn used(recipe: &Recipe, last: &Cord) -> Vec<f64> {
    let used = last.sizes.used();
    if is_same_mix(recipe, last) {
        return used;
    }
    vec![used.iter().sum::<f64>() / used.len() as f64; used.len()]
}

/// How far it is from the last cord to this one.
fn step(recipe: &Recipe, last: &Cord, resized: &Resized) -> Step {
    let n = recipe.bodies.len();
    let alike = is_same_mix(recipe, last);
    let (sizes, band) = (&last.sizes, is_band(recipe));
    Step {
        shares: [
            effective_share(&last.solved.tubes, n),
            recipe.effective_share(),
        ],
        unevenness: if alike && is_of_one_make(&last.solved.tubes, recipe) {
            0.0
        } else {
            unevenness(&resized.grown[..n])
        },
        squeeze: resized.width.ln().abs(),
        other_mix: !alike,
        is_mixed: recipe.makes().iter().any(|&make| make != 0),
        leaves_room: band || sizes.bore > HOLLOW_FROM,
        turns: turns(sizes, band),
    }
}

/// How much thinner and thicker a cord is called, as logarithms, if it becomes flat, or
/// round.
fn turns(sizes: &Sizes, is_band: bool) -> [f64; 2] {
    let aspect = sizes.width_rested / sizes.rested;
    match sizes.section == Section::Flat {
        false if is_band => [FLATTENS, 0.0],
        true if aspect < NEARLY_ROUND => [0.0, (0.5 + 0.5 * aspect).ln()],
        _ => [0.0; 2],
    }
}

/// How unlike the strands grow: root mean square of the logarithms of their radii
/// about their mean.
fn unevenness(sections: &[f64]) -> f64 {
    let logs: Vec<f64> = sections.iter().map(|s| 0.5 * s.ln()).collect();
    let n = logs.len() as f64;
    let mean = logs.iter().sum::<f64>() / n;
    (logs.iter().map(|l| (l - mean).powi(2)).sum::<f64>() / n).sqrt()
}

/// Whether the moves make a band: somewhere on the rim nobody is carried across.
fn is_band(recipe: &Recipe) -> bool {
    world_lines(recipe, START_RISE).is_ok_and(|lines| lines.is_band())
}

/// Effective share of weight of tubes whose first strands are braided, and the others cores.
fn effective_share(tubes: &Tubes, braided: usize) -> f64 {
    let pull = |strands: &[f64]| strands.iter().sum::<f64>();
    let (strands, core) = tubes.pull.split_at(braided);
    (tubes.weight - pull(core)) / pull(strands)
}

#[cfg(test)]
mod tests {
    use super::super::{Progress, Quality, Tension, Twist, solve};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::structure::shelf;

    const SATIN: &str = "satin cord 2 mm, polyester";

    fn spiral(strands: usize, fibre: &str, pull: f64, weight: f64) -> Recipe {
        let spirals = shelf().iter().filter(|s| s.name == "Round spiral");
        let list = spirals
            .into_iter()
            .find(|s| s.strands() == strands)
            .unwrap();
        let made = vec![Strand::single(fibre, Colour([0; 3])); strands];
        let fibre = on_shelf(fibre).unwrap().clone();
        let pull = Tension::Slots(pull);
        Recipe::new(&list.moves, &made, &[fibre], pull, weight, Twist::Free).unwrap()
    }

    fn solved(recipe: &Recipe) -> Cord {
        solve(recipe, None, Quality::Fine, &Progress::new()).unwrap()
    }

    #[test]
    fn a_spread_at_once_is_about_that_of_solving_again() {
        let recipe = spiral(8, SATIN, 0.6, 70.0);
        let cord = solve(&recipe, None, Quality::Full, &Progress::new()).unwrap();
        let quick = spread_at_once(&recipe, &cord);
        for (found, solved) in [
            (quick.thickness_on_disc, cord.figures.thickness_on_disc),
            (quick.moves_per_cm, cord.figures.moves_per_cm),
            (quick.bundle, cord.figures.bundle),
        ] {
            assert_eq!(found.value, solved.value);
            let share = (found.high - found.low) / (solved.high - solved.low);
            assert!((0.7..1.5).contains(&share), "{found:?} for {solved:?}");
        }
    }

    #[test]
    fn the_same_recipe_has_the_figures_of_the_last_cord() {
        let recipe = spiral(8, SATIN, 0.6, 70.0);
        let cord = solved(&recipe);
        let first = first_answer(&recipe, &cord).unwrap().figures;
        for (found, known) in [
            (first.thickness_on_disc, cord.figures.thickness_on_disc),
            (first.thickness_rested, cord.figures.thickness_rested),
            (first.moves_per_cm, cord.figures.moves_per_cm),
            (first.bundle, cord.figures.bundle),
            (first.mass, cord.figures.mass),
            (first.take_up[3], cord.figures.take_up[3]),
        ] {
            let off = found.value / known.value - 1.0;
            assert!(off.abs() < 0.01, "{found:?} for {known:?}");
            assert!(found.low <= known.low && known.high <= found.high, "wider");
        }
    }

    /// Strands as stiff under the same share of weight: the same cord, smaller.
    #[test]
    fn lace_of_half_the_size_makes_half_the_cord() {
        let (thick, thin) = ("leather lace 2 mm, round", "leather lace 1 mm, round");
        let cord = solved(&spiral(8, thick, 0.6, 70.0));
        let halved = spiral(8, thin, 0.6, 35.0);
        let first = first_answer(&halved, &cord).unwrap().figures;
        let size = first.thickness_on_disc.value / cord.figures.thickness_on_disc.value;
        assert!((size - 0.5).abs() < 0.01, "{size}");
        let moves = first.moves_per_cm.value / cord.figures.moves_per_cm.value;
        assert!((moves - 2.0).abs() < 0.04, "{moves}");
    }

    #[test]
    fn more_pull_makes_a_thinner_cord_at_once() {
        let cord = solved(&spiral(8, SATIN, 0.6, 70.0));
        let of = |pull: f64, weight: f64| {
            let first = first_answer(&spiral(8, SATIN, pull, weight), &cord).unwrap();
            first.figures.thickness_on_disc.value
        };
        assert!(of(1.2, 140.0) < of(0.6, 70.0) && of(0.6, 70.0) < of(0.3, 35.0));
    }

    #[test]
    fn other_moves_have_no_first_answer() {
        let cord = solved(&spiral(8, SATIN, 0.6, 70.0));
        assert_eq!(first_answer(&spiral(12, SATIN, 0.6, 70.0), &cord), None);
    }

    #[test]
    fn a_core_put_in_has_no_first_answer() {
        let recipe = spiral(8, SATIN, 0.6, 70.0);
        let cord = solved(&recipe);
        let core = [Strand::single(SATIN, Colour([0; 3]))];
        let fibres = [on_shelf(SATIN).unwrap().clone()];
        let cored = recipe.with_cores(&core, &fibres).unwrap();
        assert_eq!(first_answer(&cored, &cord), None);
    }
}
