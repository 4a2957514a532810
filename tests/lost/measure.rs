//! What the answers to many cases are worth.

use std::time::{Duration, Instant};

use plaitwright::bench::lost::{self, Diagnosis, Explanation, Known, Mistake};

use super::cases::Case;
use super::disc::{Carry, place, spot};
use super::judge::{adds_up, can_be_gone, can_go_on, is_true, leads_back_from_its_story};
use super::oracle::answered;
use super::slips::{Slip, Turned};

/// What the answer to a case was worth.
#[derive(Debug, Clone)]
pub(crate) struct Worth {
    /// The first explanation is right.
    pub(crate) first: bool,
    /// It names the mistake, but the cord is another.
    pub(crate) named_only: bool,
    /// One of the first three is.
    pub(crate) of_three: bool,
    /// One of all is.
    pub(crate) of_all: bool,
    /// There was a question.
    pub(crate) asked: bool,
    /// The first is right once the question was answered.
    pub(crate) after: bool,
    /// Every stated probability, and whether that explanation was right.
    pub(crate) stated: Vec<(f64, bool)>,
    /// How likely it was said to be that it was something else.
    pub(crate) other: f64,
    /// For each way whose story can be replayed: whether it leads back from there.
    pub(crate) led_back: Vec<bool>,
    /// All ways can be gone from what their explanations say lies there.
    pub(crate) can_be_gone: bool,
    /// For each answer that tells of just going on: whether it could be done.
    pub(crate) going_on: Vec<bool>,
    /// Probabilities add up, before the question and after, and come in order.
    pub(crate) adds_up: bool,
    pub(crate) took: Duration,
}

pub(crate) fn diagnosis(case: &Case<'_>) -> Diagnosis {
    let known = Known {
        braid: &case.bench.braid,
        roles: &case.roles,
        done: case.counted,
        looks: &case.looks,
        within: 64,
    };
    lost::explain(&known, &case.seen)
}

pub(crate) fn worth(case: &Case<'_>) -> Worth {
    let begun = Instant::now();
    let told = diagnosis(case);
    let took = begun.elapsed();
    let then = answered(case, &told);
    let right: Vec<bool> = told
        .explanations
        .iter()
        .map(|e| is_right(case, e))
        .collect();
    let named: Vec<bool> = told.explanations.iter().map(|e| is_told(case, e)).collect();
    let first = told.explanations.first();
    let is_first_right = named.first() == Some(&true);
    let is_first_true = first.is_some_and(|e| is_true(case, e));
    let stated = told.explanations.iter().map(|e| e.probability);
    let story = |e: &Explanation| leads_back_from_its_story(case, e);
    let led_back = told.explanations.iter().filter_map(story);
    let on = |e: &Explanation| can_go_on(case, e);
    Worth {
        first: is_first_right,
        named_only: is_first_right && !is_first_true,
        of_three: named.iter().take(3).any(|&right| right),
        of_all: named.contains(&true),
        asked: told.question.is_some(),
        after: then.explanations.first().is_some_and(|e| is_right(case, e)),
        stated: stated.zip(right.iter().copied()).collect(),
        other: told.other,
        led_back: led_back.collect(),
        can_be_gone: told.explanations.iter().all(|e| can_be_gone(case, e)),
        going_on: told.explanations.iter().filter_map(on).collect(),
        adds_up: adds_up(&told) && adds_up(&then),
        took,
    }
}

/// Whether an explanation gives the disc and the cord, or names what was done.
pub(crate) fn is_right(case: &Case<'_>, explanation: &Explanation) -> bool {
    is_true(case, explanation) || is_named(case, &explanation.mistakes)
}

/// Whether the mistake is the right one as far as the disc can tell: also if the two
/// neighbours that were swapped are named, but with the other one on top. Which one is
/// must be asked for; what is stated of it, and what is said after the question, must
/// be right of that too.
fn is_told(case: &Case<'_>, explanation: &Explanation) -> bool {
    is_right(case, explanation) || names_the_swapped(case, &explanation.mistakes)
}

/// Whether the only mistake was a swap, and it is these two strands that are named, at
/// a time when they lay where they were swapped.
fn names_the_swapped(case: &Case<'_>, mistakes: &[Mistake]) -> bool {
    let ([(Slip::Swapped { .. }, at)], [mistake]) = (&case.slips[..], mistakes) else {
        return false;
    };
    let lost::Slip::Swapped { over, under } = mistake.kind else {
        return false;
    };
    let swapped = [case.carries[0].from, case.carries[1].from];
    let between = mistake.at.min(*at)..mistake.at.max(*at);
    let are_these = [over, under]
        .into_iter()
        .all(|one| swapped.contains(&spot(one)));
    let lie_still = |one: &Carry| !swapped.contains(&one.from) && !swapped.contains(&one.to);
    are_these && over != under && case.bench.work.carries(between).iter().all(lie_still)
}

/// Whether the mistakes are those that were made, each with its move.
fn is_named(case: &Case<'_>, mistakes: &[Mistake]) -> bool {
    let made = &case.slips;
    let names = |(&(slip, at), mistake): (&(Slip, u64), &Mistake)| names(case, slip, at, mistake);
    !made.is_empty() && made.len() == mistakes.len() && made.iter().zip(mistakes).all(names)
}

fn names(case: &Case<'_>, slip: Slip, at: u64, mistake: &Mistake) -> bool {
    let a_round = case.bench.work.a_round();
    let one = case.bench.work.carry(at);
    let doubled = |moves: u64| {
        let since = at.saturating_sub(moves)..=at;
        mistake.kind == lost::Slip::Doubled(moves) && since.contains(&mistake.at)
    };
    let kind = match slip {
        Slip::MoveTwice => return doubled(1),
        Slip::PairTwice => return doubled(2),
        Slip::RoundTwice => return doubled(a_round),
        Slip::SkippedMove => lost::Slip::Skipped(1),
        Slip::SkippedPair => lost::Slip::Skipped(2),
        Slip::SkippedRound => lost::Slip::Skipped(a_round),
        Slip::WrongHand { pair } => lost::Slip::OtherHand(1 + u64::from(pair)),
        Slip::WrongSlot(slots) => lost::Slip::WrongSlot(i32::try_from(slots).unwrap_or(0)),
        Slip::WrongStrand(_) => {
            let taken = case.carries.iter().find(|carried| carried.to == one.to);
            return taken.is_some_and(|taken| {
                mistake.kind == lost::Slip::WrongStrand(place(taken.from)) && mistake.at == at
            });
        }
        Slip::WrongTurn { turned, for_good } => lost::Slip::Turned {
            quarters: match turned {
                Turned::Quarter => 1,
                Turned::Half => 2,
                Turned::Back => 3,
            },
            moves: (!for_good).then_some(2),
        },
        Slip::Mirrored => lost::Slip::Mirrored,
        Slip::Backwards => lost::Slip::Backwards,
        // What is told of these is told in other words; disc and cord decide.
        Slip::NotCounted(_) | Slip::CountedTwice(_) | Slip::Swapped { .. } => return false,
    };
    mistake.kind == kind && mistake.at == at
}
