//! Whether just going on gives a regular cord: what lies there fills the slots that are
//! full at some counted moment, only other strands lie in them. Each then goes the way
//! of the one whose place it has.

use super::counted::Counted;
use super::disc::{Disc, NOBODY};
use super::{GoingOn, Known};

/// How to go on from a disc, if its full slots are those of a counted moment: of several
/// the one at which most looks are in their places, then the nearest.
pub(super) fn going_on(known: &Known<'_>, counted: &Counted, disc: &Disc) -> Option<GoingOn> {
    let alike = |moment: &usize| is_alike(counted, disc, &counted.discs[*moment]);
    let moments = (0..counted.discs.len()).filter(alike);
    let best = moments.max_by_key(|&moment| {
        let kept = kept(known, counted, disc, &counted.discs[moment]);
        (kept, std::cmp::Reverse(moment.abs_diff(counted.now)))
    })?;
    let there = &counted.discs[best];
    let spots = disc.spots(counted.strands);
    let role = |spot: u16| known.roles[usize::from(there.who(spot))];
    Some(GoingOn {
        done: counted.done(best),
        roles: spots.into_iter().map(role).collect(),
    })
}

fn is_alike(counted: &Counted, disc: &Disc, there: &Disc) -> bool {
    (0..=counted.rim.halves).all(|spot| disc.is_full(spot) == there.is_full(spot))
}

/// Spots that look as they should.
fn kept(known: &Known<'_>, counted: &Counted, disc: &Disc, there: &Disc) -> usize {
    let look = |who: u8| known.looks.get(usize::from(who));
    let looks_alike = |&spot: &u16| {
        let (one, other) = (disc.who(spot), there.who(spot));
        one != NOBODY && (one == other || look(one) == look(other))
    };
    (0..=counted.rim.halves).filter(looks_alike).count()
}
