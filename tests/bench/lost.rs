//! Times of finding out what happened from what lies on the disc.

use plaitwright::bench::{Known, Lying, Motions, Seen, Spot, explain};
use plaitwright::structure::{Braid, Move, Place, Structure, shelf};

use super::clock::{print_head, timed};

/// Moves that are looked back over.
const WITHIN: u64 = 64;
/// Moves that were counted.
const DONE: u64 = 200;

/// One mistake, and two, on lists of 8 and of 32 strands, every strand of another look.
pub(super) fn diagnoses() {
    print_head("What happened, from what lies on the disc: the last 64 moves");
    for structure in shelf().iter().filter(|s| [8, 32].contains(&s.strands())) {
        if let Ok(braid) = Braid::new(&structure.moves) {
            one_and_two(structure, &braid);
        }
    }
}

fn one_and_two(structure: &Structure, braid: &Braid) {
    let named = format!("{}, {} strands", structure.name, structure.strands());
    let mut lying = without_a_motion(braid);
    let what = format!("{named}, one mistake");
    timed(&what, 9, Some(20.0), || found(braid, &lying));
    elsewhere(&mut lying, braid.slots(), 5);
    elsewhere(&mut lying, braid.slots(), 1);
    let what = format!("{named}, two and more");
    timed(&what, 3, Some(500.0), || found(braid, &lying));
}

/// What lies there if a motion some way back was left out; what could not be made
/// after it was left out too.
fn without_a_motion(braid: &Braid) -> Lying {
    let roles: Vec<usize> = (0..braid.strands()).collect();
    let motions = Motions::of(braid);
    let left_out = motions.at(DONE - 12);
    let mut lying = Lying::after(braid, &roles, left_out.begins);
    let mut at = left_out.begins + left_out.moves();
    while at < DONE {
        let motion = motions.at(at);
        at += motion.moves();
        for one in motion.carries {
            let _ = lying.carry(one);
        }
    }
    lying
}

/// Carries a strand to the next free slot but a few.
fn elsewhere(lying: &mut Lying, slots: u16, strand: usize) {
    let from = lying.places()[strand];
    let free = |to: &Place| lying.strand_in(*to).is_none();
    let to = (1..=slots).map(Place::slot).filter(free).nth(7);
    if let Some(to) = to {
        let _ = lying.carry(Move { from, to });
    }
}

fn found(braid: &Braid, lying: &Lying) -> usize {
    let roles: Vec<usize> = (0..braid.strands()).collect();
    let spot = |slot| {
        lying
            .strand_in(Place::slot(slot))
            .map_or(Spot::Empty, Spot::Look)
    };
    let seen = Seen {
        spots: (1..=braid.slots())
            .map(|slot| (Place::slot(slot), spot(slot)))
            .collect(),
        ..Seen::default()
    };
    let known = Known {
        braid,
        roles: &roles,
        done: DONE,
        looks: &roles,
        within: WITHIN,
    };
    explain(&known, &seen).explanations.len()
}
