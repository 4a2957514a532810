use proptest::prelude::*;

use super::*;
use crate::bench::{Entry, Note, Stamped};
use crate::plan::trial::{Trial, satin};
use crate::plan::{End, outlook};

/// Eight satin strands, 450 mm of cord; moves for a mm 1.23, take-up 1.6, 96.5 in 100 of
/// the cord stay when it rests.
fn eight() -> Outlook {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.length(450.0);
    outlook(&trial.job())
}

/// So many moves done one by one, with notes at places.
fn at(done: u64, notes: &[(u64, Note)]) -> Course {
    let mut course = Course::new(8);
    let mut told = |entry| course.take(&Stamped { at: 0, entry }).unwrap();
    for (place, note) in notes {
        told(Entry::Done(*place));
        told(Entry::Noted(note.clone()));
    }
    told(Entry::Done(done));
    course
}

fn along(done: u64) -> Progress {
    progress(&eight(), &at(done, &[]), 8, None)
}

fn near(found: f64, wanted: f64) {
    assert!((found / wanted - 1.0).abs() < 1e-3, "{found}, not {wanted}");
}

#[test]
fn a_hundred_moves_are_eight_centimetres_on_the_disc() {
    let progress = along(100);
    near(progress.on_disc.value, 100.0 / 1.23);
    near(progress.rested.value, 100.0 / 1.23 * 0.965);
    near(progress.goal.value, 450.0 / 0.965 * 1.23);
    near(progress.to_go.value, 450.0 / 0.965 * 1.23 - 100.0);
    assert_eq!(progress.rounds, (12, 4));
    near(progress.share, 100.0 / progress.goal.value);
    assert_eq!(progress.by_measure, None);
}

/// 573.6 moves at 24 a minute are 23.9 minutes, and 65 in 100 of a sitting is work.
#[test]
fn time_left_is_of_the_workshop_until_ones_own_pace_is_known() {
    let time = along(0).time;
    near(time.at_work.value, 450.0 / 0.965 * 1.23 / 24.0);
    near(time.in_all.value, time.at_work.value / 0.65);
    assert!(!time.is_own && time.at_work.low < time.at_work.value);
    let own = OwnPace {
        moves_a_minute: 12.0,
        uneven: 0.1,
        at_work: 0.8,
        sittings: 2,
        moves: 200,
    };
    let slower = progress(&eight(), &at(0, &[]), 8, Some(own)).time;
    assert!(slower.is_own);
    near(slower.at_work.value, 2.0 * time.at_work.value);
    near(slower.in_all.value, slower.at_work.value / 0.8);
}

#[test]
fn a_measure_puts_right_what_follows_and_narrows_it() {
    let before = along(240);
    let measured = [(240, Note::Measured(180.0))];
    let after = progress(&eight(), &at(240, &measured), 8, None);
    near(after.on_disc.value, 180.0);
    let width = |e: Estimate| e.high - e.low;
    assert!(width(after.on_disc) < 0.3 * width(before.on_disc));
    assert!(width(after.goal) < width(before.goal));
    // 180 instead of 195 mm: each mm takes more moves than was expected.
    assert!(after.goal.value > before.goal.value);
    let slower = after.by_measure.unwrap();
    assert!(-0.08 < slower.value && slower.value < -0.04, "{slower:?}");
    let later = [measured[0].clone(), (480, Note::Measured(360.0))];
    let later = progress(&eight(), &at(490, &later), 8, None);
    assert!(
        (later.on_disc.value - 367.5).abs() < 0.5,
        "{:?}",
        later.on_disc
    );
    assert!(width(later.by_measure.unwrap()) <= width(slower));
}

#[test]
fn a_slip_of_the_tape_is_told_and_not_counted() {
    let measured = [(240, Note::Measured(1950.0))];
    let found = progress(&eight(), &at(240, &measured), 8, None);
    assert_eq!(found.on_disc, along(240).on_disc);
    assert!(
        found.doubts[0].starts_with("1950 mm after 240 moves"),
        "{:?}",
        found.doubts
    );
}

/// 225 mm hang out of which 120 must be left: 105 mm of strand, at 1.6 · 0.965 for a mm.
#[test]
fn thread_is_fed_out_when_the_hand_has_just_enough() {
    let first = 105.0 / (1.6 * 0.965) * 1.23;
    let (strands, moves) = along(0).next_feed(8).unwrap();
    assert_eq!(strands, [0, 1, 2, 3, 4, 5, 6, 7]);
    near(moves.value, first);
    near(along(80).next_feed(8).unwrap().1.value, first - 80.0);
    near(along(84).next_feed(8).unwrap().1.value, 2.0 * first - 84.0);
    assert!(along(580).next_feed(8).is_some(), "she goes on beyond");
    assert_eq!(along(620).next_feed(8), None, "all of it hangs out");
    assert_eq!(along(560).next_feed(8), None, "the cord ends before");
}

#[test]
fn short_strands_hang_and_need_no_feeding() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.length(100.0);
    let short = progress(&outlook(&trial.job()), &at(0, &[]), 8, None);
    assert!(short.feed_out.is_empty());
}

#[test]
fn the_weight_goes_up_every_ten_centimetres_but_not_at_the_end() {
    near(along(0).weight_up.unwrap().value, 123.0);
    near(along(130).weight_up.unwrap().value, 116.0);
    assert_eq!(along(500).weight_up, None, "the cord ends before 500 mm");
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.counterweight = 0.0;
    let none = progress(&outlook(&trial.job()), &at(0, &[]), 8, None);
    assert_eq!(none.weight_up, None);
}

/// What was cut for 39 of 40 lasts in 39 of 40.
#[test]
fn strands_as_they_were_cut_reach_to_the_end_as_surely_as_was_wished() {
    let first = along(0).first_out().unwrap();
    assert!(first.at.value > along(0).goal.value, "{first:?}");
    assert!(first.before_the_end < 0.05, "{first:?}");
    let mut short = eight();
    // 40 mm start, 120 mm reach: 300 mm of cord on the disc.
    short.strands[3].length = 160.0 + 300.0 * 1.6 * 0.965;
    let found = progress(&short, &at(100, &[]), 8, None)
        .first_out()
        .unwrap();
    assert_eq!(found.strand, 3);
    near(found.at.value, 300.0 * 1.23);
    assert!(found.before_the_end > 0.999 && !found.to_be_joined);
}

#[test]
fn a_joined_strand_starts_anew_unless_the_join_was_taken_back() {
    let mut short = eight();
    short.strands[3].length = 160.0 + 300.0 * 1.6 * 0.965;
    let joined = [(123, Note::Joined(3))];
    let found = progress(&short, &at(200, &joined), 8, None);
    let own = found.runs_out.iter().find(|out| out.strand == 3).unwrap();
    near(own.at.value, 123.0 + 369.0);
    let back = progress(&short, &at(100, &joined), 8, None);
    near(back.first_out().unwrap().at.value, 369.0);
}

#[test]
fn a_bobbin_that_does_not_take_it_all_runs_out_as_planned() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.workshop.bobbins.truncate(1);
    trial.length(3000.0);
    let found = progress(&outlook(&trial.job()), &at(0, &[]), 8, None);
    let first = found.first_out().unwrap();
    assert!(first.to_be_joined && first.before_the_end > 0.999);
    // 1500 mm wound and 225 hanging, less 40 and 120.
    near(first.at.value, 1565.0 / (1.6 * 0.965) * 1.23);
}

#[test]
fn a_cord_that_grows_slower_takes_more_of_each_strand_for_a_mm_and_less_for_a_move() {
    let slow = [(200, Note::Measured(145.0))];
    let (expected, slower) = (along(200), progress(&eight(), &at(200, &slow), 8, None));
    let moves = |p: &Progress| p.first_out().unwrap().at.value;
    assert!(
        moves(&slower) > moves(&expected),
        "more moves until it is gone"
    );
    let in_mm = |p: &Progress| moves(p) * p.on_disc.value / 200.0;
    assert!(in_mm(&slower) < in_mm(&expected), "but shorter cord");
}

#[test]
fn a_tassel_is_kept() {
    let mut trial = Trial::of(vec![satin(); 8], 1.6);
    trial.length(450.0);
    let out = |trial: &Trial| {
        let found = progress(&outlook(&trial.job()), &at(0, &[]), 8, None);
        found.first_out().unwrap()
    };
    trial.piece.ends[1] = End::Tassel { length: 300.0 };
    assert!(out(&trial).before_the_end < 0.05, "{:?}", out(&trial));
}

proptest! {
    #[test]
    fn more_done_is_never_more_to_go(
        done in 0_u64..700, more in 1_u64..50, mm in proptest::option::of(120.0..200.0_f64),
    ) {
        let notes: Vec<_> = mm.map(|mm| (done, Note::Measured(mm))).into_iter().collect();
        let found = |done| progress(&eight(), &at(done, &notes), 8, None);
        let (now, then) = (found(done), found(done + more));
        prop_assert!(then.to_go.value <= now.to_go.value);
        prop_assert!(then.to_go.high <= now.to_go.high + 1e-9);
        prop_assert!(then.time.in_all.value <= now.time.in_all.value);
        prop_assert!(then.on_disc.value >= now.on_disc.value);
        prop_assert!(then.share >= now.share - 1e-12);
        prop_assert!((then.goal.value - now.goal.value).abs() < 1e-6 * now.goal.value);
    }

    #[test]
    fn every_figure_lies_within_its_spread_and_none_below_nought(
        done in 0_u64..900, measures in proptest::collection::vec((1_u64..900, 1.0..900.0_f64), 0..4),
    ) {
        let notes: Vec<_> = measures.iter().map(|&(at, mm)| (at, Note::Measured(mm))).collect();
        let found = progress(&eight(), &at(done, &notes), 8, None);
        let feeds = found.feed_out.iter().map(|feed| feed.moves);
        let all = [found.to_go, found.on_disc, found.rested, found.time.at_work, found.time.in_all];
        for e in all.into_iter().chain(feeds).chain(found.weight_up) {
            prop_assert!(0.0 <= e.value && e.low <= e.value && e.value <= e.high, "{e:?}");
        }
        for out in &found.runs_out {
            prop_assert!((0.0..=1.0).contains(&out.before_the_end));
        }
    }
}
