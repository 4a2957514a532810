//! The factor of a sparse symmetric matrix, front by front.
//!
//! Each front gathers its own entries and what its children leave over in a dense square,
//! eliminates its columns and hands the rest to its parent (Duff and Reid,
//! *ACM Trans. Math. Softw.* 9 (1983) 302). `L D Lᵀ` without pivoting.
//!
//! Does not know what the unknowns are.

use pulp::{Arch, Simd, WithSimd};

use super::blocks::{Block, Blocks};
use super::matrix::{self, Parts};
use super::order::{NONE, Order};

/// Columns that are cleared before all later ones follow.
const TOGETHER: usize = 12;

/// A factor while it is made.
#[derive(Debug)]
struct Work<'a> {
    parts: &'a Parts,
    order: &'a Order,
    /// Unknowns of each node but the rim.
    width: usize,
    /// Off-diagonal blocks by the place of the node that is eliminated first.
    first: Vec<u32>,
    blocks: Vec<u32>,
    /// What each front leaves over, until its parent takes it.
    left: Vec<Vec<f64>>,
    /// Children of each front.
    children: Vec<Vec<u32>>,
    /// Where each place stands in the front that is being worked on.
    local: Vec<u32>,
    /// The front, column by column; its upper half is not used.
    square: Vec<f64>,
    side: usize,
}

/// The factor, its values kept as `keep` says; none if a pivot is nothing, or negative
/// where all must be positive.
pub(super) fn factor<V: Copy>(
    parts: &Parts,
    order: &Order,
    positive: bool,
    keep: impl Fn(f64) -> V,
) -> Option<Blocks<V>>
where
    f64: From<V>,
{
    let mut work = Work::new(parts, order);
    let (mut blocks, mut rows) = (Vec::new(), Vec::new());
    let (mut values, mut inverse) = (Vec::new(), Vec::new());
    let arch = Arch::new();
    for number in 0..order.fronts.len() {
        let columns = work.gather(number);
        let pivots = arch.dispatch(Clear {
            square: &mut work.square,
            side: work.side,
            columns,
            positive,
        })?;
        inverse.extend(pivots.iter().map(|pivot| 1.0 / pivot));
        work.leave(number, columns);
        blocks.push(Block {
            start: (inverse.len() - columns) as u32,
            width: columns as u32,
            values: values.len() as u32,
            rows: rows.len() as u32,
            below: (work.side - columns) as u32,
        });
        values.extend(work.square[..columns * work.side].iter().map(|&x| keep(x)));
        work.list_rows(number, &mut rows);
    }
    Some(Blocks::new(blocks, rows, values, inverse))
}

impl<'a> Work<'a> {
    fn new(parts: &'a Parts, order: &'a Order) -> Self {
        let count = order.nodes.len();
        let front_of = order.front_of_places();
        let mut children = vec![Vec::new(); order.fronts.len()];
        for (number, front) in order.fronts.iter().enumerate() {
            if let Some(&row) = front.rows.first() {
                children[front_of[row as usize] as usize].push(number as u32);
            }
        }
        let (first, blocks) = by_place(&parts.near, &order.places);
        Self {
            width: parts.width,
            first,
            blocks,
            left: vec![Vec::new(); order.fronts.len()],
            children,
            local: vec![NONE; count],
            square: Vec::new(),
            side: 0,
            parts,
            order,
        }
    }

    /// Unknowns of the node at a place.
    fn width(&self, place: u32) -> usize {
        if place as usize + 1 == self.order.nodes.len() {
            self.parts.corner.len()
        } else {
            self.width
        }
    }

    /// Put together what acts on a front; gives the number of its columns.
    fn gather(&mut self, number: usize) -> usize {
        let order = self.order;
        let front = &order.fronts[number];
        let mut side = 0;
        for place in front.columns.clone().chain(front.rows.iter().copied()) {
            self.local[place as usize] = side as u32;
            side += self.width(place);
        }
        let columns: usize = front.columns.clone().map(|place| self.width(place)).sum();
        self.side = side;
        self.square.clear();
        self.square.resize(side * side, 0.0);
        for place in front.columns.clone() {
            self.gather_own(place);
            self.gather_near(place);
        }
        for child in std::mem::take(&mut self.children[number]) {
            self.take_over(child as usize);
        }
        columns
    }

    fn at(&mut self, row: usize, column: usize) -> &mut f64 {
        let (low, high) = (row.min(column), row.max(column));
        &mut self.square[low * self.side + high]
    }

    fn gather_own(&mut self, place: u32) {
        let node = self.order.nodes[place as usize] as usize;
        let at = self.local[place as usize] as usize;
        let parts = self.parts;
        if node == parts.own.len() {
            for (i, row) in parts.corner.iter().enumerate() {
                for (j, value) in row.iter().enumerate().take(i + 1) {
                    *self.at(at + i, at + j) += value;
                }
            }
            return;
        }
        let rim = self.local[self.order.nodes.len() - 1] as usize;
        for i in 0..self.width {
            for j in 0..=i {
                *self.at(at + i, at + j) += parts.own[node][i][j];
            }
            for (whole, border) in parts.border.iter().enumerate() {
                *self.at(rim + whole, at + i) += border[node][i];
            }
        }
    }

    fn gather_near(&mut self, place: u32) {
        let from = self.first[place as usize] as usize..self.first[place as usize + 1] as usize;
        for number in from {
            let (pair, block) = &self.parts.near[self.blocks[number] as usize];
            let [a, b] = pair.map(|node| self.order.places[node as usize] as usize);
            let [a, b] = [a, b].map(|place| self.local[place] as usize);
            for (i, row) in block.iter().enumerate().take(self.width) {
                for (j, value) in row.iter().enumerate().take(self.width) {
                    *self.at(a + i, b + j) += value;
                }
            }
        }
    }

    /// Add what a child left over.
    fn take_over(&mut self, child: usize) {
        let left = std::mem::take(&mut self.left[child]);
        let mut map = Vec::with_capacity(self.side);
        for &place in &self.order.fronts[child].rows {
            let at = self.local[place as usize];
            map.extend(at..at + self.width(place) as u32);
        }
        for (column, &to) in map.iter().enumerate() {
            let from = &left[column * map.len()..(column + 1) * map.len()];
            let into = &mut self.square[to as usize * self.side..(to as usize + 1) * self.side];
            for (value, &row) in from[column..].iter().zip(&map[column..]) {
                into[row as usize] += value;
            }
        }
    }

    /// Put aside what is left for the parent once all columns are cleared.
    fn leave(&mut self, number: usize, columns: usize) {
        let (side, below) = (self.side, self.side - columns);
        let rest = &self.square[columns * side..];
        let mut left = vec![0.0; below * below];
        for (offset, kept) in left.chunks_exact_mut(below.max(1)).enumerate() {
            let from = &rest[offset * side + columns..(offset + 1) * side];
            kept[offset..].copy_from_slice(&from[offset..]);
        }
        self.left[number] = left;
    }

    fn list_rows(&self, number: usize, rows: &mut Vec<u32>) {
        for &place in &self.order.fronts[number].rows {
            let from = place as usize * self.width;
            rows.extend(from as u32..(from + self.width(place)) as u32);
        }
    }
}

/// The columns of a front to be cleared, with the widest lanes that the machine has; what
/// comes out does not depend on them.
#[derive(Debug)]
struct Clear<'a> {
    square: &'a mut [f64],
    side: usize,
    columns: usize,
    positive: bool,
}

impl WithSimd for Clear<'_> {
    /// The pivots.
    type Output = Option<Vec<f64>>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Self::Output {
        let mut pivots = Vec::with_capacity(self.columns);
        for from in (0..self.columns).step_by(TOGETHER) {
            let to = self.columns.min(from + TOGETHER);
            let (done, later) = self.square.split_at_mut(to * self.side);
            let done = &mut done[from * self.side..];
            clear_together(done, self.side, from, self.positive, &mut pivots)?;
            for (offset, target) in later.chunks_exact_mut(self.side).enumerate() {
                let row = to + offset;
                take_columns(done, self.side, row, &pivots[from..], &mut target[row..]);
            }
        }
        Some(pivots)
    }
}

/// Clear neighbouring columns, the first of them number `from` of its front, one by one.
#[inline(always)]
fn clear_together(
    columns: &mut [f64],
    side: usize,
    from: usize,
    positive: bool,
    pivots: &mut Vec<f64>,
) -> Option<()> {
    for column in from..from + columns.len() / side {
        let (done, later) = columns.split_at_mut((column + 1 - from) * side);
        let own = &mut done[(column - from) * side..];
        let pivot = own[column];
        let sound = if positive { pivot > 0.0 } else { pivot != 0.0 };
        if !(sound && pivot.is_finite()) {
            return None;
        }
        pivots.push(pivot);
        own[column + 1..].iter_mut().for_each(|x| *x /= pivot);
        for (offset, target) in later.chunks_exact_mut(side).enumerate() {
            let row = column + 1 + offset;
            take_one(&own[row..], pivot, &mut target[row..]);
        }
    }
    Some(())
}

/// Take cleared columns from one later column, from `row` on.
#[inline(always)]
fn take_columns(columns: &[f64], side: usize, row: usize, pivots: &[f64], target: &mut [f64]) {
    let column = |number: usize| &columns[number * side + row..(number + 1) * side];
    let mut number = 0;
    while number + 6 <= pivots.len() {
        let six = std::array::from_fn(|k| column(number + k));
        take_six(six, &pivots[number..], target);
        number += 6;
    }
    while number + 3 <= pivots.len() {
        let three = std::array::from_fn(|k| column(number + k));
        take_three(three, &pivots[number..], target);
        number += 3;
    }
    while number < pivots.len() {
        take_one(column(number), pivots[number], target);
        number += 1;
    }
}

#[inline(always)]
fn take_one(a: &[f64], pivot: f64, target: &mut [f64]) {
    let share = a[0] * pivot;
    for (x, a) in target.iter_mut().zip(a) {
        *x -= share * a;
    }
}

#[inline(always)]
fn take_three(columns: [&[f64]; 3], pivots: &[f64], target: &mut [f64]) {
    let share = [0, 1, 2].map(|k| columns[k][0] * pivots[k]);
    let [a, b, c] = columns.map(|column| &column[..target.len()]);
    for i in 0..target.len() {
        target[i] -= share[0] * a[i] + share[1] * b[i] + share[2] * c[i];
    }
}

#[inline(always)]
fn take_six(columns: [&[f64]; 6], pivots: &[f64], target: &mut [f64]) {
    let share = [0, 1, 2, 3, 4, 5].map(|k| columns[k][0] * pivots[k]);
    let [a, b, c, d, e, f] = columns.map(|column| &column[..target.len()]);
    for i in 0..target.len() {
        let three = share[0] * a[i] + share[1] * b[i] + share[2] * c[i];
        let others = share[3] * d[i] + share[4] * e[i] + share[5] * f[i];
        target[i] -= three + others;
    }
}

/// Blocks sorted by the place of the node that comes first.
fn by_place(near: &[([u32; 2], matrix::Block)], places: &[u32]) -> (Vec<u32>, Vec<u32>) {
    let place = |pair: &[u32; 2]| {
        let [a, b] = pair.map(|node| places[node as usize]);
        a.min(b) as usize
    };
    let mut first = vec![0_u32; places.len() + 1];
    for (pair, _) in near {
        first[place(pair) + 1] += 1;
    }
    for at in 0..places.len() {
        first[at + 1] += first[at];
    }
    let mut free = first.clone();
    let mut blocks = vec![0; near.len()];
    for (number, (pair, _)) in near.iter().enumerate() {
        let slot = &mut free[place(pair)];
        blocks[*slot as usize] = number as u32;
        *slot += 1;
    }
    (first, blocks)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nodes in a ring with a few ties across and a rim of three; each block twice in parts.
    fn ring(width: usize, own: f64) -> Parts {
        let mut dice = fastrand::Rng::with_seed(11);
        let mut block = |scale: f64| {
            let mut one = || scale * (dice.f64() - 0.5);
            [0; 4].map(|_| [0; 4].map(|_| one()))
        };
        let count = 20_u32;
        let ring = (0..count).map(|node| [node, (node + 1) % count]);
        let pairs = ring.chain([[12, 3], [17, 3], [9, 1], [9, 1]]);
        let near = pairs.map(|pair| (pair, block(1.0))).collect();
        let diagonal = |mut block: matrix::Block| {
            for i in 0..4 {
                block[i][i] += own;
                for j in 0..i {
                    block[j][i] = block[i][j];
                }
            }
            block
        };
        Parts {
            width,
            near,
            own: (0..count).map(|_| diagonal(block(1.0))).collect(),
            border: [0; 3].map(|_| (0..count).map(|_| block(1.0)[0]).collect()),
            corner: [[30.0, 1.0, 2.0], [1.0, 40.0, 3.0], [2.0, 3.0, 50.0]],
        }
    }

    /// The matrix times `x`, unknowns node by node.
    fn times(parts: &Parts, x: &[f64]) -> Vec<f64> {
        let (width, count) = (parts.width, parts.own.len());
        let mut y = vec![0.0; x.len()];
        let mut add = |i: usize, j: usize, value: f64| {
            y[i] += value * x[j];
            if i != j {
                y[j] += value * x[i];
            }
        };
        for i in 0..width {
            for (pair, block) in &parts.near {
                let [a, b] = pair.map(|node| node as usize * width);
                (0..width).for_each(|j| add(a + i, b + j, block[i][j]));
            }
            for (node, own) in parts.own.iter().enumerate() {
                (0..=i).for_each(|j| add(node * width + i, node * width + j, own[i][j]));
                let rim = parts.border.iter().enumerate();
                rim.for_each(|(k, row)| add(count * width + k, node * width + i, row[node][i]));
            }
        }
        for i in 0..3 {
            (0..=i).for_each(|j| add(count * width + i, count * width + j, parts.corner[i][j]));
        }
        y
    }

    fn order(parts: &Parts) -> Order {
        let pairs: Vec<[u32; 2]> = parts.near.iter().map(|(pair, _)| *pair).collect();
        Order::new(parts.own.len(), &pairs).unwrap()
    }

    /// Largest error of an answer.
    fn error<V: Copy>(parts: &Parts, blocks: &mut Blocks<V>) -> f64
    where
        f64: From<V>,
    {
        let order = order(parts);
        let size = parts.own.len() * parts.width + 3;
        let x: Vec<f64> = (0..size).map(|i| (i as f64).sin()).collect();
        let right = times(parts, &x);
        let unknown = |place: usize| match place / parts.width {
            node if node < parts.own.len() => {
                order.nodes[node] as usize * parts.width + place % parts.width
            }
            _ => place,
        };
        let mut answer: Vec<f64> = (0..size).map(|place| right[unknown(place)]).collect();
        blocks.solve(&mut answer);
        let errors = answer.iter().enumerate();
        errors.fold(0.0, |most, (place, found)| {
            most.max((found - x[unknown(place)]).abs())
        })
    }

    #[test]
    fn what_a_matrix_makes_of_an_answer_is_turned_back_into_it() {
        for (width, own) in [(3, 9.0), (4, 9.0), (4, -9.0), (3, 0.3)] {
            let parts = ring(width, own);
            let mut blocks = factor(&parts, &order(&parts), false, |x| x).unwrap();
            let error = error(&parts, &mut blocks);
            assert!(error < 1e-9, "{width} {own}: {error}");
        }
        let parts = ring(3, 9.0);
        let mut near = factor(&parts, &order(&parts), true, |x| x as f32).unwrap();
        assert!(error(&parts, &mut near) < 1e-5);
    }

    #[test]
    fn a_matrix_that_is_not_positive_has_no_positive_factor() {
        let parts = ring(3, -9.0);
        assert!(factor(&parts, &order(&parts), true, |x| x).is_none());
        let mut parts = ring(3, 9.0);
        parts.own[5][1][1] = f64::NAN;
        assert!(factor(&parts, &order(&parts), false, |x| x).is_none());
    }
}
