//! Money: exact decimal amounts without a currency of their own.
//!
//! Nothing is rounded on the way: whoever makes up a bill rounds each line once
//! and adds up rounded lines, so that the sum is that of what can be read.

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

/// Why a text is not an amount of money; each sentence names what was typed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReadMoneyError {
    /// Nothing typed.
    #[error("type an amount, like 12.50")]
    Empty,
    /// Not an amount at all, or less than nothing.
    #[error("\"{0}\" is not an amount; write it like 12.50 or 1 200")]
    NotAnAmount(String),
    /// Both comma and dot, or one of them twice.
    #[error("\"{0}\" has thousands marks; write it without, or with spaces")]
    Thousands(String),
    /// Finer than the smallest unit, or thousands with a mark: not guessed at.
    #[error("\"{typed}\" has {found} decimal places, and the smallest unit has {places}")]
    TooFine {
        /// What was typed.
        typed: String,
        /// Its decimal places.
        found: usize,
        /// Those there are.
        places: u8,
    },
    /// More than anybody asks.
    #[error("\"{0}\" is far too large")]
    TooLarge(String),
}

/// Most digits before the decimal mark: a thousand million and no more.
const MOST_DIGITS: usize = 10;

impl Money {
    /// An amount.
    pub fn new(amount: Decimal) -> Self {
        Self(amount)
    }

    /// The amount that was typed, in a currency whose smallest unit has so many
    /// decimal places: `12,50`, `12.50`, `1 200`.
    ///
    /// Spaces may part groups of three digits. Comma and dot both divide the whole
    /// from the part; what has more places than there are is refused, for it may
    /// have been meant as thousands.
    ///
    /// # Errors
    ///
    /// [`ReadMoneyError`] with what was typed.
    pub fn read(text: &str, places: u8) -> Result<Self, ReadMoneyError> {
        let typed = text.trim();
        if typed.is_empty() {
            return Err(ReadMoneyError::Empty);
        }
        let quoted = || typed.chars().take(40).collect::<String>();
        let is_mark = |c: char| c == ',' || c == '.';
        if typed.matches(is_mark).count() > 1 {
            return Err(ReadMoneyError::Thousands(quoted()));
        }
        let (whole, part) = typed.split_once(is_mark).unwrap_or((typed, ""));
        let whole = ungrouped(whole).ok_or_else(|| ReadMoneyError::NotAnAmount(quoted()))?;
        let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
        if !digits(part) || (whole.is_empty() && part.is_empty()) {
            return Err(ReadMoneyError::NotAnAmount(quoted()));
        }
        if part.len() > usize::from(places) {
            return Err(ReadMoneyError::TooFine {
                typed: quoted(),
                found: part.len(),
                places,
            });
        }
        if whole.len() > MOST_DIGITS {
            return Err(ReadMoneyError::TooLarge(quoted()));
        }
        let amount = format!("{}{whole}.{part}0", if whole.is_empty() { "0" } else { "" });
        let amount = Decimal::from_str_exact(&amount);
        let amount = amount.map_err(|_unread| ReadMoneyError::NotAnAmount(quoted()))?;
        Ok(Self(amount.normalize()))
    }

    /// The amount.
    pub fn amount(self) -> Decimal {
        self.0
    }

    /// As many times this, unrounded; nothing for what is no number.
    pub fn times(self, count: f64) -> Self {
        let count = Decimal::from_f64(count).unwrap_or_default();
        Self(self.0.saturating_mul(count))
    }

    /// So many per cent of this, unrounded.
    pub fn per_cent(self, share: f64) -> Self {
        let share = Decimal::from_f64(share).unwrap_or_default();
        Self(self.0.saturating_mul(share) / Decimal::ONE_HUNDRED)
    }

    /// One of so many equal shares of it, unrounded; all of it for none.
    pub fn shared(self, among: u32) -> Self {
        Self(self.0 / Decimal::from(among.max(1)))
    }

    /// To so many decimal places, halves away from nought, as shops do.
    pub fn rounded(self, places: u8) -> Self {
        let strategy = RoundingStrategy::MidpointAwayFromZero;
        Self(self.0.round_dp_with_strategy(places.into(), strategy))
    }

    /// With so many decimal places, as it stands on a bill: `12.50`.
    pub fn shown(self, places: u8) -> String {
        let amount = self.rounded(places).0;
        let text = format!("{:.*}", usize::from(places), amount.abs());
        if amount.is_sign_negative() && !amount.is_zero() {
            return format!("−{text}");
        }
        text
    }
}

/// Digits without the spaces between groups of three.
fn ungrouped(whole: &str) -> Option<String> {
    let groups: Vec<&str> = whole
        .split([' ', '\u{a0}', '\u{202f}', '\u{2009}'])
        .collect();
    let plain = groups.iter().all(|g| g.bytes().all(|b| b.is_ascii_digit()));
    let in_threes = groups.len() == 1
        || ((1..=3).contains(&groups[0].len()) && groups[1..].iter().all(|g| g.len() == 3));
    (plain && in_threes).then(|| groups.concat())
}

impl Add for Money {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Money {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cents(count: i64) -> Money {
        Money::new(Decimal::new(count, 2))
    }

    #[test]
    fn amounts_are_read_however_they_are_typed() {
        for (text, wanted) in [
            ("12,50", 1250),
            ("12.50", 1250),
            ("12.5", 1250),
            (" 7 ", 700),
            ("1 200", 120_000),
            ("1\u{202f}200,05", 120_005),
            ("12 345 678.90", 1_234_567_890),
            (".50", 50),
            ("3.", 300),
            ("0", 0),
        ] {
            assert_eq!(Money::read(text, 2), Ok(cents(wanted)), "{text}");
        }
        assert_eq!(Money::read("1 200", 0), Ok(cents(120_000)));
    }

    #[test]
    fn what_is_no_amount_is_refused_in_one_sentence() {
        for (text, said) in [
            ("", "type an amount, like 12.50"),
            (
                "dear",
                "\"dear\" is not an amount; write it like 12.50 or 1 200",
            ),
            (
                "-3",
                "\"-3\" is not an amount; write it like 12.50 or 1 200",
            ),
            (
                "1 20",
                "\"1 20\" is not an amount; write it like 12.50 or 1 200",
            ),
            (",", "\",\" is not an amount; write it like 12.50 or 1 200"),
            (
                "1e3",
                "\"1e3\" is not an amount; write it like 12.50 or 1 200",
            ),
            (
                "1.200,50",
                "\"1.200,50\" has thousands marks; write it without, or with spaces",
            ),
            (
                "1.200",
                "\"1.200\" has 3 decimal places, and the smallest unit has 2",
            ),
            ("12345678901", "\"12345678901\" is far too large"),
        ] {
            assert_eq!(Money::read(text, 2).unwrap_err().to_string(), said);
        }
    }

    #[test]
    fn a_tenth_is_a_tenth() {
        // In binary three tenths are not thrice a tenth.
        let tenth = Money::read("0.1", 2).unwrap();
        assert_eq!(tenth + tenth + tenth, Money::read("0.3", 2).unwrap());
        assert_eq!(tenth.times(3.0), Money::read("0.3", 2).unwrap());
        assert_eq!(cents(1999).per_cent(7.5).rounded(2), cents(150));
        assert_eq!(cents(-250).shown(2), "−2.50");
        assert_eq!(cents(1250).shown(0), "13");
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_back_the_same(count in 0_i64..10_000_000_000, places in 0_u8..5) {
            let amount = Money::new(Decimal::new(count, places.into()));
            prop_assert_eq!(Money::read(&amount.shown(places), places), Ok(amount));
        }

        #[test]
        fn arithmetic_is_that_of_the_decimal_library(a in -1_000_000_000_i64..1_000_000_000, b in -1_000_000_000_i64..1_000_000_000, count in 0_u16..1000) {
            let (one, other) = (Decimal::new(a, 2), Decimal::new(b, 4));
            let both = Money::new(one) + Money::new(other);
            prop_assert_eq!(both.amount(), one + other);
            prop_assert_eq!((both - Money::new(other)).amount(), one);
            let times = Money::new(other).times(count.into());
            prop_assert_eq!(times.amount(), other * Decimal::from(count));
        }

        #[test]
        fn a_sum_of_rounded_lines_is_exact_in_any_order(counts in prop::collection::vec(-100_000_i64..100_000, 0..40)) {
            let lines: Vec<_> = counts.iter().map(|&n| cents(n)).collect();
            let sum: Money = lines.iter().copied().sum();
            prop_assert_eq!(sum, cents(counts.iter().sum()));
            prop_assert_eq!(lines.into_iter().rev().sum::<Money>(), sum);
        }
    }
}
