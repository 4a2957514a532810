//! In how many ways a round looks the same.
//!
//! Turned on by some places and begun some lifts later, a list may make the very
//! same braid; then strands have changed their parts. So it may when the cord is
//! turned upside down. All such changes of parts make a group.

use std::collections::BTreeSet;

use super::permutation::places;
use super::round::{Round, Start};
use crate::structure::Braid;

/// How a cord is held beside itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Held {
    /// Turned about its axis and shifted along it.
    Upright,
    /// The other end up besides.
    UpsideDown,
    /// Seen in a mirror.
    Mirrored,
    /// Seen in a mirror, the other end up.
    MirroredUpsideDown,
}

/// How many changes of parts there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Symmetry {
    /// By turning the cord and shifting it lengthwise; 1 if there is no other
    /// than none.
    pub order: usize,
    /// With turning it upside down besides.
    pub order_upside_down: usize,
}

/// For each strand whose part it takes.
type Parts = Vec<usize>;

/// Most members of a group that are counted; far above what was met.
const MOST: usize = 5_000;

/// The symmetry of a round, exact for each change that it counts: those that
/// begin at a lift and turn by whole places.
pub fn symmetry(round: &Round) -> Symmetry {
    let mut all = changes(round.starts(), round, round);
    all.push(places(&round.word(), round.strands));
    let order = size_of_group(&all, round.strands);
    all.extend(changes_to(&round.upside_down(), round));
    Symmetry {
        order,
        order_upside_down: size_of_group(&all, round.strands),
    }
}

/// For each change that brings the cord, held like this, onto itself: for each
/// strand, as counted in the start, whose part it takes.
///
/// Exact for each that it finds, as [`symmetry`]; together with those of
/// [`Held::Upright`] they make a group, of which not every member is listed. None
/// for a cord that does not fall onto itself like this.
pub fn changes_of_parts(braid: &Braid, held: Held) -> Vec<Vec<usize>> {
    let round = Round::of(braid);
    let order = braid.order_after(0);
    let mut all = match held {
        Held::Upright => changes(round.starts(), &round, &round),
        Held::UpsideDown => changes_to(&round.upside_down(), &round),
        Held::Mirrored => changes_to(&round.mirrored(), &round),
        Held::MirroredUpsideDown => {
            // Counted from the other end twice.
            let other = round.mirrored().upside_down();
            changes(other.starts_and_half_turns(), &other, &round)
        }
    };
    if held == Held::Upright {
        all.push(places(&round.word(), round.strands));
    }
    all.iter().map(|parts| of_strands(parts, &order)).collect()
}

/// A change of places as one of the strands that stand in them.
fn of_strands(places: &[usize], order: &[usize]) -> Parts {
    let mut parts = vec![0; order.len()];
    for (place, &strand) in order.iter().enumerate() {
        parts[strand] = order[places[place]];
    }
    parts
}

/// Changes from a round whose places are counted from the other end.
fn changes_to(from_other_end: &Round, round: &Round) -> Vec<Parts> {
    let starts = from_other_end.starts_and_half_turns();
    let mut all = changes(starts, from_other_end, round);
    for change in &mut all {
        change.reverse();
    }
    all
}

/// The changes of places by which one round, begun in some way, is another.
fn changes(starts: impl Iterator<Item = Start>, round: &Round, other: &Round) -> Vec<Parts> {
    let (word, other) = (round.word(), other.word());
    starts
        .filter(|start| start.makes(&word, &other, round.strands))
        .map(|start| places(&start.way, round.strands))
        .collect()
}

/// Number of changes that can be put together of the given ones.
fn size_of_group(changes: &[Parts], strands: usize) -> usize {
    let none: Parts = (0..strands).collect();
    let mut met = BTreeSet::from([none.clone()]);
    let mut new = vec![none];
    while let Some(parts) = new.pop() {
        for change in changes {
            let next: Parts = parts.iter().map(|&part| change[part]).collect();
            if met.len() < MOST && met.insert(next.clone()) {
                new.push(next);
            }
        }
    }
    met.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::Braid;
    use crate::topology::listed::checked;

    #[test]
    fn orders_are_those_found_elsewhere() {
        let with_orders = checked().filter_map(|(one, braid)| Some((one.symmetry?, one, braid)));
        let mut count = 0;
        for ((order, order_upside_down), one, braid) in with_orders {
            let expected = Symmetry {
                order,
                order_upside_down,
            };
            assert_eq!(symmetry(&Round::of(&braid)), expected, "{}", one.name);
            count += 1;
        }
        assert!(count > 40, "{count}");
    }

    #[test]
    fn the_order_does_not_depend_on_where_the_list_begins_or_on_its_hand() {
        for (one, braid) in checked().filter(|(one, _)| one.moves.start.len() <= 10) {
            let expected = symmetry(&Round::of(&braid));
            for list in [one.moves.mirrored(), one.moves.turned(10)] {
                let braid = Braid::new(&list).expect(&one.name);
                assert_eq!(symmetry(&Round::of(&braid)), expected, "{}", one.name);
            }
        }
    }
}
