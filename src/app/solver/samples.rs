//! Sample cords for shelves of structures, solved when nothing else is to do.
//!
//! Some are of one and the same plain strand, to be compared with each other; some
//! are of what the maker's first strand is made of. Of these only the newest make
//! is wanted: what waits for an earlier one is let go.

use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

use super::{Answer, Bench, Solver, guarded};
use crate::cord::{Cord, Firmness, Progress, Quality, Recipe, lengthening, solve};

/// From so many strands on a cord has several shapes at rest, and only a fine solve
/// looks for the one that hands make. Tried: with fewer, coarse and fine cords of the
/// shelf have the same section and the same hand.
const FINE_FROM: usize = 16;

/// What a sample is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// The plain strand of all samples.
    Plain,
    /// What the maker's first strand is made of; told apart by a number.
    Make(u64),
}

/// A solved sample.
#[derive(Debug, Clone)]
pub(super) struct Sample {
    kind: Kind,
    /// None if there is no such cord.
    cord: Option<Arc<Cord>>,
    /// How much longer it is under a weight, per cent; of plain ones.
    longer: Option<f64>,
    /// To be looked at until the fine one is there; it may lie in another shape.
    is_rough: bool,
}

/// A sample that is to be solved.
#[derive(Debug)]
pub(super) struct Wanted {
    key: String,
    kind: Kind,
    recipe: Recipe,
    /// Whether a rough one was shown.
    is_shown: bool,
}

/// Samples that wait, in the order in which they were asked for.
#[derive(Debug, Default)]
pub(super) struct Queue {
    waiting: VecDeque<Wanted>,
    /// The make that is wanted now.
    make: Option<u64>,
}

impl Queue {
    /// The first that waits.
    pub(super) fn next(&mut self) -> Option<Wanted> {
        self.waiting.pop_front()
    }

    /// One that was begun waits again, unless nobody wants it any more.
    fn back(&mut self, wanted: Wanted) {
        if self.make.is_none_or(|make| is_of(wanted.kind, make)) {
            self.waiting.push_front(wanted);
        }
    }

    fn let_go(&mut self, make: u64) {
        self.make = Some(make);
        self.waiting.retain(|wanted| is_of(wanted.kind, make));
    }
}

fn is_of(kind: Kind, make: u64) -> bool {
    kind == Kind::Plain || kind == Kind::Make(make)
}

/// Samples asked for, and what came of them.
#[derive(Debug, Default)]
pub(super) struct Samples {
    asked: BTreeMap<String, Kind>,
    solved: BTreeMap<String, Sample>,
    /// The make that is wanted now.
    make: Option<u64>,
}

impl Samples {
    /// A sample has come; one of an earlier make has come for nothing.
    pub(super) fn solved(&mut self, key: String, sample: Sample) {
        if self.asked.contains_key(&key) {
            self.solved.insert(key, sample);
        }
    }

    fn let_go(&mut self, make: u64) {
        self.make = Some(make);
        self.asked.retain(|_, kind| is_of(*kind, make));
        self.solved.retain(|_, sample| is_of(sample.kind, make));
    }
}

impl Solver {
    /// The sample under `key`: `None` until solved, `Some(None)` if there is none.
    pub fn sample(&self, key: &str) -> Option<&Option<Arc<Cord>>> {
        self.samples.solved.get(key).map(|sample| &sample.cord)
    }

    /// Whether the sample under `key` is only to be looked at: section, hand and
    /// firmness are those of the fine one to come.
    pub fn is_rough(&self, key: &str) -> bool {
        let sample = self.samples.solved.get(key);
        sample.is_some_and(|sample| sample.is_rough)
    }

    /// How much longer a plain sample is with a weight hung on it, per cent, with the
    /// word for it.
    pub fn firmness(&self, key: &str) -> Option<(Firmness, f64)> {
        let longer = self.samples.solved.get(key)?.longer?;
        Some((Firmness::of(longer), longer))
    }

    /// Samples that wait for the solver.
    pub fn samples_waiting(&self) -> usize {
        self.post.board().samples.waiting.len()
    }

    /// Asks for a sample cord, to be solved when nothing else is to do.
    pub fn ask_sample(&mut self, key: &str, kind: Kind, recipe: impl FnOnce() -> Option<Recipe>) {
        let samples = &mut self.samples;
        if samples.asked.insert(key.to_owned(), kind).is_some() {
            return;
        }
        let Some(recipe) = recipe() else {
            let none = Sample {
                kind,
                cord: None,
                longer: None,
                is_rough: false,
            };
            samples.solved.insert(key.to_owned(), none);
            return;
        };
        let wanted = Wanted {
            key: key.to_owned(),
            kind,
            recipe,
            is_shown: false,
        };
        let mut board = self.post.board();
        board.samples.waiting.push_back(wanted);
        self.post.ring();
    }

    /// From now on samples of this make are wanted; those of an earlier one are let
    /// go, waiting or solved.
    pub fn want_make(&mut self, make: u64) {
        if self.samples.make == Some(make) {
            return;
        }
        self.samples.let_go(make);
        self.post.board().samples.let_go(make);
    }
}

impl Bench {
    /// A sample; put back in the queue when the design came between.
    pub(super) fn sample(&self, mut wanted: Wanted, progress: &Progress) {
        let is_large = wanted.recipe.bodies().len() >= FINE_FROM;
        let is_plain = wanted.kind == Kind::Plain;
        if is_large && is_plain && !wanted.is_shown {
            wanted.is_shown = self.rough(&wanted, progress);
        }
        let quality = if is_large {
            Quality::Fine
        } else {
            Quality::Coarse
        };
        let recipe = &wanted.recipe;
        let cord = guarded(|| solve(recipe, None, quality, progress)).ok();
        let give = |cord: &Cord| lengthening(recipe, cord, progress).ok().flatten();
        let longer = cord.as_ref().filter(|_| is_plain).and_then(give);
        if progress.is_stopped() {
            self.post.board().samples.back(wanted);
            return;
        }
        let sample = Sample {
            kind: wanted.kind,
            cord: cord.map(Arc::new),
            longer: longer.map(|it| it.value),
            is_rough: false,
        };
        self.say(Answer::Sample(wanted.key, sample));
    }

    /// A coarse cord to be looked at meanwhile; whether there is one.
    fn rough(&self, wanted: &Wanted, progress: &Progress) -> bool {
        let recipe = &wanted.recipe;
        let Ok(cord) = guarded(|| solve(recipe, None, Quality::Coarse, progress)) else {
            return false;
        };
        let sample = Sample {
            kind: wanted.kind,
            cord: Some(Arc::new(cord)),
            longer: None,
            is_rough: true,
        };
        self.say(Answer::Sample(wanted.key.clone(), sample));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{thin, wait};
    use super::*;
    use crate::app::recipe;
    use crate::document::Design;
    use crate::structure::{Structure, shelf};

    #[test]
    fn a_sample_is_solved_when_nothing_else_is_to_do() {
        let mut solver = Solver::new(|| ());
        solver.ask_sample("thin", Kind::Plain, || thin().ok());
        solver.ask_sample("none", Kind::Plain, || None);
        wait(&mut solver, |solver| solver.sample("thin").is_some());
        assert!(matches!(solver.sample("thin"), Some(Some(_))), "a cord");
        assert!(matches!(solver.sample("none"), Some(None)), "no such cord");
        let (firmness, longer) = solver.firmness("thin").expect("it was pulled");
        assert_eq!(Firmness::of(longer), firmness);
        assert!(longer > 1.0 && longer < 40.0, "{longer} %");
        assert!(solver.firmness("none").is_none());
    }

    #[test]
    fn a_large_sample_is_shown_roughly_until_the_fine_one_is_there() {
        let is_large = |one: &&Structure| one.strands() == FINE_FROM;
        let large = shelf().iter().find(is_large).expect("on the shelf");
        let asked = || recipe(&Design::fresh(large)).ok();
        let mut solver = Solver::new(|| ());
        solver.ask_sample("large", Kind::Plain, asked);
        wait(&mut solver, |solver| solver.sample("large").is_some());
        if solver.is_rough("large") {
            assert!(solver.firmness("large").is_none(), "of the fine one alone");
        }
        wait(&mut solver, |solver| !solver.is_rough("large"));
        assert!(solver.firmness("large").is_some());
    }

    #[test]
    fn samples_of_an_earlier_make_are_let_go_and_plain_ones_are_kept() {
        let mut solver = Solver::new(|| ());
        solver.want_make(1);
        let keys = ["a", "b", "c", "d", "e", "f"];
        for key in keys {
            solver.ask_sample(key, Kind::Make(1), || thin().ok());
        }
        solver.ask_sample("plain", Kind::Plain, || thin().ok());
        solver.want_make(2);
        assert!(
            solver.samples_waiting() <= 2,
            "what runs, and the plain one"
        );
        solver.ask_sample("new", Kind::Make(2), || thin().ok());
        wait(&mut solver, |solver| solver.sample("new").is_some());
        assert!(keys.iter().all(|key| solver.sample(key).is_none()));
        assert!(solver.sample("plain").is_some(), "it came before");
        solver.want_make(1);
        assert!(solver.sample("new").is_none());
        solver.ask_sample("a", Kind::Make(1), || thin().ok());
        wait(&mut solver, |solver| solver.sample("a").is_some());
    }
}
