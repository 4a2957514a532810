//! What a search has found so far, to be shown.

use std::sync::Arc;

use super::change::{Change, Look};
use super::makings::{Makings, Thread};
use super::rank::{Candidate, best};
use super::{How, Question, Wanted};
use crate::cord::{Cord, Figures};
use crate::quantity::{Estimate, Length, UnitSystem};

/// More half spreads off than this is no answer to the wish.
const NO_ANSWER: f64 = 1.0;
/// So many are given where none is an answer.
const NEAREST: usize = 3;

/// One cord that comes near the wish.
#[derive(Debug, Clone)]
pub struct Answer {
    /// What changes; nothing if it is the cord as it is.
    pub changes: Vec<Change>,
    /// The makings after it, complete.
    pub makings: Makings,
    /// Its figures with their spread.
    pub figures: Figures,
    /// What was wished for, of this cord, mm.
    pub measure: Estimate,
    /// Whether it was solved, or is told from a cord like it.
    pub how: How,
    /// How unlike it looks.
    pub look: Look,
    /// Thread for a length of it.
    pub threads: Vec<Thread>,
    /// Its cord, to be drawn; none while it is told from another one.
    pub cord: Option<Arc<Cord>>,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// The nearest first.
    pub answers: Vec<Answer>,
    /// Thread for a length of the cord as it is now.
    pub now: Vec<Thread>,
    /// Why there is no answer, if there is none, one sentence; the answers are then
    /// the nearest there are.
    pub hindrance: Option<Hindrance>,
    /// Whether nothing better will come.
    pub is_done: bool,
}

/// Why nothing answers the wish.
#[derive(Debug, Clone, PartialEq)]
pub enum Hindrance {
    /// Nothing may change.
    NothingFree,
    /// What may change does not reach it.
    OutOfReach {
        /// What was asked for.
        wanted: Wanted,
        /// How much of it, mm.
        mm: f64,
        /// What comes nearest, mm.
        nearest: f64,
    },
}

impl Hindrance {
    /// One sentence for the maker.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let shown = |mm: f64| Length::from_mm(mm).shown(units);
        match self {
            Self::NothingFree => {
                "nothing is left free to change; leave at least one thing free".to_owned()
            }
            Self::OutOfReach {
                wanted,
                mm,
                nearest,
            } => format!(
                "what may change makes no {} of {}; the nearest is {}",
                wanted.words(),
                shown(*mm),
                shown(*nearest)
            ),
        }
    }
}

impl Answer {
    /// Its changes in plain words, the largest first.
    pub fn words(&self, units: UnitSystem) -> String {
        if self.changes.is_empty() {
            return "as it is".to_owned();
        }
        let first = self.changes.first().map(|change| change.words(units));
        let pairs = self.changes.windows(2);
        let others = pairs.map(|pair| pair[1].words_after(&pair[0], units));
        first
            .into_iter()
            .chain(others)
            .collect::<Vec<_>>()
            .join("; ")
    }

    fn of(candidate: &Candidate, question: &Question<'_>) -> Self {
        let way = &candidate.way;
        let looks = way.changes.iter().map(Change::look);
        Self {
            changes: way.changes.clone(),
            makings: way.makings.clone(),
            measure: candidate.measure(&question.wish),
            how: candidate.how,
            look: looks.max().unwrap_or(Look::Kept),
            threads: way.makings.threads(&candidate.figures),
            figures: candidate.figures.clone(),
            cord: candidate.is_own.then(|| Arc::clone(&candidate.cord)),
        }
    }
}

/// What is known so far as an outcome; the first that is known is the cord as it is.
pub(super) fn of(question: &Question<'_>, known: &[Candidate]) -> Outcome {
    let wish = &question.wish;
    let found = best(known, wish, question.most);
    let is_answer = |it: &&&Candidate| it.off(wish) <= NO_ANSWER;
    let answers: Vec<&Candidate> = found.iter().filter(is_answer).copied().collect();
    let as_it_is = answers.iter().find(|it| it.way.changes.is_empty());
    let hindrance = hindrance(question, known, answers.is_empty());
    let given = match (&hindrance, as_it_is) {
        (Some(_), _) => nearest(known, question),
        (None, Some(now)) if wish.miss(now.measure(wish).value) == 0.0 => vec![*now],
        (None, Some(now)) => others(&answers).chain([*now]).collect(),
        (None, None) => answers,
    };
    Outcome {
        answers: given
            .into_iter()
            .map(|it| Answer::of(it, question))
            .collect(),
        now: question.now.threads(&question.cord.figures),
        hindrance,
        is_done: false,
    }
}

/// Those that change something: the cord as it is stands behind them, to compare with.
fn others<'a>(answers: &[&'a Candidate]) -> impl Iterator<Item = &'a Candidate> {
    let answers = answers.iter().copied();
    answers.filter(|it| !it.way.changes.is_empty())
}

fn nearest<'a>(known: &'a [Candidate], question: &Question<'_>) -> Vec<&'a Candidate> {
    let miss = |it: &&Candidate| question.wish.miss(it.measure(&question.wish).value).abs();
    let mut all: Vec<&Candidate> = known.iter().collect();
    all.sort_by(|a, b| miss(a).total_cmp(&miss(b)));
    all.truncate(NEAREST);
    all
}

fn hindrance(
    question: &Question<'_>,
    known: &[Candidate],
    has_no_answer: bool,
) -> Option<Hindrance> {
    if !has_no_answer {
        return None;
    }
    if question.free.is_empty() {
        return Some(Hindrance::NothingFree);
    }
    let wish = &question.wish;
    let nearest = nearest(known, question).first()?.measure(wish).value;
    Some(Hindrance::OutOfReach {
        wanted: wish.wanted,
        mm: wish.mm,
        nearest,
    })
}
