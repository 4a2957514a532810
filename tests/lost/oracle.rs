//! The one question, answered from what is true.

use plaitwright::bench::lost::{Answer, Check, Diagnosis, Said};

use super::cases::Case;
use super::disc::{place, spot};

/// The strands from the uppermost at the hole downwards: what was carried across
/// another last lies above it; what only slid beside its slot lies where it lay.
pub(crate) fn downwards(case: &Case<'_>) -> Vec<usize> {
    let work = &case.bench.work;
    let mut disc = work.disc(&case.roles, 0);
    let mut upwards: Vec<usize> = (0..work.strands()).collect();
    for one in work
        .carries(0..case.right)
        .into_iter()
        .chain(case.carries.iter().copied())
    {
        let strand = disc.strand(one.from).expect("it was carried");
        if disc.passes_something(one) {
            upwards.retain(|&other| other != strand);
            upwards.push(strand);
        }
        assert!(disc.carry(one), "it was carried");
    }
    upwards.reverse();
    upwards
}

fn found(case: &Case<'_>, check: Check) -> Said {
    let strand = |rank: usize| downwards(case)[rank];
    match check {
        Check::Slot(rank) => Said::Place(place(case.disc.at()[strand(rank)])),
        Check::Look(rank) => Said::Look(case.looks[strand(rank)]),
        Check::Over(one, other) => {
            let pair = [one, other].map(|place| case.disc.strand(spot(place)));
            let mut from_above = downwards(case).into_iter();
            let over = from_above.find(|&strand| pair.contains(&Some(strand)));
            over.map_or(Said::Else, |strand| {
                Said::Place(place(case.disc.at()[strand]))
            })
        }
        Check::In(place) => match case.disc.strand(spot(place)) {
            Some(strand) => Said::Look(case.looks[strand]),
            None => Said::Empty,
        },
    }
}

/// What is told once the question was answered truly; as it was, if none was asked.
pub(crate) fn answered(case: &Case<'_>, told: &Diagnosis) -> Diagnosis {
    let Some(question) = &told.question else {
        return told.clone();
    };
    let found = found(case, question.check);
    let fits = |said: Said| {
        question
            .answers
            .iter()
            .position(|a: &Answer| a.said == said)
    };
    let answer = fits(found).or_else(|| fits(Said::Else));
    told.answered(answer.expect("something else can always be said"))
}
