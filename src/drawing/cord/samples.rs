//! Cords and fibres for the tests of this room.

use std::f64::consts::TAU;

use crate::cord::Form;
use crate::material::{Appearance, Construction};

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

pub(crate) fn satin() -> Appearance {
    Construction::SatinCord.appearance()
}

pub(crate) fn pearl() -> Appearance {
    Construction::PearlCotton.appearance()
}

pub(crate) fn crochet() -> Appearance {
    Construction::CrochetCotton.appearance()
}

pub(crate) fn wool() -> Appearance {
    Construction::KnittingWool.appearance()
}

pub(crate) fn chenille() -> Appearance {
    Construction::Chenille.appearance()
}

pub(crate) fn ribbon() -> Appearance {
    Construction::Ribbon.appearance()
}

pub(crate) fn leather() -> Appearance {
    Construction::Leather.appearance()
}

pub(crate) fn metal() -> Appearance {
    Construction::MetallicBraid.appearance()
}
