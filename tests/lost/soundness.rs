//! The hands themselves: right work is the braid, and mistakes are what they say.

use fastrand::Rng;
use plaitwright::topology::{artin, same_braid};

use super::cases::{Bench, Case, Wanted};
use super::cord::{is_same, word};
use super::disc::{Carry, Disc, place, turned};
use super::person::{Goes, Person};
use super::slips::{Kind, Slip};
use super::telling::{Looks, Told};

fn roles(bench: &Bench) -> Vec<usize> {
    (0..bench.work.strands()).collect()
}

#[test]
fn right_work_is_the_braid_move_by_move() {
    for bench in Bench::all() {
        let named = &bench.structure.name;
        let mut rng = Rng::with_seed(1);
        for goes in [Goes::ByNumbers, Goes::ByPicture] {
            let mut person = Person::after(&bench.work, &roles(&bench), 0, goes);
            for done in 0..3 * bench.braid.lifts().len() {
                let lying: Vec<_> = person.disc.at().into_iter().map(place).collect();
                assert_eq!(lying, bench.braid.places_after(done), "{named} {done}");
                assert!(person.go_on(&mut rng), "{named} {done}");
            }
        }
    }
}

#[test]
fn the_crossings_of_a_round_are_the_braid() {
    for bench in Bench::all() {
        let (work, braid) = (&bench.work, &bench.braid);
        let start = work.disc(&roles(&bench), 0);
        let mut made = word(&start, &work.carries(0..work.a_round())).unwrap();
        // The whole is turned back by as much as the round has gone on.
        let end = work.disc(&roles(&bench), work.a_round());
        let n = i32::try_from(work.strands()).unwrap();
        for half in 0..2 * i64::from(braid.turn()).abs() {
            let on = -i64::from(braid.turn()).signum();
            let before = end
                .at()
                .into_iter()
                .map(|s| turned(s, half * on, work.slots));
            let over = before.filter(|&s| turned(s, on, work.slots).abs_diff(s) > 1);
            for _ in over {
                match on {
                    1 => made.extend((1..n).map(|letter| letter - n)),
                    _ => made.extend(1..n),
                }
            }
        }
        assert!(
            same_braid(&made, &artin(braid), work.strands()),
            "{}",
            bench.structure.name
        );
    }
}

#[test]
fn a_skipped_move_leaves_one_strand_where_it_was() {
    for bench in Bench::all() {
        for done in 0..2 * bench.work.a_round() {
            let mut rng = Rng::with_seed(done);
            let mut person = Person::after(&bench.work, &roles(&bench), done, Goes::ByNumbers);
            assert!(person.slip(Slip::SkippedMove, &mut rng));
            assert_eq!(person.counted, done + 1);
            let right = bench.work.disc(&roles(&bench), done + 1).at();
            let lies = person.disc.at().into_iter().zip(right);
            assert_eq!(lies.filter(|(is, should)| is != should).count(), 1);
        }
    }
}

#[test]
fn a_strand_laid_beside_its_slot_and_slid_back_is_no_mistake() {
    let benches = Bench::all();
    for bench in &benches {
        let mut rng = Rng::with_seed(3);
        let mut person = Person::after(&bench.work, &roles(bench), 5, Goes::ByNumbers);
        if bench.work.strands() < 10 && person.slip(Slip::WrongSlot(1), &mut rng) {
            let right = bench.work.carry(5);
            let back = Carry {
                from: bench.work.carries(5..6)[0].to,
                ..right
            };
            let beside = person.carries[0].to;
            let slid = [
                person.carries[0],
                Carry {
                    from: beside,
                    to: back.from,
                },
            ];
            let start = bench.work.disc(&roles(bench), 5);
            assert!(is_same(&start, &slid, &[right]), "{}", bench.structure.name);
        }
    }
}

#[test]
fn swapping_to_and_fro_is_nothing_and_swapping_twice_is_a_twist() {
    let disc = Disc::laid(32, [2, 10, 20]);
    let swap = |on: i64| {
        let beside = disc.turned(10, on);
        [(2, beside), (10, 2), (beside, 10)].map(|(from, to)| Carry { from, to })
    };
    assert!(is_same(&disc, &[swap(1), swap(-1)].concat(), &[]));
    assert!(!is_same(&disc, &[swap(1), swap(1)].concat(), &[]));
    assert!(!is_same(&disc, &swap(1), &swap(-1)));
}

#[test]
fn moves_may_change_their_order_if_their_lines_do_not_cross() {
    let disc = Disc::laid(32, [2, 20, 34, 48]);
    let [a, b, c] = [(2, 14), (20, 30), (20, 60)].map(|(from, to)| Carry { from, to });
    assert!(is_same(&disc, &[a, b], &[b, a]));
    assert!(is_same(&disc, &[a, c], &[c, a]));
    let d = Carry { from: 20, to: 8 };
    assert!(!is_same(&disc, &[a, d], &[d, a]));
}

#[test]
fn what_is_held_is_passed_on_the_side_of_the_line() {
    let disc = Disc::laid(32, [0, 10, 20]);
    let straight = Carry { from: 10, to: 40 };
    let round = [(10, 28), (28, 40)].map(|(from, to)| Carry { from, to });
    assert!(is_same(&disc, &[straight], &round));
    let beyond = [(10, 50), (50, 40)].map(|(from, to)| Carry { from, to });
    assert!(!is_same(&disc, &[straight], &beyond));
}

#[test]
fn every_mistake_is_made_on_every_list_that_allows_it_and_its_truth_can_be_replayed() {
    let benches = Bench::all();
    for kind in Kind::ALL {
        let mut lists = 0;
        for bench in &benches {
            let wanted = Wanted {
                kinds: vec![kind],
                looks: Looks::AllDifferent,
                told: Told::Everything,
            };
            let drawn = |seed| Some((Case::draw(bench, &wanted, seed)?, seed));
            let cases: Vec<(Case<'_>, u64)> = (0..6).filter_map(drawn).collect();
            lists += usize::from(!cases.is_empty());
            for (case, seed) in cases {
                let mut disc = bench.work.disc(&case.roles, case.right);
                assert!(case.carries.iter().all(|&one| disc.carry(one)));
                assert_eq!(disc, case.disc);
                assert!((case.right..=case.right + 16).contains(&case.counted));
                assert_eq!(Case::draw(bench, &wanted, seed).unwrap().seen, case.seen);
            }
        }
        assert!(2 * lists > benches.len(), "{}", kind.words());
    }
}
