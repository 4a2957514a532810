//! How the figures of a tight shape answer to small changes of what it is made of.
//!
//! At rest the slope of the energy is nothing, and stays so when a quantity `q`
//! changes: the nodes move by `dx = -(∇²E)⁻¹ ∂∇E/∂q`. A figure `f` of the shape then
//! changes by `∂f/∂q + ∇f·dx`. With the inverse put on the side of the figures,
//! one factor serves all quantities of all strands (implicit and adjoint
//! differentiation; Griewank and Walther, *Evaluating Derivatives*, 2008, ch. 15).
//!
//! True for small changes only: contacts that open or close bend the answer.

use super::contact::{Pressing, outside_band};
use super::curvature::{Curvature, folded};
use super::energy::Energy;
use super::fibre;
use super::images::Images;
use super::layout::{BAND, LIFT, SQUEEZE, TURN};
use super::minimise::Landscape;
use super::outline::{Slope, silhouette_slope};
use super::tubes::{Ends, Shape, Tubes};

/// Derivatives of one figure. Entries of a list are strand cycles, as in
/// [`Tubes::cycles`]: strands that run on in one another change together.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// By the radius of all nodes of a cycle, relative.
    pub radius: Vec<f64>,
    /// By the softness of its fibre, relative: one over the squeeze stiffness.
    pub softness: Vec<f64>,
    /// By its pull, `T`.
    pub pull: Vec<f64>,
    /// By its bending stiffness, `T d²`.
    pub bending: Vec<f64>,
    /// By the hanging weight, `T`.
    pub weight: f64,
}

/// Derivatives of the figures of a tight shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivities {
    /// Of the mean width over the crests, `d`.
    pub width: Sensitivity,
    /// Of the rise of the cell, `d`.
    pub lift: Sensitivity,
    /// Of the strand length of each cycle for a rise of one. What a given length
    /// of strand lengthens by is the same with its sign turned, over the take-up.
    pub take_up: Vec<Sensitivity>,
}

/// The derivatives at `shape`, which must be at rest at contact stiffness
/// `stiffness`, `T/d`; the closer to rest the better. None of closed cells, of
/// strands that flatten (the second derivative by their sections is not worked out), and
/// none where numbers went astray.
pub fn sensitivities(tubes: &Tubes, shape: &Shape, stiffness: f64) -> Option<Sensitivities> {
    let Ends::Screw { .. } = tubes.ends else {
        return None;
    };
    let mut energy = Energy::new(tubes);
    if energy.layout.flattens {
        return None;
    }
    let at = energy.unknowns(shape);
    energy.stiffen(&at, stiffness);
    energy.height(&at, &mut vec![0.0; at.len()]);
    let mut curvature = Curvature::of(&energy)?;
    let loads = Loads::of(&energy, &curvature);
    let outline = silhouette_slope(tubes, shape);
    let mut width = loads.answered(&mut curvature, of_width(&energy, &outline));
    for (cycle, by) in width.radius.iter_mut().enumerate() {
        *by += swelling(&energy, &outline, cycle);
    }
    let lift = loads.answered(&mut curvature, of_lift(&energy));
    let take_up = (0..energy.cycles.len())
        .map(|cycle| loads.answered(&mut curvature, of_take_up(&energy, cycle)))
        .collect();
    Some(Sensitivities {
        width,
        lift,
        take_up,
    })
}

fn of_lift(energy: &Energy) -> Vec<f64> {
    let mut row = vec![0.0; energy.layout.unknowns()];
    row[energy.layout.place(LIFT)] = 1.0;
    energy.hold_fast(&mut row);
    row
}

fn of_take_up(energy: &Energy, cycle: usize) -> Vec<f64> {
    let mut sheet = blank(energy);
    let lift = energy.images.lift;
    let scale = 1.0 / (energy.layout.cycles[cycle].len() as f64 * lift);
    let mut take_up = 0.0;
    for (node, &next) in energy.layout.next.iter().enumerate() {
        if energy.cycle_of[node] as usize != cycle {
            continue;
        }
        let (p, q) = (sheet.points[node], sheet.points[next]);
        let step = [0, 1, 2].map(|axis| q[axis] - p[axis]);
        let length = step.iter().map(|x| x * x).sum::<f64>().sqrt();
        take_up += scale * length;
        sheet.push_apart(next, node, scale / length, step);
    }
    let mut row = folded(energy, &mut sheet, |_| 0.0);
    row[energy.layout.place(LIFT)] -= take_up / lift;
    energy.hold_fast(&mut row);
    row
}

fn of_width(energy: &Energy, outline: &Slope) -> Vec<f64> {
    let mut images = energy.images.clone();
    images.clear_slope();
    let shown = images.slope.iter_mut().zip(&outline.points);
    shown.for_each(|(slope, by)| *slope = *by);
    let mut row = folded(energy, &mut images, |_| 0.0);
    row[energy.layout.place(LIFT)] += outline.lift;
    row[energy.layout.place(TURN)] += outline.turn;
    energy.hold_fast(&mut row);
    row
}

/// Change of the width as the nodes of a cycle grow and nothing moves.
fn swelling(energy: &Energy, outline: &Slope, cycle: usize) -> f64 {
    let count = energy.layout.count();
    let by = |(image, slope): (usize, &[f64; 4])| {
        let own = energy.cycle_of[image % count] as usize == cycle;
        if own {
            slope[3] * energy.images.points[image][3]
        } else {
            0.0
        }
    };
    outline.points.iter().enumerate().map(by).sum()
}

/// Change of the slope of the energy for each quantity.
#[derive(Debug)]
struct Loads {
    radius: Vec<Vec<f64>>,
    softness: Vec<Vec<f64>>,
    pull: Vec<Vec<f64>>,
    bending: Vec<Vec<f64>>,
    weight: Vec<f64>,
}

impl Loads {
    fn of(energy: &Energy, curvature: &Curvature) -> Self {
        let each = |load: &dyn Fn(usize) -> Vec<f64>| (0..energy.cycles.len()).map(load).collect();
        let spacings = &curvature.rows[..energy.cycles.len()];
        let mut weight = vec![0.0; energy.layout.unknowns()];
        weight[energy.layout.place(LIFT)] = -1.0;
        energy.hold_fast(&mut weight);
        Self {
            radius: each(&|cycle| by_radius(energy, spacings, cycle)),
            softness: each(&|cycle| by_softness(energy, &spacings[cycle], cycle)),
            pull: each(&|cycle| by_pull(energy, &spacings[cycle], cycle)),
            bending: each(&|cycle| by_bending(energy, &spacings[cycle], cycle)),
            weight,
        }
    }

    /// The derivatives of a figure whose slope is `figure`, but for what it changes
    /// by itself.
    fn answered(&self, curvature: &mut Curvature, mut figure: Vec<f64>) -> Sensitivity {
        curvature.answer(&mut figure);
        let by = |load: &Vec<f64>| -load.iter().zip(&figure).map(|(a, b)| a * b).sum::<f64>();
        let each = |loads: &[Vec<f64>]| loads.iter().map(by).collect();
        Sensitivity {
            radius: each(&self.radius),
            softness: each(&self.softness),
            pull: each(&self.pull),
            bending: each(&self.bending),
            weight: by(&self.weight),
        }
    }
}

/// A row from the derivative by the spacing and by each squeeze of a cycle.
fn along_and_squeezed(
    energy: &Energy,
    spacing: &[f64],
    by_spacing: f64,
    by_squeeze: impl Fn(usize) -> f64,
) -> Vec<f64> {
    let mut row: Vec<f64> = spacing.iter().map(|by| by_spacing * by).collect();
    let place = energy.layout.place(SQUEEZE);
    for (node, out) in row[place..].iter_mut().enumerate() {
        *out += by_squeeze(node);
    }
    energy.hold_fast(&mut row);
    row
}

fn by_pull(energy: &Energy, spacing: &[f64], cycle: usize) -> Vec<f64> {
    let stops =
        |node: usize| fibre::end_stop(energy.cycles[cycle].squeeze, energy.squeeze_at(node));
    let of = |node: usize| energy.cycle_of[node] as usize == cycle;
    let held: f64 = (0..energy.work.len())
        .filter(|&n| of(n))
        .map(|n| stops(n).held)
        .sum();
    let squeezed = |node: usize| {
        if of(node) {
            stops(node).slope * energy.spacing_at(node)
        } else {
            0.0
        }
    };
    along_and_squeezed(energy, spacing, energy.cycles[cycle].steps + held, squeezed)
}

fn by_softness(energy: &Energy, spacing: &[f64], cycle: usize) -> Vec<f64> {
    let whole = &energy.cycles[cycle];
    let mass = |node: usize| fibre::mass(whole.squeeze, energy.squeeze_at(node));
    let of = |node: usize| energy.cycle_of[node] as usize == cycle;
    let held: f64 = (0..energy.work.len())
        .filter(|&n| of(n))
        .map(|n| mass(n).held)
        .sum();
    let squeezed = |node: usize| {
        if of(node) {
            -mass(node).slope * energy.spacing_at(node)
        } else {
            0.0
        }
    };
    along_and_squeezed(energy, spacing, -held, squeezed)
}

fn by_bending(energy: &Energy, spacing: &[f64], cycle: usize) -> Vec<f64> {
    let mut sheet = blank(energy);
    let length = energy.cycles[cycle].spacing();
    let stiffness = 1.0 / length.powi(3);
    let mut bent = 0.0;
    for node in 0..energy.layout.count() {
        if energy.cycle_of[node] as usize != cycle {
            continue;
        }
        let (next, after) = (energy.layout.next[node], energy.layout.after[node]);
        for axis in 0..3 {
            let [p, q, r] = [node, next, after].map(|image| sheet.points[image][axis]);
            let curve = p - 2.0 * q + r;
            bent += 0.5 * stiffness * curve * curve;
            sheet.slope[node][axis] += stiffness * curve;
            sheet.slope[next][axis] -= 2.0 * stiffness * curve;
            sheet.slope[after][axis] += stiffness * curve;
        }
    }
    let mut row = folded(energy, &mut sheet, |_| 0.0);
    for (sum, by) in row.iter_mut().zip(spacing) {
        *sum -= 3.0 * bent / length * by;
    }
    row
}

fn by_radius(energy: &Energy, spacings: &[Vec<f64>], cycle: usize) -> Vec<f64> {
    let mut sheet = blank(energy);
    let mut by_spacing = vec![0.0; spacings.len()];
    for Pressing {
        sides,
        own,
        touch,
        normal,
    } in energy.contacts()
    {
        let grows = own.map(|node| energy.cycle_of[node] as usize == cycle);
        let both = sides.into_iter().zip(grows).filter(|(_, grows)| *grows);
        let growth: f64 = both.map(|(side, _)| sheet.points[side][3]).sum();
        if growth == 0.0 {
            continue;
        }
        let push = -touch.by_distance_and_radii() * growth;
        sheet.push_apart(sides[0], sides[1], push, normal);
        for i in 0..2 {
            let itself = if grows[i] { touch.by_radii() } else { 0.0 };
            sheet.slope[sides[i]][3] += touch.by_radii_twice() * growth + itself;
            let of = energy.cycle_of[own[i]] as usize;
            by_spacing[of] += touch.by_radii() * growth / energy.spacing_at(own[i]);
        }
    }
    let mut band = 0.0;
    for node in 0..energy.layout.count() {
        if energy.cycle_of[node] as usize == cycle {
            let [by, pressed] = grow_on_band(energy, node, &mut sheet);
            band += by;
            by_spacing[cycle] += pressed;
        }
    }
    let mut row = folded(energy, &mut sheet, |_| 0.0);
    for (by, spacing) in by_spacing.iter().zip(spacings) {
        for (sum, part) in row.iter_mut().zip(spacing) {
            *sum += by * part;
        }
    }
    if energy.layout.free[BAND] {
        row[energy.layout.place(BAND)] += band;
    }
    row
}

/// Derivatives by the radius of the band and by the spacing.
fn grow_on_band(energy: &Energy, node: usize, sheet: &mut Images) -> [f64; 2] {
    let p = sheet.points[node];
    let spacing = energy.spacing_at(node);
    let touch = outside_band(&p, energy.band, spacing, energy.stiffness);
    let Some(touch) = touch.filter(|_| energy.layout.free[BAND]) else {
        return [0.0; 2];
    };
    let push = touch.stiffness * p[3];
    for axis in [0, 1] {
        sheet.slope[node][axis] += push * p[axis] / touch.distance;
    }
    sheet.slope[node][3] += push + touch.push();
    [-push, touch.push() * p[3] / spacing]
}

fn blank(energy: &Energy) -> Images {
    let mut sheet = energy.images.clone();
    sheet.clear_slope();
    sheet
}

#[cfg(test)]
mod tests {
    use super::super::spiral::round_spiral;
    use super::super::{Progress, Schedule, Squeeze, silhouette, strand_lengths, tighten};
    use super::*;

    /// Two kinds of strands, one soft and thin, one firm; some bending.
    fn mixed() -> (Tubes, Shape) {
        let (tubes, shape) = round_spiral(9);
        let (mut tubes, shape) = tubes.repeated(&shape, 4);
        let cycles = tubes.cycles();
        for (number, cycle) in cycles.iter().enumerate() {
            for &strand in cycle {
                let stiffness = 1.5 + number as f64;
                let squeeze = Squeeze::Fibre {
                    stiffness,
                    limit: 0.3,
                };
                tubes.squeeze[strand] = squeeze;
                tubes.bending[strand] = 0.1;
                let nodes = strand * tubes.nodes..(strand + 1) * tubes.nodes;
                tubes.radius[nodes].fill(0.5 - 0.05 * number as f64);
            }
        }
        (tubes, shape)
    }

    fn exact(tubes: &Tubes, start: Shape) -> Shape {
        let schedule = Schedule {
            tolerance: 1e-9,
            ..Schedule::warm()
        };
        tighten(tubes, start, &schedule, &Progress::new())
            .unwrap()
            .0
    }

    fn figures(tubes: &Tubes, shape: &Shape) -> Vec<f64> {
        let lengths = strand_lengths(tubes, shape);
        let cycles = tubes.cycles();
        let take_up = cycles.iter().map(|cycle| {
            let sum: f64 = cycle.iter().map(|&i| lengths[i]).sum();
            sum / cycle.len() as f64 / shape.lift
        });
        let mut all = vec![silhouette(tubes, shape).mean, shape.lift];
        all.extend(take_up);
        all
    }

    fn scale_radius(tubes: &mut Tubes, cycle: usize, factor: f64) {
        for strand in tubes.cycles()[cycle].clone() {
            let nodes = strand * tubes.nodes..(strand + 1) * tubes.nodes;
            tubes.radius[nodes].iter_mut().for_each(|r| *r *= factor);
        }
    }

    fn add_pull(tubes: &mut Tubes, cycle: usize, more: f64) {
        for strand in tubes.cycles()[cycle].clone() {
            tubes.pull[strand] += more;
        }
    }

    fn add_bending(tubes: &mut Tubes, cycle: usize, more: f64) {
        for strand in tubes.cycles()[cycle].clone() {
            tubes.bending[strand] += more;
        }
    }

    fn soften(tubes: &mut Tubes, cycle: usize, factor: f64) {
        for strand in tubes.cycles()[cycle].clone() {
            if let Squeeze::Fibre { stiffness, .. } = &mut tubes.squeeze[strand] {
                *stiffness /= factor;
            }
        }
    }

    /// Central differences of solves at the two ends of a small change.
    #[test]
    fn sensitivities_are_what_solving_again_gives() {
        let (tubes, start) = mixed();
        let first = tighten(&tubes, start, &Schedule::fine(), &Progress::new())
            .unwrap()
            .0;
        let shape = exact(&tubes, first);
        let found = sensitivities(&tubes, &shape, 64.0).expect("a lowest point");
        let by_hand = |change: &dyn Fn(&mut Tubes, f64)| -> Vec<f64> {
            let [more, less] = [2e-5, -2e-5].map(|by| {
                let mut changed = tubes.clone();
                change(&mut changed, by);
                figures(&changed, &exact(&changed, shape.clone()))
            });
            more.iter().zip(less).map(|(a, b)| (a - b) / 4e-5).collect()
        };
        let all = |pick: &dyn Fn(&Sensitivity) -> f64| -> Vec<f64> {
            let figures = [&found.width, &found.lift]
                .into_iter()
                .chain(&found.take_up);
            figures.map(pick).collect()
        };
        for cycle in [0, 1] {
            let radius = by_hand(&|t, by| scale_radius(t, cycle, 1.0 + by));
            assert_same("radius", &all(&|s| s.radius[cycle]), &radius);
            let softness = by_hand(&|t, by| soften(t, cycle, 1.0 + by));
            assert_same("softness", &all(&|s| s.softness[cycle]), &softness);
            let pull = by_hand(&|t, by| add_pull(t, cycle, by));
            assert_same("pull", &all(&|s| s.pull[cycle]), &pull);
            let bending = by_hand(&|t, by| add_bending(t, cycle, by));
            assert_same("bending", &all(&|s| s.bending[cycle]), &bending);
        }
        let weight = by_hand(&|t, by| t.weight += by);
        assert_same("weight", &all(&|s| s.weight), &weight);
    }

    /// The width is a mean over so many rows; a shift of the whole along z, which
    /// nothing else feels, changes it by up to a thousandth (tried).
    fn assert_same(what: &str, found: &[f64], expected: &[f64]) {
        let largest = expected.iter().fold(1e-3_f64, |most, x| most.max(x.abs()));
        for (figure, (found, expected)) in found.iter().zip(expected).enumerate() {
            let error = (found - expected).abs();
            let by_shift = if figure == 0 { 1e-3 } else { 0.0 };
            let near = 0.005 * expected.abs() + 1e-3 * largest + by_shift;
            assert!(
                error < near,
                "{what}, figure {figure}: {found} for {expected}"
            );
        }
    }

    #[test]
    fn closed_strands_have_no_figures_to_answer() {
        let (tubes, shape) = round_spiral(9);
        let closed = Tubes {
            ends: Ends::Closed { cells: 3 },
            ..tubes
        };
        assert_eq!(sensitivities(&closed, &shape, 64.0), None);
    }
}
