//! Reading what people type: `1/4in`, `6,5 mm`, `.25"`, `1 1/8 in`, `1⅛″`, `2 cm`.
//!
//! Comma and dot both divide the whole from the part; there are no thousands
//! marks, and a number with both is refused rather than guessed at. Capitals
//! and spaces do not matter.

use super::gauge;
use super::{GRAMS_PER_OUNCE, Length, MM_PER_INCH, MM_PER_YARD, Mass, UnitSystem};

/// Why a text is not a number; each sentence names what was typed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReadNumberError {
    /// Nothing typed.
    #[error("type a number, like 6.5")]
    Empty,
    /// Not a number at all.
    #[error("\"{0}\" is not a number; write it like 6.5 or 1/4")]
    NotANumber(String),
    /// Both comma and dot.
    #[error("\"{0}\" has thousands marks; write it without")]
    Thousands(String),
    /// A fraction with nothing below the line.
    #[error("\"{0}\" divides by zero")]
    DividesByZero(String),
    /// More than the program can hold.
    #[error("\"{0}\" is far too large")]
    TooLarge(String),
    /// No number of a wire.
    #[error("\"{0}\" is no gauge of wire; write it like 18 AWG, from 4/0 to 40")]
    NoGauge(String),
}

/// Why a text is not a length or a mass; each sentence names what was typed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReadQuantityError {
    /// The number is at fault.
    #[error(transparent)]
    Number(#[from] ReadNumberError),
    /// The unit is at fault.
    #[error("\"{typed}\" has no unit that is known here; there are {units}")]
    UnknownUnit {
        /// What was typed.
        typed: String,
        /// The units there are.
        units: &'static str,
    },
}

/// A unit's names and its size.
type Unit = (&'static [&'static str], f64);

const LENGTHS: [Unit; 6] = [
    (
        &[
            "mm",
            "millimetre",
            "millimetres",
            "millimeter",
            "millimeters",
        ],
        1.0,
    ),
    (
        &[
            "cm",
            "centimetre",
            "centimetres",
            "centimeter",
            "centimeters",
        ],
        10.0,
    ),
    (&["m", "metre", "metres", "meter", "meters"], 1000.0),
    (
        &[
            "in", "in.", "inch", "inches", "\"", "″", "”", "“", "''", "′′", "’’",
        ],
        MM_PER_INCH,
    ),
    (&["ft", "foot", "feet"], 12.0 * MM_PER_INCH),
    (&["yd", "yard", "yards"], MM_PER_YARD),
];

const MASSES: [Unit; 4] = [
    (&["g", "gr", "gram", "grams", "gramme", "grammes"], 1.0),
    (&["kg", "kilogram", "kilograms"], 1000.0),
    (&["oz", "ounce", "ounces"], GRAMS_PER_OUNCE),
    (&["lb", "lbs", "pound", "pounds"], 16.0 * GRAMS_PER_OUNCE),
];

impl Length {
    /// The length that was typed; a plain number is in mm or inches as `units` says.
    ///
    /// # Errors
    ///
    /// [`ReadQuantityError`] with what was typed.
    pub fn read(text: &str, units: UnitSystem) -> Result<Self, ReadQuantityError> {
        let plain = match units {
            UnitSystem::Millimetres => 1.0,
            UnitSystem::Inches => MM_PER_INCH,
        };
        if let Some(gauge) = gauge::typed(text) {
            let wire = gauge.ok_or_else(|| ReadNumberError::NoGauge(quoted(text)))?;
            return Ok(Self::from_mm(gauge::wire(wire)));
        }
        read(text, &LENGTHS, plain, "mm, cm, m, in, ft, yd and AWG").map(Self::from_mm)
    }
}

impl Mass {
    /// The mass that was typed; a plain number is in grams or ounces as `units` says.
    ///
    /// # Errors
    ///
    /// [`ReadQuantityError`] with what was typed.
    pub fn read(text: &str, units: UnitSystem) -> Result<Self, ReadQuantityError> {
        let plain = match units {
            UnitSystem::Millimetres => 1.0,
            UnitSystem::Inches => GRAMS_PER_OUNCE,
        };
        read(text, &MASSES, plain, "g, kg, oz and lb").map(Self::from_grams)
    }
}

/// A number with a unit of a list, in the list's first unit.
fn read(
    text: &str,
    known: &[Unit],
    plain: f64,
    units: &'static str,
) -> Result<f64, ReadQuantityError> {
    let typed = text.trim().to_lowercase();
    let (number, unit) = typed.split_at(end_of_number(&typed));
    let number = read_typed(number, text)?;
    let unit = unit.trim();
    if unit.is_empty() {
        return Ok(in_range(number * plain, text)?);
    }
    let size = known.iter().find(|(names, _)| names.contains(&unit));
    let Some(&(_, size)) = size else {
        let typed = quoted(text);
        return Err(ReadQuantityError::UnknownUnit { typed, units });
    };
    Ok(in_range(number * size, text)?)
}

/// Where the unit begins: behind the last digit or fraction, and a comma or dot on it.
fn end_of_number(typed: &str) -> usize {
    let is_digit = |c: char| c.is_ascii_digit() || part(c).is_some();
    let Some((at, last)) = typed.char_indices().rfind(|&(_, c)| is_digit(c)) else {
        return 0;
    };
    let end = at + last.len_utf8();
    end + usize::from(typed[end..].starts_with([',', '.']))
}

/// The number that was typed, with comma or dot, or as a fraction: `6,5`, `1 1/8`, `1⅛`.
///
/// Minus is `-` or `−`. Never infinite, never NaN.
///
/// # Errors
///
/// [`ReadNumberError`] with what was typed.
pub fn read_number(text: &str) -> Result<f64, ReadNumberError> {
    read_typed(text, text)
}

/// The number at the beginning of what was typed.
fn read_typed(number: &str, typed: &str) -> Result<f64, ReadNumberError> {
    if typed.trim().is_empty() {
        return Err(ReadNumberError::Empty);
    }
    let number = number.trim();
    let negative = number.strip_prefix(['-', '−']);
    let unsigned = negative.or_else(|| number.strip_prefix('+'));
    let size = unsigned_number(unsigned.unwrap_or(number).trim_start());
    let size = size.map_err(|fault| fault(quoted(typed)))?;
    in_range(if negative.is_some() { -size } else { size }, typed)
}

fn in_range(number: f64, typed: &str) -> Result<f64, ReadNumberError> {
    if number.is_finite() {
        return Ok(number);
    }
    Err(ReadNumberError::TooLarge(quoted(typed)))
}

/// What is wrong, still without what was typed.
type Fault = fn(String) -> ReadNumberError;

fn unsigned_number(text: &str) -> Result<f64, Fault> {
    let last = text.chars().next_back();
    if let Some((last, fraction)) = last.and_then(|c| Some((c, part(c)?))) {
        return match text[..text.len() - last.len_utf8()].trim_end() {
            "" => Ok(fraction),
            whole => Ok(count(whole)? + fraction),
        };
    }
    let Some((above, below)) = text.split_once(['/', '⁄', '∕']) else {
        return decimal(text);
    };
    let (whole, above) = match above
        .trim_end()
        .rsplit_once([' ', '-', '\u{a0}', '\u{202f}'])
    {
        Some((whole, above)) => (count(whole.trim())?, above),
        None => (0.0, above),
    };
    let (above, below) = (count(above.trim())?, count(below.trim())?);
    if below == 0.0 {
        return Err(ReadNumberError::DividesByZero);
    }
    Ok(whole + above / below)
}

/// A whole number of digits alone.
fn count(text: &str) -> Result<f64, Fault> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(ReadNumberError::NotANumber);
    }
    text.parse().or(Err(ReadNumberError::NotANumber))
}

/// A number with at most one comma or dot.
fn decimal(text: &str) -> Result<f64, Fault> {
    let mark = |c: char| c == ',' || c == '.';
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let marks = text.chars().filter(|&c| mark(c)).count();
    if digits == 0 || digits + marks != text.chars().count() {
        return Err(ReadNumberError::NotANumber);
    }
    if marks > 1 {
        return Err(ReadNumberError::Thousands);
    }
    let text = text.replace(',', ".");
    text.parse().or(Err(ReadNumberError::NotANumber))
}

/// The value of a fraction that is one character.
fn part(c: char) -> Option<f64> {
    let (above, below) = match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some(f64::from(above) / f64::from(below))
}

/// What was typed, short enough to be read back in a sentence.
fn quoted(typed: &str) -> String {
    const LONGEST: usize = 40;
    let typed = typed.trim();
    if typed.chars().count() <= LONGEST {
        return typed.to_owned();
    }
    typed.chars().take(LONGEST).chain(['…']).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> f64 {
        Length::read(text, UnitSystem::Millimetres).unwrap().mm()
    }

    fn refusal(text: &str) -> String {
        let refused = Length::read(text, UnitSystem::Millimetres).unwrap_err();
        refused.to_string()
    }

    #[test]
    fn lengths_are_read_however_they_are_typed() {
        for (text, wanted) in [
            ("1/4in", 6.35),
            ("6,5 mm", 6.5),
            ("6.5MM", 6.5),
            (".25\"", 6.35),
            ("1 1/8 in", 28.575),
            ("1-1/8 inches", 28.575),
            ("1⅛″", 28.575),
            ("1 ⅛ ”", 28.575),
            ("3⁄16 in", 4.7625),
            ("½ inch", 12.7),
            ("2 cm", 20.0),
            ("1,5 m", 1500.0),
            ("1 ft", 304.8),
            ("  7 ", 7.0),
            ("7. mm", 7.0),
            ("+3", 3.0),
            ("−3,5 mm", -3.5),
            ("6.5\u{a0}mm", 6.5),
            ("36 awg", 0.127),
            ("AWG 4/0", 11.684),
        ] {
            assert!((mm(text) - wanted).abs() < 1e-9, "{text}: {}", mm(text));
        }
    }

    #[test]
    fn a_plain_number_is_in_the_units_of_the_maker() {
        let quarter = Length::read("1/4", UnitSystem::Inches).unwrap();
        assert!((quarter.mm() - 6.35).abs() < 1e-12);
        let ounces = Mass::read("2", UnitSystem::Inches).unwrap();
        assert!((ounces.grams() - 56.699).abs() < 1e-3);
        assert_eq!(
            Mass::read("70 g", UnitSystem::Inches).unwrap().grams(),
            70.0
        );
    }

    #[test]
    fn what_is_no_length_is_refused_in_one_sentence_with_what_was_typed() {
        for (text, wanted) in [
            ("", "type a number, like 6.5"),
            ("thin", "\"thin\" is not a number; write it like 6.5 or 1/4"),
            ("NaN", "\"NaN\" is not a number; write it like 6.5 or 1/4"),
            ("inf", "\"inf\" is not a number; write it like 6.5 or 1/4"),
            ("1e3", "\"1e3\" is not a number; write it like 6.5 or 1/4"),
            (
                "1/2/3",
                "\"1/2/3\" is not a number; write it like 6.5 or 1/4",
            ),
            (
                "1,234.5 mm",
                "\"1,234.5 mm\" has thousands marks; write it without",
            ),
            ("1/0 in", "\"1/0 in\" divides by zero"),
            (
                "6 apples",
                "\"6 apples\" has no unit that is known here; there are mm, cm, m, in, ft, yd and AWG",
            ),
            (
                "18.5 AWG",
                "\"18.5 AWG\" is no gauge of wire; write it like 18 AWG, from 4/0 to 40",
            ),
        ] {
            assert_eq!(refusal(text), wanted);
        }
        let endless = "9".repeat(400);
        assert!(
            refusal(&endless).ends_with("…\" is far too large"),
            "{}",
            refusal(&endless)
        );
    }

    proptest::proptest! {
        #[test]
        fn nothing_typed_brings_the_reader_down(text in "\\PC{0,12}") {
            if let Ok(length) = Length::read(&text, UnitSystem::Inches) {
                assert!(length.mm().is_finite());
            }
        }

        #[test]
        fn scrambled_numbers_give_a_finite_length_or_a_sentence(text in "[-−0-9/⁄.,½⅛ inm\"″]{0,9}") {
            match Length::read(&text, UnitSystem::Millimetres) {
                Ok(length) => assert!(length.mm().is_finite()),
                Err(refused) => assert!(!refused.to_string().contains('\n')),
            }
        }
    }
}
