//! The true second derivative of the energy at rest.
//!
//! Letters as in `energy`. At fixed spacings `l` the energy is a sum over near
//! nodes, and its second derivative `A` is sparse. The spacings themselves follow
//! the nodes, `l² = S/n`, which adds a few long rows:
//!
//! `∇²E = A + Σ (V Jᵀ + J Vᵀ) + Σ M J Jᵀ`
//!
//! with `J = ∇l` and `V = ∂∇E/∂l` of each strand cycle, `M` the second derivative
//! by the spacings (less `E_l / l`, since `l` is a root). The inverse of the sum follows
//! from that of `A` (Woodbury, 1950).
//!
//! Moving, lifting or turning the cord as a whole costs nothing; very weak
//! springs hold it in place.

use faer::prelude::*;

use super::contact::{Pressing, outside_band};
use super::energy::Energy;
use super::factor::{Factor, Kind};
use super::images::Images;
use super::layout::{BAND, LIFT};
use super::matrix::Matrix;

/// Springs that hold the cord in place, over pull and spacing: far below
/// anything that acts.
const HOLDING: f64 = 1e-7;

/// The inverse of the second derivative.
#[derive(Debug)]
pub(super) struct Curvature {
    sparse: Factor,
    /// `J` of every cycle, then `V` of every cycle.
    pub rows: Vec<Vec<f64>>,
    /// The sparse inverse of each row.
    answers: Vec<Vec<f64>>,
    small: Mat<f64>,
}

impl Curvature {
    /// At the place last looked at; nothing where numbers went astray. At rest the whole is
    /// positive definite; its sparse part need not be.
    pub(super) fn of(energy: &Energy) -> Option<Self> {
        let mut sparse = sparse(energy)?;
        let rows = rows(energy);
        let answers: Vec<Vec<f64>> = rows
            .iter()
            .map(|row| {
                let mut answer = row.clone();
                sparse.solve(&mut answer);
                answer
            })
            .collect();
        let cycles = energy.cycles.len();
        let by_spacings = by_spacings(energy);
        let mut small = Mat::zeros(2 * cycles, 2 * cycles);
        for (i, row) in rows.iter().enumerate() {
            for (j, answer) in answers.iter().enumerate() {
                small[(i, j)] = dot(row, answer);
            }
        }
        for i in 0..cycles {
            small[(i, cycles + i)] += 1.0;
            small[(cycles + i, i)] += 1.0;
            for j in 0..cycles {
                small[(cycles + i, cycles + j)] -= by_spacings[i][j];
            }
        }
        Some(Self {
            sparse,
            rows,
            answers,
            small,
        })
    }

    /// Turn a change of slope into the change of place that answers it.
    pub(super) fn answer(&mut self, slope: &mut [f64]) {
        self.sparse.solve(slope);
        let mut right = Mat::from_fn(self.rows.len(), 1, |i, _| dot(&self.rows[i], slope));
        self.small.partial_piv_lu().solve_in_place(right.as_mut());
        for (i, answer) in self.answers.iter().enumerate() {
            for (sum, part) in slope.iter_mut().zip(answer) {
                *sum -= right[(i, 0)] * part;
            }
        }
    }
}

/// The sparse part, at fixed spacings.
fn sparse(energy: &Energy) -> Option<Factor> {
    let mut matrix = Matrix::new(&energy.layout, &energy.images, true);
    add_strands(&mut matrix, energy);
    add_contacts(&mut matrix, energy);
    add_band(&mut matrix, energy);
    for (node, work) in energy.work.iter().enumerate() {
        matrix.spring_of_squeeze(work.curve * energy.spacing_at(node), node);
    }
    matrix.factor(HOLDING, Kind::Any)
}

fn add_strands(matrix: &mut Matrix, energy: &Energy) {
    let points = &energy.images.points;
    let along = energy.along_steps();
    for (node, &cycle) in energy.cycle_of.iter().enumerate() {
        let (next, after) = (energy.layout.next[node], energy.layout.after[node]);
        let (a, b) = (matrix.mover(node, -1.0), matrix.mover(next, 1.0));
        let stiffness = along[cycle as usize];
        matrix.spring_every_way(stiffness, &[a, b]);
        let (p, q) = (points[node], points[next]);
        let force = [0, 1, 2].map(|axis| stiffness * (q[axis] - p[axis]));
        matrix.turn_of_force(force, &[a, b]);
        let cycle = &energy.cycles[cycle as usize];
        let bending = cycle.bending / cycle.spacing().powi(3);
        if bending > 0.0 {
            let r = points[after];
            let movers = [a.times(1.0), b.times(-2.0), matrix.mover(after, 1.0)];
            matrix.spring_every_way(bending, &movers);
            let force = [0, 1, 2].map(|axis| bending * (p[axis] - 2.0 * q[axis] + r[axis]));
            matrix.turn_of_force(force, &movers);
        }
        let holding = HOLDING * cycle.pull / cycle.spacing();
        matrix.spring_to_place(holding, node);
    }
}

fn add_contacts(matrix: &mut Matrix, energy: &Energy) {
    for Pressing {
        sides,
        own,
        touch,
        normal,
    } in energy.contacts()
    {
        let movers = [matrix.mover(sides[0], -1.0), matrix.mover(sides[1], 1.0)];
        let push = touch.push();
        let sideways = push / touch.distance;
        matrix.spring_every_way(-sideways, &movers);
        let straight = touch.stiffness + sideways;
        let cross = touch.by_distance_and_radii();
        matrix.spring(straight, normal, &movers, cross / straight, 0.0);
        let swell = touch.by_radii_twice() - cross * cross / straight;
        matrix.spring(swell, [0.0; 3], &movers, 1.0, 0.0);
        matrix.turn_of_force(normal.map(|x| -push * x), &movers);
        for (side, own) in sides.into_iter().zip(own) {
            let radius = energy.images.points[side][3];
            matrix.spring_of_squeeze(touch.by_radii() * radius, own);
        }
    }
}

fn add_band(matrix: &mut Matrix, energy: &Energy) {
    if !energy.layout.free[BAND] {
        return;
    }
    matrix.couple(BAND, LIFT, energy.band_squeeze());
    for node in 0..energy.layout.count() {
        let p = energy.images.points[node];
        let spacing = energy.spacing_at(node);
        let Some(touch) = outside_band(&p, energy.band, spacing, energy.stiffness) else {
            continue;
        };
        let [x, y] = [p[0] / touch.distance, p[1] / touch.distance];
        let mover = [matrix.mover(node, 1.0)];
        matrix.spring(touch.stiffness, [x, y, 0.0], &mover, 1.0, -1.0);
        matrix.spring(
            touch.push() / touch.distance,
            [-y, x, 0.0],
            &mover,
            0.0,
            0.0,
        );
        matrix.turn_of_force([touch.push() * x, touch.push() * y, 0.0], &mover);
        matrix.spring_of_squeeze(touch.push() * p[3], node);
    }
}

/// Second derivative of the energy by the spacings of two cycles, less what the
/// root in `l` takes.
fn by_spacings(energy: &Energy) -> Vec<Vec<f64>> {
    let cycles = &energy.cycles;
    let mut by = vec![vec![0.0; cycles.len()]; cycles.len()];
    for Pressing { own, touch, .. } in energy.contacts() {
        let [a, b] = own.map(|node| energy.cycle_of[node] as usize);
        let share = touch.energy() / (cycles[a].spacing() * cycles[b].spacing());
        by[a][b] += share;
        by[b][a] += share;
    }
    let bent = energy.bent();
    let along = energy.along_steps();
    for (i, cycle) in cycles.iter().enumerate() {
        let spacing = cycle.spacing();
        by[i][i] += 12.0 * bent[i] / (spacing * spacing) - along[i] * cycle.steps;
        by[i][i] += cycle.stretch() * cycle.steps * cycle.steps;
    }
    by
}

/// `J` of every cycle, then `V` of every cycle.
fn rows(energy: &Energy) -> Vec<Vec<f64>> {
    let cycles = 0..energy.cycles.len();
    let mut rows: Vec<Vec<f64>> = cycles.clone().map(|c| by_nodes(energy, c)).collect();
    rows.extend(by_nodes_and_spacings(energy));
    rows
}

/// Slopes gathered on images, folded on the unknowns.
pub(super) fn folded(
    energy: &Energy,
    images: &mut Images,
    squeeze: impl Fn(usize) -> f64,
) -> Vec<f64> {
    let layout = &energy.layout;
    let mut row = vec![0.0; layout.unknowns()];
    images.fold(layout, &mut row);
    for (node, out) in row[layout.squeezes()].iter_mut().enumerate() {
        *out = squeeze(node) - images.slope[node][3] * images.points[node][3];
    }
    energy.hold_fast(&mut row);
    row
}

/// `∇l` of a cycle.
pub(super) fn by_nodes(energy: &Energy, cycle: usize) -> Vec<f64> {
    let mut images = energy.images.clone();
    images.clear_slope();
    let whole = &energy.cycles[cycle];
    let scale = 1.0 / (whole.steps * whole.spacing());
    for (node, &next) in energy.layout.next.iter().enumerate() {
        if energy.cycle_of[node] as usize == cycle {
            for axis in 0..3 {
                let pull = scale * (images.points[next][axis] - images.points[node][axis]);
                images.slope[next][axis] += pull;
                images.slope[node][axis] -= pull;
            }
        }
    }
    folded(energy, &mut images, |_| 0.0)
}

/// `∂∇E/∂l` of every cycle.
fn by_nodes_and_spacings(energy: &Energy) -> Vec<Vec<f64>> {
    let mut sheets: Vec<Images> = energy
        .cycles
        .iter()
        .map(|_| energy.images.clone())
        .collect();
    let mut band = vec![0.0; sheets.len()];
    sheets.iter_mut().for_each(Images::clear_slope);
    for Pressing {
        sides,
        own,
        touch,
        normal,
    } in energy.contacts()
    {
        for cycle in own.map(|node| energy.cycle_of[node] as usize) {
            let share = 1.0 / energy.cycles[cycle].spacing();
            sheets[cycle].push_apart(sides[0], sides[1], share * touch.push(), normal);
            for side in sides {
                sheets[cycle].slope[side][3] += share * touch.by_radii();
            }
        }
    }
    for node in 0..energy.layout.count() {
        let own = energy.cycle_of[node] as usize;
        bend(energy, node, &mut sheets[own]);
        band[own] += press_on_band(energy, node, &mut sheets[own]);
    }
    let squeeze = |cycle: usize, node: usize| match energy.work.get(node) {
        Some(work) if energy.cycle_of[node] as usize == cycle => work.slope,
        _ => 0.0,
    };
    let sheets = sheets.iter_mut().enumerate();
    sheets
        .map(|(cycle, sheet)| {
            let mut row = folded(energy, sheet, |node| squeeze(cycle, node));
            if energy.layout.free[BAND] {
                row[energy.layout.place(BAND)] = band[cycle];
            }
            row
        })
        .collect()
}

/// The bending energy falls as the third power of the spacing.
fn bend(energy: &Energy, node: usize, sheet: &mut Images) {
    let cycle = &energy.cycles[energy.cycle_of[node] as usize];
    let (next, after) = (energy.layout.next[node], energy.layout.after[node]);
    let stiffness = -3.0 * cycle.bending / cycle.spacing().powi(4);
    for axis in 0..3 {
        let [p, q, r] = [node, next, after].map(|image| sheet.points[image][axis]);
        let force = stiffness * (p - 2.0 * q + r);
        sheet.slope[node][axis] += force;
        sheet.slope[next][axis] -= 2.0 * force;
        sheet.slope[after][axis] += force;
    }
}

/// Gives the derivative by the radius of the band.
fn press_on_band(energy: &Energy, node: usize, sheet: &mut Images) -> f64 {
    if !energy.layout.free[BAND] {
        return 0.0;
    }
    let p = sheet.points[node];
    let spacing = energy.spacing_at(node);
    let Some(touch) = outside_band(&p, energy.band, spacing, energy.stiffness) else {
        return 0.0;
    };
    let push = touch.push() / spacing;
    for axis in 0..2 {
        sheet.slope[node][axis] += push * p[axis] / touch.distance;
    }
    sheet.slope[node][3] += push;
    -push
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
