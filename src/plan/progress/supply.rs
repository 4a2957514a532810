//! How long the thread lasts: when to feed it out, and which strand runs out first.
//!
//! Letters: `t` mm of strand for a mm of cord on the disc, `r` mm of cord for a move.
//!
//! Where the cord grows otherwise than expected, a strand does not take the same for
//! each mm: it goes round the cord on a screw line whose way round stays and whose rise
//! follows the cord. Of a mm of cord it takes `t = √(1 + (w/h)²)`, `w` round and `h` up
//! for a move; for a small change of `h`, `d ln t = (1/t² − 1) d ln h`.

use super::super::outlook::{Outlook, StrandOutlook};
use super::super::workshop::Table;
use super::growth::Growth;
use crate::bench::{Note, Noted};
use crate::quantity::{Estimate, propagated};

/// When thread is to be let off a bobbin next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeedOut {
    /// The strand, counted from 0.
    pub strand: usize,
    /// Moves from now until then, never fewer than none.
    pub moves: Estimate,
}

/// When a strand no longer reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunsOut {
    /// The strand, counted from 0.
    pub strand: usize,
    /// Moves from the start of the cord until then.
    pub at: Estimate,
    /// How likely that comes before the cord is long enough, 0 to 1.
    pub before_the_end: f64,
    /// Whether it is the end of a bobbin and was planned to be joined.
    pub to_be_joined: bool,
}

/// One strand on the disc.
pub(super) struct Supply<'a> {
    strand: usize,
    own: &'a StrandOutlook,
    /// Strand for a mm of cord, put right.
    takes: Estimate,
    /// Where the length it goes on with was laid in, mm of cord on the disc.
    since: Estimate,
    is_joined: bool,
    growth: &'a Growth,
    done: u64,
    table: Table,
}

impl<'a> Supply<'a> {
    pub(super) fn of(
        outlook: &'a Outlook,
        strand: usize,
        growth: &'a Growth,
        notes: &[Noted],
        done: u64,
    ) -> Self {
        let own = &outlook.strands[strand];
        let is_join = |noted: &&Noted| noted.note == Note::Joined(strand) && noted.done <= done;
        let joined = notes.iter().filter(is_join).map(|noted| noted.done).max();
        Self {
            strand,
            own,
            takes: put_right(own.takes, growth.corrected),
            since: growth.length(joined.unwrap_or(0)),
            is_joined: joined.is_some(),
            growth,
            done,
            table: outlook.table,
        }
    }

    /// The length it goes on with, mm; a joined one is taken to be like the first.
    fn length(&self) -> f64 {
        let first = self
            .own
            .on_bobbin
            .map_or(f64::INFINITY, |holds| holds + self.own.pay_out);
        self.own.length.min(first)
    }

    fn is_planned_to_be_joined(&self) -> bool {
        self.length() < self.own.length
    }

    /// Let off at a time, mm: on a disc until the hand has just what it needs, on a stand
    /// as the maker says.
    fn let_off(&self) -> f64 {
        match self.table {
            Table::Disc { .. } => self.own.pay_out - self.own.reach.value,
            Table::Stand { .. } => self.own.pay_out,
        }
    }

    /// When it is to be fed out next; never, if it hangs or if all of it hangs out.
    pub(super) fn feed_out(&self) -> Option<FeedOut> {
        let step = self.let_off();
        self.own.on_bobbin.filter(|_| step > 0.0)?;
        let now = self.growth.length(self.done).value;
        let used = (now - self.since.value).max(0.0) * self.takes.value;
        let times = (used / step + 1e-9).floor();
        let wound = self.length() - self.own.start.value - self.own.pay_out;
        if wound - times * step <= 0.0 {
            return None;
        }
        let due = propagated(&[self.since, self.takes], |x| {
            x[0] + (times + 1.0) * step / x[1]
        });
        let moves = self.growth.moves_until(due, self.done);
        Some(FeedOut {
            strand: self.strand,
            moves: from_now(moves, self.done),
        })
    }

    /// When it no longer reaches; `cord` is what is to be braided on the disc, mm.
    pub(super) fn runs_out(&self, cord: Estimate) -> RunsOut {
        let length = self.length();
        let last = [self.own.start, self.own.reach, self.own.tassel];
        let lasts = |x: &[f64]| x[0] + (length - x[2] - x[3] - x[4]) / x[1];
        let inputs = [self.since, self.takes, last[0], last[1], last[2]];
        let until = propagated(&inputs, lasts);
        let over = propagated(&[until, cord], |x| x[0] - x[1]);
        RunsOut {
            strand: self.strand,
            at: self.growth.moves_until(until, self.done),
            before_the_end: over.below(0.0),
            to_be_joined: self.is_planned_to_be_joined() && !self.is_joined,
        }
    }
}

fn put_right(takes: Estimate, corrected: Option<Estimate>) -> Estimate {
    let Some(corrected) = corrected else {
        return takes;
    };
    propagated(&[takes, corrected], |x| {
        let slope = x[0].max(1.0).powi(-2) - 1.0;
        x[0] * x[1].max(0.1).powf(slope)
    })
}

/// Moves from the start as moves from now, never fewer than none.
pub(super) fn from_now(moves: Estimate, done: u64) -> Estimate {
    let left = moves.plus(-(done as f64));
    Estimate {
        value: left.value.max(0.0),
        low: left.low.max(0.0),
        high: left.high.max(0.0),
    }
}
