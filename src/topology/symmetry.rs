//! In how many ways a round looks the same.
//!
//! Turned on by some places and begun some lifts later, a list may make the very
//! same braid; then strands have changed their parts. So it may when the cord is
//! turned upside down. All such changes of parts make a group.

use std::collections::BTreeSet;

use super::permutation::places;
use super::round::{Round, Start};

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
    let upside_down = round.upside_down();
    let starts = upside_down.starts_and_half_turns();
    for mut change in changes(starts, &upside_down, round) {
        // Upside down the places are counted from the other end.
        change.reverse();
        all.push(change);
    }
    Symmetry {
        order,
        order_upside_down: size_of_group(&all, round.strands),
    }
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
