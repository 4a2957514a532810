//! Small words: counts spelled out, plain numbers, lengths in the maker's unit.

use crate::material::Colour;
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

/// Plain names for colours that are offered side by side; a second one of the
/// same name is counted: "teal", "teal 2".
pub(super) fn colours(offered: &[Colour]) -> Vec<String> {
    let name = |place: usize, colour: &Colour| {
        let before = &offered[..place];
        match before.iter().filter(|c| c.name() == colour.name()).count() {
            0 => colour.name().to_owned(),
            alike => format!("{} {}", colour.name(), alike + 1),
        }
    };
    let places = offered.iter().enumerate();
    places.map(|(place, colour)| name(place, colour)).collect()
}

/// Words as a list: "teal", "teal and sand", "teal, sand and cream".
pub(super) fn list(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_of_one_name_are_counted() {
        let [teal, near, rust] = [[0x1f, 0x7c, 0x7c], [0x1f, 0x7c, 0x7d], [0xa8, 0x4a, 0x26]];
        let names = colours(&[Colour(teal), Colour(near), Colour(rust)]);
        assert_eq!(names, ["teal", "teal 2", "rust"]);
    }

    #[test]
    fn words_are_listed_as_one_says_them() {
        assert_eq!(list(&["teal"]), "teal");
        assert_eq!(list(&["teal", "sand", "cream"]), "teal, sand and cream");
    }

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
