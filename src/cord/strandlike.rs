//! The strands of a recipe as tubes, in the solver's units.
//!
//! Between the equal strands that a cord is first solved with and each strand's own
//! make lie all mixes of the two, so that the cord can be grown from the one to the
//! other. Knows no shapes.

use super::braiding::Twist;
use super::recipe::Recipe;
use crate::material::Body;
use crate::mechanics::{Ends, Hold, Squeeze, Tubes};

/// Bending stiffness of a plain strand: limp yarn.
const LIMP: f64 = 0.05;
/// Pull on the core over that on a strand: it hangs straight. Our guess; the
/// weight carries it, so it draws nothing from the strands.
const CORE_PULL: f64 = 0.1;
/// Radius of the core at the start, strand diameters: chords pass it at half a
/// diameter and more.
const CORE_AT_START: f64 = 0.3;
/// A core thinner than this, as a radius in strand diameters, is taken to be so
/// thick: finer nodes would cost more than it matters.
const THINNEST_CORE: f64 = 0.2;
/// Spacing of nodes is measured in no thinner strands than this. Tried on strands of one
/// to ten: with 0.1 they took up to five times as long, and were shown no more often.
const FINEST: f64 = 0.25;
/// A strand that gives less than this much, `u`, is hard for our purpose.
const LEAST_SQUEEZE: f64 = 1e-3;

/// What lengths and forces are measured in while solving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    /// Reference diameter, mm: the mean of the strands.
    pub length: f64,
    /// Reference pull, N: the mean of the strands.
    pub force: f64,
}

impl Scale {
    pub(super) fn of(recipe: &Recipe) -> Self {
        let n = recipe.bodies.len() as f64;
        Self {
            length: recipe.bodies.iter().map(|b| b.diameter).sum::<f64>() / n,
            force: recipe.pulls().iter().sum::<f64>() / n,
        }
    }
}

/// One strand of the tubes, in the solver's units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strandlike {
    radius: f64,
    pull: f64,
    bending: f64,
    stiffness: f64,
    limit: f64,
    is_core: bool,
}

impl Strandlike {
    fn of(body: &Body, scale: Scale, pull: f64) -> Self {
        let diameter = body.diameter / scale.length;
        Self {
            radius: diameter / 2.0,
            pull,
            bending: body.bending * pull * diameter * diameter,
            stiffness: body.kappa(scale.force),
            limit: body.squeeze_limit(),
            is_core: false,
        }
    }
}

/// The recipe's strands in the solver's units, the core last.
pub(super) fn strands_like(recipe: &Recipe) -> Vec<Strandlike> {
    let mut all = braided_like(recipe);
    all.extend(core_like(recipe));
    all
}

fn braided_like(recipe: &Recipe) -> Vec<Strandlike> {
    let scale = Scale::of(recipe);
    let pulls = recipe.pulls();
    let pairs = recipe.bodies.iter().zip(&pulls);
    pairs
        .map(|(body, &pull)| Strandlike::of(body, scale, pull / scale.force))
        .collect()
}

fn core_like(recipe: &Recipe) -> Option<Strandlike> {
    let body = recipe.core_body.as_ref()?;
    let core = Strandlike::of(body, Scale::of(recipe), 1.0);
    Some(Strandlike {
        radius: core.radius.max(THINNEST_CORE),
        pull: CORE_PULL,
        is_core: true,
        ..core
    })
}

/// Radius of the core at the start, if there is one.
pub(super) fn core_at_start(recipe: &Recipe) -> Option<f64> {
    core_like(recipe).map(|core| core.radius.min(CORE_AT_START))
}

/// The same with the core grown to a share of its size, from thin to full.
pub(super) fn with_core_grown(strands: &[Strandlike], share: f64) -> Vec<Strandlike> {
    let thin = |s: &Strandlike| CORE_AT_START.min(s.radius);
    let grown = |s: &Strandlike| Strandlike {
        radius: thin(s) + share * (s.radius - thin(s)),
        ..*s
    };
    strands
        .iter()
        .map(|s| if s.is_core { grown(s) } else { *s })
        .collect()
}

/// Diameter of the thinnest strand as it will be squeezed, reference
/// diameters, at most 1: what the spacing of the nodes must be measured in. Strands
/// still thinner beside the others have nodes as if they were so thick: they touch
/// thick ones nearly everywhere, and each other seldom.
pub(super) fn finest(recipe: &Recipe) -> f64 {
    let length = Scale::of(recipe).length;
    let squeezed = |b: &Body| {
        let share = (b.packing_free / b.packing_in_braid).min(1.0).sqrt();
        b.diameter / length * share
    };
    let thinnest = recipe.bodies.iter().map(squeezed).fold(1.0, f64::min);
    thinnest.max(FINEST)
}

/// Equal strands, each the mean of the recipe's, and the core as it is.
pub(super) fn mean_like(recipe: &Recipe) -> Vec<Strandlike> {
    let all = braided_like(recipe);
    let n = all.len();
    let mean = |value: fn(&Strandlike) -> f64| all.iter().map(value).sum::<f64>() / n as f64;
    let mut equal = vec![
        Strandlike {
            radius: mean(|s| s.radius),
            pull: mean(|s| s.pull),
            bending: mean(|s| s.bending),
            // Stiff and soft act in series: the compliances add.
            stiffness: 1.0 / mean(|s| 1.0 / s.stiffness),
            limit: mean(|s| s.limit),
            is_core: false,
        };
        n
    ];
    equal.extend(core_like(recipe));
    equal
}

/// Between the mean and the strands themselves: 0 gives the mean, 1 the strands.
pub(super) fn between(mean: &[Strandlike], own: &[Strandlike], share: f64) -> Vec<Strandlike> {
    let mix = |a: f64, b: f64| a + share * (b - a);
    let softness = |a: f64, b: f64| 1.0 / mix(1.0 / a, 1.0 / b);
    let one = |(m, s): (&Strandlike, &Strandlike)| Strandlike {
        radius: mix(m.radius, s.radius),
        pull: mix(m.pull, s.pull),
        bending: mix(m.bending, s.bending),
        stiffness: softness(m.stiffness, s.stiffness),
        limit: mix(m.limit, s.limit),
        is_core: s.is_core,
    };
    mean.iter().zip(own).map(one).collect()
}

/// Tubes of these strands under the recipe's effective weight.
pub(super) fn tubes_of(
    strands: &[Strandlike],
    recipe: &Recipe,
    continues: &[usize],
    nodes: usize,
) -> Tubes {
    let n = strands.len();
    let pull: Vec<f64> = strands.iter().map(|s| s.pull).collect();
    let sum_of = |core: bool| -> f64 {
        let those = strands.iter().filter(|s| s.is_core == core);
        those.map(|s| s.pull).sum()
    };
    let turn = match recipe.twist {
        Twist::Free => Hold::Free,
        Twist::Held => Hold::Held,
    };
    Tubes {
        strands: n,
        nodes,
        continues: continues.to_vec(),
        radius: strands
            .iter()
            .flat_map(|s| std::iter::repeat_n(s.radius, nodes))
            .collect(),
        weight: recipe.effective_share() * sum_of(false) + sum_of(true),
        pull,
        bending: strands.iter().map(|s| s.bending).collect(),
        squeeze: strands.iter().map(squeeze).collect(),
        ends: Ends::Screw {
            lift: Hold::Free,
            turn,
        },
        band: 0.0,
        lengths: None,
        sections: Vec::new(),
    }
}

/// Plain tubes along such lines: hard, limp, all alike, one reference diameter
/// thick, under this share of their pull.
pub(super) fn plain(recipe: &Recipe, continues: &[usize], nodes: usize, share: f64) -> Tubes {
    let strand = Strandlike {
        radius: 0.5,
        pull: 1.0,
        bending: LIMP,
        stiffness: f64::INFINITY,
        limit: 0.0,
        is_core: false,
    };
    let strands = vec![strand; continues.len()];
    Tubes {
        weight: share * strands.len() as f64,
        ..tubes_of(&strands, recipe, continues, nodes)
    }
}

fn squeeze(strand: &Strandlike) -> Squeeze {
    if !strand.stiffness.is_finite() || strand.limit < LEAST_SQUEEZE {
        return Squeeze::Hard;
    }
    Squeeze::Fibre {
        stiffness: strand.stiffness,
        limit: strand.limit,
    }
}
