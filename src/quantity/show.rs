//! Showing figures: `6.4 mm` with a spread of `5.9 to 7.0`, `−3.5 %`, `1⅛ in`.

use super::{Estimate, GRAMS_PER_OUNCE, Length, MM_PER_INCH, MM_PER_YARD, Mass, UnitSystem};

/// A figure with its unit, and its spread apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// The figure with its unit, such as `6.4 mm`; a dash when there is none.
    pub figure: String,
    /// From where to where it may lie, such as `5.9 to 7.0`, in the same unit;
    /// empty when both ends look like the figure.
    pub spread: String,
}

impl std::fmt::Display for Shown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.figure)?;
        if self.spread.is_empty() {
            return Ok(());
        }
        write!(f, " ({})", self.spread)
    }
}

/// Below this many inches a figure is shown in decimals: a sixty-fourth would
/// be too coarse for it.
const SMALLEST_FRACTION: f64 = 0.125;

/// How far a length may be from a sixty-fourth of an inch and still be one, in
/// inches: less than half of the last place it would be written to.
const NEARLY: f64 = 4e-5;

/// Sixty-fourths in an inch, the finest marks of a rule.
const FINEST: f64 = 64.0;

impl Length {
    /// As it was decided, so that it reads back within a thousandth of a
    /// millimetre or a ten-thousandth of an inch: `6.35 mm`, `1⅛ in`, `0.63 in`.
    pub fn written(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Millimetres => format!("{} mm", trimmed(self.mm, 3)),
            UnitSystem::Inches => format!("{} in", self.written_inches()),
        }
    }

    fn written_inches(self) -> String {
        let inches = self.inches();
        let nearest = (inches * FINEST).round() / FINEST;
        let rounded = (inches * 1e4).round() / 1e4;
        // Both, so that what is read back is written the same again.
        if (inches - nearest).abs() < NEARLY || (rounded - nearest).abs() < NEARLY {
            return fraction(inches);
        }
        trimmed(rounded, 4)
    }

    /// As thread is bought: `3.48 m`, `12.5 m`, `3.81 yd`.
    pub fn of_thread(self, units: UnitSystem) -> String {
        let (amount, unit) = match units {
            UnitSystem::Millimetres => (self.mm / 1000.0, "m"),
            UnitSystem::Inches => (self.mm / MM_PER_YARD, "yd"),
        };
        let places = match amount.abs() {
            size if size < 10.0 => 2,
            size if size < 100.0 => 1,
            _ => 0,
        };
        let number = decimals(amount, places);
        let number = number.strip_suffix(".00").unwrap_or(&number);
        format!("{number} {unit}")
    }

    /// As fine as a computed length can be meant: `6.4 mm`, `¼ in`, `0.025 in`.
    pub fn shown(self, units: UnitSystem) -> String {
        Estimate::exact(self.mm).length(units).figure
    }
}

impl Mass {
    /// As it was decided, so that it reads back within a thousandth: `70 g`, `2.5 oz`.
    pub fn written(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Millimetres => format!("{} g", trimmed(self.grams, 3)),
            UnitSystem::Inches => format!("{} oz", trimmed(self.ounces(), 3)),
        }
    }
}

impl Estimate {
    /// A length in mm, shown.
    pub fn length(self, units: UnitSystem) -> Shown {
        match units {
            UnitSystem::Millimetres => self.decimals(" mm"),
            UnitSystem::Inches => self.times(1.0 / MM_PER_INCH).as_inches(),
        }
    }

    fn as_inches(self) -> Shown {
        if self.value.abs() < SMALLEST_FRACTION {
            return self.shown(" in", |inches| decimals(inches, 3));
        }
        self.shown(" in", fraction)
    }

    /// A change in per cent, shown with its sign: `−3.5 %`, `+2.0 %`.
    pub fn change(self) -> Shown {
        self.shown(" %", |per_cent| {
            let plain = decimals(per_cent, 1);
            let rises = !plain.starts_with('−') && plain != "0.0";
            if rises { format!("+{plain}") } else { plain }
        })
    }

    /// A share in per cent, shown: `87 %`.
    pub fn per_cent(self) -> Shown {
        self.shown(" %", |per_cent| decimals(per_cent, 0))
    }

    /// A plain ratio such as take-up, shown: `1.53`.
    pub fn ratio(self) -> Shown {
        self.shown("", |ratio| decimals(ratio, 2))
    }

    /// Grams for a metre, shown: `13.1 g/m` or `0.42 oz/yd`.
    pub fn mass_of_length(self, units: UnitSystem) -> Shown {
        match units {
            UnitSystem::Millimetres => self.decimals(" g/m"),
            UnitSystem::Inches => self
                .times(MM_PER_YARD / 1000.0 / GRAMS_PER_OUNCE)
                .decimals(" oz/yd"),
        }
    }

    /// So many for a centimetre, shown: `10.2 per cm` or `25.9 per in`.
    pub fn count_of_length(self, units: UnitSystem) -> Shown {
        match units {
            UnitSystem::Millimetres => self.decimals(" per cm"),
            UnitSystem::Inches => self.times(MM_PER_INCH / 10.0).decimals(" per in"),
        }
    }

    /// Grams, shown.
    pub fn mass(self, units: UnitSystem) -> Shown {
        match units {
            UnitSystem::Millimetres => self.decimals(" g"),
            UnitSystem::Inches => self.times(1.0 / GRAMS_PER_OUNCE).decimals(" oz"),
        }
    }

    /// In decimals, as many for the ends as the figure has.
    fn decimals(self, unit: &str) -> Shown {
        let places = places(self.value);
        self.shown(unit, |number| decimals(number, places))
    }

    fn shown(self, unit: &str, number: impl Fn(f64) -> String) -> Shown {
        let figure = number(self.value);
        let (low, high) = (number(self.low), number(self.high));
        let same = low == figure && high == figure;
        Shown {
            spread: if same {
                String::new()
            } else {
                format!("{low} to {high}")
            },
            figure: if self.value.is_finite() {
                format!("{figure}{unit}")
            } else {
                figure
            },
        }
    }
}

/// Decimal places of a figure of about three digits.
fn places(number: f64) -> usize {
    match number.abs() {
        size if size < 1.0 => 2,
        size if size < 100.0 => 1,
        _ => 0,
    }
}

/// A number with so many places and a true minus; a dash when it is not finite.
pub(super) fn decimals(number: f64, places: usize) -> String {
    if !number.is_finite() {
        return "–".to_owned();
    }
    let plain = format!("{:.places$}", number.abs());
    let is_zero = plain.bytes().all(|b| b == b'0' || b == b'.');
    if number < 0.0 && !is_zero {
        return format!("−{plain}");
    }
    plain
}

/// A number with at most so many places, without zeros at its end.
fn trimmed(number: f64, places: usize) -> String {
    let plain = decimals(number, places);
    if plain.contains('.') {
        return plain.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    plain
}

/// A number to the nearest sixty-fourth: `¼`, `1⅛`, `1 17⁄64`, `2`.
pub(super) fn fraction(number: f64) -> String {
    if !number.is_finite() {
        return decimals(number, 0);
    }
    let parts = (number.abs() * FINEST).round();
    let sign = if number < 0.0 && parts > 0.0 {
        "−"
    } else {
        ""
    };
    let (whole, rest) = ((parts / FINEST).floor(), parts % FINEST);
    let part = reduced(rest);
    match (whole > 0.0, part.as_str()) {
        (_, "") => format!("{sign}{whole}"),
        (false, part) => format!("{sign}{part}"),
        (true, part) if part.contains('⁄') => format!("{sign}{whole} {part}"),
        (true, part) => format!("{sign}{whole}{part}"),
    }
}

/// So many sixty-fourths as a fraction that cannot be made shorter; nothing for none.
fn reduced(sixty_fourths: f64) -> String {
    let (mut above, mut below) = (sixty_fourths, FINEST);
    while above > 0.0 && above % 2.0 == 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    let fraction = format!("{above}⁄{below}");
    let glyph = match fraction.as_str() {
        "0⁄64" => "",
        "1⁄2" => "½",
        "1⁄4" => "¼",
        "3⁄4" => "¾",
        "1⁄8" => "⅛",
        "3⁄8" => "⅜",
        "5⁄8" => "⅝",
        "7⁄8" => "⅞",
        _ => return fraction,
    };
    glyph.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use UnitSystem::{Inches, Millimetres};
    use proptest::prelude::*;

    fn estimate(value: f64, low: f64, high: f64) -> Estimate {
        Estimate { value, low, high }
    }

    #[test]
    fn a_figure_is_shown_with_its_spread_in_the_same_unit() {
        let thickness = estimate(6.42, 5.88, 7.04);
        let shown = thickness.length(Millimetres);
        assert_eq!(shown.figure, "6.4 mm");
        assert_eq!(shown.spread, "5.9 to 7.0");
        assert_eq!(shown.to_string(), "6.4 mm (5.9 to 7.0)");
        assert_eq!(thickness.length(Inches).to_string(), "¼ in (15⁄64 to 9⁄32)");
        assert_eq!(
            Estimate::exact(0.627).length(Millimetres).to_string(),
            "0.63 mm"
        );
        assert_eq!(
            Estimate::exact(0.627).length(Inches).to_string(),
            "0.025 in"
        );
        assert_eq!(Estimate::exact(466.2).length(Millimetres).figure, "466 mm");
    }

    #[test]
    fn changes_carry_a_true_minus_or_a_plus() {
        let off = estimate(-3.51, -5.0, -2.04);
        assert_eq!(off.change().to_string(), "−3.5 % (−5.0 to −2.0)");
        assert_eq!(
            estimate(2.0, -0.02, 3.0).change().to_string(),
            "+2.0 % (0.0 to +3.0)"
        );
    }

    #[test]
    fn a_figure_that_is_not_there_is_a_dash_without_unit() {
        assert_eq!(
            Estimate::exact(f64::INFINITY)
                .length(Millimetres)
                .to_string(),
            "–"
        );
        assert_eq!(Estimate::exact(f64::NAN).length(Inches).to_string(), "–");
    }

    #[test]
    fn masses_and_counts_change_their_unit_with_the_lengths() {
        let mass = Estimate::exact(29.07);
        assert_eq!(mass.mass_of_length(Millimetres).figure, "29.1 g/m");
        assert_eq!(mass.mass_of_length(Inches).figure, "0.94 oz/yd");
        assert_eq!(
            Estimate::exact(10.0).count_of_length(Inches).figure,
            "25.4 per in"
        );
        assert_eq!(Mass::from_grams(70.0).written(Millimetres), "70 g");
        assert_eq!(Estimate::exact(1.526).ratio().to_string(), "1.53");
    }

    #[test]
    fn thread_is_shown_in_metres_or_yards_as_fine_as_it_is_bought() {
        for (metres, units, wanted) in [
            (3.4821, Millimetres, "3.48 m"),
            (25.0, Millimetres, "25.0 m"),
            (12.53, Millimetres, "12.5 m"),
            (280.4, Millimetres, "280 m"),
            (3.4821, Inches, "3.81 yd"),
            (4.0, Millimetres, "4 m"),
            (9.144, Inches, "10.0 yd"),
        ] {
            assert_eq!(Length::from_mm(1000.0 * metres).of_thread(units), wanted);
        }
    }

    #[test]
    fn decided_lengths_keep_what_was_typed() {
        for (typed, units, written) in [
            ("6,35", Millimetres, "6.35 mm"),
            ("2.0 mm", Millimetres, "2 mm"),
            ("1/4", Inches, "¼ in"),
            ("1 1/8 in", Inches, "1⅛ in"),
            ("17/64", Inches, "17⁄64 in"),
            ("1 17/64", Inches, "1 17⁄64 in"),
            ("2", Inches, "2 in"),
            (".63", Inches, "0.63 in"),
            ("0", Inches, "0 in"),
            ("−1/2", Inches, "−½ in"),
            ("100", Millimetres, "100 mm"),
        ] {
            let length = Length::read(typed, units).unwrap();
            assert_eq!(length.written(units), written);
        }
    }

    fn units() -> impl Strategy<Value = UnitSystem> {
        prop_oneof![Just(Millimetres), Just(Inches)]
    }

    proptest! {
        #[test]
        fn a_written_length_reads_back_the_same(mm in -3000.0..3000.0, units in units(), other in units()) {
            let length = Length::from_mm(mm);
            let written = length.written(units);
            let back = Length::read(&written, other).unwrap();
            let near = if units == Inches { 0.0001 * 25.4 } else { 0.0005 };
            prop_assert!((back.mm() - mm).abs() <= near * 1.001, "{} {}", written, back.mm());
            prop_assert_eq!(back.written(units), written);
        }

        #[test]
        fn marks_of_a_rule_read_back_exactly(sixty_fourths in -6400_i32..6400) {
            let length = Length::from_inches(f64::from(sixty_fourths) / 64.0);
            let back = Length::read(&length.written(Inches), Millimetres).unwrap();
            prop_assert!((back.mm() - length.mm()).abs() < 1e-9);
        }

        #[test]
        fn a_shown_length_is_within_half_of_its_last_place(mm in 0.0..3000.0, units in units()) {
            let shown = Length::from_mm(mm).shown(units);
            let back = Length::read(&shown, units).unwrap().mm();
            let half = match units {
                Inches if mm < 0.125 * 25.4 => 0.0005 * 25.4,
                Inches => 25.4 / 128.0,
                Millimetres => 0.5 * 0.1_f64.powi(places(mm).try_into().unwrap()),
            };
            prop_assert!((back - mm).abs() <= half * 1.000_001, "{} for {}", shown, mm);
        }

        #[test]
        fn a_written_mass_reads_back_the_same(grams in 0.0..5000.0, units in units()) {
            let written = Mass::from_grams(grams).written(units);
            let back = Mass::read(&written, units).unwrap();
            let half = if units == Inches { 0.0005 * GRAMS_PER_OUNCE } else { 0.0005 };
            prop_assert!((back.grams() - grams).abs() <= half * 1.001, "{}", written);
        }
    }
}
