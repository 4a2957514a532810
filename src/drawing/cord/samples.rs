//! Cords and fibres for the tests of this room.

use std::f64::consts::TAU;

use crate::cord::Form;
use crate::material::{Appearance, Weave};

/// A rope of `n` strands of `diameter` mm lying side by side, leaning like Z.
/// After a repeat each has come to the next one's place, and a little further.
pub(crate) fn rope(n: usize, nodes: usize, diameter: f64) -> Form {
    let r = diameter / 2.0;
    let off = r / (std::f64::consts::PI / n as f64).sin().max(0.5);
    let turn = 0.3;
    let advance = TAU / n as f64 + turn;
    let lift = off * advance * 1.4;
    let point = |i: usize, q: usize| {
        let part = q as f64 / nodes as f64;
        let a = TAU * i as f64 / n as f64 + advance * part;
        [off * a.cos(), off * a.sin(), lift * part]
    };
    Form {
        strands: n,
        nodes,
        continues: (0..n).map(|i| (i + 1) % n).collect(),
        points: (0..n * nodes)
            .map(|k| point(k / nodes, k % nodes))
            .collect(),
        radius: vec![r; n * nodes],
        lift,
        turn,
    }
}

fn appearance(weave: Weave, plies: u8, figures: [f64; 7]) -> Appearance {
    let [twist, relief, lay, gloss, spread, fuzz, mottle] = figures;
    Appearance {
        weave,
        plies,
        twist,
        relief,
        lay,
        gloss,
        spread,
        fuzz,
        mottle,
    }
}

pub(crate) fn satin() -> Appearance {
    appearance(Weave::Sheath, 1, [0.0, 0.0, 11.0, 1.0, 0.17, 0.0, 0.12])
}

pub(crate) fn crochet() -> Appearance {
    appearance(Weave::Plied, 3, [44.0, 0.85, -32.0, 0.20, 0.35, 0.09, 0.35])
}

pub(crate) fn pearl() -> Appearance {
    appearance(Weave::Plied, 2, [-46.0, 0.85, 34.0, 1.4, 0.17, 0.02, 0.15])
}

pub(crate) fn wool() -> Appearance {
    appearance(Weave::Plied, 3, [-34.0, 0.60, 22.0, 0.06, 0.5, 0.85, 0.8])
}

pub(crate) fn chenille() -> Appearance {
    appearance(Weave::Pile, 1, [0.0, 0.0, 0.0, 0.0, 0.5, 1.0, 0.5])
}

pub(crate) fn ribbon() -> Appearance {
    appearance(Weave::Flat, 1, [0.0, 0.0, 0.0, 0.70, 0.18, 0.0, 0.1])
}

pub(crate) fn leather() -> Appearance {
    appearance(Weave::Solid, 1, [0.0, 0.0, 0.0, 1.0, 0.15, 0.0, 0.6])
}

pub(crate) fn metal() -> Appearance {
    appearance(Weave::Foil, 1, [0.0, 0.0, 32.0, 1.0, 0.16, 0.0, 0.1])
}
