//! The Cholesky factor of a sparse matrix.
//!
//! The library orders and factors. Its solver is made for many right sides of any
//! kind of number; ours are one column of real ones, thousands of times over, so
//! the two triangular solves are our own, in `blocks`.

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::ldlt::factor::LdltRegularization;
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::SparseColMat;
use faer::sparse::linalg::cholesky::simplicial::SymbolicSimplicialCholesky;
use faer::sparse::linalg::cholesky::supernodal::SymbolicSupernodalCholesky;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::linalg::{SupernodalThreshold, SymbolicSupernodalParams};
use faer::{Par, Side, Spec};

use super::blocks::{Block, Blocks};

/// Neighbouring blocks of columns are merged if they are together no wider than this
/// and no more than this share of them is empty: a tenth faster than the library's
/// own choice (tried).
const MERGED: [(usize, f64); 3] = [(4, 1.0), (16, 0.3), (48, 0.05)];

/// What a matrix may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Positive definite, or there is no factor; its values are kept to seven digits.
    Definite,
    /// Not surely so: pivots may be negative.
    Any,
}

/// Lower triangular factor `L` of a matrix `L D Lᵀ` with its unknowns in another order.
#[derive(Debug)]
pub(super) struct Factor {
    /// Unknown at each place of the factor.
    order: Vec<u32>,
    values: Values,
    work: Vec<f64>,
}

#[derive(Debug)]
enum Values {
    /// For steps downhill: nothing is lost with seven digits (tried), and large
    /// factors are fetched in half the time.
    Near(Blocks<f32>),
    Exact(Blocks<f64>),
}

impl Factor {
    /// Of a matrix given by its lower half; none if it is not as `kind` says.
    ///
    /// The order is found anew each time: one that is kept while contacts change
    /// fills the factor up (tried: a third more time).
    pub(super) fn of(matrix: &SparseColMat<u32, f64>, kind: Kind) -> Option<Self> {
        let (pattern, by_degree) = (matrix.symbolic(), SymmetricOrdering::Amd);
        let params = CholeskySymbolicParams {
            supernodal_flop_ratio_threshold: match kind {
                Kind::Definite => SupernodalThreshold::AUTO,
                Kind::Any => SupernodalThreshold::FORCE_SIMPLICIAL,
            },
            supernodal_params: SymbolicSupernodalParams {
                relax: Some(&MERGED),
            },
            ..CholeskySymbolicParams::default()
        };
        let symbolic = factorize_symbolic_cholesky(pattern, Side::Lower, by_degree, params).ok()?;
        let values = numeric(&symbolic, matrix, kind)?;
        let order = symbolic.perm()?.arrays().0.to_vec();
        let (blocks, rows) = match symbolic.raw() {
            SymbolicCholeskyRaw::Simplicial(simple) => columns(simple),
            SymbolicCholeskyRaw::Supernodal(merged) => merged_columns(merged),
        };
        Some(Self {
            work: vec![0.0; order.len()],
            order,
            values: match kind {
                Kind::Definite => Values::Near(Blocks::of_roots(blocks, rows, &values)),
                Kind::Any => Values::Exact(Blocks::of_pivots(blocks, rows, values)),
            },
        })
    }

    /// Turn a right side into the answer.
    pub(super) fn solve(&mut self, x: &mut [f64]) {
        for (work, &at) in self.work.iter_mut().zip(&self.order) {
            *work = x[at as usize];
        }
        match &mut self.values {
            Values::Near(blocks) => blocks.solve(&mut self.work),
            Values::Exact(blocks) => blocks.solve(&mut self.work),
        }
        for (work, &at) in self.work.iter().zip(&self.order) {
            x[at as usize] = *work;
        }
    }
}

/// Each column for itself, and the rows of all.
fn columns(simple: &SymbolicSimplicialCholesky<u32>) -> (Vec<Block>, Vec<u32>) {
    let ends = simple.col_ptr().windows(2).map(|w| w[0]..w[1]);
    let column = |(start, entries): (usize, std::ops::Range<u32>)| Block {
        start: start as u32,
        width: 1,
        values: entries.start,
        // The first entry is the pivot.
        rows: entries.start + 1,
        below: entries.len() as u32 - 1,
    };
    let blocks = ends.enumerate().map(column).collect();
    (blocks, simple.row_idx().to_vec())
}

/// Neighbouring columns that have one pattern together, and the rows of all.
fn merged_columns(merged: &SymbolicSupernodalCholesky<u32>) -> (Vec<Block>, Vec<u32>) {
    let (begin, end) = (merged.supernode_begin(), merged.supernode_end());
    let block = |number: usize| Block {
        start: begin[number],
        width: end[number] - begin[number],
        values: merged.col_ptr_for_val()[number],
        rows: merged.col_ptr_for_row_idx()[number],
        below: merged.nnz_per_super()[number],
    };
    let blocks = (0..merged.n_supernodes()).map(block).collect();
    (blocks, merged.row_idx().to_vec())
}

fn numeric(
    symbolic: &SymbolicCholesky<u32>,
    matrix: &SparseColMat<u32, f64>,
    kind: Kind,
) -> Option<Vec<f64>> {
    let mut values = vec![0.0; symbolic.len_val()];
    let (lower, alone) = (Side::Lower, Par::Seq);
    match kind {
        Kind::Definite => {
            let room = symbolic.factorize_numeric_llt_scratch::<f64>(alone, Spec::default());
            let (mut memory, given) = (MemBuffer::new(room), matrix.as_ref());
            let stack = MemStack::new(&mut memory);
            let plain = LltRegularization::default();
            symbolic
                .factorize_numeric_llt(
                    &mut values,
                    given,
                    lower,
                    plain,
                    alone,
                    stack,
                    Spec::default(),
                )
                .ok()?;
        }
        Kind::Any => {
            let room = symbolic.factorize_numeric_ldlt_scratch::<f64>(alone, Spec::default());
            let (mut memory, given) = (MemBuffer::new(room), matrix.as_ref());
            let stack = MemStack::new(&mut memory);
            let plain = LdltRegularization::default();
            symbolic
                .factorize_numeric_ldlt(
                    &mut values,
                    given,
                    lower,
                    plain,
                    alone,
                    stack,
                    Spec::default(),
                )
                .ok()?;
        }
    }
    Some(values)
}
