//! Three by three matrices, rows first.

/// Rows of a matrix that acts on a column of three.
pub(super) type Matrix = [[f64; 3]; 3];

/// The matrix times a column.
pub(super) fn times(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
    matrix.map(|[x, y, z]| x * v[0] + y * v[1] + z * v[2])
}

/// The inverse, by cofactors; the matrix must have one.
pub(super) const fn inverse(m: &Matrix) -> Matrix {
    let [[a, b, c], [d, e, f], [g, h, i]] = *m;
    let (p, q, r) = (e * i - f * h, f * g - d * i, d * h - e * g);
    let share = 1.0 / (a * p + b * q + c * r);
    [
        [p * share, (c * h - b * i) * share, (b * f - c * e) * share],
        [q * share, (a * i - c * g) * share, (c * d - a * f) * share],
        [r * share, (b * g - a * h) * share, (a * e - b * d) * share],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_and_its_inverse_leave_a_column_as_it_was() {
        let matrix = [[2.0, -1.0, 0.5], [0.3, 4.0, 1.0], [-2.0, 0.1, 3.0]];
        let column = [0.2, -7.0, 11.0];
        let back = times(&inverse(&matrix), times(&matrix, column));
        for (got, wanted) in back.into_iter().zip(column) {
            assert!((got - wanted).abs() < 1e-12, "{got} is not {wanted}");
        }
    }
}
