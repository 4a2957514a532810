//! Wire by its gauge: `18 AWG`, `AWG 4/0`.
//!
//! American Wire Gauge: 36 is 0.005 in, 0000 is 0.46 in, and 39 equal ratios lie
//! between (ASTM B258).

use super::MM_PER_INCH;

/// From 0000, which counts as -3, to the finest that jewellers hold.
const GAUGES: std::ops::RangeInclusive<i32> = -3..=40;

/// Diameter of a wire of this gauge, mm; 1/0 is 0, 2/0 is -1 and so on.
pub(super) fn wire(gauge: i32) -> f64 {
    0.005 * MM_PER_INCH * 92.0_f64.powf(f64::from(36 - gauge) / 39.0)
}

/// The gauge that was typed; none inside where its number is none that there is, none
/// at all where no gauge was typed.
pub(super) fn typed(text: &str) -> Option<Option<i32>> {
    let typed = text.trim().to_lowercase();
    let number = typed
        .strip_suffix("awg")
        .or_else(|| typed.strip_prefix("awg"))?;
    let number = number.trim();
    let noughts = number.len() > 1 && number.bytes().all(|b| b == b'0');
    let gauge = match number.strip_suffix("/0") {
        Some(count) => whole(count).map(|count| 1 - count),
        None if noughts => Some(1 - number.len() as i32),
        None => whole(number),
    };
    Some(gauge.filter(|gauge| GAUGES.contains(gauge)))
}

fn whole(digits: &str) -> Option<i32> {
    let is_plain = digits.bytes().all(|b| b.is_ascii_digit());
    is_plain.then(|| digits.parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table of ASTM B258, mm.
    #[test]
    fn gauges_have_the_diameters_of_the_table() {
        for (gauge, mm) in [
            (-3, 11.6840),
            (0, 8.2515),
            (10, 2.5882),
            (12, 2.0525),
            (14, 1.6277),
            (16, 1.2908),
            (18, 1.0237),
            (20, 0.8118),
            (22, 0.6438),
            (24, 0.5106),
            (26, 0.4049),
            (28, 0.3211),
            (30, 0.2546),
            (32, 0.2019),
            (36, 0.1270),
            (40, 0.0799),
        ] {
            assert!(
                (wire(gauge) - mm).abs() < 5.1e-5,
                "{gauge}: {}",
                wire(gauge)
            );
        }
    }

    #[test]
    fn gauges_are_read_as_they_are_written() {
        for (text, gauge) in [
            ("18 AWG", Some(Some(18))),
            ("awg20", Some(Some(20))),
            ("4/0 awg", Some(Some(-3))),
            ("AWG 0000", Some(Some(-3))),
            ("0 AWG", Some(Some(0))),
            ("1/0 AWG", Some(Some(0))),
            ("5/0 AWG", Some(None)),
            ("41 AWG", Some(None)),
            ("AWG", Some(None)),
            ("-3 AWG", Some(None)),
            ("18 mm", None),
        ] {
            assert_eq!(typed(text), gauge, "{text}");
        }
    }
}
