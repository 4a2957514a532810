//! Tight knots and links, given as polygons.
//!
//! Two measures are taken of what was laid: by the radius given, which is too
//! short since tubes overlap a little, and by half the least distance, which is
//! too long.

use std::f64::consts::{PI, TAU};

use plaitwright::mechanics::{Joined, Polygons, Progress, tighten_polygons};

use super::checks::knots::{FIGURE_EIGHT, HOPF_LINK, TREFOIL, figure_eight, hopf_link, trefoil};
use super::{assert_met, assert_near};

type Ring = Vec<[f64; 3]>;

/// Sums of lengths over radius: too short, too long, in the limit.
pub(super) fn ropelengths(points: Vec<Ring>) -> [f64; 3] {
    let polygons = Polygons {
        radius: vec![0.7; points.len()],
        points,
        joined: Joined::Rings,
        weight: 0.0,
    };
    let found = tighten_polygons(polygons, 1e-3, &Progress::new()).expect("a knot");
    let short = found.laid.iter().sum::<f64>() / 0.5;
    let limit: f64 = found.lengths.iter().map(|figure| figure.value).sum();
    [short, short / found.least.ratio, limit / 0.5]
}

/// Both measures within a thousandth, one on either side.
fn assert_between(points: Vec<Ring>, published: f64, what: &str) {
    let [short, long, limit] = ropelengths(points);
    println!("{what}: {short:.4} to {long:.4}, limit {limit:.4}, published {published:.4}");
    assert!(
        short < published && published < long,
        "{what}: {published} is not between {short} and {long}"
    );
    for length in [short, long, limit] {
        assert_near(length, published, 1e-3 * published, what);
    }
}

/// Within half a hundredth of a figure from memory.
fn assert_about(points: Vec<Ring>, remembered: f64, what: &str) {
    let [short, long, limit] = ropelengths(points);
    println!("{what}: {short:.4} to {long:.4}, limit {limit:.4}, from memory {remembered:.4}");
    for length in [short, long, limit] {
        assert_near(length, remembered, 5e-3 * remembered, what);
    }
}

fn ring(corners: usize, at: impl Fn(f64) -> [f64; 3]) -> Ring {
    let angle = |corner| TAU * corner as f64 / corners as f64;
    (0..corners).map(|corner| at(angle(corner))).collect()
}

/// A circle of radius one about `centre`, lying flat or standing up.
fn circle(corners: usize, centre: f64, stands: bool) -> Ring {
    ring(corners, |t| {
        let (across, up) = (centre + t.cos(), t.sin());
        if stands {
            [across, 0.02, up]
        } else {
            [across, up, 0.01]
        }
    })
}

fn torus_knot(round: f64, through: f64, corners: usize) -> Ring {
    ring(corners, |t| {
        let out = 2.0 + (through * t).cos();
        let (sin, cos) = (round * t).sin_cos();
        [out * cos, out * sin, (through * t).sin()]
    })
}

/// The curves of a braid closed round an axis, two corners to a crossing. `word`: +i
/// where the strand in place i passes over into i + 1, -i where under.
pub(super) fn closed_braid(strands: usize, word: &[i32]) -> Vec<Ring> {
    let angle = |step: f64| TAU * step / word.len() as f64;
    let corner = |step: f64, place: f64, height: f64| {
        let (sin, cos) = angle(step).sin_cos();
        [(3.0 + place) * cos, (3.0 + place) * sin, height]
    };
    let mut rows: Vec<Ring> = vec![Vec::new(); strands];
    let mut at: Vec<usize> = (0..strands).collect();
    for (step, &letter) in word.iter().enumerate() {
        let place = letter.unsigned_abs() as usize - 1;
        for (row, now) in rows.iter_mut().zip(&mut at) {
            let (from, over) = (*now as f64, 0.4 * f64::from(letter.signum()));
            let middle = match *now {
                now if now == place => (0.5, over),
                now if now == place + 1 => (-0.5, -over),
                _ => (0.0, 0.0),
            };
            row.push(corner(step as f64, from, 0.0));
            row.push(corner(step as f64 + 0.5, from + middle.0, middle.1));
            *now = (from + 2.0 * middle.0) as usize;
        }
    }
    let mut curves = Vec::new();
    let mut used = vec![false; strands];
    for first in 0..strands {
        let (mut strand, mut curve) = (first, Vec::new());
        while !std::mem::replace(&mut used[strand], true) {
            curve.extend(rows[strand].iter().copied());
            strand = at[strand];
        }
        if !curve.is_empty() {
            curves.push(curve);
        }
    }
    curves
}

/// Given as a cell that repeats round an axis, or as two rings.
#[test]
fn knots_of_equal_pieces_are_as_long_as_published() {
    for checks in [trefoil(), figure_eight(), hopf_link()] {
        assert_met(&checks);
    }
}

#[test]
fn a_tight_trefoil_is_as_long_as_published_however_it_is_given() {
    assert_between(
        vec![torus_knot(2.0, 3.0, 60)],
        TREFOIL.length,
        "trefoil, smooth",
    );
    assert_between(
        vec![torus_knot(3.0, 2.0, 11)],
        TREFOIL.length,
        "trefoil, crude",
    );
    assert_between(closed_braid(2, &[1; 3]), TREFOIL.length, "trefoil, braid");
}

#[test]
fn a_tight_figure_eight_knot_is_as_long_as_published() {
    let knot = ring(80, |t| {
        let out = 2.0 + (2.0 * t).cos();
        let (sin, cos) = (3.0 * t).sin_cos();
        [out * cos, out * sin, (4.0 * t).sin()]
    });
    assert_between(vec![knot], FIGURE_EIGHT.length, "figure-eight");
    let braid = closed_braid(3, &[1, -2, 1, -2]);
    assert_between(braid, FIGURE_EIGHT.length, "figure-eight, braid");
}

/// 12 pi + 4 for a chain of three: Cantarella, Kusner and Sullivan,
/// *Invent. Math.* 150 (2002) 257.
#[test]
fn tight_chains_are_as_long_as_published() {
    let two = vec![circle(30, 0.0, false), circle(7, 1.0, true)];
    assert_between(two, HOPF_LINK.length, "Hopf link");
    let three = vec![
        circle(12, 0.0, false),
        circle(17, 1.5, true),
        circle(9, 3.0, false),
    ];
    assert_between(three, 12.0 * PI + 4.0, "chain of three");
}

/// From memory, after Ashton, Cantarella, Piatek and Rawdon, *Experimental Mathematics* 20
/// (2011) 57; the three rings after Cantarella, Fu, Kusner, Sullivan and
/// Wrinkle, *Geometry & Topology* 10 (2006) 2055.
#[test]
fn other_knots_and_links_are_about_as_long_as_remembered() {
    assert_about(
        vec![torus_knot(2.0, 5.0, 60)],
        47.20,
        "five crossings, first",
    );
    let second = closed_braid(3, &[1, 1, 1, 2, -1, 2]);
    assert_about(second, 49.47, "five crossings, second");
    let eight = closed_braid(3, &[1, 2, 1, 2, 1, 2, 1, 2]);
    assert_about(eight, 60.99, "three round four");
    let three = [0, 1, 2].map(|turn| {
        ring(20, |t| {
            let mut corner = [2.0 * t.cos(), t.sin(), 0.0];
            corner.rotate_right(turn);
            corner
        })
    });
    assert_about(three.to_vec(), 58.01, "three rings, no two linked");
}
