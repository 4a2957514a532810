//! How often anybody could be right who knows exactly how these hands err.
//!
//! The same hands err again and again on the same list, until very many discs were seen;
//! of all cords that belong to the disc in question, the commonest is the best guess.

use std::ops::RangeInclusive;

use fastrand::Rng;

use super::cases::{Case, LAST};
use super::cord::is_same;
use super::disc::{Carry, Disc};
use super::person::Person;
use super::slips::Kind;

/// A cord: right moves, and what was carried then.
type Made = (u64, Vec<Carry>);

/// Whether the commonest of all cords that look like a case, among so many trials, is
/// that of the case; none if no trial looks like it. For cases of one mistake of the
/// mix in which every slot is told.
pub(crate) fn best_guess(case: &Case<'_>, trials: u32, rng: &mut Rng) -> Option<bool> {
    let earliest = case.counted.saturating_sub(2 * LAST);
    let discs = discs(case, earliest..=case.counted + LAST);
    let looks_of = |disc: &Disc| -> Vec<Option<usize>> {
        let spots = std::iter::once(0).chain(disc.rim());
        spots
            .map(|spot| disc.strand(spot).map(|s| case.looks[s]))
            .collect()
    };
    let should: Vec<_> = discs.iter().map(looks_of).collect();
    let shows = |person: &Person<'_>| {
        let at = person.counted - earliest;
        should
            .get(at as usize)
            .is_none_or(|should| *should != looks_of(&person.disc))
    };
    let seen = looks_of(&case.disc);
    let mut groups: Vec<(Made, u32)> = Vec::new();
    for _ in 0..trials {
        let right = rng.u64(case.counted.saturating_sub(LAST)..=case.counted);
        let Some((person, _)) = case.worked(&[Kind::any(rng)], right, shows, rng) else {
            continue;
        };
        let alike = person.counted == case.counted && looks_of(&person.disc) == seen;
        if alike && shows(&person) {
            let made = (right, person.carries);
            match groups
                .iter_mut()
                .find(|(other, _)| is_one_cord(case, other, &made))
            {
                Some((_, times)) => *times += 1,
                None => groups.push((made, 1)),
            }
        }
    }
    let (commonest, _) = groups.into_iter().max_by_key(|&(_, times)| times)?;
    let truth = (case.right, case.carries.clone());
    Some(is_one_cord(case, &commonest, &truth))
}

fn discs(case: &Case<'_>, counted: RangeInclusive<u64>) -> Vec<Disc> {
    counted
        .map(|counted| case.bench.work.disc(&case.roles, counted))
        .collect()
}

fn is_one_cord(case: &Case<'_>, this: &Made, that: &Made) -> bool {
    let work = &case.bench.work;
    let common = this.0.min(that.0);
    let whole = |(right, carries): &Made| {
        let mut all = work.carries(common..*right);
        all.extend(carries);
        all
    };
    this == that || is_same(&work.disc(&case.roles, common), &whole(this), &whole(that))
}
