//! Strands wound round each other.

use std::f64::consts::TAU;

use super::checks::ropes::{touching, touching_radius, zero_twist};
use super::{assert_met, assert_near};

#[test]
fn ropes_that_do_not_twist_under_a_pull_have_the_published_pitch_angles() {
    assert_met(&zero_twist());
}

/// The condition itself against figures of the sources: at which pitch two strands
/// leave the axis (Przybył and Pierański, *Eur. Phys. J. E* 4 (2001) 445), and the ropes of
/// Bohr and Olsen, *EPL* 93 (2011) 60004.
#[test]
fn the_contact_condition_has_the_published_radii() {
    for (strands, pitch, published) in [
        (2, 4.0, 0.5),
        (2, 3.0, 0.501_709),
        (2, 2.696_702, 0.522_936),
        (3, 4.180_511, 0.717_622),
        (4, 5.615_161, 0.930_779),
    ] {
        let found = touching_radius(strands, pitch / (TAU * published));
        assert_near(found, published, 2e-5, "radius at which helices touch");
    }
}

#[test]
fn strands_wound_round_each_other_keep_the_radius_of_the_contact_condition() {
    assert_met(&touching());
}
