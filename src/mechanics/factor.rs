//! The Cholesky factor of a sparse matrix, and solving with it.
//!
//! The library factors. Its solver is made for many right sides of any kind of
//! number; ours are one column of real ones, thousands of times over, so the two
//! triangular solves are written out here (a quarter of the whole time, tried).

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::ldlt::factor::LdltRegularization;
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::SparseColMat;
use faer::sparse::linalg::cholesky::supernodal::{SupernodalLltRef, SupernodeRef};
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::linalg::{SupernodalThreshold, SymbolicSupernodalParams};
use faer::{Par, Side, Spec};

/// Neighbouring blocks of columns are merged if they are together no wider than this
/// and no more than this share of them is empty: a tenth faster than the library's
/// own choice (tried).
const MERGED: [(usize, f64); 3] = [(4, 1.0), (16, 0.3), (48, 0.05)];

/// What a matrix may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Positive definite, or there is no factor.
    Definite,
    /// Not surely so: pivots may be negative.
    Any,
}

/// Lower triangular factor `L` of a matrix `L D Lᵀ` with its unknowns in another order.
#[derive(Debug)]
pub(super) struct Factor {
    /// Unknown at each place of the factor.
    order: Vec<u32>,
    /// Where each column begins; its first entry is the inverse of its pivot in `D`.
    columns: Vec<u32>,
    rows: Vec<u32>,
    values: Vec<f64>,
    work: Vec<f64>,
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
        let mut factor = Self {
            order: symbolic.perm()?.arrays().0.to_vec(),
            columns: vec![0],
            rows: Vec::with_capacity(values.len()),
            values: Vec::with_capacity(values.len()),
            work: vec![0.0; matrix.ncols()],
        };
        match symbolic.raw() {
            SymbolicCholeskyRaw::Simplicial(simple) => {
                factor.columns = simple.col_ptr().to_vec();
                factor.rows = simple.row_idx().to_vec();
                factor.values = values;
            }
            SymbolicCholeskyRaw::Supernodal(blocks) => {
                let blocks = SupernodalLltRef::new(blocks, &values);
                for number in 0..blocks.symbolic().n_supernodes() {
                    factor.unpack(&blocks.supernode(number));
                }
            }
        }
        for column in 0..factor.order.len() {
            factor.divide(column, kind);
        }
        Some(factor)
    }

    /// To `L` with ones on its diagonal, and the inverse of the pivot in their place.
    fn divide(&mut self, column: usize, kind: Kind) {
        let [first, end] = [0, 1].map(|next| self.columns[column + next] as usize);
        let pivot = self.values[first];
        match kind {
            Kind::Definite => {
                self.values[first] = 1.0 / (pivot * pivot);
                let below = &mut self.values[first + 1..end];
                below.iter_mut().for_each(|value| *value /= pivot);
            }
            Kind::Any => self.values[first] = 1.0 / pivot,
        }
    }

    /// Columns that have one pattern, as one dense block.
    fn unpack(&mut self, block: &SupernodeRef<u32, f64>) {
        let values = block.val();
        let width = values.ncols();
        for column in 0..width {
            let own = (column..width).map(|row| (block.start() + row) as u32);
            self.rows.extend(own.chain(block.pattern().iter().copied()));
            self.values
                .extend((column..values.nrows()).map(|row| values[(row, column)]));
            self.columns.push(self.rows.len() as u32);
        }
    }

    /// Turn a right side into the answer.
    pub(super) fn solve(&mut self, x: &mut [f64]) {
        for (work, &at) in self.work.iter_mut().zip(&self.order) {
            *work = x[at as usize];
        }
        self.down();
        self.up();
        for (work, &at) in self.work.iter().zip(&self.order) {
            x[at as usize] = *work;
        }
    }

    fn down(&mut self) {
        let work = &mut self.work[..];
        for (column, ends) in self.columns.windows(2).enumerate() {
            let (first, end) = (ends[0] as usize, ends[1] as usize);
            let value = work[column];
            let below = self.rows[first + 1..end]
                .iter()
                .zip(&self.values[first + 1..end]);
            for (&row, &entry) in below {
                work[row as usize] -= entry * value;
            }
        }
    }

    fn up(&mut self) {
        let work = &mut self.work[..];
        for (column, ends) in self.columns.windows(2).enumerate().rev() {
            let (first, end) = (ends[0] as usize, ends[1] as usize);
            let mut value = work[column] * self.values[first];
            let below = self.rows[first + 1..end]
                .iter()
                .zip(&self.values[first + 1..end]);
            for (&row, &entry) in below {
                value -= entry * work[row as usize];
            }
            work[column] = value;
        }
    }
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
