//! Whole numbers put together from their remainders.
//!
//! A polynomial with whole coefficients is worked out modulo several primes, each
//! time from its values, and put together by the Chinese remainder theorem.

use num_bigint::BigInt;
use num_traits::{One, Signed, Zero};

/// Arithmetic modulo a prime below 2³¹.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Modulo(u64);

/// The primes below 2³¹, from the largest down.
pub(super) fn primes() -> impl Iterator<Item = Modulo> {
    let is_prime = |&number: &u64| (3..=46_341).step_by(2).all(|by| number % by != 0);
    (3..1 << 31).rev().step_by(2).filter(is_prime).map(Modulo)
}

impl Modulo {
    pub(super) fn sum(self, a: u64, b: u64) -> u64 {
        (a + b) % self.0
    }

    pub(super) fn difference(self, a: u64, b: u64) -> u64 {
        (a + self.0 - b) % self.0
    }

    pub(super) fn product(self, a: u64, b: u64) -> u64 {
        a * b % self.0
    }

    pub(super) fn power(self, base: u64, mut exponent: u64) -> u64 {
        let (mut power, mut square) = (1, base % self.0);
        while exponent > 0 {
            if exponent % 2 == 1 {
                power = self.product(power, square);
            }
            square = self.product(square, square);
            exponent /= 2;
        }
        power
    }

    /// One over a number that is not zero.
    pub(super) fn reciprocal(self, number: u64) -> u64 {
        self.power(number, self.0 - 2)
    }

    /// Determinant of a square matrix, by elimination.
    pub(super) fn determinant(self, mut rows: Vec<Vec<u64>>) -> u64 {
        let mut product = 1;
        for column in 0..rows.len() {
            let Some(pivot) = (column..rows.len()).find(|&row| rows[row][column] != 0) else {
                return 0;
            };
            if pivot != column {
                rows.swap(pivot, column);
                product = self.difference(0, product);
            }
            let (above, below) = rows.split_at_mut(column + 1);
            let pivot = &above[column];
            product = self.product(product, pivot[column]);
            let over = self.reciprocal(pivot[column]);
            for row in below {
                let times = self.product(row[column], over);
                for (entry, &above) in row[column..].iter_mut().zip(&pivot[column..]) {
                    *entry = self.difference(*entry, self.product(times, above));
                }
            }
        }
        product
    }

    /// Coefficients, lowest first, of the polynomial with these values at 1, 2,
    /// 3 and so on.
    pub(super) fn interpolated(self, values: &[u64]) -> Vec<u64> {
        // Newton's divided differences, then Horner's scheme.
        let mut divided = values.to_vec();
        for order in 1..values.len() {
            let over = self.reciprocal(order as u64);
            for at in (order..values.len()).rev() {
                let rise = self.difference(divided[at], divided[at - 1]);
                divided[at] = self.product(rise, over);
            }
        }
        let mut coefficients = vec![0; values.len()];
        for (at, &leading) in divided.iter().enumerate().rev() {
            let node = at as u64 + 1;
            for degree in (0..coefficients.len()).rev() {
                let lower = if degree > 0 {
                    coefficients[degree - 1]
                } else {
                    leading
                };
                let times = self.product(coefficients[degree], node);
                coefficients[degree] = self.difference(lower, times);
            }
        }
        coefficients
    }
}

/// Numbers known by their remainders modulo a growing product of primes.
#[derive(Debug)]
pub(super) struct Remainders {
    product: BigInt,
    numbers: Vec<BigInt>,
}

impl Remainders {
    /// So many numbers of which nothing is known.
    pub(super) fn unknown(count: usize) -> Self {
        Self {
            product: BigInt::one(),
            numbers: vec![BigInt::zero(); count],
        }
    }

    /// Takes in the remainders modulo one more prime.
    pub(super) fn learn(&mut self, prime: Modulo, remainders: &[u64]) {
        let small = |number: &BigInt| {
            let rest = number % BigInt::from(prime.0);
            u64::try_from(rest).expect("a remainder of a number not below zero")
        };
        let over = prime.reciprocal(small(&self.product));
        for (number, &remainder) in self.numbers.iter_mut().zip(remainders) {
            let lacks = prime.difference(remainder, small(number));
            *number += &self.product * prime.product(lacks, over);
        }
        self.product *= prime.0;
    }

    /// Whether numbers of so many bits, and their sign, are known.
    pub(super) fn tell(&self, bits: f64) -> bool {
        self.product.bits() as f64 > bits + 2.0
    }

    /// The numbers, those above half the product taken as negative.
    pub(super) fn numbers(self) -> Vec<BigInt> {
        let Self { product, numbers } = self;
        let signed = |number: BigInt| {
            if (&number * 2_u8).abs() > product {
                number - &product
            } else {
                number
            }
        };
        numbers.into_iter().map(signed).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_primes_below_two_to_the_thirty_first_are_found() {
        let found: Vec<u64> = primes().take(3).map(|prime| prime.0).collect();
        // Mersenne's prime, and its neighbours in tables.
        assert_eq!(found, [2_147_483_647, 2_147_483_629, 2_147_483_587]);
    }

    #[test]
    fn a_polynomial_is_found_from_its_values() {
        let prime = Modulo(97);
        let at = |t: u64| (5 + 3 * t + 7 * t * t * t) % 97;
        let values: Vec<u64> = (1..=6).map(at).collect();
        assert_eq!(prime.interpolated(&values), [5, 3, 0, 7, 0, 0]);
    }

    #[test]
    fn a_determinant_with_a_zero_in_its_corner_keeps_its_sign() {
        let prime = Modulo(97);
        let rows = vec![vec![0, 2, 1], vec![1, 0, 0], vec![3, 4, 5]];
        assert_eq!(prime.determinant(rows), 97 - 6);
    }

    #[test]
    fn numbers_of_either_sign_come_back_from_their_remainders() {
        let wanted = [BigInt::from(-3_i64), BigInt::from(1_i64 << 40)];
        let mut known = Remainders::unknown(2);
        for prime in primes().take(3) {
            let rest = |number: &BigInt| {
                let p = BigInt::from(prime.0);
                u64::try_from(((number % &p) + &p) % &p).expect("small")
            };
            known.learn(prime, &[rest(&wanted[0]), rest(&wanted[1])]);
        }
        assert!(known.tell(42.0));
        assert_eq!(known.numbers(), wanted);
    }
}
