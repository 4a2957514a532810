//! Plain weave.

use super::assert_met;
use super::checks::weaves::{by_clasps, free, jammed};

/// Peirce's arcs are a shape of the tubes, if not their shortest.
#[test]
fn a_jammed_weave_is_nearly_as_long_as_published_and_no_longer() {
    let checks = jammed();
    assert_met(&checks);
    for check in &checks {
        assert!(check.miss() < 0.0, "{}", check.row());
    }
}

#[test]
fn a_weave_is_crimped_as_tight_clasps_are() {
    assert_met(&by_clasps());
}

#[test]
fn a_weave_free_both_ways_closes_up_one_way() {
    assert_met(&free());
}

/// By Peirce's formulas: angles of both strands have cosines that are one together, and
/// lengths that go as the angles.
#[test]
fn of_all_jammed_weaves_the_square_one_is_the_longest() {
    let length = |up: f64| up + (1.0 - up.cos()).acos();
    let longest = (1..90).map(f64::from).max_by(|a, b| {
        let [a, b] = [a, b].map(|degrees| length(degrees.to_radians()));
        a.total_cmp(&b)
    });
    assert_eq!(longest, Some(60.0));
}
