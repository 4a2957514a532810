//! What is true of every list of moves, tried on random ones.

#[path = "properties/braids.rs"]
mod braids;
#[path = "properties/courses.rs"]
mod courses;
#[path = "properties/curves.rs"]
mod curves;
#[path = "properties/hands.rs"]
mod hands;
#[path = "properties/knotting.rs"]
mod knotting;
#[path = "properties/lists.rs"]
mod lists;
#[path = "properties/tight.rs"]
mod tight;
#[path = "properties/told.rs"]
mod told;

use curves::{braid_of_lines, braid_on_disc, same_braid};
use lists::{list_with_a_hold, sound_list};
use plaitwright::structure::{Braid, Move, MoveList, Numbering, Place, Step, shelf};
use plaitwright::topology::{WorldLines, WorldLinesError, artin, writhe};
use proptest::prelude::*;

pub(crate) fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn braid(list: &MoveList) -> Braid {
    Braid::new(list).unwrap_or_else(|error| panic!("{error} {list:?}"))
}

fn joined(first: &MoveList, then: MoveList) -> MoveList {
    let mut both = first.clone();
    both.steps.extend(then.steps);
    both
}

fn turned([x, y, z]: [f64; 3], angle: f64) -> [f64; 3] {
    let (s, c) = angle.sin_cos();
    [x * c - y * s, x * s + y * c, z]
}

/// Right-handed less left-handed crossings of two paths of equal heights, seen
/// along the y axis; whoever has the smaller y is in front.
fn signed_crossings(a: &[[f64; 3]], b: &[[f64; 3]]) -> i32 {
    let mut sum = 0;
    for (p, q) in a.windows(2).zip(b.windows(2)) {
        let (x, x_next) = (p[0][0] - q[0][0], p[1][0] - q[1][0]);
        if x * x_next < 0.0 {
            let part = x / (x - x_next);
            let depth = |m: &[[f64; 3]]| m[0][1] + (m[1][1] - m[0][1]) * part;
            sum += if (depth(p) < depth(q)) == (x_next > x) {
                1
            } else {
                -1
            };
        }
    }
    sum
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn the_mirror_of_the_mirror_is_the_list(list in sound_list()) {
        prop_assert_eq!(list.mirrored().mirrored(), list);
    }

    #[test]
    fn a_mirrored_list_gives_the_mirrored_braid(list in sound_list()) {
        let (this, that) = (braid(&list), braid(&list.mirrored()));
        prop_assert_eq!(writhe(&artin(&that)), -writhe(&artin(&this)));
        prop_assert_eq!(that.turn(), -this.turn());
        prop_assert_eq!(that.becomes(), this.becomes());
    }

    #[test]
    fn forward_then_back_is_the_identity(list in sound_list()) {
        let both = braid(&joined(&list, braid(&list).reversed()));
        let strands: Vec<usize> = (0..both.strands()).collect();
        prop_assert_eq!(artin(&both), Vec::<i32>::new());
        prop_assert_eq!(both.becomes(), &strands[..]);
        prop_assert_eq!(both.places_after(both.lifts().len()), list.start);
    }

    #[test]
    fn what_is_written_reads_back_equal(list in prop_oneof![sound_list(), list_with_a_hold()]) {
        let text = ron::to_string(&list).expect("plain data");
        prop_assert_eq!(ron::from_str::<MoveList>(&text).expect("own text"), list.clone());
        let pretty = ron::ser::to_string_pretty(&list, ron::ser::PrettyConfig::default());
        let text = pretty.expect("plain data");
        prop_assert_eq!(ron::from_str::<MoveList>(&text).expect("own text"), list);
    }

    #[test]
    fn the_word_is_the_braid_made_on_the_disc(
        list in prop_oneof![sound_list(), list_with_a_hold()],
    ) {
        if let Ok(braid) = Braid::new(&list) {
            let made = braid_on_disc(&braid);
            prop_assert!(same_braid(&artin(&braid), &made, braid.strands()));
        }
    }

    #[test]
    fn the_world_lines_are_the_braid_of_the_word(list in sound_list()) {
        let braid = braid(&list);
        if let Ok(lines) = WorldLines::of_round(&braid, 1.15, 1.0) {
            let drawn = braid_of_lines(&braid, &lines);
            prop_assert!(same_braid(&artin(&braid), &drawn, braid.strands()));
        }
    }

    #[test]
    fn playing_moves_one_strand_at_a_time(list in sound_list(), lifts in 0usize..200) {
        let braid = braid(&list);
        let (before, after) = (braid.places_after(lifts), braid.places_after(lifts + 1));
        let moved = (0..before.len()).filter(|&strand| before[strand] != after[strand]);
        prop_assert_eq!(moved.count(), 1);
    }

    #[test]
    fn sampled_world_lines_cross_as_the_word_says(list in sound_list()) {
        let braid = braid(&list);
        let word = artin(&braid);
        match WorldLines::of_round(&braid, 1.15, 1.0) {
            Err(fault) => {
                prop_assert_eq!(fault, WorldLinesError::NothingCrosses);
                prop_assert_eq!(writhe(&word).unsigned_abs() as usize % (braid.strands() - 1), 0);
            }
            Ok(lines) => {
                // Sound lists come back without a turn, so the round closes.
                let mut paths = lines.paths(64);
                let starts: Vec<[f64; 3]> = paths.iter().map(|path| path[0]).collect();
                for (path, &role) in paths.iter_mut().zip(braid.becomes()) {
                    path.push(starts[role]);
                    path.iter_mut().for_each(|point| *point = turned(*point, 0.2371));
                }
                let pairs = (0..paths.len()).flat_map(|a| (0..a).map(move |b| (a, b)));
                let counted: i32 = pairs.map(|(a, b)| signed_crossings(&paths[a], &paths[b])).sum();
                prop_assert_eq!(counted, writhe(&word));
            }
        }
    }

    #[test]
    fn a_turned_list_is_the_same_braid(
        list in prop_oneof![sound_list(), list_with_a_hold()],
        by in -40i32..40,
    ) {
        let turned = Braid::new(&list.turned(by));
        let Ok(braid) = Braid::new(&list) else {
            prop_assert!(turned.is_err());
            return Ok(());
        };
        let turned = turned.expect("as sound as before");
        for (lift, other) in braid.lifts().iter().zip(turned.lifts()) {
            prop_assert_eq!(lift.from.turned(2 * by), other.from);
            prop_assert_eq!(lift.to.turned(2 * by), other.to);
        }
        prop_assert_eq!(turned.becomes(), braid.becomes());
        let lines = |braid| WorldLines::new(braid, 1.0, 1.0);
        if let (Ok(this), Ok(that)) = (lines(&braid), lines(&turned)) {
            prop_assert_eq!(this.hops, that.hops);
            prop_assert_eq!(this.continues, that.continues);
            prop_assert!((this.turn - that.turn).abs() < 1e-9);
        }
    }

    #[test]
    fn faults_are_said_and_never_panic(
        slots in any::<u16>(),
        start in prop::collection::vec(any::<u16>(), 0..9),
        moves in prop::collection::vec((any::<u16>(), any::<u16>()), 0..9),
    ) {
        let place = |half: u16| if half.is_multiple_of(7) { Place::Hand } else { Place::Rim(half % 80) };
        let list = MoveList {
            slots: slots % 80,
            start: start.into_iter().map(place).collect(),
            steps: moves
                .chunks(2)
                .map(|pair| Step {
                    moves: pair.iter().map(|&(a, b)| Move { from: place(a), to: place(b) }).collect(),
                })
                .collect(),
            ..MoveList::default()
        };
        if let Err(fault) = Braid::new(&list) {
            for numbering in [Numbering::Clockwise, Numbering::Anticlockwise] {
                prop_assert!(fault.sentence(numbering).ends_with('.'));
            }
        }
    }
}

#[test]
fn every_list_on_the_shelf_is_drawn_as_the_braid_it_is() {
    for structure in shelf() {
        let named = format!("{} of {}", structure.name, structure.strands());
        for list in [structure.moves.clone(), structure.moves.mirrored()] {
            let braid = braid(&list);
            let word = artin(&braid);
            let lines = WorldLines::of_round(&braid, 1.15, 1.0).expect("crosses");
            let (made, drawn) = (braid_on_disc(&braid), braid_of_lines(&braid, &lines));
            assert!(
                same_braid(&word, &made, braid.strands()),
                "{named}, on the disc"
            );
            assert!(same_braid(&word, &drawn, braid.strands()), "{named}, drawn");
        }
    }
}

#[test]
fn curves_tell_braids_apart() {
    assert!(same_braid(&[1, 2, 1], &[2, 1, 2], 3));
    assert!(same_braid(&[1, 3, -1], &[3], 4));
    assert!(!same_braid(&[1, 2], &[2, 1], 3));
    assert!(!same_braid(&[1, 2, 1, 2, 1, 2], &[], 3));
    assert!(!same_braid(&[1], &[-1], 3));
    assert!(!same_braid(&[1, -2], &[1, -2, 1, -2, -1, 2], 3));
}

/// The round spiral of 32 on a disc with places to spare: twice as many slots.
fn spiral_with_room() -> MoveList {
    let slot = |slot: u16| Place::slot((slot - 1) % 64 + 1);
    let pairs = (0..16u16).flat_map(|pair| [slot(4 * pair + 64), slot(4 * pair + 1)]);
    let block = |block: u16| {
        let on = 4 * block;
        [(33 + on, 63 + on), (1 + on, 31 + on)]
    };
    let step = |(from, to): (u16, u16)| Step {
        moves: vec![Move {
            from: slot(from),
            to: slot(to),
        }],
    };
    MoveList {
        slots: 64,
        start: pairs.collect(),
        steps: (0..8).flat_map(block).map(step).collect(),
        ..MoveList::default()
    }
}

#[test]
fn thirty_two_strands_with_one_in_the_hand_make_the_spiral_with_room() {
    let with_room = braid(&spiral_with_room());
    let full = |s: &&plaitwright::structure::Structure| s.strands() == 32;
    let by_hand = braid(&shelf().iter().find(full).expect("on the shelf").moves);
    assert_eq!((with_room.turn(), by_hand.turn()), (-1, 0));
    assert!(same_braid(&artin(&with_room), &artin(&by_hand), 32));
    let lines = |braid| WorldLines::new(braid, 1.15, 1.0).expect("crosses");
    let (room, hand) = (lines(&with_room), lines(&by_hand));
    assert_eq!((room.hops.len(), hand.hops.len()), (2, 2));
    assert_eq!((room.cells_per_round, hand.cells_per_round), (8, 8));
}
