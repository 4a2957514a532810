//! The engine against the literature. Every expected figure has its source
//! beside it; none of them is known to the engine.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{
    Ends, Hold, Progress, Report, Schedule, Shape, Squeeze, Tubes, same_crossings, strand_lengths,
    tighten,
};

/// Limp, hard tubes of diameter one under a pull of one.
fn limp_tubes(strands: usize, nodes: usize, ends: Ends) -> Tubes {
    Tubes {
        strands,
        nodes,
        continues: (0..strands).collect(),
        radius: vec![0.5; strands * nodes],
        pull: vec![1.0; strands],
        bending: vec![0.0; strands],
        squeeze: vec![Squeeze::Hard; strands],
        ends,
        weight: 0.0,
        band: 0.0,
        lengths: None,
    }
}

fn tight(tubes: &Tubes, start: Shape, stages: &[f64], tolerance: f64) -> (Shape, Report) {
    let schedule = Schedule {
        stages: stages.to_vec(),
        tolerance,
        early_tolerance: 1e-2,
        most_iterations: 4000,
    };
    tighten(tubes, start, &schedule, &Progress::new()).expect("the start is sound")
}

fn assert_near(found: f64, published: f64, tolerance: f64, what: &str) {
    assert!(
        (found - published).abs() <= tolerance,
        "{what}: found {found}, published {published} ± {tolerance}"
    );
}

/// Length over radius of closed strands pulled tight: once by the radius they
/// were given, once by half the least distance any two nodes came to.
fn ropelengths(
    strands: usize,
    nodes: usize,
    cells: usize,
    turn: f64,
    at: impl Fn(usize, f64) -> [f64; 3],
) -> [f64; 2] {
    let tubes = limp_tubes(strands, nodes, Ends::Closed { cells });
    let place = |node: usize| {
        let round = TAU / cells as f64 * (node % nodes) as f64 / nodes as f64;
        at(node / nodes, round)
    };
    let start = Shape {
        points: (0..strands * nodes).map(place).collect(),
        lift: 0.0,
        turn,
        squeeze: vec![0.0; strands * nodes],
    };
    let before = start.clone();
    let (shape, report) = tight(&tubes, start, &[32.0, 128.0, 512.0, 2048.0, 8192.0], 1e-3);
    assert!(
        same_crossings(&tubes, &before, &shape),
        "strands went through"
    );
    let length = strand_lengths(&tubes, &shape).iter().sum::<f64>() * cells as f64;
    [length / 0.5, length / (0.5 * report.least_gap)]
}

/// 32.742 934: Przybył and Pierański, *J. Phys. A* 47 (2014) 285201.
#[test]
fn a_tight_trefoil_is_as_long_as_published() {
    let lengths = ropelengths(1, 48, 3, 2.0 * TAU / 3.0, |_, t| {
        let out = 0.8 * (2.0 + (3.0 * t).cos());
        [
            out * (2.0 * t).cos(),
            out * (2.0 * t).sin(),
            0.8 * (3.0 * t).sin(),
        ]
    });
    for length in lengths {
        assert_near(length, 32.7429, 0.003 * 32.7429, "trefoil");
    }
}

/// 42.0887: Ashton, Cantarella, Piatek and Rawdon, *Experimental Mathematics* 20
/// (2011) 57.
#[test]
fn a_tight_figure_eight_knot_is_as_long_as_published() {
    let lengths = ropelengths(1, 96, 2, PI, |_, t| {
        let out = 0.9 * (2.0 + (2.0 * t).cos());
        [
            out * (3.0 * t).cos(),
            out * (3.0 * t).sin(),
            0.9 * (4.0 * t).sin(),
        ]
    });
    for length in lengths {
        assert_near(length, 42.0887, 0.003 * 42.0887, "figure-eight");
    }
}

/// 8 pi: Cantarella, Kusner and Sullivan, *Invent. Math.* 150 (2002) 257.
#[test]
fn two_tight_rings_through_each_other_are_as_long_as_published() {
    let lengths = ropelengths(2, 96, 1, 0.0, |ring, t| match ring {
        0 => [1.5 * t.cos(), 1.5 * t.sin(), 0.0],
        _ => [1.5 + 1.5 * t.cos(), 0.1 * t.sin(), 1.5 * t.sin()],
    });
    for length in lengths {
        assert_near(length, 8.0 * PI, 0.003 * 8.0 * PI, "Hopf link");
    }
}

/// Helices on a circle of radius `out`, evenly round.
fn helices(strands: usize, nodes: usize, out: f64, lift: f64, turn: f64) -> Shape {
    let place = |node: usize| {
        let up = (node % nodes) as f64 / nodes as f64;
        let angle = TAU * (node / nodes) as f64 / strands as f64 + turn * up;
        [out * angle.cos(), out * angle.sin(), lift * up]
    };
    Shape {
        points: (0..strands * nodes).map(place).collect(),
        lift,
        turn,
        squeeze: vec![0.0; strands * nodes],
    }
}

fn mean_radius(shape: &Shape) -> f64 {
    let sum: f64 = shape.points.iter().map(|p| p[0].hypot(p[1])).sum();
    sum / shape.points.len() as f64
}

/// Pitch angles of the rope with most turns for its strand length: Bohr and Olsen, *EPL* 93
/// (2011) 60004.
///
/// Each strand runs on in the place of its neighbour, so that all are one strand
/// and stay equal; four that are free of each other sort themselves into two
/// wound round two (tried).
#[test]
fn ropes_that_do_not_twist_under_a_pull_have_the_published_pitch_angles() {
    let turn = PI / 6.0;
    for (strands, published) in [(2, 39.3771), (3, 42.8354), (4, 43.8351)] {
        let ends = Ends::Screw {
            lift: Hold::Free,
            turn: Hold::Held,
        };
        let tubes = Tubes {
            continues: (0..strands).map(|i| (i + 1) % strands).collect(),
            ..limp_tubes(strands, 16, ends)
        };
        let out = 0.6 / (PI / strands as f64).sin();
        let mut start = helices(strands, 16, out, 0.6, turn);
        start.turn -= TAU / strands as f64;
        let (shape, _) = tight(&tubes, start, &[8.0, 64.0, 512.0, 4096.0], 1e-4);
        let angle = (shape.lift / (turn * mean_radius(&shape))).atan();
        assert_near(angle.to_degrees(), published, 0.3, "pitch angle");
    }
}

/// Radius of two touching helices of given pitch angle: they touch on the axis down
/// to 45°, then along two lines. Condition of Neukirch and van der Heijden,
/// *J. Elasticity* 69 (2002) 41, solved here by halving.
fn double_helix_radius(slope: f64) -> f64 {
    let least = |out: f64| {
        let square = |t: f64| out * out * (2.0 + 2.0 * t.cos()) + (out * slope * t).powi(2);
        let ways = (0..20_000).map(|i| square(f64::from(i) * PI / 20_000.0));
        ways.fold(f64::INFINITY, f64::min).sqrt()
    };
    let (mut low, mut high) = (0.3, 2.0);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if least(middle) < 1.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

#[test]
fn two_strands_wound_round_each_other_keep_the_published_distance() {
    // The condition itself: half a diameter at 45°, and more at the angle of
    // Bohr and Olsen.
    assert_near(double_helix_radius(1.0), 0.5, 1e-4, "at 45 degrees");
    let slope = 39.3771_f64.to_radians().tan();
    assert_near(
        double_helix_radius(slope),
        0.522_936,
        1e-4,
        "at 39.4 degrees",
    );
    let turn = PI / 6.0;
    for degrees in [60.0_f64, 45.0, 40.0, 35.0] {
        let slope = degrees.to_radians().tan();
        let published = double_helix_radius(slope);
        let ends = Ends::Screw {
            lift: Hold::Held,
            turn: Hold::Held,
        };
        let tubes = limp_tubes(2, 12, ends);
        let start = helices(2, 12, 1.3 * published, published * slope * turn, turn);
        let (shape, _) = tight(&tubes, start, &[8.0, 64.0, 512.0, 4096.0], 1e-4);
        assert_near(
            mean_radius(&shape),
            published,
            0.005 * published,
            "helix radius",
        );
    }
}

/// Radius over strand radius of straight strands bound together, as laid by
/// chance and pulled tight.
fn bound(strands: usize, dice: &mut fastrand::Rng) -> f64 {
    const NODES: usize = 4;
    let ends = Ends::Screw {
        lift: Hold::Held,
        turn: Hold::Held,
    };
    let tubes = Tubes {
        band: 1.0,
        ..limp_tubes(strands, NODES, ends)
    };
    let lift = 0.5;
    let mut points = Vec::new();
    for _ in 0..strands {
        let out = 0.9 * (strands as f64 * dice.f64()).sqrt();
        let (sin, cos) = (TAU * dice.f64()).sin_cos();
        points.extend((0..NODES).map(|node| {
            let up = lift * node as f64 / NODES as f64;
            [out * cos, out * sin, up]
        }));
    }
    let start = Shape {
        points,
        lift,
        turn: 0.0,
        squeeze: vec![0.0; strands * NODES],
    };
    let (shape, _) = tight(&tubes, start, &[1.0, 4.0, 32.0, 256.0, 2048.0], 1e-3);
    let out = |p: &[f64; 3]| p[0].hypot(p[1]);
    let outermost = shape.points.iter().map(out).fold(0.0, f64::max);
    // As if the strands were as thin as they came to lie, seen from the end: a
    // packing that holds.
    let seen = |strand: usize| shape.points[strand * NODES];
    let apart = |i: usize, j: usize| {
        let (p, q) = (seen(i), seen(j));
        (p[0] - q[0]).hypot(p[1] - q[1])
    };
    let pairs = (0..strands).flat_map(|i| (0..i).map(move |j| (i, j)));
    let least = pairs
        .map(|(i, j)| apart(i, j))
        .fold(f64::INFINITY, f64::min);
    let radius = 0.5 * least;
    (outermost + radius) / radius
}

/// Circles in a circle: Graham, Lubachevsky, Nurmela and Östergård, *Discrete Math.*
/// 181 (1998) 139.
#[test]
fn strands_bound_together_lie_as_circles_in_the_smallest_circle() {
    let published = [
        (3, 2.154_700_5),
        (4, 2.414_213_6),
        (5, 2.701_301_6),
        (7, 3.0),
        (8, 3.304_764_9),
        (12, 4.029_601_9),
        (19, 4.863_703_3),
    ];
    for (strands, ratio) in published {
        let mut dice = fastrand::Rng::with_seed(strands as u64);
        let tries = (0..12).map(|_| bound(strands, &mut dice));
        let best = tries.fold(f64::INFINITY, f64::min);
        assert_near(best, ratio, 0.001 * ratio, &format!("{strands} circles"));
    }
}
