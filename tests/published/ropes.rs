//! Strands wound round each other.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{Accurate, Ends, Hold, Progress, Shape, Tubes, accurate};

use super::{assert_near, limp_tubes};

/// Nodes to a strand at first.
const NODES: usize = 12;

/// Turn of a cell, radians.
const TURN: f64 = PI / 6.0;

/// Helices on a circle of radius `out`, evenly round. Each runs on in the place of its
/// neighbour, so that all are one strand and stay equal; four that are free of
/// each other sort themselves into two wound round two (tried).
fn rope(strands: usize, out: f64, lift: f64, hold: Hold) -> Accurate {
    let ends = Ends::Screw {
        lift: hold,
        turn: Hold::Held,
    };
    let tubes = Tubes {
        continues: (0..strands).map(|i| (i + 1) % strands).collect(),
        ..limp_tubes(strands, NODES, ends)
    };
    let place = |node: usize| {
        let up = (node % NODES) as f64 / NODES as f64;
        let angle = TAU * (node / NODES) as f64 / strands as f64 + TURN * up;
        [out * angle.cos(), out * angle.sin(), lift * up]
    };
    let start = Shape {
        points: (0..strands * NODES).map(place).collect(),
        lift,
        turn: TURN - TAU / strands as f64,
        squeeze: vec![0.0; strands * NODES],
    };
    accurate(&tubes, start, 2e-4, &Progress::new()).expect("a rope")
}

/// Pitch angles of the rope with most turns for its strand length: Bohr and Olsen, *EPL* 93
/// (2011) 60004; more digits from the contact condition.
#[test]
fn ropes_that_do_not_twist_under_a_pull_have_the_published_pitch_angles() {
    for (strands, published) in [(2, 39.3771), (3, 42.8354), (4, 43.8351)] {
        let out = 0.6 / (PI / strands as f64).sin();
        let found = rope(strands, out, 0.6, Hold::Free);
        let angle = (found.lift.value / found.lengths[0].value)
            .asin()
            .to_degrees();
        println!("{strands} strands: {angle:.4}, published {published}");
        assert_near(angle, published, 0.05, "pitch angle");
    }
}

/// Square of the distance of two strands on a helix of radius `out` and pitch `pitch`,
/// `apart` round, `t` farther along: Przybył and Pierański, *Eur. Phys. J. E* 4 (2001)
/// 445; Neukirch and van der Heijden, *J. Elasticity* 69 (2002) 41.
fn square_distance(out: f64, pitch: f64, apart: f64, t: f64) -> f64 {
    2.0 * out * out * (1.0 - (t + apart).cos()) + (pitch * t / TAU).powi(2)
}

/// Radius at which helices of a pitch just touch, by halving.
fn touching_radius(strands: usize, pitch: f64) -> f64 {
    let least = |out: f64| {
        let others = (1..strands).map(|k| TAU * k as f64 / strands as f64);
        let ways = others.flat_map(|apart| {
            (0..8000).map(move |i| {
                let t = TAU * (f64::from(i) / 4000.0 - 1.0);
                square_distance(out, pitch, apart, t)
            })
        });
        ways.fold(f64::INFINITY, f64::min)
    };
    let (mut low, mut high) = (0.3, 3.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if least(middle) < 1.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// The condition itself against figures of the sources: at which pitch two strands
/// leave the axis, and the ropes of Bohr and Olsen.
#[test]
fn the_contact_condition_has_the_published_radii() {
    for (strands, pitch, published) in [
        (2, 4.0, 0.5),
        (2, 3.0, 0.501_709),
        (2, 2.696_702, 0.522_936),
        (3, 4.180_511, 0.717_622),
        (4, 5.615_161, 0.930_779),
    ] {
        let found = touching_radius(strands, pitch);
        assert_near(found, published, 2e-5, "radius at which helices touch");
    }
}

#[test]
fn strands_wound_round_each_other_keep_the_radius_of_the_contact_condition() {
    for (strands, pitches) in [
        (2, [10.0, 4.0, 3.0, 2.6]),
        (3, [12.0, 6.0, 4.6, 4.180_511]),
        (4, [16.0, 8.0, 6.2, 5.615_161]),
    ] {
        for pitch in pitches {
            let exact = touching_radius(strands, pitch);
            let lift = pitch * TURN / TAU;
            let found = rope(strands, 1.2 * exact, lift, Hold::Held);
            let length = found.lengths[0].value;
            let radius = (length * length - lift * lift).sqrt() / TURN;
            println!("{strands} strands, pitch {pitch}: {radius:.5}, exact {exact:.5}");
            assert_near(radius, exact, 2e-3 * exact, "helix radius");
        }
    }
}
