//! What an answer is worth, by discs and cords alone.

use plaitwright::bench::Way;
use plaitwright::bench::lost::{Diagnosis, Explanation, Mistake, Slip};
use plaitwright::structure::Place;

use super::cases::Case;
use super::cord::is_same;
use super::disc::{Carry, Disc, place, spot, turned};

fn steps(way: &Way) -> Vec<Carry> {
    let moves = way.steps.iter().flat_map(|step| &step.moves);
    moves.map(|&one| Carry::of(one)).collect()
}

fn lies_as(disc: &Disc, places: &[Place]) -> bool {
    disc.at().into_iter().map(place).eq(places.iter().copied())
}

/// Whether an explanation gives the disc as it lies and the cord as it was made.
///
/// What an explanation holds of the cord is in its way back: gone from the true disc,
/// it must end in a right place with the cord that belongs there.
pub(crate) fn is_true(case: &Case<'_>, explanation: &Explanation) -> bool {
    lies_as(&case.disc, explanation.lying.places()) && leads_back(case, &explanation.way)
}

/// Whether a way, gone from the true disc, ends where the moves say, with the cord
/// that they make.
fn leads_back(case: &Case<'_>, way: &Way) -> bool {
    leads_back_after(case, case.right, &case.carries, way)
}

/// The same after so many right moves and then these carries.
fn leads_back_after(case: &Case<'_>, right: u64, carries: &[Carry], way: &Way) -> bool {
    let work = &case.bench.work;
    let common = right.min(way.lands);
    let mut made = work.carries(common..right);
    made.extend(carries);
    made.extend(steps(way));
    let should = work.carries(common..way.lands);
    let made = without_undone(&made);
    way.roles == case.roles && is_same(&work.disc(&case.roles, common), &made, &should)
}

/// A strand carried over everything and at once carried back was never carried; so
/// nothing need be known of where the hand holds a strand meanwhile.
fn without_undone(carries: &[Carry]) -> Vec<Carry> {
    let mut left: Vec<Carry> = Vec::new();
    for &one in carries {
        let undoes = |last: &Carry| last.from == one.to && last.to == one.from;
        if left.last().is_some_and(undoes) {
            left.pop();
        } else {
            left.push(one);
        }
    }
    left
}

/// Whether the way of an explanation, right or wrong, leads back from the cord that its
/// story makes; none if the story cannot be told by slot numbers alone.
pub(crate) fn leads_back_from_its_story(case: &Case<'_>, told: &Explanation) -> Option<bool> {
    let work = &case.bench.work;
    let (right, carries) = story(case, told)?;
    let mut disc = work.disc(&case.roles, right);
    let possible = carries.iter().all(|&one| disc.carry(one));
    let is_told = possible && lies_as(&disc, told.lying.places());
    is_told.then(|| leads_back_after(case, right, &carries, &told.way))
}

/// Right moves, and what was carried then, for a story of at most one mistake in one
/// move, after which the work went on by slot numbers.
fn story(case: &Case<'_>, told: &Explanation) -> Option<(u64, Vec<Carry>)> {
    let work = &case.bench.work;
    let Mistake { kind, at } = match told.mistakes[..] {
        [] => return Some((told.done, Vec::new())),
        [one] => one,
        _ => return None,
    };
    let one = work.carry(at);
    let (instead, then) = match kind {
        Slip::Skipped(moves) => (None, at + moves),
        Slip::WrongSlot(slots) => {
            let to = turned(one.to, 2 * i64::from(slots), work.slots);
            (Some(Carry { to, ..one }), at + 1)
        }
        Slip::WrongStrand(from) => (
            Some(Carry {
                from: spot(from),
                ..one
            }),
            at + 1,
        ),
        _ => return None,
    };
    let mut carries: Vec<Carry> = instead.into_iter().collect();
    carries.extend(work.carries(then..told.counted.max(then)));
    Some((at, carries))
}

/// Whether a way can be gone from what its explanation says lies there, and ends as
/// the moves say strands lie.
pub(crate) fn can_be_gone(case: &Case<'_>, explanation: &Explanation) -> bool {
    let (work, way) = (&case.bench.work, &explanation.way);
    let places = explanation.lying.places();
    let mut disc = Disc::laid(work.slots, places.iter().copied().map(spot));
    let begins_there = way.from == places;
    let all = steps(way).into_iter().all(|one| disc.carry(one));
    begins_there && all && disc == work.disc(&way.roles, way.lands)
}

/// Whether the pattern that just going on would make begins with what an explanation
/// says lies there; none if it says nothing of going on.
pub(crate) fn can_go_on(case: &Case<'_>, explanation: &Explanation) -> Option<bool> {
    let on = explanation.going_on.as_ref()?;
    let begins = case.bench.work.disc(&on.roles, on.done);
    Some(lies_as(&begins, explanation.lying.places()))
}

/// Whether all that may have happened is certain to be one of it: probabilities that
/// add up to one with that of something else, the best first.
pub(crate) fn adds_up(told: &Diagnosis) -> bool {
    let each: Vec<f64> = told.explanations.iter().map(|e| e.probability).collect();
    let sum = told.other + each.iter().sum::<f64>();
    (sum - 1.0).abs() < 1e-6 && each.is_sorted_by(|a, b| a >= b)
}
