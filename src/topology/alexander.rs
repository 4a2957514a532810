//! Polynomial of the link that closes a word.
//!
//! Join the ends of all strands, top to bottom: the crossings of one round make
//! a knot or a link, and its Alexander polynomial follows from Burau's matrix by
//! one determinant. Whole numbers, of any size.
//!
//! # Source
//!
//! W. Burau, *Über Zopfgruppen und gleichsinnig verdrillte Verkettungen*, Abh.
//! Math. Sem. Hamburg 11 (1936) 179; J. S. Birman, *Braids, Links, and Mapping
//! Class Groups* (1974), theorem 3.11. The matrix of `s_i` has `t, -t, 1` in row
//! `i` and ones on the rest of its diagonal.

use num_bigint::BigInt;
use num_traits::{Signed, Zero};

use super::residue::{Modulo, Remainders, primes};

/// Alexander polynomial of the closure, lowest coefficient first, up to a power
/// of `t` and a sign: the lowest coefficient is positive. Empty for a link that
/// falls apart.
///
/// # Panics
///
/// If a letter does not lie between 1 and `strands` - 1 in size.
pub fn alexander(word: &[i32], strands: usize) -> Vec<BigInt> {
    let points = word.len() + 1;
    let bits = bits_of_coefficients(word, strands);
    let mut known = Remainders::unknown(points);
    for prime in primes() {
        let value = |t| one_less_burau(word, strands, t, prime);
        let values: Vec<u64> = (1..=points as u64).map(value).collect();
        known.learn(prime, &prime.interpolated(&values));
        if known.tell(bits) {
            break;
        }
    }
    normal(divided(&known.numbers(), strands))
}

/// Determinant of the closure: the polynomial's size at -1.
pub fn determinant(word: &[i32], strands: usize) -> BigInt {
    let coefficients = alexander(word, strands);
    let signed = coefficients.iter().enumerate().map(|(degree, number)| {
        if degree % 2 == 0 {
            number.clone()
        } else {
            -number
        }
    });
    signed.sum::<BigInt>().abs()
}

/// Reduced Burau matrix of a word at a value of `t`.
pub(super) fn burau(word: &[i32], strands: usize, t: u64, prime: Modulo) -> Vec<Vec<u64>> {
    let size = strands - 1;
    let one = |row: usize| (0..size).map(|column| u64::from(row == column)).collect();
    let mut rows: Vec<Vec<u64>> = (0..size).map(one).collect();
    let over = prime.reciprocal(t);
    // From the last letter on: each matrix is put in front and changes one row.
    for letter in word.iter().rev() {
        let at = letter.unsigned_abs() as usize - 1;
        let entry = |row: Option<usize>, column: usize| {
            row.and_then(|row| rows.get(row))
                .map_or(0, |row: &Vec<u64>| row[column])
        };
        let changed = (0..size).map(|column| {
            let before = prime.product(t, entry(at.checked_sub(1), column));
            let sides = prime.sum(before, entry(Some(at + 1), column));
            let here = rows[at][column];
            if *letter > 0 {
                prime.difference(sides, prime.product(t, here))
            } else {
                prime.product(prime.difference(sides, here), over)
            }
        });
        rows[at] = changed.collect();
    }
    rows
}

/// Determinant of one less Burau's matrix, times `t` for every negative letter:
/// then a polynomial in `t`, no higher than the word is long.
///
/// All minors of a letter's matrix hold `t`, or its inverse, once at most.
fn one_less_burau(word: &[i32], strands: usize, t: u64, prime: Modulo) -> u64 {
    let mut rows = burau(word, strands, t, prime);
    for (at, row) in rows.iter_mut().enumerate() {
        for (column, entry) in row.iter_mut().enumerate() {
            *entry = prime.difference(u64::from(at == column), *entry);
        }
    }
    let negative = word.iter().filter(|&&letter| letter < 0).count();
    let scale = prime.power(t, negative as u64);
    prime.product(scale, prime.determinant(rows))
}

/// Bits that hold every coefficient of that determinant: the product, over the
/// rows of the matrix, of the sums of all sizes of coefficients.
fn bits_of_coefficients(word: &[i32], strands: usize) -> f64 {
    let negative = word.iter().filter(|&&letter| letter < 0).count();
    let size = strands - 1;
    let mut one = vec![0.0; word.len() + 1];
    one[negative] = 1.0;
    let nothing = vec![0.0; word.len() + 1];
    let entry = |row, column| if row == column { &one } else { &nothing }.clone();
    let row = |row| (0..size).map(|column| entry(row, column)).collect();
    let mut rows: Vec<Vec<Laurent>> = (0..size).map(row).collect();
    for letter in word.iter().rev() {
        let at = letter.unsigned_abs() as usize - 1;
        let of = |row: Option<usize>, column: usize| {
            let row = row.and_then(|row| rows.get(row));
            row.map_or(&nothing, |row: &Vec<Laurent>| &row[column])
        };
        let changed = (0..size).map(|column| {
            let before = of(at.checked_sub(1), column);
            crossed(*letter, before, &rows[at][column], of(Some(at + 1), column))
        });
        rows[at] = changed.collect();
    }
    let sum = |row: &Vec<Laurent>| row.iter().flatten().map(|c| c.abs()).sum::<f64>();
    rows.iter().map(|row| (2.0 + sum(row)).log2()).sum()
}

/// Coefficients from some negative power of `t` up, to see their size.
type Laurent = Vec<f64>;

/// An entry of the row that a letter changes, from those before, in, and after it.
fn crossed(letter: i32, before: &Laurent, here: &Laurent, after: &Laurent) -> Laurent {
    let at = |of: &Laurent, power: Option<usize>| {
        power
            .and_then(|power| of.get(power))
            .copied()
            .unwrap_or(0.0)
    };
    let coefficient = |power: usize| {
        let (lower, same, higher) = (power.checked_sub(1), Some(power), Some(power + 1));
        if letter > 0 {
            at(before, lower) - at(here, lower) + at(after, same)
        } else {
            at(before, same) + at(after, higher) - at(here, higher)
        }
    };
    (0..here.len()).map(coefficient).collect()
}

/// Times `(1 - t) / (1 - t^strands)`, which goes without a rest.
fn divided(coefficients: &[BigInt], strands: usize) -> Vec<BigInt> {
    let mut quotient: Vec<BigInt> = Vec::with_capacity(coefficients.len());
    for (degree, coefficient) in coefficients.iter().enumerate() {
        let mut next = coefficient.clone();
        if degree >= 1 {
            next -= &coefficients[degree - 1];
        }
        if degree >= strands {
            next += &quotient[degree - strands];
        }
        quotient.push(next);
    }
    quotient
}

fn normal(mut coefficients: Vec<BigInt>) -> Vec<BigInt> {
    while coefficients.last().is_some_and(Zero::is_zero) {
        coefficients.pop();
    }
    let zeros = coefficients.iter().take_while(|number| number.is_zero());
    let mut coefficients = coefficients.split_off(zeros.count());
    if coefficients.first().is_some_and(Signed::is_negative) {
        coefficients
            .iter_mut()
            .for_each(|number| *number = -&*number);
    }
    coefficients
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::{cycles, places, writhe};

    /// Word, how often, strands, length of its rings, writhe, coefficients,
    /// determinant.
    type Row<'a> = (&'a [i32], usize, usize, &'a [usize], i32, &'a [i64], i64);

    /// C. Livingston and A. H. Moore, `KnotInfo` and `LinkInfo`, knotinfo.math.indiana.edu;
    /// the last three from Burau's matrix elsewhere.
    const ROWS: [Row<'_>; 16] = [
        (&[1], 2, 2, &[1, 1], 2, &[1, -1], 2),
        (&[1], 3, 2, &[2], 3, &[1, -1, 1], 3),
        (&[1], 4, 2, &[1, 1], 4, &[1, -1, 1, -1], 4),
        (&[1], 5, 2, &[2], 5, &[1, -1, 1, -1, 1], 5),
        (&[1, 2], 1, 3, &[3], 2, &[1], 1),
        (&[1, -2], 2, 3, &[3], 0, &[1, -3, 1], 5),
        (&[1, -2], 3, 3, &[1, 1, 1], 0, &[1, -4, 6, -4, 1], 16),
        (&[1, 2], 3, 3, &[1, 1, 1], 6, &[1, -1, 0, -1, 1], 4),
        (&[1, 2], 4, 3, &[3], 8, &[1, -1, 0, 1, 0, -1, 1], 3),
        (&[1, 2], 5, 3, &[3], 10, &[1, -1, 0, 1, -1, 1, 0, -1, 1], 1),
        (&[1, 1, 1, 2, -1, 2], 1, 3, &[3], 4, &[2, -3, 2], 7),
        (
            &[-1, -1, -1, 2, -1, 2],
            1,
            3,
            &[3],
            -2,
            &[1, -3, 3, -3, 1],
            11,
        ),
        (
            &[-1, -1, 2, -1, 2, 2],
            1,
            3,
            &[3],
            0,
            &[1, -3, 5, -3, 1],
            13,
        ),
        (&[1, 3, -2], 1, 4, &[4], 1, &[1], 1),
        (&[1, 3, -2], 2, 4, &[2, 2], 2, &[1, -5, 5, -1], 12),
        (
            &[1, 3, -2],
            4,
            4,
            &[1, 1, 1, 1],
            4,
            &[1, -9, 32, -64, 86, -86, 64, -32, 9, -1],
            384,
        ),
    ];

    #[test]
    fn closures_have_the_polynomials_of_the_tables() {
        for (once, times, strands, rings, crossings, coefficients, size) in ROWS {
            let word = once.repeat(times);
            let found = cycles(&places(&word, strands));
            let lengths: Vec<usize> = found.iter().map(Vec::len).collect();
            assert_eq!(lengths, rings, "{word:?}");
            assert_eq!(writhe(&word), crossings, "{word:?}");
            let expected: Vec<BigInt> = coefficients.iter().map(|&c| BigInt::from(c)).collect();
            assert_eq!(alexander(&word, strands), expected, "{word:?}");
            assert_eq!(determinant(&word, strands), BigInt::from(size), "{word:?}");
        }
    }

    #[test]
    fn determinants_of_plaits_are_lucas_numbers_less_two() {
        let (mut lucas, mut next) = (BigInt::from(2), BigInt::from(1));
        for crossings in 1..=60 {
            (lucas, next) = (next.clone(), lucas + next);
            if crossings % 2 == 0 {
                let found = determinant(&[1, -2].repeat(crossings / 2), 3);
                assert_eq!(found, &lucas - 2, "{crossings} crossings");
            }
        }
    }

    #[test]
    fn the_polynomial_does_not_depend_on_the_start_or_on_a_strand_laid_on() {
        let word = [1, 2, -3, 1, -2, 3, 3, 1, -2];
        let expected = alexander(&word, 4);
        let turned = [&word[4..], &word[..4]].concat();
        assert_eq!(alexander(&turned, 4), expected);
        // Markov's second move.
        assert_eq!(alexander(&[&word[..], &[4]].concat(), 5), expected);
        assert_eq!(alexander(&[&word[..], &[-4]].concat(), 5), expected);
    }

    #[test]
    fn a_link_that_falls_apart_has_none() {
        assert_eq!(alexander(&[1, -2], 4), []);
        assert_eq!(alexander(&[], 3), []);
    }

    #[test]
    fn bigelows_braid_has_the_matrix_of_no_crossings() {
        let prime = primes().next().expect("a prime");
        let word = crate::topology::curves::bigelow();
        for t in [2, 3, 1_000_003] {
            assert_eq!(burau(&word, 5, t, prime), burau(&[], 5, t, prime));
        }
    }
}
