//! Random lists pulled tight: a cord with the crossings of its moves, or the reason why
//! there is none.

use plaitwright::cord::{Cord, Progress, Quality, Recipe, SolveError, Tension, Twist, solve};
use plaitwright::material::{self, Colour, Strand};
use plaitwright::structure::MoveList;
use plaitwright::topology::verdict;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngSeed, TestRunner};

use super::lists::sound_list;
use super::{braid, config};

/// As many lists as are asked for, or few, always the same.
fn random_lists(few: u32) -> impl Iterator<Item = MoveList> {
    let mut runner = TestRunner::new(ProptestConfig {
        rng_seed: RngSeed::Fixed(8),
        ..config(few)
    });
    let asked = std::env::var("PROPTEST_CASES").ok();
    let count = asked.and_then(|cases| cases.parse().ok()).unwrap_or(few);
    (0..count).map(move |_| {
        let tree = sound_list().new_tree(&mut runner).expect("always a list");
        tree.current()
    })
}

fn pulled_tight(list: &MoveList) -> Result<Cord, SolveError> {
    let satin = material::on_shelf("satin cord 2 mm, polyester").expect("on the shelf");
    let strands = vec![Strand::single(&satin.name, Colour([0; 3])); list.start.len()];
    let fibres = std::slice::from_ref(satin);
    let grams = 9.0 * list.start.len() as f64;
    let recipe = Recipe::new(
        list,
        &strands,
        fibres,
        Tension::Slots(0.6),
        grams,
        Twist::Free,
    )
    .expect("sound lists and plain forces");
    solve(&recipe, None, Quality::Coarse, &Progress::new())
}

/// Of lists that lock, share that may be refused: tried, 1 of 300.
const REFUSED: f64 = 0.02;

/// Whether strands lock is known from the moves alone, in whole numbers. Others may
/// rest under a weight while both ends are bound, or slide apart.
#[test]
fn lists_that_lock_come_to_a_cord_and_others_to_one_or_to_the_true_reason() {
    let (mut locking, mut refused) = (0, Vec::new());
    for list in random_lists(64).filter(|list| list.start.len() <= 8) {
        let locks = verdict(&braid(&list)).locks();
        locking += usize::from(locks);
        match pulled_tight(&list) {
            Ok(cord) => assert!(cord.report.crossings_kept, "{list:?}"),
            Err(error @ (SolveError::Restless { .. } | SolveError::UsedUp)) if locks => {
                refused.push((error, list));
            }
            Err(error) => {
                let does_not_lock = matches!(
                    error,
                    SolveError::OnlyTwists | SolveError::SlidesApart | SolveError::Unlocked(_)
                );
                assert!(does_not_lock && !locks, "{error} {list:?}");
            }
        }
    }
    println!("{locking} lists lock, {} of them refused", refused.len());
    let most = REFUSED * f64::from(locking as u32);
    assert!(locking > 0 && refused.len() as f64 <= most, "{refused:?}");
}
