//! Where one structure may follow another.
//!
//! Between two parts of a cord only the order round the rim counts, so the second
//! may begin with any strand in its first place. Not every beginning is good:
//! some take back what the first has braided.

use crate::structure::{Braid, Place, Step};

use super::curves::inverse;
use super::growth::entropy;
use super::laid::slides;
use super::round::Round;
use super::word::{carried, reduced};

/// Rounds of each structure that are set one after the other.
const ROUNDS: usize = 3;

/// Share of the growth below which a joint is called undone: tried on spirals,
/// squares and tubes, where nothing lies between it and 0.6.
const UNDONE: f64 = 0.5;

/// A way to begin the second structure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Rank clockwise from the mark, counted from 0, of the strand that plays the
    /// part of the second structure's first place.
    pub place: usize,
    /// Growth of both parts together, over and over, as a share of the sum of
    /// each alone: near 1 if all holds, 0 if the second takes back the first.
    pub kept: f64,
}

impl Joint {
    /// Whether the second part takes back the first, or nearly so.
    pub fn undoes(&self) -> bool {
        self.kept < UNDONE
    }
}

/// All ways to begin `second` after whole rounds of `first`; empty if they have
/// not the same number of strands, or if one of them does not interlace.
pub fn joints(first: &Round, second: &Round) -> Vec<Joint> {
    let (one, other) = (first.word(), second.word());
    let apart = entropy(&one, first.strands) + entropy(&other, second.strands);
    if first.strands != second.strands || apart == 0.0 {
        return Vec::new();
    }
    let kept = |place: usize| {
        let mut turned = Vec::new();
        carried(&mut turned, first.strands, place as i32);
        let other = reduced(
            &[&turned, &other, &inverse(&turned)]
                .map(|w| &w[..])
                .concat(),
        );
        let both = reduced(&[one.repeat(ROUNDS), other.repeat(ROUNDS)].concat());
        entropy(&both, first.strands) / (ROUNDS as f64 * apart)
    };
    (0..first.strands)
        .map(|place| Joint {
            place,
            kept: kept(place),
        })
        .collect()
}

/// The slides that lead from the places after so many rounds of `first` to the
/// start of `second`, begun at a place as [`joints`] counts them: what is done
/// between the two parts, and crosses nothing. Nothing if the strands or the slots
/// are not as many.
pub fn slides_between(
    first: &Braid,
    rounds: usize,
    second: &Braid,
    place: usize,
) -> Option<Vec<Step>> {
    if first.strands() != second.strands() || first.slots() != second.slots() {
        return None;
    }
    let start = |braid: &Braid| -> Vec<Place> {
        let places = braid.places_after(0);
        let order = braid.order_after(0).into_iter();
        order.map(|strand| places[strand]).collect()
    };
    // Whole rounds leave the strands in the start places, turned.
    let turned = 2 * first.turn() * i32::try_from(rounds).ok()?;
    let turned = |one: Place| one.turned(turned, first.slots());
    let mut from: Vec<Place> = start(first).into_iter().map(turned).collect();
    from.rotate_left(place % first.strands());
    slides(first.slots(), &from, &start(second))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::listed::checked;

    /// Shares kept, rounded to hundredths.
    fn kept(first: &str, second: &str) -> Vec<f64> {
        let round = |name: &str| {
            let found = checked().find(|(one, _)| one.name == name);
            Round::of(&found.expect(name).1)
        };
        let joints = joints(&round(first), &round(second));
        joints
            .iter()
            .map(|joint| (joint.kept * 100.0).round() / 100.0)
            .collect()
    }

    #[test]
    fn a_spiral_is_undone_by_its_mirror_begun_on_the_same_axis_only() {
        let found = kept("r8-spiral", "r8-spiral-m");
        assert_eq!(found, [0.97, 0.94, 0.0, 0.94, 0.97, 0.94, 0.0, 0.94]);
        let found = kept("r16-spiral", "r16-spiral-m");
        for (place, &share) in found.iter().enumerate() {
            assert_eq!(share < 0.5, place == 6 || place == 14, "{place}: {share}");
        }
    }

    #[test]
    fn other_joints_keep_the_shares_found_elsewhere() {
        let square = kept("r8-spiral", "r8-square");
        assert_eq!((square[0], square[4]), (0.95, 0.95));
        assert_eq!((square[2], square[6]), (0.66, 0.66));
        let tube = kept("r8-spiral", "r8-tube11");
        assert_eq!((tube[0], tube[1]), (0.93, 0.81));
        let flat = kept("r8-tube11", "f8-plain");
        assert_eq!((flat[0], flat[1]), (0.99, 0.41));
        let itself = kept("r4-alt", "r4-alt");
        assert_eq!((itself[1], itself[3]), (0.0, 0.0));
        assert!(itself[0] > 0.99);
    }

    #[test]
    fn structures_of_unlike_strands_have_no_joint() {
        assert!(kept("r8-spiral", "r6-spiral").is_empty());
    }

    #[test]
    fn slides_lead_from_a_spiral_to_a_square() {
        let braid = |name: &str| checked().find(|(one, _)| one.name == name).expect(name).1;
        let (spiral, square) = (braid("r8-spiral"), braid("r8-square"));
        let steps = slides_between(&spiral, 3, &square, 2).expect("as many slots");
        let mut places = spiral.places_after(3 * 4);
        for step in &steps {
            let moved = places.iter().position(|&place| place == step.moves[0].from);
            places[moved.expect("a strand")] = step.moves[0].to;
        }
        places.sort_unstable();
        let mut start = square.places_after(0);
        start.sort_unstable();
        assert_eq!(places, start);
        assert_eq!(slides_between(&spiral, 1, &braid("r6-alt"), 0), None);
    }

    #[test]
    fn a_list_worked_through_the_slides_keeps_what_the_joint_says() {
        let braid = |name: &str| checked().find(|(one, _)| one.name == name).expect(name).1;
        let (spiral, mirror) = (braid("r8-spiral"), braid("r8-spiral-m"));
        for joint in joints(&Round::of(&spiral), &Round::of(&mirror)) {
            let back = (8 - joint.place) % 8;
            let there = slides_between(&spiral, 1, &mirror, joint.place).expect("slots");
            let home = slides_between(&mirror, 1, &spiral, back).expect("slots");
            let mut list = spiral.moves().clone();
            list.turn = None;
            for part in [there, mirror.moves().steps.clone(), home] {
                list.steps.extend(part);
            }
            let both = Braid::new(&list).expect("back at the start");
            let undone = entropy(&Round::of(&both).word(), 8) == 0.0;
            assert_eq!(undone, joint.undoes(), "{joint:?}");
        }
    }
}
