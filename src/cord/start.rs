//! From world-lines and bodies to tubes that can be pulled tight.
//!
//! A cell is the shortest run of moves that repeats. Strands of one make need
//! no more; a mix needs as many cells as it takes until every make is back in
//! its place. The mixed cord is grown from the uniform one, so that nothing
//! has to pass through anything on the way.

use super::braiding::Twist;
use super::recipe::Recipe;
use crate::material::Body;
use crate::mechanics::{Ends, Hold, Shape, Squeeze, Tubes};
use crate::topology::{WorldLines, WorldLinesError};

/// Neighbours on the rim of the start, in strand diameters: clear of one another. Tried.
const RIM_SPACING: f64 = 1.15;
/// Rise of the start for a lift over half the strands, in strand diameters; a
/// shorter lift rises less in proportion. Tried: a taller start jams in loose
/// states that converge and are wrong.
pub(super) const START_RISE: f64 = 1.0;
/// Widest spacing along the strands of the start, strand diameters. Tried.
const START_SPACING: f64 = 0.6;
/// Bending stiffness of a plain strand: limp yarn.
const LIMP: f64 = 0.05;
/// The least rise of a lift: strands that pass at once may not lie in one plane.
const LEAST_RISE: f64 = 0.05;
/// Points of a world-line a lift: enough for its corners.
const SAMPLES: usize = 24;
/// Passes of smoothing over the corners of the chords. Tried.
const SMOOTHING: usize = 4;

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

/// How many cells pass until every make stands where it began.
pub(super) fn cells_until_makes_return(continues: &[usize], makes: &[usize]) -> usize {
    let mut place: Vec<usize> = continues.to_vec();
    let mut cells = 1;
    // The permutation comes back to itself at the latest, so this ends.
    while (0..makes.len()).any(|i| makes[place[i]] != makes[i]) {
        place = place.iter().map(|&j| continues[j]).collect();
        cells += 1;
    }
    cells
}

/// Uniform tubes, one reference diameter thick, along the world-lines; a core
/// runs up the middle, thin as yet.
pub(super) fn uniform(recipe: &Recipe, lines: &WorldLines, nodes: usize) -> (Tubes, Shape) {
    let strands = with_core_grown(&mean_like(recipe), 0.0);
    let mut continues = lines.continues.clone();
    if strands.len() == continues.len() {
        return (
            tubes_of(&strands, recipe, &continues, nodes),
            laid_out(lines, nodes),
        );
    }
    continues.push(lines.strands());
    let mut shape = laid_along(lines, &lines.paths(SAMPLES), nodes);
    let rise = lines.lift() / nodes as f64;
    let straight = (0..nodes).map(|node| [0.0, 0.0, rise * node as f64]);
    shape.points.extend(straight);
    shape.squeeze.resize(shape.points.len(), 0.0);
    (tubes_of(&strands, recipe, &continues, nodes), shape)
}

/// Length of a piece of world-lines, strand diameters: the mean of the strand
/// cycle where it is greatest, since nodes are spread along cycles.
fn longest(lines: &WorldLines) -> f64 {
    let paths = (lines.flat_paths(SAMPLES)).unwrap_or_else(|| lines.paths(SAMPLES));
    let length = |piece: &usize| -> f64 {
        let path = &paths[*piece];
        path.windows(2).map(|w| distance(w[0], w[1])).sum()
    };
    let mean = |cycle: &Vec<usize>| cycle.iter().map(length).sum::<f64>() / cycle.len() as f64;
    cycles(&lines.continues)
        .iter()
        .map(mean)
        .fold(0.0, f64::max)
}

/// Across the middle that no strand is ever carried through, strand diameters:
/// about what is free inside the cord while it stays round. Tried on tubes of 8
/// and 12 one over one: 0.8 and 1.7, solved 0.9 and 2.1.
pub(super) fn bore_left_open(recipe: &Recipe) -> f64 {
    let Ok(lines) = world_lines(recipe, START_RISE) else {
        return 0.0;
    };
    let paths = lines.paths(SAMPLES);
    let away = paths.iter().flatten().map(|p| p[0].hypot(p[1]));
    (2.0 * away.fold(f64::INFINITY, f64::min) - 1.0).max(0.0)
}

/// Fewest nodes of a piece that keep strands from slipping through each other
/// before they are pulled tight; `closeness` times the usual spacing.
pub(super) fn fewest_nodes(lines: &WorldLines, closeness: f64) -> usize {
    (longest(lines) / (START_SPACING * closeness)).ceil() as usize
}

/// Fewest nodes of the core, if there is one, and of every other piece with it.
pub(super) fn core_nodes(recipe: &Recipe, lift: f64) -> usize {
    core_like(recipe).map_or(0, |core| {
        let radius = core.radius.min(CORE_AT_START);
        (CORE_NODES * lift / radius).ceil() as usize
    })
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

/// The shape that world-lines have before anything is pulled; a band lies flat,
/// as hands make it: rolled up it stays so, and is wrong (tried against a slow
/// model of the braiding).
pub(super) fn laid_out(lines: &WorldLines, nodes: usize) -> Shape {
    let paths = (lines.flat_paths(SAMPLES)).unwrap_or_else(|| lines.paths(SAMPLES));
    laid_along(lines, &paths, nodes)
}

fn laid_along(lines: &WorldLines, paths: &[Vec<[f64; 3]>], nodes: usize) -> Shape {
    let screw = (lines.lift(), lines.turn);
    Shape {
        points: evenly_spaced(&lines.continues, paths, screw, SMOOTHING, nodes),
        lift: lines.lift(),
        turn: lines.turn,
        squeeze: vec![0.0; lines.strands() * nodes],
    }
}

/// World-lines with the spacing that a start needs; `rise` is that of a lift
/// over half the strands.
pub(super) fn world_lines(recipe: &Recipe, rise: f64) -> Result<WorldLines, WorldLinesError> {
    let mut lines = WorldLines::new(&recipe.braid, RIM_SPACING, rise)?;
    let passed: f64 = lines.hops.iter().map(|h| f64::from(h.passed.abs())).sum();
    let half = (lines.strands() as f64 - 1.0) / 2.0;
    let share = passed / lines.hops.len() as f64 / half;
    lines.rise = (rise * share).clamp(LEAST_RISE, rise);
    Ok(lines)
}

/// Pull on the core over that on a strand: it hangs straight. Our guess; the
/// weight carries it, so it draws nothing from the strands.
const CORE_PULL: f64 = 0.1;
/// Radius of the core at the start, strand diameters: chords pass it at half a
/// diameter and more.
const CORE_AT_START: f64 = 0.3;
/// A core thinner than this, as a radius in strand diameters, is taken to be so
/// thick: finer nodes would cost more than it matters.
const THINNEST_CORE: f64 = 0.2;
/// Nodes of the core over the start's rise by its radius: a tube whose nodes lie
/// wider apart than it is thick cannot move, being always near itself (tried).
const CORE_NODES: f64 = 1.5;

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
/// diameters, at most 1: what the spacing of the nodes must be measured in.
pub(super) fn thinnest(recipe: &Recipe) -> f64 {
    let length = Scale::of(recipe).length;
    let squeezed = |b: &Body| {
        let share = (b.packing_free / b.packing_in_braid).min(1.0).sqrt();
        b.diameter / length * share
    };
    recipe.bodies.iter().map(squeezed).fold(1.0, f64::min)
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
    }
}

/// A strand that gives less than this much, `u`, is hard for our purpose.
const LEAST_SQUEEZE: f64 = 1e-3;

fn squeeze(strand: &Strandlike) -> Squeeze {
    if !strand.stiffness.is_finite() || strand.limit < LEAST_SQUEEZE {
        return Squeeze::Hard;
    }
    Squeeze::Fibre {
        stiffness: strand.stiffness,
        limit: strand.limit,
    }
}

/// The pieces as `nodes` points each, evenly spaced along every strand cycle,
/// after `smoothing` passes over the corners. `screw` is lift and turn.
pub(super) fn evenly_spaced(
    continues: &[usize],
    pieces: &[Vec<[f64; 3]>],
    screw: (f64, f64),
    smoothing: usize,
    nodes: usize,
) -> Vec<[f64; 3]> {
    let mut points = vec![[0.0; 3]; pieces.len() * nodes];
    for cycle in cycles(continues) {
        let mut line: Vec<[f64; 3]> = Vec::new();
        for (level, &piece) in cycle.iter().enumerate() {
            line.extend(
                pieces[piece]
                    .iter()
                    .map(|&p| screwed(p, screw, level as f64)),
            );
        }
        let whole = cycle.len() as f64;
        for _ in 0..smoothing {
            line = smoothed(&line, screw, whole);
        }
        line.push(screwed(line[0], screw, whole));
        let even = resampled(&line, cycle.len() * nodes);
        for (level, &piece) in cycle.iter().enumerate() {
            for k in 0..nodes {
                let point = even[level * nodes + k];
                points[piece * nodes + k] = screwed(point, screw, -(level as f64));
            }
        }
    }
    points
}

/// A solved shape with another number of nodes a piece.
pub(super) fn with_nodes(tubes: &Tubes, shape: &Shape, nodes: usize) -> Shape {
    let pieces: Vec<Vec<[f64; 3]>> = shape
        .points
        .chunks(tubes.nodes)
        .map(<[_]>::to_vec)
        .collect();
    let screw = (shape.lift, shape.turn);
    Shape {
        points: evenly_spaced(&tubes.continues, &pieces, screw, 0, nodes),
        squeeze: squeeze_with_nodes(tubes, &shape.squeeze, nodes),
        ..shape.clone()
    }
}

/// Nodes lie evenly along a strand before and after, so their numbers tell.
fn squeeze_with_nodes(tubes: &Tubes, squeeze: &[f64], nodes: usize) -> Vec<f64> {
    let at = |new: usize| {
        let (piece, place) = (new / nodes, (new % nodes) as f64 / nodes as f64);
        let along = place * tubes.nodes as f64;
        let (node, past) = (along as usize, along.fract());
        let own = piece * tubes.nodes + node;
        let next = if node + 1 < tubes.nodes {
            own + 1
        } else {
            tubes.continues[piece] * tubes.nodes
        };
        squeeze[own] + past * (squeeze[next] - squeeze[own])
    };
    (0..tubes.strands * nodes).map(at).collect()
}

fn cycles(continues: &[usize]) -> Vec<Vec<usize>> {
    let mut seen = vec![false; continues.len()];
    let mut all = Vec::new();
    for first in 0..continues.len() {
        let mut cycle = Vec::new();
        let mut piece = first;
        while !seen[piece] {
            seen[piece] = true;
            cycle.push(piece);
            piece = continues[piece];
        }
        if !cycle.is_empty() {
            all.push(cycle);
        }
    }
    all
}

fn screwed(p: [f64; 3], (lift, turn): (f64, f64), times: f64) -> [f64; 3] {
    let (s, c) = (turn * times).sin_cos();
    [
        c * p[0] - s * p[1],
        s * p[0] + c * p[1],
        p[2] + lift * times,
    ]
}

fn smoothed(line: &[[f64; 3]], screw: (f64, f64), whole: f64) -> Vec<[f64; 3]> {
    let n = line.len();
    let before = |i: usize| match i {
        0 => screwed(line[n - 1], screw, -whole),
        _ => line[i - 1],
    };
    let after = |i: usize| match i + 1 {
        next if next == n => screwed(line[0], screw, whole),
        next => line[next],
    };
    let blend = |i: usize| {
        let (a, b, c) = (before(i), line[i], after(i));
        std::array::from_fn(|d| 0.25 * a[d] + 0.5 * b[d] + 0.25 * c[d])
    };
    (0..n).map(blend).collect()
}

fn resampled(line: &[[f64; 3]], count: usize) -> Vec<[f64; 3]> {
    let mut along = vec![0.0];
    for pair in line.windows(2) {
        along.push(along[along.len() - 1] + distance(pair[0], pair[1]));
    }
    let total = along[along.len() - 1];
    let mut at = 0;
    let mut point = |k: usize| {
        let goal = total * k as f64 / count as f64;
        while at + 2 < along.len() && along[at + 1] < goal {
            at += 1;
        }
        let span = (along[at + 1] - along[at]).max(f64::MIN_POSITIVE);
        let u = (goal - along[at]) / span;
        std::array::from_fn(|d| line[at][d] + u * (line[at + 1][d] - line[at][d]))
    };
    (0..count).map(&mut point).collect()
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    (0..3).map(|d| (a[d] - b[d]).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mix_comes_round_when_every_make_is_back() {
        // One four-cycle: alternating makes are back after two cells.
        let continues = [1, 2, 3, 0];
        assert_eq!(cells_until_makes_return(&continues, &[0, 0, 0, 0]), 1);
        assert_eq!(cells_until_makes_return(&continues, &[0, 1, 0, 1]), 2);
        assert_eq!(cells_until_makes_return(&continues, &[0, 1, 2, 3]), 4);
    }

    #[test]
    fn evenly_spaced_points_of_a_screw_line_are_evenly_spaced_over_the_joint() {
        let screw = (2.0, 0.7);
        let piece: Vec<[f64; 3]> = (0..40)
            .map(|k| {
                let u = (k as f64 / 40.0).powi(2);
                screwed([1.0, 0.2, 0.0], screw, u)
            })
            .collect();
        let even = evenly_spaced(&[0], &[piece], screw, 0, 12);
        let mut steps: Vec<f64> = even.windows(2).map(|w| distance(w[0], w[1])).collect();
        steps.push(distance(even[11], screwed(even[0], screw, 1.0)));
        let mean = steps.iter().sum::<f64>() / 12.0;
        for step in steps {
            assert!((step / mean - 1.0).abs() < 0.02, "{step} against {mean}");
        }
    }
}
