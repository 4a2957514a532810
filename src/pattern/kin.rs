//! An order in which looks of a kind stand together.
//!
//! First by kind, then by words, those of the plainest figure and the fewest bands
//! first. Among looks of the same words it goes from the first one on to one that an
//! exchange of two strands makes of it, as far as that leads, then back to the last
//! that has another such neighbour; what no exchange reaches begins anew.

use std::collections::{BTreeMap, BTreeSet};

use super::arrangement::Arrangement;
use super::looks::Look;
use super::sameness::Sameness;
use super::words::Kind;

/// Puts looks in order; without what makes them the same, those of the same words in
/// the order of their arrangements.
pub(super) fn in_kin_order(looks: Vec<Look>, same: Option<&Sameness>) -> Vec<Look> {
    let mut groups: BTreeMap<(Kind, usize, String), BTreeMap<Arrangement, Look>> = BTreeMap::new();
    for look in looks {
        let group = groups.entry(words(&look)).or_default();
        group.insert(look.arrangement.clone(), look);
    }
    groups
        .into_values()
        .flat_map(|group| match same {
            Some(same) => by_neighbours(group, same),
            None => group.into_values().collect(),
        })
        .collect()
}

fn words(look: &Look) -> (Kind, usize, String) {
    look.words
        .as_ref()
        .map_or((Kind::Plain, 0, String::new()), |words| {
            let of_kind = words
                .colours
                .iter()
                .filter(|shown| shown.kind == words.kind);
            let bands = of_kind.map(|shown| shown.number).sum();
            (words.kind, bands, words.sentence.clone())
        })
}

fn by_neighbours(mut left: BTreeMap<Arrangement, Look>, same: &Sameness) -> Vec<Look> {
    let mut ordered = Vec::with_capacity(left.len());
    let mut way: Vec<BTreeSet<Arrangement>> = Vec::new();
    while let Some(arrangement) = next(&left, &mut way) {
        way.push(same.one_swap_away(&arrangement));
        ordered.extend(left.remove(&arrangement));
    }
    ordered
}

/// The first look left that is a neighbour of the last one on the way.
fn next(
    left: &BTreeMap<Arrangement, Look>,
    way: &mut Vec<BTreeSet<Arrangement>>,
) -> Option<Arrangement> {
    while let Some(near) = way.last() {
        if let Some(found) = near.iter().find(|one| left.contains_key(one)) {
            return Some(found.clone());
        }
        way.pop();
    }
    left.keys().next().cloned()
}
