//! Solving with a lower triangular matrix that is kept in dense blocks.
//!
//! Neighbouring columns of one pattern form a block: its own triangle on top, and
//! below it the rows that all its columns share. A column lies in one piece, so
//! a solve reads every value once and in order, and looks up a row once for a
//! block instead of once for a value. A large factor is slower to fetch than to
//! reckon with: where it need not be exact its values are kept to seven digits,
//! and reckoned with at sixteen.
//!
//! Knows nothing of how the matrix was factored.

use pulp::{Arch, Simd, WithSimd};

/// Columns of one pattern.
#[derive(Debug, Clone, Copy)]
pub(super) struct Block {
    /// First column.
    pub start: u32,
    /// Number of columns.
    pub width: u32,
    /// Where its values begin, column by column, each from the block's first row on.
    pub values: u32,
    /// Where the rows below its own begin.
    pub rows: u32,
    /// Number of those rows.
    pub below: u32,
}

impl Block {
    /// Values of one column, the triangle's rows first, from the pivot on.
    #[inline(always)]
    fn column<'a, V>(&self, values: &'a [V], column: usize) -> &'a [V] {
        let height = (self.width + self.below) as usize;
        let first = self.values as usize + column * height;
        &values[first + column..first + height]
    }
}

/// A matrix `L D Lᵀ`, the diagonal of `L` one; `V` is what its values are kept as.
#[derive(Debug)]
pub(super) struct Blocks<V> {
    blocks: Vec<Block>,
    rows: Vec<u32>,
    values: Vec<V>,
    /// Inverse of `D`.
    inverse: Vec<f64>,
    /// The rows below a block, put side by side.
    gathered: Vec<f64>,
}

/// A solve with the widest lanes that the machine has; the answer does not depend on them.
#[derive(Debug)]
struct Solve<'a, V> {
    blocks: &'a mut Blocks<V>,
    x: &'a mut [f64],
}

impl<V: Copy> WithSimd for Solve<'_, V>
where
    f64: From<V>,
{
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        self.blocks.solve_here(self.x);
    }
}

impl<V: Copy> Blocks<V>
where
    f64: From<V>,
{
    /// Of the unit triangle `L` and the inverse of `D`.
    pub(super) fn new(
        blocks: Vec<Block>,
        rows: Vec<u32>,
        values: Vec<V>,
        inverse: Vec<f64>,
    ) -> Self {
        let most = blocks.iter().map(|block| block.below).max().unwrap_or(0);
        Self {
            gathered: vec![0.0; most as usize],
            blocks,
            rows,
            values,
            inverse,
        }
    }

    /// Turn a right side into the answer.
    pub(super) fn solve(&mut self, x: &mut [f64]) {
        Arch::new().dispatch(Solve { blocks: self, x });
    }

    #[inline(always)]
    fn solve_here(&mut self, x: &mut [f64]) {
        for block in &self.blocks {
            let (own, later) = split(x, block);
            let gathered = &mut self.gathered[..block.below as usize];
            down(block, &self.values, own, gathered);
            let rows = &self.rows[block.rows as usize..][..gathered.len()];
            for (&row, sum) in rows.iter().zip(gathered) {
                later[row as usize - (block.start + block.width) as usize] -= *sum;
            }
        }
        for (x, inverse) in x.iter_mut().zip(&self.inverse) {
            *x *= inverse;
        }
        for block in self.blocks.iter().rev() {
            let (own, later) = split(x, block);
            let gathered = &mut self.gathered[..block.below as usize];
            let rows = &self.rows[block.rows as usize..][..gathered.len()];
            for (&row, value) in rows.iter().zip(&mut *gathered) {
                *value = later[row as usize - (block.start + block.width) as usize];
            }
            up(block, &self.values, own, gathered);
        }
    }
}

/// The part of a block's own columns, and what comes after.
#[inline(always)]
fn split<'a>(x: &'a mut [f64], block: &Block) -> (&'a mut [f64], &'a mut [f64]) {
    x[block.start as usize..].split_at_mut(block.width as usize)
}

/// Clear the block's own part; what it takes from the rows below is summed up.
#[inline(always)]
fn down<V: Copy>(block: &Block, values: &[V], own: &mut [f64], below: &mut [f64])
where
    f64: From<V>,
{
    below.fill(0.0);
    for column in 0..own.len() {
        let entries = block.column(values, column);
        let (value, rest) = (own[column], &mut own[column + 1..]);
        let (triangle, shared) = entries[1..].split_at(rest.len());
        for (x, &entry) in rest.iter_mut().zip(triangle) {
            *x -= f64::from(entry) * value;
        }
        for (sum, &entry) in below.iter_mut().zip(shared) {
            *sum += f64::from(entry) * value;
        }
    }
}

/// Put in what is known of the rows below and of later columns.
#[inline(always)]
fn up<V: Copy>(block: &Block, values: &[V], own: &mut [f64], below: &[f64])
where
    f64: From<V>,
{
    for column in (0..own.len()).rev() {
        let entries = block.column(values, column);
        let (first, rest) = own[column..].split_first_mut().expect("within the block");
        let (triangle, shared) = entries[1..].split_at(rest.len());
        *first -= dot(triangle, rest) + dot(shared, below);
    }
}

/// Eight sums side by side, so that the processor need not wait for each.
#[inline(always)]
fn dot<V: Copy>(a: &[V], b: &[f64]) -> f64
where
    f64: From<V>,
{
    const LANES: usize = 8;
    let (wide, rest) = a.as_chunks::<LANES>();
    let (other, other_rest) = b.as_chunks::<LANES>();
    let mut sums = [0.0; LANES];
    for (a, b) in wide.iter().zip(other) {
        for lane in 0..LANES {
            sums[lane] += f64::from(a[lane]) * b[lane];
        }
    }
    let tails = rest.iter().zip(other_rest);
    let tail: f64 = tails.map(|(&a, b)| f64::from(a) * b).sum();
    sums.iter().sum::<f64>() + tail
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two columns side by side over a third of its own: with
    /// `L = [[1,0,0],[2,1,0],[3,4,1]]` and `D = (5, -6, 7)`.
    #[test]
    fn what_a_matrix_makes_of_an_answer_is_turned_back_into_it() {
        let blocks = vec![
            Block {
                start: 0,
                width: 2,
                values: 0,
                rows: 0,
                below: 1,
            },
            Block {
                start: 2,
                width: 1,
                values: 6,
                rows: 1,
                below: 0,
            },
        ];
        let values = vec![1.0, 2.0, 3.0, 0.0, 1.0, 4.0, 1.0];
        let inverse = [5.0, -6.0, 7.0].map(|pivot: f64| 1.0 / pivot).to_vec();
        let mut blocks = Blocks::new(blocks, vec![2], values, inverse);
        // L D Lᵀ (1, 2, 3).
        let mut x = [70.0, 56.0, -105.0];
        blocks.solve(&mut x);
        let expected = [1.0, 2.0, 3.0];
        for (x, expected) in x.iter().zip(expected) {
            assert!((x - expected).abs() < 1e-12, "{x} for {expected}");
        }
    }
}
