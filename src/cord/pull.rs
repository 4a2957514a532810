//! The cord under a pull: how it thins and lengthens.
//!
//! The strands keep their length; the pull takes the place of the
//! counterweight, and the strands' tension is whatever keeps them that long. Each
//! pull is solved from the one before.
//! Hard strands hardly give; soft ones are squeezed.
//!
//! One set of solves serves a cord in every [`State`]. Under more than the braiding
//! weight all lie alike. Under less friction holds them where they were left: fresh,
//! rested or worked, each with a length of its own when nothing hangs on it, and a
//! thickness of its own, since a cord keeps its solid. From there they are taken to go
//! straight to where the solved cord is longer (our guess). Knows no findings.

use super::figures::Figures;
use super::measure::per_strand;
use super::passes::NEARLY_AT_REST;
use super::recipe::{GRAVITY, Recipe};
use super::solve::Cord;
use super::solved::{SolveError, Solved};
use crate::mechanics::{
    Progress, Schedule, Shape, TightenError, Tubes, silhouette, strand_lengths, tighten,
};
use crate::quantity::Estimate;

/// Newtons of a gram's weight.
const GRAM: f64 = 1e-3 * GRAVITY;
/// Tension of a strand whose length is kept, over its share of what hangs on the
/// cord: enough to begin with, since the length decides. Tried.
const TENSION: f64 = 1.5;
/// Share of a day's shortening that a cord makes at once when the weight is taken off:
/// the spring of the fibre, before it creeps. Our guess.
const AT_ONCE: Estimate = Estimate {
    value: 0.5,
    low: 0.2,
    high: 0.8,
};

/// What was done to a cord since it was braided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum State {
    /// Just off the disc.
    Fresh,
    /// A day off the weight.
    #[default]
    Rested,
    /// Rested, and then drawn through the hand until it is supple, or worn in.
    Worked,
}

impl State {
    /// All of them, in the order in which a cord goes through them.
    pub const ALL: [Self; 3] = [Self::Fresh, Self::Rested, Self::Worked];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fresh => "fresh",
            Self::Rested => "rested",
            Self::Worked => "worked",
        }
    }
}

/// The cord under one pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PullPoint {
    /// What hangs on it, g.
    pub grams: f64,
    /// Thickness over the crests, mm.
    pub thickness: Estimate,
    /// Length against the rested length, per cent.
    pub longer: Estimate,
}

/// A cord under pulls, in every state.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pulled {
    curves: [Vec<PullPoint>; 3],
}

impl Pulled {
    /// Point for point from no pull on, the same pulls in every state; fewer than asked
    /// for if the cord does not come to rest under more.
    pub fn curve(&self, state: State) -> &[PullPoint] {
        &self.curves[state as usize]
    }
}

impl From<[Vec<PullPoint>; 3]> for Pulled {
    /// The curves of all states, in the order of [`State::ALL`].
    fn from(curves: [Vec<PullPoint>; 3]) -> Self {
        Self { curves }
    }
}

/// A shape under one pull beside that on the disc: thickness and length as factors.
#[derive(Debug, Clone, Copy)]
struct Give {
    grams: f64,
    thinner: f64,
    longer: f64,
}

/// The cord under pulls of 0 to `most_grams`, evenly spread over `points`, in every
/// state.
///
/// # Errors
///
/// [`SolveError::Stopped`] when told so; otherwise pulls at which the cord
/// does not come to rest are left out.
pub fn pulled(
    recipe: &Recipe,
    cord: &Cord,
    most_grams: f64,
    points: usize,
    progress: &Progress,
) -> Result<Pulled, SolveError> {
    let gives = gives(recipe, cord, most_grams, points, progress)?;
    let curve = |state| Loose::of(&cord.figures, state).curve(&cord.figures, &gives);
    Ok(Pulled::from(State::ALL.map(curve)))
}

/// The rested cord under pulls of 0 to `most_grams`, evenly spread over `points`.
///
/// # Errors
///
/// As [`pulled`].
pub fn under_pull(
    recipe: &Recipe,
    cord: &Cord,
    most_grams: f64,
    points: usize,
    progress: &Progress,
) -> Result<Vec<PullPoint>, SolveError> {
    let [_, rested, _] = pulled(recipe, cord, most_grams, points, progress)?.curves;
    Ok(rested)
}

/// Every pull solved; up to the braiding weight the cord lies as on the disc.
fn gives(
    recipe: &Recipe,
    cord: &Cord,
    most_grams: f64,
    points: usize,
    progress: &Progress,
) -> Result<Vec<Give>, SolveError> {
    let hung = recipe.weight() / GRAM;
    let mut stretched = Stretched::on_disc(&cord.solved);
    // Friction helped the weight while braiding, and helps it on.
    let weight = stretched.tubes.weight;
    let mut gives = vec![Give::under(hung, &stretched)];
    for k in 0..points {
        let grams = most_grams * k as f64 / (points.max(2) - 1) as f64;
        if grams <= hung {
            gives.push(Give { grams, ..gives[0] });
            continue;
        }
        match stretched.pulled(weight, grams / hung, progress) {
            Ok(()) => gives.push(Give::under(grams, &stretched)),
            Err(TightenError::Stopped) => return Err(SolveError::Stopped),
            Err(_) => break,
        }
    }
    Ok(gives)
}

impl Give {
    fn under(grams: f64, stretched: &Stretched) -> Self {
        Self {
            grams,
            thinner: stretched.width() / stretched.width_on_disc,
            longer: stretched.shape.lift / stretched.lift_on_disc,
        }
    }
}

/// A cord in one state with nothing hung on it.
struct Loose {
    /// Its length against rested, as a factor.
    length: Estimate,
    /// Its thickness, mm.
    thickness: Estimate,
}

impl Loose {
    fn of(figures: &Figures, state: State) -> Self {
        let length = match state {
            State::Fresh => fresh_over_rested(figures),
            State::Rested => Estimate::exact(1.0),
            State::Worked => map(figures.worked, |percent| 1.0 + percent / 100.0),
        };
        // A cord keeps its solid: the longer it is, the thinner.
        let thinner = length.value.sqrt().recip();
        Self {
            length,
            thickness: figures.thickness_rested.times(thinner),
        }
    }

    /// Straight from here to the first pull under which the solved cord is longer than
    /// this one, and from there as it was solved.
    fn curve(&self, figures: &Figures, gives: &[Give]) -> Vec<PullPoint> {
        let on_disc = on_disc_over_rested(figures);
        let is_longer = |give: &&Give| on_disc.value * give.longer > self.length.value;
        let from = gives.iter().find(is_longer);
        let point = |give: &Give| {
            let Some(from) = from.filter(|from| give.grams < from.grams) else {
                return solved_point(figures, give);
            };
            let (solved, share) = (solved_point(figures, from), give.grams / from.grams);
            let loose = map(self.length, |factor| (factor - 1.0) * 100.0);
            PullPoint {
                grams: give.grams,
                thickness: between(self.thickness, solved.thickness, share),
                longer: between(loose, solved.longer, share),
            }
        };
        gives[1..].iter().map(point).collect()
    }
}

fn solved_point(figures: &Figures, give: &Give) -> PullPoint {
    let length = on_disc_over_rested(figures).times(give.longer);
    PullPoint {
        grams: give.grams,
        thickness: figures.thickness_on_disc.times(give.thinner),
        longer: map(length, |factor| (factor - 1.0) * 100.0),
    }
}

/// Length on the disc against rested, as a factor.
fn on_disc_over_rested(figures: &Figures) -> Estimate {
    against_rested(figures, Estimate::exact(0.0))
}

/// Length just off the disc against rested, as a factor.
fn fresh_over_rested(figures: &Figures) -> Estimate {
    against_rested(figures, AT_ONCE)
}

/// Length of a cord that has made this share of its shortening, against rested: the more
/// the more it is still to shorten.
fn against_rested(figures: &Figures, share: Estimate) -> Estimate {
    let off = figures.off_weight;
    let factor = |percent: f64, share: f64| {
        let shortened = |share: f64| 1.0 + share * percent / 100.0;
        shortened(share) / shortened(1.0)
    };
    Estimate {
        value: factor(off.value, share.value),
        low: factor(off.high, share.high),
        high: factor(off.low, share.low),
    }
}

fn between(from: Estimate, to: Estimate, share: f64) -> Estimate {
    let mix = |a: f64, b: f64| a + share * (b - a);
    Estimate {
        value: mix(from.value, to.value),
        low: mix(from.low, to.low),
        high: mix(from.high, to.high),
    }
}

fn map(estimate: Estimate, change: impl Fn(f64) -> f64) -> Estimate {
    Estimate {
        value: change(estimate.value),
        low: change(estimate.low),
        high: change(estimate.high),
    }
}

/// A cord whose strands keep their length while the pull grows.
struct Stretched {
    tubes: Tubes,
    shape: Shape,
    braiding_pull: Vec<f64>,
    width_on_disc: f64,
    lift_on_disc: f64,
}

impl Stretched {
    fn on_disc(solved: &Solved) -> Self {
        let shape = solved.shape.clone();
        let mut tubes = solved.tubes.clone();
        let lengths = per_strand(&tubes, &strand_lengths(&tubes, &shape));
        tubes.lengths = Some(lengths);
        Self {
            width_on_disc: silhouette(&tubes, &shape).mean,
            lift_on_disc: shape.lift,
            braiding_pull: tubes.pull.clone(),
            tubes,
            shape,
        }
    }

    fn width(&self) -> f64 {
        silhouette(&self.tubes, &self.shape).mean
    }

    /// From the last pull to `weights` times the counterweight `hung`.
    fn pulled(&mut self, hung: f64, weights: f64, progress: &Progress) -> Result<(), TightenError> {
        let share = TENSION * hung * weights / self.braiding_pull.iter().sum::<f64>();
        let tension = share.max(1.0);
        let tubes = Tubes {
            weight: hung * weights,
            pull: self
                .braiding_pull
                .iter()
                .map(|pull| pull * tension)
                .collect(),
            ..self.tubes.clone()
        };
        let schedule = Schedule::warm().to(NEARLY_AT_REST).under(tension);
        let (shape, _) = tighten(&tubes, self.shape.clone(), &schedule, progress)?;
        self.shape = shape;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Quality, Tension, Twist, solve};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::structure::shelf;

    /// Of yarn that gives, so that the states lie well apart.
    fn cord() -> (Recipe, Cord) {
        let fibre = on_shelf("pearl cotton no. 5").unwrap().clone();
        let is_it =
            |it: &&crate::structure::Structure| it.strands() == 8 && it.name == "Round spiral";
        let list = shelf().iter().find(is_it).unwrap();
        let mut strand = Strand::single(&fibre.name, Colour([0; 3]));
        strand.parts[0].ends = 3;
        let (pull, twist) = (Tension::Slots(0.6), Twist::Free);
        let recipe = Recipe::new(&list.moves, &vec![strand; 8], &[fibre], pull, 70.0, twist);
        let recipe = recipe.unwrap();
        let cord = solve(&recipe, None, Quality::Full, &Progress::new()).unwrap();
        (recipe, cord)
    }

    fn curves() -> (Cord, Pulled) {
        let (recipe, cord) = cord();
        let pulled = pulled(&recipe, &cord, 400.0, 9, &Progress::new()).unwrap();
        (cord, pulled)
    }

    #[test]
    fn with_nothing_hung_on_it_a_cord_is_as_long_and_as_thick_as_its_figures_say() {
        let (cord, pulled) = curves();
        let figures = &cord.figures;
        let at_rest = pulled.curve(State::Rested)[0];
        assert_eq!(at_rest.thickness, figures.thickness_rested);
        assert_eq!(at_rest.longer, Estimate::exact(0.0));
        let worked = pulled.curve(State::Worked)[0];
        assert!((worked.longer.value - figures.worked.value).abs() < 1e-9);
        assert!(worked.thickness.value < at_rest.thickness.value);
        let fresh = pulled.curve(State::Fresh)[0];
        let on_disc = 1.0 / (1.0 + figures.off_weight.value / 100.0);
        let all = (on_disc - 1.0) * 100.0;
        assert!(fresh.longer.value > 0.3 * all && fresh.longer.value < 0.7 * all);
    }

    #[test]
    fn more_pull_makes_every_cord_longer_and_under_much_all_are_alike() {
        let (_, pulled) = curves();
        for state in State::ALL {
            let curve = pulled.curve(state);
            assert_eq!(curve.len(), 9);
            let longer = curve.iter().map(|it| it.longer.value);
            assert!(longer.is_sorted(), "{}: {curve:?}", state.word());
            let [first, last] = [curve[0], curve[8]].map(|it| it.thickness.value);
            assert!(last < first, "{}: {first} to {last}", state.word());
        }
        let last = State::ALL.map(|state| pulled.curve(state)[8]);
        assert!(last[0] == last[1] && last[1] == last[2], "{last:?}");
    }

    #[test]
    fn every_figure_lies_within_its_spread() {
        let (_, pulled) = curves();
        for point in State::ALL.iter().flat_map(|&it| pulled.curve(it)) {
            for it in [point.thickness, point.longer] {
                assert!(it.low <= it.value && it.value <= it.high, "{point:?}");
            }
        }
    }

    #[test]
    fn the_rested_curve_alone_is_that_of_all_states() {
        let (recipe, cord) = cord();
        let alone = under_pull(&recipe, &cord, 400.0, 9, &Progress::new()).unwrap();
        let all = pulled(&recipe, &cord, 400.0, 9, &Progress::new()).unwrap();
        assert_eq!(alone, all.curve(State::Rested));
    }
}
