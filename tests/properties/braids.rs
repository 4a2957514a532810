//! What is known of a braid does not depend on how its list is told.

use plaitwright::structure::{Braid, MoveList};
use plaitwright::topology::{
    Comparison, Round, alexander, artin, compare, cycles, entropy, linking, places, same_braid,
    verdict, writhe,
};
use proptest::prelude::*;

use super::curves::same_braid as judged_the_same;
use super::{config, sound_list};

fn checked(list: &MoveList) -> Braid {
    Braid::new(list).expect("a sound list")
}

/// Lengths of the rings, least first.
fn rings(braid: &Braid) -> Vec<usize> {
    let mut lengths: Vec<usize> = cycles(braid.becomes()).iter().map(Vec::len).collect();
    lengths.sort_unstable();
    lengths
}

fn growth(braid: &Braid) -> f64 {
    entropy(&artin(braid), braid.strands())
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn a_turned_disc_makes_the_same_cord(list in sound_list(), half_slots in -40i32..40) {
        let (braid, turned) = (checked(&list), checked(&list.turned(half_slots)));
        let (word, other) = (artin(&braid), artin(&turned));
        let strands = braid.strands();
        prop_assert_eq!(writhe(&word), writhe(&other));
        prop_assert_eq!(rings(&braid), rings(&turned));
        prop_assert_eq!(alexander(&word, strands), alexander(&other, strands));
        prop_assert!((growth(&braid) - growth(&turned)).abs() < 1e-6);
        prop_assert_eq!(verdict(&braid).locks(), verdict(&turned).locks());
        let said = compare(&Round::of(&braid), &Round::of(&turned));
        prop_assert!(matches!(said, Comparison::Same | Comparison::Shifted(_)), "{:?}", said);
    }

    #[test]
    fn a_mirror_and_the_way_back_make_what_they_are_called(list in sound_list()) {
        let braid = checked(&list);
        let (mirrored, back) = (checked(&list.mirrored()), checked(&braid.reversed()));
        let (word, strands) = (artin(&braid), braid.strands());
        for (other, sign) in [(&mirrored, -1), (&back, -1)] {
            prop_assert_eq!(sign * writhe(&word), writhe(&artin(other)));
            prop_assert_eq!(rings(&braid), rings(other));
            prop_assert_eq!(alexander(&word, strands), alexander(&artin(other), strands));
            prop_assert!((growth(&braid) - growth(other)).abs() < 1e-6);
            prop_assert_eq!(verdict(&braid).locks(), verdict(other).locks());
            prop_assert!(compare(&Round::of(&braid), &Round::of(other)).is_alike());
        }
    }

    #[test]
    fn words_are_the_same_if_another_judge_says_so(
        list in sound_list(), at in 0usize..1000, changed in any::<bool>(),
    ) {
        let braid = checked(&list);
        let (word, strands) = (artin(&braid), braid.strands());
        let mut other = word.clone();
        let at = at % (word.len() + 1);
        let relation = if changed { [1, 2, 1, -2, -1, 2] } else { [1, 2, 1, -2, -1, -2] };
        other.splice(at..at, relation);
        let same = same_braid(&word, &other, strands);
        prop_assert_eq!(same, judged_the_same(&word, &other, strands));
        prop_assert_eq!(same, !changed);
    }

    #[test]
    fn all_turns_of_strands_round_each_other_add_up_to_the_writhe(list in sound_list()) {
        let braid = checked(&list);
        let (word, strands) = (artin(&braid), braid.strands());
        let rounds = plaitwright::topology::repeat(&places(&word, strands)) as i32;
        let turns: i32 = linking(&word, strands).iter().flatten().sum();
        // Every pair is counted twice, and every turn has two crossings.
        prop_assert_eq!(turns, rounds * writhe(&word));
    }
}
