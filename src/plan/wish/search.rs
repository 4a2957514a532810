//! The search itself: told at once, then solved where it matters.
//!
//! Changes of the materials are told from the cord that is known. Every structure left
//! free is solved coarsely, and changes of its materials are told from that. What then
//! looks best is solved like any cord, and looked at again. Weights are solved from the
//! beginning: what they do to the thickness is less than a first answer misses it by.
//! How much is solved is counted in work, never by a clock.

use std::sync::Arc;

use rayon::prelude::*;

use super::change::Freedom;
use super::options::Way;
use super::outcome::{self, Outcome};
use super::rank::{Candidate, best};
use super::weights::{SHARE_OF_PULL, weight_for};
use super::{How, Question};
use crate::cord::{Cord, Progress, Quality, first_answer, solve, spread_at_once};

/// Ways of two changes of the materials that are told, of those that look nearest.
const TOLD: usize = 24;
/// Ways of one change that are told from a structure's own cord.
const TOLD_OF_A_STRUCTURE: usize = 6;
/// Half spreads off between which another weight may help: less need not be mended, of
/// more it is too little. Tried.
const WEIGHED: (f64, f64) = (0.1, 1.2);
/// Cords solved between two tellings, coarsely and finely.
const AT_A_TIME: [usize; 2] = [4, 2];
/// Rounds of solving what looks best.
const ROUNDS: usize = 3;
/// Work after which no more is solved finely, in looks at a node: about a second and a
/// half of one thread (tried).
const WORK: f64 = 1.4e6;
/// How many times as much a look costs where sections flatten. Tried.
const FLAT: f64 = 4.0;
/// Strands from which on another structure stays coarsely solved: its shape is looked
/// for among several, which takes seconds.
const LARGE: usize = 17;

struct Search<'a> {
    question: &'a Question<'a>,
    progress: &'a Progress,
    known: Vec<Candidate>,
}

/// Answers to a question, told whenever there are better ones.
pub(super) fn search(
    question: &Question<'_>,
    progress: &Progress,
    tell: &mut dyn FnMut(Outcome),
) -> Outcome {
    let mut search = Search {
        question,
        progress,
        known: Vec::new(),
    };
    search.materials();
    if !search.is_there_already() {
        tell(search.outcome());
        search.weights(tell);
        search.structures(tell);
        search.closely(tell);
    }
    Outcome {
        is_done: true,
        ..search.outcome()
    }
}

impl Search<'_> {
    fn outcome(&self) -> Outcome {
        outcome::of(self.question, &self.known)
    }

    /// Whether the cord is as wished without any change.
    fn is_there_already(&self) -> bool {
        let wish = &self.question.wish;
        let is_now = |it: &&Candidate| it.way.changes.is_empty();
        let now = self.known.iter().find(is_now);
        now.is_some_and(|it| wish.miss(it.measure(wish).value) == 0.0)
    }

    /// The cord as it is, and all that is told of other materials from it.
    fn materials(&mut self) {
        let free = &self.question.free;
        let now = Candidate {
            way: Way::as_it_is(self.question.now),
            figures: self.question.cord.figures.clone(),
            how: How::Solved,
            cord: Arc::new(self.question.cord.clone()),
            is_own: true,
        };
        let mut ways = now.way.of_materials(free);
        ways.extend(self.nearest(&now, now.way.of_materials_twice(free), TOLD));
        let told = told(&now.cord, &ways);
        self.known.push(now);
        self.known.extend(told);
    }

    /// The cord as it is under another weight.
    fn weights(&mut self, tell: &mut dyn FnMut(Outcome)) {
        if let Some(weighed) = self.weighed(&self.known[0]) {
            self.known.push(weighed);
            tell(self.outcome());
        }
    }

    /// Every structure that is left free, coarsely, and what is told from each.
    fn structures(&mut self, tell: &mut dyn FnMut(Outcome)) {
        let now = &self.known[0];
        let ways = self.nearest(now, now.way.of_structures(&self.question.free), usize::MAX);
        for some in ways.chunks(AT_A_TIME[0]) {
            let found = some.par_iter().map(|way| self.of_structure(way));
            let found: Vec<_> = found.collect();
            if self.progress.is_stopped() {
                return;
            }
            self.known.extend(found.into_iter().flatten());
            tell(self.outcome());
        }
    }

    /// A mix is told from a cord of one make: its own would take too long.
    fn of_structure(&self, way: &Way) -> Vec<Candidate> {
        let base = Way {
            makings: way.makings.of_one_make(),
            ..way.clone()
        };
        let is_mixed = way.makings.is_mixed();
        let Some(base) = self.solved(&base, None, Quality::Coarse) else {
            return Vec::new();
        };
        let free = &self.question.free;
        let ways = way.of_materials(free);
        let mut ways = self.nearest(&base, ways, TOLD_OF_A_STRUCTURE);
        if is_mixed {
            ways.push(way.clone());
        }
        let told = ways.iter().filter_map(|it| tell(&base.cord, it));
        let mut found: Vec<Candidate> = told.collect();
        if !is_mixed {
            found.push(base);
        }
        found
    }

    /// What looks best is solved like any cord, until nothing better looks so.
    fn closely(&mut self, tell: &mut dyn FnMut(Outcome)) {
        let question = self.question;
        let mut work = 0.0;
        for _ in 0..ROUNDS {
            let rough = best(&self.known, &question.wish, question.most);
            let rough = rough.into_iter().filter(|it| may_be_solved(it));
            let rough: Vec<Candidate> = rough.cloned().collect();
            for some in rough.chunks(AT_A_TIME[1]) {
                if work > WORK {
                    return;
                }
                let solved: Vec<_> = some.par_iter().map(|it| self.closer(it)).collect();
                if self.progress.is_stopped() {
                    return;
                }
                let is_rough = |it: &Candidate| some.iter().any(|rough| rough.way == it.way);
                self.known.retain(|it| !is_rough(it));
                let solved = solved.into_iter().flatten();
                self.known
                    .extend(solved.inspect(|it| work += work_of(&it.cord)));
                tell(self.outcome());
            }
        }
    }

    /// A way solved, and again under a better weight where that is quickly found.
    fn closer(&self, rough: &Candidate) -> Vec<Candidate> {
        let solved = self.solved(&rough.way, Some(&rough.cord), Quality::Fine);
        let is_quick = !rough.way.makings.is_mixed();
        let weighed = solved.as_ref().filter(|_| is_quick);
        let weighed = weighed.and_then(|solved| self.weighed(solved));
        solved.into_iter().chain(weighed).collect()
    }

    /// A way with its own cord; none if there is no such cord.
    fn solved(&self, way: &Way, from: Option<&Cord>, quality: Quality) -> Option<Candidate> {
        let recipe = way.makings.recipe().ok()?;
        let cord = solve(&recipe, from, quality, self.progress).ok()?;
        let how = if quality == Quality::Coarse || cord.is_of_mean_strands() {
            How::About
        } else {
            How::Solved
        };
        let figures = match how {
            How::About => first_answer(&recipe, &cord)?.figures,
            How::Solved => spread_at_once(&recipe, &cord),
        };
        Some(Candidate {
            way: way.clone(),
            figures,
            how,
            cord: Arc::new(cord),
            is_own: true,
        })
    }

    /// A solved cord under the weight that brings it nearest to the wish, if that is left
    /// free and may help.
    fn weighed(&self, solved: &Candidate) -> Option<Candidate> {
        let wish = &self.question.wish;
        let off = solved.off(wish);
        let (least, most) = WEIGHED;
        let is_free = self.question.free.contains(&Freedom::Counterweight);
        if !is_free || !(least..=most).contains(&off) {
            return None;
        }
        let way = &solved.way;
        let under = |grams: f64| way.and(way.makings.with_weight(grams));
        let figure = |grams: f64| {
            let way = under(grams);
            let share = way.makings.recipe().ok()?.weight_share();
            let (least, most) = SHARE_OF_PULL;
            let is_usual = (least..=most).contains(&share);
            let solve = || self.solved(&way, Some(&solved.cord), Quality::Fine);
            Some(is_usual.then(solve).flatten()?.measure(wish).value)
        };
        let grams = weight_for(way, wish, figure)?;
        let weighed = self.solved(&under(grams), Some(&solved.cord), Quality::Fine)?;
        (weighed.off(wish) < off).then_some(weighed)
    }

    /// Those of some ways whose bundles of strands are nearest to the wish, by what the
    /// bundle of `from` measures as a cord.
    fn nearest(&self, from: &Candidate, mut ways: Vec<Way>, most: usize) -> Vec<Way> {
        let wish = &self.question.wish;
        let wanted = wish.mm / from.measure(wish).value * from.way.makings.bundle();
        let off = |way: &Way| (way.makings.bundle() / wanted).ln().abs();
        ways.sort_by(|a, b| off(a).total_cmp(&off(b)));
        ways.truncate(most);
        ways
    }
}

/// Whether a closer look is not yet taken, and not too much.
fn may_be_solved(it: &Candidate) -> bool {
    let is_large = it.way.makings.strands.len() >= LARGE;
    let other = it.way.freedoms();
    let is_other = other.contains(&Freedom::Structure) || other.contains(&Freedom::Strands);
    it.how == How::About && !(is_large && is_other)
}

/// Looks at nodes that a cord took, those of its last cell for all.
fn work_of(cord: &Cord) -> f64 {
    let looks = cord.report.evaluations as f64 * cord.form.points.len() as f64;
    let is_flat = !cord.form.wide.is_empty();
    if is_flat { FLAT * looks } else { looks }
}

/// What is told of these ways from a cord.
fn told(cord: &Arc<Cord>, ways: &[Way]) -> Vec<Candidate> {
    let told: Vec<_> = ways.par_iter().map(|way| tell(cord, way)).collect();
    told.into_iter().flatten().collect()
}

fn tell(cord: &Arc<Cord>, way: &Way) -> Option<Candidate> {
    let recipe = way.makings.recipe().ok()?;
    let first = first_answer(&recipe, cord)?;
    Some(Candidate {
        way: way.clone(),
        figures: first.figures,
        how: How::About,
        cord: Arc::clone(cord),
        is_own: false,
    })
}
