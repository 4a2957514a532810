//! What the clock on the wall says, where the maker is.
//!
//! Times are kept as ms since the beginning of 1970; only here they become hours of a day
//! in the zone of the system.

use std::time::{SystemTime, UNIX_EPOCH};

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// Now, ms since the beginning of 1970.
pub fn now() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |since| since.as_millis().try_into().unwrap_or(u64::MAX))
}

/// `14:20`.
pub fn hour(ms: u64) -> String {
    let at = zoned(ms, TimeZone::system());
    format!("{:02}:{:02}", at.hour(), at.minute())
}

/// `14:20` today, `yesterday 14:20`, else `24 Nov, 14:20`.
pub fn moment(ms: u64, now: u64) -> String {
    said(ms, now, &TimeZone::system())
}

/// The same moment of the clock on the day of `now` or, if that is still to come, the day
/// before; from `14:20`, `14.20` or `1420`.
pub fn read_hour(text: &str, now: u64) -> Option<u64> {
    read(text, now, &TimeZone::system())
}

fn zoned(ms: u64, zone: TimeZone) -> ZonedDateTime {
    let ms = i64::try_from(ms).unwrap_or(i64::MAX);
    let at = Timestamp::from_millisecond(ms).unwrap_or(Timestamp::UNIX_EPOCH);
    at.to_zoned_datetime(zone)
}

fn said(ms: u64, now: u64, zone: &TimeZone) -> String {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let [at, today] = [ms, now].map(|ms| zoned(ms, zone.clone()));
    let hour = format!("{:02}:{:02}", at.hour(), at.minute());
    if at.date() == today.date() {
        return hour;
    }
    if at.date().tomorrow().is_ok_and(|next| next == today.date()) {
        return format!("yesterday {hour}");
    }
    let month = MONTHS[(at.month() as usize).saturating_sub(1) % 12];
    format!("{} {month}, {hour}", at.day())
}

fn read(text: &str, now: u64, zone: &TimeZone) -> Option<u64> {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    let is_clean = |c: char| c.is_ascii_digit() || matches!(c, ':' | '.' | ' ' | 'h');
    if !text.chars().all(is_clean) || !(3..=4).contains(&digits.len()) {
        return None;
    }
    let (hour, minute) = digits.split_at(digits.len() - 2);
    let (hour, minute) = (hour.parse().ok()?, minute.parse().ok()?);
    let today = zoned(now, zone.clone()).date();
    let on = |day: jiff::civil::Date| {
        let clock = jiff::civil::Time::new(hour, minute, 59, 999_999_999).ok()?;
        let at = day
            .to_datetime(clock)
            .to_zoned_datetime(zone.clone())
            .ok()?;
        u64::try_from(at.timestamp().as_millisecond()).ok()
    };
    let started = |ms: u64| ms <= now.saturating_add(60_000);
    let today_at = on(today)?;
    if started(today_at) {
        return Some(today_at);
    }
    on(today.yesterday().ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 24 November 2026, 14:20 in the world's clock.
    const TEA: u64 = 1_795_530_000_000;

    #[test]
    fn a_moment_is_said_by_the_day() {
        let (hour, day) = (3_600_000, 86_400_000);
        let said = |ms, now| said(ms, now, &TimeZone::UTC);
        assert_eq!(said(TEA, TEA + hour), "14:20");
        assert_eq!(said(TEA, TEA + day), "yesterday 14:20");
        assert_eq!(said(TEA, TEA + 9 * day), "24 Nov, 14:20");
    }

    #[test]
    fn an_hour_that_is_typed_is_the_last_one_there_was() {
        let read = |text, now| read(text, now, &TimeZone::UTC);
        let end = 59_999;
        assert_eq!(read("14:20", TEA + 3_600_000), Some(TEA + end));
        assert_eq!(read("1420", TEA + 3_600_000), Some(TEA + end));
        assert_eq!(read("14.20", TEA - 3_600_000), Some(TEA + end - 86_400_000));
        for not_an_hour in ["25:00", "9", "tea", "14:7x", "12345"] {
            assert_eq!(read(not_an_hour, TEA), None, "{not_an_hour}");
        }
    }
}
