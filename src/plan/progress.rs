//! How far along one cord is, and what comes next: more thread, the weight, the end.
//!
//! Counted from the moves done and from what was expected when the cord was begun; a
//! length that was measured puts right all that follows. Lengths in mm on the disc
//! unless a name says otherwise, times in minutes, moves from the start of the cord
//! unless a name says "from now". Nobody tells when thread was fed out or the weight
//! moved up: both count as done whenever they were due.

mod growth;
mod supply;
#[cfg(test)]
mod tests;

use super::outlook::Outlook;
use super::workshop::Table;
use crate::bench::{Course, OwnPace};
use crate::quantity::{Estimate, propagated};
use growth::Growth;
pub use supply::{FeedOut, RunsOut};
use supply::{Supply, from_now};

/// Cord that hangs lower before the weight is moved up, mm: under a disc in the hand, and
/// below a stand. Our guess.
const WEIGHT_UP: [f64; 2] = [100.0, 250.0];
/// How far the pace of the workshop may be off, as a share, while one's own is not known.
/// Our guess.
const PACE_OFF: f64 = 0.3;

/// Where the work on one cord stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Progress {
    /// Moves that lie in the cord.
    pub done: u64,
    /// Moves that it takes, as far as can be told now.
    pub goal: Estimate,
    /// Moves from now until it is long enough, never fewer than none.
    pub to_go: Estimate,
    /// Whole rounds, and the moves of the one that is begun.
    pub rounds: (u64, u64),
    /// Cord so far, on the disc, mm.
    pub on_disc: Estimate,
    /// The same, off the weight and rested, mm.
    pub rested: Estimate,
    /// Cord to be braided, on the disc, mm.
    pub wanted: Estimate,
    /// Its share that is done, 0 to 1.
    pub share: f64,
    /// By how much the cord grows faster than expected, as a share, by what was measured;
    /// none where nothing was.
    pub by_measure: Option<Estimate>,
    /// Time until it is long enough.
    pub time: TimeLeft,
    /// Strands to be let off their bobbins before the cord is long enough, the soonest
    /// first.
    pub feed_out: Vec<FeedOut>,
    /// Moves from now until the weight is to be moved up; none without a weight, or if
    /// the cord is long enough before.
    pub weight_up: Option<Estimate>,
    /// When the strands no longer reach, the first first.
    pub runs_out: Vec<RunsOut>,
    /// What is doubtful, one sentence each.
    pub doubts: Vec<String>,
}

/// Time until the cord is long enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeLeft {
    /// While the hands move, minutes.
    pub at_work: Estimate,
    /// With pauses as usual, minutes.
    pub in_all: Estimate,
    /// Whether the pace is her own, on this cord; else it is that of the workshop.
    pub is_own: bool,
}

/// Where the work stands; `round` is the moves of a round, `own` her pace if known.
pub fn progress(outlook: &Outlook, course: &Course, round: u64, own: Option<OwnPace>) -> Progress {
    let done = course.done;
    let growth = Growth::of(outlook, &course.notes);
    let goal = growth.moves_until(outlook.on_disc, done);
    let to_go = from_now(goal, done);
    let on_disc = growth.length(done);
    let round = round.max(1);
    Progress {
        done,
        goal,
        to_go,
        rounds: (done / round, done % round),
        on_disc,
        rested: propagated(&[on_disc, outlook.rested_share], |x| x[0] * x[1]),
        wanted: outlook.on_disc,
        share: share(done, to_go),
        by_measure: growth.corrected.map(|share| share.plus(-1.0)),
        time: time(outlook, to_go, own),
        feed_out: feed_out(outlook, course, &growth, to_go),
        weight_up: weight_up(outlook, &growth, done).filter(|&up| is_worth_while(up, to_go)),
        runs_out: runs_out(outlook, course, &growth),
        doubts: doubts(&growth),
    }
}

impl Progress {
    /// The strands to be fed out next, those that are due within the same round together,
    /// and the moves from now until the first of them.
    pub fn next_feed(&self, round: u64) -> Option<(Vec<usize>, Estimate)> {
        let first = self.feed_out.first()?.moves;
        let is_together = |feed: &&FeedOut| feed.moves.value < first.value + round as f64;
        let strands = self.feed_out.iter().take_while(is_together);
        let mut strands: Vec<usize> = strands.map(|feed| feed.strand).collect();
        strands.sort_unstable();
        Some((strands, first))
    }

    /// Whether the cord is as likely long enough as not.
    pub fn is_long_enough(&self) -> bool {
        self.to_go.value <= 0.0
    }

    /// The strand that no longer reaches first.
    pub fn first_out(&self) -> Option<RunsOut> {
        self.runs_out.first().copied()
    }
}

fn share(done: u64, to_go: Estimate) -> f64 {
    let all = done as f64 + to_go.value;
    if all > 0.0 { done as f64 / all } else { 1.0 }
}

fn time(outlook: &Outlook, to_go: Estimate, own: Option<OwnPace>) -> TimeLeft {
    let (pace, at_work) = match own {
        Some(own) => {
            let pace = own.moves_a_minute;
            (Estimate::of_standard(pace, pace * own.uneven), own.at_work)
        }
        None => (of_the_workshop(outlook), outlook.pace.at_work),
    };
    // Slower than half of it she is not for long: a spread must not reach for ever.
    let minutes = propagated(&[to_go, pace], |x| x[0] / x[1].max(0.5 * pace.value));
    let minutes = Estimate {
        low: minutes.low.max(0.0),
        ..minutes
    };
    TimeLeft {
        at_work: minutes,
        in_all: minutes.times(1.0 / at_work.clamp(0.05, 1.0)),
        is_own: own.is_some(),
    }
}

fn of_the_workshop(outlook: &Outlook) -> Estimate {
    let pace = outlook.pace.moves_a_minute;
    Estimate {
        value: pace,
        low: pace * (1.0 - PACE_OFF),
        high: pace * (1.0 + PACE_OFF),
    }
}

fn supplies<'a>(
    outlook: &'a Outlook,
    course: &'a Course,
    growth: &'a Growth,
) -> impl Iterator<Item = Supply<'a>> {
    let strands = 0..outlook.strands.len();
    strands.map(|strand| Supply::of(outlook, strand, growth, &course.notes, course.done))
}

/// Whether it comes before the cord is long enough, or she goes on beyond.
fn is_worth_while(moves: Estimate, to_go: Estimate) -> bool {
    to_go.value <= 0.0 || moves.value < to_go.value
}

fn feed_out(outlook: &Outlook, course: &Course, growth: &Growth, to_go: Estimate) -> Vec<FeedOut> {
    let mut all: Vec<FeedOut> = supplies(outlook, course, growth)
        .filter_map(|supply| supply.feed_out())
        .filter(|feed| is_worth_while(feed.moves, to_go))
        .collect();
    all.sort_by(|a, b| a.moves.value.total_cmp(&b.moves.value));
    all
}

fn runs_out(outlook: &Outlook, course: &Course, growth: &Growth) -> Vec<RunsOut> {
    let mut all: Vec<RunsOut> = supplies(outlook, course, growth)
        .map(|supply| supply.runs_out(outlook.on_disc))
        .collect();
    all.sort_by(|a, b| a.at.value.total_cmp(&b.at.value));
    all
}

fn weight_up(outlook: &Outlook, growth: &Growth, done: u64) -> Option<Estimate> {
    if outlook.counterweight <= 0.0 {
        return None;
    }
    let [by_hand, on_a_stand] = WEIGHT_UP;
    let step = match outlook.table {
        Table::Disc { .. } => by_hand,
        Table::Stand { .. } => on_a_stand,
    };
    let times = (growth.length(done).value / step + 1e-9).floor();
    let due = Estimate::exact((times + 1.0) * step);
    Some(from_now(growth.moves_until(due, done), done))
}

fn doubts(growth: &Growth) -> Vec<String> {
    let not_taken = growth.disbelieved.iter().map(|(done, mm)| {
        format!(
            "{mm:.0} mm after {done} moves is far from anything this cord can be, and is not \
             counted: measure again, or look whether the place is right."
        )
    });
    let contradicts = "By your measure the cord grows otherwise than was expected, by more \
         than its spread: what follows goes by your measure alone.";
    let contradicts = growth.contradicts.then(|| contradicts.to_owned());
    not_taken.chain(contradicts).collect()
}
