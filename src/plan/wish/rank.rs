//! Which answers come first, and which are near enough alike that one will do.
//!
//! An answer costs how far its figure misses the wish, in half spreads of the figure,
//! and how much is changed for it, in the same measure ([`Change::weight`]). Answers of
//! one kind are not given again and again: each one that is given makes the next of its
//! kind cost more.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::change::{Change, Freedom};
use super::options::Way;
use super::{How, Wish};
use crate::cord::{Cord, Figures};
use crate::quantity::Estimate;

/// What an answer costs more for each one of its kind before it. Our guess.
const AGAIN: f64 = 0.3;
/// What it costs more if the cord is flat that was round, or the like. Our guess.
const OTHER_SECTION: f64 = 0.5;
/// At most so many answers of one kind.
const MOST_OF_A_KIND: usize = 3;
/// A spread wider than this share of the figure excuses no more: being unsure is no
/// way of being right.
const EXCUSES: f64 = 0.1;

/// A way with what is known of its cord.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub way: Way,
    pub figures: Figures,
    pub how: How,
    /// The cord of the way, or the one its figures are told from.
    pub cord: Arc<Cord>,
    /// Whether `cord` has the moves and the strands of the way.
    pub is_own: bool,
}

impl Candidate {
    pub(super) fn measure(&self, wish: &Wish) -> Estimate {
        wish.measure(&self.figures)
    }

    /// By how much it misses the wish, in half spreads on that side.
    pub(super) fn off(&self, wish: &Wish) -> f64 {
        let measure = self.measure(wish);
        let miss = wish.miss(measure.value);
        let half = if miss < 0.0 {
            measure.high - measure.value
        } else {
            measure.value - measure.low
        };
        let half = half.clamp(1e-3 * measure.value, EXCUSES * measure.value);
        miss.abs() / wish.excuses(half)
    }

    fn cost(&self, wish: &Wish, now: &Self) -> f64 {
        let changed: f64 = self.way.changes.iter().map(Change::weight).sum();
        let turned = if self.figures.section == now.figures.section {
            0.0
        } else {
            OTHER_SECTION
        };
        self.off(wish) + changed + turned
    }

    /// Whether the other is the same but for a weight.
    fn is_like(&self, other: &Self) -> bool {
        let is_weight = |change: &&Change| matches!(change, Change::Counterweight { .. });
        let [one, two] = [self, other].map(|it| it.way.changes.iter());
        let [one, two] = [one, two].map(|it| it.filter(|change| !is_weight(change)));
        one.eq(two)
    }
}

/// A candidate with what it costs by itself.
struct Costed<'a> {
    candidate: &'a Candidate,
    cost: f64,
    kind: BTreeSet<Freedom>,
}

/// The best of them, unlike one another, the best first; the first of all is the cord as
/// it is.
pub(super) fn best<'a>(all: &'a [Candidate], wish: &Wish, most: usize) -> Vec<&'a Candidate> {
    let costed = |candidate: &'a Candidate| Costed {
        candidate,
        cost: candidate.cost(wish, &all[0]),
        kind: candidate.way.freedoms(),
    };
    let mut left: Vec<Costed<'a>> = all.iter().map(costed).collect();
    let mut given: Vec<Costed<'a>> = Vec::new();
    while given.len() < most {
        let alike = |it: &Costed<'_>| given.iter().filter(|other| other.kind == it.kind).count();
        let is_new = |it: &Costed<'_>| {
            let mut others = given.iter();
            alike(it) < MOST_OF_A_KIND && others.all(|other| !it.candidate.is_like(other.candidate))
        };
        left.retain(is_new);
        let cost = |it: &Costed<'_>| it.cost + AGAIN * alike(it) as f64;
        let next = (0..left.len()).min_by(|&a, &b| cost(&left[a]).total_cmp(&cost(&left[b])));
        let Some(next) = next else { break };
        given.push(left.remove(next));
    }
    given.into_iter().map(|it| it.candidate).collect()
}

#[cfg(test)]
mod tests {
    use super::super::sample::cord_of;
    use super::*;
    use crate::cord::{Progress, Quality, solve, spread_at_once};

    /// Ways to say of one cord: as it is, and as if so many strands or grams were changed.
    fn told(ways: Vec<(Way, f64)>) -> Vec<Candidate> {
        let recipe = cord_of("Round spiral", 8).recipe().expect("it is a cord");
        let cord = solve(&recipe, None, Quality::Coarse, &Progress::new());
        let cord = Arc::new(cord.expect("it is a cord"));
        let figures = spread_at_once(&recipe, &cord);
        let candidate = |(way, thickness): (Way, f64)| {
            let mut figures = figures.clone();
            figures.thickness_rested = Estimate {
                value: thickness,
                low: 0.9 * thickness,
                high: 1.1 * thickness,
            };
            Candidate {
                way,
                figures,
                how: How::About,
                cord: Arc::clone(&cord),
                is_own: false,
            }
        };
        ways.into_iter().map(candidate).collect()
    }

    fn ends(now: &Way, to: u16) -> Way {
        let fibre = now.makings.strands[0].parts[0].fibre.clone();
        now.and(now.makings.with_ends(&fibre, 1, to))
    }

    #[test]
    fn what_misses_less_comes_first_and_of_like_misses_what_changes_less() {
        let now = Way::as_it_is(&cord_of("Round spiral", 8));
        let weight = now.and(now.makings.with_weight(90.0));
        let (two, three) = (ends(&now, 2), ends(&now, 3));
        let all = told(vec![
            (now, 8.0),
            (three, 10.4),
            (two.clone(), 10.1),
            (weight.clone(), 10.1),
        ]);
        let wish = Wish::thickness(10.0, 0.0).expect("it can be wished for");
        let found = best(&all, &wish, 3);
        assert_eq!(found[0].way, weight);
        assert_eq!(found[1].way, two);
    }

    #[test]
    fn no_two_answers_differ_by_a_weight_alone() {
        let now = Way::as_it_is(&cord_of("Round spiral", 8));
        let two = ends(&now, 2);
        let heavier = |grams| two.and(two.makings.with_weight(grams));
        let all = told(vec![
            (now, 8.0),
            (two.clone(), 10.0),
            (heavier(90.0), 10.0),
            (heavier(95.0), 10.0),
        ]);
        let wish = Wish::thickness(10.0, 0.0).expect("it can be wished for");
        let found = best(&all, &wish, 4);
        let changed = found.iter().filter(|it| !it.way.changes.is_empty());
        assert_eq!(changed.count(), 1);
    }
}
