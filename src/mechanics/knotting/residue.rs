//! Exact arithmetic with the remainders of a large prime.
//!
//! A polynomial that is not zero has at most as many zeros as its degree, so at
//! a place taken at random from 2⁶¹ it is zero about never (J. Schwartz, *Fast
//! probabilistic algorithms for verification of polynomial identities*, Journal
//! of the ACM 27, 1980). Two polynomials of the degrees met here, a few
//! thousand, that agree at one such place are the same but for a chance of 10⁻¹⁴.

use std::ops::{Add, Mul, Neg, Sub};

/// 2⁶¹ − 1, a prime (Pervouchine 1883): remainders need no division.
const PRIME: u64 = (1 << 61) - 1;

/// A remainder after division by 2⁶¹ − 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Residue(u64);

impl Residue {
    pub(super) const ZERO: Self = Self(0);
    pub(super) const ONE: Self = Self(1);

    /// A place of no meaning to evaluate at, the same for the same number; not 0
    /// and not 1. Mixed as by `SplitMix64` (G. Steele, D. Lea, C. Flood, *Fast
    /// splittable pseudorandom number generators*, OOPSLA 2014).
    pub(super) fn scattered(number: u64) -> Self {
        Self(2 + scatter(number) % (PRIME - 2))
    }

    /// One over this.
    ///
    /// Zero for zero, which has none; whoever divides by a scattered value never
    /// meets it.
    pub(super) fn inverse(self) -> Self {
        let (mut power, mut left, mut inverse) = (self, PRIME - 2, Self::ONE);
        while left > 0 {
            if left & 1 == 1 {
                inverse = inverse * power;
            }
            power = power * power;
            left >>= 1;
        }
        inverse
    }
}

/// 64 bits that depend on every bit of `number`.
pub(super) fn scatter(number: u64) -> u64 {
    let mixed = number.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    let mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}

fn reduced(value: u64) -> Residue {
    let folded = (value & PRIME) + (value >> 61);
    Residue(if folded >= PRIME {
        folded - PRIME
    } else {
        folded
    })
}

impl Add for Residue {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        reduced(self.0 + other.0)
    }
}

impl Sub for Residue {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        reduced(self.0 + PRIME - other.0)
    }
}

impl Neg for Residue {
    type Output = Self;
    fn neg(self) -> Self {
        Self::ZERO - self
    }
}

impl Mul for Residue {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let product = u128::from(self.0) * u128::from(other.0);
        let low = product as u64 & PRIME;
        reduced(low + (product >> 61) as u64)
    }
}

/// The determinant of as many rows as they are long; 1 of none.
pub(super) fn determinant(mut rows: Vec<Vec<Residue>>) -> Residue {
    let mut product = Residue::ONE;
    for column in 0..rows.len() {
        let Some(pivot) = (column..rows.len()).find(|&row| rows[row][column] != Residue::ZERO)
        else {
            return Residue::ZERO;
        };
        if pivot != column {
            rows.swap(pivot, column);
            product = -product;
        }
        product = product * rows[column][column];
        clear_below(&mut rows, column);
    }
    product
}

fn clear_below(rows: &mut [Vec<Residue>], column: usize) {
    let (upper, lower) = rows.split_at_mut(column + 1);
    let pivot = &upper[column];
    let over = pivot[column].inverse();
    for row in lower.iter_mut().filter(|row| row[column] != Residue::ZERO) {
        let share = row[column] * over;
        for (entry, &of_pivot) in row.iter_mut().zip(pivot).skip(column) {
            *entry = *entry - share * of_pivot;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_and_products_agree_with_long_arithmetic() {
        let prime = u128::from(PRIME);
        for number in 0..500 {
            let (a, b) = (Residue::scattered(number), Residue::scattered(number + 777));
            let (x, y) = (u128::from(a.0), u128::from(b.0));
            assert_eq!(u128::from((a + b).0), (x + y) % prime);
            assert_eq!(u128::from((a * b).0), (x * y) % prime);
            assert_eq!((a - b) + b, a);
            assert_eq!(a * a.inverse(), Residue::ONE);
            assert_eq!(a + -a, Residue::ZERO);
        }
    }

    /// Vandermonde: the product of all differences.
    #[test]
    fn the_determinant_of_powers_is_the_product_of_the_differences() {
        let places: Vec<Residue> = (0..6).map(Residue::scattered).collect();
        let row = |&place: &Residue| {
            std::iter::successors(Some(Residue::ONE), |&power| Some(power * place))
                .take(places.len())
                .collect()
        };
        let mut product = Residue::ONE;
        for (at, &a) in places.iter().enumerate() {
            for &b in &places[..at] {
                product = product * (a - b);
            }
        }
        assert_eq!(determinant(places.iter().map(row).collect()), product);
        let twice = vec![vec![Residue::ONE; 2]; 2];
        assert_eq!(determinant(twice), Residue::ZERO);
    }
}
