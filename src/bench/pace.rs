//! How fast the hands go, when they pause, and when they should: read from a course.
//!
//! A *sitting* is work between two long breaks. Within it a gap much longer than the
//! usual one is a *pause*; the rest is time at work. The median gap tells what is usual,
//! for a ringing phone does not move it; the pace is of all the gaps that are no pause,
//! for the median alone would promise too much: hands are slow more often than fast.
//!
//! Taking moves back is time at work in which no move is made: never less than none.
//! Times in ms. Knows no clock: whoever asks says when it is.

use super::course::Course;

/// A gap so many times the median is a pause. Our guess.
const PAUSE_TIMES: u64 = 8;
/// No gap shorter than this is a pause, ms. Our guess.
const LEAST_PAUSE: u64 = 15_000;
/// A gap longer than this ends a sitting, ms. Our guess.
const BETWEEN_SITTINGS: u64 = 20 * MINUTE;
/// With fewer gaps than this no pace is told. Our guess.
const FEWEST_GAPS: usize = 10;
/// More moves than this at once were not made then: the place was put right. A pair of
/// exchanges has six.
const MOST_AT_ONCE: u64 = 8;
/// Sittings that the pace is taken of, the latest. Our guess.
const LATEST: usize = 5;
/// Fewer timed moves are no pace to plan other cords by.
const ENOUGH_MOVES: u64 = 60;
/// The pace of a coming sitting is off by this share at least. Our guess.
const UNEVEN: f64 = 0.1;
/// A pause so long rests the hands, ms. Common practice, no source.
const RESTS: u64 = 5 * MINUTE;
/// After so long without one it is time for it, ms. Common practice, no source.
const REST_AFTER: u64 = 30 * MINUTE;
/// ms in a minute.
const MINUTE: u64 = 60_000;

/// Time in a sitting in which the hands did something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pause {
    /// When it began, ms since 1970.
    pub begins: u64,
    /// How long it was, ms.
    pub lasts: u64,
}

/// Work between two long breaks.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// When its first move was done, ms since 1970.
    pub begins: u64,
    /// When its last was.
    pub ends: u64,
    /// Moves that were made in it, those that were taken back later among them.
    pub moves: u64,
    /// Time at work, ms: without the pauses.
    pub at_work: u64,
    /// The pauses, in order.
    pub pauses: Vec<Pause>,
    /// Mistakes that were found in it.
    pub mistakes: u64,
    /// Moves whose time is known, their time in ms, and how many gaps that is.
    timed: (u64, u64, usize),
}

impl Sitting {
    /// How long it was, pauses and all, ms.
    pub fn lasts(&self) -> u64 {
        self.ends - self.begins
    }

    /// Moves a minute while the hands moved; none of a few moves.
    pub fn moves_a_minute(&self) -> Option<f64> {
        let (moves, time, gaps) = self.timed;
        (gaps >= FEWEST_GAPS && time > 0).then(|| a_minute(moves, time))
    }

    /// Mistakes found for every hundred moves made; none without moves.
    pub fn mistakes_in_a_hundred(&self) -> Option<f64> {
        (self.moves > 0).then(|| 100.0 * self.mistakes as f64 / self.moves as f64)
    }
}

fn a_minute(moves: u64, time: u64) -> f64 {
    (moves * MINUTE) as f64 / time as f64
}

/// The pace of the latest sittings together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnPace {
    /// Moves a minute while the hands move.
    pub moves_a_minute: f64,
    /// Standard deviation of that from sitting to sitting, as a share of it.
    pub uneven: f64,
    /// Share of a sitting in which the hands moved, over 0 to 1.
    pub at_work: f64,
    /// Sittings that it is taken of.
    pub sittings: usize,
    /// Moves that it is taken of.
    pub moves: u64,
}

/// The sittings of a course, in order.
pub fn sittings(course: &Course) -> Vec<Sitting> {
    let pause = longer_is_a_pause(course);
    let mut all: Vec<Sitting> = Vec::new();
    let mut before: Option<(u64, u64)> = None;
    for &(done, at) in &course.log {
        let made = made(before.map_or(0, |(done, _)| done), done);
        match (all.last_mut(), before) {
            (Some(sitting), Some((_, last))) if at.saturating_sub(last) <= BETWEEN_SITTINGS => {
                sitting.go_on(last, at, made, pause);
            }
            _ => all.push(begun(at, made)),
        }
        // A clock that was put back does not make a sitting shorter.
        let latest = before.map_or(at, |(_, last)| last.max(at));
        before = Some((done, latest));
    }
    for &(at, ..) in &course.mistakes {
        // The one that was begun last when it was found.
        let begun = all.iter().rposition(|sitting| sitting.begins <= at);
        if let Some(sitting) = all.get_mut(begun.unwrap_or(0)) {
            sitting.mistakes += 1;
        }
    }
    all
}

/// Moves made from one place to the next.
fn made(before: u64, after: u64) -> u64 {
    let made = after.saturating_sub(before);
    if made > MOST_AT_ONCE { 0 } else { made }
}

fn begun(at: u64, moves: u64) -> Sitting {
    Sitting {
        begins: at,
        ends: at,
        moves,
        at_work: 0,
        pauses: Vec::new(),
        mistakes: 0,
        timed: (0, 0, 0),
    }
}

impl Sitting {
    fn go_on(&mut self, last: u64, at: u64, made: u64, pause: u64) {
        let gap = at.saturating_sub(last);
        self.moves += made;
        self.ends += gap;
        if gap > pause {
            let (begins, lasts) = (last, gap);
            self.pauses.push(Pause { begins, lasts });
            return;
        }
        self.at_work += gap;
        if made > 0 {
            let (moves, time, gaps) = self.timed;
            self.timed = (moves + made, time + gap, gaps + 1);
        }
    }
}

/// The longest gap that is no pause, ms.
fn longer_is_a_pause(course: &Course) -> u64 {
    let pairs = course.log.windows(2);
    let forward = pairs.filter(|pair| made(pair[0].0, pair[1].0) > 0);
    let gaps = forward.map(|pair| pair[1].1.saturating_sub(pair[0].1));
    let mut gaps: Vec<u64> = gaps.filter(|&gap| gap <= BETWEEN_SITTINGS).collect();
    gaps.sort_unstable();
    let median = gaps.get(gaps.len() / 2).copied().unwrap_or(0);
    (PAUSE_TIMES * median).max(LEAST_PAUSE)
}

impl OwnPace {
    /// Whether it rests on enough moves to plan other cords by: our guess.
    pub fn is_enough(&self) -> bool {
        self.moves >= ENOUGH_MOVES
    }
}

/// The pace of the latest of these sittings; none before there is enough to tell.
pub fn own_pace(sittings: &[Sitting]) -> Option<OwnPace> {
    let told = sittings.iter().filter(|s| s.moves_a_minute().is_some());
    let latest: Vec<&Sitting> = told.rev().take(LATEST).collect();
    let sum = |what: fn(&Sitting) -> u64| -> u64 { latest.iter().map(|s| what(s)).sum() };
    let (moves, time) = (sum(|s| s.timed.0), sum(|s| s.timed.1));
    if latest.is_empty() {
        return None;
    }
    let pace = a_minute(moves, time);
    Some(OwnPace {
        moves_a_minute: pace,
        uneven: unevenness(&latest, pace).max(UNEVEN),
        at_work: sum(|s| s.at_work) as f64 / sum(Sitting::lasts) as f64,
        sittings: latest.len(),
        moves,
    })
}

/// Standard deviation of the paces of sittings as a share of their pace together.
fn unevenness(sittings: &[&Sitting], pace: f64) -> f64 {
    let paces: Vec<f64> = sittings.iter().filter_map(|s| s.moves_a_minute()).collect();
    if paces.len() < 2 {
        return 0.0;
    }
    let mean = paces.iter().sum::<f64>() / paces.len() as f64;
    let squares: f64 = paces.iter().map(|one| (one - mean).powi(2)).sum();
    (squares / (paces.len() - 1) as f64).sqrt() / pace
}

/// How long the hands have worked since they last rested, ms, short pauses and all; none
/// while they rest.
pub fn without_rest(course: &Course, now: u64) -> Option<u64> {
    let mut times = course.log.iter().rev().map(|&(_, at)| at);
    let mut first = times.next()?;
    if now.saturating_sub(first) >= RESTS {
        return None;
    }
    for at in times {
        if first.saturating_sub(at) >= RESTS {
            break;
        }
        first = first.min(at);
    }
    Some(now.saturating_sub(first))
}

/// Whether it is time to rest the hands.
pub fn should_rest(course: &Course, now: u64) -> bool {
    without_rest(course, now).is_some_and(|long| long >= REST_AFTER)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Entry, Stamped, Way, Why};
    use crate::structure::{Braid, shelf};

    const SECOND: u64 = 1000;

    /// Moves one by one, each so many seconds after the last.
    fn worked(course: &mut Course, gaps: impl IntoIterator<Item = u64>) {
        for gap in gaps {
            let last = course.log.last().map_or(0, |&(_, at)| at);
            let entry = Entry::Done(course.done + 1);
            told(course, last + gap * SECOND, entry);
        }
    }

    fn told(course: &mut Course, at: u64, entry: Entry) {
        course.take(&Stamped { at, entry }).unwrap();
    }

    #[test]
    fn three_seconds_a_move_are_twenty_a_minute() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 61]);
        let all = sittings(&course);
        assert_eq!((all.len(), all[0].moves, all[0].at_work), (1, 61, 180_000));
        assert_eq!(all[0].moves_a_minute(), Some(20.0));
    }

    #[test]
    fn the_phone_does_not_slow_the_hands_and_is_a_pause() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 30]);
        worked(&mut course, [120]);
        worked(&mut course, [3; 30]);
        let sitting = &sittings(&course)[0];
        assert_eq!(sitting.moves_a_minute(), Some(20.0));
        let lasts: Vec<u64> = sitting.pauses.iter().map(|pause| pause.lasts).collect();
        assert_eq!((lasts, sitting.moves), (vec![120_000], 61));
        assert_eq!(sitting.at_work + 120_000, sitting.lasts());
        let pace = own_pace(&sittings(&course)).unwrap();
        assert!((pace.at_work - 177.0 / 297.0).abs() < 1e-9, "{pace:?}");
    }

    #[test]
    fn a_slow_move_is_no_pause() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 20]);
        worked(&mut course, [14, 3, 3]);
        assert!(sittings(&course)[0].pauses.is_empty());
    }

    #[test]
    fn after_lunch_is_another_sitting() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 40]);
        worked(&mut course, [3600]);
        worked(&mut course, [4; 40]);
        let all = sittings(&course);
        let paces: Vec<_> = all.iter().map(Sitting::moves_a_minute).collect();
        assert_eq!(paces, [Some(20.0), Some(15.0)]);
        assert_eq!(all[0].moves + all[1].moves, course.done);
        let pace = own_pace(&all).unwrap();
        assert!(15.0 < pace.moves_a_minute && pace.moves_a_minute < 20.0);
        // (20 - 15) / √2 of some 17 moves a minute.
        let share = 5.0 / 2.0_f64.sqrt() / pace.moves_a_minute;
        assert!((pace.uneven - share).abs() < 1e-9, "{pace:?}");
    }

    #[test]
    fn going_back_is_work_but_no_move_and_never_less_than_none() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 20]);
        for back in 1..=5 {
            told(
                &mut course,
                60 * SECOND + back * 4 * SECOND,
                Entry::Done(20 - back),
            );
        }
        worked(&mut course, [3; 5]);
        let sitting = &sittings(&course)[0];
        assert_eq!((sitting.moves, course.done), (25, 20));
        assert_eq!(sitting.at_work, (19 * 3 + 5 * 4 + 5 * 3) * SECOND);
        assert_eq!(sitting.moves_a_minute(), Some(20.0));
    }

    #[test]
    fn steps_on_a_way_back_are_work_and_its_mistake_is_counted() {
        let braid = Braid::new(&shelf()[0].moves).unwrap();
        let n = braid.strands();
        let roles: Vec<usize> = (0..n).collect();
        let mut course = Course::new(n);
        worked(&mut course, [3; 20]);
        let mut way = Way::undo(&braid, &roles, 20, 8);
        way.why = Why::Mistake("skipped".into());
        let (steps, lands) = (way.steps.len(), way.lands);
        told(&mut course, 70 * SECOND, Entry::Out(way));
        for made in 1..=steps {
            told(
                &mut course,
                (70 + 10 * made as u64) * SECOND,
                Entry::Along(made),
            );
        }
        assert_eq!(course.done, lands);
        let sitting = &sittings(&course)[0];
        assert!(sitting.pauses.len() <= 1, "{sitting:?}");
        assert!(sitting.at_work >= (57 + 10 * (steps as u64 - 1)) * SECOND);
        assert_eq!((sitting.moves, sitting.mistakes), (20, 1));
        assert_eq!(sitting.mistakes_in_a_hundred(), Some(5.0));
    }

    #[test]
    fn a_place_put_right_is_not_fifty_moves() {
        let mut course = Course::new(3);
        worked(&mut course, [3; 12]);
        let roles = vec![0, 1, 2];
        told(&mut course, 40 * SECOND, Entry::Taken { done: 62, roles });
        assert_eq!(sittings(&course)[0].moves, 12);
    }

    #[test]
    fn a_few_moves_tell_no_pace() {
        let mut course = Course::new(8);
        assert_eq!(own_pace(&sittings(&course)), None);
        worked(&mut course, [3; 9]);
        assert_eq!(own_pace(&sittings(&course)), None);
    }

    #[test]
    fn hands_that_never_rest_are_told_to_after_half_an_hour() {
        let mut course = Course::new(8);
        worked(&mut course, [3; 590]);
        let last = 590 * 3 * SECOND;
        assert!(!should_rest(&course, last));
        worked(&mut course, [3; 20]);
        let last = last + 60 * SECOND;
        assert!(should_rest(&course, last));
        assert!(!should_rest(&course, last + RESTS), "they rest now");
        worked(&mut course, [400, 3, 3]);
        let long = without_rest(&course, last + 406 * SECOND);
        assert_eq!(long, Some(6 * SECOND), "counted anew");
    }

    #[test]
    fn a_clock_put_back_breaks_nothing() {
        let mut course = Course::new(8);
        for (done, at) in [(1, 900_000), (2, 903_000), (3, 10_000), (4, 906_000)] {
            told(&mut course, at, Entry::Done(done));
        }
        let all = sittings(&course);
        assert_eq!((all.len(), all[0].moves), (1, 4));
        assert_eq!(all[0].ends - all[0].begins, 6000);
        without_rest(&course, 0);
    }

    proptest::proptest! {
        #[test]
        fn whatever_the_story_the_parts_are_the_whole(
            steps in proptest::collection::vec((0..2_000_000_u64, 0..40_u64), 0..60),
        ) {
            let mut course = Course::new(5);
            let mut at = 0;
            for (gap, done) in steps {
                at += gap;
                told(&mut course, at, Entry::Done(done));
            }
            for sitting in sittings(&course) {
                let pauses: u64 = sitting.pauses.iter().map(|pause| pause.lasts).sum();
                proptest::prop_assert_eq!(sitting.at_work + pauses, sitting.lasts());
            }
        }
    }
}
