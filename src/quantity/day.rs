//! A day of the calendar, as it is printed.

use std::fmt;

/// A day, Gregorian.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u64,
    month: u8,
    day: u8,
}

impl Day {
    /// The day so many seconds after 1 January 1970 began, without leap seconds (POSIX).
    pub fn of_seconds(seconds: u64) -> Self {
        let is_leap = |year: u64| {
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
        };
        let (mut year, mut left) = (1970, seconds / 86_400);
        while left >= 365 + u64::from(is_leap(year)) {
            left -= 365 + u64::from(is_leap(year));
            year += 1;
        }
        let february = 28 + u64::from(is_leap(year));
        let mut month = 1;
        for days in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30] {
            if left < days {
                break;
            }
            left -= days;
            month += 1;
        }
        Self {
            year,
            month,
            day: left as u8 + 1,
        }
    }
}

impl fmt::Display for Day {
    /// As ISO 8601 writes it: `2026-11-26`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { year, month, day } = self;
        write!(f, "{year}-{month:02}-{day:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_as_the_calendar_does() {
        for (days, expected) in [
            (0, "1970-01-01"),
            (58, "1970-02-28"),
            (59, "1970-03-01"),
            (364, "1970-12-31"),
            (11_016, "2000-02-29"),
            (20_783, "2026-11-26"),
        ] {
            assert_eq!(
                Day::of_seconds(days * 86_400 + 86_399).to_string(),
                expected
            );
        }
    }
}
