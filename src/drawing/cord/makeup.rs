//! How the body of a strand is built up for drawing.
//!
//! A strand is drawn as one or more *members*: round or flattened tubes that
//! run along it or wind round its middle. A plied yarn has its plies for
//! members; ends held together are members with a gentle common
//! turn; a ribbon is a flat band and a fold of it lying on top.
//!
//! Sizes are shares of the strand's radius. No colours here: they may change
//! without the shape.

use crate::drawing::thread::{Ends, Thread};
use crate::material::{Appearance, Weave};

/// What is drawn on the surface of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Skin {
    /// One ply: filaments along it.
    Ply,
    /// A plied yarn whose plies are only ridges of shading.
    Ridges,
    /// A braided sheath of filaments.
    Sheath,
    /// Pile.
    Pile,
    /// A woven band.
    Band,
    /// A smooth skin.
    Solid,
    /// Braided foil.
    Foil,
    /// A bead in a row of beads.
    Bead,
}

/// Where a member lies in the strand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Place {
    /// Winding round the middle: angle at the strand's beginning, distance.
    Ring { angle: f32, off: f32 },
    /// Keeping its place: out from the cord's axis, and to the side.
    Fixed { out: f32, side: f32 },
}

/// One tube of a strand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Member {
    pub(crate) skin: Skin,
    pub(crate) place: Place,
    /// Half its thickness, away from the cord's axis, and half its width.
    pub(crate) half: (f32, f32),
    /// Lean at the strand's surface as a tangent, plus is Z: of the member
    /// itself, and of the ridges drawn on it.
    pub(crate) lean: f32,
    pub(crate) ridge_lean: f32,
    /// Which of the thread's ends it shows.
    pub(crate) end: usize,
}

/// All members of a strand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MakeUp {
    pub(crate) members: Vec<Member>,
    /// Width over thickness of a strand pressed flat by its neighbours, where the form
    /// keeps it round.
    pub(crate) flatness: f32,
    /// How many times as wide as a round of their area the members lie already.
    pub(crate) lies: f32,
    /// How uneven the strand's thickness is.
    pub(crate) uneven: f32,
}

/// Ends drawn one by one; of more, this many stand for all.
const MOST_ENDS: usize = 7;

/// Lean of ends held together, as a tangent: about one turn in ten diameters.
/// Our guess; hands let strands turn a little.
const BUNDLE_LEAN: f32 = -0.3;

impl MakeUp {
    pub(crate) fn new(thread: &Thread) -> Self {
        let drawn = drawn_ends(&thread.ends);
        let flatness = thread.ends.iter().map(|e| flatness(&e.appearance));
        let flatness = flatness.fold(1.0, f32::max);
        let members = match drawn[..] {
            [end] => single(&thread.ends[end].appearance, end),
            _ => bundle(&thread.ends, &drawn),
        };
        let uneven = thread
            .ends
            .iter()
            .map(|e| bounded(e.appearance.mottle, 0.0, 1.5));
        let uneven = uneven.fold(0.0, f32::max);
        Self {
            lies: if members.iter().all(|m| m.skin == Skin::Band) {
                BAND_LIES
            } else {
                1.0
            },
            members,
            flatness,
            uneven,
        }
    }

    /// Whether members wind round its middle.
    pub(crate) fn is_wound(&self) -> bool {
        let winds = |m: &Member| matches!(m.place, Place::Ring { .. });
        self.members.iter().any(winds)
    }
}

/// Which end each drawn member shows, in the order round the strand.
fn drawn_ends(ends: &[Ends]) -> Vec<usize> {
    let total: usize = ends.iter().map(|e| usize::from(e.count.max(1))).sum();
    let count = total.clamp(1, MOST_ENDS);
    // Each place goes to the end that lags most behind its share.
    let mut given = vec![0_usize; ends.len()];
    (1..=count)
        .map(|k| {
            let lag = |i: usize| {
                let due = usize::from(ends[i].count.max(1)) as f64 * k as f64 / total as f64;
                due - given[i] as f64
            };
            let next = (0..ends.len()).max_by(|&a, &b| lag(a).total_cmp(&lag(b)).then(b.cmp(&a)));
            let next = next.unwrap_or(0);
            if let Some(g) = given.get_mut(next) {
                *g += 1;
            }
            next
        })
        .collect()
}

/// Width over thickness that pressing gives this surface. Tried: closes the
/// hairline gaps between soft strands that no cord of soft strands shows.
fn flatness(look: &Appearance) -> f32 {
    let fuzz = bounded(look.fuzz, 0.0, 1.0);
    match look.weave {
        Weave::Plied => 1.08 + 0.08 * fuzz,
        Weave::Sheath => 1.08,
        Weave::Pile => 1.12,
        Weave::Flat | Weave::Beads => 1.0,
        Weave::Solid => 1.0 + 0.06 * fuzz,
        Weave::Foil => 1.04,
    }
}

/// The figure within its bounds; a bound instead of no number.
pub(crate) fn bounded(v: f64, low: f32, high: f32) -> f32 {
    if v.is_nan() {
        low
    } else {
        (v as f32).clamp(low, high)
    }
}

fn whole(skin: Skin, end: usize) -> Member {
    Member {
        skin,
        place: Place::Fixed {
            out: 0.0,
            side: 0.0,
        },
        half: (1.0, 1.0),
        lean: 0.0,
        ridge_lean: 0.0,
        end,
    }
}

/// Lean of the plies as a tangent. Under 3 degrees counts as none.
pub(crate) fn ply_lean(look: &Appearance) -> f32 {
    bounded(look.twist, -70.0, 70.0).to_radians().tan()
}

fn single(look: &Appearance, end: usize) -> Vec<Member> {
    let skin = skin_of(look);
    match skin {
        Skin::Ridges => plies(look, end),
        Skin::Band => folded_band(end),
        _ => vec![whole(skin, end)],
    }
}

fn skin_of(look: &Appearance) -> Skin {
    match look.weave {
        Weave::Plied if look.plies > 1 => Skin::Ridges,
        Weave::Plied => Skin::Ply,
        Weave::Sheath => Skin::Sheath,
        Weave::Pile => Skin::Pile,
        Weave::Flat => Skin::Band,
        Weave::Solid => Skin::Solid,
        Weave::Foil => Skin::Foil,
        Weave::Beads => Skin::Bead,
    }
}

/// Radius of `count` equal round members that fill a strand side by side.
fn ring_radius(count: usize) -> f32 {
    let s = (std::f32::consts::PI / count as f32).sin();
    s / (1.0 + s)
}

fn plies(look: &Appearance, end: usize) -> Vec<Member> {
    let count = usize::from(look.plies).clamp(2, 6);
    let relief = bounded(look.relief, 0.0, 1.0);
    // Plies press into one another; full relief shows them as round rods.
    let radius = 1.0 - (1.0 - ring_radius(count)) * relief.max(0.25);
    let member = |j: usize| Member {
        skin: Skin::Ply,
        place: Place::Ring {
            angle: std::f32::consts::TAU * j as f32 / count as f32,
            off: 1.0 - radius,
        },
        half: (radius, radius),
        lean: ply_lean(look),
        ridge_lean: 0.0,
        end,
    };
    (0..count).map(member).collect()
}

/// Ends side by side round the middle, each as wide as its share.
fn bundle(ends: &[Ends], drawn: &[usize]) -> Vec<Member> {
    let size = |i: usize| bounded(ends[i].diameter, 0.05, 100.0);
    let mean = drawn.iter().map(|&i| size(i)).sum::<f32>() / drawn.len() as f32;
    let mut angle = 0.0;
    drawn
        .iter()
        .map(|&end| {
            let share = size(end) / mean;
            let radius = (1.12 * ring_radius(drawn.len()) * share).clamp(0.08, 0.8);
            let width = std::f32::consts::TAU * share / drawn.len() as f32;
            let middle = angle + 0.5 * width;
            angle += width;
            Member {
                skin: skin_of(&ends[end].appearance),
                place: Place::Ring {
                    angle: middle,
                    off: 1.0 - radius,
                },
                half: (radius, radius),
                lean: BUNDLE_LEAN,
                ridge_lean: ply_lean(&ends[end].appearance),
                end,
            }
        })
        .collect()
}

/// Root of the width over the thickness of the wider layer of [`folded_band`].
const BAND_LIES: f32 = 1.37;

/// A ribbon in a cord lies folded lengthwise: a band, and on it its other
/// half, narrower, to one side. Tried; the shares are our guess.
fn folded_band(end: usize) -> Vec<Member> {
    let layer = |out, side, half| Member {
        place: Place::Fixed { out, side },
        half,
        ..whole(Skin::Band, end)
    };
    vec![
        layer(0.0, 0.0, (0.62, 1.16)),
        layer(0.56, -0.34, (0.40, 0.80)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::{crochet, satin};
    use crate::material::Colour;

    fn ends(count: u16, diameter: f64) -> Ends {
        Ends {
            appearance: satin(),
            colour: Colour([1, 2, 3]),
            count,
            diameter,
        }
    }

    #[test]
    fn a_plied_yarn_shows_its_plies_and_held_together_their_ridges() {
        let mut thread = Thread::single(crochet(), Colour([0; 3]));
        let alone = MakeUp::new(&thread).members;
        assert_eq!(alone.len(), 3);
        assert!(alone.iter().all(|m| m.skin == Skin::Ply));
        thread.ends[0].count = 2;
        let held = MakeUp::new(&thread).members;
        assert_eq!(held.len(), 2);
        assert!(held.iter().all(|m| m.skin == Skin::Ridges));
    }

    #[test]
    fn members_show_the_ends_in_proportion() {
        let drawn = drawn_ends(&[ends(4, 1.0), ends(2, 1.0)]);
        assert_eq!(drawn.len(), 6);
        assert_eq!(drawn.iter().filter(|&&e| e == 0).count(), 4);
        let many = drawn_ends(&[ends(300, 1.0), ends(300, 1.0)]);
        assert_eq!(many.len(), MOST_ENDS);
    }

    #[test]
    fn no_member_stands_out_of_its_strand() {
        let thread = Thread {
            ends: vec![ends(1, 3.0), ends(2, 0.5)],
        };
        for m in MakeUp::new(&thread).members {
            let Place::Ring { off, .. } = m.place else {
                panic!("a bundle lies in a ring")
            };
            assert!(off + m.half.0 < 1.0 + 1e-5);
        }
    }
}
