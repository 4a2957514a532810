//! A strand half round a post, pulled at one end.

use std::f64::consts::{FRAC_PI_2, PI};

use super::chains::{Chains, Yarn};
use super::contact::Contacts;
use super::vector::Vector;

/// Distance of the two middle lines: a little overlap presses them together.
const APART: f64 = 1.05;
/// Spacing of the nodes at first over that under pull: the strand has to
/// slide round the post before it is taut.
const SLACK: f64 = 0.9;
/// Steps until all rests; tried.
const STEPS: usize = 26_000;
/// Steps over which the pull grows to one: slowly, or the strand swings.
const RAMP: f64 = 20_000.0;
/// Height of the strand: between two nodes of the post.
const HEIGHT: f64 = 0.1;

/// Tension of the pulled end over that of the held one.
pub(crate) fn tension_ratio(friction: f64) -> f64 {
    let yarn = Yarn {
        bending: 0.002,
        ..Yarn::limp(friction)
    };
    let lines = [post(yarn.piece), strand(SLACK * yarn.piece)];
    let frozen = [lines[0].len(), 3];
    let mut chains = Chains::new(yarn, &lines, &frozen);
    let mut contacts = Contacts::default();
    for step in 0..STEPS {
        let ramp = (step as f64 / RAMP).min(1.0);
        chains.pull();
        contacts.press(&mut chains);
        chains.push(chains.last(1), [-ramp, 0.0, 0.0]);
        chains.step();
    }
    let nodes = chains.whole(1);
    let mean = |first: usize| (first..first + 4).map(|n| chains.tension(n)).sum::<f64>() / 4.0;
    mean(nodes.end - 6) / mean(nodes.start + 4)
}

fn post(piece: f64) -> Vec<Vector> {
    (0..)
        .map(|node| [0.013, 0.0, -3.0 + piece * f64::from(node)])
        .take_while(|p| p[2] < 3.0)
        .collect()
}

/// Along one side, half round, and back along the other.
fn strand(step: f64) -> Vec<Vector> {
    let straight = |length: f64| {
        (0..)
            .map(move |k| step * f64::from(k))
            .take_while(move |&x| x < length)
    };
    let round = straight(APART * PI).map(|way| (way / APART - FRAC_PI_2).sin_cos());
    let to = straight(5.0).map(|x| [x - 5.0, -APART, HEIGHT]);
    let half = round.map(|(s, c)| [APART * c, APART * s, HEIGHT]);
    let from = straight(3.0).map(|x| [-0.05 - x, APART, HEIGHT]);
    to.chain(half).chain(from).collect()
}
