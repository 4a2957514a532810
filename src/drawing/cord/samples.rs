//! Cords and fibres for the tests of this room.

use std::f64::consts::TAU;

use super::makeup::Skin;
use super::tubes::{Joint, Segment, Tubes};
use super::vector::{Vec3, vec3};
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
        wide: Vec::new(),
        lift,
        turn,
    }
}

/// One straight tube whose first half axis points as far to the eye as it can.
pub(crate) fn rod(from: Vec3, to: Vec3, half: (f32, f32)) -> Tubes {
    let along = (to - from).unit();
    let outward = vec3(0.0, 0.0, 1.0).square_to(along).unit();
    let joint = |centre: Vec3, arc: f32| Joint {
        centre,
        along,
        strand: centre,
        tangent: along,
        zero: outward,
        outward,
        half,
        radius: half.0.max(half.1),
        arc,
    };
    let length = (to - from).length();
    Tubes {
        joints: vec![joint(from, 0.0), joint(to, length)],
        segments: vec![Segment {
            first: 0,
            axis: along,
            length,
            extend: 0.0,
            strand: 0,
            end: 0,
            skin: Skin::Solid,
            tube: 0,
            ridge_rate: 0.0,
        }],
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
