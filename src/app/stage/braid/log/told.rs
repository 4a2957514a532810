//! The log in words.

use crate::app::words;
use crate::bench::{OwnPace, Sitting};
use crate::plan::Pace;

/// ms in a minute.
const MINUTE: u64 = 60_000;

/// All sittings in one or two sentences.
pub(super) fn summary(all: &[Sitting]) -> String {
    let sum = |what: fn(&Sitting) -> u64| -> u64 { all.iter().map(what).sum() };
    let mistakes = sum(|sitting| sitting.mistakes);
    let sittings = several(all.len() as u64, "sitting");
    format!(
        "{}, {} in all and {} of it at work. {} made, {} found.",
        crate::app::act::sentence(&sittings),
        span(sum(Sitting::lasts)),
        span(sum(|sitting| sitting.at_work)),
        several_in_digits(sum(|sitting| sitting.moves), "move"),
        several(mistakes, "mistake"),
    )
}

/// One sitting: how long, how many moves, how fast, what was found.
pub(super) fn sitting(sitting: &Sitting) -> String {
    let pauses = match sitting.pauses.len() as u64 {
        0 => String::new(),
        n => format!(", with {}", several(n, "pause")),
    };
    let pace = sitting.moves_a_minute();
    let pace = pace.map_or(String::new(), |pace| format!(", {pace:.0} a minute"));
    let mistakes = match (sitting.mistakes, sitting.mistakes_in_a_hundred()) {
        (0, _) | (_, None) => String::new(),
        (n, Some(share)) => format!("; {}, {share:.1} in a hundred moves", several(n, "mistake")),
    };
    format!(
        "{}{pauses}; {}{pace}{mistakes}",
        span(sitting.lasts()),
        several_in_digits(sitting.moves, "move"),
    )
}

/// The pace of the log beside that of the workshop.
pub(super) fn offer(own: &OwnPace, told: &Pace, now: &Pace) -> String {
    let sittings = match own.sittings {
        1 => "this sitting".to_owned(),
        n => format!("the last {} sittings", words::count(n)),
    };
    let spread = own.moves_a_minute * own.uneven;
    format!(
        "Your pace of {sittings} is {:.0} moves a minute, give or take {spread:.0}, with the \
         hands at work {:.0}\u{a0}% of the time. Your workshop says {:.0} and {:.0}\u{a0}%.",
        told.moves_a_minute,
        100.0 * told.at_work,
        now.moves_a_minute,
        100.0 * now.at_work,
    )
}

/// A time as it is said: `under a minute`, `42 min`, `1 h 20 min`.
pub(super) fn span(ms: u64) -> String {
    let minutes = (ms + MINUTE / 2) / MINUTE;
    match (minutes / 60, minutes % 60) {
        (0, 0) => "under a minute".to_owned(),
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// `no mistake`, `one mistake`, `two mistakes`.
pub(super) fn several(n: u64, noun: &str) -> String {
    let s = if n > 1 { "s" } else { "" };
    format!("{} {noun}{s}", words::count(n as usize))
}

/// `1 move`, `612 moves`.
fn several_in_digits(n: u64, noun: &str) -> String {
    let s = if n == 1 { "" } else { "s" };
    format!("{n} {noun}{s}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Course, Entry, Stamped, sittings};

    /// A move every three seconds, once two minutes of pause, and once an hour.
    fn course() -> Course {
        let mut course = Course::new(8);
        let mut at = 1_000_000_000;
        for done in 1..=160_u64 {
            at += match done {
                60 => 120_000,
                100 => 3_600_000,
                _ => 3_000,
            };
            let entry = Entry::Done(done);
            course.take(&Stamped { at, entry }).unwrap();
        }
        course
    }

    #[test]
    fn a_sitting_is_told_in_a_line() {
        let all = sittings(&course());
        assert_eq!(
            sitting(&all[0]),
            "7 min, with one pause; 99 moves, 20 a minute"
        );
        assert_eq!(sitting(&all[1]), "3 min; 61 moves, 20 a minute");
        assert_eq!(
            summary(&all),
            "Two sittings, 10 min in all and 8 min of it at work. 160 moves made, no mistake \
             found."
        );
    }

    #[test]
    fn times_are_said_as_one_says_them() {
        let said = [20_000, 100_000, 3_600_000, 4_800_000].map(span);
        assert_eq!(said, ["under a minute", "2 min", "1 h", "1 h 20 min"]);
    }
}
