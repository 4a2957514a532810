//! Sums of lengths as a person reads them: what is shown adds up as shown.
//!
//! Each part rounded by itself would not: 0.4 and 0.4 are 0.8, and in whole numbers
//! nothing and nothing are one. So the running sum is rounded and each part is what
//! it grows by; no part is off by more than one mark, and one that lies on a mark is
//! shown as it is.

use super::show::{decimals, fraction};
use super::{Estimate, MM_PER_INCH, Shown, UnitSystem};

/// Half a spread, mm, from which finer marks than a whole millimetre or a sixteenth of an
/// inch would be idle. Our guess.
const WIDE_MM: f64 = 5.0;

/// The marks to which a sum is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Marks {
    /// From one to the next, mm.
    step: f64,
    units: UnitSystem,
}

impl Marks {
    /// As fine as the total can be meant.
    fn of(total: Estimate, units: UnitSystem) -> Self {
        let is_wide = 0.5 * (total.high - total.low) > WIDE_MM;
        let step = match (units, is_wide) {
            (UnitSystem::Millimetres, false) => 0.1,
            (UnitSystem::Millimetres, true) => 1.0,
            (UnitSystem::Inches, false) => MM_PER_INCH / 64.0,
            (UnitSystem::Inches, true) => MM_PER_INCH / 16.0,
        };
        Self { step, units }
    }

    fn nearest(self, mm: f64) -> f64 {
        (mm / self.step).round()
    }

    /// So many marks in words, without the unit.
    fn number(self, marks: f64) -> String {
        match self.units {
            UnitSystem::Millimetres => decimals(marks * self.step, usize::from(self.step < 1.0)),
            UnitSystem::Inches => fraction(marks * self.step / MM_PER_INCH),
        }
    }

    fn shown(self, marks: f64, estimate: Estimate) -> Shown {
        let unit = match self.units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        };
        let figure = self.number(marks);
        let [low, high] = [estimate.low, estimate.high].map(|end| self.number(self.nearest(end)));
        // A part on the other side of a mark than its own rounding has no wider spread for it.
        let has_spread = low != high;
        Shown {
            figure: format!("{figure} {unit}"),
            spread: if has_spread {
                format!("{low} to {high}")
            } else {
                String::new()
            },
        }
    }
}

/// Lengths in mm that add up to `total`, and the total, all to the same marks: the parts
/// as shown add up to the total as shown.
pub fn shown_sum(parts: &[Estimate], total: Estimate, units: UnitSystem) -> (Vec<Shown>, Shown) {
    let marks = Marks::of(total, units);
    let (mut sum, mut before) = (0.0, 0.0);
    let mut shown = Vec::new();
    for part in parts {
        sum += part.value;
        let now = marks.nearest(sum);
        shown.push(marks.shown(now - before, *part));
        before = now;
    }
    (shown, marks.shown(before, total))
}

#[cfg(test)]
mod tests {
    use super::UnitSystem::{Inches, Millimetres};
    use super::*;
    use crate::quantity::Length;

    #[test]
    fn a_bracelet_adds_up_as_it_is_shown() {
        let ring = Estimate {
            value: 18.85,
            low: 17.3,
            high: 20.4,
        };
        let parts = [Estimate::exact(154.793), Estimate::exact(13.0), ring];
        let total = Estimate {
            value: 186.643,
            low: 185.09,
            high: 188.19,
        };
        let (shown, all) = shown_sum(&parts, total, Millimetres);
        let words: Vec<_> = shown.iter().map(ToString::to_string).collect();
        assert_eq!(words, ["154.8 mm", "13.0 mm", "18.8 mm (17.3 to 20.4)"]);
        assert_eq!(all.to_string(), "186.6 mm (185.1 to 188.2)");
        let (shown, all) = shown_sum(&parts, total, Inches);
        let words: Vec<_> = shown.into_iter().map(|shown| shown.figure).collect();
        assert_eq!(words, ["6 3⁄32 in", "33⁄64 in", "47⁄64 in"]);
        assert_eq!(all.figure, "7 11⁄32 in");
    }

    proptest::proptest! {
        #[test]
        fn what_is_shown_adds_up_to_what_is_shown(
            parts in proptest::collection::vec(-300.0..900.0, 1..9),
            half in 0.0..12.0,
            inches: bool,
        ) {
            let units = if inches { Inches } else { Millimetres };
            let sum: f64 = parts.iter().sum();
            let total = Estimate { value: sum, low: sum - half, high: sum + half };
            let parts: Vec<Estimate> = parts.into_iter().map(Estimate::exact).collect();
            let (shown, all) = shown_sum(&parts, total, units);
            let read = |shown: &Shown| Length::read(&shown.figure, units).unwrap().mm();
            let added: f64 = shown.iter().map(read).sum();
            proptest::prop_assert!((added - read(&all)).abs() < 1e-6);
            for (shown, part) in shown.iter().zip(&parts) {
                proptest::prop_assert!((read(shown) - part.value).abs() <= Marks::of(total, units).step);
            }
        }
    }
}
