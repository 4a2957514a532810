//! Straight strands bound together.

use super::assert_met;
use super::checks::packings;

/// Numbers whose tightest bundle is soon found.
const FEW: [usize; 12] = [2, 3, 4, 5, 6, 7, 8, 10, 12, 13, 14, 19];

/// `PLAIT_PACKINGS=all` looks at every number up to 32.
#[test]
fn strands_bound_together_lie_as_circles_in_the_smallest_circle() {
    if std::env::var_os("PLAIT_PACKINGS").is_some() {
        let all: Vec<usize> = (2..=32).collect();
        assert_met(&packings::of(&all, 3000));
    } else {
        assert_met(&packings::of(&FEW, 200));
    }
}
