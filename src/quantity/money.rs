//! Money: exact decimal amounts without a currency of their own.

use std::iter::Sum;
use std::ops::{Add, Sub};

use rust_decimal::prelude::FromPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Serialize};

/// An exact decimal amount; the maker's currency is a label elsewhere.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
pub struct Money(#[serde(with = "rust_decimal::serde::str")] Decimal);

impl Money {
    /// An amount.
    pub fn new(amount: Decimal) -> Self {
        Self(amount)
    }

    /// The amount.
    pub fn amount(self) -> Decimal {
        self.0
    }

    /// As many times this, unrounded; nothing for what is no number.
    pub fn times(self, count: f64) -> Self {
        let count = Decimal::from_f64(count).unwrap_or_default();
        Self(self.0.checked_mul(count).unwrap_or(Decimal::MAX))
    }

    /// To so many decimal places, halves away from nought, as shops do.
    pub fn rounded(self, places: u8) -> Self {
        let strategy = RoundingStrategy::MidpointAwayFromZero;
        Self(self.0.round_dp_with_strategy(places.into(), strategy))
    }
}

impl Add for Money {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Money {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::default(), Add::add)
    }
}
