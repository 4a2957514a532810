//! Small words: counts spelled out, plain numbers, lengths in the maker's unit.

use crate::quantity::{Length, UnitSystem};

/// A length in mm, shown in the maker's unit.
pub(super) fn length(mm: f64, units: UnitSystem) -> String {
    Length::from_mm(mm).shown(units)
}

/// A count up to twelve in letters, above in digits.
pub(super) fn count(n: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(n)
        .map_or_else(|| n.to_string(), ToString::to_string)
}

/// A number with no more decimals than it needs: at most three.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_spelled_out_up_to_twelve() {
        assert_eq!(count(3), "three");
        assert_eq!(count(13), "13");
    }

    #[test]
    fn numbers_have_no_idle_zeros() {
        assert_eq!(number(70.0), "70");
        assert_eq!(number(0.6), "0.6");
        assert_eq!(number(-3.25), "−3.25");
    }
}
