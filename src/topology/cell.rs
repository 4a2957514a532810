//! The shortest run of hops that repeats.
//!
//! A run of hops is a cell if the braid is that run again and again, each time
//! with the strands' parts handed on round the rim, however the slots lie.
//! Two hops whose lines do not cross may change places: a round spiral repeats
//! every two moves although its list names the two strands of a block in an
//! order that does not turn with the disc.

use crate::structure::Braid;

use super::hops::{Hop, Ring, Strands, hops};
use super::word::carried_over_mark;

/// How far ahead a hop is looked for, in hops. Our guess; looking less far can
/// only give a longer cell than needed.
const FARTHEST: usize = 64;

/// A repeating run of hops.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    /// Strands clockwise from the mark at the start.
    pub(super) ring: Vec<usize>,
    pub(super) hops: Vec<Hop>,
    /// Whose part each strand plays in the next cell.
    pub(super) continues: Vec<usize>,
    pub(super) per_round: usize,
    /// Ranks clockwise that the strands turn in a round of hops.
    pub(super) ranks_a_round: i32,
}

/// A hop with the strands it passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Passing {
    hop: Hop,
    over: Strands,
}

impl Cell {
    /// All cells of the smallest length; empty if no strand passes another.
    ///
    /// There are several if the parts can be handed on in several ways.
    pub(super) fn smallest(braid: &Braid) -> Vec<Self> {
        let (hops, uniform) = hops(braid);
        let round = Round::new(braid, &hops);
        let ranks_a_round = carried_over_mark(&braid.seats_after(0), braid.turn()) - uniform;
        let cell = |length: usize, later: &[usize]| Self {
            ring: round.start.0.clone(),
            hops: hops[..length].to_vec(),
            continues: inverse(later),
            per_round: hops.len() / length,
            ranks_a_round,
        };
        let of_length = |length: usize| -> Vec<Self> {
            round
                .ways_to_hand_on(length)
                .filter(|later| round.is_repetition(length, later))
                .map(|later| cell(length, &later))
                .collect()
        };
        (1..=hops.len())
            .filter(|&length| hops.len().is_multiple_of(length))
            .map(of_length)
            .find(|cells| !cells.is_empty())
            .unwrap_or_default()
    }
}

/// The hops of one round, and with those of the next.
struct Round {
    start: Ring,
    passings: Vec<Passing>,
    two_rounds: Vec<Passing>,
}

impl Round {
    fn new(braid: &Braid, hops: &[Hop]) -> Self {
        let start = Ring(braid.order_after(0));
        let mut ring = start.clone();
        let passing = |&hop: &Hop| Passing {
            hop,
            over: ring.carry(hop),
        };
        let passings: Vec<Passing> = hops.iter().map(passing).collect();
        let next = inverse(braid.becomes());
        let again = passings.iter().map(|one| one.played_by(&next));
        Self {
            two_rounds: passings.iter().copied().chain(again).collect(),
            passings,
            start,
        }
    }

    /// For every turn of the rim, who would play each strand's part after the
    /// first `length` hops.
    fn ways_to_hand_on(&self, length: usize) -> impl Iterator<Item = Vec<usize>> {
        let mut ring = self.start.clone();
        for passing in &self.passings[..length] {
            ring.carry(passing.hop);
        }
        let count = ring.0.len();
        (0..count).map(move |turn| {
            let mut later = vec![0; count];
            for (rank, &strand) in self.start.0.iter().enumerate() {
                later[strand] = ring.0[(rank + turn) % count];
            }
            later
        })
    }

    /// Whether the braid is the first `length` hops over and over, up to the
    /// order of hops that do not cross.
    ///
    /// Two rounds tell for all: a round that fits handed on in two ways looks
    /// the same turned from one to the other, and such turns add up.
    fn is_repetition(&self, length: usize, later: &[usize]) -> bool {
        let mut parts: Vec<usize> = (0..later.len()).collect();
        let mut left = self.two_rounds.clone();
        let mut ring = self.start.clone();
        for start in (0..left.len()).step_by(length) {
            for index in 0..length {
                let wanted = self.passings[index].played_by(&parts);
                if !bring_forward(&mut left[start + index..], &ring, wanted) {
                    return false;
                }
                ring.carry(wanted.hop);
            }
            parts.iter_mut().for_each(|part| *part = later[*part]);
        }
        true
    }
}

impl Passing {
    fn played_by(self, parts: &[usize]) -> Self {
        let over = (0..parts.len()).filter(|&strand| self.over & 1 << strand != 0);
        Self {
            hop: Hop {
                strand: parts[self.hop.strand],
                passed: self.hop.passed,
            },
            over: over.fold(0, |set, strand| set | 1 << parts[strand]),
        }
    }
}

/// Moves the next hop of the wanted strand to the front, if it is the wanted
/// one and crosses none of those before it. `ring` is the order before them.
fn bring_forward(left: &mut [Passing], ring: &Ring, wanted: Passing) -> bool {
    let next = left
        .iter()
        .take(FARTHEST)
        .position(|passing| passing.hop.strand == wanted.hop.strand);
    let Some(at) = next.filter(|&at| left[at] == wanted) else {
        return false;
    };
    let mut rings = vec![ring.clone()];
    for passing in &left[..at] {
        let mut ring = rings[rings.len() - 1].clone();
        ring.carry(passing.hop);
        rings.push(ring);
    }
    let free = (0..at).all(|before| may_change_places(&rings[before], left[before], wanted));
    left[..=at].rotate_right(1);
    free
}

/// Whether of two neighbouring hops the second may as well come first: then
/// each still passes the same strands, so their lines do not cross.
fn may_change_places(ring: &Ring, first: Passing, second: Passing) -> bool {
    let mut ring = ring.clone();
    ring.carry(second.hop) == second.over && ring.carry(first.hop) == first.over
}

fn inverse(parts: &[usize]) -> Vec<usize> {
    let mut inverse = vec![0; parts.len()];
    for (strand, &part) in parts.iter().enumerate() {
        inverse[part] = strand;
    }
    inverse
}
